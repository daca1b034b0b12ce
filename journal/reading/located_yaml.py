"""YAML, strictly, with the place of everything.

The C parser's events are put together here without recursion in C and without PyYAML's resolver: every scalar stays the
text that stands there, and the field table decides what it means. A repeated key, an anchor, an alias, a tag or a
second document is a problem; the rest of the text is still read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

import yaml

from journal.problems import Place, Problem, Source, Span
from journal.problems.direction import find_unpaired
from journal.reading.yaml_faults import fault_of

try:
    from yaml import CBaseLoader as _Loader
except ImportError:  # a PyYAML built without libyaml reads the same, only slower
    from yaml import BaseLoader as _Loader  # type: ignore[assignment]

#: A line that ends a document, where something stands below it.
_DOTS = re.compile(r"^\.\.\.(?=[ \t\r]*(?:#[^\n]*)?\n(?:[ \t\r]*(?:#.*)?\n)*?[ \t\r]*[^\s#])", re.MULTILINE)
#: Deeper than any entry can be; beyond it the text is refused rather than walked.
DEEPEST = 20


class Scalar(NamedTuple):
    """A text; `plain` if it stands without quotes."""

    text: str
    span: Span
    plain: bool

    @property
    def empty(self) -> bool:
        """Nothing stands here but white space, quoted or not, or YAML's words for nothing."""
        return not self.text.strip() or (self.plain and self.text in {"~", "null", "Null", "NULL"})


class Sequence(NamedTuple):
    """A list of nodes."""

    items: tuple[Node, ...]
    span: Span


class Mapping(NamedTuple):
    """Keys and nodes in the order written; no key stands twice."""

    pairs: tuple[tuple[Scalar, Node], ...]
    span: Span


Node = Scalar | Sequence | Mapping


@dataclass
class _Open:
    start: int
    is_mapping: bool
    nodes: list[Node] = field(default_factory=list)


class _Refused(Exception):  # noqa: N818  # never leaves this module
    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def _offsets(event: yaml.Event) -> tuple[int, int]:
    # the parser marks every event; only the stubs allow for none
    start, end = event.start_mark, event.end_mark
    return (start.index if start else 0), (end.index if end else 0)


class _Composer:
    """Puts events together; `shift` is where the YAML begins in the file."""

    def __init__(self, source: Source, start: int, end: int) -> None:
        self.source, self.shift, self.end = source, start, end
        self.problems: list[Problem] = []
        self.stack: list[_Open] = []
        self.root: Node | None = None

    def place(self, start: int, end: int) -> Place:
        return Place(self.source, self.span(start, end))

    def span(self, start: int, end: int) -> Span:
        return Span(self.shift + start, min(self.shift + end, self.end))

    def report(self, code: str, message: str, hint: str, start: int, end: int) -> None:
        self.problems.append(Problem(code, message, hint, self.place(start, end)))

    def compose(self) -> None:
        documents = 0
        for event in self._events():
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self.report(
                        "second-document",
                        "a second YAML document begins here",
                        "Keep one document in a file; remove the line of hyphens.",
                        *_offsets(event),
                    )
                    return
            else:
                self._take(event)

    def _events(self) -> Iterator[yaml.Event]:
        text = self._without_ends(self.source.text[self.shift : self.end])
        try:
            yield from yaml.parse(text, Loader=_Loader)
        except yaml.MarkedYAMLError as error:
            raise _Refused(self._syntax(error, text)) from error
        except yaml.reader.ReaderError as error:
            at = next((i for i, c in enumerate(text) if yaml.reader.Reader.NON_PRINTABLE.match(c)), 0)
            raise _Refused(
                Problem(
                    "yaml-syntax",
                    f"the character U+{ord(text[at]) if text else 0:04X} is not allowed in YAML",
                    "Delete it; it may be invisible in your editor.",
                    self.place(at, at + 1),
                )
            ) from error

    def _without_ends(self, text: str) -> str:
        """The text without lines of three dots, which would end it there: all below would be dropped."""
        for found in _DOTS.finditer(text):
            message = "a line of three dots ends the YAML, and nothing below it would be read"
            self.report("yaml-ended", message, "Delete the line.", found.start(), found.end())
        return _DOTS.sub("   ", text)

    def _syntax(self, error: yaml.MarkedYAMLError, text: str) -> Problem:
        mark = error.problem_mark or error.context_mark
        at = mark.index if mark else 0
        line_start = text.rfind("\n", 0, at) + 1
        lead = text[line_start : at + 1]
        if "\t" in lead and not lead.strip(" \t-"):
            tab = line_start + lead.index("\t")
            return Problem(
                "yaml-tab", "a tab stands in the indentation", "Indent with spaces.", self.place(tab, tab + 1)
            )
        fault = fault_of(error, text)
        return Problem("yaml-syntax", fault.message, fault.hint, self.place(fault.start, fault.end))

    def _take(self, event: yaml.Event) -> None:
        start, end = _offsets(event)
        if isinstance(event, yaml.NodeEvent):
            self._refuse_decoration(event, start, end)
        if isinstance(event, yaml.ScalarEvent):
            text = self._clean(event.value, start, end)
            self._add(Scalar(text, self.span(start, end), not event.style))
        elif isinstance(event, yaml.AliasEvent):
            self._add(Scalar("", self.span(start, end), True))
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            self.stack.append(_Open(start, isinstance(event, yaml.MappingStartEvent)))
            if len(self.stack) > DEEPEST:
                raise _Refused(
                    Problem(
                        "wrong-shape",
                        "groups within groups, too deep for any entry",
                        "Check the indentation and the brackets.",
                        self.place(start, end),
                    )
                )
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self._close(end)

    def _clean(self, text: str, start: int, end: int) -> str:
        """A scalar's text without signs that no page can show, or that would turn the direction of what stands beside them."""
        if text.isprintable():
            return text
        if found := yaml.reader.Reader.NON_PRINTABLE.search(text):
            self.report(
                "yaml-syntax",
                f"the escape stands for U+{ord(found[0]):04X}, a character that no text can hold",
                "Delete it.",
                start,
                end,
            )
            text = yaml.reader.Reader.NON_PRINTABLE.sub("", text)
        turning = find_unpaired(text)
        if not turning:
            return text
        sign = text[turning[0]]
        at = self.source.text.find(sign, self.shift + start, self.shift + end) - self.shift
        self.report(
            "text-direction",
            f"the sign U+{ord(sign):04X} turns the direction of writing and has no counterpart here; it is left out",
            "Delete it; it may be invisible in your editor.",
            # in double quotes it may be written as an escape
            *((at, at + 1) if at >= 0 else (start, end)),
        )
        return "".join(c for at, c in enumerate(text) if at not in turning)

    def _refuse_decoration(self, event: yaml.NodeEvent, start: int, end: int) -> None:
        if isinstance(event, yaml.AliasEvent):
            self.report("yaml-anchor", "aliases are not read here", "Write the value out.", start, end)
        elif anchor := event.anchor:
            mark = f"&{anchor}"
            at = self._before(mark, start)
            self.report("yaml-anchor", "anchors are not read here", f"Remove {mark}.", at, at + len(mark))
        if tag := getattr(event, "tag", None):
            self.report(
                "yaml-tag",
                f"tags are not read here, and this is one: {tag}",
                "Remove the tag.",
                start,
                max(end, start + 1),
            )

    def _before(self, mark: str, start: int) -> int:
        """Offset of an anchor's mark, which the event's start may include or follow."""
        at = self.source.text.rfind(mark, self.shift, self.shift + start + len(mark))
        return at - self.shift if at >= 0 else start

    def _add(self, node: Node) -> None:
        if self.stack:
            self.stack[-1].nodes.append(node)
        elif self.root is None:
            self.root = node

    def _close(self, end: int) -> None:
        opened = self.stack.pop()
        # a block's end event stands at the next token; the block itself ends with its last line
        text = self.source.text[self.shift + opened.start : self.shift + end]
        span = self.span(opened.start, opened.start + len(text.rstrip()))
        if not opened.is_mapping:
            self._add(Sequence(tuple(opened.nodes), span))
            return
        self._add(Mapping(tuple(self._pairs(opened.nodes)), span))

    def _pairs(self, nodes: list[Node]) -> Iterator[tuple[Scalar, Node]]:
        seen: dict[str, Scalar] = {}
        for key, value in zip(nodes[::2], nodes[1::2], strict=False):
            if not isinstance(key, Scalar):
                self.problems.append(
                    Problem(
                        "wrong-shape",
                        "a list or a group stands where a field's name belongs",
                        "Write the name and a colon, such as mash:, and what belongs to it below.",
                        Place(self.source, key.span),
                    )
                )
            elif key.text in seen:
                self.problems.append(
                    Problem(
                        "repeated-field",
                        f"`{key.text}` is given twice",
                        "Keep one of them; the first is on the line shown second.",
                        Place(self.source, key.span),
                        expected_by=Place(self.source, seen[key.text].span),
                    )
                )
            else:
                seen[key.text] = key
                yield key, value


def read_yaml(source: Source, start: int = 0, end: int | None = None) -> tuple[Node | None, list[Problem]]:
    """The nodes of a stretch of a source's text, with offsets into the whole text.

    None where it is empty or unreadable.
    """
    composer = _Composer(source, start, len(source.text) if end is None else end)
    try:
        composer.compose()
    except _Refused as refused:
        return None, [*composer.problems, refused.problem]
    return composer.root, composer.problems
