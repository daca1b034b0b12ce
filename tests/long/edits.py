"""Random edits of a journal: an incremental build after each equals a clean one, byte for byte."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterator
from pathlib import Path

from balance.simulated_brewery import Habits
from history.told import TWO_HOUSES, texts
from long.templates import read_once
from publishing.test_incremental import MALTS, PICTURE, edit, files

from journal.publishing import Broken, build
from journal.publishing.cache import FileCache

DEFAULT = 500
#: Entries that the journal begins with, and the most it may have: what a build takes grows with them.
_FIRST, _MOST = 6, 8


def _begin(root: Path) -> None:
    (root / "entries").mkdir()
    for number, text in enumerate(texts(_FIRST, Habits()), start=1):
        (root / "entries" / f"{number:02d}.md").write_text(text, "utf-8")
    (root / "entries" / "picture.png").write_bytes(PICTURE)
    (root / "entries" / "brewery.yaml").write_text(TWO_HOUSES, "utf-8")
    (root / "entries" / "malts.yaml").write_text(MALTS, "utf-8")


def _edit(root: Path, chance: random.Random) -> str:
    done = edit(root, chance)
    entries = sorted((root / "entries").glob("*.md"))
    if len(entries) > _MOST:
        gone = chance.choice(entries)
        gone.unlink()
        done += f", gone {gone.name}"
    return done


def run(many: int, seed: int) -> Iterator[str]:
    """How many builds differed, and the edits before the first that did."""
    chance, differing = random.Random(seed), 0
    with tempfile.TemporaryDirectory(prefix="wortbook-edits-") as folder, read_once():
        root = Path(folder) / "journal"
        root.mkdir()
        _begin(root)
        for step in range(many):
            done = _edit(root, chance)
            with FileCache(root, root.parent / "cache") as memory:
                build(root, root / "site", broken=Broken.SHOWN, memory=memory)
            with tempfile.TemporaryDirectory(prefix="wortbook-clean-") as clean:
                build(root, Path(clean), broken=Broken.SHOWN)
                if files(root / "site") != files(Path(clean)):
                    differing += 1
                    yield f"differs after edit {step + 1}: {done}"
    yield f"{many} edits, builds that differ from a clean one: {differing}"
