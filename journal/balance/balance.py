"""The balance of one batch, from its readings to the verdict: one way, and each module of this folder once.

priors → equations → model → verdict → suspects → slips; what only a page asks for (reconciled figures, what was foreseen,
flows) follows from the solution when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, NamedTuple

from journal.balance.equations import build_model
from journal.balance.evidence import evidence_of
from journal.balance.foresee import Foreseen, foresee
from journal.balance.model import Solution, solve
from journal.balance.priors import Priors
from journal.balance.reconciled import reconciled_figure, reconciled_figures
from journal.balance.slip import Slip
from journal.balance.slips import find_slip
from journal.balance.suspects import change_of, solve_without, suspects_of
from journal.balance.verdict import (
    BROKEN,
    CLOSES,
    NO_VERDICT,
    STRAINED,
    TOO_FEW,
    Verdict,
    accuse,
    count_alike,
    judge,
    take_as_change,
)
from journal.balance.went_in import WentInSearch
from journal.figures import BatchFigures, Result
from journal.figures.observe import observe
from journal.numerics import Estimate
from journal.numerics.least_squares import NoSolution
from journal.reading import Batch, Brewery, Malts

#: What two readings differ by says something of the readings, and reconciled it is zero by nature.
_OF_THE_READINGS = frozenset({"boil_gain"})
#: What follows from a judgement and is worth keeping with it.
FIGURES, FORESEEN = "figures", "foreseen"
KEPT_PARTS = (FIGURES, FORESEEN)
#: Recalls something by name, or makes it.
Recall = Callable[[str, Callable[[], Any]], Any]


class Flow(NamedTuple):
    """Water and extract, kg, at one place of the batch's way, as the balance has them."""

    name: str
    water: float
    extract: float


@dataclass(frozen=True)
class Judgement:
    """What is said of one batch, and all that it teaches; plain values that can be kept.

    `solution` is None where too little is recorded. Of a broken balance it is that without the suspect where one is clear,
    of one that is taken for a changed brewhouse that without what was expected. `slip` would explain a broken one;
    `near_miss` is the likeliest slip that does not, and only where no slip does.
    """

    verdict: Verdict
    solution: Solution | None = None
    slip: Slip | None = None
    near_miss: Slip | None = None
    evidence: Mapping[str, Estimate] = field(default_factory=dict)


@dataclass(frozen=True)
class Balance:
    """One batch reconciled: what was judged of it, and what follows from that, worked out when it is asked for.

    `also_foreseen` is what was foreseen by others than the balance.
    """

    judgement: Judgement
    priors: Priors
    batch: Batch = field(repr=False)
    recorded: BatchFigures = field(repr=False)
    brewery: Brewery = field(repr=False)
    malts: Malts = field(repr=False)
    also_foreseen: Mapping[str, Foreseen] = field(default_factory=dict)
    recall: Recall = field(default=lambda name, make: make(), repr=False, compare=False)

    @property
    def verdict(self) -> Verdict:
        """Whether it closes, and who is accused if not."""
        return self.judgement.verdict

    @property
    def solution(self) -> Solution | None:
        """The batch's equations with the state that fits them, residuals, slopes and covariance."""
        return self.judgement.solution

    @property
    def slip(self) -> Slip | None:
        """The slip that would explain a broken one."""
        return self.judgement.slip

    @property
    def near_miss(self) -> Slip | None:
        """The likeliest slip that does not explain it."""
        return self.judgement.near_miss

    @property
    def evidence(self) -> Mapping[str, Estimate]:
        """What the batch says of its brewhouse, by the names of `Priors`; of a broken one only where its brewer trusts it."""
        return self.judgement.evidence

    @property
    def holds(self) -> bool:
        """Whether the reconciled figures are to be shown before the recorded ones."""
        return self.verdict.status in (CLOSES, STRAINED)

    def best(self, name: str, recorded: BatchFigures) -> Result | None:
        """A figure as it is to be shown first: reconciled where the balance holds, else as recorded; None where it is absent."""
        reconciled = self.figures.get(name) if self.holds and name not in _OF_THE_READINGS else None
        return reconciled or recorded.get(name)

    @cached_property
    def figures(self) -> Mapping[str, Result]:
        """The reconciled figures; none where it is broken or could not be worked out."""
        solution = self.solution
        if solution is None or not self.holds:
            return {}
        figures: Mapping[str, Result] = self.recall(
            FIGURES,
            lambda: reconciled_figures(solution, observe(self.batch, self.brewery, self.malts), self.recorded),
        )
        return figures

    def figure(self, name: str) -> Result | None:
        """One reconciled figure, None where there is none; without the others, where they have not been asked for."""
        solution = self.solution
        if "figures" in vars(self) or solution is None or not self.holds:
            return self.figures.get(name)
        return reconciled_figure(name, solution, observe(self.batch, self.brewery, self.malts), self.recorded)

    @cached_property
    def foreseen(self) -> Mapping[str, Foreseen]:
        """What was to be expected on the eve of brewing, by figure."""
        after = self.solution if self.holds else None
        by_model = self.recall(FORESEEN, lambda: foresee(self.batch, self.recorded, self.priors, after))
        return {**by_model, **self.also_foreseen}

    @cached_property
    def flows(self) -> tuple[Flow, ...]:
        """Water and extract on their way; none where it could not be worked out."""
        return () if self.solution is None else _flows(self.solution)


def _flows(solution: Solution) -> tuple[Flow, ...]:
    u, state = solution.model.at(solution.fit.state)
    lost = u["kettle_loss"] / state.knockout.volume
    mash = (
        (
            Flow("mash", state.kettle.water + state.left_water, state.potential),
            Flow("spent grain", state.left_water, state.potential - state.kettle.extract),
        )
        if solution.model.mashed
        else ()
    )
    return (
        *mash,
        Flow("kettle", state.kettle.water, state.kettle.extract),
        Flow("steam", state.evaporated, 0.0),
        Flow("knockout", state.knockout.water, state.knockout.extract),
        Flow("left in the kettle", state.knockout.water * lost, state.knockout.extract * lost),
        Flow("fermenter", state.fermenter.water, state.fermenter.extract),
    )


def judge_batch(batch: Batch, recorded: BatchFigures, brewery: Brewery, malts: Malts, priors: Priors) -> Judgement:
    """Reconcile one batch with what is expected of its brewhouse; never raises for what the readings say."""
    untrusted = frozenset(path for path, trusted in batch.trust.items() if not trusted)
    model = build_model(batch, recorded, priors, untrusted)
    if model is None:
        return Judgement(NO_VERDICT)
    try:
        whole = solve(model)
    except NoSolution:
        return Judgement(NO_VERDICT)
    verdict = judge(whole)
    if verdict.status == TOO_FEW:
        return Judgement(NO_VERDICT)
    if verdict.status != BROKEN:
        return _teach(Judgement(verdict, whole))
    return _explain(verdict, whole, WentInSearch(whole, batch, recorded, priors, brewery, malts))


def _explain(verdict: Verdict, whole: Solution, search: WentInSearch) -> Judgement:
    """A broken balance: the slip that would explain it, else the change of the brewhouse that would, else its suspects."""
    suspects, without = suspects_of(whole)
    best = without if count_alike(suspects) == 1 else whole
    verdict = accuse(verdict, whole, suspects, best)
    went_in = search.best(suspects[0].chi_square) if suspects else None
    slip, near_miss = (went_in, None) if went_in else find_slip(search.batch, search.brewery, verdict)
    if slip is None:
        changed = change_of(whole, suspects[0].chi_square if suspects else verdict.chi_square)
        if changed is not None:
            changed, given_up = solve_without(whole, changed)
            return _teach(Judgement(take_as_change(verdict, whole, changed, given_up), given_up))
    broken = Judgement(verdict, best, slip, near_miss)
    return _teach(broken) if search.batch.trust.get("balance") else broken


def _teach(judgement: Judgement) -> Judgement:
    solution = judgement.solution
    if solution is None:
        return judgement
    # the record asks for these slopes, and they are kept with the rest
    _ = solution.rises
    return replace(judgement, evidence=evidence_of(solution))


def balance_of(batch: Batch, recorded: BatchFigures, brewery: Brewery, malts: Malts, priors: Priors) -> Balance:
    """The balance of one batch with what is expected of its brewhouse; never raises for what the readings say."""
    judgement = judge_batch(batch, recorded, brewery, malts, priors)
    return Balance(judgement, priors, batch, recorded, brewery, malts)
