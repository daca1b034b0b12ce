"""The model of one batch: water and extract from the mash to the fermenter, and what each reading would show.

Everything is reckoned in mass, for mass is conserved and volume is not. The unknowns are what the brewer did (liquor,
grain, sugar, top-up) and what the brewhouse did (conversion, water held by the grain, dead space, the bed's shortfall,
evaporation, loss in the kettle); from them follow water and extract in every vessel. Every recorded reading is one
equation, every expectation of what is not recorded another.

The run-off is the well-mixed bed: each run-off leaves behind the share of the extract that the water left behind is of
the water in the tun (standard mass balance), less a shortfall with a tolerance of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from journal.balance.fit import Vector
from journal.balance.priors import BOIL_OFF_SHARE, KETTLE_LOSS_SHARE, Expectation, Priors
from journal.figures import BatchFigures
from journal.reading import Batch
from journal.reading.entry import Boil, Fermenter, Lauter
from journal.science import water, wort
from journal.science.mash import FLY_RUN_OFFS

WATER = water.density(20.0)
#: kg of water in a litre of the weak wort that fills a dead space, 2 to 8 °P.
DEAD_SPACE_WATER = 0.97
#: Of the variance of a kettle's volume readings, the part that is its marks': one error for both readings (common
#: practice).
MARKS_SHARE = 0.25


#: A reading that is to weigh nothing is given this many times its uncertainty.
UNREAD = 1e4


@dataclass(frozen=True)
class Equation:
    """One thing known: `path` of the reading, or `expected NAME`; its value and standard deviation."""

    path: str
    recorded: float
    sd: float

    @property
    def expectation(self) -> bool:
        """Whether nobody read it: it is what was to be expected."""
        return self.path.startswith("expected ")


#: Steps of Newton's method to the gravity of a strength: from the start below they are exact to the last digits.
_STEPS = 3


def gravity_of(strength: Any) -> Any:
    """SG 20/20 of a strength, °P, or of an array of them; nan in an array where no wort is so strong."""
    if not isinstance(strength, np.ndarray):
        return wort.gravity_from_plato(strength)
    plato: Callable[[Any], Any] = wort.plato_from_gravity
    slope: Callable[[Any], Any] = wort.plato_slope
    possible = np.where((strength > -60.0) & (strength < 200.0), strength, np.nan)
    gravity = 1.0 + possible / (258.6 - 0.8795507 * possible)
    for _ in range(_STEPS):
        gravity = gravity - (plato(gravity) - possible) / slope(gravity)
    return gravity


@dataclass(frozen=True)
class Vessel:
    """Water and extract in a vessel, kg; or of several states at once, each number an array."""

    water: float
    extract: float

    @property
    def strength(self) -> float:
        """°P; water that isn't there counts as a trace."""
        whole = self.water + self.extract
        return 100.0 * self.extract / (np.maximum(whole, 1e-6) if isinstance(whole, np.ndarray) else max(whole, 1e-6))

    @property
    def volume(self) -> float:
        """L at 20 °C."""
        return (self.water + self.extract) / wort.density(self.strength)

    @property
    def gravity(self) -> float:
        """SG 20/20."""
        gravity: float = gravity_of(self.strength)
        return gravity


@dataclass(frozen=True)
class State:
    """Every vessel of one batch, as the model has it; `fermenter_share` of the kettle's wort went on to the fermenter."""

    potential: float
    dissolved: float
    first_wort: float
    kettle: Vessel
    knockout: Vessel
    fermenter: Vessel
    left_water: float
    evaporated: float
    fermenter_share: float


@dataclass(frozen=True)
class Facts:
    """What is taken as it stands.

    Kg of grain, its moisture's water, the method, hours of boil, water that came with sugars.
    """

    grain: float
    moisture: float
    run_offs: int
    hours: float
    kettle_sugar_water: float
    fermenter_sugar_water: float


@dataclass(frozen=True)
class Model:
    """Unknowns by name with a start value, equations in order, and the functions that say what each would show.

    `constants` are what holds exactly: a sparge that was none, sugars that nobody added.
    """

    unknowns: tuple[str, ...]
    start: Vector
    constants: dict[str, float]
    equations: tuple[Equation, ...]
    facts: Facts
    observe: tuple[Callable[[dict[str, float], State], float], ...]

    def named(self, values: Vector) -> dict[str, float]:
        """Unknowns and constants by name; of several states, a column each, every unknown is an array."""
        return named(self.constants, self.unknowns, values)

    def predict(self, values: Vector) -> Vector:
        """What each equation would show for given unknowns; of several states, a column each, a column each."""
        return looked_at(self.observe, self.named(values), self.facts, values)


def named(constants: dict[str, float], unknowns: tuple[str, ...], values: Vector) -> dict[str, float]:
    """Unknowns and constants by name: numbers for one state, arrays for several in columns."""
    by_name: dict[str, Any] = dict(zip(unknowns, values.tolist() if values.ndim == 1 else values, strict=True))
    return constants | by_name


def looked_at(
    looks: Iterable[Callable[[dict[str, float], State], float]], u: dict[str, float], facts: Facts, values: Vector
) -> Vector:
    """What is looked at, a row each; a column for each column of `values`."""
    state = vessels(u, facts)
    seen = [look(u, state) for look in looks]
    if values.ndim == 1:
        return np.array(seen)
    # what hangs on no unknown is the same in every column
    columns = np.ones(values.shape[1])
    return np.stack([row if isinstance(row, np.ndarray) else row * columns for row in seen])


def rinsed(dissolved: float, left: float, mash_water: float, sparge_water: float, run_offs: int) -> float:
    """Extract left behind, kg, by a well-mixed bed that keeps `left` kg of water, the sparge split into equal parts."""
    remaining = dissolved * left / mash_water
    for _ in range(run_offs if np.all(sparge_water > 0) else 0):
        part = sparge_water / run_offs
        remaining *= left / (left + part)
    return remaining


def water_in_mash(u: dict[str, float], facts: Facts) -> tuple[float, float]:
    """kg of water in the mash, the grain's moisture included, and in the sparge."""
    return u["mash_liquor"] * WATER + facts.moisture, u["sparge_liquor"] * WATER


def vessels(u: dict[str, float], facts: Facts) -> State:
    """Water and extract in every vessel, from the unknowns by name."""
    potential = u["potential_extract"]
    dissolved = u["conversion"] * potential
    if "kettle_water" in u:
        kettle, first_wort, left = Vessel(u["kettle_water"], u["kettle_extract"]), 0.0, 0.0
    else:
        mash_water, sparge_water = water_in_mash(u, facts)
        left = u["water_held"] * facts.grain + u["dead_space"] * DEAD_SPACE_WATER
        behind = rinsed(dissolved, left, mash_water, sparge_water, facts.run_offs) + u["shortfall"] * dissolved
        kettle = Vessel(mash_water + sparge_water - left, dissolved - behind)
        first_wort = 100.0 * dissolved / (dissolved + mash_water)
    evaporated = u["boil_off"] * facts.hours * WATER
    knockout = Vessel(
        kettle.water + u["top_up"] * WATER + facts.kettle_sugar_water - evaporated, kettle.extract + u["kettle_sugar"]
    )
    passed = 1.0 - u["kettle_loss"] / knockout.volume
    fermenter = Vessel(
        knockout.water * passed + u["fermenter_top_up"] * WATER + facts.fermenter_sugar_water,
        knockout.extract * passed + u["fermenter_sugar"],
    )
    return State(potential, dissolved, first_wort, kettle, knockout, fermenter, left, evaporated, passed)


@dataclass(frozen=True)
class Reading:
    """How a figure that is a reading at 20 °C enters the balance."""

    figure: str
    path: str
    look: Callable[[dict[str, float], State], float]
    in_kettle: bool = False

    def applies(self, unknowns: tuple[str, ...]) -> bool:
        """Whether a model with these unknowns has a word on it.

        A kettle on its own knows nothing of mash and liquor.
        """
        if self.figure in {"mash_liquor", "sparge_liquor", "first_wort_gravity"}:
            return "water_held" in unknowns and (self.figure == "first_wort_gravity" or self.figure in unknowns)
        return self.figure != "potential_extract" or self.figure in unknowns


_GRIST = Reading("potential_extract", "grains", lambda u, s: s.potential)
_LIQUORS = (
    Reading("mash_liquor", "mash.liquor", lambda u, s: u["mash_liquor"]),
    Reading("sparge_liquor", "lauter.liquor", lambda u, s: u["sparge_liquor"]),
)
_FIRST_WORT = Reading("first_wort_gravity", "mash.first_wort", lambda u, s: gravity_of(s.first_wort))
_DOWNSTREAM = (
    Reading("kettle_volume", "boil.before.volume", lambda u, s: s.kettle.volume, in_kettle=True),
    Reading("kettle_gravity", "boil.before.gravity", lambda u, s: s.kettle.gravity),
    Reading("knockout_volume", "boil.after.volume", lambda u, s: s.knockout.volume, in_kettle=True),
    Reading("knockout_gravity", "boil.after.gravity", lambda u, s: s.knockout.gravity),
    Reading("fermenter_volume", "fermenter.volume", lambda u, s: s.fermenter.volume),
    Reading("original_gravity", "fermenter.gravity", lambda u, s: s.fermenter.gravity),
)
#: Every reading of the balance, in the order of the work.
READINGS = (_GRIST, *_LIQUORS, _FIRST_WORT, *_DOWNSTREAM)
#: What joined on the way: unknowns that count as none where nothing is stated.
_JOINED = (
    ("kettle_sugar", "kettle_added_extract", "boil.additions"),
    ("fermenter_sugar", "fermenter_added_extract", "fermenter.additions"),
)
_WORT_FACTOR = "instruments.refractometer.wort_factor"


class _Builder:
    def __init__(
        self, batch: Batch, figures: BatchFigures, priors: Priors, without: frozenset[str], unread: frozenset[str]
    ) -> None:
        self.batch, self.figures, self.priors, self.without = batch, figures, priors, without
        self.unread = unread
        self.unknowns: dict[str, float] = {}
        self.constants: dict[str, float] = {}
        self.equations: list[Equation] = []
        self.looks: list[Callable[[dict[str, float], State], float]] = []

    def value(self, name: str, otherwise: float = 0.0) -> float:
        found = self.figures.get(name)
        return found.value if found else otherwise

    def add(self, path: str, recorded: float, sd: float, look: Callable[[dict[str, float], State], float]) -> None:
        equation = Equation(path, recorded, sd)
        if equation.expectation and path in self.unread:
            equation = Equation(path, recorded, sd * UNREAD)
        self.equations.append(equation)
        self.looks.append(look)

    def expect(self, name: str, expectation: Expectation) -> None:
        self.unknowns[name] = expectation.mean
        self.add(f"expected {name}", expectation.mean, expectation.sd, lambda u, s: u[name])

    def read(self, reading: Reading) -> None:
        """Add a reading's equation, its shared errors apart.

        The kettle's marks and the refractometer's factor are one each.
        """
        result = self.figures.get(reading.figure)
        if result is None or reading.path in self.without or result.sd <= 0:
            return
        shared: dict[str, float] = {}
        if reading.in_kettle:
            shared["kettle_marks"] = result.sd * MARKS_SHARE**0.5
        factor = dict(result.parts).get(_WORT_FACTOR, 0.0)
        if factor:
            # a factor taken too small makes every strength too large
            shared["wort_factor"] = -factor
        own = (result.sd**2 - sum(part**2 for part in shared.values())) ** 0.5
        own *= UNREAD if reading.path in self.unread else 1.0
        for name in shared:
            if name not in self.unknowns:
                self.expect(name, Expectation(0.0, 1.0))

        def look(u: dict[str, float], s: State) -> float:
            return reading.look(u, s) + sum(part * u[name] for name, part in shared.items())

        self.add(reading.path, result.value, own, look)


def _size(b: _Builder) -> float:
    """About how much wort the kettle held, L: what expectations by size go by."""
    for name, path, share in (
        ("kettle_volume", "boil.before.volume", 1.0),
        ("knockout_volume", "boil.after.volume", 1.14),
        ("fermenter_volume", "fermenter.volume", 1.2),
        ("total_liquor", "", 0.82),
    ):
        if name in b.figures.results and path not in b.without | b.unread:
            return b.figures[name].value * share
    return 25.0


def _mash(b: _Builder) -> bool:
    """The mash and the run-off, where grist and liquor are known; says whether they are."""
    needed = ("potential_extract", "grain_weight", "grain_moisture", "mash_liquor", "sparge_liquor")
    left_out = {"grains", "mash.liquor", "lauter.liquor"} & b.without
    if left_out or any(name not in b.figures.results for name in needed) or b.figures["potential_extract"].value <= 0:
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
    # a brewery's past conversions were reckoned by the sheet, and so is this one: the sheet's own error is no news to
    # it
    by_sheet, expected = b.figures["potential_extract"].value, b.priors.conversion
    b.unknowns["conversion"] = expected.mean
    b.add("expected conversion", expected.mean, expected.sd, lambda u, s: s.dissolved / by_sheet)
    for name in ("water_held", "dead_space", "shortfall"):
        b.expect(name, getattr(b.priors, name))
    b.read(_FIRST_WORT)
    return True


#: How much of the grist reaches the kettle where the mash was not recorded (common practice, wide).
_MASH_EFFICIENCY = Expectation(0.80, 0.12)


def _kettle_alone(b: _Builder, size: float) -> bool:
    """The kettle as a free unknown, where the mash is not recorded; says whether readings determine it."""
    usable = [r for r in _DOWNSTREAM if r.figure in b.figures.results and r.path not in b.without]
    gravities = [b.figures[r.figure].value for r in usable if "gravity" in r.figure]
    if not gravities or not any("volume" in r.figure for r in usable):
        return False
    strength = wort.plato_from_gravity(gravities[0])
    mass = wort.mass(size, strength)
    b.unknowns["kettle_water"] = mass * (1 - strength / 100)
    b.unknowns["kettle_extract"] = mass * strength / 100
    b.constants["conversion"] = 1.0
    if b.value("potential_extract") > 0 and "grains" not in b.without:
        b.unknowns["potential_extract"] = b.value("potential_extract")
        b.read(_GRIST)
        expected = _MASH_EFFICIENCY
        b.add("expected mash_efficiency", expected.mean, expected.sd, lambda u, s: s.kettle.extract / s.potential)
    else:
        b.constants["potential_extract"] = 1.0
    return True


def _facts(b: _Builder) -> Facts:
    boil, fermenter, lauter = b.batch.boil or Boil(), b.batch.fermenter or Fermenter(), b.batch.lauter or Lauter()

    def water_with(additions: tuple[object, ...], extract: float) -> float:
        weights = sum(sugar.weight.value for sugar in additions if sugar.weight)  # type: ignore[attr-defined]
        return max(weights - extract, 0.0)

    return Facts(
        grain=b.value("grain_weight"),
        moisture=b.value("grain_moisture"),
        run_offs=FLY_RUN_OFFS if lauter.method == "fly sparge" else 1,
        hours=boil.time.value / 60 if boil.time else 1.0,
        kettle_sugar_water=water_with(boil.additions, b.value("kettle_added_extract")),
        fermenter_sugar_water=water_with(fermenter.additions, b.value("fermenter_added_extract")),
    )


def _joined(b: _Builder) -> None:
    for name, figure, path in _JOINED:
        _join(b, name, path, b.figures[figure].value, b.figures[figure].sd)
    for name, group, path in (
        ("top_up", b.batch.boil, "boil.top_up"),
        ("fermenter_top_up", b.batch.fermenter, "fermenter.top_up"),
    ):
        stated = group.top_up if group else None
        value = stated.value if stated else 0.0
        sd = (stated.sd if stated and stated.sd else max(0.02 * value, 0.2)) if value > 0 else 0.0
        _join(b, name, path, value, sd)


def _join(b: _Builder, name: str, path: str, value: float, sd: float) -> None:
    if path in b.unread | b.without:
        # one that nobody wrote down is as uncertain as any other, and weighs nothing either
        sd = (sd or 0.25) * UNREAD
    if sd <= 0:
        b.constants[name] = value
    else:
        b.unknowns[name] = value
        b.add(path, value, sd, lambda u, s: u[name])


def build_model(
    batch: Batch,
    figures: BatchFigures,
    priors: Priors,
    without: frozenset[str] = frozenset(),
    unread: frozenset[str] = frozenset(),
) -> Model | None:
    """The model of a batch from its figures as recorded, readings in `without` left out; None where too little is
    recorded.

    A reading in `unread` stays as an equation that weighs nothing, so that the balance says what it would have shown.

    An addition whose extract is not known leaves nothing to balance after it, so there the model is None as well.
    """
    if any(name not in figures.results for _, name, _ in _JOINED):
        return None
    b = _Builder(batch, figures, priors, without, unread)
    size = _size(b)
    if not _mash(b) and not _kettle_alone(b, size):
        return None
    b.expect("boil_off", priors.boil_off or Expectation(BOIL_OFF_SHARE.mean * size, BOIL_OFF_SHARE.sd * size))
    loss = priors.kettle_loss or Expectation(KETTLE_LOSS_SHARE.mean * size, KETTLE_LOSS_SHARE.sd * size)
    b.expect("kettle_loss", loss)
    _joined(b)
    for reading in _DOWNSTREAM:
        b.read(reading)
    return Model(
        tuple(b.unknowns),
        np.array(list(b.unknowns.values())),
        b.constants,
        tuple(b.equations),
        _facts(b),
        tuple(b.looks),
    )
