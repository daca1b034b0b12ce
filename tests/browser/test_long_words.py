"""Texts as long as a brewer may write them, in a real browser: a page stays within its window, and its lines stay lines."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from browser.chromium import IN_A_BROWSER
from history.told import texts
from playwright.sync_api import Page

from journal.publishing import build
from journal.publishing.cache import InProcessCache

ID = "2021-02-20"
TITLE = "Flussuferwiesenkräuterlagerbierversuch in the old yard"
STYLE = "strong export porter after the manner of the old harbour"
#: A small telephone's width, in pixels of the page.
PHONE = 360

pytestmark = IN_A_BROWSER


@pytest.fixture(scope="module")
def site_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """A journal in a theme; its last batch but one has a long id, title and style, and so do its neighbours' links."""
    root, memory = tmp_path_factory.mktemp("long"), InProcessCache()
    (root / "entries").mkdir()
    (root / "entries" / "brewery.yaml").write_text(BREWERY)
    for place, text in enumerate(texts(8, Habits())):
        (root / "entries" / f"{place}.md").write_text(_long(text) if place == 7 else text)

    @cache
    def site(theme: str) -> Path:
        assert build(root, root / theme, theme=theme, memory=memory).published
        return root / theme

    return site


def _long(text: str) -> str:
    head, rest = text.split("grains:", 1)
    brewed = next(line for line in head.splitlines() if line.startswith("brewed:"))
    return f'---\nbatch: {ID}\ntitle: "{TITLE}"\nstyle: "{STYLE}"\n{brewed}\ngrains:{rest}'


def _open(page: Page, path: Path, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(f"file://{path}")


@pytest.mark.parametrize("width", [PHONE, 1200])
@pytest.mark.parametrize("name", ["index", "batches", "trends", "practice", "malts", "batches/7", f"batches/{ID}"])
@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_a_long_word_scrolls_no_page_sideways(
    site_in: Callable[[str], Path], page: Page, theme: str, name: str, width: int
) -> None:
    _open(page, site_in(theme) / f"{name}.html", width)
    assert TITLE.split(maxsplit=1)[0] in page.content() or name in {"trends", "practice", "malts"}
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_a_long_style_leaves_the_title_and_the_day_their_lines(
    site_in: Callable[[str], Path], page: Page, theme: str
) -> None:
    _open(page, site_in(theme) / "batches.html", PHONE)
    first = page.locator(".batches tbody tr:not(.year)").first
    assert STYLE in first.inner_text()
    title, day = first.locator("th").bounding_box(), first.locator("time").bounding_box()
    assert title
    assert day
    assert title["width"] > PHONE / 2
    assert day["height"] < 30, "a day is one line"
