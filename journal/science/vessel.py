"""What a vessel holds at a mark."""

from collections.abc import Sequence
from itertools import pairwise


def dipped_volume(depth: float, marks: Sequence[tuple[float, float]]) -> float:
    """Return what a vessel holds, L, by how far a stick in it is wet.

    depth: cm, from the first mark to the last; marks: pairs of cm and L, two at least, both rising. A table that begins above
    0 cm says nothing of what is below.
    Source: straight lines between the marks.

    >>> round(dipped_volume(25.0, [(0.0, 1.2), (10.0, 8.4), (40.0, 30.0)]), 9)
    19.2
    """
    for (lower, less), (upper, more) in pairwise(marks):
        if lower <= depth <= upper:
            return less + (more - less) * (depth - lower) / (upper - lower)
    raise ValueError(f"the table of marks does not reach {depth:g} cm")
