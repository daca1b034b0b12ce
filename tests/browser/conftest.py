"""One Chromium and one built demo for all tests that need them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from browser.chromium import CHROMIUM
from playwright.sync_api import Browser, sync_playwright

from journal.publishing import build
from journal.publishing.cache import InProcessCache

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def demo_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The site of the demo journal in a theme, built when it is first asked for."""
    memory = InProcessCache()

    @cache
    def site(theme: str) -> Path:
        folder = tmp_path_factory.mktemp(theme) / "site"
        assert build(ROOT, folder, theme=theme, memory=memory).published
        return folder

    return site


@pytest.fixture(scope="session")
def demo(demo_in: Callable[[str], Path]) -> Path:
    """The site of the demo journal in the default theme."""
    return demo_in("notebook")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield launched
        launched.close()
