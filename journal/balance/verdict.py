"""Does the balance close, and if not, which reading is the likeliest to lie."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from journal.balance.equations import UNREAD, build_model
from journal.balance.model import Model
from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.numerics import variances
from journal.numerics.distributions import gammaincc, ndtri
from journal.numerics.least_squares import Fit, NoSolution, fit
from journal.reading import Batch
from journal.reading.known_readings import VOLUME, read_at

#: The global test rejects at this level; a balance between the two is strained.
BROKEN_AT = 0.01
STRAINED_AT = 0.05
#: A reading that the rest knows less than this share about is not checked by it.
CHECKED_FROM = 0.05
#: Suspects whose removal leaves sums of squares closer than this can't be told apart (one and a half to one, at best).
TOLD_APART = 2.0
#: What a brewhouse is expected to do, and may stop doing: another crush, another burner, another way of lautering. By
#: name, the least and the most that is common, widely taken (common practice); of the last two as shares of the kettle.
CHANGEABLE = {
    "conversion": (0.70, 1.0),
    "water_held": (0.7, 2.0),
    "shortfall": (-0.03, 0.2),
    "boil_off": (0.04, 0.25),
    "kettle_loss": (0.0, 0.15),
}
#: Suspects that are tried by leaving each out and balancing again.
_TRIED = 4

CLOSES, STRAINED, BROKEN, TOO_FEW = "closes", "strained", "broken", "too few readings"


class Balanced(NamedTuple):
    """One reading after reconciliation.

    Recorded and balanced value, the latter's sd, the strain, and how far the rest checks it.
    """

    path: str
    recorded: float
    balanced: float
    sd: float
    strain: float
    redundancy: float


@dataclass(frozen=True)
class Suspect:
    """A reading whose removal restores the balance: what it would have had to be, and the sum of squares that is left.

    `reading_sd` is the standard uncertainty that the reading claims.
    """

    path: str
    recorded: float
    needed: float
    needed_sd: float
    chi_square: float
    reading_sd: float

    @property
    def away_sd(self) -> float:
        """Standard deviation of the difference between what such a reading shows and what the rest needs."""
        return float(np.hypot(self.needed_sd, self.reading_sd))


@dataclass(frozen=True)
class Verdict:
    """The balance of one batch: status, the global test, every reading, suspects likeliest first.

    `alike` says how many suspects, from the first, can't be told apart. `changed` is set where the readings agree once
    one thing expected of the brewhouse is given up: then it may have changed, nobody is accused, and the balance is
    strained. `strain_limit` is the Šidák limit of the measurement test.
    """

    status: str
    chi_square: float
    degrees_of_freedom: int
    p_value: float
    readings: tuple[Balanced, ...]
    suspects: tuple[Suspect, ...]
    alike: int
    strain_limit: float
    changed: Suspect | None = None
    possible_change: LeftOut | None = field(default=None, repr=False, compare=False)


def strain_limit(readings: int, alpha: float = BROKEN_AT) -> float:
    """The Šidák limit of the measurement test for a number of readings (two-sided, level `alpha` for all together)."""
    each = 1.0 - (1.0 - alpha) ** (1.0 / max(readings, 1))
    return float(ndtri(1.0 - each / 2.0))


def p_value(chi_square: float, degrees_of_freedom: int) -> float:
    """The chance of a sum of squares as large, were every reading as good as it claims."""
    return float(gammaincc(degrees_of_freedom / 2.0, chi_square / 2.0)) if degrees_of_freedom > 0 else 1.0


def solve(model: Model) -> Fit:
    """The balance of a model; raises NoSolution where there is none."""
    recorded = np.array([equation.recorded for equation in model.equations])
    sd = np.array([equation.sd for equation in model.equations])
    return fit(model.predict, model.start, recorded, sd)


def _balanced(model: Model, found: Fit, best: Fit) -> tuple[Balanced, ...]:
    """Every reading.

    Its strain in the whole balance, its value in the best one (the whole, or that without the suspect).
    """
    sds = np.sqrt(variances(best.slopes, best.covariance))
    rows = zip(model.equations, best.predicted, sds, found.strain, found.redundancy, strict=True)
    return tuple(
        Balanced(equation.path, equation.recorded, float(value), float(sd), float(strain), float(redundancy))
        for equation, value, sd, strain, redundancy in rows
        if not equation.expectation
    )


@dataclass(frozen=True)
class LeftOut:
    """The balance without one reading: that reading as a suspect, and the fit that is left."""

    suspect: Suspect
    fit: Fit
    model: Model


def restored(
    batch: Batch, figures: BatchFigures, priors: Priors, path: str, left_out: frozenset[str] = frozenset()
) -> LeftOut | None:
    """The balance without one reading, and what that reading would have had to show; None where it can't be worked out.

    `path` may also be a top-up that nobody wrote down, or `expected NAME`: something expected of the brewhouse.
    """
    model = build_model(batch, figures, priors, left_out, unread=frozenset({path}))
    index = next((i for i, e in enumerate(model.equations) if e.path == path), None) if model else None
    if model is None or index is None:
        return None
    try:
        found = solve(model)
    except NoSolution:
        return None
    sd = float(np.sqrt(max(found.slopes[index] @ found.covariance @ found.slopes[index], 0.0)))
    equation = model.equations[index]
    needed = float(found.predicted[index])
    return LeftOut(Suspect(path, equation.recorded, needed, sd, found.chi_square, equation.sd / UNREAD), found, model)


def _without_each(
    model: Model, found: Fit, batch: Batch, figures: BatchFigures, priors: Priors, left_out: frozenset[str]
) -> list[LeftOut]:
    """The likeliest readings to lie, each left out in turn, the best balance first."""
    likely = [model.equations[i].path for i in np.argsort(-found.strain) if not model.equations[i].expectation]
    tried = (restored(batch, figures, priors, path, left_out) for path in likely[:_TRIED])
    return sorted((s for s in tried if s is not None), key=lambda s: s.suspect.chi_square)


def _plausible(changed: Suspect, figures: BatchFigures) -> bool:
    """Whether a brewhouse may do what a changed expectation says: within what is common, widely taken."""
    name = changed.path.removeprefix("expected ")
    volumes = (figures.get(read_at(station, VOLUME).figure) for station in ("kettle", "knockout"))
    size = next((volume.value for volume in volumes if volume), 25.0)
    low, high = CHANGEABLE[name]
    scale = size if name in {"boil_off", "kettle_loss"} else 1.0
    return low * scale <= changed.needed <= high * scale


def _change(
    model: Model,
    batch: Batch,
    figures: BatchFigures,
    priors: Priors,
    left_out: frozenset[str],
    best_reading: float,
) -> LeftOut | None:
    """The expectation that, given up, lets the readings agree as well as leaving out any one of them would; None if none."""
    names = [e.path for e in model.equations if e.expectation and e.path.removeprefix("expected ") in CHANGEABLE]
    tried = [found for name in names if (found := restored(batch, figures, priors, name, left_out))]
    plausible = [found for found in tried if _plausible(found.suspect, figures)]
    best = min(plausible, key=lambda found: found.suspect.chi_square, default=None)
    if best is None or best.suspect.chi_square > best_reading + TOLD_APART:
        return None
    agrees = p_value(best.suspect.chi_square, len(model.equations) - len(model.unknowns) - 1) >= BROKEN_AT
    return best if agrees else None


def judge(batch: Batch, figures: BatchFigures, priors: Priors) -> tuple[Verdict, Model | None, Fit | None]:
    """The verdict on one batch, with the model and the fit to show; both None where too little is recorded.

    Where one reading is clearly the one that lies, that is the fit without it.
    """
    left_out = frozenset(path for path, trusted in batch.trust.items() if not trusted)
    nothing = Verdict(TOO_FEW, 0.0, 0, 1.0, (), (), 0, 0.0)
    model = build_model(batch, figures, priors, left_out)
    if model is None:
        return nothing, None, None
    try:
        found = solve(model)
    except NoSolution:
        return nothing, None, None
    if np.all(found.redundancy[[not e.expectation for e in model.equations]] < CHECKED_FROM):
        return nothing, None, None
    p = p_value(found.chi_square, found.degrees_of_freedom)
    status = BROKEN if p < BROKEN_AT else STRAINED if p < STRAINED_AT else CLOSES
    tried = _without_each(model, found, batch, figures, priors, left_out) if status == BROKEN else []
    suspects = tuple(restored.suspect for restored in tried)
    limit = strain_limit(sum(not e.expectation for e in model.equations))
    alike = sum(suspect.chi_square < suspects[0].chi_square + TOLD_APART for suspect in suspects) if suspects else 0
    best = tried[0].fit if alike == 1 else found
    readings = _balanced(model, found, best)
    change = None
    if status == BROKEN:
        least = suspects[0].chi_square if suspects else found.chi_square
        change = _change(model, batch, figures, priors, left_out, least)
    verdict = Verdict(
        status, found.chi_square, found.degrees_of_freedom, p, readings, suspects, alike, limit, possible_change=change
    )
    return verdict, model, best


def as_change(verdict: Verdict, change: LeftOut) -> Verdict:
    """A broken balance taken for a brewhouse that has changed: strained, and no reading accused."""
    by_path = {reading.path: reading for reading in _balanced(change.model, change.fit, change.fit)}
    readings = tuple(by_path[reading.path]._replace(strain=reading.strain) for reading in verdict.readings)
    return replace(verdict, status=STRAINED, readings=readings, alike=0, changed=change.suspect, possible_change=None)
