"""Problems as workflow commands: a code host that runs checks shows them beside the lines of a change."""

from __future__ import annotations

from collections.abc import Iterable

from journal.problems.problem import Problem
from journal.problems.rules import Severity
from journal.problems.show.printable import printable

_COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}


def as_annotations(problems: Iterable[Problem]) -> str:
    """`::error file=…,line=…,col=…,title=…::message`, one line each; what the syntax takes for its own is escaped."""
    return "\n".join(_one(problem) for problem in problems)


def _one(problem: Problem) -> str:
    properties = {
        "file": problem.file_name,
        "line": str(problem.line),
        "col": str(problem.column),
        "title": problem.code,
    }
    told = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
    return printable(f"::{_COMMANDS[problem.severity]} {told}::{_data(problem.full_message)}")


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
