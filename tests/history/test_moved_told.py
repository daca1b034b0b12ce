"""What is said of what moved: on a few simulated journals, with checks and changes in brewery.yaml, in words and as data."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits, entry
from history.moved_brewery import INSTRUMENTS, Moved, journal_of
from history.moved_trials import KINDS, Trial, trial
from history.told import Told, exact, tell_of
from texts import brewery_of

from journal.balance.own import own_estimates
from journal.history import BrewhouseStory
from journal.history.moved.corrected import corrected
from journal.history.moved.move import Move, PossibleCause
from journal.history.moved.record import MovedRecord
from journal.history.moved.said import InstrumentCheck
from journal.history.moved.told import causes_named
from journal.history.moved.words import (
    checks_that_tell,
    consequence,
    move_sentence,
    on_its_batches,
    said_words,
    where_it_counts,
)
from journal.history.usual import usual_of
from journal.pages.data import journal_json
from journal.pages.index import Index
from journal.pages.keys import page_keys
from journal.pages.parts.moved import moved_here
from journal.pages.record import Record
from journal.pages.site.accounts import accounts_model
from journal.pages.site.batch import batch_model
from journal.problems import Problem
from journal.publishing.understanding import understand

#: The day of the 20th batch of a simulated journal.
DAY_OF_20 = "2020-01-21"


@cache
def tried(kind: str) -> tuple[Trial, ...]:
    """A seeded share of what `moved_trials.py` measures."""
    return tuple(trial(KINDS[kind], number, 90_000 + number, brewery_of(BREWERY)) for number in range(3))


@pytest.mark.long
@pytest.mark.parametrize(
    "kind",
    ["hydrometer +0.003", "kettle marks +4 %", "liquor measure 4 %", "fermenter marks 5 %", "conversion 4 points"],
)
def test_what_moved_is_named_first_or_its_twin(kind: str):
    answers = [answer for each in tried(kind) for answer in each.answers]
    assert sum(answer.right for answer in answers) >= len(answers) - 1
    assert all(answer.move for answer in answers)


@pytest.mark.long
@pytest.mark.parametrize("kind", ["hydrometer +0.003", "kettle marks +4 %", "liquor measure 4 %"])
def test_no_gain_is_claimed_of_an_instrument(kind: str):
    assert not any(each.untrue for each in tried(kind))


def hydrometer_journal(root: Path, settings: str = "") -> Told:
    simulated = journal_of(8, (Moved("hydrometer", 0.003),))
    return tell_of(
        root, simulated.entries, BREWERY.replace("{uncertainty: 0.0007}", f"{{uncertainty: 0.0007{settings}}}")
    )


def story(told: Told) -> BrewhouseStory:
    return told.history.brewhouses[0]


def cause(move: Move, name: str) -> PossibleCause:
    return next(each for each in move.causes if each.cause == name)


@pytest.mark.long
class TestCheckedInstruments:
    """A hydrometer that reads 3 points high from batch 20 on."""

    def test_a_check_that_shows_it_settles_it(self, tmp_path: Path):
        told = hydrometer_journal(tmp_path, ", checks: [{on: 2020-02-10, of: water at 20 degC, shows: 1.003}]")
        (move,) = story(told).moved.moves
        assert move.likeliest.cause == "hydrometer"
        assert move.sure
        assert move.likeliest.low <= 0.003 <= move.likeliest.high
        assert "hydrometer" in move.checked
        assert "Your check of the hydrometer is counted in." in said_words(move)
        assert not any("Float" in check for check in checks_that_tell(move))

    def test_a_check_that_shows_nothing_speaks_for_another_cause(self, tmp_path: Path):
        without = story(hydrometer_journal(tmp_path / "without")).moved.moves[0]
        told = hydrometer_journal(tmp_path / "with", ", checks: [{on: 2020-02-10, of: water at 20 degC, shows: 1.000}]")
        (move, *_) = story(told).moved.moves
        weight = next((each.weight for each in move.causes if each.cause == "hydrometer"), 0.0)
        assert weight < cause(without, "hydrometer").weight

    def test_readings_that_a_check_corrects_since_then_move_no_more(self, tmp_path: Path):
        since = f", checks: [{{on: 2020-02-10, since: {DAY_OF_20}, of: water at 20 degC, shows: 1.003}}]"
        assert story(hydrometer_journal(tmp_path, since)).moved.moves == ()

    def test_the_readings_are_corrected_beside_what_was_written(self, tmp_path: Path):
        # from the day of a check on its readings are corrected one by one: here none was left to brew
        told = hydrometer_journal(tmp_path, ", checks: [{on: 2020-03-10, of: water at 20 degC, shows: 1.003}]")
        course = story(told).course("brewhouse_efficiency")
        assert course is not None
        assert {point.written for point in course.points if int(point.batch) < 19} == {None}
        later = [point for point in course.points if int(point.batch) >= 21]
        assert later
        # three points of some fifty are six per cent of the extract, and so about five points of efficiency
        gone = [point.written - point.value for point in later if point.written is not None]
        assert len(gone) == len(later)
        assert 0.035 < sum(gone) / len(gone) < 0.065
        assert course.steps == ()
        worth = story(told).worth
        assert worth is None or not worth.sure


class TestWhatWasChanged:
    """Conversion four points better from batch 20 on; the brewer says why."""

    def told(self, root: Path, changes: str) -> Move:
        simulated = journal_of(12, (Moved("conversion", 0.04),))
        settings = f"{BREWERY}brewhouses: {{shed: {{name: Shed, changes: [{changes}]}}}}\n"
        return story(tell_of(root, simulated.entries, settings)).moved.moves[0]

    @pytest.mark.long
    def test_words_that_name_the_mill_speak_for_conversion(self, tmp_path: Path):
        bare = self.told(tmp_path / "bare", "")
        said = self.told(tmp_path / "said", f"{{on: {DAY_OF_20}, what: new mill rollers}}")
        assert cause(said, "conversion").weight > cause(bare, "conversion").weight
        assert said.told == "new mill rollers"
        assert "new mill rollers" in said_words(said)

    def test_words_and_the_causes_they_name(self):
        assert causes_named("new mill rollers") == {"conversion", "run-off"}
        assert causes_named("Another HYDROMETER, the old one broke") == {"hydrometer"}
        assert causes_named("moved house") == frozenset()


@pytest.mark.long
def test_a_crush_that_stays_otherwise_is_told_of(tmp_path: Path):
    simulated = journal_of(12, (Moved("conversion", 0.04),))
    texts = [
        text.replace("title: Simulated", f"title: Simulated\ncrush: {1.25 if number < 20 else 1.05} mm")
        for number, text in enumerate(simulated.entries, start=1)
    ]
    move = story(tell_of(tmp_path, texts)).moved.moves[0]
    assert move.likeliest.cause == "conversion"
    assert move.told == "mill gap 1.25 mm before, 1.05 mm since"


@pytest.mark.long
def test_a_lot_holds_for_its_batches_and_says_how_much(tmp_path: Path):
    simulated = journal_of(31, (Moved("malt lot", -0.05),), lots_at=20)
    found = story(tell_of(tmp_path, simulated.entries)).moved
    lot = f"pale lot {simulated.lots[19]}"
    move = next(each for each in found.moves if each.likeliest.of == lot)
    assert (move.first_batch, move.last_batch) == ("20", "27")
    assert move.likeliest.low <= 0.05 <= move.likeliest.high
    effect = next(each for each in found.lots if each.lot == lot)
    assert effect.low <= -0.05 / 0.81 <= effect.high < 0.0


@pytest.mark.long
def test_an_exact_journal_is_corrected_to_the_truth(tmp_path: Path):
    """Brews without scatter, once as they were and once by an instrument that shows too much: corrected they are the same."""
    truths = exact(9, Habits())
    plain = [entry(number, truth.readings, Habits()) for number, truth in enumerate(truths, start=1)]
    off = {
        "hydrometer": 0.003,
        "kettle marks": 0.04,
        "fermenter marks": 0.04,
        "liquor measure": 0.04,
        "malt scale": 0.03,
    }
    right = tell_of(tmp_path / "right", plain)
    brewhouse = right.journal.brewery.brewhouse_of(None)[1]
    usual = usual_of(right.journal.batches, right.balances, brewhouse)
    assert usual is not None
    for instrument, size in off.items():
        wrong = [INSTRUMENTS[instrument](truth.readings, size) for truth in truths]
        texts = [entry(number, readings, Habits()) for number, readings in enumerate(wrong, start=1)]
        told = tell_of(tmp_path / instrument.replace(" ", "-"), texts)
        for batch in told.journal.batches[-3:]:
            solution, true = told.balances[batch.id].solution, right.balances[batch.id].solution
            assert solution is not None
            assert true is not None
            put_right = own_estimates(
                corrected(batch, solution, {instrument: size}),
                usual.expected["batch sparge"],
                told.figures[batch.id].results,
            )
            truth = own_estimates(true, usual.expected["batch sparge"], right.figures[batch.id].results)
            for figure, value in truth.values.items():
                assert put_right.values[figure].value == pytest.approx(
                    value.value, abs=0.004 if figure != "boil_off" else 0.08
                ), (
                    instrument,
                    figure,
                )


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    simulated, tmp_path = journal_of(8, (Moved("kettle marks", 0.04),)), tmp_path_factory.mktemp("kettle")
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "brewery.yaml").write_text(BREWERY)
    for number, text in enumerate(simulated.entries, start=1):
        (tmp_path / "entries" / f"{number:02d}.md").write_text(text)
    return tmp_path


@pytest.fixture(scope="module")
def record(root: Path) -> Record:
    return understand(root)


@pytest.mark.long
class TestNotesAndData:
    def test_a_note_once_at_the_first_batch(self, record: Record):
        notes: list[Problem] = [each for each in record.problems if each.code == "level-moved"]
        (note,) = notes
        assert note.file_name in {"entries/19.md", "entries/20.md", "entries/21.md"}
        assert note.message.startswith("From batch ")
        assert "the kettle’s marks show" in note.message
        assert "Pour 10.0 kg of water into the kettle" in note.hint

    def test_the_pages_of_its_batches_say_so_and_are_made_anew_when_it_changes(self, record: Record):
        index, without = Index(record), Index(replace(record, moved={}))
        (note,) = [each for each in record.problems if each.code == "level-moved"]
        first = int(note.file_name.removeprefix("entries/").removesuffix(".md"))
        said = {batch.id: [link.words for link in moved_here(index, batch)] for batch in index.batches}
        assert [batch for batch, words in said.items() if words] == [str(number) for number in range(first, 41)]
        ((sentence,),) = {tuple(words) for words in said.values() if words}
        assert "the kettle’s marks" in sentence
        for model in (batch_model, accounts_model):
            assert [link.words for link in model(index, index.batches[-1]).moved] == [sentence]
        keys, other = page_keys(index), page_keys(without)
        assert [batch for batch in keys if keys[batch] != other[batch]] == [
            batch for batch, words in said.items() if words
        ]

    def test_the_data_file_says_the_same(self, root: Path):
        told = tell_of(root / "again", [(root / "entries" / f"{n:02d}.md").read_text() for n in range(1, 41)])
        record = Record(told.journal, told.figures, (), told.balances, told.history)
        (move,) = json.loads(journal_json(record))["moved"]
        assert set(move) == {"brewhouse", "first_batch", "last_batch", "causes", "to_check"}
        assert move["last_batch"] is None
        (lead, *_) = move["causes"]
        assert set(lead) == {"cause", "of", "size", "low", "high", "unit", "weight"}
        assert (lead["cause"], lead["of"], lead["unit"]) == ("kettle marks", "", "1")
        assert lead["low"] <= 0.04 <= lead["high"]
        assert sum(each["weight"] for each in move["causes"]) >= 0.95
        weights = [each["weight"] for each in move["causes"]]
        assert weights == sorted(weights, reverse=True)


def test_a_gain_is_the_doing_of_what_makes_one():
    """Boil-off moves no extract out of the fermenter, and conversion none the other way than it goes (hand)."""

    def claimed(name: str, size: float, change: float) -> bool:
        made = PossibleCause(name, "", size, size / 2, size * 1.5, "1", 1.0, "3", None)
        record = MovedRecord((Move((made,)),), (), {}, ("1", "2", "3", "4"))
        return record.by_brewing(["1", "2"], ["3", "4"], change)

    assert claimed("conversion", 0.03, 0.02)
    assert claimed("kettle loss", 0.8, -0.02)
    assert not claimed("conversion", 0.03, -0.02)
    assert not claimed("boil-off", 0.7, -0.02)
    assert not claimed("hydrometer", 0.003, 0.02)


class TestWords:
    SURE = PossibleCause("hydrometer", "", 0.003, 0.0026, 0.0034, "SG", 0.98, "20", None)

    def test_one_that_is_sure(self):
        move = Move((self.SURE,))
        assert move_sentence(move) == "From batch 20 on the hydrometer reads 3.0 points high (2.6 to 3.4)"
        assert consequence(move).startswith("The record corrects these batches")
        assert checks_that_tell(move) == ("Float the hydrometer in distilled water at 20 degC: it must show 1.000.",)

    def test_several_and_how_surely(self):
        others = (
            replace(self.SURE, weight=0.7),
            PossibleCause("conversion", "", -0.02, -0.034, -0.006, "1", 0.2, "20", None),
            PossibleCause("malt lot", "pale 3", 0.02, 0.0, 0.04, "1", 0.06, "20", "27"),
        )
        assert move_sentence(Move(others)) == (
            "From batch 20 on the level is different: most likely the hydrometer reads 3.0 points high (2.6 to 3.4) (70 %), "
            "or conversion is 2.0 points lower (0.6 to 3.4) (20 %), or something else"
        )
        assert consequence(Move(others)) == "Until that is settled, neither a gain nor a loss is claimed of it."

    def test_a_check_that_agrees_asks_for_its_day_and_one_that_does_not_stops_the_correction(self):
        day = date(2020, 1, 20)
        agrees = Move((self.SURE,), checks=(InstrumentCheck("hydrometer", 30, 0.0025, 0.0005),))
        assert agrees.corrects
        assert said_words(agrees) == "Your check of the hydrometer is counted in."
        assert checks_that_tell(agrees) == ()
        assert where_it_counts(agrees, day).startswith("Add `since: 2020-01-20` to your check of the hydrometer")
        denies = Move((self.SURE,), checks=(InstrumentCheck("hydrometer", 30, 0.0, 0.0005),))
        assert not denies.corrects
        assert said_words(denies).startswith("Your check of the hydrometer shows otherwise")
        assert consequence(denies).startswith("Until that is settled, nothing is corrected")
        assert any("Float" in check for check in checks_that_tell(denies))
        # the latest check is the one that counts
        again = replace(denies, checks=(*denies.checks, InstrumentCheck("hydrometer", 31, 0.003, 0.0005)))
        assert again.corrects

    def test_on_the_page_of_each_batch_whatever_its_size(self):
        beside = PossibleCause("conversion", "", -0.02, -0.034, -0.006, "1", 0.2, "20", None)
        assert on_its_batches(Move((self.SURE,))) == (
            "All batches together say that the hydrometer reads high from batch 20 on: the record corrects this batch for "
            "that; the numbers here go by its readings as written."
        )
        assert on_its_batches(Move((replace(self.SURE, weight=0.8), beside))) == (
            "All batches together say that the level is different from batch 20 on, and the hydrometer or conversion in the "
            "mash may be why: until that is settled, no gain or loss is claimed of it."
        )
        lot = PossibleCause("malt lot", "pale 3", 0.03, 0.02, 0.04, "1", 0.96, "20", "27")
        assert on_its_batches(Move((lot,))) == (
            "All batches together say that lot pale 3 gives less extract than its sheet says from batch 20 to batch 27: the "
            "record corrects this batch for that; the numbers here go by its sheet."
        )

    def test_a_lot_in_its_batches(self):
        lot = PossibleCause("malt lot", "pale 3", 0.03, 0.02, 0.04, "1", 0.96, "20", "27")
        assert move_sentence(Move((lot,))) == (
            "From batch 20 to batch 27 lot pale 3 gives 3.0 points less extract than its sheet says (2.0 to 4.0)"
        )

    def test_units_of_the_us(self):
        boiled = PossibleCause("boil-off", "", 0.6, 0.4, 0.8, "L/h", 0.99, "20", None)
        assert (
            move_sentence(Move((boiled,)), "us")
            == "From batch 20 on the boil drives off 0.16 gal/h more (0.11 to 0.21)"
        )
