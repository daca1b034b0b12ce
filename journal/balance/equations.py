"""Which unknowns and equations a batch gives the model: every recorded reading is one equation, every expectation another.

In: a batch's figures as recorded and what is expected of its brewhouse. Out: a `BalanceModel`, ready to be fitted.
"""

from __future__ import annotations

from math import fsum

import numpy as np

from journal.balance.model import BalanceModel, Equation
from journal.balance.priors import Expectation, Priors, by_size
from journal.balance.quantities import RUN_OFF_SHARE, quantity_shown
from journal.balance.vessels import Facts
from journal.figures import BatchFigures
from journal.figures.added import joins_late, water_in
from journal.figures.uncertain import ErrorSource
from journal.numerics.least_squares import ZERO_WEIGHT
from journal.reading import Batch
from journal.reading.entry import STEEP, Addition
from journal.reading.known_readings import (
    AT_STATIONS,
    BY_PATH,
    GRAVITY,
    JOINED,
    KETTLE,
    VOLUME,
    KnownReading,
    read_at,
)
from journal.science import wort
from journal.science.mash import run_offs_of

#: Of the variance of a kettle's volume readings, the part that is its marks': one error for both readings (common
#: practice).
MARKS_SHARE = 0.25
#: About how much of the liquor fills the kettle: what a brew's size goes by before anything is read (common practice).
KETTLE_TO_LIQUOR = 0.82
#: Standard uncertainty that a top-up counts as stated with where none was written, L.
UNWRITTEN = 0.25

_GRIST, _FIRST_WORT = BY_PATH["grains"], read_at("first_wort", GRAVITY)
_LIQUORS = (BY_PATH["mash.liquor"], BY_PATH["lauter.liquor"])
#: What is read in the kettle and after it.
IN_VESSELS = tuple(reading for reading in AT_STATIONS if reading is not _FIRST_WORT)
_WORT_FACTOR = ErrorSource("instruments.refractometer.wort_factor")


class _Builder:
    """A batch's unknowns and equations as they come together."""

    def __init__(self, batch: Batch, figures: BatchFigures, priors: Priors, without: frozenset[str]) -> None:
        self.batch, self.figures, self.priors, self.without = batch, figures, priors, without
        self.unknowns: dict[str, float] = {}
        self.constants: dict[str, float] = {}
        self.equations: list[Equation] = []

    def value(self, name: str) -> float:
        found = self.figures.get(name)
        return found.value if found else 0.0

    def expect(self, name: str, expectation: Expectation, shows: str = "") -> None:
        """What is expected of a quantity; of an unknown of its own name unless it says what it `shows`."""
        self.equations.append(Equation("", name, shows or name, expectation.mean, expectation.sd))

    def expect_unknown(self, name: str, expectation: Expectation) -> None:
        self.unknowns[name] = expectation.mean
        self.expect(name, expectation)

    def read(self, reading: KnownReading) -> None:
        """Add a reading's equation, its shared errors apart.

        The kettle's marks and the refractometer's factor are one each.
        """
        result = self.figures.get(reading.figure)
        if result is None or reading.path in self.without or result.sd <= 0:
            return
        shared: dict[str, float] = {}
        if reading.vessel == KETTLE:
            shared["kettle_marks"] = result.sd * MARKS_SHARE**0.5
        factor = dict(result.parts).get(_WORT_FACTOR, 0.0)
        if factor:
            # a factor taken too small makes every strength too large
            shared["wort_factor"] = -factor
        own = (result.sd**2 - fsum(part**2 for part in shared.values())) ** 0.5
        for name in shared:
            if name not in self.unknowns:
                self.expect_unknown(name, Expectation(0.0, 1.0))
        self.equations.append(
            Equation(reading.path, "", quantity_shown(reading), result.value, own, tuple(shared.items()))
        )


def _size(b: _Builder) -> float:
    """About how much wort the kettle held, L: what expectations by size go by."""
    for station, share in (("kettle", 1.0), ("knockout", 1.14), ("fermenter", 1.2)):
        reading = read_at(station, VOLUME)
        if reading.figure in b.figures.results and reading.path not in b.without:
            return b.figures[reading.figure].value * share
    liquor = b.figures.get("total_liquor")
    if liquor:
        return liquor.value * KETTLE_TO_LIQUOR
    return 25.0


def _mash(b: _Builder) -> bool:
    """The mash and the run-off, where grist and liquor are known; says whether they are."""
    needed = ("potential_extract", "grain_weight", "grain_moisture", "mash_liquor", "sparge_liquor")
    left_out = {"grains", "mash.liquor", "lauter.liquor"} & b.without
    missing = any(name not in b.figures.results for name in needed) or b.figures["potential_extract"].value <= 0
    # of one wort of a mash that gave two, nobody knows what was left for the other
    if b.batch.lauter.method == STEEP or b.batch.shares_mash or left_out or missing:
        return False
    b.unknowns["potential_extract"] = b.figures["potential_extract"].value
    b.read(_GRIST)
    for reading in _LIQUORS:
        result = b.figures[reading.figure]
        if result.sd > 0:
            b.unknowns[reading.figure] = result.value
            b.read(reading)
        else:
            b.constants[reading.figure] = result.value
    # a brewery's past conversions were reckoned by the sheet, and so is this one: the sheet's own error is no news to it
    b.unknowns["conversion"] = b.priors.conversion.mean
    b.expect("conversion", b.priors.conversion, shows="conversion_efficiency")
    for name in ("water_held", "dead_space", "shortfall"):
        b.expect_unknown(name, getattr(b.priors, name))
    b.read(_FIRST_WORT)
    return True


#: How much of the grist reaches the kettle where the mash was not recorded (common practice, wide).
_MASH_EFFICIENCY = Expectation(0.80, 0.12)

#: How much of what the laboratory's mash dissolves comes out of steeped grain (common practice, wide).
_STEEPED = Expectation(0.60, 0.25)


def _kettle_alone(b: _Builder, size: float) -> bool:
    """The kettle as a free unknown, where the mash is not recorded; says whether readings determine it."""
    usable = [r for r in IN_VESSELS if r.figure in b.figures.results and r.path not in b.without]
    gravities = [b.figures[r.figure].value for r in usable if r.unit == GRAVITY]
    if not gravities or not any(r.unit == VOLUME for r in usable):
        return False
    strength = wort.plato_from_gravity(gravities[0])
    mass = wort.mass(size, strength)
    b.unknowns["kettle_water"] = mass * (1 - strength / 100)
    b.unknowns["kettle_extract"] = mass * strength / 100
    b.constants["conversion"] = 1.0
    if b.value("potential_extract") > 0 and "grains" not in b.without and not b.batch.shares_mash:
        b.unknowns["potential_extract"] = b.value("potential_extract")
        b.read(_GRIST)
        steeped = b.batch.lauter.method == STEEP
        b.expect("mash_efficiency", _STEEPED if steeped else _MASH_EFFICIENCY, shows=RUN_OFF_SHARE)
    else:
        b.constants["potential_extract"] = 1.0
    return True


def _facts(b: _Builder) -> Facts:
    boil, lauter = b.batch.boil, b.batch.lauter

    def water_with(additions: tuple[Addition, ...], figure: str) -> float:
        weights = (addition.weighed.value for addition in additions if addition.weighed)
        return water_in(weights, b.value(figure))

    before = tuple(line for line in b.batch.fermenter.additions if not joins_late(b.batch, line))
    return Facts(
        sheet=b.value("potential_extract") or 1.0,
        grain=b.value("grain_weight"),
        moisture=b.value("grain_moisture"),
        run_offs=run_offs_of(lauter.method, len(lauter.fillings)),
        hours=boil.time.value / 60 if boil.time else 1.0,
        kettle_sugar_water=water_with(boil.additions, "kettle_added_extract"),
        fermenter_sugar_water=water_with((*b.batch.stand.additions, *before), "fermenter_added_extract"),
        mash_sugar_water=water_with(b.batch.mash.additions, "mash_added_extract"),
        early_sugar_water=water_with((*lauter.additions, *boil.before.additions), "kettle_early_extract"),
    )


def _add_joined(b: _Builder) -> None:
    for reading in JOINED:
        result = b.figures[reading.figure]
        _add_to_brew(b, reading.unknown, reading.path, result.value, result.sd)


def _add_to_brew(b: _Builder, name: str, path: str, value: float, sd: float) -> None:
    if path in b.without:
        # one that nobody wrote down is as uncertain as any other
        sd = (sd or UNWRITTEN) * ZERO_WEIGHT
    if sd <= 0:
        b.constants[name] = value
    else:
        b.unknowns[name] = value
        b.equations.append(Equation(path, "", name, value, sd))


def build_model(
    batch: Batch, figures: BatchFigures, priors: Priors, without: frozenset[str] = frozenset()
) -> BalanceModel | None:
    """The model of a batch from its figures as recorded, readings in `without` left out; None where too little is
    recorded.

    An addition whose extract is not known leaves nothing to balance after it, so there the model is None as well; so it is of
    a part and of a blend, whose brew day is balanced where it stands.
    """
    if not batch.brewed_here or any(reading.figure not in figures.results for reading in JOINED):
        return None
    b = _Builder(batch, figures, priors, without)
    size = _size(b)
    if not _mash(b) and not _kettle_alone(b, size):
        return None
    sized = by_size(priors, size)
    for name in ("boil_off", "kettle_loss"):
        b.expect_unknown(name, getattr(sized, name))
    _add_joined(b)
    for reading in IN_VESSELS:
        b.read(reading)
    return BalanceModel(
        tuple(b.unknowns),
        np.array(list(b.unknowns.values())),
        b.constants,
        tuple(b.equations),
        _facts(b),
    )
