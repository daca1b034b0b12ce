"""A brewer's template that can't be set: jinja2's exceptions as problems with template and line."""

from __future__ import annotations

import re
import traceback
from collections.abc import Iterable
from dataclasses import replace

from jinja2 import TemplateError, TemplateSyntaxError

from journal.frozen import dataclass
from journal.pages.limits import TooMuchError
from journal.pages.model import Model
from journal.pages.own_theme import OwnTheme
from journal.pages.site.accounts import AccountsModel
from journal.pages.site.batch import BatchModel
from journal.pages.site.broken import BrokenModel
from journal.problems import Place, Problem, Source, Span

_SEE = "The built-in template of the same name shows what a page has."
#: Where Python's and jinja2's messages name a class by its module, which says nothing to a brewer.
_MODULE = re.compile(r"'(?:\w+\.)+(\w+)( object)?'")
_QUOTED = re.compile(r"'(\w+)'")


@dataclass(frozen=True)
class TemplateFault:
    """What kept one page from being set: where in a template, why, the page's path, and the entry that it is of, if it is of one."""

    place: Place
    why: str
    page: str
    entry: str


@dataclass(frozen=True)
class PageFault:
    """What kept one page or file from being made for a fault of the program: its path, and why."""

    path: str
    why: str


class TemplateBroken(Exception):  # noqa: N818  # it says what has happened, as jinja2's own do
    """A brewer's template could not be set; raised by the renderer, and made a `Problem` by those who call it."""

    def __init__(self, fault: TemplateFault) -> None:
        super().__init__(fault)
        self.fault = fault


def place_in(source: Source, line: int, words: str = "") -> Place:
    """A line of a template, or the given words in it where they stand there."""
    lines = source.text.split("\n")
    line = min(max(line, 1), len(lines))
    start = sum(len(each) + 1 for each in lines[: line - 1])
    text = lines[line - 1]
    at = text.find(words) if words else -1
    if at < 0:
        at, words = len(text) - len(text.lstrip()), text.strip()
    return Place(source, Span(start + at, start + at + len(words)))


def syntax_problem(source: Source, error: TemplateSyntaxError) -> Problem:
    """A template that can't be read as one."""
    why = (error.message or "it can't be read").rstrip(".")
    message = f"the template can't be read: {why[:1].lower()}{why[1:]}"
    return Problem("template-broken", message, _SEE, place_in(source, error.lineno))


def fault_of(error: Exception, own: OwnTheme, page: str, model: Model, template: str = "") -> TemplateFault | None:
    """What an exception says of a brewer's template: the innermost place in one; None where none has a part in it."""
    frames = [(frame, own.source_at(frame.filename)) for frame in traceback.extract_tb(error.__traceback__)]
    places = [(source, frame.lineno or 1) for frame, source in frames if source is not None]
    if not places and isinstance(error, TemplateError):
        # a built-in template misses something in one of the brewer's that it takes macros from
        named = [name for name in own.templates if f"'{name}'" in str(error)]
        places = [(own.templates[name], 1) for name in named]
    if not places and isinstance(error, TooMuchError):
        # what is set is counted outside the templates: the page's own is meant, or the first that may have a part in it
        asked = own.templates.get(template) or next(iter(own.templates.values()), None)
        places = [(asked, 1)] if asked else []
    if not places:
        return None
    source, line = places[-1]
    why = _MODULE.sub(r"'\1'", str(error).rstrip(".")) or type(error).__name__
    if isinstance(error, RecursionError):
        why = "templates extend or include one another in a circle"
    missing = _QUOTED.findall(why)
    return TemplateFault(place_in(source, line, missing[-1] if missing else ""), why, page, _entry_of(model))


def same_fault(fault: TemplateFault, page: str, model: Model) -> TemplateFault:
    """A fault on another page, which what caused it would keep from being set as well."""
    return replace(fault, page=page, entry=_entry_of(model))


def _entry_of(model: Model) -> str:
    return model.file if isinstance(model, AccountsModel | BatchModel | BrokenModel) else ""


def problems_of(faults: Iterable[TemplateFault]) -> list[Problem]:
    """Each fault once, however many pages it kept from being set; the first of them is named."""
    by_cause: dict[tuple[str, int, str], list[TemplateFault]] = {}
    for fault in faults:
        by_cause.setdefault((fault.place.source.name, fault.place.line, fault.why), []).append(fault)
    return [_problem(same) for same in by_cause.values()]


def _problem(same: list[TemplateFault]) -> Problem:
    first = min(same, key=lambda fault: (not fault.entry, fault.entry, fault.page))
    whose = f"the page of {first.entry}" if first.entry else first.page
    others = len(same) - 1
    more = f" and {others} other{'s' if others > 1 else ''}" if others else ""
    message = f"the template can't be set: {first.why}; it broke {whose}{more}"
    return Problem("template-broken", message, _SEE, first.place)
