"""A batch's readings as numbers with their uncertainty: what the figures start from.

Each reading is one independent quantity, tagged with its path in the entry. What is one thing stays one quantity: two
grains of one lot share the error of its sheet, and all readings of one refractometer the error of its wort factor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from math import fsum
from types import MappingProxyType
from typing import Any, NamedTuple

from journal.figures.as_read import GravityReading, Observed, VolumeReading
from journal.figures.checked import Checked, InstrumentError, take_off_shift, take_out_scale
from journal.figures.corrected import gravity as sg_of
from journal.figures.instruments import (
    CLOCK,
    COLOUR_SHARE,
    DIP,
    EXTRACT_BY_SOURCE,
    MOISTURE_BY_SOURCE,
    POWER_SHARE,
    REFRACTOMETER_FINAL,
    Deviations,
    malt_deviation,
)
from journal.figures.propagate import nominal, propagate
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain, combine, source
from journal.measures import Gravity, Measure, Scale
from journal.measures.units import is_depth, is_weight
from journal.reading import Batch, Brewery, Malts, MaltValues, StatedValue, resolve
from journal.reading.known_readings import (
    BY_PATH,
    FERMENTER,
    GRAVITY,
    KETTLE,
    LIQUOR_MEASURE,
    PH,
    TEMPERATURE,
    TIME,
    VOLUME,
    KnownReading,
)
from journal.reading.known_readings import READINGS as KNOWN
from journal.reading.table import written_at
from journal.reading.vessel_dip import dip_of
from journal.science import water, wort
from journal.science.vessel import dipped_volume


class GrainExtract(NamedTuple):
    """A grain's extract fraction: on dry basis if there is a moisture to go with it, else as is."""

    weight: Any
    extract: Any
    moisture: Any


class Weighted(NamedTuple):
    """A weight, kg, and a value that counts by weight."""

    weight: Any
    value: Any


class RestStep(NamedTuple):
    """degC, min."""

    temperature: Any
    time: Any


class Called(NamedTuple):
    """What a reading is called in a formula, and the unit of one that is a single number."""

    words: str
    unit: str = ""


@dataclass
class Observer:
    """Reads one batch's numbers, each quantity once."""

    batch: Batch
    brewery: Brewery
    malts: Malts
    deviations: Deviations = field(init=False)
    checked: Checked = field(init=False)
    shared: dict[ErrorSource, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.deviations = Deviations(self.brewery.instruments)
        self.checked = Checked(self.batch, self.brewery)

    def once(self, path: str, value: float, sd: float, kind: ErrorKind = ErrorKind.READING) -> Any:
        """One quantity for one source of error, however often it is asked for."""
        of = ErrorSource(path, kind)
        if of not in self.shared:
            self.shared[of] = source(value, sd, of) if sd > 0 else value
        return self.shared[of]

    def temperature(self, degrees: float, path: str) -> Any:
        """The temperature that something was read at, degC."""
        read = self.once(path, degrees, self.deviations.temperature(), ErrorKind.TEMPERATURE)
        return take_off_shift(read, self.checked.thermometer)

    def warmth(self, measure: Measure | None, path: str) -> Observed:
        """A temperature that was read for itself, degC."""
        found = self.measure(measure, path, self.deviations.temperature)
        return found if measure is None else Observed(take_off_shift(found.value, self.checked.thermometer))

    def weight(self, measure: Measure | None, path: str) -> Observed:
        """A weight of malt or sugar, kg."""
        found = self.measure(measure, path, self.deviations.weight)
        return found if measure is None else Observed(take_out_scale(found.value, self.checked.malt_scale))

    def hop_weight(self, measure: Measure | None, path: str) -> Observed:
        """A weight of hops or salt, kg."""
        found = self.measure(measure, path, self.deviations.hop_weight)
        return found if measure is None else Observed(take_out_scale(found.value, self.checked.hop_scale))

    def exact(self, measure: Measure | None, path: str) -> Observed:
        """What the brewer wants or went by: as uncertain as is stated, else not at all."""
        return self.measure(measure, path, lambda m: m.sd or 0.0)

    def measure(self, measure: Measure | None, path: str, deviation: Callable[[Measure], float]) -> Observed:
        """A quantity, with the standard uncertainty that `deviation` gives it."""
        if measure is None:
            return Observed(wanting=(path,))
        return Observed(self.once(path, measure.value, deviation(measure)))

    def clock(self, measure: Measure | None, path: str) -> Observed:
        """A time, min."""
        return self.measure(measure, path, lambda m: m.sd if m.sd is not None else CLOCK)

    def volume(self, measure: Measure | None, path: str, otherwise: float | None = None) -> Observed:
        """A volume as read; `otherwise` is what one that is not stated counts as, L."""
        if measure is None or measure.value == 0:
            known = 0.0 if measure is not None else otherwise
            return Observed(wanting=(path,)) if known is None else Observed(VolumeReading(known, None))
        if is_weight(measure.unit):
            return self._weighed(measure, path)
        if is_depth(measure.unit):
            return self._dipped(measure, path)
        at = None if measure.at is None else self.temperature(measure.at, path)
        read = self.once(path, measure.value, self.deviations.volume(measure))
        return Observed(VolumeReading(take_out_scale(read, self.marks(path)), at))

    def _weighed(self, measure: Measure, path: str) -> Observed:
        """What was weighed, as L at 20 degC: liquor as water, wort and beer by their strength at the same station."""
        mass = take_out_scale(self.once(path, measure.value, self.deviations.weight(measure)), self.checked.malt_scale)
        if not path.endswith(".volume"):
            return Observed(VolumeReading(propagate(_water_of, {"mass": mass}), None))
        strength = f"{path.removesuffix('.volume')}.gravity"
        reading: Gravity | None = written_at(self.batch, strength)
        if reading is None or (reading.scale is Scale.BRIX and path.startswith("package")):
            return Observed(wanting=(strength,))
        sg = propagate(sg_of, {"reading": self.gravity(reading, strength).value})
        return Observed(VolumeReading(propagate(_wort_of, {"mass": mass, "sg": sg}), None))

    def _dipped(self, measure: Measure, path: str) -> Observed:
        """How deep the dip stick was wet, as L by the vessel's table; read hot where a temperature stands with it."""
        vessel = dip_of(self.batch, self.brewery, path)
        if vessel.table is None or not vessel.table[0].depth <= measure.value <= vessel.table[-1].depth:
            return Observed(wanting=(vessel.path if vessel.table is None else path,))
        depth = self.once(path, measure.value, measure.sd if measure.sd is not None else DIP)
        litres = propagate(dipped_volume, {"depth": depth, "marks": vessel.table})
        at = None if measure.at is None else self.temperature(measure.at, path)
        checked = self.checked.fermenter if vessel.of_fermenter else self.checked.kettle
        return Observed(VolumeReading(take_out_scale(litres, checked), at))

    def marks(self, path: str) -> InstrumentError | None:
        """By how much the marks are off that a volume was read by: of the kettle, of the fermenter, or of what liquor is measured with."""
        known = BY_PATH.get(path.partition("[")[0])
        # what is no reading of the day, a dead space that was filled or a share of a blend, is poured as liquor is
        vessel = known.vessel if known else "" if path.endswith(".volume") else LIQUOR_MEASURE
        if vessel == KETTLE:
            return self.checked.kettle
        if vessel == FERMENTER:
            return self.checked.fermenter
        return self.checked.liquor_measure if vessel == LIQUOR_MEASURE else None

    def fillings(self, measures: tuple[Measure, ...], path: str) -> Observed:
        """Several volumes that went in one after the other: their sum, L at 20 degC, each filling a reading of its own."""
        parts = [self.volume(measure, f"{path}[{index}]").value for index, measure in enumerate(measures)]
        litres = [
            part.volume
            if part.at is None
            else propagate(water.volume_at_20, {"volume": part.volume, "temperature": part.at})
            for part in parts
        ]
        known = [(each, 1.0) for each in litres if isinstance(each, Uncertain)]
        return Observed(VolumeReading(combine(fsum(nominal(each) for each in litres), known), None))

    def gravity(self, reading: Gravity | None, path: str, fermented: bool = False) -> Observed:
        """A gravity as read; of beer where it is `fermented`."""
        if reading is None:
            return Observed(wanting=(path,))
        at, factor, model = None, None, None
        if reading.at is not None:
            at = self.temperature(reading.at, path)
        if reading.scale is Scale.BRIX:
            factor = self.once("instruments.refractometer.wort_factor", *self.deviations.wort_factor)
            # of one beer's readings it is one and the same error
            model = (
                self.once("instruments.refractometer", 0.0, REFRACTOMETER_FINAL, ErrorKind.CORRELATION)
                if fermented
                else None
            )
        value = self._as_checked(reading, self.once(path, reading.value, self.deviations.gravity(reading)))
        return Observed(GravityReading(reading.scale.value, value, at, self.deviations.calibrated_at, factor, model))

    def _as_checked(self, reading: Gravity, value: Any) -> Any:
        """What a gravity's instrument should have shown, on its own scale."""
        if reading.scale is Scale.BRIX:
            return take_off_shift(value, self.checked.refractometer)
        if reading.scale is Scale.HYDROMETER or self.checked.hydrometer is None:
            return take_off_shift(value, self.checked.hydrometer)
        by_gravity = take_off_shift(propagate(wort.gravity_from_plato, {"plato": value}), self.checked.hydrometer)
        return propagate(wort.plato_from_gravity, {"gravity": by_gravity})

    def ph(self, reading: Measure | None, path: str) -> Observed:
        """A pH as read, and the sample's temperature, degC."""
        found = self.measure(reading, path, self.deviations.ph)
        if reading is None:
            return found
        at = 20.0 if reading.at is None else self.temperature(reading.at, path)
        return Observed((take_off_shift(found.value, self.checked.ph_meter), at))

    def reading(self, reading: KnownReading) -> Observed:
        """A reading of the table, by the unit it is kept in."""
        value = written_at(self.batch, reading.path)
        if reading.unit == VOLUME and isinstance(value, tuple) and not isinstance(value, Measure):
            return self.fillings(value, reading.path)
        if reading.unit == VOLUME:
            return self.volume(value, reading.path, self._unstated(reading))
        if reading.unit == TEMPERATURE:
            return self.warmth(value, reading.path)
        if reading.unit == GRAVITY:
            return self.gravity(value, reading.path)
        if reading.unit == PH:
            return self.ph(value, reading.path)
        return self.clock(value, reading.path) if reading.unit == TIME else self.exact(value, reading.path)

    def _unstated(self, reading: KnownReading) -> float | None:
        """What a reading counts as where it is not stated."""
        field, values = reading.unstated_with
        return reading.unstated if not field or written_at(self.batch, field) in values else None

    def stated(
        self,
        stated: StatedValue,
        by_source: dict[str, float],
        share: bool = False,
        kind: ErrorKind = ErrorKind.READING,
    ) -> Any:
        """A malt's value, one quantity wherever its sheet is used."""
        # hulls have no extract, diastatic power or colour whatever the sheet: nothing about that is uncertain
        sd = malt_deviation(stated, by_source, share) if stated.value != 0 or stated.sd is not None else 0.0
        return self.once(stated.origin, stated.value, sd, kind)


def _water_of(mass: float) -> float:
    return mass / water.density(20.0)


def _wort_of(mass: float, sg: float) -> float:
    return wort.volume(mass, wort.plato_from_gravity(sg))


Observing = Callable[[Observer], dict[str, Observed]]
#: Every reading that a figure may take, by the name of the figure's parameter.
READINGS: dict[str, Called] = {}
#: By reading: what observes it, and every reading that this observes.
_OBSERVED_BY: dict[str, tuple[Observing, frozenset[str]]] = {}


def observes(**readings: Called) -> Callable[[Observing], Observing]:
    """Enter a function by the readings that it observes, which are the names of what it returns.

    Raises ValueError for a name that is taken.
    """

    def register(function: Observing) -> Observing:
        for name in readings.keys() & READINGS.keys():
            raise ValueError(f"{function.__name__} observes {name}, which is observed already")
        READINGS.update(readings)
        _OBSERVED_BY.update(dict.fromkeys(readings, (function, frozenset(readings))))
        return function

    return register


class BatchReadings(Mapping[str, Observed]):
    """Every reading of a batch that a figure may take, by the name of the figure's parameter; each observed when it is first asked for.

    Raises ValueError where a function observes other readings than it is entered by.
    """

    def __init__(self, observer: Observer, seen: Mapping[str, Observed] = MappingProxyType({})) -> None:
        """`seen` stands in for readings, and may hold what is none."""
        self._observer, self._seen = observer, dict(seen)

    def with_these(self, seen: Mapping[str, Observed]) -> BatchReadings:
        """The same with others in the place of some."""
        return BatchReadings(self._observer, {**self._seen, **seen})

    def __getitem__(self, name: str) -> Observed:
        if name not in self._seen:
            function, entered = _OBSERVED_BY[name]
            seen = function(self._observer)
            if seen.keys() != entered:
                unlike = ", ".join(sorted(seen.keys() ^ entered))
                raise ValueError(f"`observes` names these and nothing observes them, or the other way round: {unlike}")
            for each, observed in seen.items():
                self._seen.setdefault(each, observed)
        return self._seen[name]

    def __contains__(self, name: object) -> bool:
        return name in self._seen or name in _OBSERVED_BY

    def __iter__(self) -> Iterator[str]:
        return iter({**_OBSERVED_BY, **self._seen})

    def __len__(self) -> int:
        return len({**_OBSERVED_BY, **self._seen})


#: Given what was observed of a batch, what its relatives put in its place, by names of readings and of figures.
Borrowing = Callable[[Observer, dict[str, Observed]], dict[str, Observed]]
_BORROWED_BY: list[Borrowing] = []
_SHARED_BY: list[Borrowing] = []


def borrows(function: Borrowing) -> Borrowing:
    """Enter a function that says what a batch's numbers take from its relatives."""
    _BORROWED_BY.append(function)
    return function


def borrows_shared(function: Borrowing) -> Borrowing:
    """Enter a function that says which numbers a batch has only together with others."""
    _SHARED_BY.append(function)
    return function


def all_of(parts: Iterable[Observed], together: Callable[[list[Any]], Any] = tuple) -> Observed:
    """Several readings as one, or all that is wanting for it."""
    parts = list(parts)
    wanting = tuple(path for part in parts for path in part.wanting)
    return Observed(wanting=wanting) if wanting else Observed(together([part.value for part in parts]))


def observe_extract(o: Observer, values: MaltValues, weight: Observed, path: str) -> Observed:
    """A line's weight with its extract, as its values state it."""
    if values.extract_as_is is not None:
        as_is = Observed(o.stated(values.extract_as_is, EXTRACT_BY_SOURCE, kind=ErrorKind.EXTRACT))
        return all_of([weight, as_is], lambda parts: GrainExtract(parts[0], parts[1], None))
    if values.extract is None:
        return Observed(wanting=(*weight.wanting, f"{path}.extract"))
    if values.extract.value == 0:
        return all_of([weight], lambda parts: GrainExtract(parts[0], 0.0, None))
    if values.moisture is None:
        return Observed(wanting=(*weight.wanting, f"{path}.moisture"))
    extract = o.stated(values.extract, EXTRACT_BY_SOURCE, kind=ErrorKind.EXTRACT)
    moisture = o.stated(values.moisture, MOISTURE_BY_SOURCE)
    return all_of([weight], lambda parts: GrainExtract(parts[0], extract, moisture))


def weigh(
    o: Observer, weight: Observed, stated: StatedValue | None, wanted: str, by_source: dict[str, float], share: bool
) -> Observed:
    """A line's weight with a value that counts by weight."""
    if stated is None:
        return Observed(wanting=(*weight.wanting, wanted))
    return all_of([weight], lambda parts: Weighted(parts[0], o.stated(stated, by_source, share)))


@observes(
    grain_weights=Called("the grains", "kg"),
    grain_extracts=Called("the grains"),
    grain_moistures=Called("the grains"),
    grain_powers=Called("the grains"),
    grain_colours=Called("the grains"),
)
def _grist(o: Observer) -> dict[str, Observed]:
    if not o.batch.grains:
        missing = Observed(wanting=("grains",))
        return dict.fromkeys(
            ("grain_weights", "grain_extracts", "grain_moistures", "grain_powers", "grain_colours"), missing
        )
    weights, extracts, moistures, powers, colours = [], [], [], [], []
    for index, grain in enumerate(o.batch.grains):
        path = f"grains[{index}]"
        values = resolve(grain, path, o.malts)
        weight = o.weight(grain.weight, f"{path}.weight")
        weights.append(weight)
        extracts.append(observe_extract(o, values, weight, path))
        moistures.append(weigh(o, weight, values.moisture, f"{path}.moisture", MOISTURE_BY_SOURCE, False))
        colours.append(weigh(o, weight, values.colour, f"{path}.colour", COLOUR_SHARE, True))
        stated = values.extract or values.extract_as_is
        if stated is None or stated.value > 0:
            powers.append(weigh(o, weight, values.diastatic_power, f"{path}.diastatic_power", POWER_SHARE, True))
    return {
        "grain_weights": all_of(weights),
        "grain_extracts": all_of(extracts),
        "grain_moistures": all_of(moistures),
        "grain_powers": all_of(powers) if powers else Observed(wanting=("grains",)),
        "grain_colours": all_of(colours),
    }


def _rest(o: Observer, rest: Any, path: str) -> Observed:
    # exact, for at the edge of a range the minutes jump, and a slope there means nothing
    if rest.temperature is None:
        return Observed(wanting=(f"{path}.temperature",))
    temperature = Observed(nominal(take_off_shift(rest.temperature.value, o.checked.thermometer)))
    return all_of([temperature, o.clock(rest.time, f"{path}.time")], lambda parts: RestStep(*parts))


def _of_the_table(name: str, reading: KnownReading) -> None:
    # a single number has a unit to be shown in; volumes and gravities are records of their own
    unit = "" if reading.unit in {VOLUME, GRAVITY} else reading.unit

    @observes(**{name: Called(reading.in_formula, unit)})
    def _one(o: Observer) -> dict[str, Observed]:
        return {name: o.reading(reading)}


for _reading in KNOWN:
    if _reading.parameter:
        _of_the_table(_reading.parameter, _reading)


@observes(
    mash_rests=Called("rests"),
)
def _lists(o: Observer) -> dict[str, Observed]:
    rests = [_rest(o, rest, f"mash.rests[{index}]") for index, rest in enumerate(o.batch.mash.rests)]
    return {
        "mash_rests": all_of(rests) if rests else Observed(wanting=("mash.rests",)),
    }


@observes(dead_space=Called("dead space"))
def _vessels(o: Observer) -> dict[str, Observed]:
    key, brewhouse = o.brewery.brewhouse_of(o.batch.brewhouse)
    dead_space = brewhouse.mash_tun.dead_space
    where = f"brewhouses.{key}.mash_tun.dead_space" if key else "brewery.yaml: mash_tun.dead_space"
    return {"dead_space": o.volume(dead_space, where)}


def observe(batch: Batch, brewery: Brewery, malts: Malts, *, alone: bool = False) -> BatchReadings:
    """Every reading a figure may take, by the name of the figure's parameter.

    Of a batch with relatives also what stands in for its own readings, and figures that are theirs too, by their names;
    `alone` leaves out those that several batches have only together.
    """
    observer = Observer(batch, brewery, malts)
    seen = BatchReadings(observer)
    if batch.relatives:
        found = dict(seen)
        for borrowed in _BORROWED_BY if alone else [*_BORROWED_BY, *_SHARED_BY]:
            found |= borrowed(observer, found)
        return BatchReadings(observer, found)
    return seen
