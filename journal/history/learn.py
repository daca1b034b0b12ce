"""What a brewhouse does, learnt from its own earlier batches: the expectations that the next balance starts from.

Each earlier batch has its own word on boil-off, water held, conversion and so on, with its own uncertainty (a
random-effects model). Their middle is found robustly (Huber's weights), their spread beyond the readings' errors from
the median absolute deviation; both are drawn towards common practice as long as the batches are few.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields, replace

import numpy as np

from journal.balance.priors import Expectation, Priors, usual_spread
from journal.frozen import dataclass
from journal.numerics import Estimate, Vector
from journal.numerics.robust import EFFICIENT, SD_BY_MEDIAN, reweight

#: Batches looked back on, for each thing learnt: a brewhouse changes, and a year's brewing is enough to know it.
LOOK_BACK = 24
#: Below this many batches nothing is learnt.
FEWEST_TO_LEARN = 3
_LEAST_SPREAD = 0.4
#: The middle has settled when it moves by less than this share of the usual spread.
_SETTLED = 1e-4


@dataclass(frozen=True)
class Level:
    """A robust middle with its standard error, and the spread between batches, over `batches` of them."""

    mean: float
    error: float
    spread: float
    batches: int


def level(values: Iterable[Estimate], usual_spread: float) -> Level:
    """The level that several uncertain values of one thing share, one bad value among them doing little."""
    pairs = [(evidence.value, evidence.sd) for evidence in values]
    value, sd = np.array([v for v, _ in pairs]), np.array([s for _, s in pairs])
    # start from the half that is best known, lest many vague batches outvote few good ones
    known = sd <= _median(sd)
    start = _median(value[known])
    spread2 = _spread(value, sd, start, usual_spread)
    variance = sd**2 + spread2
    total = np.sqrt(variance)

    def middle(weights: Vector, _: float) -> float:
        share = weights / variance
        return float((share * value).sum() / share.sum())

    mean, weights = reweight(
        start,
        away=lambda mean: (value - mean) / total,
        solve=middle,
        bend=EFFICIENT,
        rounds=20,
        settled=lambda before, now: abs(now - before) < _SETTLED * usual_spread,
    )
    return Level(mean, float(np.sum(weights / variance)) ** -0.5, spread2**0.5, len(value))


def _median(values: Vector) -> float:
    """The middle of some values; numpy's own takes ten times as long for so few."""
    ordered, half = sorted(values.tolist()), len(values) // 2
    middle: float = ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2.0
    return middle


def _spread(value: Vector, sd: Vector, mean: float, usual: float) -> float:
    """Variance between batches.

    What is seen beyond the readings' errors, weighed against what is usual by how well each is known.
    """
    count = len(value)
    # the median absolute deviation of few values is too small (Croux & Rousseeuw 1992; the 0.8 is common practice)
    few = count / (count - 0.8)
    scatter = (SD_BY_MEDIAN * few * float(_median(np.abs(value - mean)))) ** 2
    vague = _median(sd**2)
    seen = scatter - vague
    # the variance of a variance from n values, as the usual spread has it: by what is seen, a scatter that happens to be
    # small would pass for well known; the median absolute deviation is 37 % as efficient as the best
    doubt = 2.0 * (vague + usual**2) ** 2 / (0.37 * count)
    usual_doubt = usual**4
    combined = (seen / doubt + usual**2 / usual_doubt) / (1.0 / doubt + 1.0 / usual_doubt)
    return max(combined, (_LEAST_SPREAD * usual) ** 2)


def learn(start: Priors, past: Iterable[Mapping[str, Estimate]]) -> Priors:
    """Expectations for the next batch.

    `start` bettered by what earlier batches of the brewhouse said, the latest last.
    """
    past = list(past)
    learnt = {}
    for name in (f.name for f in fields(Priors)):
        said = [evidence[name] for evidence in past if name in evidence][-LOOK_BACK:]
        if len(said) < FEWEST_TO_LEARN:
            continue
        found = level(said, usual_spread(name))
        before: Expectation | None = getattr(start, name)
        mean, variance = found.mean, found.error**2
        if before is not None:
            mean, variance = _weigh_in(found, before)
        learnt[name] = Expectation(mean, (variance + found.spread**2) ** 0.5, found.batches)
    return replace(start, **learnt)


def _weigh_in(found: Level, before: Expectation) -> tuple[float, float]:
    own, other = 1.0 / found.error**2, 1.0 / before.sd**2
    return (own * found.mean + other * before.mean) / (own + other), 1.0 / (own + other)
