"""The problems that come of a balance: one for each fault, at its place, never an error."""

from __future__ import annotations

from datetime import date

import pytest
from balance.brewed_exactly import batch_with, brewery_at, entry_fields, struck, truth, written
from balance.simulated_brewery import BREWERY
from balance.test_verdict import LIES, lying, with_status
from texts import batch_of, journal_at

from journal.balance import CLOSES, STRAINED
from journal.balance.odd import find_odd
from journal.balance.words import sentence
from journal.figures import figures_of
from journal.figures.impossible import find_impossible
from journal.history import balance_all
from journal.problems import Problem, Severity
from journal.reading import Batch, Brewery, Malts

TRUE = truth().readings
LOOK = "Check the page that was written on the day, and correct the entry."


@pytest.fixture(scope="module")
def brewery(tmp_path_factory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def problems_of(batch: Batch, brewery: Brewery) -> list[Problem]:
    recorded = figures_of(batch, brewery, Malts())
    return find_odd(batch, brewery, struck(batch, brewery), find_impossible(batch, brewery, recorded))


def impossible_alone(batch: Batch, brewery: Brewery) -> list[str]:
    return [problem.code for problem in find_impossible(batch, brewery, figures_of(batch, brewery, Malts()))]


@pytest.mark.parametrize("path", LIES)
def test_a_broken_balance_is_one_warning_at_the_suspect(brewery, path):
    batch = lying(path)
    found = problems_of(batch, brewery)
    assert len(found) == 1
    problem = found[0]
    assert problem.severity is Severity.WARNING
    assert problem.path == path
    line = batch.source.text.splitlines()[problem.line - 1]
    assert line[problem.column - 1 :].startswith(batch.written(path))
    assert problem.hint


def test_its_message_is_the_verdict_and_its_hint_what_to_do(brewery):
    batch = lying("boil.before.volume", 26.6)
    assert impossible_alone(batch, brewery) == []
    problem = problems_of(batch, brewery)[0]
    assert problem.code == "balance-broken"
    assert problem.message == sentence(struck(batch, brewery), batch)
    assert "26.6 L" in problem.message
    assert "`trust: {boil.before.volume: no}`" in problem.hint


#: Lies of LIES that nothing but the balance gives away: what else they are impossible by takes the hint's place.
GIVEN_AWAY_BY_THE_BALANCE = ("lauter.liquor", "boil.before.volume", "boil.before.gravity")


@pytest.mark.parametrize("path", GIVEN_AWAY_BY_THE_BALANCE)
def test_who_writes_what_the_hint_says_has_mended_it(brewery, path):
    (problem,) = problems_of(lying(path), brewery)
    assert f"`trust: {{{path}: no}}`" in problem.hint
    assert problems_of(lying(path, more=f"trust: {{{path}: no}}"), brewery) == []


@pytest.mark.parametrize("path", [path for path in LIES if path not in GIVEN_AWAY_BY_THE_BALANCE])
def test_an_impossible_reading_asks_for_the_page_and_leaving_it_out_clears_the_balance(brewery, path):
    (problem,) = problems_of(lying(path), brewery)
    assert problem.code in {"reading-impossible", "volume-impossible"}
    assert problem.hint.endswith(LOOK)
    assert "trust" not in problem.hint
    assert struck(lying(path, more=f"trust: {{{path}: no}}"), brewery).verdict.status == CLOSES


def test_the_brewerys_units_are_those_of_the_message(tmp_path):
    brewery = brewery_at(tmp_path, "units: us\n" + BREWERY)
    assert " gal would." in problems_of(lying("boil.before.volume", 26.6), brewery)[0].message


def test_an_impossible_efficiency_and_the_broken_balance_are_one_problem(brewery):
    batch = lying("boil.before.gravity", 1.0780)
    assert impossible_alone(batch, brewery) == ["reading-impossible"]
    found = problems_of(batch, brewery)
    assert [problem.code for problem in found] == ["reading-impossible"]
    assert found[0].path == "boil.before.gravity"
    assert found[0].hint == f"{sentence(struck(batch, brewery), batch)} {LOOK}"
    assert "comes to" in found[0].message


def test_an_impossible_volume_that_is_the_suspect_is_one_problem(brewery):
    batch = lying("boil.after.volume", 27.0)
    assert impossible_alone(batch, brewery) == ["volume-impossible"]
    found = problems_of(batch, brewery)
    assert [problem.code for problem in found] == ["volume-impossible"]
    assert found[0].path == "boil.after.volume"
    assert found[0].hint == f"{sentence(struck(batch, brewery), batch)} {LOOK}"


def test_an_impossible_volume_of_another_cause_hides_no_broken_balance(brewery):
    batch = lying("lauter.liquor", more=f"package: {{on: {date(2026, 4, 27)}, volume: 40 L}}")
    assert impossible_alone(batch, brewery) == ["volume-impossible"]
    found = {problem.code: problem for problem in problems_of(batch, brewery)}
    assert set(found) == {"volume-impossible", "balance-broken"}
    assert found["volume-impossible"].path == "package.volume"
    assert found["balance-broken"].path == "lauter.liquor"


def test_what_was_forgotten_has_its_own_place(brewery):
    batch = batch_with({"grains[0].weight": f"{TRUE['grain']:.3f} kg"})
    (problem,) = problems_of(batch, brewery)
    assert problem.path == "grains[1].weight"
    assert "crystal lot" in problem.message


def test_a_strained_balance_is_a_note_at_the_reading_pulled_hardest(brewery):
    batch, _ = with_status(brewery, STRAINED)
    (problem,) = problems_of(batch, brewery)
    assert problem.code == "balance-strained"
    assert problem.severity is Severity.NOTE
    assert problem.path == "boil.before.gravity"


def test_a_clean_batch_and_one_of_too_few_readings_say_nothing(brewery):
    assert problems_of(batch_with({}), brewery) == []
    assert problems_of(batch_of("style: bitter\n"), brewery) == []


def test_a_reading_left_out_by_its_brewer_is_not_accused(brewery):
    assert problems_of(lying("boil.before.volume", 26.6, "trust: {boil.before.volume: no}"), brewery) == []


def test_what_is_impossible_stays_where_the_balance_has_nothing_to_say(brewery):
    text = written(TRUE) | {"lauter.method": "batch sparge"} | dict.fromkeys(LIES, "")
    text |= {"boil.before.volume": "25 L", "boil.after.volume": "28 L"}
    batch = batch_of(entry_fields(text).replace("mash: {}\n", "").replace("fermenter: {}\n", ""))
    found = problems_of(batch, brewery)
    assert [problem.code for problem in found] == impossible_alone(batch, brewery) == ["volume-impossible"]


def test_an_entry_that_cannot_be_read_is_not_balanced(tmp_path):
    good = entry_fields(written(TRUE) | {"lauter.method": "batch sparge"})
    head = "title: Lantern Bitter\nbrewed: 2026-04-{0}\nbatch: {0}\n"
    unread = good.replace("time: 60 min", "time: 60")
    files = {
        "brewery.yaml": BREWERY,
        "11.md": f"---\n{head.format(11)}{good}\n---\n",
        "12.md": f"---\n{head.format(12)}{unread}\n---\n",
    }
    journal, problems = journal_at(tmp_path, files)
    assert [(p.code, p.severity) for p in problems] == [("unit-missing", Severity.ERROR)]
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    assert list(balance_all(journal, figures)) == ["11"]
