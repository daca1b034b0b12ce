"""The pages that tell of many batches, in a real browser: at every width, in forced colours, on paper."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from browser.axe import found_by_axe
from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Page, expect

PAGES = (
    "index",
    "batches",
    "by/style",
    "years/2026",
    "trends",
    "numbers",
    "practice",
    "what-pays",
    "malts",
    "malt-needed",
    "brewhouse",
    "compare",
)
WITH_PICTURES = tuple(name for name in PAGES if name not in {"malt-needed", "compare"})
#: In pixels of the page: telephones, tablets, just above the width at which tables fold, and a laptop, at 200 % too (640, 512).
WIDTHS = (320, 360, 390, 512, 580, 640, 768, 961, 1024, 1280)
THEMES = ("notebook", "almanac")
#: What a reader's eye takes, in pixels.
LEAST_TEXT = 9.0

pytestmark = IN_A_BROWSER


def opened(page: Page, site: Path, name: str) -> Page:
    page.goto(f"file://{site}/{name}.html")
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    return page


#: The words of pictures, and how large they are drawn.
_SIZES = """
[...document.querySelectorAll('svg text')].filter(each => each.checkVisibility()).map(each =>
  [each.textContent, parseFloat(getComputedStyle(each).fontSize) * each.getScreenCTM().a])
"""
#: Pairs of words of one picture whose boxes lie over one another by more than a hair.
_OVERLAPPING = """
[...document.querySelectorAll('svg.control, svg.over-time, svg.on-axis')].flatMap(svg => {
  const boxes = [...svg.querySelectorAll('text')].map(each => [each.textContent.trim(), each.getBoundingClientRect()]);
  const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4;
  return boxes.flatMap(([words, box], n) => boxes.slice(n + 1).filter(([, other]) => over(box, other))
    .map(([others]) => `${words} and ${others}`));
})
"""

#: Words that stand below one another, one a line.
_SQUEEZED = """
[...document.querySelectorAll('main :is(caption, figcaption, p, li, dd, h1, h2, h3)')].filter(each => {
  const size = parseFloat(getComputedStyle(each).fontSize), box = each.getBoundingClientRect();
  return each.checkVisibility() && box.width < 6 * size && box.height > 5 * size;
}).map(each => each.textContent.trim())
"""


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("theme", THEMES)
def test_at_any_width_nothing_scrolls_sideways_and_the_words_of_pictures_can_be_read(
    demo_in: Callable[[str], Path], page: Page, theme: str, name: str
) -> None:
    page.set_viewport_size({"width": WIDTHS[0], "height": 800})
    opened(page, demo_in(theme), name)
    wider, overlapping, small = {}, {}, None
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        wider[width] = page.evaluate("document.documentElement.scrollWidth") - width
        if width == 320:
            assert page.evaluate(_SQUEEZED) == []
        if name in WITH_PICTURES and width in (320, 768, 1280):
            overlapping[width] = page.evaluate(_OVERLAPPING)
        if name in WITH_PICTURES and width == 320:
            sizes = page.evaluate(_SIZES)
            # the list of batches has its axis at its head, and there is none on a phone
            assert sizes or name == "batches"
            small = [words for words, size in sizes if size < LEAST_TEXT]
    assert {width: by for width, by in wider.items() if by > 0} == {}
    assert {width: pairs for width, pairs in overlapping.items() if pairs} == {}
    assert not small


@pytest.mark.parametrize("name", WITH_PICTURES)
@pytest.mark.parametrize("theme", THEMES)
def test_pictures_take_the_readers_own_colours_where_these_are_forced(
    demo_in: Callable[[str], Path], page: Page, theme: str, name: str
) -> None:
    page.emulate_media(forced_colors="active", color_scheme="dark")
    opened(page, demo_in(theme), name)
    drawn = page.evaluate(
        "(() => { const probe = document.createElement('i'); probe.style.color = 'LinkText'; document.body.append(probe);"
        " const link = getComputedStyle(probe).color;"
        " return [link, [...document.querySelectorAll('.plane :is(.dot, .latest), .spot')].map(each => {"
        " const s = getComputedStyle(each); return each.matches('.spot') ? s.fill : s.stroke; })]; })()"
    )
    link, colours = drawn
    assert set(colours) == {link}


def test_trends_has_few_tab_stops_and_leads_to_a_list(demo_in: Callable[[str], Path], page: Page) -> None:
    opened(page, demo_in("notebook"), "trends")
    stops = page.locator("main :is(a[href], button, summary):not([tabindex='-1'])").count()
    assert stops < 30
    # by keyboard a batch is two steps away: the years, and the batch
    page.get_by_role("link", name="All values").click()
    page.get_by_role("link", name="2026").click()
    expect(page.locator(".batches a[href$='batches/33.html']")).to_have_count(1)


@pytest.mark.parametrize("name", ["by/style", "years/2026", "numbers", "malt-needed", "what-pays"])
@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("width", [320, 1280])
def test_axe_finds_nothing(demo_in: Callable[[str], Path], page: Page, theme: str, name: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    assert found_by_axe(opened(page, demo_in(theme), name)) == []


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="no pdfinfo; .ci/run installs poppler-utils")
@pytest.mark.parametrize(
    ("name", "sheets"),
    [("index", 1), ("trends", 2), ("practice", 2), ("what-pays", 3), ("malts", 2), ("years/2026", 2)],
)
@pytest.mark.parametrize("theme", THEMES)
def test_a_page_prints_on_few_sheets(
    demo_in: Callable[[str], Path], page: Page, tmp_path: Path, theme: str, name: str, sheets: int
) -> None:
    page.goto(f"file://{demo_in(theme)}/{name}.html")
    paper = tmp_path / "page.pdf"
    page.pdf(path=str(paper), format="A4")
    info = subprocess.run(["pdfinfo", str(paper)], capture_output=True, text=True, check=True).stdout
    assert next(int(line.split()[1]) for line in info.splitlines() if line.startswith("Pages:")) <= sheets


@pytest.mark.parametrize("name", WITH_PICTURES)
@pytest.mark.parametrize("theme", THEMES)
def test_no_word_on_paper_is_smaller_than_eight_points(
    demo_in: Callable[[str], Path], page: Page, theme: str, name: str
) -> None:
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 688, "height": 1000})  # A4 less its margins, in CSS pixels
    page.goto(f"file://{demo_in(theme)}/{name}.html")
    small = page.evaluate(
        "[...document.querySelectorAll('main svg text, main .origin, main .count, main p, main td, main th')]"
        ".filter(each => each.checkVisibility() && each.textContent.trim()).map(each => {"
        " const scale = each.closest('svg') ? each.getScreenCTM().a : 1;"
        " return [each.textContent.trim(), parseFloat(getComputedStyle(each).fontSize) * scale]; })"
        ".filter(([, size]) => size < 10.6)"  # 8 points are 10.67 pixels
    )
    assert small == []


def test_dates_in_grey_are_told_by_more_than_their_tone(demo_in: Callable[[str], Path], page: Page) -> None:
    """What is left out is a diamond, what is clear a filled dot and a thick line, what is to come an open dot."""
    site = demo_in("notebook")
    opened(page, site, "trends")
    assert page.locator("svg .diamond").count() > 0
    opened(page, site, "practice")
    widths = page.evaluate(
        "[...document.querySelectorAll('.on-axis .reach')].map(each =>"
        " [each.closest('.on-axis').matches('.clear'), parseFloat(getComputedStyle(each).strokeWidth)])"
    )
    assert min(width for clear, width in widths if clear) > max(width for clear, width in widths if not clear)
    assert page.locator(".on-axis.clear .hole").count() == 0
    assert page.locator(".on-axis:not(.clear) .hole").count() > 0
