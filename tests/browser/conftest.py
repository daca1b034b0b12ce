"""One Chromium and one built demo for all tests that need them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser.chromium import CHROMIUM
from playwright.sync_api import Browser, sync_playwright

from journal.build import build

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the demo journal."""
    folder = tmp_path_factory.mktemp("demo") / "site"
    assert build(ROOT, folder).published
    return folder


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield launched
        launched.close()
