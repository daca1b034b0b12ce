"""Does the record say what moved: whole journals in which one thing moves, read, balanced and told.

`python tests/history/moved_trials.py [JOURNALS] [KIND ...]` prints the table that stands in tests/measured/moved.md, so many journals of
each kind and twice as many in which nothing moves; the tests run a small share. Everything goes through the entries' text.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.simulated_brewery import BREWERY, Habits
from history.moved_brewery import AT, Moved, SimulatedJournal, journal_of
from texts import brewery_of

from journal.figures import figures_of
from journal.history import balance_all
from journal.history.moved.move import Move
from journal.history.moved.record import MovedRecord, moved_of
from journal.history.observations import observations
from journal.history.story import course_of, worth_since_step
from journal.history.usual import sheet_sd
from journal.history.worth import Worth
from journal.problems import Source
from journal.reading import Brewery, Entry, Journal, Malts, read_entry

#: A move is told where it was within so many batches.
NEAR = 8
#: Causes that leave one pattern, by the cause: any of them named first is right.
TWINS = {
    "fermenter marks": {"fermenter marks", "kettle loss"},
    "kettle loss": {"fermenter marks", "kettle loss"},
    "malt lot": {"malt lot", "conversion"},
    "conversion": {"malt lot", "conversion"},
    "malt scale": {"malt scale", "conversion", "malt lot"},
}


@dataclass(frozen=True)
class Kind:
    """What moves, by the journal's number; `lots_at`: a lot of malt begins with that batch, and lasts if `lot_lasts`."""

    moved: Callable[[int], tuple[Moved, ...]]
    lots_at: int | None = None
    lot_lasts: bool = False


def _one(kind: str, size: float, both_ways: bool = False) -> Callable[[int], tuple[Moved, ...]]:
    return lambda number: (Moved(kind, -size if both_ways and number % 2 else size),)


KINDS = {
    "hydrometer +0.003": Kind(_one("hydrometer", 0.003)),
    "kettle marks +4 %": Kind(_one("kettle marks", 0.04)),
    "liquor measure 4 %": Kind(_one("liquor measure", 0.04, both_ways=True)),
    "fermenter marks 5 %": Kind(_one("fermenter marks", 0.05, both_ways=True)),
    "kettle loss +0.8 L": Kind(_one("kettle loss", 0.8)),
    "lot -3 points, eight batches": Kind(_one("malt lot", -0.03), lots_at=AT),
    "lot -3 points, to the end": Kind(_one("malt lot", -0.03), lots_at=AT, lot_lasts=True),
    "conversion 4 points": Kind(_one("conversion", 0.04, both_ways=True)),
    "conversion 4 points, with a new lot": Kind(_one("conversion", 0.04, both_ways=True), lots_at=AT, lot_lasts=True),
    "malt scale 3 %": Kind(_one("malt scale", 0.03, both_ways=True)),
    "boil-off 0.6 L/h": Kind(_one("boil-off", 0.6, both_ways=True)),
    "hydrometer, then kettle marks": Kind(lambda _: (Moved("hydrometer", 0.003, 14), Moved("kettle marks", 0.04, 28))),
    "conversion, then boil-off": Kind(lambda _: (Moved("conversion", 0.04, 14), Moved("boil-off", 0.6, 28))),
    "lot, then hydrometer": Kind(lambda _: (Moved("malt lot", -0.03, 14), Moved("hydrometer", 0.003, 26)), lots_at=14),
}
NOTHING = Kind(lambda _: ())


#: What truly changes how much of the extract reaches the fermenter, and which way as it grows.
GAINS = {"conversion": 1.0, "run-off": -1.0, "absorption": -1.0, "dead space": -1.0, "kettle loss": -1.0}
JUDGED = "brewhouse_efficiency"


def told(simulated: SimulatedJournal, brewery: Brewery) -> tuple[MovedRecord, Worth | None]:
    """What the record says moved in a simulated journal, and what it claims was saved; nothing else of the history is made."""
    entries = []
    for number, text in enumerate(simulated.entries, start=1):
        source = Source(f"entries/{number:02d}.md", text)
        batch, problems = read_entry(source)
        assert batch is not None, problems
        entries.append(Entry(source.name, batch, (), ()))
    journal = Journal(Path(), brewery, Malts(), tuple(entries))
    batches = journal.batches
    figures = {batch.id: figures_of(batch, brewery, journal.malts) for batch in batches}
    balances = balance_all(journal, figures)
    moved = moved_of(batches, balances, figures, journal)
    seen, lot_sd = observations(batches, balances, figures, journal, moved), sheet_sd(batches, figures)
    course = course_of(JUDGED, seen, lot_sd, moved)
    return moved, worth_since_step(course, batches, figures, journal, seen, lot_sd, moved)


@dataclass(frozen=True)
class Answer:
    """What was said of one thing that moved: the nearest move in time; None where none was near."""

    moved: Moved
    move: Move | None
    #: Of a lot: its estimated deficit in points of extract over 100, and whether its interval holds the true one.
    lot: tuple[float, bool] | None = None

    @property
    def named(self) -> list[str]:
        return [cause.cause for cause in self.move.causes] if self.move else []

    @property
    def right(self) -> bool:
        """The right cause first, or its twin."""
        return bool(self.named) and self.named[0] in TWINS.get(self.moved.kind, {self.moved.kind})

    @property
    def listed(self) -> bool:
        return self.moved.kind in self.named

    @property
    def within(self) -> bool | None:
        """Whether the true size lies in the interval; None where the cause is not listed."""
        size = -self.moved.size if self.moved.kind == "malt lot" else self.moved.size
        return (
            next((c.low <= size <= c.high for c in self.move.causes if c.cause == self.moved.kind), None)
            if self.move
            else None
        )


@dataclass(frozen=True)
class Trial:
    """A journal's answers, and how many moves were told in all.

    `claimed`: whether grain saved, or spent, was claimed; `untrue`: and the brewing had not changed that way.
    """

    answers: tuple[Answer, ...]
    told: int
    claimed: bool
    untrue: bool


def trial(kind: Kind, number: int, seed: int, brewery: Brewery) -> Trial:
    """One journal of a kind."""
    simulated = journal_of(seed, kind.moved(number), kind.lots_at, kind.lot_lasts)
    record, worth = told(simulated, brewery)
    answers = []
    for moved in simulated.moved:
        near = [m for m in record.moves if abs(int(m.first_batch) - moved.at) <= NEAR]
        nearest = min(
            near,
            key=lambda m: (moved.kind not in [c.cause for c in m.causes], abs(int(m.first_batch) - moved.at)),
            default=None,
        )
        lot = None
        if moved.kind == "malt lot":
            name = f"pale lot {simulated.lots[moved.at - 1]}"
            effect = next((e for e in record.lots if e.lot == name), None)
            extract = Habits().malt_extract
            lot = (
                (np.nan, False)
                if effect is None
                else (effect.effect * extract, effect.low * extract <= moved.size <= effect.high * extract)
            )
        answers.append(Answer(moved, nearest, lot))
    claimed = worth is not None and worth.sure
    true = worth is not None and any(
        GAINS.get(each.kind, 0.0) * each.size * worth.change > 0.0 for each in simulated.moved
    )
    return Trial(tuple(answers), len(record.moves), claimed, claimed and not true)


def row(name: str, trials: list[Trial]) -> str:
    """A line of the table."""
    answers = [answer for each in trials for answer in each.answers]
    sizes = [within for answer in answers if (within := answer.within) is not None]
    listed = [len(answer.named) for answer in answers if answer.move]
    line = (
        f"{name:36s}{np.mean([a.right for a in answers]):9.1%}{np.mean([a.listed for a in answers]):9.1%}"
        f"{np.mean([bool(a.move) for a in answers]):9.1%}{np.mean(listed) if listed else np.nan:9.2f}"
        f"{np.mean(sizes) if sizes else np.nan:9.1%}{sum(t.told > len(t.answers) for t in trials):6d}"
        f"{sum(t.claimed for t in trials):8d}{sum(t.untrue for t in trials):8d}"
    )
    lots = [answer.lot for answer in answers if answer.lot]
    if lots:
        near = np.mean(
            [abs(found - answer.moved.size) <= 0.01 for answer in answers if answer.lot for found in [answer.lot[0]]]
        )
        held = np.mean([held for _, held in lots])
        line += f"\n    the lot's estimate within 1 point: {near:.1%}; its interval holds the truth: {held:.1%}"
    return line


def table(count: int, kinds: list[str]) -> None:
    """Print the table row by row."""
    brewery = brewery_of(BREWERY)
    print(
        f"{'what moved':36s}{'right':>9s}{'listed':>9s}{'found':>9s}{'causes':>9s}{'size in':>9s}{'more':>6s}{'claims':>8s}{'untrue':>8s}"
    )
    whole: list[Trial] = []
    for place, (name, kind) in enumerate(KINDS.items()):
        if not kinds or name in kinds:
            trials = [trial(kind, number, 1000 * (place + 1) + number, brewery) for number in range(count)]
            whole += trials
            print(row(name, trials), flush=True)
    if whole:
        print(row("all", whole), flush=True)
    if not kinds or "nothing" in kinds:
        none = [trial(NOTHING, number, 100_000 + number, brewery) for number in range(2 * count)]
        print(f"nothing moved: journals that report anything: {np.mean([t.told > 0 for t in none]):.1%} of {len(none)}")
        print(f"nothing moved: journals that claim grain saved or spent: {sum(t.untrue for t in none)}")


if __name__ == "__main__":
    table(int(sys.argv[1]) if len(sys.argv) > 1 else 100, sys.argv[2:])
