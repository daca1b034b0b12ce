"""Which program works things out: what another one kept is not ours."""

from __future__ import annotations

import sys
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import journal
from journal.memory import digest_of


@cache
def program_digest() -> str:
    """A digest of the program itself: another version remembers nothing of this one."""
    package = Path(journal.__file__).parent
    files = sorted(path for kind in ("*.py", "*.md") for path in package.rglob(kind))
    states = (f"{path.relative_to(package)} {(stat := path.stat()).st_size} {stat.st_mtime_ns}" for path in files)
    return digest_of(journal.__version__, sys.version, *states)


def pint_digest() -> str:
    """A digest of the library that defines units, found without importing it."""
    origin = (spec := find_spec("pint")) and spec.origin
    stat = Path(origin).stat() if origin else None
    return digest_of(str(stat and (stat.st_size, stat.st_mtime_ns)))
