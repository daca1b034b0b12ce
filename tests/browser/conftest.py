"""One Chromium and one page for all tests of a worker, and one built demo for all workers."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from browser.chromium import CHROMIUM
from filelock import FileLock
from playwright.sync_api import Browser, Page, sync_playwright

from journal.publishing import build
from journal.publishing.cache import InProcessCache

ROOT = Path(__file__).parents[2]
#: What a page opens in unless a test says otherwise.
DESK = {"width": 1280, "height": 900}


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


@pytest.fixture(scope="session")
def one_page(browser: Browser) -> Iterator[Page]:
    """Opened once: a page of its own takes the browser twice as long as what a test looks at, a context four times."""
    with browser.new_context() as context:
        yield context.new_page()


@pytest.fixture
def page(one_page: Page) -> Iterator[Page]:
    """The worker's page, empty and as if nobody had had it before.

    Who wants to be touched, offline or without scripts opens a context of their own.
    """
    one_page.set_viewport_size(DESK)
    one_page.emulate_media(media="null", color_scheme="light", forced_colors="none")
    yield one_page
    one_page.mouse.move(-1, -1)
    one_page.evaluate("localStorage.clear()")
    # the next address may differ from this one by its mark alone, which would load nothing
    one_page.goto("about:blank")
