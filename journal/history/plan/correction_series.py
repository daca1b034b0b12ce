"""A correction in a form that needs no model: series by which whoever can add and multiply answers as `Corrector` does.

However good the readings, a belief leaves what was expected in two directions only: what the error of the expected volume
moves, and what that of the gravity moves. So everything that a correction says is a function of two numbers, and those
follow from readings of any uncertainty, together or one alone, by the same gain that `Corrector` has.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.plan.correct import STEPS
from journal.history.plan.forecast import MEASURED, Forecast, forecast_of
from journal.history.plan.remedy import BOIL, DILUTE, changes
from journal.numerics import Matrix, Vector
from journal.numerics.chebyshev import ChebyshevSeries, series_of
from journal.reading import Batch

#: How far the readings may be from what is expected, in half-widths of their intervals, and with how many terms that is
#: tried, in turn: a known brewhouse moves little, and so almost straight.
_HALF_WIDTHS = ((5.0, 8), (5.0, 12), (4.0, 14), (3.0, 16))
#: The same for a brewhouse of which little is known, in standard deviations across and along the readings' ellipse: a gravity and
#: a volume that are both far too low would leave what any wort can be long before one of them alone does.
_ACROSS_AND_ALONG, _TERMS = ((8.0, 5.0), (7.0, 4.0), (5.0, 4.0), (4.0, 3.0), (3.0, 3.0)), 14
#: By unit, what a series may be off: far below the last digit shown.
_TOLERANCE = {"L": 2e-6, "SG": 2e-8, "min": 1e-3, "kg": 1e-6}
#: What series are made of besides the changes and the volumes that land of them.
_SEEN = (("volume", "L"), ("gravity", "SG"), ("original_gravity", "SG"), ("fermenter_volume", "L"))


@dataclass(frozen=True)
class CorrectionSeries:
    """What readings at one place make of a planned batch, by series over x and y from -1 to 1.

    `prior` is the covariance, 2 × 2, of volume and gravity as expected, L and SG: with R, the readings' own, the belief moves by
    w = (prior + R)⁻¹ (read - shown + prior · w), settled in `steps`, and (x, y) = `turn` · w; rows and columns of what was not
    read are left out. `expected` is what is shown before anything is read, `coverage_factor` how many standard deviations its
    interval reaches. `series` are what is believed of volume, gravity and original gravity, what lands in the fermenter if
    nothing is done, and by kind of remedy its amount, which is to be done where it is above 0, and `KIND lands` what lands then.
    """

    place: str
    target: float
    coverage_factor: float
    steps: int
    expected: tuple[float, float]
    prior: tuple[tuple[float, float], tuple[float, float]]
    turn: tuple[tuple[float, float], tuple[float, float]]
    series: dict[str, ChebyshevSeries]


def correction_series(
    batch: Batch, recorded: BatchFigures, priors: Priors, place: str, sd: tuple[float, float]
) -> CorrectionSeries | None:
    """The series for a planned batch at a place (KETTLE or KNOCKOUT); None where there is no answer to give.

    `sd` of readings of volume and gravity as they mostly are, L and SG: they say how far the series must reach.
    """
    forecast = forecast_of(batch, recorded, priors)
    return None if forecast is None else _series(forecast, place, sd)


def _series(forecast: Forecast, place: str, sd: tuple[float, float]) -> CorrectionSeries | None:
    slopes = forecast.solution.slopes(MEASURED[place])[:2]
    moves = forecast.covariance @ slopes.T
    prior: Matrix = slopes @ moves
    spread = prior + np.diag(np.square(sd))
    names, units = _names(forecast, place)
    for reach, degree in _reaches(spread, forecast.coverage_factor):
        # from (x, y) to the belief that readings so far off lead to
        wide: Matrix = np.linalg.solve(spread, reach)

        def look(x: float, y: float, wide: Matrix = wide) -> Vector:
            return _look(forecast, place, forecast.state + moves @ (wide @ np.array([x, y])))

        found = series_of(look, (degree, degree), np.array([_TOLERANCE[unit] for unit in units]))
        if found is not None:
            volume, gravity, _ = forecast.look(MEASURED[place], forecast.state).tolist()
            return CorrectionSeries(
                place,
                forecast.target,
                forecast.coverage_factor,
                STEPS,
                (volume, gravity),
                _pairs(prior),
                _pairs(np.linalg.inv(wide)),
                dict(zip(names, found, strict=True)),
            )
    return None


def _reaches(spread: Matrix, coverage_factor: float) -> Iterator[tuple[Matrix, int]]:
    """How far readings with this covariance, 2 × 2, may go: what x and y of -1 to 1 stand for, and how many terms to try."""
    sd: Matrix = np.diag(np.sqrt(np.diag(spread)))
    for half_widths, degree in _HALF_WIDTHS:
        yield half_widths * coverage_factor * sd, degree
    alike = float(spread[0, 1] / (sd[0, 0] * sd[1, 1]))
    # what varies alike, and what varies the one against the other: the narrow axis of the ellipse comes first
    turned = np.array([[1.0, 1.0], [1.0, -1.0]]) / np.sqrt(2.0)
    axes: Matrix = sd @ turned @ np.diag(np.sqrt([1.0 + alike, 1.0 - alike]))
    narrow_first = axes if alike < 0 else axes[:, ::-1]
    for across_and_along in _ACROSS_AND_ALONG:
        yield narrow_first * np.array(across_and_along), _TERMS


def _names(forecast: Forecast, place: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What the series are of, and their units."""
    kinds = [each.kind for each in changes(forecast.ahead(forecast.state, place), forecast.target)]
    named = list(_SEEN)
    for kind in kinds:
        unit = "min" if kind == BOIL else "L" if kind == DILUTE else "kg"
        named += [(kind, unit), (f"{kind} lands", "L")]
    names, units = zip(*named, strict=True)
    return names, units


def _look(forecast: Forecast, place: str, state: Vector) -> Vector:
    """All that a correction says of a state; raises ValueError where it would say nothing of some change."""
    ahead = forecast.ahead(state, place)
    found = [*forecast.look(MEASURED[place], state).tolist(), ahead.landing(ahead.knockout).volume]
    for each in changes(ahead, forecast.target):
        if each.knockout_volume <= ahead.loss:
            raise ValueError("nothing would reach the fermenter")
        found += [each.amount, each.fermenter_volume]
    return np.array(found)


def _pairs(matrix: Matrix) -> tuple[tuple[float, float], tuple[float, float]]:
    (a, b), (c, d) = matrix.tolist()
    return (a, b), (c, d)
