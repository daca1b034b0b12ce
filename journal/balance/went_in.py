"""What went into a brew and was not written down so, or was and did not: water left out, a grain left out or weighed in twice.

Each is tried by what it does to the readings where the balance stands; the best alone is worked out in full.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from journal.balance.equations import UNWRITTEN, build_model
from journal.balance.model import BalanceModel, Solution, solve
from journal.balance.priors import Priors
from journal.balance.slip import CLEARLY, FITS_WITHIN, Slip
from journal.figures import BatchFigures
from journal.figures.as_read import Observed
from journal.figures.observe import BatchReadings, GrainExtract, Weighted, observe
from journal.figures.resolve import Resolver
from journal.figures.uncertain import Uncertain, combine
from journal.measures.wording import METRIC, show
from journal.numerics import Vector
from journal.numerics.least_squares import ZERO_WEIGHT, NoSolution
from journal.reading import Batch, Brewery, Malts, resolve
from journal.reading.known_readings import BY_PATH

#: Slips in what went into the brew rather than in what was read off an instrument: they clear every reading.
WENT_IN = frozenset({"top_up_left_out", "grain_left_out", "grain_twice"})
#: Top-ups that are worth forgetting, L.
LEAST_TOP_UP = 0.5
#: The figures of a grist that the balance knows, and the readings that they are made of.
_OF_GRIST = ("potential_extract", "grain_weight", "grain_moisture")
_GRIST_READINGS = ("grain_weights", "grain_extracts", "grain_moistures")


class _Tried(NamedTuple):
    """One slip, the model that it makes of the batch with a state to begin at, and the sum of squares that it would leave."""

    chi_square: float
    slip: Slip
    model: BalanceModel
    start: Vector


def _weight_times(part: Any, times: float) -> Any:
    """A grain's numbers with another weight."""
    if isinstance(part, GrainExtract | Weighted):
        return part._replace(weight=_weight_times(part.weight, times))
    return combine(times * part.value, [(part, times)]) if isinstance(part, Uncertain) else times * part


def _grist_with(observed: Mapping[str, Observed], index: int, times: float) -> dict[str, Observed]:
    """The grist's readings with one grain so many times as heavy; 0 leaves it out."""
    changed = {}
    for name in _GRIST_READINGS:
        parts = list(observed[name].value)
        parts[index : index + 1] = [_weight_times(parts[index], times)] if times else []
        changed[name] = Observed(tuple(parts))
    return changed


@dataclass(frozen=True)
class WentInSearch:
    """Searches a broken balance for what went in."""

    whole: Solution
    batch: Batch
    figures: BatchFigures
    priors: Priors
    brewery: Brewery
    malts: Malts

    def best(self, beaten: float) -> Slip | None:
        """What explains everything clearly better than any single reading does, and than anything else of its kind.

        `beaten` is the sum of squares that leaving out the best suspect leaves.
        """
        tried = sorted((*self._top_ups(), *self._grains()), key=lambda each: each.chi_square)
        if not tried or tried[0].chi_square >= beaten:
            return None
        best, *others = tried
        try:
            found = solve(best.model, best.start)
        except NoSolution:
            return None
        left = found.fit.chi_square
        if left >= min([beaten, *(other.chi_square for other in others)]) - CLEARLY:
            return None
        if best.slip.code == "top_up_left_out":
            return self._top_up(best.slip.path, float(found.fit.state[-1]))
        return best.slip

    def _shown(self, value: float, unit: str) -> str:
        return str(show(value, 0, unit, self.brewery.units or METRIC))

    def _top_up(self, path: str, litres: float) -> Slip:
        amount = self._shown(litres, "L")
        words = f"{amount} of water that went in after the reading and was not written down would explain it."
        return Slip("top_up_left_out", path, litres, 0.0, words)

    def _top_ups(self) -> Iterator[_Tried]:
        model, fit = self.whole.model, self.whole.fit
        for path in ("boil.top_up", "fermenter.top_up"):
            name = BY_PATH[path].unknown
            if path in self.batch.places or name not in model.constants:
                continue
            freed = fit.with_unknown(model.slopes_by_constant(name, fit.state))
            if freed and freed.value > max(LEAST_TOP_UP, FITS_WITHIN * freed.sd):
                freer = model.with_unknown(name, freed.value, path, UNWRITTEN * ZERO_WEIGHT)
                yield _Tried(freed.chi_square, self._top_up(path, freed.value), freer, freer.start)

    def _grains(self) -> Iterator[_Tried]:
        if not self.whole.model.mashed:
            return
        observed = observe(self.batch, self.brewery, self.malts)
        for index, grain in enumerate(self.batch.grains):
            if grain.weight is None:
                continue
            path, weight = f"grains[{index}].weight", grain.weight.value
            named = f"the {self._shown(weight, 'kg')} of {resolve(grain, path, self.malts).name}"
            for code, times, words in (
                ("grain_left_out", 0.0, "never went into the mash"),
                ("grain_twice", 2.0, "went in twice"),
            ):
                slip = Slip(code, path, times * weight, 0.0, f"If {named} {words}, it would explain it.")
                tried = self._with_grist(slip, observed.with_these(_grist_with(observed, index, times)))
                if tried is not None:
                    yield tried

    def _with_grist(self, slip: Slip, observed: BatchReadings) -> _Tried | None:
        """A slip that made the grist another; None where that can't be worked out."""
        resolver = Resolver(observed)
        grist = {name: result for name in _OF_GRIST if (result := resolver.result(name))}
        figures = replace(self.figures, results={**self.figures.results, **grist})
        without = frozenset(path for path, trusted in self.batch.trust.items() if not trusted)
        model = build_model(self.batch, figures, self.priors, without)
        # a grist without extract leaves a smaller model, which is no comparison
        if len(grist) < len(_OF_GRIST) or model is None or model.unknowns != self.whole.model.unknowns:
            return None
        start = self.whole.fit.state.copy()
        start[model.unknowns.index("potential_extract")] *= model.facts.sheet / self.whole.model.facts.sheet
        try:
            shown = model.predict(start)
        except (ArithmeticError, ValueError):
            return None
        residuals = [equation.recorded for equation in model.equations] - shown
        return _Tried(self.whole.fit.chi_square_of(residuals), slip, model, start)
