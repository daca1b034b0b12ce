"""Problems for code hosts and analysis tools, by the letter of their published formats."""

from __future__ import annotations

import json

import pytest

from journal.problems import Place, Problem, Source, Span, show

SOURCE = Source("entries/a b,c.md", "---\nbatch: 1\nwéight: 4,2 kg\n---\n")
WHERE = Place(SOURCE, Span(SOURCE.text.index("4,2"), SOURCE.text.index("4,2") + 3), "weight")
PROBLEM = Problem("decimal-comma", "`weight`: 100 % wrong", "Write 4.2.\nWith a point.", WHERE)
NOWHERE = Problem("journal-missing", "there is no folder", "", file="entries")


def test_annotations_escape_what_the_syntax_takes_for_its_own() -> None:
    """Workflow commands: %, CR and LF are escaped in data, : and , in properties as well (the runner's toolkit, `command`)."""
    assert show.as_annotations([PROBLEM]) == (
        "::error file=entries/a b%2Cc.md,line=3,col=9,title=decimal-comma::"
        "`weight`: 100 %25 wrong. Write 4.2.%0AWith a point."
    )


@pytest.mark.parametrize(("code", "command"), [("balance-broken", "warning"), ("balance-strained", "notice")])
def test_severities_have_their_commands(code: str, command: str) -> None:
    assert show.as_annotations([Problem(code, "odd", "", WHERE)]).startswith(f"::{command} ")


def test_sarif_has_what_the_standard_requires() -> None:
    """SARIF 2.1.0, OASIS: 3.13 (log), 3.14 (run), 3.18-19 (tool), 3.27 (result), 3.30 (region), 3.49 (rule)."""
    log = json.loads(show.as_sarif([PROBLEM, NOWHERE]))
    assert log["version"] == "2.1.0"
    (run,) = log["runs"]
    assert run["columnKind"] == "unicodeCodePoints"
    driver = run["tool"]["driver"]
    assert driver["name"] == "wortbook"
    first, second = run["results"]
    for result in (first, second):
        assert driver["rules"][result["ruleIndex"]]["id"] == result["ruleId"]
        assert result["level"] in {"error", "warning", "note", "none"}
        assert result["message"]["text"]
    place = first["locations"][0]["physicalLocation"]
    # 3.4.4: a uri is encoded as RFC 3986 has it
    assert place["artifactLocation"]["uri"] == "entries/a%20b%2Cc.md"
    # 3.30.8: the end column is one beyond the last character
    assert place["region"] == {"startLine": 3, "startColumn": 9, "endLine": 3, "endColumn": 12}
    assert "region" not in second["locations"][0]["physicalLocation"]


def test_no_problems_are_a_run_without_results() -> None:
    (run,) = json.loads(show.as_sarif([]))["runs"]
    assert (run["results"], run["tool"]["driver"]["rules"]) == ([], [])
    assert show.as_annotations([]) == ""
