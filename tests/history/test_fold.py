"""The record in order of date: every batch is balanced with what the earlier ones taught, and with nothing else."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, entry, read
from texts import journal_at

from journal.balance import BROKEN, CLOSES, STRAINED, TOO_FEW, Balance, common_practice
from journal.figures import figures_of
from journal.history import balance_all
from journal.reading import Brewhouse

HABITS = Habits(boil_off=4.2, water_held=1.22)
Readings = dict[str, float]


@pytest.fixture(scope="module")
def brewed() -> dict[int, Readings]:
    rng = np.random.default_rng(21)
    return {number: read(brew(HABITS, 0.0, rng), Instruments(), rng) for number in range(1, 10)}


def balanced(root: Path, texts: dict[int, str], progress: list[tuple[int, int]] | None = None) -> dict[str, Balance]:
    # file names run against the dates
    files = {f"{100 - number}.md": text for number, text in texts.items()}
    journal, problems = journal_at(root, {"brewery.yaml": BREWERY, **files})
    assert [problem.message for problem in problems] == []
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    said = [] if progress is None else progress
    return balance_all(journal, figures, lambda done, total: said.append((done, total)))


def texts_of(brewed: dict[int, Readings]) -> dict[int, str]:
    return {number: entry(number, readings, HABITS) for number, readings in brewed.items()}


def spoilt(readings: Readings) -> str:
    return entry(0, readings | {"boil.after.gravity": readings["boil.after.gravity"] - 0.012}, HABITS)


def broken(number: int, brewed: dict[int, Readings], more: str = "") -> str:
    text = spoilt(brewed[number]).replace("batch: 0", f"batch: {number}")
    date = next(line for line in entry(number, brewed[number], HABITS).splitlines() if line.startswith("brewed"))
    text = "\n".join(date if line.startswith("brewed") else line for line in text.splitlines())
    return text[: text.rindex("---")] + more + "---\n"


def test_the_first_batch_is_expected_to_be_as_is_common(brewed, tmp_path):
    balances = balanced(tmp_path, texts_of(brewed))
    assert list(balances) == [str(number) for number in brewed]
    assert balances["1"].priors == common_practice(Brewhouse(), "batch sparge")


def test_each_batch_is_expected_to_be_as_the_earlier_ones_were(brewed, tmp_path):
    balances = balanced(tmp_path, texts_of(brewed))
    assert all(balances[str(number)].verdict.status in {CLOSES, STRAINED} for number in brewed)
    assert [balances[str(number)].priors.conversion.batches for number in brewed] == [0, 0, 0, 3, 4, 5, 6, 7, 8]
    last = balances["9"].priors
    assert last.boil_off.mean == pytest.approx(HABITS.boil_off, abs=3 * 0.2 / 8**0.5)
    assert last.boil_off.sd < 0.5
    assert last.conversion.sd < balances["1"].priors.conversion.sd


@pytest.mark.parametrize("changed", [2, 5, 9])
def test_a_later_batch_never_moves_an_earlier_one(brewed, tmp_path, changed):
    before = balanced(tmp_path / "before", texts_of(brewed))
    other = brewed | {changed: {path: value * 1.01 for path, value in brewed[changed].items()}}
    after = balanced(tmp_path / "after", texts_of(other))
    for number in brewed:
        same = before[str(number)].verdict == after[str(number)].verdict
        # a batch teaches from the third on
        assert same == (number < changed or number in range(changed + 1, 4)), number


@pytest.fixture(autouse=True)
def folders(tmp_path):
    for name in ("before", "after"):
        (tmp_path / name).mkdir()


def test_a_broken_batch_teaches_nothing(brewed, tmp_path):
    texts = texts_of(brewed)
    with_it = balanced(tmp_path / "before", texts | {4: broken(4, brewed)})
    without = balanced(tmp_path / "after", {number: text for number, text in texts.items() if number != 4})
    assert with_it["4"].verdict.status == BROKEN
    assert with_it["4"].figures == {}
    for number in (5, 6, 9):
        assert with_it[str(number)].priors == without[str(number)].priors
        assert with_it[str(number)].verdict == without[str(number)].verdict


def test_a_broken_batch_its_brewer_vouches_for_teaches(brewed, tmp_path):
    vouched = balanced(tmp_path, texts_of(brewed) | {4: broken(4, brewed, "trust: {balance: yes}\n")})
    assert vouched["4"].verdict.status == BROKEN
    assert vouched["5"].priors.conversion.batches == 4


def test_a_broken_batch_without_its_lie_teaches_again(brewed, tmp_path):
    mended = balanced(tmp_path, texts_of(brewed) | {4: broken(4, brewed, "trust: {boil.after.gravity: no}\n")})
    assert mended["4"].verdict.status in {CLOSES, STRAINED}
    assert mended["5"].priors.conversion.batches == 4


def test_how_the_grain_was_rinsed_teaches_only_its_own_kind(brewed, tmp_path):
    texts = texts_of(brewed)
    texts |= {number: texts[number].replace("batch sparge", "fly sparge") for number in (1, 2, 3, 4, 5)}
    priors = balanced(tmp_path, texts)["6"].priors
    assert (priors.water_held.batches, priors.shortfall.batches) == (0, 0)
    assert priors.boil_off.batches == 5
    assert priors.conversion.batches == 5
    assert priors.water_held == common_practice(Brewhouse(), "batch sparge").water_held


def test_each_brewhouse_has_its_own_record(brewed, tmp_path):
    settings = BREWERY + "brewhouses: {shed: {name: Shed}, barn: {name: Barn}}\n"
    houses = {number: "shed" if number % 2 else "barn" for number in brewed}
    texts = {
        number: text.replace("title: Simulated", f"title: Simulated\nbrewhouse: {houses[number]}")
        for number, text in texts_of(brewed).items()
    }
    files = {"brewery.yaml": settings, **{f"{number}.md": text for number, text in texts.items()}}
    journal, _ = journal_at(tmp_path, files)
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    balances = balance_all(journal, figures)
    assert balances["9"].priors.conversion.batches == 4
    assert balances["8"].priors.conversion.batches == 3


def test_a_planned_batch_and_one_of_too_few_readings_teach_nothing(brewed, tmp_path):
    planned = "---\nbatch: 4\ntitle: Planned\nbrewed: 2020-01-05\ngrains: [{malt: pale malt, weight: 5 kg}]\n---\n"
    balances = balanced(tmp_path, texts_of(brewed) | {4: planned})
    assert balances["4"].verdict.status == TOO_FEW
    assert balances["5"].priors.conversion.batches == 3


def test_it_says_how_far_it_is(brewed, tmp_path):
    said: list[tuple[int, int]] = []
    balanced(tmp_path, texts_of(brewed), said)
    assert said == [(done, 9) for done in range(9)]
