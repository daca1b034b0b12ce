"""Which theme the pages are set in: the one asked for, else the one brewery.yaml names, else the default."""

from __future__ import annotations

from pathlib import Path

from journal.pages.own_templates import template_problems
from journal.pages.own_theme import SETTINGS, THEMES, own_themes, read_own
from journal.pages.themes import DEFAULT, Theme, built_in_looks
from journal.problems import Place, Problem, Severity, did_you_mean, worst
from journal.reading.brewery import Brewery
from journal.reading.theme import read_theme_settings


def choose_theme(root: Path, wanted: str | None, brewery: Brewery) -> tuple[Theme | None, list[Problem]]:
    """The theme of a journal and every problem of it; None where pages can't be set in it.

    A brewer's own theme goes before a built-in one of the same name.
    """
    name = wanted if wanted is not None else brewery.theme or DEFAULT
    if name in own_themes(root):
        return _own(root, name)
    if name in built_in_looks():
        return Theme(name), []
    place = None if wanted is not None or brewery.source is None else _of_brewery(brewery)
    return None, [_unknown(root, name, place)]


def _of_brewery(brewery: Brewery) -> Place | None:
    span = brewery.places.get("theme")
    return Place(brewery.source, span, "theme") if brewery.source and span else None


def _unknown(root: Path, name: str, place: Place | None) -> Problem:
    known = sorted({*built_in_looks(), *own_themes(root)})
    hint = f"Themes here: {', '.join(known)}."
    if (root / THEMES / name).is_dir() and name not in {"", ".", ".."}:
        hint = f"{THEMES}/{name}/ holds no {SETTINGS}; write one that says on: {DEFAULT}. {hint}"
    else:
        hint = f"{did_you_mean(name, known)} {hint}".lstrip()
    return Problem("theme-unknown", f"no theme is called “{name}”", hint, place, file="" if place else THEMES)


def _own(root: Path, name: str) -> tuple[Theme | None, list[Problem]]:
    own, source, problems = read_own(root, name)
    if source is None:
        return None, problems
    settings, more = read_theme_settings(source)
    problems = [*problems, *more]
    if settings.on is None:
        return None, problems
    if settings.on not in built_in_looks():
        hint = f"A theme stands on a built-in one: {', '.join(built_in_looks())}."
        problems.append(Problem("theme-unknown", f"no built-in theme is called “{settings.on}”", hint, settings.place))
        return None, problems
    theme = Theme(settings.on, own)
    problems += template_problems(theme)
    return (None if worst(problems) is Severity.ERROR else theme), problems
