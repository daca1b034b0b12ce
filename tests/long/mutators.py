"""Ways to spoil the files of a journal: their bytes, their YAML, their quantities, their logs' cells, and texts out of nothing."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator

from long.reformatted import nodes_of, written_anyhow
from yaml import MappingNode, Node, ScalarNode, SequenceNode

from journal.measures import units
from journal.measures.units import MeasureKind
from journal.problems import Source
from journal.reading import Batch, Brewery, front_matter
from journal.reading.located_yaml import Mapping, Scalar, Sequence, read_yaml
from journal.reading.located_yaml import Node as Located
from journal.reading.malts import Malt
from journal.reading.table import Group, fields_of
from journal.reading.values import ListOf, Named, Value

#: What breaks YAML, quantities, Markdown, CSV and encodings.
SIGNS = [
    "\t",
    ":",
    ": ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    "&a ",
    "*a",
    "!t ",
    "'",
    '"',
    "#",
    "|",
    ">",
    "---\n",
    "\n",
    "\r",
    ",",
]
SIGNS += [";", "?", "%", "0", "-", "1e9", "nan", "inf", " at 999 degC", "~", "null", "\u2028", "\x85", "\ufeff", "😀"]
SIGNS += [
    "![](",
    "[x](",
    "<",
    "\x0c",
    "\x00",
    "\u202e",
    "`",
    "{{ x }}",
    "http://[",
    "[a]: ",
    "| a |\n|---|\n",
    "٣",
    "½",
]
SIGNS += ["²", "../", "\\", "%0", "±"]
_NUMBERS = [
    "0",
    "-1",
    "0.0001",
    "1e308",
    "1e-320",
    "nan",
    "inf",
    "-0",
    "1,5",
    "1.048",
    "٣٤",
    "1_000",
    "1 000",
    ".5",
    "5.",
]
_NUMBERS += [
    "9" * 400,
    "1e999",
    "0x1F",
    "2026-04-11",
    "yes",
    "0." + "0" * 30 + "1",
    "12",
    "100",
    "0.98",
    "1.2",
    "60",
    "7",
]
_NUMBERS += ["33.3", "99999"]
_KINDS = [kind for kind in vars(units).values() if isinstance(kind, MeasureKind)]
_UNITS = [*sorted({written for kind in _KINDS for written in kind.written}), "gallons", "°", "at", "kg kg"]
_TIMES = [
    "0001-01-01",
    "9999-12-31",
    "2026-02-30",
    "2026-04-11 24:00",
    "2026-04-11T17:30",
    "9999-12-31 23:59",
    "0000-00-00",
]
_DIGITS = re.compile(r"[0-9]+(?:\.[0-9]+)?")
Chance = random.Random


def _names(record: type) -> Iterator[str]:
    for name, facts in fields_of(record).items():
        yield name
        value: Value = facts.value
        while isinstance(value, ListOf | Named):
            value = value.item if isinstance(value, ListOf) else value.value
        if isinstance(value, Group):
            yield from _names(value.record)


NAMES = sorted({name for record in (Batch, Brewery, Malt) for name in _names(record)})


def quantity(chance: Chance) -> str:
    """A number with or without its uncertainty, unit and temperature; a date now and then."""
    number = (
        chance.choice(_NUMBERS) if chance.random() < 0.5 else f"{chance.lognormvariate(1, 3):.{chance.randrange(6)}f}"
    )
    if chance.random() < 0.06:
        return chance.choice(_TIMES)
    doubt = f" ± {chance.choice(_NUMBERS)}" if chance.random() < 0.2 else ""
    unit = f" {chance.choice(_UNITS)}" if chance.random() < 0.85 else ""
    at = f" at {chance.choice(_NUMBERS)} {chance.choice(['degC', 'degF', '°C', ''])}" if chance.random() < 0.2 else ""
    return f"{number}{doubt}{unit}{at}"


def nudged(text: str, chance: Chance) -> str:
    """A value with one of its numbers changed, and its unit kept: it often stays valid, and says what can't be."""
    found = list(_DIGITS.finditer(text))
    if not found:
        return quantity(chance)
    one = chance.choice(found)
    number = float(one[0]) * chance.choice([0.0, 1e-6, 0.1, 0.5, 0.97, 1.01, 1.05, 1.5, 2.0, 10.0, 1000.0, 1e9])
    return f"{text[: one.start()]}{number:.{chance.randrange(7)}f}{text[one.end() :]}"


def spoil_bytes(content: bytes, chance: Chance, others: list[bytes]) -> bytes:
    """One to four changes of bytes: put in, put over, taken out, said twice, swapped, taken from another file, cut off."""
    for _ in range(chance.randint(1, 4)):
        at, length = chance.randint(0, len(content)), min(chance.choice([1, 1, 2, 8, 60, 400]), len(content))
        piece, rest = content[at : at + length], content[at + length :]
        way = chance.randrange(8)
        if way == 0:
            content = content[:at] + chance.choice(SIGNS).encode() + content[at:]
        elif way == 1:
            content = content[:at] + chance.randbytes(length if length < 9 else 2) + rest
        elif way == 2:
            content = content[:at] + rest
        elif way == 3:
            content = content[:at] + piece * chance.choice([2, 2, 3, 50]) + rest
        elif way == 4:
            lines = content.split(b"\n")
            one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[other] = lines[other], lines[one]
            content = b"\n".join(lines)
        elif way == 5:
            other_file = chance.choice(others)
            start = chance.randint(0, len(other_file))
            content = content[:at] + other_file[start : start + length] + rest
        elif way == 6 and chance.random() < 0.3:
            content = content[:at]
        else:
            content = content[:at] + bytes(reversed(piece)) + rest
    return content


def _parts(text: str, entry: bool) -> tuple[int, int, Located | None]:
    source = Source("x", text)
    offsets = front_matter.split(source)[0] if entry else (0, len(text), len(text))
    if offsets is None:
        return 0, 0, None
    return offsets[0], offsets[1], read_yaml(source, offsets[0], offsets[1])[0]


def _scalars(node: Located) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    for item in node.items if isinstance(node, Sequence) else ():
        yield from _scalars(item)
    for _, value in node.pairs if isinstance(node, Mapping) else ():
        yield from _scalars(value)


def spoil_quantities(content: bytes, chance: Chance, entry: bool) -> bytes:
    """Some values replaced by quantities that may or may not fit, or changed as a slip would."""
    text = content.decode("utf-8", errors="replace").removeprefix("\ufeff").replace("\r\n", "\n")
    root = _parts(text, entry)[2]
    found = list(_scalars(root)) if root else []
    if not found:
        return content
    chosen = {node.span.start: node for node in (chance.choice(found) for _ in range(chance.randint(1, 4)))}
    for node in sorted(chosen.values(), key=lambda node: -node.span.start):
        old = text[node.span.start : node.span.end]
        new = quantity(chance) if chance.random() < 0.3 else nudged(old, chance)
        text = text[: node.span.start] + new + text[node.span.end :]
    return text.encode()


def _holders(node: Node) -> Iterator[MappingNode | SequenceNode]:
    if isinstance(node, MappingNode | SequenceNode):
        yield node
        for child in node.value:
            for inner in child if isinstance(node, MappingNode) else (child,):
                yield from _holders(inner)


def _wrapped(node: Node, depth: int, chance: Chance) -> Node:
    for _ in range(depth):
        key = ScalarNode("tag:yaml.org,2002:str", chance.choice(NAMES))
        node = SequenceNode("", [node]) if chance.random() < 0.5 else MappingNode("", [(key, node)])
    return node


def _something(chance: Chance) -> Node:
    text = chance.choice(
        [quantity(chance), "", "~", "null", chance.choice(SIGNS), chance.choice(NAMES), "yes", "x" * 300]
    )
    way = chance.randrange(4)
    scalar = ScalarNode("", text)
    return scalar if way < 2 else SequenceNode("", [scalar] * way) if way == 2 else MappingNode("", [(scalar, scalar)])


def _spoil_holder(holder: MappingNode | SequenceNode, chance: Chance, others: list[MappingNode | SequenceNode]) -> None:
    held = holder.value
    mapping = isinstance(holder, MappingNode)
    if not held:
        held.append((_something(chance), _something(chance)) if mapping else _something(chance))
        return
    at = chance.randrange(len(held))
    key, value = held[at] if mapping else (None, held[at])
    way = chance.randrange(7)
    if way == 0:
        held.insert(chance.randint(0, len(held)), held[at])
    elif way == 1:
        del held[at]
    elif way == 2 and mapping:
        name = chance.choice(
            [chance.choice(NAMES), key.value[:-1] if isinstance(key, ScalarNode) else "", chance.choice(SIGNS)]
        )
        held[at] = (ScalarNode("", name), value)
    elif way == 3:
        value = _wrapped(value, chance.choice([1, 1, 2, 3, 30]), chance)
        held[at] = (key, value) if mapping else value
    elif way == 4:
        other = chance.choice(others)
        if other.value and not any(other is each for each in _holders(value)):
            piece = chance.choice(other.value)
            value = piece[1] if isinstance(other, MappingNode) else piece
            if not any(holder is each for each in _holders(value)):
                held[at] = (key, value) if mapping else value
    elif way == 5:
        chance.shuffle(held)
    else:
        held[at] = (key, _something(chance)) if mapping else _something(chance)


def spoil_structure(content: bytes, chance: Chance, entry: bool) -> bytes:
    """Keys said twice, renamed, nested and deleted, values of another shape, written in another style."""
    text = content.decode("utf-8", errors="replace").removeprefix("\ufeff").replace("\r\n", "\n")
    start, end, located = _parts(text, entry)
    if not isinstance(located, Mapping):
        return content
    root = nodes_of(located)
    for _ in range(chance.randint(1, 3)):
        holders = list(_holders(root))
        _spoil_holder(chance.choice(holders), chance, holders)
    return (text[:start] + written_anyhow(root, chance) + text[end:]).encode(errors="replace")


def spoil_cells(content: bytes, chance: Chance) -> bytes:
    """A log with other delimiters, columns, headers, values or order."""
    rows = [line.split(b",") for line in content.split(b"\n")]
    for _ in range(chance.randint(1, 4)):
        row = chance.choice(rows)
        at = chance.randrange(len(row))
        way = chance.randrange(7)
        if way == 0:
            row[at] = chance.choice([quantity(chance), chance.choice(SIGNS), chance.choice(_TIMES)]).encode()
        elif way == 1:
            row.insert(at, row[at])
        elif way == 2:
            row.pop(at) if len(row) > 1 else row.append(b"")
        elif way == 3:
            titles = ["time", "time (min)", "time (h:mm:ss)", "time (days)", "gravity (°P)", "temperature (degF)", "x"]
            rows[0][chance.randrange(len(rows[0]))] = chance.choice(titles).encode()
        elif way == 4:
            one, other = chance.randrange(len(rows)), chance.randrange(len(rows))
            rows[one], rows[other] = rows[other], rows[one]
        elif way == 5:
            column = chance.randrange(3)
            value = chance.choice(_NUMBERS).encode()
            rows[1:] = [[value if i == column else cell for i, cell in enumerate(each)] for each in rows[1:]]
        else:
            rows += rows[chance.randrange(len(rows)) :]
    delimiter = chance.choice([b",", b",", b",", b";", b"\t", b", ", b"|"])
    return b"\n".join(delimiter.join(row) for row in rows)


def spoil(content: bytes, name: str, chance: Chance, others: list[bytes]) -> bytes:
    """Any of the ways that suit a file of this name, once or a few times."""
    entry = name.endswith(".md")
    ways: list[Callable[[bytes], bytes]] = [lambda old: spoil_bytes(old, chance, others)]
    if name.endswith(".csv"):
        ways.append(lambda old: spoil_cells(old, chance))
    else:
        ways += [lambda old: spoil_quantities(old, chance, entry), lambda old: spoil_structure(old, chance, entry)]
    for _ in range(chance.randint(1, 3)):
        content = chance.choice(ways)(content)
    return content
