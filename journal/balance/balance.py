"""The balance of one batch: everything the pages, the data file and the next batch want to know of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import NamedTuple

from journal.balance.evidence import evidence_of
from journal.balance.foresee import Foreseen, foresee
from journal.balance.model import Model, vessels
from journal.balance.own import LinearBalance, linear_balance
from journal.balance.priors import Priors
from journal.balance.reconciled import reconciled_figures
from journal.balance.slips import Slip, find_slip
from journal.balance.verdict import BROKEN, CLOSES, STRAINED, Verdict, as_change, judge
from journal.figures import BatchFigures, Result
from journal.figures.observe import observe
from journal.numerics import Estimate
from journal.numerics.least_squares import Fit
from journal.reading import Batch, Brewery, Malts

#: What two readings differ by says something of the readings, and reconciled it is zero by nature.
_OF_THE_READINGS = frozenset({"boil_gain"})


class Flow(NamedTuple):
    """Water and extract, kg, at one place of the batch's way, as the balance has them."""

    name: str
    water: float
    extract: float


@dataclass(frozen=True)
class Balance:
    """One batch reconciled. `figures` are empty where it is broken or could not be worked out, `flows` where it could not
    be.

    `linear` is what it takes to work it out again, of a broken one too; `foreseen` is what was to be expected on the eve of
    brewing; `slip` would explain a broken one; `near_miss` is the likeliest slip that does not, and only where no slip does.
    """

    verdict: Verdict
    figures: dict[str, Result]
    slip: Slip | None
    near_miss: Slip | None
    evidence: dict[str, Estimate]
    flows: tuple[Flow, ...]
    priors: Priors
    foreseen: dict[str, Foreseen]
    linear: LinearBalance | None = field(default=None, repr=False)

    @property
    def holds(self) -> bool:
        """Whether the reconciled figures are to be shown before the recorded ones."""
        return self.verdict.status in (CLOSES, STRAINED)

    def best(self, name: str, recorded: BatchFigures) -> Result | None:
        """A figure as it is to be shown first: reconciled where the balance holds, else as recorded; None where it is absent."""
        reconciled = self.figures.get(name) if self.holds and name not in _OF_THE_READINGS else None
        return reconciled or recorded.get(name)


def _flows(model: Model, found: Fit) -> tuple[Flow, ...]:
    named = model.named(found.state)
    state = vessels(named, model.facts)
    lost = named["kettle_loss"] / state.knockout.volume
    mash = (
        ()
        if "water_held" not in named
        else (
            Flow("mash", state.kettle.water + state.left_water, state.potential),
            Flow("spent grain", state.left_water, state.potential - state.kettle.extract),
        )
    )
    return (
        *mash,
        Flow("kettle", state.kettle.water, state.kettle.extract),
        Flow("steam", state.evaporated, 0.0),
        Flow("knockout", state.knockout.water, state.knockout.extract),
        Flow("left in the kettle", state.knockout.water * lost, state.knockout.extract * lost),
        Flow("fermenter", state.fermenter.water, state.fermenter.extract),
    )


def balance_of(batch: Batch, recorded: BatchFigures, brewery: Brewery, malts: Malts, priors: Priors) -> Balance:
    """Reconcile one batch with what is expected of its brewhouse; never raises for what the readings say."""
    verdict, model, found = judge(batch, recorded, priors)
    if model is None or found is None:
        return Balance(verdict, {}, None, None, {}, (), priors, foresee(batch, recorded, priors, None))
    if verdict.status == BROKEN:
        slip, near_miss = find_slip(batch, recorded, priors, brewery, malts, verdict)
        change = verdict.possible_change
        if slip is None and change is not None:
            return _holding(
                batch, recorded, brewery, malts, priors, _Judged(as_change(verdict, change), change.model, change.fit)
            )
        verdict = replace(verdict, possible_change=None)
        taught = evidence_of(model, found) if batch.trust.get("balance") else {}
        return Balance(
            verdict,
            {},
            slip,
            near_miss,
            taught,
            _flows(model, found),
            priors,
            foresee(batch, recorded, priors, None),
            linear_balance(model, found, recorded),
        )
    return _holding(batch, recorded, brewery, malts, priors, _Judged(verdict, model, found))


@dataclass(frozen=True)
class _Judged:
    verdict: Verdict
    model: Model
    fit: Fit


def _holding(
    batch: Batch, recorded: BatchFigures, brewery: Brewery, malts: Malts, priors: Priors, judged: _Judged
) -> Balance:
    """A balance that holds, with all that follows from it."""
    verdict, model, found = judged.verdict, judged.model, judged.fit
    expected = foresee(batch, recorded, priors, (model, found))
    figures = reconciled_figures(model, found, observe(batch, brewery, malts), recorded)
    return Balance(
        verdict,
        figures,
        None,
        None,
        evidence_of(model, found),
        _flows(model, found),
        priors,
        expected,
        linear_balance(model, found, recorded),
    )
