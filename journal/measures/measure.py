"""What a brewer wrote, as a number in a known unit; and what is wrong with it, where it can't be one."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from journal.frozen import dataclass


class Measure(NamedTuple):
    """A quantity in its kind's kept unit (kg, L, degC, mm, min, fraction, WK, EBC).

    `sd` is the stated standard uncertainty in the same unit, None where none is stated; `at` the sample's temperature
    in degC, None where none is stated; `unit` the registered name of the unit the brewer wrote.
    """

    value: float
    unit: str
    sd: float | None = None
    at: float | None = None


class Scale(Enum):
    """What a gravity was read on."""

    HYDROMETER = "hydrometer"
    PLATO = "°P"
    BRIX = "°Bx"


class Gravity(NamedTuple):
    """A gravity as read: `value` is what the instrument shows on its `scale`.

    `sd` is the stated standard uncertainty on the same scale, `at` the sample's temperature in degC (hydrometers only).
    """

    value: float
    scale: Scale
    sd: float | None = None
    at: float | None = None


@dataclass(frozen=True)
class Fault:
    """Why a text is no quantity.

    The rule's `code`, `message`, `hint`, and the part of the text at fault (half-open).
    """

    code: str
    message: str
    hint: str
    start: int
    end: int
