"""The journal as a table: every field that was written, as it was written, a row a batch."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache

from journal.measures import Fault, MeasureKind, read_measure
from journal.publishing.table.cells import entry_text, guard
from journal.publishing.table.field_path import PROSE, FieldPath, Parts, find_field, known_fields, path_text
from journal.publishing.table.heads import Column
from journal.reading import Batch, front_matter
from journal.reading.located_yaml import Mapping, Node, Scalar, read_yaml
from journal.reading.located_yaml import Sequence as NodeList
from journal.reading.values import AnyOf, Quantity, VesselVolume

#: A number, its unit, and the temperature that it was read at.
_WITH_UNIT = re.compile(r"([+-]?\d+(?:\.\d+)?) (\S.*?)((?: at .*)?)")


def write_out(batches: Sequence[Batch]) -> str:
    """A CSV table of batches in their order: heads are paths, with a unit where all cells of a column share it.

    Read in again by `take_in` it gives the same recorded values, and the same prose.
    """
    rows = [dict(_leaves(batch)) for batch in batches]
    columns = sorted(dict.fromkeys(parts for row in rows for parts in row), key=_in_field_order)
    units = {parts: _shared_unit(parts, [row[parts] for row in rows if parts in row]) for parts in columns}
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(path_text(parts) + (f" ({units[parts]})" if units[parts] else "") for parts in columns)
    for row in rows:
        writer.writerow(guard(_bare(row[parts], units[parts])) if parts in row else "" for parts in columns)
    return text.getvalue()


def _in_field_order(parts: Parts) -> tuple[tuple[int, int, str], ...]:
    """Sorts as the table of fields does, items of a list one after another; the brewer's own names by letters, prose last."""
    key, path = [], ""
    for part in parts:
        if isinstance(part, int):
            path += "[0]"
            key.append((part, 0, ""))
        else:
            path += f".{part}" if path else part
            key.append((_rank(path), 0, part))
    return tuple(key)


@cache
def _rank(path: str) -> int:
    """The place of the first field at or below a path, the number of all fields where there is none."""
    known = known_fields()
    return next(
        (place for place, name in enumerate(known) if re.match(rf"{re.escape(path)}($|[.\[])", name)), len(known)
    )


def _leaves(batch: Batch) -> Iterator[tuple[Parts, str]]:
    offsets = front_matter.split(batch.source)[0]
    if offsets is None:
        return
    root, _ = read_yaml(batch.source, offsets[0], offsets[1])
    if root is not None:
        yield from _of(root, ())
    if batch.prose.strip():
        yield (PROSE,), batch.prose


def _of(node: Node, parts: Parts) -> Iterator[tuple[Parts, str]]:
    if isinstance(node, Mapping):
        for key, value in node.pairs:
            yield from _of(value, (*parts, key.text))
    elif isinstance(node, NodeList):
        for place, item in enumerate(node.items):
            yield from _of(item, (*parts, place))
    elif isinstance(node, Scalar) and not node.empty:
        yield parts, node.text


def _kinds(field: FieldPath | None) -> tuple[MeasureKind, ...]:
    value = field.value if field else None
    if isinstance(value, AnyOf | VesselVolume):
        return value.kinds
    return (value.kind,) if isinstance(value, Quantity) else ()


def _shared_unit(parts: Parts, cells: Sequence[str]) -> str:
    """The unit that most cells of a column have behind a bare number; empty where there is none."""
    field = find_field(path_text(parts))
    kinds = _kinds(field)
    found = Counter(match[2] for cell in cells if (match := _WITH_UNIT.fullmatch(" ".join(cell.split()))))
    for unit, _ in found.most_common():
        # a unit is one only if a number before it reads, and what is not its own stays as it was written
        if any(not isinstance(read_measure(f"1 {unit}", kind), Fault) for kind in kinds) and "(" not in unit:
            column = Column(0, "", field or FieldPath(parts, None), unit)
            if all(entry_text(_bare(cell, unit), column).split() == cell.split() for cell in cells):
                return unit
    return ""


def _bare(cell: str, unit: str) -> str:
    match = _WITH_UNIT.fullmatch(" ".join(cell.split())) if unit else None
    return match[1] + match[3] if match and match[2] == unit else cell
