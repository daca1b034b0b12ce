"""A brew's plan beside what it came to."""

from __future__ import annotations

from dataclasses import dataclass

from journal.history.plan import target_of
from journal.measures.wording import plain, signed, unit_for
from journal.pages.model import UNBROKEN, Number
from journal.pages.numbers import of_result, quantity
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.problems import capital


@dataclass(frozen=True)
class TargetRow:
    """One thing that was aimed at: the target, what was got, and by how much that is more or less."""

    words: str
    figure: str
    target: Number
    got: Number
    difference: str


@dataclass(frozen=True)
class PlanPart:
    """The plan beside the result."""

    rows: tuple[TargetRow, ...]
    remark: str


_REMARK = (
    "The target is the entry’s own. What was to be expected is not kept from the day of planning: it is reckoned anew from the "
    "batches before this one, for the grist and liquor that the entry has now."
)


def planned_and_got(view: BatchView) -> PlanPart | None:
    """The target beside the result, once something is measured; None where either is wanting."""
    if view.batch.planned:
        return None
    wanted = view.batch.target
    targets = {
        "original_gravity": target_of(view.batch),
        "fermenter_volume": wanted.volume.value if wanted.volume else None,
    }
    rows = tuple(row for name, target in targets.items() if target is not None and (row := _row(view, name, target)))
    return PlanPart(rows, _REMARK) if rows else None


def _row(view: BatchView, name: str, target: float) -> TargetRow | None:
    got = view.best.get(name)
    if got is None:
        return None
    return TargetRow(
        words=capital(figure_words(name)),
        figure=name,
        target=quantity(target, 0.0, got.unit, view.system),
        got=of_result(got, view.system),
        difference=_difference(got.value - target, got.unit, view.system),
    )


def _difference(value: float, unit: str, system: str) -> str:
    """`+2 points`, `−0.4 L`: a gravity's in points of 0.001."""
    shown = signed(plain(value * 1000, 0) if unit == "SG" else plain(unit_for(unit, system).convert(value), 1))
    words = ("point" if shown in {"+1", "−1"} else "points") if unit == "SG" else unit_for(unit, system).sign
    return f"{shown}{UNBROKEN}{words}"
