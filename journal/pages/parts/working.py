"""Figures with their workings, as a batch's page opens them."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from journal.figures import CATALOGUE, Result
from journal.figures.uncertain import ErrorKind, ErrorSource
from journal.figures.working import BatchWorkings, FormulaTerm, Part
from journal.frozen import dataclass
from journal.pages.grist import lot_name
from journal.pages.mash_course import between_amylases
from journal.pages.model import Link, Number
from journal.pages.numbers import of_result
from journal.pages.paths import FIGURES_PAGE, MALTS_PAGE, malt_anchor, reading_anchor
from journal.pages.view import BatchView
from journal.pages.words import figure_words, in_order_of_work, with_article
from journal.problems import capital, in_words
from journal.reading import Batch
from journal.reading.called import missing_words, part_words, reading_words
from journal.reading.malts import sheet_name
from journal.reading.table import is_blank


class Term(NamedTuple):
    """What a formula takes: a figure of the same page (`anchor`), a number, or several `rows`."""

    words: str
    text: str
    anchor: str
    rows: tuple[str, ...]


class Doubt(NamedTuple):
    """What one reading brings to a figure's uncertainty, with its share of the variance in per cent."""

    reading: Link
    written: str
    sd: str
    share: str


class Working(NamedTuple):
    """How a figure came about: formula, the same with the numbers put in, result, source, and who brings the doubt.

    `numbers` is empty where it would only say the formula again.
    """

    formula: str
    numbers: str
    terms: tuple[Term, ...]
    result: str
    source: str
    doubts: tuple[Doubt, ...]


class FigureRow(NamedTuple):
    """A figure of a batch, openable to its working; `remark` is a caution on what the number is worth, or empty.

    `recorded` is the value as recorded, which the working leads to, where the reconciled `number` shows another.
    """

    name: str
    words: str
    meaning: str
    number: Number
    recorded: Number | None
    working: Working
    remark: str = ""


@dataclass(frozen=True)
class FigureGroup:
    """Figures of one kind."""

    words: str
    rows: tuple[FigureRow, ...]


@dataclass(frozen=True)
class MissingReadings:
    """Readings that would give figures."""

    readings: str
    figures: tuple[Link, ...]


#: The chain of efficiencies, which stands on its own at the top of a batch's page.
CHAIN = (
    "conversion_efficiency",
    "lauter_efficiency",
    "mash_efficiency",
    "transfer_efficiency",
    "brewhouse_efficiency",
)
#: Groups of figures that only lead to others: who wants those, gets these.
_ON_THE_WAY = frozenset({"Readings at 20 °C", "Grist and liquor", "Extract account"})
_AMYLASES = frozenset({"minutes_beta_amylase", "minutes_alpha_amylase"})
#: Containers that gas is led into.
_UNDER_PRESSURE = frozenset({"keg"})


def _primes(batch: Batch) -> bool:
    return batch.package.carbonation is not None or not is_blank(batch.package.priming)


#: Figures of what few brews have, by whether this one has it.
_OF_SOME: dict[str, Callable[[Batch], object]] = {
    "parts_extract": lambda batch: batch.relatives.parts,
    "joined_extract": lambda batch: batch.relatives.guests,
    "stand_bitterness": lambda batch: batch.stand.hops,
    "beer_in_hops": lambda batch: batch.fermenter.hops,
    "pressure_carbonation": lambda batch: batch.package.container in _UNDER_PRESSURE,
    "residual_carbonation": _primes,
    "carbonation": _primes,
    "priming_sugar": _primes,
}
#: What a number is worth, where its ± alone may promise too much.
_REMARKS = {
    "bitterness": "± 20 % at best: a formula foretells the order of magnitude, and no more.",
    "colour": "From the grist alone; the boil and the air darken wort too.",
}


class Workings:
    """Makes the figures of one batch; `anchors` are the recorded rows that a doubt may lead to."""

    def __init__(self, view: BatchView, anchors: frozenset[str]) -> None:
        self.view, self.anchors = view, anchors
        self.figures, self.system = view.figures, view.system
        self._sources: dict[ErrorSource, tuple[Link, str]] = {}
        self._made = BatchWorkings(self.figures, view.observed, self.system)

    def shown(self, name: str) -> bool:
        """Whether a figure has a row: it is there, and not nought because nothing was done."""
        result = self.figures.get(name)
        return result is not None and not is_zero(result)

    def row(self, name: str) -> FigureRow | None:
        """A figure with its working, None where it is absent or nought."""
        result = self.figures.get(name)
        if result is None or is_zero(result):
            return None
        shown, recorded = of_result(self.view.best[name], self.system), of_result(result, self.system)
        return FigureRow(
            name=name,
            words=figure_words(name),
            meaning=CATALOGUE[name].meaning,
            number=shown,
            recorded=None if shown == recorded else recorded,
            working=self._working(name, recorded),
            remark=_REMARKS.get(name, ""),
        )

    def _working(self, name: str, recorded: Number) -> Working:
        found = self._made.of(name)
        if found is None:
            raise KeyError(name)
        return Working(
            formula=found.formula,
            numbers="" if found.numbers == found.formula else found.numbers,
            terms=tuple(self._term(term) for term in found.terms),
            result=recorded.text,
            source=found.figure.source,
            doubts=tuple(self._doubt(part) for part in found.parts),
        )

    def _term(self, term: FormulaTerm) -> Term:
        return Term(term.label, term.text, term.figure if self.shown(term.figure) else "", term.rows)

    def _doubt(self, part: Part) -> Doubt:
        return Doubt(*self._source_as_written(part.source), part.sd, f"{part.share * 100:.0f}")

    def _source_as_written(self, source: ErrorSource) -> tuple[Link, str]:
        """What brings an uncertainty, and what the brewer wrote there: most readings bring it to many figures."""
        if source not in self._sources:
            beside = source.kind in {ErrorKind.TEMPERATURE, ErrorKind.CORRELATION}
            self._sources[source] = self.source(source), "" if beside else self.view.batch.written(source.path)
        return self._sources[source]

    def source(self, source: ErrorSource) -> Link:
        """What brings an uncertainty, leading to where it is stated."""
        path = source.path
        if source.kind is ErrorKind.MODEL:
            return Link("the relation itself", f"{FIGURES_PAGE}#{path}")
        if path.startswith(("malts.", "kinds.")):
            return self._malt_source(path)
        anchor = reading_anchor(path)
        words = reading_words(path, self.view.names)
        if source.kind is ErrorKind.TEMPERATURE:
            words = f"temperature of that ({words})"
        elif source.kind is ErrorKind.CORRELATION:
            words = f"the refractometer in beer ({words})"
        return Link(words, f"#{anchor}" if anchor in self.anchors else "")

    def _malt_source(self, path: str) -> Link:
        layer, rest = path.split(".", 1)
        named, _, part = rest.rpartition(".")
        if layer == "malts":
            return Link(
                f"{part_words(part)} of {lot_name(self.view.index, named)}", f"{MALTS_PAGE}#{malt_anchor(named)}"
            )
        malts = self.view.index.record.journal.malts
        used = {sheet_name(grain, malts) for grain in self.view.batch.grains}
        href = f"{MALTS_PAGE}#{malt_anchor(named)}" if named in used else ""
        return Link(f"typical {part_words(part)} of {named}", href)


def is_zero(result: Result) -> bool:
    """Nothing, and nothing uncertain about it: no sugar was added, no rest lay in an enzyme's range."""
    return result.value == 0 and result.sd == 0


def figure_groups(workings: Workings) -> tuple[FigureGroup, ...]:
    """Every figure beside the chain, by kind."""
    groups: dict[str, list[FigureRow]] = {}
    for name, figure in CATALOGUE.items():
        row = None if name in CHAIN else workings.row(name)
        if row is not None:
            groups.setdefault("Other yields" if figure.group == "Efficiencies" else figure.group, []).append(row)
    return tuple(FigureGroup(words, tuple(rows)) for words, rows in groups.items())


def zero_figures(workings: Workings) -> tuple[Link, ...]:
    """Figures that came to nothing at all; no minutes in an amylase's range where the mash stood between the two."""
    passed = _AMYLASES if between_amylases(workings.view) else frozenset()
    return tuple(
        Link(figure_words(name), f"{FIGURES_PAGE}#{name}")
        for name, result in workings.view.figures.results.items()
        if is_zero(result) and name not in passed
    )


def reading_list(paths: tuple[str, ...], names: dict[str, str]) -> str:
    """Readings in words, each once, in the order of the work: `the first wort and the volume and gravity before the boil`."""
    words: list[str] = []
    for path in in_order_of_work(paths):
        word = with_article(missing_words(path, names))
        if words and word == words[-1].replace("volume", "gravity", 1) != words[-1]:
            words[-1] = words[-1].replace("volume", "volume and gravity", 1)
        elif word not in words:
            words.append(word)
    return in_words(words)


def _not_for_everybody(view: BatchView, name: str) -> bool:
    """Whether a figure wants what few brewers record, and this one has not begun to."""
    batch, water = view.batch, view.index.record.journal.brewery.water
    group = CATALOGUE[name].group
    if group == "Water":
        return is_blank(batch.water) and is_blank(water)
    if name.startswith("sieve_"):
        return not batch.sieve
    if name.startswith("conversion_") and name != "conversion_efficiency":
        return not batch.mash.readings
    return name in _OF_SOME and not _OF_SOME[name](batch)


def missing_readings(view: BatchView) -> tuple[MissingReadings, ...]:
    """The readings that would give what is absent: the fewest readings first, each set once with what it gives in the end."""
    sets: dict[tuple[str, ...], list[Link]] = {}
    for name, paths in view.figures.wanting.items():
        if CATALOGUE[name].group not in _ON_THE_WAY and not _not_for_everybody(view, name):
            sets.setdefault(in_order_of_work(paths), []).append(Link(figure_words(name), f"{FIGURES_PAGE}#{name}"))
    ordered = sorted(sets.items(), key=lambda found: len(found[0]))
    return tuple(MissingReadings(capital(reading_list(paths, view.names)), tuple(f)) for paths, f in ordered)
