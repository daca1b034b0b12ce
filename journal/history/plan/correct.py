"""Off target on the day: what to believe of a reading, whether to act, and what would bring the brew to its target."""

from __future__ import annotations

import numpy as np

from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.plan.forecast import MEASURED, Forecast, KalmanUpdate, forecast_of, kalman_update
from journal.history.plan.remedy import Ahead, Remedy, remedies
from journal.numerics import Estimate, Vector, variances
from journal.reading import Batch

VOLUME, GRAVITY = "volume", "gravity"
_ROWS = {VOLUME: 0, GRAVITY: 1}
#: Steps in which a belief settles, to a hundredth of a point.
STEPS = 3
#: A wort believed to land nearer to its target than this is left alone, SG: a hydrometer's whole point (common practice).
WORTH_CORRECTING = 0.001


@dataclass(frozen=True)
class Range:
    """What a reading was expected to show, with the interval that holds it nine times in ten; `recorded` is the reading."""

    expected: float
    low: float
    high: float
    recorded: float


@dataclass(frozen=True)
class Correction:
    """What a reading makes of a planned batch.

    `ranges` by VOLUME and GRAVITY, of what was read. `volume` and `gravity` are what is believed at the place, L at 20 °C
    and SG; `original_gravity` what is to be expected if nothing is done, `fermenter_volume` and `knockout_volume` L with
    it. `remedies` are those that apply: water for a wort too strong, extract and sugar for one too weak, boiling before
    the boil.
    """

    place: str
    target: float
    ranges: dict[str, Range]
    volume: Estimate
    gravity: Estimate
    original_gravity: Estimate
    knockout_volume: float
    fermenter_volume: float
    remedies: tuple[Remedy, ...]

    @property
    def leave(self) -> bool:
        """Whether to let the plan stand: what is believed lands on the target, near enough.

        It goes by the belief, not by the interval of each reading: where much is known, a reading has to stray far to move
        the belief so much; where little is known, it may lie in a wide interval and still be the best there is.
        """
        return abs(self.original_gravity.value - self.target) <= WORTH_CORRECTING


class Corrector:
    """A planned batch at one place, ready for any reading of the same kinds and uncertainties.

    `sd` by VOLUME and GRAVITY, of what will be read; at least one, each above 0.
    """

    def __init__(self, forecast: Forecast, place: str, sd: dict[str, float]) -> None:
        self.forecast, self.place, self.names = forecast, place, tuple(sd)
        self._measured = MEASURED[place]
        expected, self._slopes = self._look(forecast.state), forecast.solution.slopes(self._measured)
        self._rows = rows = [_ROWS[name] for name in self.names]
        read_sd = np.array(list(sd.values()))
        self._update: KalmanUpdate = kalman_update(expected[rows], self._slopes[rows], forecast.covariance, read_sd)
        self._left = np.sqrt(variances(self._slopes, self._update.covariance))
        #: Standard deviations of volume and gravity here and of the original gravity, before anything is read.
        self.before: Vector = np.sqrt(variances(self._slopes, forecast.covariance))

    def _look(self, state: Vector) -> Vector:
        """Volume and gravity here, and the original gravity, of a state."""
        return self.forecast.look(self._measured, state)

    def expected(self, name: str) -> Range:
        """What a reading will show, nine times in ten; `recorded` is what is expected."""
        row = self.names.index(name)
        value, spread = float(self._update.expected[row]), float(self._update.spread[row])
        return Range(
            value, value - self.forecast.coverage_factor * spread, value + self.forecast.coverage_factor * spread, value
        )

    def _believed(self, recorded: Vector) -> Vector:
        """The state after readings: the gain, taken again from where it led, for the model is not quite straight."""
        moved = np.zeros(len(self.forecast.state))
        for _ in range(STEPS):
            shown = self._look(self.forecast.state + moved)[self._rows]
            moved = self._update.gain @ (recorded - shown + self._slopes[self._rows] @ moved)
        return self.forecast.state + moved

    def correct(self, readings: dict[str, float]) -> Correction | None:
        """The correction for readings by VOLUME and GRAVITY, L at 20 °C and SG; None where no wort could show them."""
        try:
            state = self._believed(np.array([readings[name] for name in self.names]))
            return self._correction(state, readings)
        except (ArithmeticError, ValueError):
            return None

    def _correction(self, state: Vector, readings: dict[str, float]) -> Correction:
        believed = self._look(state)
        volume, gravity, original = (
            Estimate(value, sd) for value, sd in zip(believed.tolist(), self._left.tolist(), strict=True)
        )
        ahead: Ahead = self.forecast.ahead(state, self.place)
        ranges = {}
        for name in self.names:
            found = self.expected(name)
            ranges[name] = Range(found.expected, found.low, found.high, readings[name])
        return Correction(
            self.place,
            self.forecast.target,
            ranges,
            volume,
            gravity,
            original,
            ahead.knockout.volume,
            ahead.landing(ahead.knockout).volume,
            remedies(ahead, self.forecast.target),
        )


def correct(
    batch: Batch,
    recorded: BatchFigures,
    priors: Priors,
    place: str,
    gravity: Estimate | None = None,
    volume: Estimate | None = None,
) -> Correction | None:
    """What a reading at `place` (KETTLE or KNOCKOUT) makes of a planned batch.

    None where grist or liquor is not known, nothing was read, or no wort could show it. Other readings of
    the day that the entry may hold are left out of account.
    """
    readings = {name: read for name, read in ((VOLUME, volume), (GRAVITY, gravity)) if read is not None}
    forecast = forecast_of(batch, recorded, priors)
    if forecast is None or not readings:
        return None
    corrector = Corrector(forecast, place, {name: read.sd for name, read in readings.items()})
    return corrector.correct({name: read.value for name, read in readings.items()})
