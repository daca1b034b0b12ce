"""What is known of a batch before it is brewed, and what a reading on the day makes of it.

The forecast state is the balance without the day's readings. A reading shifts it by the gain of a linear Gaussian update
(Kalman 1960; the same as the balance struck with that reading, as far as the model is straight): by as much as the
reading is worth beside what was expected. So one noisy reading does not drive the brew.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from journal.balance.foresee import coverage_factor_of, solve_ahead
from journal.balance.model import Solution
from journal.balance.priors import Priors
from journal.balance.vessels import WATER, Vessel
from journal.figures import BatchFigures
from journal.figures.as_read import GravityReading
from journal.figures.corrected import gravity as corrected
from journal.figures.instruments import WORT_FACTOR
from journal.frozen import dataclass
from journal.history.plan.remedy import Ahead
from journal.measures import Gravity
from journal.numerics import Matrix, Vector
from journal.reading import Batch
from journal.reading.known_readings import GRAVITY, VOLUME, read_at

#: Where the wort is read: the full kettle before the boil, or the kettle at knockout.
KETTLE, KNOCKOUT = "kettle", "knockout"
#: What is read at each, and what the brew comes to: volume, L at 20 °C, gravity, SG, and original gravity, by figure.
MEASURED = {
    place: (read_at(place, VOLUME).figure, read_at(place, GRAVITY).figure, "original_gravity")
    for place in (KETTLE, KNOCKOUT)
}


def target_of(batch: Batch) -> float | None:
    """The original gravity a batch is after, SG 20/20; None where its entry states none."""
    wanted = batch.target.gravity
    return None if wanted is None else gravity_wanted(wanted)


def gravity_wanted(wanted: Gravity) -> float:
    """SG 20/20 of a gravity that a brewer is after."""
    return corrected(GravityReading(wanted.scale.value, wanted.value, wanted.at, 20.0, WORT_FACTOR[0], None))


@dataclass(frozen=True)
class Forecast:
    """A batch's state as expected, with its covariance: `solution` without the day's readings.

    `minutes` of boil as planned; `coverage_factor` is how many standard deviations the interval at LEVEL reaches; `target` SG.
    """

    solution: Solution
    minutes: float
    coverage_factor: float
    target: float

    @property
    def state(self) -> Vector:
        """The n unknowns as expected."""
        return self.solution.fit.state

    @property
    def covariance(self) -> Matrix:
        """Of the unknowns, n × n."""
        return self.solution.fit.covariance

    def look(self, names: Sequence[str], state: Vector) -> Vector:
        """Quantities by name, of a state."""
        return self.solution.model.values_of(names, state)

    def ahead(self, state: Vector, place: str) -> Ahead:
        """What lies ahead of the wort at a place, as a state has it."""
        u, found = self.solution.model.at(state)
        facts = self.solution.model.facts
        fermenter = Vessel(u["fermenter_top_up"] * WATER + facts.fermenter_sugar_water, u["fermenter_sugar"])
        evaporation = u["boil_off"] * WATER / 60 if place == KETTLE else 0.0
        return Ahead(found.knockout, self.minutes, evaporation, u["kettle_loss"], fermenter)


def forecast_of(batch: Batch, recorded: BatchFigures, priors: Priors) -> Forecast | None:
    """What is known of a planned batch before anything is read; None where grist or liquor is not known, or make no wort."""
    ahead = solve_ahead(batch, recorded, priors)
    if ahead is None:
        return None
    _, expected = ahead.model.at(ahead.fit.state)
    # a grist may drink up its liquor, a boil drive off the whole kettle
    filled = (expected.kettle, expected.knockout, expected.fermenter)
    if min(min(vessel.water, vessel.extract) for vessel in filled) <= 0:
        return None
    time = batch.boil.time
    minutes = time.value if time else ahead.model.facts.hours * 60
    return Forecast(ahead, minutes, coverage_factor_of(priors), target_of(batch) or expected.fermenter.gravity)


@dataclass(frozen=True)
class KalmanUpdate:
    """How r readings move a state of n unknowns.

    `expected`, r: what they should show, `spread`, r: its standard deviation with the reading's own error; `gain`, n × r: the
    Kalman gain; `covariance`, n × n: what is left to the state after them.
    """

    expected: Vector
    spread: Vector
    gain: Matrix
    covariance: Matrix


def kalman_update(expected: Vector, slopes: Matrix, covariance: Matrix, sd: Vector) -> KalmanUpdate:
    """The update by r readings with standard deviations `sd`, r, of a state with a `covariance`, n × n.

    `slopes`, r × n, are derivatives of the quantities read by the unknowns.
    """
    together = slopes @ covariance @ slopes.T + np.diag(sd**2)
    gain = np.linalg.solve(together, slopes @ covariance).T
    return KalmanUpdate(expected, np.sqrt(np.diag(together)), gain, covariance - gain @ slopes @ covariance)
