"""The batches that a long list leaves to the pages of their years, packed for the script that sorts and filters the list."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from journal.pages.charts.strip import place_on_strip
from journal.pages.parts.batch_list import BatchRow
from journal.pages.paths import batch_path

#: What a row says besides its numbers, a letter each.
_MARKS = (("o", "odd"), ("p", "planned"), ("d", "doubtful"))


def pack_rows(rows: Sequence[BatchRow]) -> str:
    """Rows as JSON: the labels' keys by number, and each row's parts in the order that batches.js takes them; empty for no rows."""
    if not rows:
        return ""
    keys: dict[str, int] = {}
    told = [_row(row, keys) for row in rows]
    kinds = [kind for kind, _ in rows[0].keys]
    return json.dumps({"kinds": kinds, "keys": list(keys), "rows": told}, ensure_ascii=False, separators=(",", ":"))


def _row(row: BatchRow, keys: dict[str, int]) -> list[Any]:
    shown, spot = row.efficiency, row.spot
    return [
        row.id,
        "" if row.href == batch_path(row.id) else row.href,
        row.order,
        row.brewed.iso,
        row.title,
        " · ".join(part for part in (row.style, ", ".join(row.tags)) if part),
        "".join(letter for letter, name in _MARKS if getattr(row, name)),
        [[cell.text, float(cell.key)] if cell.key else [] for cell in (*row.cells, row.score)],
        [f"{shown.whole}{shown.fraction}", shown.sd, float(row.efficiency_key)] if shown else [],
        [round(100 * place_on_strip(spot.axis, spot.value), 1), int(spot.left_out)] if spot else [],
        [[keys.setdefault(key, len(keys)) for key in of_kind.split()] for _, of_kind in row.keys],
    ]
