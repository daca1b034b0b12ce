"""What a page says is escaped as the library that Jinja uses escapes it, in templates too."""

from __future__ import annotations

import pytest
from jinja2 import Environment, StrictUndefined
from jinja2.exceptions import UndefinedError
from markupsafe import Markup, escape

from journal.pages.compiled import escape_quickly
from journal.pages.escaped import escaped

SAID = ["ale", "<b>&\"'</b>", Markup("<b>bold</b>"), 4, -1.5, float("nan"), True, None, "", ("<", 1), 1e300]
SOURCE = (
    "{% macro said(x) %}<i>{{ x }}</i>{% endmacro %}{% set kept %}{{ x }}{% endset %}"
    "{{ x }}{{ said(x) }}{{ kept }}{{ kept ~ x }}{{ x|string|upper }}{% for each in [x] %}{{ each }}{% endfor %}"
    "{% autoescape false %}{{ x }}{% endautoescape %}"
)


@pytest.mark.parametrize("value", SAID, ids=repr)
def test_a_value_is_escaped_as_by_the_library(value: object) -> None:
    assert escaped(value) == str(escape(value))
    plain, quick = (Environment(autoescape=True, undefined=StrictUndefined) for _ in range(2))
    escape_quickly(quick)
    assert quick.from_string(SOURCE).render(x=value) == plain.from_string(SOURCE).render(x=value)


def test_what_is_undefined_is_refused_all_the_same() -> None:
    environment = Environment(autoescape=True, undefined=StrictUndefined)
    escape_quickly(environment)
    with pytest.raises(UndefinedError):
        environment.from_string("{{ missing }}").render()
