"""The schema of the front matter: judged by a public validator, against entries that are known to be right or wrong."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
import yaml
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from journal.cli import main
from journal.measures import Measure, read_measure
from journal.problems import Source
from journal.reading import Batch, read_entry
from journal.reading.kinds import KINDS
from journal.reading.schema import TABLES, field_lines, json_schema
from journal.reading.table import FieldFacts, Group, fields_of
from journal.reading.values import AnyOf, ListOf, Quantity

ROOT = Path(__file__).parents[2]
DEMO = sorted((ROOT / "entries").rglob("*.md"))
COMPLETE = ROOT / "tests" / "reading" / "cases" / "complete.md"


class _Loader(yaml.SafeLoader):
    """YAML 1.2's scalars as editors' language servers read them, dates as text."""


_Loader.yaml_implicit_resolvers = {
    first: [
        (tag, pattern)
        for tag, pattern in resolvers
        if tag not in {"tag:yaml.org,2002:timestamp", "tag:yaml.org,2002:bool"}
    ]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def front_matter(path: Path) -> Any:
    return yaml.load(path.read_text("utf-8").split("\n---", 1)[0].removeprefix("---"), _Loader)


def faults(found: Any, file: str = "entry") -> list[str]:
    validator = Draft202012Validator(json_schema(file))
    return [f"{'.'.join(map(str, error.absolute_path))}: {error.message}" for error in validator.iter_errors(found)]


@pytest.mark.parametrize("file", TABLES)
def test_it_is_a_schema(file: str) -> None:
    Draft202012Validator.check_schema(json_schema(file))


@pytest.mark.parametrize("path", [*DEMO, COMPLETE], ids=lambda path: path.stem)
def test_an_entry_that_is_right_is_right_by_it(path: Path) -> None:
    assert faults(front_matter(path)) == []


@pytest.mark.parametrize("name", ["brewery", "malts"])
def test_the_settings_of_the_demo_are_right_by_it(name: str) -> None:
    found = yaml.load((ROOT / "entries" / f"{name}.yaml").read_text("utf-8"), _Loader)
    assert faults(found, name) == []


RIGHT = {"batch": 1, "title": "A", "brewed": "2026-04-11"}


@pytest.mark.parametrize(
    ("more", "at"),
    [
        ({"ferment": {}}, ""),
        ({"brewed": "11.4.2026"}, "brewed"),
        ({"grains": [{"malt": "pale malt", "weight": "4,2 kg"}]}, "grains.0.weight"),
        ({"grains": [{"malt": "pale malt", "weight": "4.2"}]}, "grains.0.weight"),
        ({"grains": [{"weight": "4.2 kg"}]}, "grains.0"),
        ({"lauter": {"method": "colander"}}, "lauter.method"),
        ({"boil": {"before": {"volume": "24 min"}}}, "boil.before.volume"),
        ({"mash": {"rests": ["66.5 degC"]}}, "mash.rests.0"),
    ],
)
def test_what_is_wrong_is_wrong_by_it_at_its_place(more: dict[str, Any], at: str) -> None:
    found = faults({**RIGHT, **more})
    assert any(fault.startswith(f"{at}: ") for fault in found), found


def test_blank_fields_are_as_good_as_absent() -> None:
    assert faults({**RIGHT, "style": None, "mash": {"liquor": None, "rests": None}, "grains": None}) == []


def test_every_field_has_a_meaning_and_its_path_is_in_the_schema() -> None:
    for file in TABLES:
        for line in field_lines(file):
            assert line.meaning, line.path
    paths = {line.path for line in field_lines()}
    assert {"mash.rests[].infusion", "mash.rests[].decoction", "fermenter.yeast.starter.volume"} <= paths
    assert {"boil.before.volume", "grains[].weight", "mash.rests", "readings[].at"} <= paths


def run(*arguments: str) -> str:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exit_code == 0, result.output
    return result.output


def test_the_commands_tell_the_same_table() -> None:
    assert json.loads(run("schema", "malts")) == json_schema("malts")
    assert "boil.before.volume" in run("fields")
    told = run("fields", "first_wort")
    assert run("fields", "malts") == run("fields", "--of", "malts")
    assert "instruments.hydrometer" in run("fields", "brewery")
    assert told.count("\n") == 1
    assert "strength of the first wort" in told
    assert "NAME.price" in run("fields", "--of", "malts")


def test_a_field_nobody_knows_is_answered_with_the_nearest() -> None:
    result = CliRunner().invoke(main, ["fields", "mash.liqour"])
    assert result.exit_code == 2
    assert "Did you mean mash.liquor?" in result.output


def test_words_of_the_format_are_told_as_they_are_written() -> None:
    told = run("fields", "mash.mixing")
    assert "none | stirred | recirculated" in told
    assert "None" not in told
    assert "trust: {boil.before.volume: no}" in run("fields", "trust")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("brewhouses.main.mash_tun.dead_space", "brewhouses.NAME.mash_tun.dead_space"),
        ("price", "In entries/malts.yaml:"),
        ("malts.pale-2511.moisture", "NAME.moisture"),
        ("readings[4].gravity", "readings[].gravity"),
        ("boil.hops[0].alpha", "such as 5.5 %"),
    ],
)
def test_a_field_is_found_by_any_path_that_a_message_may_name_and_in_any_file(name: str, says: str) -> None:
    assert says in run("fields", name)


def test_every_kind_of_malt_and_sugar_is_listed_where_one_may_stand() -> None:
    listed = " ".join((run("fields", "malt") + run("fields", "boil.additions")).split()).replace("- ", "-")
    assert {kind for kind in KINDS if kind not in listed} == set()
    assert "pale malt" in json_schema()["properties"]["grains"]["items"]["properties"]["malt"]["examples"]


def test_every_example_of_a_quantity_is_one() -> None:
    """What `fields` shows can be written as it stands."""
    for value in _values(fields_of(Batch)):
        for kind in value.kinds if isinstance(value, AnyOf) else (value.kind,):
            assert isinstance(read_measure(kind.example, kind), Measure), kind.example


@pytest.mark.parametrize("name", ["grains", "mash.rests", "mash.additions", "boil.hops", "readings", "tasting", "tags"])
def test_a_list_is_shown_as_a_block_that_can_be_written_as_it_stands(name: str) -> None:
    block = dedent(run("fields", name).rpartition("Written as a block, with the lines you need:\n")[2])
    assert "\n  - " in block or "\n    - " in block
    problems = read_entry(Source("entries/1.md", f"---\nbatch: 1\ntitle: A\nbrewed: 2026-04-11\n{block}---\n"))[1]
    assert [problem.message for problem in problems] == []


@pytest.mark.parametrize(
    ("field", "example"),
    [("malt_scale", "20 g"), ("hydrometer.uncertainty", "0.0007"), ("ph_meter.uncertainty", "0.03")],
)
def test_an_example_fits_its_field(field: str, example: str) -> None:
    assert example in run("fields", f"instruments.{field}")


def _values(table: dict[str, FieldFacts]) -> Iterator[AnyOf | Quantity]:
    for facts in table.values():
        value = facts.value.item if isinstance(facts.value, ListOf) else facts.value
        if isinstance(value, Group):
            yield from _values(fields_of(value.record))
        elif isinstance(value, AnyOf | Quantity):
            yield value
