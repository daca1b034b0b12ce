"""The lowest versions that CI tries are those that the project says it gets by with."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def asked() -> dict[str, str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = [*project["dependencies"], *(one for extra in project["optional-dependencies"].values() for one in extra)]
    found = [re.fullmatch(r"([\w.-]+)>=([\d.]+)", one) for one in wanted]
    assert all(found), f"a dependency states another thing than its lowest version: {wanted}"
    return {one[1]: one[2] for one in found if one}


def test_the_lowest_versions_tried_are_those_allowed() -> None:
    lines = (ROOT / ".ci" / "lowest.txt").read_text("utf-8").splitlines()
    tried = dict(line.split("==") for line in lines if not line.startswith("#"))
    assert tried == asked()
