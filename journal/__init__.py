"""Wortbook: a brewing journal under git that does the sums.

The folders' names follow the data: `reading` turns entries into batches, `figures` turns batches into derived values,
`pages` turns both into what a browser shows, `build` writes it. `problems`, `measures` and `science` import nothing of
ours.
"""

__version__ = "0.1.0"
