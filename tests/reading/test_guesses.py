"""What people write who guess: read where it can only mean one thing, else told of at the line that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import HEAD, codes, entry, journal_at

from journal.problems import Problem, Source
from journal.reading import read_entry

#: Below the head of an entry, which takes the first four lines.
FIRST = 5


def problems_of(fields: str) -> list[Problem]:
    return read_entry(Source("entries/31.md", f"---\n{HEAD}{fields}\n---\n"))[1]


@pytest.mark.parametrize(
    ("fields", "line", "says", "instead"),
    [
        ("style bitter\ncrush: 1 mm", 0, "a colon is missing after `style`", "style: bitter"),
        ("style = bitter\ncrush: 1 mm", 0, "a colon is missing", "style: bitter"),
        ("crush: 1 mm\nstyle bitter", 1, "a colon is missing", "style: bitter"),
        ("mash\n  liquor: 14 L", 0, "a colon is missing", "mash:"),
        ("mash:\n  liquor 14 L\n  strike: 70 degC", 1, "a colon is missing", "liquor: 14 L"),
        ("style:bitter\ncrush: 1 mm", 0, "no space follows the colon", "style: bitter"),
        ("mash:\n  liquor:14 L\n  strike: 70 degC", 1, "no space follows the colon", "liquor: 14 L"),
        ("style: bitter\n  crush: 1 mm", 1, "further in than the one above", "`style`"),
        ("mash:\n    liquor: 14 L\n  strike: 70 degC", 2, "lines up with nothing", "with 4 spaces"),
        ("grains:\n  - malt: rye malt\n   weight: 4 kg", 2, "lines up with nothing", "with 4 spaces"),
        ("mash:\n  liquor: 14 L\n  - stirred", 2, "hyphen", "not both"),
        ('style: "bitter\ncrush: 1 mm', 0, "never closes", '"'),
        ('style: "bitter\ntags: ["a", "b"]', 0, "never closes", '"'),
        ("style: 'brewer's bitter'\ncrush: 1 mm", 0, "close before the value ends", '"brewer\'s bitter"'),
        ('style: "bitter" and dark\ncrush: 1 mm', 0, "close before the value ends", "one pair"),
        ("tags: [dark, winter\ncrush: 1 mm", 0, "[ that opens here never closes", "]"),
        ("mash: {liquor: 14 L\ncrush: 1 mm", 0, "{ that opens here never closes", "}"),
        ("tags: [dark]]\ncrush: 1 mm", 0, "closes nothing", "Delete"),
        ("style: bitter: the second", 0, "second colon", '"bitter: the second"'),
        ("style:\u00a0bitter\ncrush: 1 mm", 0, "U+00A0", "plain space"),
        ("mash:\n\u00a0 liquor: 14 L\n  strike: 70 degC", 1, "U+00A0", "plain space"),
        ("style: @home", 0, "can't begin with @", '"@home"'),
        ("style: *best* bitter", 0, "can't begin with *", '"*best* bitter"'),
        ('style: "a\\q"', 0, "backslash", "single"),
    ],
)
def test_a_slip_in_the_yaml_is_told_at_its_line_with_what_fits_it(
    fields: str, line: int, says: str, instead: str
) -> None:
    (problem,) = problems_of(fields)
    assert problem.code == "yaml-syntax"
    assert problem.line == FIRST + line
    assert says in problem.message
    assert instead in problem.hint


@pytest.mark.parametrize(
    ("fields", "code", "instead"),
    [
        ("grains: [{malt: malt extract, dry, weight: 1 kg}]", "unknown-field", 'malt: "malt extract, dry"'),
        ("boil: {time:60 min}", "unknown-field", "time: 60 min"),
        ("mash:\n\u00a0 liquor: 14 L", "unknown-field", "plain space"),
        ("mash:\n  liquor:14 L", "wrong-shape", "liquor: 14"),
        ("tags:\n  -dark\n  -winter", "wrong-shape", "- dark"),
        ("tags:\n  - dark: and cold\n", "wrong-shape", '"dark: and cold"'),
        ("style: #1 bitter", "hidden-by-hash", '"#1 bitter"'),
        ("paddle_turns: 12", "unknown-field", "nder `practice`"),
        ("mash: {paddle_turns: 12}", "unknown-field", "nder `practice`"),
        ("mash: {liqour: 14 L}", "unknown-field", "Did you mean `liquor`?"),
        ("units: us", "unknown-field", "It belongs in entries/brewery.yaml, once"),
        ("hydrometer: 0.001", "unknown-field", "entries/brewery.yaml, under `instruments`"),
        ("boil_off: 3 L/h", "unknown-field", "entries/brewery.yaml, under its brewhouse"),
        ("hops: [{hop: Long Hedge, weight: 30 g}]", "unknown-field", "It belongs in `mash.hops`, `boil.hops`"),
        ("gravity: 1.048", "unknown-field", "`wortbook fields gravity` lists all places"),
        ("yeast: staithe ale", "unknown-field", "It belongs in `fermenter.yeast`."),
        (
            "mash: {temperature: 67 degC}",
            "unknown-field",
            "It belongs in `mash.rests`, a list, each a rest such as 66.5",
        ),
        ("mash: {time: 60 min}", "unknown-field", "It belongs in `mash.rests`"),
        ("boil: {hops: [{hop: x, weight: 30 g, time: 60 min}]}", "unknown-field", "Did you mean `boiled`?"),
        ("boil: {hops: [{name: x, hop: x, weight: 30 g}]}", "unknown-field", "Did you mean `hop`?"),
        ("name: Best Bitter", "unknown-field", "Did you mean `title`?"),
        ("notes: forgot the yeast", "unknown-field", "below the second line of three hyphens"),
        ("fermenter: {temperatures: 18 degC}", "wrong-shape", "[{on: 2026-04-11 17:30, temperature: 18 degC}]"),
        ("fermenter: {temperatures: [18 degC]}", "wrong-shape", "{on: 2026-04-11 17:30, temperature: 18 degC}"),
        ("fermenter: {yeast: {amount: 1 pack}}", "unit-unknown", "Did you mean 1 packet?"),
        ("fermenter: {yeast: {amount: 1 vial}}", "unit-unknown", "Did you mean 1 packet?"),
        (
            "mash: {additions: [{addition: gypsum, amount: 1 pinch}]}",
            "unit-unknown",
            "Write a weight such as 4 g, a volume such as 5 mL or a count such as 1 packet.",
        ),
        ("mash: {additions: [{addition: gypsum, amount: 4}]}", "unit-missing", "write a weight such as 4 g, a volume"),
        ("dry_hops: [{hop: x, weight: 30 g}]", "unknown-field", "It belongs in `fermenter.hops`"),
        ("boil: {whirlpool: [{hop: x, weight: 30 g}]}", "unknown-field", "It belongs in `stand.hops`"),
        (
            "boil: {additions: [{addition: sucrose, weight: 1 kg, alpha: 5 %}]}",
            "unknown-field",
            "Hops belong in `boil.hops`",
        ),
        # a pound of sucrose in a US gallon gives 46.2 points (common practice): 37 are 80 % of that
        ("grains: [{malt: pale malt, weight: 4 kg, extract: 37 ppg}]", "unit-wrong-kind", "Write 80 %"),
        ("grains: [{malt: pale malt, weight: 4 kg, extract: 1.037}]", "unit-wrong-kind", "Write 80 %"),
        ("grains: [{malt: pale malt, weight: 4 kg, extract: 37}]", "unit-missing", "write 37 %, or 80 % if"),
        ("grains: [{malt: pale malt, weight: 4 kg, extract: 0.81}]", "unit-missing", "in per cent: 81 %."),
        ("mash: {liquor: 14 min}", "unit-wrong-kind", "a volume such as 14.0 L, a weight such as 24.6 kg or a depth"),
        ("grains: [{malt: pale malt, weight: 4 kg, extract: 80}]", "unit-missing", "write 80 %."),
        ("boil: {on: 9/12/2026}", "not-a-date", "year-month-day: 2026-09-12 or 2026-12-09."),
        ("boil: {on: 9/13/2026}", "not-a-date", "year-month-day: 2026-09-13."),
        ("boil: {on: 13.9.26}", "not-a-date", "year-month-day: 2026-09-13."),
        ("boil: {on: 2026-9-13}", "not-a-date", "year-month-day: 2026-09-13."),
        ('boil: {on: "Sept 12th, 2026"}', "not-a-date", "Write year-month-day, such as 2026-04-11."),
        ('boil: {on: "Sep 12th, 2026"}', "not-a-date", "year-month-day: 2026-09-12."),
        ("fermenter: {pitched: 9/13/2026 18:00}", "not-a-time", "year-month-day: 2026-09-13 18:00."),
        ("boil: {on: 2026-02-30}", "not-a-date", "Write year-month-day, such as"),
        ("boil: {after: {volume: 19 firkins}}", "unit-unknown", "a weight such as 24.6 kg or a depth"),
    ],
)
def test_what_yaml_takes_otherwise_gets_a_hint_that_says_so(fields: str, code: str, instead: str) -> None:
    (problem,) = problems_of(fields)
    assert problem.code == code
    assert instead in problem.hint


@pytest.mark.parametrize(
    "fields",
    [
        "grains: [{malt: Pale Malt, weight: 9 1/2 lb}, {malt: 2-row, weight: ½ lb}, {malt: DME, weight: 1 lb}]",
        "lauter: {liquor: 12 quarts, time: 1 hr}",
        "mash: {liquor: 16 quarts, additions: [{addition: sugar, weight: 8 ounces}]}",
        "boil: {before: {volume: 7 US gal}, time: 1 1/2 hrs}",
        "mash: {additions: [{addition: CaCl2, amount: 4 g}, {addition: Campden tablet, amount: 1 tablet}]}",
        "lauter: {method: Batch Sparge}\nmash: {mixing: Stirred}",
        # a comment beside a blank field is none of its value
        "style:  # expected: a bitter\ncrush: 1 mm",
        "style: '#1 bitter'",
        "tasting: [{on: 2026-05-01, words: 'clear: and dry'}]",
    ],
)
def test_what_can_only_mean_one_thing_is_read(fields: str) -> None:
    assert problems_of(fields) == []


def test_below_three_dots_everything_is_read_still() -> None:
    text = f"---\n{HEAD}...\nmash: {{liquor: 14 L}}\ncrush: 1 mm\n---\n"
    batch, problems = read_entry(Source("entries/31.md", text))
    assert [(problem.code, problem.line) for problem in problems] == [("yaml-ended", 5)]
    assert batch is not None
    assert batch.mash.liquor is not None
    assert batch.crush is not None


@pytest.mark.parametrize("ending", ["...", "...\n", "...\n\n# that was all\n"])
def test_three_dots_with_nothing_below_them_end_nothing(ending: str) -> None:
    assert codes(problems_of(f"crush: 1 mm\n{ending}")) == []


def test_a_quantity_where_its_field_is_not_is_read_as_it_would_be_there() -> None:
    found = problems_of("mash: {time: 60}")
    assert [problem.code for problem in found] == ["unknown-field", "unit-missing"]
    assert "60 min" in found[1].hint


def test_a_hydrometer_made_for_60_degc_is_one_for_60_degf(tmp_path: Path) -> None:
    text = "instruments: {hydrometer: {calibrated_at: 60 degC}}"
    brew = entry("mash: {liquor: 14 L}")
    (problem,) = journal_at(tmp_path, {"1.md": brew, "brewery.yaml": text})[1]
    assert (problem.code, problem.hint) == ("temperature-doubtful", "Check the unit: 60 degF?")
    for made_for in ("60 degF", "68 degF", "20 degC"):
        assert not journal_at(tmp_path, {"1.md": brew, "brewery.yaml": text.replace("60 degC", made_for)})[1]
