"""Random edits of a journal: an incremental build after each equals a clean one, byte for byte."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterator
from pathlib import Path

from balance.simulated_brewery import Habits
from build.test_incremental import MALTS, PICTURE, edit, files
from history.told import TWO_HOUSES, texts

from journal.build import build
from journal.build.kept import Kept

DEFAULT = 500


def run(many: int, seed: int) -> Iterator[str]:
    """How many builds differed, and the edits before the first that did."""
    chance, done, differing = random.Random(seed), [], 0
    with tempfile.TemporaryDirectory(prefix="wortbook-edits-") as folder:
        root = Path(folder)
        entries = root / "entries"
        entries.mkdir()
        for number, text in enumerate(texts(9, Habits()), start=1):
            (entries / f"{number:02d}.md").write_text(text, "utf-8")
        (entries / "picture.png").write_bytes(PICTURE)
        (entries / "brewery.yaml").write_text(TWO_HOUSES, "utf-8")
        (entries / "malts.yaml").write_text(MALTS, "utf-8")
        for step in range(many):
            done.append(edit(root, chance))
            with Kept(root, root / "cache") as memory:
                build(root, root / "site", keep_going=True, memory=memory)
            with tempfile.TemporaryDirectory(prefix="wortbook-clean-") as clean:
                build(root, Path(clean), keep_going=True)
                if files(root / "site") != files(Path(clean)):
                    differing += 1
                    yield f"differs after edit {step + 1}: {done[-1]}"
    yield f"{many} edits, builds that differ from a clean one: {differing}"
