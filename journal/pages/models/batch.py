"""A batch's page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from journal.pages.grist import LabGroup
from journal.pages.model import Link, Model, Number, When
from journal.pages.models.agreement import Agreement, Expected
from journal.pages.models.fermentation import FermentationPart
from journal.pages.models.mashing import MashPart
from journal.pages.models.planned import PlanPart
from journal.pages.models.sheet import Sheet
from journal.pages.parts.notices import Notice


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


@dataclass(frozen=True)
class Working:
    """How a figure came about: formula, the same with the numbers put in, result, source, and who brings the doubt.

    `numbers` is empty where it would only say the formula again.
    """

    formula: str
    numbers: str
    terms: tuple[Term, ...]
    result: str
    source: str
    doubts: tuple[Doubt, ...]


@dataclass(frozen=True)
class FigureRow:
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
class ChainLink:
    """One step of the chain of efficiencies: its sign in the sum, its name, its gloss; without a figure, what is wanting.

    `doubtful` says that the readings contradict one another.
    """

    sign: str
    name: str
    words: str
    gloss: str
    total: bool
    figure: FigureRow | None
    wanting: str
    expected: Expected | None
    doubtful: bool


@dataclass(frozen=True)
class Step:
    """One step of the extract account.

    `kind` is start, loss, gain, join, differ or end. `kg` and `share` (of the potential) are as shown. In per cent of the
    picture's width: `left` and `width` of the step's bar, `track` of what is there beside it, `level` of what is there
    after it, and `low` and `high` of its uncertain end.
    """

    kind: str
    words: str
    kg: Number
    share: Number
    figure: str
    left: float
    width: float
    track: float
    level: float
    low: float
    high: float


@dataclass(frozen=True)
class Account:
    """Where the extract went, from the grist's potential as far as the readings lead; `remarks` stand below it."""

    steps: tuple[Step, ...]
    summary: str
    remarks: tuple[str, ...]


class Piece(NamedTuple):
    """One value as recorded: the brewer's own writing and what it counts as; `counted` is None for a word."""

    anchor: str
    words: str
    written: str
    counted: Number | None


@dataclass(frozen=True)
class Recorded:
    """One line of what was recorded; `odd` says that a warning stands on it."""

    anchor: str
    label: Link
    pieces: tuple[Piece, ...]
    labs: tuple[LabGroup, ...]
    line: int
    odd: bool


@dataclass(frozen=True)
class RecordedGroup:
    """A stage of the work; `caution` leads to the usual caution for it."""

    words: str
    rows: tuple[Recorded, ...]
    cautions: tuple[Link, ...] = ()


@dataclass(frozen=True)
class Wanting:
    """Readings that would give figures."""

    readings: str
    figures: tuple[Link, ...]


@dataclass(frozen=True, kw_only=True)
class BatchModel(Model):
    """Everything on a batch's page."""

    id: str
    title: str
    brewed: When
    style: Link
    brewhouse: Link
    tags: tuple[Link, ...]
    file: str
    planned: bool
    lead: tuple[str, ...]
    notices: tuple[Notice, ...]
    chain: tuple[ChainLink, ...]
    chain_remarks: tuple[str, ...]
    expected: tuple[Expected, ...]
    account: Account | None
    agreement: Agreement | None
    mash: MashPart | None
    fermentation: FermentationPart | None
    sheet: Sheet | None
    kept: PlanPart | None
    recorded: tuple[RecordedGroup, ...]
    figures: tuple[FigureGroup, ...]
    nought: tuple[Link, ...]
    wanting: tuple[Wanting, ...]
    prose: str
    before: Link | None
    after: Link | None
