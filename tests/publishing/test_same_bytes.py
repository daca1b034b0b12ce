"""One journal gives the same bytes in any folder, time zone, locale and order of sets, and with any number of processes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from balance.simulated_brewery import Habits
from history.told import texts
from publishing.test_incremental import PICTURE, files

#: Builds the journal it stands in as so many processors do, however few entries there are.
BUILD = """
import os, sys
from pathlib import Path
os.umask(int(sys.argv[1], 8))
from journal.publishing import build, worker_pool
worker_pool.processors = lambda: int(sys.argv[2])
worker_pool._WORTH_SHARING = 2
from journal.publishing.cache import FileCache
with FileCache(Path(), Path("../cache").resolve()) as memory:
    sys.exit(not build(Path(), Path("site"), memory=memory).published)
"""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    root = tmp_path / "one"
    (root / "entries").mkdir(parents=True)
    for number, text in enumerate(texts(5, Habits()), start=1):
        (root / "entries" / f"{number:02d}.md").write_text(f"{text}\n![Fläche](picture.png)\n", "utf-8")
    (root / "entries" / "picture.png").write_bytes(PICTURE)
    (root / "entries" / "brewery.yaml").write_text("name: Ölhaus\naddress: https://brewery.example\n", "utf-8")
    return root


@pytest.mark.long
def test_where_and_how_it_is_built_changes_no_byte(journal: Path, tmp_path: Path) -> None:
    surroundings = [
        ("one", "022", "1", {"TZ": "UTC", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "0"}),
        ("a folder/ünd deeper", "077", "2", {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "1"}),
        (
            "3",
            "002",
            "3",
            {"TZ": "America/St_Johns", "LC_ALL": "de_DE.UTF-8", "LANG": "tr_TR.UTF-8", "PYTHONUTF8": "0"},
        ),
    ]
    sites = []
    for folder, umask, processes, environment in surroundings:
        root = tmp_path / folder
        if not root.exists():
            shutil.copytree(journal / "entries", root / "entries")
        built = subprocess.run(
            [sys.executable, "-c", BUILD, umask, processes],
            cwd=root,
            env={**os.environ, **environment},
            capture_output=True,
            text=True,
            check=False,
        )
        assert (built.returncode, built.stderr) == (0, ""), built.stderr
        sites.append(files(root / "site"))
    assert "batches/5.html" in sites[0]
    for site in sites[1:]:
        assert site.keys() == sites[0].keys()
        assert [name for name, content in site.items() if content != sites[0][name]] == []
