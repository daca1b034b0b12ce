"""The working sheet of a planned brew: what to do in the order of the work, and room to write what was read."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.pages.model import Link

#: Kinds of what is typed into a box that is no quantity: a gravity, a time by the clock, a day and time, words.
GRAVITY, CLOCK, MOMENT, WORDS = "gravity", "clock", "moment", "words"


@dataclass(frozen=True)
class Typed:
    """What a browser may take for a box.

    `key` tells it from the sheet's other boxes; `kind` is a kind of quantity by its name, GRAVITY, CLOCK, MOMENT or WORDS, and
    `unit` what a number without one counts in. `field` is the path that it fills in the entry, empty for what has none, and
    `planned` what the entry says there already. `expected` are the ends of what nine readings in ten show, L at 20 °C or SG.
    A rest that begins at this time lasts `minutes`; a time falls due `after` that of another box, by so many minutes. What is done
    then is `called` so where the task's own words say more than its name.
    """

    key: str
    kind: str
    unit: str = ""
    field: str = ""
    planned: str = ""
    expected: tuple[float, float] | None = None
    minutes: float | None = None
    after: tuple[str, float] | None = None
    called: str = ""


@dataclass(frozen=True)
class Box:
    """Room to write in: what goes there, and its unit; both may be empty. `typed`: what a browser may take there."""

    words: str
    unit: str = ""
    typed: Typed | None = None


@dataclass(frozen=True)
class Task:
    """One thing to do or to read.

    `amount` stands large, `spread` beside it: a ± or the range of what is expected. `note` is one line below.
    """

    words: str
    amount: str = ""
    spread: str = ""
    note: str = ""
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True)
class SafetyNote:
    """A caution where it belongs: its subject, which leads to more, and one sentence."""

    subject: Link
    sentence: str


@dataclass(frozen=True)
class Stage:
    """A stage of the work."""

    words: str
    tasks: tuple[Task, ...]
    safety_notes: tuple[SafetyNote, ...] = ()


@dataclass(frozen=True)
class Head:
    """The head of a column or row: as it is read, and the same at 20 °C or empty; `usual` if nine in ten fall on it."""

    text: str
    cold: str
    usual: bool


@dataclass(frozen=True)
class Answer:
    """What to do about one pair of readings, a line each way to do it; `leave` says that nothing is to be done.

    No line at all where no wort could show both. `acts` says of each line for whoever hears it what its amount is of, or is empty.
    """

    leave: bool
    lines: tuple[str, ...]
    acts: tuple[str, ...] = ()


@dataclass(frozen=True)
class OffTarget:
    """What to do off target at one place: gravity by volume, `rows` of a head and a cell for each column; `unit` is that of volumes."""

    name: str
    words: str
    summary: str
    unit: str
    columns: tuple[Head, ...]
    rows: tuple[tuple[Head, tuple[Answer, ...]], ...]


@dataclass(frozen=True)
class Strip:
    """A small table: a row of `heads` called `first`, below it a row of `values` called `second`."""

    words: str
    first: str
    second: str
    heads: tuple[str, ...]
    values: tuple[str, ...]
    remark: str


@dataclass(frozen=True)
class Sheet:
    """Everything on a working sheet; `wanting` says what the entry lacks and what it would give, in its own words.

    `for_script` is what a browser needs to take the readings, as JSON.
    """

    basis: str
    wanting: tuple[str, ...]
    stages: tuple[Stage, ...]
    tables: tuple[OffTarget, ...]
    rule: str
    strips: tuple[Strip, ...]
    liquor: tuple[str, ...]
    acid: SafetyNote
    codes: str
    for_script: str
