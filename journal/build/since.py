"""What a change of the journal changed in its results: a diary's diff."""

from __future__ import annotations

import io
import subprocess
import tarfile
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from journal.build.understanding import understand
from journal.figures import CATALOGUE, Result
from journal.measures.wording import METRIC, plain, show, signed, unit_for
from journal.memory import FORGETFUL, Memory
from journal.pages.record import Record
from journal.reading.files import ENTRIES


@dataclass(frozen=True)
class Refused:
    """Why the earlier state of the journal can't be had."""

    why: str


def since(root: Path, revision: str, now: Record, memory: Memory = FORGETFUL) -> str | Refused:
    """The results that differ from those of a revision in version control, as text; empty where none does."""
    archive = _archive(root, revision)
    if isinstance(archive, Refused):
        return archive
    with tempfile.TemporaryDirectory(prefix="wortbook-") as folder:
        with tarfile.open(fileobj=io.BytesIO(archive)) as entries:
            entries.extractall(folder, filter="data")
        then = understand(Path(folder), memory=memory)
    return "\n".join(_differences(then, now, now.journal.brewery.units or METRIC))


def _archive(root: Path, revision: str) -> bytes | Refused:
    """entries/ as it stood at a revision, as a tar file."""
    if revision.startswith("-"):
        return Refused(f"“{revision}” is no revision.")
    try:
        # the brewer's own git, with arguments that are no options
        found = subprocess.run(  # noqa: S603
            [  # noqa: S607
                "git",
                "-C",
                str(root),
                "archive",
                "--format=tar",
                revision,
                "--",
                ENTRIES,
            ],
            capture_output=True,
            check=False,
        )
    except OSError as error:
        return Refused(f"git can't be run: {error.strerror}.")
    if found.returncode:
        said = found.stderr.decode("utf-8", "replace").strip().splitlines()
        return Refused(
            f"git has no {ENTRIES}/ at “{revision}”: {said[0].removeprefix('fatal: ') if said else 'no reason given'}."
        )
    return found.stdout


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
        by = f"  ({_by(old, new, system)})" if old and new else ""
        yield f"  {figure.label:<26} {was} → {is_now}{by}"


def _text(result: Result | None, system: str) -> str:
    return str(show(result.value, result.sd, result.unit, system)) if result else "not known"


def _by(old: Result, new: Result, system: str) -> str:
    how = unit_for(new.unit, system)
    change = how.convert_difference(new.value - old.value)
    decimals = 4 if new.unit == "SG" else max(how.decimals, 1)
    return f"{signed(plain(change, decimals))} {how.of_difference}".rstrip()
