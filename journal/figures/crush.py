"""The crush: the mill's gap and what a sieve test says of it."""

from __future__ import annotations

from journal.figures.catalogue import figure
from journal.figures.mashing import MeshShare
from journal.science import sieve

GROUP = "Grist and liquor"
_SOURCE = "fractions of the grist's sieve analysis, MEBAK, grouped in three (common practice)"


def _crush(test: tuple[MeshShare, ...]) -> sieve.Crush:
    return sieve.crush_of([(mesh, share) for mesh, share in test])


@figure(unit="mm", group=GROUP, formula="{mill_gap}", source="definition")
def crush(mill_gap: float) -> float:
    """Gap of the mill's rollers."""
    return mill_gap


@figure(unit="1", group=GROUP, formula="share of the {sieve_test_husks} that stays on 1.25 mm", source=_SOURCE)
def sieve_husks(sieve_test_husks: tuple[MeshShare, ...]) -> float | None:
    """Husks, with what clings to them, by weight of the crushed malt."""
    return _crush(sieve_test_husks).husks


@figure(
    unit="1",
    group=GROUP,
    formula="share of the {sieve_test_coarse} that stays between 1.25 and 0.5 mm",
    source=_SOURCE,
)
def sieve_coarse(sieve_test_coarse: tuple[MeshShare, ...]) -> float | None:
    """Coarse grits by weight of the crushed malt."""
    return _crush(sieve_test_coarse).coarse


@figure(unit="1", group=GROUP, formula="share of the {sieve_test_fine} that falls through 0.5 mm", source=_SOURCE)
def sieve_fine(sieve_test_fine: tuple[MeshShare, ...]) -> float | None:
    """Fine grits and flour by weight of the crushed malt."""
    return _crush(sieve_test_fine).fine
