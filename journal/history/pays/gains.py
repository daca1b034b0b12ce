"""What each change would bring, how sure that is, and what it is worth in a year."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from statistics import median

from journal.frozen import dataclass
from journal.history.levers import LeverResult, Settling
from journal.history.levers.lever import AWAY
from journal.history.levers.rows import MALT_LOT, is_number, useful_unit, word
from journal.history.pays.alter import ModelChange, thinner_mash
from journal.history.pays.answer import NextTest, PayingChange
from journal.history.pays.habitual import Habitual
from journal.history.settings import Setting, lever_of
from journal.history.words import lever_label, setting_text
from journal.numerics.slopes import variances

#: A gain below this share of the potential is none: a fifth of a point.
LEAST_GAIN = 0.002
#: So many batches in a row at the better end: that step is taken.
_TAKEN = 4
#: The factor that the run-off has a part in; and the changes of the model that change it.
THICKNESS, _OTHER_THICKNESS = "liquor_to_grist", frozenset({"thinner-mash", "equal-run-offs"})
#: Where a factor's setting stands in the entry, by its name; the brewer's own stand under `practice`.
_FIELDS = {
    "mash_ph": "mash.ph",
    "liquor_to_grist": "mash.liquor",
    "diastatic_power": "grains",
    "mash_temperature": "mash.rests",
    "mash_time": "mash.rests",
    "hulls": "grains",
    "huskless": "grains",
    "mixing": "mash.mixing",
    "stuck": "mash.stuck",
    "lauter_time": "lauter.time",
    "lauter_method": "lauter.method",
}


@dataclass(frozen=True)
class YearOfMalt:
    """kg of malt a year, what a kg costs (None where that is not known), and what share of it reaches the fermenter."""

    malt: float
    price: float | None
    into_fermenter: float

    def saved(self, gain: float) -> float:
        """kg of malt a year for the same beer at a gain."""
        return self.malt * (1.0 - self.into_fermenter / (self.into_fermenter + gain))

    def money(self, weight: float) -> float | None:
        """What so many kg cost."""
        return None if self.price is None else weight * self.price


@dataclass(frozen=True)
class FoundFactor:
    """What one study says, and how many points of the fermenter's share a point of its figure is."""

    figure: str
    results: Sequence[LeverResult]
    into_fermenter: float


def field_of(lever: str) -> str:
    """The field of the entry that a factor is set by."""
    return "crush" if lever == "crush" else _FIELDS.get(lever, f"practice.{lever}")


def by_model(
    habitual: Habitual, changes: Iterable[ModelChange], year: YearOfMalt, sheets: float
) -> Iterator[PayingChange]:
    """The changes that the balance's own model can brew, whatever they bring; those that would make no wort are left out.

    `sheets`: relative standard uncertainty of what the grists can give by their sheets.
    """
    now = habitual.mean
    for change in changes:
        try:
            then = habitual.altered(change.alteration)
        except (ArithmeticError, ValueError):
            continue
        gain = float(then.shares[-1] - now.shares[-1])
        by_habits = float(variances(then.slopes[-1:] - now.slopes[-1:], habitual.habits.covariance)[0])
        sd = math.sqrt(by_habits + (gain * sheets) ** 2)
        low, high = gain - habitual.factor * sd, gain + habitual.factor * sd
        saved = year.saved(gain)
        yield PayingChange(
            key=change.key,
            change=change.words,
            at=change.at,
            gain=gain,
            low=max(low, 0.0) if change.never_less else low,
            high=high,
            minutes=change.minutes,
            boil_off=change.boil_off,
            basis="model",
            kg_a_year=saved,
            money_a_year=year.money(saved),
        )


def by_record(
    factors: Sequence[FoundFactor],
    latest: Sequence[Mapping[str, Setting]],
    tried: Sequence[Mapping[str, Setting]],
    year: YearOfMalt,
    system: str,
) -> Iterator[PayingChange]:
    """The factors that the record is clear about, from how they mostly are set to the better end of what was tried more than by chance.

    Each once, by the first of the studies that is clear of it; the interval is that which the verdict goes by. `latest`: settings of
    the latest batches, `tried`: of all that the record was searched in.
    """
    told: set[str] = set()
    for factor in factors:
        for name in dict.fromkeys(result.lever for result in factor.results):
            clear = [result for result in factor.results if result.lever == name and result.verdict == "clear"]
            if name in told or name == MALT_LOT or not clear or not lever_of(name).asked_for:
                continue
            told.add(name)
            found = _better_end(clear, *([each[name] for each in some if name in each] for some in (latest, tried)))
            if found is None:
                continue
            result, now, setting, times = found
            ends = [(end or 0.0) * times * factor.into_fermenter for end in (result.judged_low, result.judged_high)]
            gain = (result.likely_effect or 0.0) * times * factor.into_fermenter
            saved = year.saved(gain)
            yield PayingChange(
                key=name,
                change=f"{lever_label(name)} {setting_text(name, setting, system)} instead of {setting_text(name, now, system)}",
                at=field_of(name),
                gain=gain,
                low=min(ends),
                high=max(ends),
                minutes=_minutes(name, now, setting),
                boil_off=0.0,
                basis="record",
                kg_a_year=saved,
                money_a_year=year.money(saved),
                result=result,
                now=now,
                setting=setting,
            )


def settle_thickness(
    habitual: Habitual,
    factors: Sequence[FoundFactor],
    modelled: Sequence[PayingChange],
    recorded: Sequence[PayingChange],
    year: YearOfMalt,
) -> list[PayingChange]:
    """All changes, with one answer to how thick the mash should be.

    The model knows what a thinner mash and less sparge do to the run-off, the record what thickness does besides. Where the record is
    clear of that, the model's own changes of thickness know half of it and are left out, and the factor's gain has the run-off's part
    in it. Where nothing is sparged, another thickness is another beer, and no change.
    """
    clear = any(each.lever == THICKNESS and each.verdict == "clear" for found in factors for each in found.results)
    if not clear:
        return [*modelled, *recorded]
    found = [each for each in modelled if each.key not in _OTHER_THICKNESS]
    sparged = all(u["sparge_liquor"] > 0.0 for u, _ in habitual.brewings)
    for each in recorded:
        if each.key != THICKNESS:
            found.append(each)
        elif sparged and isinstance(each.now, float) and isinstance(each.setting, float):
            run_off = habitual.brewhouse_efficiency(thinner_mash(each.setting - each.now)) - float(
                habitual.mean.shares[-1]
            )
            gain, low, high = each.gain + run_off, each.low + run_off, each.high + run_off
            saved = year.saved(gain)
            found.append(replace(each, gain=gain, low=low, high=high, kg_a_year=saved, money_a_year=year.money(saved)))
    return found


def well_set(factors: Sequence[FoundFactor], changes: Sequence[PayingChange]) -> Iterator[str]:
    """The factors that the record is clear about and that no change of would bring anything, in words."""
    results = [result for factor in factors for result in factor.results if result.verdict == "clear"]
    changed = {change.key for change in changes}
    for name in dict.fromkeys(result.lever for result in results):
        if name not in changed and name != MALT_LOT and lever_of(name).asked_for:
            yield f"{lever_label(name)} is mostly where the better batches had it"


def _minutes(name: str, now: Setting, setting: Setting) -> float:
    """What a factor that is a time of its own takes more."""
    return (
        float(setting) - float(now) if lever_of(name).unit == "min" and is_number(now) and is_number(setting) else 0.0
    )


def _better_end(
    clear: Sequence[LeverResult], latest: Sequence[Setting], tried: Sequence[Setting]
) -> tuple[LeverResult, Setting, Setting, float] | None:
    """The result that a factor's better setting goes by, how it mostly is set, that setting, and how many times its effect lies between.

    Of a number the better end is the furthest setting that several batches had or went beyond, within what is sensible: one that
    happened once is no practice. None where it is set so already, by the latest few batches at least.
    """
    if not latest:
        return None
    first = clear[0]
    if first.kind == "slope":
        now = median(float(setting) for setting in latest if is_number(setting))
        low, high = lever_of(first.lever).sensible
        numbers = sorted(min(max(float(setting), low), high) for setting in tried if is_number(setting))
        upwards = (first.effect or 0.0) > 0.0
        setting = numbers[-AWAY if upwards else AWAY - 1]
        enough = 0.5 * useful_unit(first.lever, numbers)

        def short_of(had: float) -> bool:
            return (setting - had if upwards else had - setting) > enough

        latest_had = [float(each) for each in latest if is_number(each)][-_TAKEN:]
        return (first, now, setting, setting - now) if short_of(now) and any(map(short_of, latest_had)) else None
    words = [word(setting) for setting in latest]
    mostly = max(dict.fromkeys(words), key=words.count)
    if mostly == first.reference:
        best = max(clear, key=lambda result: result.effect or 0.0)
        if set(words[-_TAKEN:]) == {best.group}:
            return None
        return best, mostly, best.group or "", 1.0
    # away from a word that goes with less, to the one that it is held against
    own = next((result for result in clear if result.group == mostly), None)
    return None if own is None else (own, mostly, own.reference or "", -1.0)


def next_test(factors: Sequence[FoundFactor], settlings: Mapping[str, Sequence[Settling]]) -> NextTest | None:
    """What the next brew should settle: of the factors that no study is clear about, the one that is worth most if it does what it
    seems to.

    `settlings`: what would tell most of each factor, by figure.
    """
    clear = {result.lever for factor in factors for result in factor.results if result.verdict == "clear"}
    tests = [
        NextTest(factor.figure, found, abs(found.effect * _between(found) * factor.into_fermenter))
        for factor in factors
        for found in settlings[factor.figure]
        if found.lever not in clear
    ]
    return max(tests, key=lambda test: test.worth, default=None)


def _between(found: Settling) -> float:
    """How many times its effect lies between a factor's setting now and the one to be tried."""
    if is_number(found.setting) and is_number(found.now):
        return float(found.setting) - float(found.now)
    return 1.0


def rank_changes(changes: Iterable[PayingChange]) -> tuple[PayingChange, ...]:
    """Those that bring anything, the one that brings most first."""
    return tuple(sorted((each for each in changes if each.gain >= LEAST_GAIN), key=lambda each: -each.gain))
