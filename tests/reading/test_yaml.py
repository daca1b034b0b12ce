"""YAML read strictly, as YAML 1.2 has it where 1.1 differs; every value keeps its place."""

import gc
import sys
from collections.abc import Callable

import pytest
from texts import HEAD, batch_of, codes, entry, read

from journal.problems import Source
from journal.reading import read_entry
from journal.reading.located_yaml import Mapping, Scalar, Sequence, read_yaml


@pytest.mark.parametrize(
    "word", ["no", "off", "on", "yes", "y", "n", "1:30", "60:30", "0o17", "012", "12_000", "1e3", "0x1F", "2026-04-11"]
)
def test_words_that_yaml_1_1_takes_for_something_else(word: str) -> None:
    """YAML 1.2.2, section 10.3: the core schema; YAML 1.1 made booleans, base-60 and octal numbers of these."""
    batch = batch_of(f"style: {word}\ntags: [{word}]")
    assert batch.style == word
    assert batch.tags == (word,)


@pytest.mark.parametrize("word", ["no", "off", "1:30", "0o17", "12_000"])
def test_practice_keeps_them_too_save_for_yes_and_no(word: str) -> None:
    assert batch_of(f"practice: {{way: {word}}}").practice == {"way": False if word == "no" else word}


@pytest.mark.parametrize(
    ("word", "value"),
    [("slow", "slow"), ("12", 12.0), ("-1.5", -1.5), ("yes", True), ("true", True), ("no", False), ("1e3", "1e3")],
)
def test_practice_is_a_word_a_number_or_yes_or_no(word: str, value: str | float | bool) -> None:
    assert batch_of(f"practice: {{way: {word}}}").practice["way"] == value
    assert type(batch_of(f"practice: {{way: {word}}}").practice["way"]) is type(value)


@pytest.mark.parametrize(("word", "value"), [("yes", True), ("no", False), ("true", True), ("False", False)])
def test_yes_and_no_where_a_field_wants_one(word: str, value: bool) -> None:
    assert batch_of(f"crush: 1.1 mm\ntrust: {{crush: {word}}}").trust == {"crush": value}


@pytest.mark.parametrize("word", ["off", "on", "0", "1", "y", "null-ish"])
def test_anything_else_is_neither_yes_nor_no(word: str) -> None:
    _, problems = read(f"crush: 1.1 mm\ntrust: {{crush: {word}}}")
    assert codes(problems) == ["not-yes-or-no"]


@pytest.mark.parametrize("quoted", ["31", '"31"', "'31'"])
def test_an_id_is_one_however_quoted(quoted: str) -> None:
    assert batch_of("", head=HEAD.replace("31", quoted)).id == "31"


def test_block_and_flow_forms_are_equal() -> None:
    flow = batch_of(
        "boil: {before: {volume: 25 L at 65 degC, gravity: 1.044}, hops: [{hop: East Field Goldings, weight: 30 g}]}\n"
        "readings: [{at: 2026-04-13 20:00, gravity: 1.022}]\nmash: {rests: [66.5 degC for 60 min]}"
    )
    block = batch_of(
        """
        boil:
          before:
            volume: 25 L at 65 degC
            gravity: 1.044
          hops:
          - hop: East Field Goldings
            weight: 30 g
        readings:
          -
            at: 2026-04-13 20:00
            gravity: 1.022
        mash:
          rests:
            - temperature: 66.5 degC
              time: 60 min
        """
    )
    assert (flow.boil, flow.readings, flow.mash) == (block.boil, block.readings, block.mash)


def test_quotes_fold_and_block_texts() -> None:
    batch = batch_of(
        """
        style: "best \\u0062itter"
        tags: ['it''s', plain,
          two
          lines]
        fermenter:
          yeast: >-
            house
            ale
        """
    )
    assert batch.style == "best bitter"
    assert batch.tags == ("it's", "plain", "two lines")
    assert batch.fermenter.yeast.strain == "house ale"


@pytest.mark.parametrize("opening", ["---", "--- ", "---\t", "---   "])
@pytest.mark.parametrize("closing", ["---", "--- ", "--- \t"])
def test_white_space_after_the_hyphens_does_not_matter(opening: str, closing: str) -> None:
    batch, problems = read_entry(Source("x.md", f"{opening}\n{HEAD}{closing}\nProse.\n"))
    assert codes(problems) == []
    assert batch is not None
    assert batch.prose == "Prose.\n"


def test_front_matter_ends_at_the_first_line_of_hyphens() -> None:
    batch, problems = read_entry(Source("x.md", f"---\n{HEAD}---\nOne.\n\n---\n\nTwo.\n"))
    assert codes(problems) == []
    assert batch is not None
    assert batch.prose == "One.\n\n---\n\nTwo.\n"


def test_an_entry_without_prose_may_end_at_once() -> None:
    batch, problems = read_entry(Source("x.md", f"---\n{HEAD}---"))
    assert codes(problems) == []
    assert batch is not None
    assert batch.prose == ""


@pytest.mark.parametrize("closing", ["...", "----", " ---", "--", ""])
def test_what_does_not_close_the_front_matter(closing: str) -> None:
    batch, problems = read_entry(Source("x.md", f"---\n{HEAD}{closing}\n"))
    assert batch is None
    assert codes(problems) == ["front-matter-open"]
    assert problems[0].line == 1


def test_the_end_mark_of_a_document_is_harmless_before_the_hyphens() -> None:
    assert codes(read("style: bitter\n...")[1]) == []


def calls_of(action: Callable[[], object]) -> int:
    """How many calls an action makes: what it takes, on a machine of whatever speed."""
    made = 0

    def count(*_: object) -> None:
        nonlocal made
        made += 1

    # what others left behind is cleared away whenever its turn comes, and those calls would be counted too
    gc.disable()
    sys.setprofile(count)
    try:
        action()
    finally:
        sys.setprofile(None)
        gc.enable()
    return made


@pytest.mark.parametrize("opening", ["[", "{", "{a: ", "[{a: ", "- ", "? "])
def test_deep_nesting_is_refused_at_once(opening: str) -> None:
    deep, deeper = (Source("x.md", entry(f"tags:\n  {opening * levels}")) for levels in (2_000, 20_000))
    batch, problems = read_entry(deeper)
    assert problems
    assert all(problem.line == 6 for problem in problems)
    assert batch is None
    # ten times as deep, and not a step more
    assert calls_of(lambda: read_entry(deeper)) == calls_of(lambda: read_entry(deep)) < 10_000


@pytest.mark.parametrize(
    ("value", "code", "line", "column"),
    [
        ("style: &a x", "yaml-anchor", 5, 8),
        ("style: x\ntags: [&b y]", "yaml-anchor", 6, 8),
        ("style: *a", "yaml-anchor", 5, 8),
        ("style: !!str x", "yaml-tag", 5, 8),
        ("style: !x y", "yaml-tag", 5, 8),
        ("mash:\n  liquor: 14 L\n\tstrike: 70 degC", "yaml-tab", 7, 1),
        ("mash:\n  rests:\n  -\t- x", "yaml-tab", 7, 4),
        ("mash:\n  liquor: 14 L\n \tstrike: 70 degC", "yaml-tab", 7, 2),
        ("style: a\nstyle: b", "repeated-field", 6, 1),
        ("style: a\n'style': b", "repeated-field", 6, 1),
        ("style: a: b", "yaml-syntax", 5, 8),
        ("style: @x", "yaml-syntax", 5, 8),
        ("style: x\x07y", "yaml-syntax", 5, 9),
    ],
)
def test_each_refusal_has_its_place(value: str, code: str, line: int, column: int) -> None:
    _, problems = read_entry(Source("x.md", f"---\n{HEAD}{value}\n---\n"))
    assert code in codes(problems)
    problem = next(p for p in problems if p.code == code)
    assert (problem.line, problem.column) == (line, column)
    assert problem.hint


def test_a_tab_that_is_no_indentation_is_fine() -> None:
    assert batch_of("style:\tbitter\ntags: [a,\tb]\t# note").tags == ("a", "b")


def test_the_rest_of_a_text_is_read_though_a_part_is_faulty() -> None:
    batch, problems = read(
        "style: &a bitter\ncrush: 1,1 mm\nmash: {liquor: 14 L, liquor: 15 L}\nlauter: {time: 35 min}"
    )
    assert batch is not None
    assert codes(problems) == ["yaml-anchor", "repeated-field", "decimal-comma"]
    assert batch.style == "bitter"
    assert batch.lauter.time is not None


def test_offsets_count_characters_after_signs_of_many_bytes() -> None:
    text = "a: 🍺 °P ±\nb: [é, {c: 日本}]\n"
    node, problems = read_yaml(Source("x.yaml", text))
    assert problems == []
    assert isinstance(node, Mapping)
    (_, first), (_, second) = node.pairs
    assert isinstance(second, Sequence)
    inner = second.items[1]
    assert isinstance(inner, Mapping)
    for part, shown in ((first, "🍺 °P ±"), (second.items[0], "é"), (inner.pairs[0][1], "日本"), (inner, "{c: 日本}")):
        assert text[part.span.start : part.span.end] == shown


def test_quotes_belong_to_the_place_and_not_to_the_value() -> None:
    text = "a: 'x y'\nb: \"z\"\n"
    node, _ = read_yaml(Source("x.yaml", text))
    assert isinstance(node, Mapping)
    values = [value for _, value in node.pairs]
    assert [value.text for value in values if isinstance(value, Scalar)] == ["x y", "z"]
    assert [text[value.span.start : value.span.end] for value in values] == ["'x y'", '"z"']


def test_a_fault_inside_quotes_is_marked_inside_them() -> None:
    _, problems = read('boil: {time: "60 mins"}')
    assert problems[0].place is not None
    assert problems[0].place.text == "mins"
