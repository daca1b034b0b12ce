"""What a batch's page says of expectations and of how its readings agree."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Number


@dataclass(frozen=True)
class Expected:
    """A figure as it was to be expected, beside what it came to.

    `span` is the range with its unit, `batches` how many earlier batches stand behind it. `got` is None where nothing
    was measured; `outside` is below, above or empty. `mark` is the place of what was got on a strip whose middle half is
    the range, in per cent of the strip's width.
    """

    name: str
    words: str
    span: str
    batches: int
    got: Number | None
    outside: str
    mark: float


@dataclass(frozen=True)
class Shape:
    """A filled outline in the picture of the flow; `of` is water or extract."""

    of: str
    path: str


@dataclass(frozen=True)
class Caption:
    """A word or amount in the picture of the flow at its place in the picture's own units.

    `kind` is the side of the picture that it belongs to (extract, name, water) and what it says there.
    """

    kind: str
    x: float
    y: float
    text: str


@dataclass(frozen=True)
class FlowPicture:
    """A batch's water and extract on their way, in a picture `width` by `height`; `summary` says the same in words."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    captions: tuple[Caption, ...]
    summary: str


@dataclass(frozen=True)
class Reconciled:
    """One reading as written, as it counts, and as the balance has it; `hard` if its strain exceeds the limit."""

    reading: Link
    line: int
    written: str
    recorded: str
    balanced: str
    strain: str
    hard: bool
    suspect: bool


@dataclass(frozen=True)
class Agreement:
    """Whether the readings agree: sentences, the flow, every reading, the test in figures, and what can't be seen.

    Where too little was recorded, `sentences` are all there is.
    """

    status: str
    sentences: str
    flow: FlowPicture | None
    readings: tuple[Reconciled, ...]
    legend: str
    test: str
    blind_spots: str
