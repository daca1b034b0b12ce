"""What a change of the journal changed in its results: a diary's diff."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from journal.figures import CATALOGUE, Result
from journal.measures.wording import METRIC, plain, show, signed, unit_for
from journal.memory import FORGETFUL, Memory
from journal.pages.record import Record
from journal.publishing.revision import Snapshot
from journal.publishing.understanding import understand


def differences_since(earlier: Snapshot, now: Record, memory: Memory = FORGETFUL) -> str:
    """The results that differ from those of an earlier state, as text; empty where none does."""
    with tempfile.TemporaryDirectory(prefix="wortbook-") as folder:
        earlier.put_into(Path(folder))
        then = understand(Path(folder), memory=memory)
    return "\n".join(_differences(then, now, now.journal.brewery.units or METRIC))


def _differences(then: Record, now: Record, system: str) -> Iterator[str]:
    before = {batch.id: batch for batch in then.batches}
    for batch in now.batches:
        if batch.id not in before:
            yield f"batch {batch.id} {batch.title}: new"
            continue
        lines = list(_figures(then, now, batch.id, system))
        if lines:
            yield f"batch {batch.id} {batch.title}"
            yield from lines
    here = {batch.id for batch in now.batches}
    yield from (f"batch {batch.id} {batch.title}: gone" for batch in then.batches if batch.id not in here)


def _figures(then: Record, now: Record, batch_id: str, system: str) -> Iterator[str]:
    for name, figure in CATALOGUE.items():
        old, new = then.best(batch_id, name), now.best(batch_id, name)
        was, is_now = _text(old, system), _text(new, system)
        if was == is_now:
            continue
        by = ""
        if old and new:
            change, of_sd = (_change(step, old, new, system) for step in (new.value - old.value, new.sd - old.sd))
            if not (_is_something(change) or _is_something(of_sd)):
                continue
            by = f"  ({signed(change)} {unit_for(new.unit, system).of_difference}".rstrip() + ")"
        yield f"  {figure.label:<26} {was} → {is_now}{by}"


def _text(result: Result | None, system: str) -> str:
    return str(show(result.value, result.sd, result.unit, system)) if result else "not known"


def _change(step: float, old: Result, new: Result, system: str) -> str:
    """A step between two results, with as many decimals as either is shown with, or one."""
    how = unit_for(new.unit, system)
    shown = [show(each.value, each.sd, each.unit, system).value.partition(".")[2] for each in (old, new)]
    decimals = 4 if new.unit == "SG" else max(how.decimals, 1, *map(len, shown))
    return plain(how.convert_difference(step), decimals)


def _is_something(number: str) -> bool:
    return bool(number.strip("−0."))
