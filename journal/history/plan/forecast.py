"""What is known of a batch before it is brewed, and what a reading on the day makes of it.

The forecast state is the balance without the day's readings. A reading shifts it by the gain of a linear Gaussian update
(Kalman 1960; the same as the balance struck with that reading, as far as the model is straight): by as much as the
reading is worth beside what was expected. So one noisy reading does not drive the brew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from journal.balance.equations import build_model
from journal.balance.foresee import LEVEL
from journal.balance.model import WATER, Model, State, Vessel, vessels
from journal.balance.priors import Priors
from journal.balance.verdict import solve
from journal.figures import BatchFigures
from journal.figures.corrected import gravity as corrected
from journal.figures.observe import GravityReading
from journal.history.plan.remedy import Ahead
from journal.measures import Gravity
from journal.numerics import Vector
from journal.numerics.distributions import stdtrit
from journal.numerics.least_squares import NoSolution
from journal.reading import Batch
from journal.reading.known_readings import AT_STATIONS

#: Where the wort is read: the full kettle before the boil, or the kettle at knockout.
KETTLE, KNOCKOUT = "kettle", "knockout"
#: The paths of what is read on the day; grist and liquor are the plan's.
_ON_THE_DAY = frozenset(reading.path for reading in AT_STATIONS)
#: Degrees of freedom that common practice counts for beyond the batches learnt from, as for what is foreseen.
_COMMON_PRACTICE_COUNTS = 4
#: What a target in °Bx is divided by (common practice).
_WORT_FACTOR = 1.04

Measurement = Callable[[Vector], Vector]


def _vessel(state: State, place: str) -> Vessel:
    return {KETTLE: state.kettle, KNOCKOUT: state.knockout}[place]


def target_of(batch: Batch) -> float | None:
    """The original gravity a batch is after, SG 20/20; None where its entry states none."""
    wanted = batch.target.gravity
    return None if wanted is None else gravity_wanted(wanted)


def gravity_wanted(wanted: Gravity) -> float:
    """SG 20/20 of a gravity that a brewer is after."""
    return corrected(GravityReading(wanted.scale.value, wanted.value, wanted.at, 20.0, _WORT_FACTOR, None))


@dataclass(frozen=True)
class Forecast:
    """A batch's state as expected, with its covariance.

    `minutes` of boil as planned; `reach` is how many standard deviations the interval at LEVEL reaches; `target` SG.
    """

    model: Model
    state: Vector
    covariance: Vector
    minutes: float
    reach: float
    target: float

    def at(self, state: Vector) -> tuple[dict[str, float], State]:
        """Unknowns by name and vessels for a state."""
        named = self.model.named(state)
        return named, vessels(named, self.model.facts)

    def measurements(self, place: str) -> Measurement:
        """Volume, L at 20 °C, and gravity, SG, at a place, and the original gravity, of a state."""

        def look(state: Vector) -> Vector:
            found = self.at(state)[1]
            vessel = _vessel(found, place)
            return np.array([vessel.volume, vessel.gravity, found.fermenter.gravity])

        return look

    def ahead(self, state: Vector, place: str) -> Ahead:
        """What lies ahead of the wort at a place, as a state has it."""
        u, found = self.at(state)
        facts = self.model.facts
        fermenter = Vessel(u["fermenter_top_up"] * WATER + facts.fermenter_sugar_water, u["fermenter_sugar"])
        evaporation = u["boil_off"] * WATER / 60 if place == KETTLE else 0.0
        return Ahead(found.knockout, self.minutes, evaporation, u["kettle_loss"], fermenter)


def forecast_of(batch: Batch, recorded: BatchFigures, priors: Priors) -> Forecast | None:
    """What is known of a planned batch before anything is read; None where grist or liquor is not known, or make no wort."""
    model = build_model(batch, recorded, priors, without=_ON_THE_DAY)
    if model is None or "water_held" not in model.unknowns:
        return None
    try:
        found = solve(model)
        expected = vessels(model.named(found.state), model.facts)
    except (NoSolution, ArithmeticError, ValueError):
        return None
    # a grist may drink up its liquor, a boil drive off the whole kettle
    filled = (expected.kettle, expected.knockout, expected.fermenter)
    if min(min(vessel.water, vessel.extract) for vessel in filled) <= 0:
        return None
    reach = float(stdtrit(priors.conversion.batches + _COMMON_PRACTICE_COUNTS, (1 + LEVEL) / 2))
    time = batch.boil.time
    minutes = time.value if time else model.facts.hours * 60
    return Forecast(
        model, found.state, found.covariance, minutes, reach, target_of(batch) or expected.fermenter.gravity
    )


@dataclass(frozen=True)
class Gain:
    """How readings of some quantities move a state: `expected` of them and their slopes, the gain, what is left after."""

    expected: Vector
    spread: Vector
    gain: Vector
    covariance: Vector


def gain(expected: Vector, seen: Vector, covariance: Vector, sd: Vector) -> Gain:
    """The gain of readings with standard deviations `sd`.

    `seen` are the slopes of the quantities read; `spread` is the standard deviation of a reading about what is expected.
    """
    together = seen @ covariance @ seen.T + np.diag(sd**2)
    weight = np.linalg.solve(together, seen @ covariance).T
    return Gain(expected, np.sqrt(np.diag(together)), weight, covariance - weight @ seen @ covariance)
