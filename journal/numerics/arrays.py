"""The kinds of arrays. What the axes are stands in the docstring of whoever takes one: `m × n` is m rows of n columns."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

#: One axis, and two, of floats.
Vector = NDArray[np.floating[Any]]
Matrix = NDArray[np.floating[Any]]
#: Which of some rows are meant: by a truth value each, or by their places.
Mask = NDArray[np.bool_]
Places = NDArray[np.intp]
