"""What is learnt of a brewhouse, against the truth of brews without error, and where its brewer states otherwise."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from history.told import Told, exact_texts, tell_of

from journal.history.brewhouse import LearntValue, disagreements
from journal.problems import Problem, Severity
from journal.publishing import understand

HABITS = Habits(boil_off=3.6, kettle_loss=1.8, conversion=0.93, water_held=1.24, shortfall=0.02)


def settings(boil_off: str = "", loss: str = "", dead_space: str = "0.5 L") -> str:
    lines = ["brewhouses:", "  shed:", "    name: Shed"]
    lines += [f"    boil_off: {boil_off}"] if boil_off else []
    lines += [f"    mash_tun: {{dead_space: {dead_space}}}"]
    lines += ["    kettle:", f"      loss: {loss}"] if loss else []
    return BREWERY + "\n".join(lines) + "\n"


def learnt(told: Told) -> dict[str, LearntValue]:
    return {found.name: found for found in told.history.brewhouses[0].record.learnt}


def notes(told: Told) -> list[Problem]:
    return disagreements([story.record for story in told.history.brewhouses], told.journal.brewery)


@pytest.fixture(scope="module")
def exact(tmp_path_factory: pytest.TempPathFactory) -> Told:
    return tell_of(tmp_path_factory.mktemp("exact"), exact_texts(14, HABITS), settings())


@pytest.mark.parametrize(
    ("name", "truth", "near"),
    [
        # readings are written to 0.01 L and 0.0001; the handbook's table of densities is good to 0.005 %
        ("boil_off", HABITS.boil_off, 0.02),
        ("kettle_loss", HABITS.kettle_loss, 0.02),
        ("conversion", HABITS.conversion, 0.004),
        ("water_held", HABITS.water_held, 0.02),
        ("shortfall", HABITS.shortfall, 0.004),
    ],
)
def test_levels_are_near_the_truth_of_exact_brews(exact: Told, name: str, truth: float, near: float) -> None:
    found = learnt(exact)[name]
    assert found.level.batches == 14
    assert found.level.mean == pytest.approx(truth, abs=near)
    assert found.level.error < found.level.spread
    assert [batch for batch, _ in found.course] == [str(number) for number in range(1, 15)]


def test_absorption_is_liquor_in_less_wort_out(exact: Told) -> None:
    grain = [exact.figures[str(n)]["grain_weight"].value for n in range(1, 15)]
    liquor = [exact.figures[str(n)]["total_liquor"].value for n in range(1, 15)]
    wort = [exact.figures[str(n)]["kettle_volume"].value for n in range(1, 15)]
    each = [(w_in - 0.5 - out) / kg for w_in, out, kg in zip(liquor, wort, grain, strict=True)]
    assert learnt(exact)["absorption"].level.mean == pytest.approx(sum(each) / 14, abs=0.02)


def test_nothing_is_learnt_of_two_batches(tmp_path: Path) -> None:
    assert learnt(tell_of(tmp_path, exact_texts(2, HABITS))) == {}


def test_what_goes_by_the_method_is_learnt_of_each(tmp_path: Path) -> None:
    entries = exact_texts(8, HABITS)
    fly = [text.replace("batch sparge", "fly sparge") for text in entries[:3]]
    record = tell_of(tmp_path, [*fly, *entries[3:]]).history.brewhouses[0].record
    counts = {(found.name, found.method): found.level.batches for found in record.learnt}
    assert (counts["water_held", "fly sparge"], counts["water_held", "batch sparge"]) == (3, 5)
    assert counts["boil_off", ""] == 8


def test_a_stated_value_that_fourteen_boils_contradict_is_one_note_at_its_line(tmp_path: Path) -> None:
    text = settings(boil_off="3.1 L/h", loss="1.8 L")
    told = tell_of(tmp_path, exact_texts(14, HABITS), text)
    (note,) = notes(told)
    assert (note.code, note.severity) == ("record-disagrees", Severity.NOTE)
    assert note.file_name == "entries/brewery.yaml"
    assert note.line == 1 + text.split("\n").index("    boil_off: 3.1 L/h")
    said = re.fullmatch(
        r"you state boil off as 3\.1 L/h; your last 14 batches say ([\d.]+) ± ([\d.]+) L/h", note.message
    )
    assert said is not None, note.message
    assert float(said[1]) == pytest.approx(HABITS.boil_off, abs=float(said[2]))


def test_a_stated_value_that_the_record_bears_out_is_not_spoken_of(tmp_path: Path) -> None:
    told = tell_of(tmp_path, exact_texts(14, HABITS), settings(boil_off="3.6 L/h", loss="1.8 L"))
    assert notes(told) == []
    assert learnt(told)["boil_off"].stated is not None


@pytest.mark.parametrize(("count", "spoken"), [(7, []), (8, ["record-disagrees"])])
def test_it_is_spoken_of_from_eight_batches_on(count: int, spoken: list[str], tmp_path: Path) -> None:
    told = tell_of(tmp_path, exact_texts(count, HABITS), settings(boil_off="2.6 L/h"))
    assert [note.code for note in notes(told)] == spoken


def test_a_vaguely_stated_value_is_not_contradicted(tmp_path: Path) -> None:
    told = tell_of(tmp_path, exact_texts(14, HABITS), settings(boil_off="3.1 ± 0.3 L/h"))
    assert notes(told) == []


def test_the_note_is_among_the_problems_of_the_journal(tmp_path: Path) -> None:
    tell_of(tmp_path, exact_texts(14, HABITS), settings(boil_off="3.1 L/h"))
    found = [problem for problem in understand(tmp_path).problems if problem.code == "record-disagrees"]
    assert len(found) == 1
