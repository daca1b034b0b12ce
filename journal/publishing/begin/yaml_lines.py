"""Lines of YAML with comments beside them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable

from journal.frozen import dataclass

#: A scalar that YAML takes for plain text wherever it stands in block style.
_PLAIN = re.compile(r"[^\W\d_][\w .()/°%-]*[\w)%]|[^\W\d_]")
#: Words that YAML, in one version or another, takes for something else.
_TAKEN = frozenset({"null", "true", "false", "yes", "no", "on", "off", "y", "n"})
#: Comments start in one column, as far as the lines leave room for it.
_COLUMN = 44


@dataclass(frozen=True)
class YamlLine:
    """One line: its text, indented, and the comment beside it, empty for none."""

    text: str
    comment: str = ""


def quote(text: str) -> str:
    """Text as a scalar that YAML reads back as it is."""
    if _PLAIN.fullmatch(text) and text.lower() not in _TAKEN:
        return text
    return json.dumps(text, ensure_ascii=False)


def align_comments(lines: Iterable[YamlLine]) -> str:
    """The lines of a file, comments aligned."""
    made = []
    for line in lines:
        gap = max(2, _COLUMN - len(line.text))
        made.append(f"{line.text}{' ' * gap}# {line.comment}" if line.comment else line.text)
    return "\n".join(made) + "\n"
