"""What the batches of one brewhouse have in common: the level that each of them is held against."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from statistics import median

from journal.balance import Balance, Priors, common_practice
from journal.balance.priors import usual_spread
from journal.figures import BatchFigures
from journal.figures.uncertain import ErrorKind
from journal.frozen import dataclass
from journal.history.fold import EvidenceByMethod, evidence_course, method_of
from journal.history.learn import Level, learn, level
from journal.reading import Batch, Brewhouse

#: Relative uncertainty of a malt's sheet where no batch says otherwise (common practice).
_USUAL_SHEET = 0.0062


@dataclass(frozen=True)
class UsualValues:
    """What a brewhouse does on the whole: conversion, the bed's shortfall by method, kettle loss (L), boil-off (L/h).

    `expected` holds by method what that makes one expect of any of its batches.
    """

    conversion: float
    shortfall: Mapping[str, float]
    kettle_loss: float
    boil_off: float
    expected: Mapping[str, Priors]


def _levels(
    batches: list[Batch], balances: Mapping[str, Balance], name: str, method: str | None = None
) -> Level | None:
    said = evidence_course(batches, balances, name, method)
    return level((evidence for _, evidence in said), usual_spread(name)) if said else None


def _expected(batches: list[Batch], balances: Mapping[str, Balance], brewhouse: Brewhouse, method: str) -> Priors:
    """What the whole record makes one expect of a batch lautered by a method; evenly over time, not the latest only."""
    record = EvidenceByMethod.of(batches, balances)
    return learn(common_practice(brewhouse, method), record.for_method(method))


def usual_of(batches: list[Batch], balances: Mapping[str, Balance], brewhouse: Brewhouse) -> UsualValues | None:
    """What the batches of one brewhouse have in common; None where none has been balanced from its mash on."""
    conversion = _levels(batches, balances, "conversion")
    if conversion is None:
        return None
    methods = {method_of(batch) for batch in batches}
    shortfalls = {method: _levels(batches, balances, "shortfall", method) for method in methods}
    loss, boil_off = (_levels(batches, balances, name) for name in ("kettle_loss", "boil_off"))
    return UsualValues(
        conversion.mean,
        {method: found.mean for method, found in shortfalls.items() if found},
        loss.mean if loss else 0.0,
        boil_off.mean if boil_off else 0.0,
        {method: _expected(batches, balances, brewhouse, method) for method in methods},
    )


def sheet_sd(batches: Sequence[Batch], figures: Mapping[str, BatchFigures]) -> float:
    """The usual relative uncertainty of a malt's sheet in the grists of these batches."""
    shares = []
    for batch in batches:
        potential = figures[batch.id].get("potential_extract")
        if potential and potential.value > 0:
            parts = [sd for source, sd in potential.parts if source.kind is ErrorKind.EXTRACT]
            shares.append(math.hypot(*parts) / potential.value)
    return median(shares) if shares else _USUAL_SHEET
