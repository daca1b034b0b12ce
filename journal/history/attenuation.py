"""What a beer is likely to attenuate to, learnt from the brewer's own earlier ones: by mash, grist and yeast.

A straight line in the mash's temperature and in the share of grain that ferments little, and a level of its own for each
yeast, drawn towards what is usual in the trade as long as the batches are few (ridge regression, or the mean of a Bayesian
one with a normal prior: A. E. Hoerl & R. W. Kennard, Technometrics 12 (1970) 55). Its interval is for one more value as
read, so the readings' errors are in it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import fsum
from typing import NamedTuple

import numpy as np

from journal.balance.foresee import Foreseen
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.numerics import Estimate, Matrix, Vector, coverage_factor
from journal.numerics.robust import WIDE, reweight
from journal.reading import Batch, Malts, resolve
from journal.reading.entry import STEEP

FIGURE = "apparent_attenuation"
#: Batches of a known end that make more of it than common practice.
FEWEST_ENDED = 5
#: The latest batches that are looked back on.
LOOK_BACK_ON_BEERS = 60
#: What beers attenuate to: level, and its standard deviation (common practice).
USUAL, USUAL_SD = 0.75, 0.06
#: Per K of the mash's temperature, and per share of the grist that ferments little (common practice), and how far a brewery
#: may be from that.
_SLOPES = np.array([-0.010, -0.30])
_SLOPE_SDS = np.array([0.010, 0.30])
#: Standard deviation between yeasts, and of one yeast's batches about the line (common practice).
_YEAST_SD, _SCATTER = 0.035, 0.02
#: How many batches the usual scatter counts for.
_SCATTER_COUNTS = 4.0
#: The middle of the mashes that the usual level is of, degC.
_MIDDLE = 66.5
#: Days that the gravity must have been level for the last one to be an end, where the beer was not packaged.
_LEVEL_FOR = 2.0
#: The search ends when the scatter moves by less than this share of itself, or after so many rounds.
_SETTLED, _ROUNDS = 0.01, 8
#: What joins the malt's extract before the gravity is read, and how much of its weight malt gives (common practice).
_ADDED = ("mash_added_extract", "kettle_early_extract", "kettle_added_extract", "fermenter_added_extract")
_EXTRACT_OF_MALT = 0.8
#: Kinds whose extract hardly ferments, for they were stewed or roasted.
SPARSELY_FERMENTING = frozenset(
    {"amber malt", "brown malt", "caramel malt", "chocolate malt", "black malt", "roasted barley"}
)


@dataclass(frozen=True)
class AttenuatedBrew:
    """One batch as its attenuation is learnt from: mash temperature, degC, and share that ferments little, where known.

    `attenuation` is the apparent one, a fraction; None of a batch that has not come to its end.
    """

    temperature: float | None
    sparse: float | None
    yeast: str
    attenuation: float | None


def has_ended(batch: Batch, figures: BatchFigures) -> bool:
    """Whether the last gravity is the beer's end: it was packaged, or the gravity has been level for two days."""
    package = batch.package
    level = figures.get("gravity_level_for")
    return bool(package.on or package.volume) or (level is not None and level.value >= _LEVEL_FOR)


def _sparse(batch: Batch, figures: BatchFigures, malts: Malts) -> float | None:
    """The share by weight that ferments little, of the grain and of what brought extract beside it."""
    added = [figures.get(name) for name in _ADDED]
    if None in added:
        return None
    whole, sparse = fsum(each.value for each in added if each) / _EXTRACT_OF_MALT, 0.0
    for index, grain in enumerate(batch.grains):
        if grain.weight is None:
            return None
        whole += grain.weight.value
        kind = resolve(grain, f"grains[{index}]", malts).kind
        sparse += grain.weight.value if kind in SPARSELY_FERMENTING else 0.0
    return sparse / whole if whole > 0.0 else None


def brew_of(batch: Batch, figures: Mapping[str, BatchFigures], malts: Malts) -> AttenuatedBrew:
    """A batch as its attenuation is learnt from, or foreseen by.

    A part has the grist of its brew, and its yeast where it has none of its own. What is steeped in is no mash, at whatever
    temperature.
    """
    whole = batch.relatives.whole or batch
    own = figures[batch.id]
    warm, found = own.get("mash_temperature"), own.get(FIGURE)
    yeast = (batch.fermenter.yeast.strain or whole.fermenter.yeast.strain or "").casefold()
    known = found is not None and has_ended(batch, own)
    steeped = whole.lauter.method == STEEP
    return AttenuatedBrew(
        warm.value if warm and not steeped else None,
        _sparse(whole, figures[whole.id], malts),
        yeast,
        found.value if found and known else None,
    )


def _rows(brews: Sequence[AttenuatedBrew], yeasts: Mapping[str, int]) -> Matrix:
    """What each brew takes of each effect: of the level, both slopes and its yeast."""
    rows = np.zeros((len(brews), 3 + len(yeasts)))
    rows[:, 0] = 1.0
    rows[:, 1] = [0.0 if brew.temperature is None else brew.temperature - _MIDDLE for brew in brews]
    rows[:, 2] = [brew.sparse or 0.0 for brew in brews]
    rows[np.arange(len(brews)), [3 + yeasts[brew.yeast] for brew in brews]] = 1.0
    return rows


def expected_attenuation(brew: AttenuatedBrew, earlier: Sequence[AttenuatedBrew]) -> Foreseen:
    """What a brew is likely to attenuate to; `earlier` are those of the brewhouse before its day, the latest last.

    Below FEWEST_ENDED of a known end it is common practice, with `batches` 0. Of what is not recorded the middle is taken.
    """
    past = [each for each in earlier if each.attenuation is not None][-LOOK_BACK_ON_BEERS:]
    if len(past) < FEWEST_ENDED:
        past = []
    yeasts = {name: place for place, name in enumerate(dict.fromkeys([brew.yeast, *(each.yeast for each in past)]))}
    usual, usual_sd = _usual(len(yeasts))
    rows = _rows(past, yeasts)
    values = np.array([each.attenuation for each in past], dtype=float)
    own = _rows([brew], yeasts)[0]
    effects, covariance, scatter, _ = _learn(rows, values, usual, usual_sd)
    value = float(own @ effects)
    if not past:
        # a level that is usual in the trade has the yeasts and mashes of the trade in it
        return _foresee(value, USUAL_SD, USUAL_SD, np.inf, 0)
    sd = float(own @ covariance @ own) ** 0.5
    return _foresee(value, (sd**2 + scatter**2) ** 0.5, sd, _SCATTER_COUNTS + len(past), len(past))


def explained_attenuations(brews: Sequence[AttenuatedBrew]) -> list[Estimate]:
    """What yeast and grist make of each brew's attenuation, by the record as a whole, so that what is left is the practice's.

    The mash's temperature is in the regression, so that a yeast isn't credited with what its mashes did, and not in what is
    explained. Each uncertainty is that of a brew's difference from the mean one: an error that all share tells nothing.
    """
    known = [brew for brew in brews if brew.attenuation is not None]
    yeasts = {name: place for place, name in enumerate(dict.fromkeys(brew.yeast for brew in brews))}
    usual, usual_sd = _usual(len(yeasts))
    rows = _rows(known, yeasts)
    found = _learn(rows, np.array([brew.attenuation for brew in known], dtype=float), usual, usual_sd)
    apart = _rows([replace(brew, temperature=None) for brew in brews], yeasts)
    away = apart - apart.mean(axis=0, keepdims=True) if len(brews) else apart
    sds = np.sqrt(np.sum((away @ found.covariance) * away, axis=1))
    return [Estimate(float(value), float(sd)) for value, sd in zip(apart @ found.effects, sds, strict=True)]


def _usual(yeasts: int) -> tuple[Vector, Vector]:
    """What is usual in the trade of each effect, and how far a brewery may be from it."""
    return (
        np.concatenate([[USUAL], _SLOPES, np.zeros(yeasts)]),
        np.concatenate([[USUAL_SD], _SLOPE_SDS, np.full(yeasts, _YEAST_SD)]),
    )


def _foresee(value: float, spread: float, sd: float, degrees_of_freedom: float, batches: int) -> Foreseen:
    half_width = coverage_factor(degrees_of_freedom) * spread
    return Foreseen(value, value - half_width, value + half_width, sd, batches)


class _Effects(NamedTuple):
    """Effects, n, their covariance, n × n, the scatter about them and how far each of the m batches lies from them."""

    effects: Vector
    covariance: Matrix
    scatter: float
    left: Vector


def _learn(rows: Matrix, values: Vector, usual: Vector, usual_sd: Vector) -> _Effects:
    """What m batches, `rows` m × n and their `values`, make of n effects; odd ones are held to the weight of ordinary ones."""
    prior = np.diag(usual_sd**-2.0)

    def solve(weights: Vector, before: _Effects) -> _Effects:
        weighed = rows * weights[:, None] / before.scatter**2
        covariance = np.linalg.inv(rows.T @ weighed + prior)
        effects = usual + covariance @ (weighed.T @ (values - rows @ usual))
        left = values - rows @ effects
        # what the effects took up of the batches' freedom
        taken = float(np.trace(covariance @ rows.T @ weighed))
        held = float(np.sum(weights * left**2))
        freedom = max(len(values) - taken, 0.0) + _SCATTER_COUNTS
        scatter = ((held + _SCATTER_COUNTS * _SCATTER**2) / freedom) ** 0.5
        return _Effects(effects, covariance, scatter, left)

    found, _ = reweight(
        _Effects(usual, np.diag(usual_sd**2), _SCATTER, np.zeros(len(values))),
        away=lambda found: found.left / found.scatter,
        solve=solve,
        bend=WIDE,
        rounds=_ROUNDS if len(values) else 0,
        settled=lambda before, now: abs(now.scatter - before.scatter) < _SETTLED * before.scatter,
    )
    return found
