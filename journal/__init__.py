"""Wortbook: a brewing journal under git that does the sums.

The folders' names follow the data: `reading` turns entries into batches, `figures` turns batches into derived values,
`pages` turns both into what a browser shows, `publishing` writes it. `problems`, `measures` and `science` import nothing of
ours.
"""

import os

# the matrices here are small: a second thread of linear algebra costs more than it does, several times over on a busy machine
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
