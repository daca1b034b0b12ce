"""Every lever's effect with its interval, and whether the record is clear about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from typing import Literal

import numpy as np

from journal.frozen import dataclass
from journal.history.levers.design import Design, design
from journal.history.levers.fit import LeverFit, fit
from journal.history.levers.lever import Lever, levers_of, main_lots, settled_batches
from journal.history.levers.rows import MALT_LOT, Row, lot_matrix
from journal.numerics import Matrix, Vector, coverage_factor
from journal.numerics.distributions import LEVEL, stdtr

Kind = Literal["slope", "groups"]
Verdict = Literal["clear", "not clear", "too little variation", "too few batches"]

#: Batches in which a lever must be recorded.
FEWEST_RECORDED = 8


@dataclass(frozen=True)
class LeverResult:
    """What the record says of one lever, or of one of its words against the commonest one.

    `effect`, `low`, `high`: change of the figure (a fraction) per unit of the lever, or from `reference` to `group`, with
    its interval at LEVEL; `sd` its standard error with `freedom` degrees of freedom; `p_value` as it stands,
    `adjusted_p` for all that was looked at. All of these are absent without a regression. An association, not a cause.
    `batches`: with the lever recorded; `lowest`, `highest`: the numbers tried; `inner_lowest`, `inner_highest`: those but
    for the outermost brew on each side, over which an effect is told, for one brew far out would stretch it.
    `tangled_with`: levers that changed together
    with it; `apart`: the record tells it from all of these. `judged_low`, `judged_high`: the interval that the verdict goes by, wider
    for all that was looked at: the verdict is clear where it leaves zero out and the record tells the lever apart. `spread`:
    standard deviation between batches that neither their own uncertainty nor any lever of this regression explains.
    """

    lever: str
    kind: Kind
    unit: str
    batches: int
    verdict: Verdict
    group: str | None = None
    reference: str | None = None
    lowest: float | None = None
    highest: float | None = None
    inner_lowest: float | None = None
    inner_highest: float | None = None
    effect: float | None = None
    low: float | None = None
    high: float | None = None
    sd: float | None = None
    degrees_of_freedom: float | None = None
    p_value: float | None = None
    adjusted_p: float | None = None
    judged_low: float | None = None
    judged_high: float | None = None
    tangled_with: tuple[str, ...] = ()
    apart: bool = True
    adjusted_for: tuple[str, ...] = ()
    spread: float | None = None

    @property
    def likely_effect(self) -> float | None:
        """The effect as it may be promised: one that was picked for being clear owes some of its size to chance.

        Drawn towards none by the share that its error is of its square, never past it (the positive part of Stein's estimate;
        B. Efron & C. Morris, J. Am. Stat. Assoc. 68 (1973) 117). None without a regression.
        """
        if not self.effect or self.sd is None:
            return self.effect
        return self.effect * max(1.0 - (self.sd / self.effect) ** 2, 0.0)


@dataclass(frozen=True)
class Prepared:
    """The rows made ready once for all levers; values and uncertainties of the b batches, lots' `shares`, b × l."""

    rows: tuple[Row, ...]
    levers: Mapping[str, Lever]
    main_lot: Lever
    lots: tuple[str, ...]
    shares: Matrix
    values: Vector
    sds: Vector
    lot_sd: float
    _regressions: dict[str, tuple[Design, LeverFit]] = field(default_factory=dict, repr=False, compare=False)

    def regression(self, lever: str) -> tuple[Design, LeverFit]:
        """The regression for a lever and what it found, reckoned once."""
        if lever not in self._regressions:
            plan = design(self.levers[lever], self.levers, self.main_lot)
            self._regressions[lever] = plan, self._fit(plan)
        return self._regressions[lever]

    def chance_lots(self, plan: Design) -> list[int]:
        """The lots, by column of `shares`, whose error is chance in a regression."""
        used = plan.batches @ self.shares > 0.0
        return [index for index, lot in enumerate(self.lots) if used[index] and lot not in plan.fixed_lots]

    def _fit(self, plan: Design) -> LeverFit:
        at = plan.batches
        shares = self.shares[at][:, self.chance_lots(plan)]
        return fit(plan.columns, self.values[at], self.sds[at], shares, self.lot_sd)


def prepare(rows: Sequence[Row], lot_sd: float) -> Prepared:
    """Make rows ready; `lot_sd` is the standard uncertainty of a lot's sheet, as a fraction of its extract."""
    levers, lots = levers_of(rows), main_lots(rows)
    names, shares = lot_matrix(rows)
    values, sds = np.array([row.value for row in rows]), np.array([row.sd for row in rows])
    main = lots if lots.groups else levers.get(MALT_LOT, lots)
    return Prepared(tuple(rows), levers, main, names, shares, values, sds, lot_sd)


def measure(ready: Prepared, units: Mapping[str, str]) -> list[LeverResult]:
    """Every lever's association with the value, adjusted for the others as far as the record allows, and not judged yet.

    `units`: unit of each lever's effect.
    A lever needs eight batches, three of them away from its commonest setting, and a useful range.
    """
    return [result for name in ready.levers for result in _study_lever(ready, name, units.get(name, ""))]


def judge(studies: Sequence[Sequence[LeverResult]]) -> list[list[LeverResult]]:
    """The results of each study with their verdicts, for all that was looked at together.

    Having looked at many levers in several figures, chance finds one: the p-values are adjusted by Holm's procedure over every lever
    in every figure, a lever of several words sharing one lever's weight among them (S. Holm, Scand. J. Statist. 6 (1979) 65).
    `clear` is an adjusted p below 1 - LEVEL, that is: with no lever doing anything, at most one record in ten calls any of them
    clear in any figure. A lever that changed together with another is clear only if it is with the other in the regression.
    """
    looked_at = [
        (f"{place}/{result.lever}", result.p_value)
        for place, results in enumerate(studies)
        for result in results
        if result.p_value is not None
    ]
    shares, limit = iter(holm_shares(looked_at)), 1.0 - LEVEL
    return [
        [result if result.p_value is None else _judge(result, next(shares), limit) for result in results]
        for results in studies
    ]


def spread_between(ready: Prepared, results: Sequence[LeverResult]) -> float:
    """Standard deviation between batches, a fraction, that neither their own uncertainties nor lots nor levers explain.

    The middle of what the regressions of `results` found; where there is none, what is seen about the mean of two or more
    rows; 0 of fewer.
    """
    found = [result.spread for result in results if result.spread is not None]
    if found:
        return float(np.median(found))
    if len(ready.rows) < 2:
        return 0.0
    return fit(np.ones((len(ready.rows), 1)), ready.values, ready.sds, ready.shares, ready.lot_sd).spread


def _study_lever(ready: Prepared, name: str, unit: str) -> list[LeverResult]:
    lever = ready.levers[name]
    known = settled_batches(lever, np.ones_like(lever.recorded))
    count = int(np.sum(lever.recorded))
    kind: Kind = "groups" if lever.numbers is None else "slope"
    bare = LeverResult(name, kind, unit, count, "too little variation")
    if lever.numbers is not None and count > 0:
        tried = lever.numbers[lever.recorded]
        inner = np.sort(tried)[1:-1] if count >= FEWEST_RECORDED else tried
        bare = replace(
            bare,
            lowest=float(np.min(tried)),
            highest=float(np.max(tried)),
            inner_lowest=float(np.min(inner)),
            inner_highest=float(np.max(inner)),
        )
    if count < FEWEST_RECORDED:
        return [replace(bare, verdict="too few batches")]
    if not lever.varies(lever.recorded) or int(np.sum(known)) < FEWEST_RECORDED:
        return [bare]
    plan, found = ready.regression(name)
    return [*_measure(bare, plan, found), *_rare(bare, plan)]


def _measure(bare: LeverResult, plan: Design, found: LeverFit) -> list[LeverResult]:
    """A result for each column of a lever."""
    factor = coverage_factor(found.degrees_of_freedom)
    results = []
    for at, group in enumerate(plan.own.groups):
        effect, sd = float(found.effects[at + 1]), float(found.covariance[at + 1, at + 1]) ** 0.5
        results.append(
            replace(
                bare,
                verdict="not clear",
                group=group,
                reference=plan.own.reference,
                effect=effect,
                low=effect - factor * sd,
                high=effect + factor * sd,
                sd=sd,
                degrees_of_freedom=found.degrees_of_freedom,
                p_value=float(2.0 * stdtr(found.degrees_of_freedom, -abs(effect) / sd)),
                tangled_with=plan.tangled[at],
                apart=plan.apart[at],
                adjusted_for=plan.adjusted_for,
                spread=found.spread,
            )
        )
    return results


def _rare(bare: LeverResult, plan: Design) -> list[LeverResult]:
    """A result for each word that was tried too rarely."""
    spoken_of = {plan.own.reference, *plan.own.groups}
    return [
        replace(bare, group=group, reference=plan.own.reference)
        for group in plan.lever.groups
        if group not in spoken_of
    ]


def count_looked_at(studies: Sequence[Sequence[LeverResult]]) -> int:
    """How many levers were looked at, each figure by itself: what a verdict has to stand out from."""
    return sum(len({result.lever for result in results if result.p_value is not None}) for results in studies)


def _judge(result: LeverResult, share: float, limit: float) -> LeverResult:
    effect, sd, p_value = result.effect or 0.0, result.sd or 0.0, result.p_value or 0.0
    adjusted_p = min(p_value / share, 1.0)
    half_width = sd * coverage_factor(result.degrees_of_freedom or 1.0, 1.0 - limit * share)
    return replace(
        result,
        adjusted_p=adjusted_p,
        judged_low=effect - half_width,
        judged_high=effect + half_width,
        verdict="clear" if adjusted_p < limit and result.apart else "not clear",
    )


def holm_shares(looked_at: Sequence[tuple[str, float]]) -> list[float]:
    """What part of the risk of a false alarm each p-value is held to: it is clear at a risk if it lies below that share of it."""
    shares: dict[str, int] = {}
    for lever, _ in looked_at:
        shares[lever] = shares.get(lever, 0) + 1
    weights = [1.0 / shares[lever] for lever, _ in looked_at]
    order = sorted(range(len(looked_at)), key=lambda index: looked_at[index][1] / weights[index])
    left, worst, found = float(len(shares)), 0.0, [1.0] * len(looked_at)
    for index in order:
        p_value = looked_at[index][1]
        worst = max(worst, left * p_value / weights[index])
        found[index] = p_value / worst if worst > 0.0 else weights[index] / left
        left -= weights[index]
    return found
