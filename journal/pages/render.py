"""Models to HTML: strict, autoescaped templates; the theme's first, then the bones'."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup, escape

from journal.memory import FORGETFUL, Memory
from journal.pages.charts.drawn import Drawer, NamedChart
from journal.pages.compiled import CompiledTemplates, escape_quickly
from journal.pages.limits import SECONDS, LimitedSandbox, TooMuchError, limited_text, limited_time
from journal.pages.model import UNBROKEN
from journal.pages.page import Page
from journal.pages.pieces import PIECES
from journal.pages.template_faults import TemplateBroken, TemplateFault, fault_of, same_fault
from journal.pages.themes import Theme, loader_of
from journal.pages.trade_words import in_trade_words

#: The page of an entry's fields.
FIELDS = "fields.html.j2"
_TICKED = re.compile(r"`([^`]+)`")
#: A number, its uncertainty and a per cent sign: no line breaks in them.
_TOGETHER = re.compile(r"(?<=\d) (?=±)|(?<=±) (?=\d)|(?<=\d) (?=%)")


def ticked(text: str) -> Markup:
    """Text whose `backticked` words are the entry's own: those as code, numbers kept together, all of it escaped."""
    parts = _TICKED.split(text)
    marked = (
        Markup("<code>{}</code>").format(part) if index % 2 else escape(_TOGETHER.sub(UNBROKEN, part))
        for index, part in enumerate(parts)
    )
    return Markup("").join(marked)


def in_script(json: str) -> Markup:
    """JSON as it may stand in a `script` element: nothing in it ends the element or begins another."""
    for sign in "<>&":
        json = json.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(json)  # noqa: S704  # what could be markup is written by its number


def environment_of(
    theme: Theme, compiled: CompiledTemplates | None = None, drawer: Drawer | None = None
) -> Environment:
    """What templates of a theme are read in; a brewer's own reach nothing but the page."""
    environment = (LimitedSandbox if theme.own else Environment)(
        loader=loader_of(theme),
        bytecode_cache=compiled or CompiledTemplates(FORGETFUL),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    escape_quickly(environment)
    environment.filters["ticked"] = ticked
    environment.filters["in_script"] = in_script
    environment.filters["drawn"] = drawer or Drawer(FORGETFUL)
    environment.globals["own_styles"] = theme.own.styles if theme.own else ()
    environment.globals["pieces"] = PIECES
    environment.filters["html"] = Markup  # only for prose, which the Markdown parser has escaped
    return environment


class Renderer:
    """Renders pages in one theme; raises ValueError for a theme that is not there."""

    def __init__(self, theme: Theme = Theme(), memory: Memory = FORGETFUL) -> None:  # noqa: B008  # frozen
        self._theme = theme
        self._drawer = Drawer(memory)
        self._compiled = CompiledTemplates(memory)
        self._environment = environment_of(theme, self._compiled, self._drawer)
        self._endless: TemplateFault | None = None

    def get_ready_for_charts(self) -> None:
        """Make ready to draw charts that can't be begun yet."""
        self._drawer.get_ready()

    def begin_charts(self, charts: Iterable[NamedChart]) -> None:
        """Begin to draw charts of pages that will be asked for."""
        self._drawer.begin(charts)

    def has_kept(self, template: str) -> bool:
        """Load a template; says whether it was there compiled, not whether all that it takes in was."""
        try:
            self._environment.get_template(template)
        except Exception:  # noqa: BLE001  # whoever sets a page of it is told
            return False
        return not self._compiled.has_made(template)

    def render(self, page: Page) -> str:
        """The page as HTML, the same bytes for the same page; raises TemplateBroken where a brewer's template can't be set."""
        up = "../" * page.path.count("/")
        model = page.model
        if self._endless:
            # what never came to an end on one page is not waited for on a thousand
            raise TemplateBroken(same_fault(self._endless, page.path, model))
        try:
            template = self._environment.get_template(page.template)
            named = {"page": model, "here": page.path, "up": up}
            said = _limited(template, named) if self._theme.own else template.render(named)
            # the fields of an entry are called what they are called
            return said if page.template == FIELDS else in_trade_words(said, model.frame.system)
        except Exception as error:
            fault = self._theme.own and fault_of(error, self._theme.own, page.path, model, page.template)
            if fault:
                if isinstance(error, TooMuchError | RecursionError):
                    self._endless = fault
                raise TemplateBroken(fault) from None
            raise


def _limited(template: Template, named: dict[str, Any]) -> str:
    """A page of a brewer's theme."""
    with limited_time(SECONDS):
        return limited_text(template.generate(named))
