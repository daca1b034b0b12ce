"""Which single change on the next brew would tell most."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from journal.frozen import dataclass
from journal.history.levers.design import Design
from journal.history.levers.fit import LeverFit
from journal.history.levers.lever import Lever
from journal.history.levers.rows import Row, word
from journal.history.levers.study import LeverResult, Prepared
from journal.history.settings import Setting, lever_of
from journal.numerics import Vector
from journal.numerics.distributions import LEVEL, coverage_factor

#: Brews ahead that are looked at.
FURTHEST = 20


@dataclass(frozen=True)
class Settling:
    """One change of one lever, everything else left as in the batch `after`: from `now` to `setting`.

    `effect` per `unit` of the lever (of `group` against `reference` for words), its standard error now, absent where the
    record can't tell the lever from others at all, and then. `brews` like it that would make the verdict clear if the
    effect is what it seems; absent beyond twenty.
    """

    lever: str
    unit: str
    group: str | None
    reference: str | None
    after: str
    now: Setting
    setting: Setting
    effect: float
    sd_now: float | None
    sd_then: float
    brews: int | None


@dataclass(frozen=True)
class _Candidate:
    """A setting put to the test: the lever's standard error after a number of brews with it."""

    result: LeverResult
    after: Row
    setting: Setting
    errors: Vector  # after 0, 1, … brews

    @property
    def gain(self) -> float:
        """By how much the effect, in standard errors, grows with the first brew."""
        size = abs(self.result.effect or 0.0)
        return float(size / self.errors[1] - size / self.errors[0])


def settle_each(ready: Prepared, results: Sequence[LeverResult], looked_at: int) -> tuple[Settling, ...]:
    """For every lever that isn't clear yet the change that would tell most about it, the one that tells most of all first.

    `results`: judged, of the same record, among `looked_at` levers and figures in all. Settings are the lowest and the highest that a
    brewer may be asked for (`_within`), or a word and the one it is held against; levers that are not `asked_for` are left out. The best
    is the one that brings the effect furthest from nothing, counted in its own standard errors: it shrinks the error most for the size
    of the effect.
    """
    limit = (1.0 - LEVEL) / max(looked_at, 1)
    unclear = [result for result in results if result.verdict == "not clear" and lever_of(result.lever).asked_for]
    found: list[_Candidate] = []
    for name in dict.fromkeys(result.lever for result in unclear):
        plan, fitted = ready.regression(name)
        candidates = [
            candidate
            for result in unclear
            if result.lever == name
            for candidate in _candidates(ready, plan, fitted, result)
        ]
        best = max(candidates, key=lambda each: each.gain, default=None)
        if best is not None and best.gain > 0.0:
            found.append(best)
    return tuple(_settling(each, limit) for each in sorted(found, key=lambda each: -each.gain))


def _settling(best: _Candidate, limit: float) -> Settling:
    result = best.result
    effect, degrees_of_freedom = result.effect or 0.0, result.degrees_of_freedom or 1.0
    clear = (
        brews
        for brews in range(1, FURTHEST + 1)
        if abs(effect) > coverage_factor(degrees_of_freedom + brews, 1.0 - limit) * best.errors[brews]
    )
    return Settling(
        result.lever,
        result.unit,
        result.group,
        result.reference,
        best.after.batch,
        best.after.settings[result.lever],
        best.setting,
        effect,
        float(best.errors[0]) if np.isfinite(best.errors[0]) else None,
        float(best.errors[1]),
        next(clear, None),
    )


def _candidates(ready: Prepared, plan: Design, found: LeverFit, result: LeverResult) -> Iterator[_Candidate]:
    last = int(np.flatnonzero(plan.batches)[-1])
    after, lever = ready.rows[last], plan.lever
    now = after.settings[lever.name]
    for setting in _settings(ready.rows, lever, after, result):
        if _like(lever, now, setting):
            continue
        if result.apart:
            yield _Candidate(result, after, setting, _errors(ready, plan, found, result, now, setting))
        elif lever.numbers is not None or word(now) in (result.group, result.reference):
            yield _Candidate(result, after, setting, _errors_alone(ready.rows, plan, found, after, setting))


def _settings(rows: Sequence[Row], lever: Lever, after: Row, result: LeverResult) -> list[Setting]:
    if result.kind != "slope":
        return [setting for setting in (result.group, result.reference) if setting is not None]
    tried = [each for each in (result.lowest, result.highest) if each is not None]
    return [_within(rows, lever, after, each) for each in tried]


def _within(rows: Sequence[Row], lever: Lever, after: Row, tried: float) -> float:
    """The nearest to a setting tried that may be asked of the brew `after` another.

    That is: what is `sensible` of the lever, or the other's own setting beyond it; no further than a useful step from what was brewed
    with the same way of lautering, for a bag is mashed thinner and milled finer than a bed; and never what the vessels have no room for.
    """
    now = float(after.settings[lever.name])
    alike = [
        float(row.settings[lever.name]) for row in rows if lever.name in row.settings and row.method == after.method
    ]
    low, high = lever_of(lever.name).sensible
    low = max(min(low, now), min(alike) - lever.unit)
    high = min(max(high, now), max(alike) + lever.unit, max(after.most.get(lever.name, math.inf), now))
    return min(max(tried, low), high)


def _like(lever: Lever, one: Setting, other: Setting) -> bool:
    """Whether two settings of a lever are as good as the same."""
    if lever.numbers is None:
        return word(one) == word(other)
    return abs(float(one) - float(other)) < 0.5 * lever.unit


def _errors(
    ready: Prepared, plan: Design, found: LeverFit, result: LeverResult, now: Setting, setting: Setting
) -> Vector:
    """Standard errors of a lever's effect after 0, 1, … brews like the last one but for its setting."""
    last = int(np.flatnonzero(plan.batches)[-1])
    row = np.concatenate([plan.columns[-1], ready.shares[last, ready.chance_lots(plan)][: len(found.lots)]])
    own = slice(1, 1 + len(plan.own.groups))
    at = 1 + plan.own.groups.index(result.group)
    row[own] += _coordinates(plan, setting) - _coordinates(plan, now)
    carried = found.joint @ row
    brews = np.arange(FURTHEST + 1)
    variance = float(np.median(found.variance))
    left = found.joint[at, at] - brews * carried[at] ** 2 / (variance + brews * float(row @ carried))
    error: Vector = np.sqrt(np.maximum(left, 0.0))
    return error


def _coordinates(plan: Design, setting: Setting) -> Vector:
    """A setting as the lever's columns have it, before they were centred."""
    return np.array([float(setting) if group is None else float(word(setting) == group) for group in plan.own.groups])


def _errors_alone(rows: Sequence[Row], plan: Design, found: LeverFit, after: Row, setting: Setting) -> Vector:
    """The same for a lever that always changed with others: only brews that change it alone count.

    They are held against the batches brewed as the last one was.
    """
    lever = plan.lever
    now = after.settings[lever.name]
    step = 1.0 if lever.numbers is None else abs(float(setting) - float(now))
    like = sum(_like(lever, row.settings[lever.name], now) for row in rows if lever.name in row.settings)
    variance = float(np.median(found.variance))
    brews = np.arange(1, FURTHEST + 1)
    errors: Vector = np.append(np.inf, np.sqrt(variance / brews + variance / like) / step)
    return errors
