"""What would bring more of the extract into the fermenter, ranked; what handbooks look at; and what a newcomer should add first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from journal.frozen import dataclass
from journal.history.pays import Habit, PayingChange, Pays
from journal.measures.wording import plain, show
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripPicture
from journal.pages.differences import between, join, show_change_alone
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.parts.losses import malt_words, money_words
from journal.pages.paths import PRACTICE_PAGE
from journal.pages.words import sentence
from journal.problems import capital, in_words
from journal.reading import Batch
from journal.reading.known_readings import GRAVITY, VOLUME, KnownReading, read_at
from journal.reading.table import written_at

#: Changes below this are told in a fold, as fractions of the potential; those that lead are told in any case.
_SMALL, _LEADING = 0.005, 3
_TICKS = 5
#: minutes
_LEAST_TIME = 0.5


@dataclass(frozen=True)
class ChangeRow:
    """One change: what it is, its gain as a strip and in words, what it costs, what it is worth in a year, and what that rests on.

    `aside` says what speaks against it.
    """

    words: str
    strip: StripPicture
    gain: str
    interval: str
    costs: str
    worth: str
    basis: Link
    aside: str
    clear: bool


@dataclass(frozen=True)
class HabitRow:
    """One thing that handbooks look at, the brewer's own values beside the usual range; `advice` where most of them lie outside."""

    words: str
    yours: str
    usual: str
    advice: str


def changes_axis(changes: Sequence[PayingChange]) -> Axis:
    """What the gains' strips lie on, in points."""
    return Axis.around([0.0, *(100 * end for each in changes for end in (each.low, each.high))], room=0.03, least=2.0)


def change_rows(index: Index, pays: Pays) -> tuple[tuple[ChangeRow, ...], tuple[ChangeRow, ...]]:
    """The changes that bring half a point and more, or lead, and the small ones."""
    axis = changes_axis(pays.changes)
    rows = [(each, _change(index, pays, each, axis)) for each in pays.changes]
    lead = [row for place, (each, row) in enumerate(rows) if place < _LEADING or each.gain >= _SMALL]
    return tuple(lead), tuple(row for _, row in rows[len(lead) :])


def gain_words(index: Index, change: PayingChange) -> str:
    """`+1.1 points`."""
    return show_change_alone(change.gain, change.low, change.high, "1", index.system)


def _change(index: Index, pays: Pays, change: PayingChange, axis: Axis) -> ChangeRow:
    clear = change.low > 0.0
    return ChangeRow(
        words=capital(change.change),
        strip=StripPicture(
            axis,
            "",  # the same stands beside it
            latest=(100 * change.gain,),
            reach=(100 * change.low, 100 * change.high),
            zero=0.0,
            ticks=axis.ticks(_TICKS),
            clear=clear,
        ),
        gain=gain_words(index, change),
        interval=_interval(index, change),
        costs=sentence(_costs(index, change)),
        worth=sentence(f"saves {worth_words(index, change)}"),
        basis=_basis(change),
        aside=_against_the_balance(pays, change),
        clear=clear,
    )


def _interval(index: Index, change: PayingChange) -> str:
    """`0.8 to 1.4`; empty where both ends are shown as the same."""
    ends = between(change.low, change.high, "1", index.system)
    first, _, last = ends.partition(f"{UNBROKEN}to{UNBROKEN}")
    return "" if first == last else ends


def _against_the_balance(pays: Pays, change: PayingChange) -> str:
    """That the record and the balance disagree on how thick to mash, where they do; else empty."""
    thinner = next((each for each in pays.changes if each.key == "thinner-mash"), None)
    thicker = next((each for each in pays.changes if each.key == "liquor_to_grist" and _falls(each)), None)
    if thinner is None or thicker is None or change not in (thinner, thicker):
        return ""
    return "Your record and the balance disagree on how thick to mash, so which of the two pays is open."


def _falls(change: PayingChange) -> bool:
    now, setting = change.now, change.setting
    return isinstance(now, float) and isinstance(setting, float) and setting < now


def worth_words(index: Index, change: PayingChange) -> str:
    """`3.2 kg of malt a year, 5.20 by your prices`, for the same beer."""
    malt = f"{malt_words(index, change.kg_a_year)} of malt a year"
    money = money_words(change.money_a_year)
    return f"{malt}, {money} by your prices" if money else malt


def _costs(index: Index, change: PayingChange) -> str:
    """What a change takes: time, and what is to be boiled off."""
    said = []
    if change.boil_off:
        said.append(f"{join(str(show(change.boil_off, 0.0, 'L', index.system)))} more to boil off")
    if change.minutes is None:
        said.append("how much longer it takes is not known")
    elif abs(change.minutes) >= _LEAST_TIME:
        said.append(join(plain(abs(change.minutes), 0), "min", "more" if change.minutes > 0 else "less"))
    return in_words(said) or "takes no more time"


def _basis(change: PayingChange) -> Link:
    if change.result is not None:
        return Link(f"Clear in your record, {change.result.batches} batches, at the settings tried.", PRACTICE_PAGE)
    return Link("Worked through your brewhouse’s own balance.")


def habit_rows(habits: Sequence[Habit]) -> tuple[HabitRow, ...]:
    """The habits that lie outside what is usual, cheapest first."""
    return tuple(
        HabitRow(capital(habit.words), join(habit.yours), habit.usual, f"{habit.advice} {habit.why}".strip())
        for habit in habits
        if habit.standing == "outside"
    )


def usual_words(habits: Sequence[Habit]) -> str:
    """What is as it should be already, in a line; empty for nothing."""
    told = [f"{habit.words} {join(habit.yours)}".strip() for habit in habits if habit.standing == "as usual"]
    return sentence(f"as usual already, so nothing to change: {in_words(told)}") if told else ""


def unwritten_words(habits: Sequence[Habit]) -> str:
    """What is not written down, so that nobody can say; empty for nothing."""
    names = [habit.words for habit in habits if habit.standing == "not written"]
    return sentence(f"not written down, so nobody can say: {in_words(names)}") if names else ""


#: The readings that tell most of where the extract goes, the most telling first, and what they are called.
_TELLING = (
    ("the volume and gravity in the fermenter", (read_at("fermenter", VOLUME), read_at("fermenter", GRAVITY))),
    (
        "the volume and gravity of the full kettle, before the boil",
        (read_at("kettle", VOLUME), read_at("kettle", GRAVITY)),
    ),
    ("the strength of the first wort", (read_at("first_wort", GRAVITY),)),
    ("the volume at knockout", (read_at("knockout", VOLUME),)),
)


def readings_to_add(batches: Sequence[Batch]) -> tuple[str, ...]:
    """The two readings that would tell most of those that most of the batches lack."""

    def has_all(batch: Batch, readings: Iterable[KnownReading]) -> bool:
        return all(written_at(batch, reading.path) is not None for reading in readings)

    return tuple(
        words for words, readings in _TELLING if 2 * sum(has_all(batch, readings) for batch in batches) <= len(batches)
    )[:2]
