"""Readings as an instrument gave them: what they were corrected to 20 degC from, with all that it takes to do so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple


class VolumeReading(NamedTuple):
    """A volume as read, L, and the temperature it was read at, degC; None means 20."""

    volume: Any
    at: Any


class GravityReading(NamedTuple):
    """What an instrument showed on its scale, and what it takes to understand that."""

    scale: str
    value: Any
    at: Any
    calibrated_at: float
    wort_factor: Any
    model: Any


@dataclass(frozen=True)
class Observed:
    """A reading's numbers, or the paths of what is wanting; `told` says whose they are where they are not the batch's own."""

    value: Any = None
    wanting: tuple[str, ...] = ()
    told: str = ""
