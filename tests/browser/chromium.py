"""Where the browser is, and what a test without one says."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

CHROMIUM = Path("/usr/bin/chromium")
IN_A_BROWSER = [
    pytest.mark.browser,
    pytest.mark.skipif(not CHROMIUM.exists(), reason="no Chromium at /usr/bin/chromium; .ci/run installs it"),
]
#: Pages that between them have nearly every part: those which the second theme is looked at by.
TELLING = ("index", "batches", "search", "trends", "practice", "batches/28", "batches/29", "batches/34", "accounts/28")


def in_both_themes(pages: Iterable[str]) -> list[tuple[str, str]]:
    """A theme and a page: every page in the default theme, the most telling ones in the other."""
    return [("notebook", name) for name in pages] + [("almanac", name) for name in TELLING]
