"""What several pages share. What stands on a page by the hundred is a named tuple, which is made in a third of the time."""

from __future__ import annotations

from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures.wording import METRIC

#: A space that no line breaks at.
UNBROKEN = "\N{NO-BREAK SPACE}"


class Number(NamedTuple):
    """A number as shown: `whole` with its sign, `fraction` with its point; `fraction`, `sd` and `unit` may be empty."""

    whole: str
    fraction: str
    sd: str
    unit: str

    @property
    def text(self) -> str:
        """The number on one line, as in `81.7 ± 1.9 %`, with spaces that no line breaks at."""
        parts = [self.whole + self.fraction, *(["±", self.sd] if self.sd else []), *([self.unit] if self.unit else [])]
        return UNBROKEN.join(parts)


class When(NamedTuple):
    """A day or moment: `iso` for machines, `text` for people."""

    iso: str
    text: str


class Link(NamedTuple):
    """Words that lead somewhere: a path from the site's root, with or without a fragment; empty leads nowhere."""

    words: str
    href: str = ""


@dataclass(frozen=True)
class Frame:
    """What stands around a page: the brewery's name, the page's title, and the part of the journal it belongs to.

    `address` is where the journal is published, with a slash at its end; empty where that is not said. `kind` is what
    a page says it is when it is shared: a website or an article (the Open Graph protocol's types); `image` is the path of the
    picture that goes with it, empty for none. `system` are the units, by which the trade's words go as well.
    """

    brewery: str
    title: str
    part: str
    summary: str = ""
    address: str = ""
    kind: str = "website"
    image: str = ""
    system: str = METRIC


@dataclass(frozen=True, kw_only=True)
class Model:
    """The least a page shows."""

    frame: Frame
