"""The page on how each number is worked out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Link, Model


@dataclass(frozen=True)
class Definition:
    """A figure as the catalogue has it; `takes` are the figures it is worked out from, `gives` those worked out from it."""

    name: str
    words: str
    meaning: str
    unit: str
    formula: str
    source: str
    doubt: str
    takes: tuple[Link, ...]
    gives: tuple[Link, ...]


@dataclass(frozen=True)
class DefinitionGroup:
    """Figures of one kind."""

    words: str
    anchor: str
    figures: tuple[Definition, ...]


@dataclass(frozen=True)
class GlossaryTerm:
    """A word of the trade, explained."""

    anchor: str
    word: str
    meaning: str


@dataclass(frozen=True)
class Reconciling:
    """How readings are reconciled: paragraphs, the words it takes, and where it is published."""

    paragraphs: tuple[str, ...]
    terms: tuple[GlossaryTerm, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CatalogueModel(Model):
    """All figures, how readings are reconciled, and a few of the trade's words."""

    groups: tuple[DefinitionGroup, ...]
    reconciling: Reconciling
    glossary: tuple[GlossaryTerm, ...]


@dataclass(frozen=True)
class Caution:
    """One hazard: what to mind, sentence by sentence, and where that is published."""

    anchor: str
    words: str
    sentences: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CautionsModel(Model):
    """The usual cautions."""

    cautions: tuple[Caution, ...]
