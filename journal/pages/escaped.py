"""Text made safe to stand in a page.

`markupsafe.escape` wraps all that it is given in a `Markup`, which takes several times as long as to look it through; three thousand
words and numbers stand on a batch's accounts. What is only put together with other markup can do without.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

_is_special = re.compile("[&<>\"']").search


def escaped(value: object) -> str:
    """A value as HTML: markup as it is, everything else with the five special characters by their references."""
    if type(value) is str:
        return value if _is_special(value) is None else str(escape(value))
    if type(value) is Markup:
        return value
    # neither digits nor signs are special
    return str(value) if type(value) is float or type(value) is int else str(escape(value))
