"""A brewed batch with something otherwise, held against itself as it was brewed.

The batch's own balance has what the brewhouse did that day, with how well it is known. The same day is gone through once more with
other liquor, grist, boil or vessels, so that what nobody knows of the day is unknown in the same sense on both sides and hardly matters
for the difference. What a factor does to the mash or to the run-off nobody can work out; where the record is clear about it that is
added, else it is said to be unknown.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from journal.balance import BROKEN, Balance
from journal.balance.equations import build_model
from journal.balance.foresee import ON_THE_DAY, coverage_factor_of
from journal.balance.model import BalanceModel, Solution
from journal.balance.priors import ABSORPTION_TO_WATER_HELD
from journal.balance.quantities import quantity_of
from journal.balance.vessels import WATER, BrewState, Facts, vessels, water_in_mash
from journal.figures import CATALOGUE, BatchFigures, figures_of
from journal.figures.mash_shared import worts_of
from journal.frozen import dataclass
from journal.history.levers import LeverResult
from journal.history.settings import lot_shares, settings_of
from journal.history.what_if.answer import UNKNOWN, ChangedField, OutcomeChange, RestsOn, WhatIf
from journal.history.what_if.by_record import FactorEffect, FactorWord, changed_factors
from journal.measures.wording import METRIC, show
from journal.numerics import Matrix, Vector, jacobian, variances
from journal.problems import in_words
from journal.reading import Batch, Journal
from journal.reading.entry import STEEP
from journal.reading.otherwise import CantBe, Otherwise

#: Results, in the order in which they are told.
OUTCOMES = (
    "original_gravity",
    "fermenter_volume",
    "conversion_efficiency",
    "lauter_efficiency",
    "mash_efficiency",
    "brewhouse_efficiency",
)
#: By the field of brewery.yaml, what the brewhouse does: the balance's unknown, and what is to be added to the written value.
VESSEL_FIELDS = {
    "brewhouse.mash_tun.dead_space": ("dead_space", 0.0),
    "brewhouse.kettle.loss": ("kettle_loss", 0.0),
    "brewhouse.boil_off": ("boil_off", 0.0),
    "brewhouse.absorption": ("water_held", ABSORPTION_TO_WATER_HELD),
}
#: A difference below this is none, in any unit.
_SAME = 1e-9
_NOWHERE = "it is so already, or the wort does not go by it; change liquor, grist, boil, vessels or a factor"
_INPUTS = frozenset(
    {
        "mash_liquor",
        "sparge_liquor",
        "top_up",
        "fermenter_top_up",
        "kettle_sugar",
        "fermenter_sugar",
        "mash_sugar",
        "early_sugar",
    }
)


@dataclass(frozen=True)
class VesselChange:
    """A vessel that is otherwise: a field of VESSEL_FIELDS, a number in the unit that is kept, and whether that is to be added to what
    it does.
    """

    change: Otherwise
    value: float
    relative: bool


@dataclass(frozen=True)
class BrewedDay:
    """A batch as it was brewed: its figures, its balance, the journal it stands in, and what the factors do by figure."""

    batch: Batch
    figures: BatchFigures
    balance: Balance
    journal: Journal
    results: Mapping[str, Sequence[LeverResult]]

    @property
    def system(self) -> str:
        """The units that the brewery sees."""
        return self.journal.brewery.units or METRIC


@dataclass(frozen=True)
class _Inputs:
    """What goes into a batch, by name, and its facts."""

    values: Mapping[str, float]
    facts: Facts


def _why_not_held(day: BrewedDay) -> CantBe | None:
    """Why nothing can be held against a batch, whatever is asked; None where it can."""
    if day.balance.verdict.status == BROKEN:
        return CantBe(
            f"the readings of batch {day.batch.id} contradict one another, so nothing can be held against it."
        )
    if day.batch.shares_mash:
        return CantBe(
            f"batch {day.batch.id} shares its mash with {in_words([w.id for w in worts_of(day.batch) if w.id != day.batch.id])}, and "
            "no reading says how much of it was whose; ask for a batch that had a mash to itself."
        )
    if day.batch.lauter.method == STEEP:
        return CantBe(
            f"batch {day.batch.id} was steeped, and what grain gives without a mash is not known well enough to say what it "
            "would have given otherwise."
        )
    return None


def what_if(
    day: BrewedDay, steps: Sequence[tuple[Otherwise, Batch]], vessel_changes: Sequence[VesselChange]
) -> WhatIf | CantBe:
    """What a batch would have come to. `steps`: each change of the entry with the batch as it is read after it."""
    at = day.balance.solution
    if refused := _why_not_held(day):
        return refused
    start = _inputs(day.batch, day.figures, day)
    if at is None or not at.model.mashed or start is None:
        return CantBe(
            f"batch {day.batch.id} has no mash that could be worked out; `wortbook explain {day.batch.id}` says what is missing."
        )
    changes: list[ChangedField] = []
    effects: list[FactorEffect] = []
    batch, inputs = day.batch, start
    for change, after in steps:
        found = _inputs(after, figures_of(after, day.journal.brewery, day.journal.malts), day)
        if found is None:
            return CantBe(f"{change.path}={change.text}: of that grist and liquor nothing can be worked out.")
        words = list(_factors(batch, after, day))
        told = [(word.words, word.rests_on, word.why) for word in words]
        if found != inputs:
            model: RestsOn = "model"
            told.insert(0, ("water and extract", model, "worked out with this batch’s own balance"))
        if not told:
            return CantBe(f"{change.path}={change.text} makes no other wort: {_NOWHERE}.")
        changes.append(_changed(change, batch, after, told))
        effects += [effect for word in words for effect in word.effects]
        batch, inputs = after, found
    changes += [_vessel_changed(each, at, day.system) for each in vessel_changes]
    brewed = _Otherwise(at, start, inputs, tuple(vessel_changes), tuple(effects))
    fault = brewed.makes_no_wort(day.system)
    if fault:
        return fault
    known = all(basis != UNKNOWN for change in changes for _, basis, _ in change.rests_on)
    outcomes, malt = brewed.outcomes(coverage_factor_of(day.balance.priors), known=known)
    return WhatIf(day.batch.id, tuple(changes), outcomes, malt, _minutes(batch) - _minutes(day.batch))


def _inputs(batch: Batch, figures: BatchFigures, day: BrewedDay) -> _Inputs | None:
    model = build_model(batch, figures, day.balance.priors, ON_THE_DAY)
    if model is None or not model.mashed:
        return None
    return _Inputs(_named(model), model.facts)


def _named(model: BalanceModel) -> dict[str, float]:
    named = model.named(model.start)
    return {name: named.get(name, 0.0) for name in (*sorted(_INPUTS), "potential_extract")}


def _factors(before: Batch, after: Batch, day: BrewedDay) -> Iterator[FactorWord]:
    malts, brewery = day.journal.malts, day.journal.brewery
    settings = [
        settings_of(batch, figures_of(batch, brewery, malts), lot_shares(batch, malts)) for batch in (before, after)
    ]
    yield from changed_factors(settings[0], settings[1], day.results, day.system)


def _changed(change: Otherwise, before: Batch, after: Batch, told: Sequence[tuple[str, RestsOn, str]]) -> ChangedField:
    return ChangedField(change.path, before.written(change.path), after.written(change.path), tuple(told))


def _vessel_changed(change: VesselChange, at: Solution, system: str) -> ChangedField:
    habit, more = VESSEL_FIELDS[change.change.path]
    now = float(at.values([habit])[0]) - more
    after = now + change.value if change.relative else change.value
    unit = {"boil_off": "L/h", "water_held": "L/kg"}.get(habit, "L")
    shown = [str(show(number, 0.0, unit, system)) for number in (now, after)]
    rests_on: tuple[tuple[str, RestsOn, str], ...] = (
        ("water and extract", "model", "worked out with this batch’s own balance"),
    )
    return ChangedField(change.change.path, shown[0], shown[1], rests_on)


def _minutes(batch: Batch) -> float:
    """min of mash, run-off and boil, as far as they are written."""
    times = [batch.lauter.time, batch.boil.time, *(rest.time for rest in batch.mash.rests)]
    return sum(time.value for time in times if time is not None)


@dataclass(frozen=True)
class _Otherwise:
    """The day gone through once more: n unknowns of its balance, and one more for each effect of a factor."""

    at: Solution
    start: _Inputs
    end: _Inputs
    vessel_changes: tuple[VesselChange, ...]
    effects: tuple[FactorEffect, ...]

    def _as_it_was(self, states: Any) -> tuple[dict[str, Any], BrewState]:
        return self.at.model.at(states[: len(self.at.model.unknowns)])

    def _brewed(self, states: Any) -> tuple[dict[str, Any], BrewState]:
        """Unknowns and vessels with everything that is otherwise, of n unknowns or n × k."""
        count = len(self.at.model.unknowns)
        u: dict[str, Any] = dict(self.at.model.named(states[:count]))
        for name in _INPUTS:
            by = self.end.values[name] - self.start.values[name]
            if by or name in u:
                u[name] = u.get(name, 0.0) + by
        u["potential_extract"] = (
            u["potential_extract"] * self.end.values["potential_extract"] / self.start.values["potential_extract"]
        )
        for change in self.vessel_changes:
            habit, more = VESSEL_FIELDS[change.change.path]
            u[habit] = u[habit] + change.value if change.relative else change.value + more + 0.0 * u[habit]
        _, was = self._as_it_was(states)
        for effect, size in zip(self.effects, states[count:], strict=True):
            if effect.figure == "lauter_efficiency":
                u["shortfall"] = u["shortfall"] - size
            elif effect.figure == "conversion_efficiency":
                u["conversion"] = u["conversion"] + size
            else:
                # of a factor that only the whole tells of: as if all of it were dissolved less or more
                u["conversion"] = u["conversion"] * (1.0 + size * was.sheet / was.fermenter.extract)
        return u, vessels(u, self.end.facts)

    def _seen(self, states: Any) -> Any:
        """Every outcome as it was, then as it would be, then the malt; of k states m × k."""
        before, after = self._as_it_was(states), self._brewed(states)
        rows = [quantity_of(name)(*of) for of in (before, after) for name in OUTCOMES]
        efficiency = quantity_of("brewhouse_efficiency")
        # the same extract in the fermenter, of a grist as it is now
        wanted = efficiency(*before) * self.start.facts.sheet
        rows.append(wanted / (efficiency(*after) * self.end.facts.sheet / self.end.facts.grain))
        return np.stack(np.broadcast_arrays(*rows))

    @property
    def _state(self) -> Vector:
        return np.append(self.at.fit.state, [effect.effect for effect in self.effects])

    def makes_no_wort(self, system: str) -> CantBe | None:
        """Why no wort comes of it, where none does."""
        u, state = self._brewed(self._state)
        mash_water, sparge_water = water_in_mash(u, self.end.facts)
        left = str(show(state.left_water / WATER, 0.0, "L", system))
        if self.end.facts.grain <= 0.0 or state.dissolved <= 0.0:
            return CantBe("without grain there is no wort.")
        if mash_water <= state.left_water or sparge_water < 0.0:
            mash = str(show(mash_water / WATER, 0.0, "L", system))
            return CantBe(
                f"no wort would run off: there are {mash} of water in the mash, and the grain and the dead space keep {left}."
            )
        if state.kettle.water <= state.evaporated or state.knockout.water <= 0.0:
            return CantBe("no wort would be left: the boil drives off more than runs into the kettle.")
        if state.fermenter_share <= 0.0:
            return CantBe("no wort would be left: the kettle keeps all of it.")
        return None

    def outcomes(self, factor: float, *, known: bool) -> tuple[tuple[OutcomeChange, ...], OutcomeChange]:
        """Every result, and the malt for the same beer; intervals reach `factor` standard uncertainties.

        `known`: whether what every factor does is known; else all that the mash and the run-off decide rests on something unknown too.
        """
        seen, slopes = self._seen(self._state), jacobian(self._seen, self._state)
        # what may be promised of a factor is less than was found; its interval is that of what was found
        found_effects = self._seen(
            np.append(self.at.fit.state, [(effect.low + effect.high) / 2.0 for effect in self.effects])
        )
        by_model = self._seen(np.append(self.at.fit.state, [0.0] * len(self.effects)))
        covariance = self._covariance(factor)
        count = len(OUTCOMES)
        before = [*seen[:count].tolist(), self.start.facts.grain]
        sds = [*np.sqrt(variances(slopes[:count], covariance)).tolist(), 0.0]
        against = np.vstack([slopes[:count], np.zeros((1, slopes.shape[1]))])
        reach = factor * np.sqrt(variances(slopes[count:] - against, covariance))
        found = []
        for at, name in enumerate((*OUTCOMES, "grain_weight")):
            after, modelled = float(seen[count + at]), float(by_model[count + at])
            difference = after - before[at]
            rests_on: list[RestsOn] = ["model"] if abs(modelled - before[at]) > _SAME else []
            rests_on += ["record"] if abs(after - modelled) > _SAME else []
            rests_on += [UNKNOWN] if not known and name != "fermenter_volume" else []
            middle = float(found_effects[count + at]) - before[at]
            low, high = middle - float(reach[at]), middle + float(reach[at])
            unit = CATALOGUE[name].unit
            found.append(OutcomeChange(name, unit, before[at], sds[at], after, difference, low, high, tuple(rests_on)))
        return tuple(found[:-1]), found[-1]

    def _covariance(self, factor: float) -> Matrix:
        """Of the balance's unknowns, and of the effects, each with the interval that its verdict goes by."""
        own = self.at.fit.covariance
        whole = np.zeros((len(own) + len(self.effects),) * 2)
        whole[: len(own), : len(own)] = own
        for place, effect in enumerate(self.effects, start=len(own)):
            whole[place, place] = ((effect.high - effect.low) / 2.0 / factor) ** 2
        return whole
