"""The chain of efficiencies, set like a sum."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.pages.model import UNBROKEN, Number
from journal.pages.numbers import of_result
from journal.pages.parts.expected import Expected, expected_of
from journal.pages.parts.working import FigureRow, Workings, is_zero, reading_list
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.reading.entry import STEEP

#: How each efficiency stands in the sum: its sign, what it is in short, and whether it is a total.
_SUM = {
    "conversion_efficiency": ("", "of the potential was dissolved", False),
    "lauter_efficiency": ("×", "of that reached the kettle", False),
    "mash_efficiency": ("=", "of the potential reached the kettle", True),
    "transfer_efficiency": ("×", "of the kettle’s extract reached the fermenter", False),
    "brewhouse_efficiency": ("=", "of the potential reached the fermenter", True),
}

#: What becomes of efficiencies whose readings contradict one another.
KEPT_OUT = (
    "◇ The readings contradict one another. These efficiencies are as recorded, and kept out of trends and statistics "
    "unless the entry says `trust: {balance: yes}`."
)
TRUSTED = (
    "◇ The readings contradict one another. The entry says `trust: {balance: yes}`, so these efficiencies, as recorded, "
    "count in trends and statistics all the same."
)


@dataclass(frozen=True)
class ChainLink:
    """One step of the chain of efficiencies: its sign in the sum, its name, its gloss, its number; without one, what is missing.

    `recorded` is the number as recorded where the reconciled one is another, `figure` what it opens to where that is asked for;
    `doubtful` says that the readings contradict one another.
    """

    sign: str
    name: str
    words: str
    gloss: str
    total: bool
    number: Number | None
    recorded: Number | None
    figure: FigureRow | None
    wanting: str
    expected: Expected | None
    doubtful: bool


def chain(view: BatchView, workings: Workings | None = None) -> tuple[ChainLink, ...]:
    """Every step of the sum; with `workings`, each to be opened."""
    links = []
    for name, (sign, gloss, total) in _SUM.items():
        result = view.figures.get(name)
        there = result is not None and not is_zero(result)
        recorded, best = (of_result(each[name], view.system) if there else None for each in (view.figures, view.best))
        links.append(
            ChainLink(
                sign=sign,
                name=name,
                words=figure_words(name).removesuffix(" efficiency"),
                gloss=gloss,
                total=total,
                number=best,
                recorded=None if best == recorded else recorded,
                figure=workings.row(name) if workings else None,
                wanting=_wanting(view, name),
                expected=expected_of(view, name),
                doubtful=there and view.index.doubtful(view.batch),
            )
        )
    return tuple(links)


def _wanting(view: BatchView, name: str) -> str:
    """What a figure of the chain lacks, in words; what a later wort lacks stands with the first."""
    first, missing = view.batch.relatives.first, view.figures.wanting.get(name, ())
    if first is not None and missing and not view.batch.grains:
        return f"the mash, which stands with batch{UNBROKEN}{first.id}"
    if view.batch.lauter.method == STEEP and any(path.startswith("a mash") for path in missing):
        return "a mash, and these grains were steeped"
    return reading_list(missing, view.names)


def chain_remarks(view: BatchView) -> tuple[str, ...]:
    """What the sum is worth: that it is not trusted, and why it does not come out even, where that is so."""
    remarks = []
    if view.index.doubtful(view.batch):
        remarks.append(TRUSTED if view.index.record.counts(view.batch) else KEPT_OUT)
    gain = view.figures.get("boil_gain")
    if gain is not None and view.figures.get("brewhouse_efficiency") and not view.index.reconciled(view.batch):
        apart = of_result(gain, view.system).text
        remarks.append(
            f"The two kettle readings differ by {apart}, so the efficiencies don’t multiply exactly to the last one."
        )
    return tuple(remarks)
