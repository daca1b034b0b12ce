"""One Chromium for all tests of a worker, and one built demo for all workers."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from browser.chromium import CHROMIUM
from filelock import FileLock
from playwright.sync_api import Browser, sync_playwright

from journal.publishing import build
from journal.publishing.cache import InProcessCache

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def demo_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The site of the demo journal in a theme, built by the worker that first asks for it."""
    memory, base = InProcessCache(), tmp_path_factory.getbasetemp()
    # a worker's folder lies in that of the whole run
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    @cache
    def site(theme: str) -> Path:
        folder = shared / f"demo-{theme}"
        with FileLock(shared / f"demo-{theme}.lock"):
            if not folder.exists():
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
