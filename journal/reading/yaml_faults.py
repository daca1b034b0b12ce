"""What is wrong with YAML that the parser gave up on: in a brewer's words, at the line that is wrong.

The parser says where it could not go on, which is often a line too late. Here the lines are looked at for what people
write: a colon too few or without its space, a colon or an apostrophe too many, a quotation mark or a bracket that never
closes, a line that stands too far in or out, a space that is none.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

import yaml

from journal.frozen import dataclass

#: Spaces that look like one and are none to YAML.
ODD_SPACE = re.compile("[\u00a0\u2000-\u200a\u202f\u205f\u3000\ufeff]")
_FIELD = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w.-]*):(?P<value>(?: .*)?)$")
_UNSPACED = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w-]*):(?P<value>[^\s:/].*)$")
_UNCOLONED = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[A-Za-z_][\w-]*)(?:\s*=\s*|\s+|$)(?P<value>[^:]*)$")
_OPENING = re.compile(r"(?:^|[:\-\[{,])\s*(?P<quote>[\"'])")
_CLOSED = {'"': re.compile(r'"(?:[^"\\]|\\.)*"'), "'": re.compile(r"'(?:[^']|'')*'")}
_AFTER = re.compile(r"\s*(?:#.*|[,\]}:].*)?$")
_CLOSING = {"[": "]", "{": "}"}


class YamlFault(NamedTuple):
    """What is wrong and what to write instead, at a stretch of the text (half-open)."""

    start: int
    end: int
    message: str
    hint: str


@dataclass(frozen=True)
class _Line:
    """A line of the text: where it starts, and what stands in it up to a comment."""

    start: int
    text: str

    @property
    def bare(self) -> str:
        """Without a comment behind it and white space at its end."""
        return re.sub(r"\s+#.*$|^#.*$", "", self.text).rstrip()

    @property
    def indent(self) -> int:
        """How far in it begins."""
        return len(self.text) - len(self.text.lstrip(" "))

    @property
    def end(self) -> int:
        """Where what stands in it ends."""
        return self.start + max(len(self.bare), 1)

    def fault(self, message: str, hint: str, first: int | None = None) -> YamlFault:
        """A fault of this line, from its first sign on, or from another."""
        start = self.start + (len(self.bare) - len(self.bare.lstrip()) if first is None else first)
        return YamlFault(start, max(self.end, start + 1), message, hint)


def _lines(text: str) -> Iterator[_Line]:
    start = 0
    for line in text.splitlines(keepends=True):
        yield _Line(start, line.rstrip("\r\n"))
        start += len(line)


@dataclass(frozen=True)
class _Broken:
    """Where the parser gave up: the lines up to there that hold anything, the last of them the one it stood in."""

    lines: list[_Line]
    at: int
    problem: str
    context: str
    opened: int

    @property
    def last(self) -> _Line:
        """The line the parser stood in."""
        return self.lines[-1]

    @property
    def before(self) -> _Line | None:
        """The one above it."""
        return self.lines[-2] if len(self.lines) > 1 else None


def _broken(error: yaml.MarkedYAMLError, text: str) -> _Broken:
    mark = error.problem_mark or error.context_mark
    at = min(mark.index if mark else 0, max(0, len(text.rstrip()) - 1))
    lines = [line for line in _lines(text) if line.start <= at and line.bare.strip()]
    opened = error.context_mark.index if error.context_mark else at
    return _Broken(lines or [_Line(0, text.split("\n", 1)[0])], at, error.problem or "", error.context or "", opened)


def _odd_space(broken: _Broken) -> YamlFault | None:
    for line in reversed(broken.lines):
        found = ODD_SPACE.search(line.text)
        lead = line.text[: found.start()] if found else ""
        if found and re.fullmatch(r"[\s-]*|[\s-]*[\w-]+:", lead):
            name = f"U+{ord(found[0]):04X}"
            start = line.start + found.start()
            message = f"the space here is none that YAML knows ({name}, a non-breaking one or its like)"
            return YamlFault(start, start + 1, message, "Type a plain space in its place; the two look alike.")
    return None


def _quotes(broken: _Broken) -> YamlFault | None:
    for line in reversed(broken.lines):
        opening = _OPENING.search(line.bare)
        if not opening:
            continue
        first = opening.start("quote")
        mark, rest = opening["quote"], line.bare[first:]
        closed = _CLOSED[mark].match(rest)
        if closed is None:
            hint = f"Put another {mark} at the end of the value, or leave both out."
            return line.fault("the quotation mark that opens here never closes", hint, first)
        if not _AFTER.fullmatch(rest[closed.end() :]):
            inside = rest.strip("\"'")
            hint = f"Put the whole value in one pair: {_quoted(inside)}." if '"' not in inside else _QUOTE_ALL
            message = "the quotation marks close before the value ends"
            return line.fault(message, hint, first)
    return None


_QUOTE_ALL = "Put the whole value in one pair of quotation marks."


def _quoted(value: str) -> str:
    """A value in the marks that it does not hold itself."""
    return f"'{value}'" if '"' in value else f'"{value}"'


def _opening(broken: _Broken) -> tuple[_Line, int]:
    """The line of the bracket that the parser was in, and where in it that stands: by its mark, or the last before it."""
    for line in reversed([line for line in broken.lines if line.start <= broken.opened]):
        mark = broken.opened - line.start
        if line.text[mark : mark + 1] in _CLOSING:
            return line, mark
        found = max(line.text.rfind(sign, 0, mark) for sign in _CLOSING)
        if found >= 0:
            return line, found
    return broken.last, max(0, broken.at - broken.last.start)


def _brackets(broken: _Broken) -> YamlFault | None:
    text = "\n".join(line.text for line in broken.lines)
    sign = broken.last.text[broken.at - broken.last.start : broken.at - broken.last.start + 1]
    if "flow" in broken.context:
        line, place = _opening(broken)
        closing = _CLOSING.get(line.text[place : place + 1], "]")
        if line is not broken.last or closing not in line.text[place:]:
            message = f"the bracket {line.text[place : place + 1]} that opens here never closes"
            return line.fault(message, f"Put {closing} where it ends.", place)
        hint = "Put a comma between the parts; a text with brackets, commas or colons in it needs quotation marks."
        return broken.last.fault(f"a comma or {closing} is missing here", hint, broken.at - broken.last.start)
    if sign in {"]", "}"} and text.count(sign) > text.count({"]": "[", "}": "{"}[sign]):
        return YamlFault(broken.at, broken.at + 1, f"the bracket {sign} closes nothing", "Delete it.")
    return None


def _escape(broken: _Broken) -> YamlFault | None:
    if "escape" not in broken.problem:
        return None
    message = "a backslash in double quotation marks means more than itself"
    return YamlFault(
        broken.at, broken.at + 1, message, "Put the value in single quotation marks, or write two backslashes."
    )


def _first_sign(broken: _Broken) -> YamlFault | None:
    line, problem = broken.last, f"{broken.problem} {broken.context}"
    if not any(
        words in problem for words in ("cannot start any token", "directive", "alias", "anchor", "tag", "block scalar")
    ):
        return None
    found = re.search(r"(?:^|: +|- +|[\[{,] *)(?P<value>[@`%*&!|>].*)$", line.bare)
    if found is None:
        return None
    value = found["value"].rstrip(",]}")
    message = f"a text can't begin with {value[0]} as it stands"
    return line.fault(message, f"Put it in quotation marks: {_quoted(value)}.", found.start("value"))


def _colon_too_many(broken: _Broken) -> YamlFault | None:
    line = broken.last
    field = re.match(r"\s*(?:- +)*[\w-]+: +(?P<value>[^\s\"'\[{].*?:(?: .*|))$", line.bare)
    if "mapping values" not in broken.problem or not field:
        return None
    message = "a second colon stands in this line, and YAML takes what is before it for a field's name"
    return line.fault(message, f"Put the value in quotation marks: {_quoted(field['value'])}.", field.start("value"))


def _colon_too_few(broken: _Broken) -> YamlFault | None:
    scanning = next((line for line in reversed(broken.lines) if line.start <= broken.opened), broken.last)
    candidates = [scanning] if "simple key" in broken.context else [broken.before] if broken.before else []
    if "simple key" not in broken.context and "mapping values" not in broken.problem:
        return None
    for line in candidates:
        if unspaced := _UNSPACED.match(line.bare):
            hint = f"Write {unspaced['key']}: {unspaced['value']}"
            return line.fault(f"no space follows the colon after `{unspaced['key']}`", _ended(hint))
        if not _FIELD.match(line.bare) and (uncoloned := _UNCOLONED.match(line.bare)):
            hint = f"Write {uncoloned['key']}: {uncoloned['value']}".rstrip()
            return line.fault(f"a colon is missing after `{uncoloned['key']}`", _ended(hint))
    return None


def _ended(hint: str) -> str:
    return f"{hint}." if not hint.endswith(".") else hint


def _indent(broken: _Broken) -> YamlFault | None:
    line, before = broken.last, broken.before
    if before is None:
        return None
    field = _FIELD.match(before.bare)
    if "mapping values" in broken.problem and field and field["value"].strip() and line.indent > before.indent:
        message = "this line stands further in than the one above, which has its value already"
        hint = f"Begin it where `{field['key']}` begins; only what belongs to a name without a value stands further in."
        return line.fault(message, hint)
    levels = dict.fromkeys(column for each in broken.lines[:-1] for column in _columns(each))
    if line.indent not in levels:
        near = min(levels, key=lambda level: (abs(level - line.indent), -level), default=0)
        message = "this line lines up with nothing above it"
        return line.fault(message, f"Begin it as far in as those it belongs to, with {near} spaces in front.")
    if "expected key" in broken.problem or "'-' indicator" in broken.problem:
        hyphen = line.bare.lstrip().startswith("- ")
        message = "a list's hyphen stands among fields" if hyphen else "a field stands among the lines of a list"
        return line.fault(message, "Put fields below a name, or list lines with a hyphen each, but not both.")
    return None


def _columns(line: _Line) -> tuple[int, ...]:
    """Where a line begins, and where its field begins behind a hyphen."""
    hyphen = re.match(r" *- +", line.text)
    return (line.indent, hyphen.end()) if hyphen else (line.indent,)


_LOOKED_FOR: tuple[Callable[[_Broken], YamlFault | None], ...] = (
    _odd_space,
    _escape,
    _quotes,
    _first_sign,
    _brackets,
    _colon_too_many,
    _colon_too_few,
    _indent,
)


def fault_of(error: yaml.MarkedYAMLError, text: str) -> YamlFault:
    """What is wrong with a text the parser gave up on; its own words where nothing that people usually write is found."""
    broken = _broken(error, text)
    for look in _LOOKED_FOR:
        found = look(broken)
        if found is not None:
            return found
    problem = (error.problem or "it can't be read").replace("found ", "", 1)
    context = f" {error.context}" if error.context else ""
    hint = "Text with a colon, a hash or a bracket in it needs quotation marks; lists and groups need their closing bracket."
    return YamlFault(broken.at, broken.at + 1, f"the YAML can't be read here: {problem}{context}", hint)
