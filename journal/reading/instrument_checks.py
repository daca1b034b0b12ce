"""Checks of instruments: on which day, against what, and what was shown."""

from __future__ import annotations

import re
from datetime import date
from typing import Any, ClassVar

from journal.frozen import dataclass
from journal.measures import Gravity, Measure, Scale
from journal.measures.units import HEIGHT, PH, REFRACTION_OFF, TEMPERATURE, VOLUME, WEIGHT
from journal.reading.located_yaml import Node
from journal.reading.standards import (
    A_PH,
    A_STRENGTH,
    A_WEIGHT,
    BOILING_WATER,
    EXAMPLES,
    ICE,
    WATER,
    WEIGHED_WATER,
    Standard,
    StandardForm,
)
from journal.reading.table import Group, entry_field
from journal.reading.values import Context, Day, GravityText, ListOf, Quantity, YesNo


def _accepting(*accepted: str) -> Any:
    return entry_field(StandardForm(accepted), "what it was held against")


@dataclass(frozen=True, kw_only=True)
class Check:
    """One check of an instrument. It holds from `since`, or else `on`, until the next."""

    #: How far such an instrument can be off, as `off` has it (common practice).
    MOST: ClassVar[float]
    UNIT: ClassVar[str]

    on: date | None = entry_field(Day(), "the day of the check", required=True)
    since: date | None = entry_field(Day(), "the day from which it was off; the day of the check if not stated")
    new: bool | None = entry_field(YesNo(), "whether it is a new one, which ends what earlier checks said")

    @property
    def holds_from(self) -> date:
        """The day from which it holds."""
        return self.since or self.on or date.min

    def off(self) -> float | None:
        """Roughly how far the instrument is off, shown less true or, of what multiplies, their ratio less 1; None if nothing was shown.

        Good enough to tell a slip of the pen; what a reading is corrected by is worked out with the temperatures in it.
        """
        return None


@dataclass(frozen=True, kw_only=True)
class GravityCheck(Check):
    """A check of a hydrometer."""

    MOST, UNIT = 0.015, "SG"
    of: Standard | None = _accepting(WATER, A_STRENGTH)
    shows: Gravity | None = entry_field(GravityText(), "what it showed")

    def off(self) -> float | None:
        """SG."""
        if self.of is None or self.shows is None:
            return None
        return _roughly_gravity(self.shows) - (1.0 + 0.004 * self.of.value)


def _roughly_gravity(shown: Gravity) -> float:
    # four points of gravity to a degree, common practice; a slip is many
    return shown.value if shown.scale is Scale.HYDROMETER else 1.0 + 0.004 * shown.value


@dataclass(frozen=True, kw_only=True)
class RefractionCheck(Check):
    """A check of a refractometer."""

    MOST, UNIT = 3.0, "°Bx"
    of: Standard | None = _accepting(WATER, A_STRENGTH)
    shows: Measure | None = entry_field(Quantity(REFRACTION_OFF), "what it showed")

    def off(self) -> float | None:
        """°Bx."""
        return None if self.of is None or self.shows is None else self.shows.value - self.of.value


@dataclass(frozen=True, kw_only=True)
class TemperatureCheck(Check):
    """A check of a thermometer."""

    MOST, UNIT = 8.0, "K"
    of: Standard | None = _accepting(ICE, BOILING_WATER)
    shows: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("0.6 degC")), "what it showed")
    height: Measure | None = entry_field(Quantity(HEIGHT), "how high above the sea that was, for boiling water")

    def off(self) -> float | None:
        """K."""
        if self.of is None or self.shows is None:
            return None
        # 300 m make a degree, common practice
        true = 100.0 - (self.height.value / 300.0 if self.height else 0.0) if self.of.what == BOILING_WATER else 0.0
        return self.shows.value - true


@dataclass(frozen=True, kw_only=True)
class WeightCheck(Check):
    """A check of a scale."""

    MOST, UNIT = 0.25, "1"
    of: Standard | None = _accepting(A_WEIGHT)
    shows: Measure | None = entry_field(Quantity(WEIGHT.such_as("5.010 kg")), "what it showed")

    def off(self) -> float | None:
        """A fraction."""
        return None if self.of is None or self.shows is None else self.shows.value / self.of.value - 1.0


@dataclass(frozen=True, kw_only=True)
class VolumeCheck(Check):
    """A check of a vessel's marks, or of the measure that liquor is measured with."""

    MOST, UNIT = 0.3, "1"
    of: Standard | None = _accepting(WEIGHED_WATER)
    shows: Measure | None = entry_field(Quantity(VOLUME.such_as("10.2 L")), "what its marks showed")

    def off(self) -> float | None:
        """A fraction."""
        return None if self.of is None or self.shows is None else self.shows.value / self.of.value - 1.0


@dataclass(frozen=True, kw_only=True)
class PhCheck(Check):
    """A check of a pH meter."""

    MOST, UNIT = 1.0, "pH"
    of: Standard | None = _accepting(A_PH)
    shows: Measure | None = entry_field(Quantity(PH.such_as("7.06")), "what it showed")

    def off(self) -> float | None:
        """pH."""
        return None if self.of is None or self.shows is None else self.shows.value - self.of.value


@dataclass(frozen=True)
class CheckForm(Group):
    """A check that says something, and nothing that such an instrument can't be off by."""

    def read(self, node: Node, path: str, context: Context) -> Any:
        """The check, or None after reporting what is wrong."""
        before = len(context.problems)
        check = super().read(node, path, context)
        if not isinstance(check, Check) or len(context.problems) > before:
            return None
        off = check.off()
        if off is None:
            # one that says no more than that the instrument is new needs neither
            missing = [name for name in ("of", "shows") if getattr(check, name) is None]
            if check.new and len(missing) == 2:
                return check
            message = f"`{path}` does not say {' and '.join(_MISSING[name] for name in missing)}"
            hint = f"Write it like this: {{on: 2026-03-01, {_written(type(check))}}}."
            context.report("field-missing", message, hint, node.span, path)
            return None
        if abs(off) > check.MOST:
            size = f"{100 * off:+.0f} %" if check.UNIT == "1" else f"{off:+.3g} {check.UNIT}"
            message = f"`{path}` is off by {size}, further than such an instrument can be"
            context.report("check-impossible", message, "Check both numbers and their units.", node.span, path)
            return None
        return check


_MISSING = {"of": "what it was held against (`of`)", "shows": "what it showed (`shows`)"}
_SHOWN: dict[type[Check], str] = {
    GravityCheck: "1.002",
    RefractionCheck: "0.2 °Bx",
    TemperatureCheck: "0.6 degC",
    WeightCheck: "5.010 kg",
    VolumeCheck: "10.2 L",
    PhCheck: "7.06",
}


def _written(record: type[Check]) -> str:
    accepted = record.__dataclass_fields__["of"].metadata["value"].accepted
    return f"of: {EXAMPLES[accepted[0]]}, shows: {_SHOWN[record]}"


def checks_field(record: type[Check]) -> Any:
    """The field for the checks of an instrument or a vessel."""
    return entry_field(ListOf(CheckForm(record)), "what it was checked with, and what it showed")


#: What an instrument or a vessel is called, by where its checks stand in brewery.yaml.
_CALLED = {
    "malt_scale": "scale",
    "hop_scale": "scale for hops",
    "volume": "liquor’s measure",
    "hydrometer": "hydrometer",
    "refractometer": "refractometer",
    "thermometer": "thermometer",
    "ph_meter": "pH meter",
    "kettle": "kettle’s marks",
}


def check_words(path: str) -> str | None:
    """What the check at a path of brewery.yaml is called, such as `the check of the hydrometer`; None of anything else."""
    found = re.fullmatch(r"(instruments|brewhouses|fermenters)\.(?:.+\.)?([^.]+)\.checks\[\d+\]", path)
    return f"the check of the {_CALLED.get(found[2], 'fermenter’s marks')}" if found else None
