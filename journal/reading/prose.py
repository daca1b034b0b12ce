"""The prose of an entry: CommonMark with tables, raw HTML shown as text, and where its links and pictures lead."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote, urlsplit

from journal.frozen import dataclass
from journal.problems import Place, Problem, Span
from journal.reading.entry import Batch
from journal.reading.files import ENTRIES, leads_outside
from journal.reading.passive import is_passive

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_core import StateCore
    from markdown_it.token import Token

#: What browsers show, by ending.
PICTURES = frozenset({".png", ".jpg", ".jpeg", ".gif", ".webp", ".avif", ".svg"})
#: A picture larger than this is refused: it would make the journal slow to open for nothing a screen can show.
LARGEST_PICTURE = 8 * 1024 * 1024
#: Opening brackets in an entry's prose: links and pictures by the thousand, and still read within a second.
MOST_BRACKETS = 10_000


@cache
def markdown() -> MarkdownIt:
    """The one Markdown parser: CommonMark and tables, no raw HTML; links of doubtful schemes stay dead text."""
    # most commands find what was read kept, and parse nothing
    from markdown_it import MarkdownIt  # noqa: PLC0415

    return MarkdownIt("commonmark", {"html": False}).enable("table")


@cache
def _link_finder() -> MarkdownIt:
    """The same for who asks for links and pictures alone: a line is parsed where one may be."""
    from markdown_it import MarkdownIt  # noqa: PLC0415  # as above

    finder = MarkdownIt("commonmark", {"html": False}).enable("table")
    finder.core.ruler.at("inline", _parse_lines_with_links)
    return finder


def _parse_lines_with_links(state: StateCore) -> None:
    for token in state.tokens:
        if token.type == "inline" and ("[" in token.content or "<" in token.content):
            token.children = token.children or []
            state.md.inline.parse(token.content, state.md, state.env, token.children)


@dataclass(frozen=True)
class Reference:
    """A link or picture in the prose: where it leads as written, what it says, and its place."""

    target: str
    words: str
    picture: bool
    place: Place

    @property
    def elsewhere(self) -> bool:
        """Whether it names a scheme or a host of its own."""
        parts = urlsplit(self.target)
        return bool(parts.scheme or parts.netloc)

    @cached_property
    def inside(self) -> str | None:
        """The file it leads to, from the journal's root; None for a place on the same page or another host."""
        path = unquote(urlsplit(self.target).path)
        if self.elsewhere or not path:
            return None
        if path.startswith("/"):
            return path
        return posixpath.normpath(posixpath.join(posixpath.dirname(self.place.source.name), path))


def _walk(tokens: list[Token] | None, lines: tuple[int, int]) -> Iterator[tuple[Token, tuple[int, int]]]:
    """Every token with the lines it stands in, half-open from 0."""
    for token in tokens or []:
        inside = (token.map[0], token.map[1]) if token.map else lines
        yield token, inside
        yield from _walk(token.children, inside)


def _where(prose: str, target: str, paragraph: tuple[int, int], after: int) -> tuple[int, int]:
    """Start and end of a target as written: past its last mention in its paragraph, else where it is defined."""
    begins, ends = paragraph
    spellings = list(dict.fromkeys((target, unquote(target))))
    stretches = [(max(begins, after), ends, ("(", "(<", "<", "")), (begins, ends, ("",))]
    stretches.append((0, len(prose), ("]: ", "]: <")))
    for start, end, openings in stretches:
        for opening in openings:
            for written in spellings:
                at = prose.find(opening + written, start, end)
                if at >= 0:
                    return at + len(opening), at + len(opening) + len(written)
    return begins, min(begins + 1, len(prose))


def too_many_brackets(batch: Batch) -> Problem | None:
    """What is wrong with prose that Markdown can't be asked to read; None for any that a person wrote."""
    brackets = batch.prose.count("[")
    if brackets <= MOST_BRACKETS:
        return None
    first = batch.prose_start + batch.prose.index("[")
    message = f"the prose has {brackets} opening brackets, and {MOST_BRACKETS} are the most"
    hint = "Take out what is no prose: put it into a file beside the entry, and link to that."
    return Problem("prose-brackets", message, hint, Place(batch.source, Span(first, first + 1)))


def references(batch: Batch) -> list[Reference]:
    """Every link and picture of the prose, in order."""
    prose = batch.prose
    if not any(sign in prose for sign in ("](", "]:", "<")):
        return []  # nothing in it can be a link, and parsing costs a millisecond
    # lines as the Markdown parser counts them: form feeds and the like don't end one
    line_starts = [0, *(index + 1 for index, character in enumerate(prose) if character == "\n"), len(prose)]
    found: list[Reference] = []
    seen: dict[str, int] = {}
    for token, lines in _walk(_link_finder().parse(prose), (0, len(line_starts) - 1)):
        target = (
            token.attrGet("href")
            if token.type == "link_open"
            else token.attrGet("src")
            if token.type == "image"
            else None
        )
        if not isinstance(target, str):
            continue
        begins, ends = (line_starts[min(line, len(line_starts) - 1)] for line in lines)
        start, end = _where(prose, target, (begins, ends), seen.get(target, 0))
        seen[target] = end
        span = Span(batch.prose_start + start, batch.prose_start + end)
        words = token.content if token.type == "image" else ""
        found.append(Reference(target, words, token.type == "image", Place(batch.source, span)))
    return found


def leading_picture(batch: Batch) -> list[Reference]:
    """The picture that leads the batch's page, if there is one; its title describes it."""
    return [Reference(batch.picture, batch.title or "the beer", True, batch.place("picture"))] if batch.picture else []


def check_references(root: Path, found: list[Reference]) -> Iterator[Problem]:
    """Links and pictures that lead nowhere, or out of entries/."""
    for reference in found:
        what = "picture" if reference.picture else "link"
        if reference.picture and not reference.words.strip():
            hint = "Write a few words between the brackets: ![the run-off, early morning](…)."
            yield Problem("picture-without-words", "the picture has no description", hint, reference.place)
        if reference.picture and reference.elsewhere:
            message = f"the picture {reference.target} lies on another host"
            yield Problem("picture-elsewhere", message, "Put a copy beside the entry.", reference.place)
        if reference.inside is not None:
            yield from _check_inside(root, reference, reference.inside, what)


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name that no file can have
        return False


def _check_inside(root: Path, reference: Reference, inside: str, what: str) -> Iterator[Problem]:
    path = root / inside
    there = _exists(path)
    if inside.split("/", maxsplit=1)[0] != ENTRIES or (there and leads_outside(root, path)):
        message = f"the {what} {reference.target} leads out of entries/"
        hint = "Copy the file into entries/, beside the entry, and link to that."
        yield Problem("link-leaves-journal", message, hint, reference.place)
    elif not there or not path.is_file():
        code = "picture-missing" if reference.picture else "link-broken"
        yield Problem(code, f"there is no file {inside}", "Check the name, upper and lower case too.", reference.place)
    elif reference.picture and path.suffix.lower() not in PICTURES:
        hint = f"Use one of {', '.join(sorted(PICTURES))}."
        yield Problem("picture-unreadable", f"{inside} is no picture that browsers show", hint, reference.place)
    elif reference.picture and path.stat().st_size > LARGEST_PICTURE:
        size = path.stat().st_size / 1024 / 1024
        yield Problem(
            "picture-unreadable",
            f"{inside} is {size:.0f} MiB, and 8 MiB is the most",
            "Save it smaller.",
            reference.place,
        )
    elif reference.picture and not _begins_as_a_picture(path):
        message = f"{inside} is called a picture and holds none"
        yield Problem("picture-unreadable", message, "Export it again from the original.", reference.place)
    elif not is_passive(path):
        shown = "isn't shown" if reference.picture else "is published as a text"
        message = f"{inside} could run something in a reader's browser, so it {shown}"
        hint = "Save it as a picture or as a PDF; a drawing must hold no scripts and ask for no other file."
        yield Problem("file-runs", message, hint, reference.place)


def _begins_as_a_picture(path: Path) -> bool:
    """Whether a file's first bytes are those of a format that browsers show (their own specifications)."""
    try:
        with path.open("rb") as file:
            first = file.read(512)
    except OSError:
        return False
    raster = first.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a"))
    boxed = (first[:4] == b"RIFF" and first[8:12] == b"WEBP") or first[4:12] in {b"ftypavif", b"ftypavis"}
    # a comment may stand before a drawing's first element
    return (
        raster
        or boxed
        or first.lstrip(b"\xef\xbb\xbf \t\r\n").startswith((b"<svg", b"<?xml", b"<!--", b"<!DOCTYPE svg"))
    )
