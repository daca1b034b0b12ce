"""Models to HTML: strict, autoescaped templates; the theme's first, then the bones'."""

from __future__ import annotations

import re

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.charts.draw import chart_svg
from journal.pages.models.trends import Chart
from journal.pages.page import Page
from journal.pages.themes import template_folders

_TICKED = re.compile(r"`([^`]+)`")


def ticked(text: str) -> Markup:
    """Text whose `backticked` words are the entry's own: those as code, all of it escaped."""
    parts = _TICKED.split(text)
    marked = (Markup("<code>{}</code>").format(part) if index % 2 else escape(part) for index, part in enumerate(parts))
    return Markup("").join(marked)


def _environment(theme: str) -> Environment:
    environment = Environment(
        loader=FileSystemLoader(template_folders(theme)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["ticked"] = ticked
    environment.filters["html"] = Markup  # only for prose, which the Markdown parser has escaped
    return environment


class Renderer:
    """Renders pages in one theme; raises ValueError for a theme that is not there."""

    def __init__(self, theme: str = "notebook", memory: Memory = FORGETFUL) -> None:
        self._environment = _environment(theme)

        def remembered(chart: Chart, name: str, up: str = "") -> Markup:
            """A chart takes as long as a page; it hangs on its model alone."""
            key = digest_of("chart", repr(chart), name, up)
            return memory.recall(key, lambda: chart_svg(chart, name, up))

        self._environment.globals["chart_svg"] = remembered

    def render(self, page: Page) -> str:
        """The page as HTML, the same bytes for the same page."""
        up = "../" * page.path.count("/")
        return self._environment.get_template(page.template).render(page=page.model, here=page.path, up=up)
