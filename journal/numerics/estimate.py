"""A value and how well it is known."""

from __future__ import annotations

from typing import NamedTuple


class Estimate(NamedTuple):
    """A value with its standard uncertainty (k = 1), both in one unit: a reading, what a batch says of something, a belief."""

    value: float
    sd: float
