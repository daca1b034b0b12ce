"""What a change of the journal changed in its results: a diary's diff."""

from __future__ import annotations

import io
import subprocess
import tarfile
import tempfile
from collections.abc import Iterator
from pathlib import Path

from journal.figures import CATALOGUE, Result
from journal.measures.wording import METRIC, plain, show, signed, unit_for
from journal.memory import FORGETFUL, Memory
from journal.pages.record import Record
from journal.publishing.refused import Refused
from journal.publishing.understanding import understand
from journal.reading.files import ENTRIES


def since(earlier: bytes, now: Record, memory: Memory = FORGETFUL) -> str:
    """The results that differ from those of an earlier state, as `entries_at` has it, as text; empty where none does."""
    with tempfile.TemporaryDirectory(prefix="wortbook-") as folder:
        with tarfile.open(fileobj=io.BytesIO(earlier)) as entries:
            entries.extractall(folder, filter="data")
        then = understand(Path(folder), memory=memory)
    return "\n".join(_differences(then, now, now.journal.brewery.units or METRIC))


def entries_at(root: Path, revision: str) -> bytes | Refused:
    """entries/ as it stood at a revision in version control, as a tar file."""
    try:
        if _git(root, "rev-parse", "--git-dir").returncode:
            return Refused(f"{root} is not under git, so it has no revisions; `git init` begins that.", misused=False)
        # `--` would be taken for the revision itself
        if (
            revision.startswith("-")
            or _git(root, "rev-parse", "--verify", "--quiet", f"{revision}^{{tree}}").returncode
        ):
            return Refused(
                f"git knows no revision “{revision}” here. "
                "Write HEAD for the last commit, HEAD~1 for the one before, or a commit, tag or branch that `git log` shows."
            )
        found = _git(root, "archive", "--format=tar", revision, "--", ENTRIES)
    except OSError as error:
        return Refused(f"git can't be run: {error.strerror}.", misused=False)
    if found.returncode:
        return Refused(f"git has no {ENTRIES}/ at “{revision}”. Name a revision since the first commit of {ENTRIES}/.")
    return found.stdout


def _git(root: Path, *arguments: str) -> subprocess.CompletedProcess[bytes]:
    """The brewer's own git, in the journal's folder."""
    return subprocess.run(["git", "-C", str(root), *arguments], capture_output=True, check=False)  # noqa: S603, S607


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
