"""What an instrument shows too much, by the checks it was put to: what each reading of a day is corrected by.

A check holds from its `since`, or else from its day, until the next one, and never over the day an instrument was new. Of two
that were made on one day both count: a thermometer's ice and boiling water make a line, of others the mean. What the check
itself may be wrong by is one error, shared by all that it corrects.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from math import fsum
from typing import Any, NamedTuple, TypeVar

from journal.figures.instruments import Deviations
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain, combine, source
from journal.measures import Gravity, Measure, Scale
from journal.reading import Batch, Brewery
from journal.reading.instrument_checks import (
    Check,
    GravityCheck,
    PhCheck,
    RefractionCheck,
    TemperatureCheck,
    VolumeCheck,
    WeightCheck,
)
from journal.reading.standards import BOILING_WATER, WATER
from journal.science import boiling, water, wort

_Made = TypeVar("_Made", bound=Check)


class InstrumentError(NamedTuple):
    """What an instrument shows too much: in its unit, or of what multiplies as a fraction of the truth.

    At `at` (of a thermometer what it showed, else 0) it is `size`, and grows by `slope` with what is shown; `sd` is the
    check's own standard uncertainty. `paths` are the checks, as brewery.yaml names them.
    """

    size: float
    sd: float
    paths: tuple[str, ...]
    at: float = 0.0
    slope: float = 0.0

    def off(self, shown: float) -> float:
        """What it shows too much where it shows this."""
        return self.size + self.slope * (shown - self.at)

    @property
    def error(self) -> Uncertain:
        """The check's own error, one for all it corrects."""
        return source(0.0, self.sd, ErrorSource(self.paths[0], ErrorKind.READING))


def take_off_shift(value: Any, correction: InstrumentError | None) -> Any:
    """A reading less what its instrument shows too much."""
    if correction is None:
        return value
    shown = value.value if isinstance(value, Uncertain) else float(value)
    own = [(value, 1.0 - correction.slope)] if isinstance(value, Uncertain) else []
    return combine(shown - correction.off(shown), [*own, (correction.error, -1.0)])


def take_out_scale(value: Any, correction: InstrumentError | None) -> Any:
    """A reading divided by how many times the truth its instrument shows."""
    if correction is None:
        return value
    shown = value.value if isinstance(value, Uncertain) else float(value)
    factor = 1.0 + correction.size
    own = [(value, 1.0 / factor)] if isinstance(value, Uncertain) else []
    return combine(shown / factor, [*own, (correction.error, -shown / factor**2)])


def checks_that_hold(checks: Sequence[_Made], day: date, renewed: Sequence[date] = ()) -> list[tuple[int, _Made]]:
    """Those that hold on a day, with their places in the list; `renewed` are other days from which older ones say nothing."""
    new = sorted([check.holds_from for check in checks if check.new] + list(renewed))

    def since_new(on: date) -> date:
        return max((each for each in new if each <= on), default=date.min)

    epoch = since_new(day)
    found = [
        (place, check)
        for place, check in enumerate(checks)
        if check.on and check.holds_from <= day and since_new(check.on) == epoch and check.off() is not None
    ]
    if not found:
        return []
    _, latest = max(found, key=lambda each: (each[1].holds_from, each[1].on or date.min))
    return [each for each in found if each[1].on == latest.on]


@dataclass(frozen=True)
class Checked:
    """The corrections of one brewery's instruments on the day of a batch."""

    batch: Batch
    brewery: Brewery

    @property
    def _deviations(self) -> Deviations:
        return Deviations(self.brewery.instruments)

    def _mean(
        self,
        checks: Sequence[_Made],
        path: str,
        off: Callable[[_Made], tuple[float, float]],
        renewed: Sequence[date] = (),
    ) -> InstrumentError | None:
        found = checks_that_hold(checks, self.batch.day, renewed)
        if not found:
            return None
        sizes = [off(check) for _, check in found]
        count = len(sizes)
        return InstrumentError(
            fsum(size for size, _ in sizes) / count,
            fsum(sd**2 for _, sd in sizes) ** 0.5 / count,
            tuple(f"{path}.checks[{place}]" for place, _ in found),
        )

    @cached_property
    def hydrometer(self) -> InstrumentError | None:
        """SG."""
        return self._mean(self.brewery.instruments.hydrometer.checks, "instruments.hydrometer", self._gravity)

    def _gravity(self, check: GravityCheck) -> tuple[float, float]:
        if check.of is None or check.shows is None:
            raise ValueError("a check that shows nothing corrects nothing")
        true = 1.0 if check.of.what == WATER else wort.gravity_from_plato(check.of.value)
        calibrated = self._deviations.calibrated_at
        at = check.shows.at if check.shows.at is not None else check.of.at
        shown = check.shows.value
        if check.shows.scale is not Scale.HYDROMETER:
            shown = wort.gravity_from_plato(shown)
        elif at is not None and (at != 20.0 or calibrated != 20.0):
            shown = wort.gravity_at_20(shown, at, calibrated)
        own = Gravity(shown, Scale.HYDROMETER, check.shows.sd if check.shows.scale is Scale.HYDROMETER else None)
        return shown - true, self._deviations.gravity(own)

    @cached_property
    def refractometer(self) -> InstrumentError | None:
        """°Bx; sugar in water is what the scale is made for, so that no wort factor comes in."""

        def off(check: RefractionCheck) -> tuple[float, float]:
            known = self.brewery.instruments.refractometer.uncertainty
            sd = known.value if known else 0.2
            return check.off() or 0.0, check.shows.sd if check.shows and check.shows.sd is not None else sd

        return self._mean(self.brewery.instruments.refractometer.checks, "instruments.refractometer", off)

    @cached_property
    def thermometer(self) -> InstrumentError | None:
        """K; of ice and of boiling water on one day a line through both."""
        path = "instruments.thermometer"
        found = checks_that_hold(self.brewery.instruments.thermometer.checks, self.batch.day)
        whole = self._mean(self.brewery.instruments.thermometer.checks, path, self._temperature)
        if whole is None:
            return None
        sizes: dict[str, tuple[float, float]] = {}
        for _, check in found:
            if check.of is not None and check.shows is not None:
                sizes[check.of.what] = (check.shows.value, self._temperature(check)[0])
        if len(sizes) < 2:
            return whole
        (cold, at_cold), (hot, at_hot) = sorted(sizes.values())
        return whole._replace(size=at_cold, at=cold, slope=(at_hot - at_cold) / (hot - cold))

    def _temperature(self, check: TemperatureCheck) -> tuple[float, float]:
        if check.of is None or check.shows is None:
            raise ValueError("a check that shows nothing corrects nothing")
        height = check.height.value if check.height else 0.0
        true = boiling.boiling_point(height) if check.of.what == BOILING_WATER else 0.0
        return check.shows.value - true, self._deviations.temperature(check.shows)

    def _ratio(self, check: WeightCheck, deviation: Callable[[Measure], float]) -> tuple[float, float]:
        if check.of is None or check.shows is None:
            raise ValueError("a check that shows nothing corrects nothing")
        # a check is read to the scale's last digit: its uncertainty as stated, else a fifth of a per cent (common practice)
        sd = check.shows.sd if check.shows.sd is not None else min(deviation(check.shows), 0.002 * check.shows.value)
        return check.shows.value / check.of.value - 1.0, sd / check.of.value

    @cached_property
    def malt_scale(self) -> InstrumentError | None:
        """A fraction."""
        checks, deviation = self.brewery.instruments.malt_scale.checks, self._deviations.weight
        return self._mean(checks, "instruments.malt_scale", lambda check: self._ratio(check, deviation))

    @cached_property
    def hop_scale(self) -> InstrumentError | None:
        """A fraction."""
        checks, deviation = self.brewery.instruments.hop_scale.checks, self._deviations.hop_weight
        return self._mean(checks, "instruments.hop_scale", lambda check: self._ratio(check, deviation))

    @cached_property
    def liquor_measure(self) -> InstrumentError | None:
        """A fraction, of what liquor is measured with."""
        return self._mean(self.brewery.instruments.volume.checks, "instruments.volume", self._volume)

    @cached_property
    def kettle(self) -> InstrumentError | None:
        """A fraction, of the kettle's marks."""
        key, brewhouse = self.brewery.brewhouse_of(self.batch.brewhouse)
        return self._mean(brewhouse.kettle.checks, f"brewhouses.{key}.kettle", self._volume)

    @cached_property
    def fermenter(self) -> InstrumentError | None:
        """A fraction, of the marks of the fermenter that the entry names."""
        named = self.batch.fermenter.vessel
        vessel = self.brewery.fermenters.get(named or "")
        return self._mean(vessel.checks, f"fermenters.{named}", self._volume) if vessel else None

    def _volume(self, check: VolumeCheck) -> tuple[float, float]:
        if check.of is None or check.shows is None:
            raise ValueError("a check that shows nothing corrects nothing")
        true = check.of.value / water.density(check.of.at if check.of.at is not None else 20.0)
        # marks are read to half a per cent where they are looked at closely (common practice)
        sd = check.shows.sd if check.shows.sd is not None else min(self._deviations.volume(check.shows), 0.005 * true)
        return check.shows.value / true - 1.0, sd / true

    @cached_property
    def ph_meter(self) -> InstrumentError | None:
        """pH; a calibration ends what checks before it said."""

        def off(check: PhCheck) -> tuple[float, float]:
            if check.shows is None:
                raise ValueError("a check that shows nothing corrects nothing")
            return check.off() or 0.0, self._deviations.ph(check.shows)

        meter = self.brewery.instruments.ph_meter
        return self._mean(meter.checks, "instruments.ph_meter", off, meter.calibrated)
