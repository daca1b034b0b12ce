"""What must be added to one YAML text so that it holds all of another: places and pieces, never a removal."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

from journal.frozen import dataclass
from journal.problems import Source
from journal.reading.located_yaml import Mapping, Node, Scalar, Sequence

#: Signs that part what stands in brackets.
_PARTS_FLOW = re.compile(r"[][{},]")
#: Fields that say which item of a list is meant: a malt, a hop, the time of a reading.
_NAMES = ("malt", "hop", "addition", "at", "on")


class ConflictError(Exception):
    """Why a field can't be added: it holds something else, or has no line that could be added after."""


@dataclass(frozen=True)
class Insertion:
    """A text to be put in at an offset of the old one; `path` is the field it fills."""

    offset: int
    text: str
    path: str


class Additions:
    """Compares two nodes and gathers the pieces; `old` and `new` are the sources that they were read from."""

    def __init__(self, old: Source, new: Source) -> None:
        self.old, self.new = old, new

    def of_mapping(self, old: Mapping, new: Mapping, path: str = "") -> Iterator[Insertion]:
        """The pieces for a group. Raises `ConflictError`."""
        there = {key.text: (key, value) for key, value in old.pairs}
        for key, value in new.pairs:
            if _blank(value):
                continue
            field = f"{path}.{key.text}" if path else key.text
            if key.text not in there:
                yield self._after(old, f"{key.text}:", value, field)
                continue
            own_key, own = there[key.text]
            if isinstance(own, Scalar) and own.empty:
                yield from self._fill(own_key, own, value, field, in_brackets=self._in_brackets(old))
            else:
                yield from self._within(own, value, field)

    def _within(self, old: Node, new: Node, path: str) -> Iterator[Insertion]:
        if isinstance(old, Mapping) and isinstance(new, Mapping):
            yield from self.of_mapping(old, new, path)
        elif isinstance(old, Sequence) and isinstance(new, Sequence):
            yield from self._of_list(old, new, path)
        elif not (isinstance(old, Scalar) and isinstance(new, Scalar) and old.text.split() == new.text.split()):
            there, wanted = (
                " ".join(_written(source, node).split()) for source, node in ((self.old, old), (self.new, new))
            )
            line = self.old.position(old.span.start)[0]
            raise ConflictError(
                f"`{path}` holds {there} (line {line}), and the sheet has {wanted}; decide, and correct one of them"
            )

    def _of_list(self, old: Sequence, new: Sequence, path: str) -> Iterator[Insertion]:
        free = list(enumerate(old.items))
        for place, item in enumerate(new.items):
            match = next((pair for pair in free if _same_item(pair[1], item)), None)
            if match is None and isinstance(item, Scalar) and place < len(old.items):
                match = (place, old.items[place])
            if match is None:
                yield self._after(old, "-", item, f"{path}[{len(old.items) + place}]")
                continue
            if match in free:
                free.remove(match)
            yield from self._within(match[1], item, f"{path}[{match[0]}]")

    def _in_brackets(self, group: Mapping | Sequence) -> bool:
        return self.old.text[group.span.start] in "{["

    def _fill(self, key: Scalar, blank: Scalar, value: Node, path: str, *, in_brackets: bool) -> Iterator[Insertion]:
        """A value for a key that stands there without one; a group goes on lines of its own beneath, or in brackets."""
        if in_brackets:
            colon = "" if self.old.text[key.span.end :].lstrip().startswith(":") else ":"
            at = key.span.end if colon else self.old.text.index(":", key.span.end) + 1
            yield Insertion(at, f"{colon} {self._flow(value)}", path)
        elif isinstance(value, Scalar):
            if blank.span.end > blank.span.start:
                raise ConflictError(f"`{path}` holds {_written(self.old, blank)}, which means nothing; leave it blank")
            yield Insertion(blank.span.start, f" {_written(self.new, value)}", path)
        else:
            indent = self.old.position(key.span.start)[1] - 1
            lines = self._lines(value, " " * (indent + 2))
            yield Insertion(self._line_end(key.span.end), "".join(f"\n{line}" for line in lines), path)

    def _after(self, group: Mapping | Sequence, lead: str, value: Node, path: str) -> Insertion:
        """A new line after the last of a group or list; in brackets a new part behind the last."""
        if self._in_brackets(group):
            part = f"{'' if lead == '-' else f'{lead} '}{self._flow(value)}"
            some = group.pairs if isinstance(group, Mapping) else group.items
            return Insertion(_end(group), f", {part}", path) if some else Insertion(group.span.start + 1, part, path)
        start = group.span.start
        margin = " " * (self.old.position(start)[1] - 1)
        if isinstance(value, Scalar):
            lines = [f"{margin}{lead} {_written(self.new, value)}"]
        else:
            inner = self._lines(value, f"{margin}  ")
            lines = [f"{margin}{lead} {inner[0].lstrip()}", *inner[1:]] if lead == "-" else [f"{margin}{lead}", *inner]
        return Insertion(self._line_end(_end(group)), "".join(f"\n{line}" for line in lines), path)

    def _flow(self, node: Node) -> str:
        """A node as it stands within brackets."""
        if isinstance(node, Scalar):
            written = _written(self.new, node)
            plain = written[:1] not in "\"'" and (_PARTS_FLOW.search(written) or "\n" in written)
            return json.dumps(" ".join(written.split()), ensure_ascii=False) if plain else written
        if isinstance(node, Mapping):
            pairs = (f"{key.text}: {self._flow(value)}" for key, value in node.pairs if not _blank(value))
            return f"{{{', '.join(pairs)}}}"
        return f"[{', '.join(self._flow(item) for item in node.items if not _blank(item))}]"

    def _lines(self, node: Node, margin: str) -> list[str]:
        """A node in block style."""
        if isinstance(node, Scalar):
            return [f"{margin}{_written(self.new, node)}"]
        lines: list[str] = []
        parts = (
            [(f"{key.text}:", value) for key, value in node.pairs]
            if isinstance(node, Mapping)
            else [("-", item) for item in node.items]
        )
        for lead, value in parts:
            if _blank(value):
                continue
            if isinstance(value, Scalar):
                lines.append(f"{margin}{lead} {_written(self.new, value)}")
                continue
            inner = self._lines(value, f"{margin}  ")
            if lead == "-" and inner:
                lines += [f"{margin}- {inner[0].lstrip()}", *inner[1:]]
            elif inner:
                lines += [f"{margin}{lead}", *inner]
        return lines

    def _line_end(self, offset: int) -> int:
        """Where the line of an offset ends; a comment at its end stays on it."""
        end = self.old.text.find("\n", offset)
        return len(self.old.text) if end < 0 else end


def _blank(node: Node) -> bool:
    if isinstance(node, Scalar):
        return node.empty
    return all(_blank(value) for _, value in node.pairs) if isinstance(node, Mapping) else all(map(_blank, node.items))


def _same_item(old: Node, new: Node) -> bool:
    """Whether two items of a list speak of the same thing."""
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        names = [
            {key.text: value.text for key, value in node.pairs if isinstance(value, Scalar)} for node in (old, new)
        ]
        name = next((name for name in _NAMES if name in names[1]), None)
        return name is not None and names[0].get(name) == names[1][name]
    return isinstance(old, Scalar) and isinstance(new, Scalar) and old.text.split() == new.text.split()


def _end(node: Node) -> int:
    """Where what was written of a node ends: a block's own end takes comments in."""
    if isinstance(node, Mapping) and node.pairs:
        key, value = node.pairs[-1]
        return max(key.span.end, _end(value))
    if isinstance(node, Sequence) and node.items:
        return max(_end(node.items[-1]), node.span.start)
    return node.span.end


def _written(source: Source, node: Node) -> str:
    return source.text[node.span.start : node.span.end].rstrip()
