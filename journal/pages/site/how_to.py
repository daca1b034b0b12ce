"""The pages of help: written in Markdown, one file a page in `journal/pages/how_to/`, and the page that lists them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Link, Model
from journal.pages.paths import HOW_TO_PAGES, how_to_path, slug
from journal.reading.prose import markdown

if TYPE_CHECKING:
    from markdown_it.token import Token

_FOLDER = Path(__file__).parent.parent / "how_to"
_COMMAND = re.compile(r"^wortbook (\w+)", re.MULTILINE)


class HelpSection(NamedTuple):
    """What stands below one heading: its anchor and words, HTML, and the commands that it shows."""

    anchor: str
    words: str
    html: str
    commands: tuple[str, ...]


class HelpText(NamedTuple):
    """A page of help as it is written; `lead` is HTML before the first heading, in which `commands` may stand too.

    Links are as they stand on a page in a folder of the site.
    """

    name: str
    title: str
    summary: str
    lead: str
    commands: tuple[str, ...]
    sections: tuple[HelpSection, ...]

    @property
    def link(self) -> Link:
        """Its title, and where its page is."""
        return Link(self.title, how_to_path(self.name))

    def link_to(self, section: HelpSection) -> Link:
        """The words of a section, and where it is."""
        return Link(section.words, f"{how_to_path(self.name)}#{section.anchor}")


@dataclass(frozen=True, kw_only=True)
class HowToModel(Model):
    """A page of help, and the others."""

    text: HelpText
    others: tuple[Link, ...]


@dataclass(frozen=True, kw_only=True)
class HowToListModel(Model):
    """All pages of help with their sections, and each command with where it is explained."""

    topics: tuple[tuple[Link, str, tuple[Link, ...]], ...]
    commands: tuple[tuple[str, tuple[Link, ...]], ...]


def _html(tokens: list[Token]) -> str:
    for token in tokens:
        for child in token.children or ():
            if child.type == "link_open":
                child.attrSet("href", f"../{child.attrGet('href')}")
        if token.type in {"fence", "table_open"}:
            # what is wider than a phone is moved along, by keys as well
            token.attrSet("tabindex", "0")
    parser, environment = markdown(), dict[str, Any]()
    return str(parser.renderer.render(tokens, parser.options, environment)).strip()


def _commands(tokens: list[Token]) -> tuple[str, ...]:
    shown = (token.content for token in tokens if token.type == "fence" and token.info == "sh")
    return tuple(dict.fromkeys(name for text in shown for name in _COMMAND.findall(text)))


def _parts(tokens: list[Token]) -> Iterator[tuple[str, list[Token]]]:
    """The headings of the second level, and what stands below each; before the first one with an empty heading."""
    starts = [place for place, token in enumerate(tokens) if token.type == "heading_open" and token.tag == "h2"]
    yield "", tokens[: starts[0] if starts else len(tokens)]
    for start, end in zip(starts, [*starts[1:], len(tokens)], strict=True):
        yield tokens[start + 1].content, tokens[start + 3 : end]


def _read(name: str) -> HelpText:
    tokens = markdown().parse((_FOLDER / f"{name}.md").read_text("utf-8"))
    title, summary = tokens[1].content, tokens[4].content
    (_, lead), *parts = _parts(tokens[6:])
    sections = (HelpSection(slug(words).lower(), words, _html(below), _commands(below)) for words, below in parts)
    return HelpText(name, title, summary, _html(lead), _commands(lead), tuple(sections))


@cache
def help_texts() -> tuple[HelpText, ...]:
    """Every page of help, in order: a heading, a line that sums it up, and sections."""
    return tuple(_read(name) for name in HOW_TO_PAGES)


def how_to_model(index: Index, name: str) -> HowToModel:
    """One page of help, by its name among HOW_TO_PAGES."""
    text = next(each for each in help_texts() if each.name == name)
    frame = index.frame(text.title, "how-to", text.summary)
    return HowToModel(frame=frame, text=text, others=tuple(each.link for each in help_texts() if each != text))


def _explained() -> dict[str, list[Link]]:
    found: dict[str, list[Link]] = {}
    for text in help_texts():
        for name in text.commands:
            found.setdefault(name, []).append(text.link)
        for section in text.sections:
            for name in section.commands:
                found.setdefault(name, []).append(text.link_to(section))
    return found


def how_to_list_model(index: Index) -> HowToListModel:
    """Everything on the page that lists the help."""
    topics = ((text.link, text.summary, tuple(map(text.link_to, text.sections))) for text in help_texts())
    commands = ((name, tuple(links)) for name, links in sorted(_explained().items()))
    frame = index.frame("How to", "how-to", "Write an entry, check it, plan the next brew, publish the journal.")
    return HowToListModel(frame=frame, topics=tuple(topics), commands=tuple(commands))
