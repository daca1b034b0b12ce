"""theme.yaml: which built-in look a brewer's own theme stands on."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.problems import Place, Problem, Source, Span
from journal.reading.located_yaml import Mapping, read_yaml
from journal.reading.table import entry_field, read_fields
from journal.reading.values import Context, Text


@dataclass(frozen=True)
class ThemeSettings:
    """What theme.yaml states."""

    on: str | None = entry_field(Text(), "the built-in look that shows wherever the theme is silent", required=True)

    place: Place | None = None


def read_theme_settings(source: Source) -> tuple[ThemeSettings, list[Problem]]:
    """The settings that one text states, each with its place."""
    node, problems = read_yaml(source)
    if not isinstance(node, Mapping):
        place = Place(source, node.span if node else Span(0, min(1, len(source.text))))
        hint = "Write the built-in look it stands on, such as on: almanac."
        return ThemeSettings(), problems or [Problem("wrong-shape", "there are no fields here", hint, place)]
    context = Context(source)
    values = read_fields(ThemeSettings, node, "", context)
    place = Place(source, context.places.get("on", node.span), "on")
    return ThemeSettings(**values, place=place), [*problems, *context.problems]
