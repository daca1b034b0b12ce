"""Revisions of a repository that nobody would make by hand: each is read as it was committed, and nothing of it is run."""

from __future__ import annotations

import os
import random
import subprocess
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from publishing.test_build import ENTRY

from journal.publishing.refused import Refused
from journal.publishing.revision import entries_at

DEFAULT = 200
_NAMES = (
    "01.md",
    "02.md",
    "sub/03.md",
    "ü.md",
    "a b.md",
    "tab\there.md",
    "[x].md",
    "*.md",
    "-n.md",
    "log.csv",
    "brewery.yaml",
)
_ATTRIBUTES = (
    "* filter=trap\n",
    "*.md export-ignore\n",
    "*.md working-tree-encoding=UTF-16\n",
    "* text eol=crlf\n",
    "* export-subst ident\n",
)
_REVISIONS = [
    *("HEAD", "HEAD~1", "main", "HEAD^{tree}", "@", ":/", "HEAD:", "--all", "-x", "HEAD..HEAD", "", " ", "\0")
]
_REVISIONS += ["HEAD\n", "no", "v1^{}", "@{-1}", "HEAD@{1}"]


def _git(root: Path, *arguments: str) -> None:
    who = ["-c", "user.name=A Brewer", "-c", "user.email=brewer@example.org", "-c", "core.autocrlf=false"]
    # what a hostile folder would have git do on the way in is not what is tried here
    without = ["-c", "core.hooksPath=/dev/null", "-c", "filter.trap.clean=cat", "-c", "filter.trap.smudge=cat"]
    subprocess.run(["git", "-C", str(root), *who, *without, *arguments], check=True, capture_output=True)


def _change(entries: Path, chance: random.Random) -> None:
    place = entries / chance.choice(_NAMES)
    place.parent.mkdir(exist_ok=True)
    place.unlink(missing_ok=True)
    kind = chance.randrange(4)
    if kind == 0:
        place.symlink_to(chance.choice(["01.md", "sub/03.md", "/etc/passwd", "..", "nothing", place.name]))
    elif kind == 1:
        place.write_bytes(chance.randbytes(chance.randrange(2000)))
    else:
        place.write_text(ENTRY.format(number=chance.randrange(1, 28)), "utf-8")


def _as_it_stands(root: Path) -> dict[str, bytes]:
    """The files of entries/ as a reader finds them: what a link leads to within, nothing where it leads out."""
    home = (root / "entries").resolve()
    found = {}
    for path in (root / "entries").rglob("*"):
        try:
            if path.is_file() and path.resolve(strict=True).is_relative_to(home):
                found[path.relative_to(root).as_posix()] = path.read_bytes()
        except (OSError, RuntimeError):
            continue
    return found


def run(many: int, seed: int) -> Iterator[str]:
    """How many were read as they had been, and how the odd names of revisions were answered."""
    chance, came = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory(prefix="wortbook-revisions-") as folder:
        root, sprung = Path(folder), Path(folder) / "sprung"
        _git(root, "init", "-b", "main")
        (root / "entries").mkdir()
        (root / "entries" / "01.md").write_text(ENTRY.format(number=1), "utf-8")
        for name in ("clean", "smudge", "process"):
            _git(root, "config", f"filter.trap.{name}", f"touch {sprung}; cat")
        _git(root, "config", "core.fsmonitor", f"touch {sprung}")
        for number in range(many):
            (root / ".gitattributes").write_text(chance.choice(_ATTRIBUTES) if number % 3 == 0 else "", "utf-8")
            for _ in range(chance.randrange(1, 4)):
                _change(root / "entries", chance)
            whole = _as_it_stands(root)
            # attributes would turn what is kept into something else on its way in: they come with the next commit
            attributes = (root / ".gitattributes").read_bytes()
            (root / ".gitattributes").write_bytes(b"")
            _git(root, "-c", "core.fsmonitor=false", "add", "-A", "entries", ".gitattributes")
            (root / ".gitattributes").write_bytes(attributes)
            _git(root, "-c", "core.fsmonitor=false", "commit", "--allow-empty", "-m", f"change {number}")
            sprung.unlink(missing_ok=True)
            at = entries_at(root, "HEAD")
            came["refused" if isinstance(at, Refused) else "as it was" if at.files == whole else "OTHERWISE"] += 1
            odd = entries_at(
                root, chance.choice(_REVISIONS) if chance.random() < 0.7 else os.fsdecode(chance.randbytes(6))
            )
            came["an odd name refused" if isinstance(odd, Refused) else "an odd name known"] += 1
            came["RUN"] += sprung.exists()
    yield f"{many} revisions: {'; '.join(f'{name} {count}' for name, count in sorted(came.items()) if count)}"
