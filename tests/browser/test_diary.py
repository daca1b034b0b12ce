"""A batch's pages as they are held in the hand, put on a screen, enlarged, recoloured and printed."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Page, expect

LOOKS = ("notebook", "almanac")
NAMES = (
    "batches/29",
    "batches/22",
    "batches/28",
    "batches/33",
    "batches/34",
    "accounts/28",
    "accounts/29",
    "recipes/22",
    "gallery",
    "batches/7",
    "compare/29-30",
    "compare",
    "figures",
    "fields",
    "cautions",
    "how-right",
    "how-to",
    "how-to/write-an-entry",
    "how-to/change-the-look",
    "search",
)
#: From the narrowest phone to a desk; 1280 at twice its size is 640, and where a layout changes both sides of the line are here.
WIDTHS = (320, 360, 390, 480, 576, 580, 640, 700, 760, 768, 960, 962, 1024, 1280, 1440)
#: A laptop's window.
LAPTOP = {"width": 1440, "height": 900}

#: Whatever leads somewhere or works and is smaller than 24 by 24 pixels (WCAG 2.2, 2.5.8, which excepts links in a line of text).
SMALL_TARGETS = """() => [...document.querySelectorAll("a[href], button, summary, input, select")].filter((e) => {
  if (!e.checkVisibility({visibilityProperty: true}) || e.closest(".skip, svg")) return false;
  const label = e.tagName === "INPUT" && e.closest("label");
  const {width, height} = (label || e).getBoundingClientRect();
  if (width >= 24 && height >= 24) return false;
  const line = e.closest("p, figcaption, dd, .text, .terms, .origin, .notice");
  return !(line && line.textContent.trim().length > e.textContent.trim().length + 1);
}).map((e) => e.outerHTML.slice(0, 120))"""
SMALL_TEXT = """(least) => {
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || !e.checkVisibility({visibilityProperty: true})) continue;
    if (e.closest(".aside, title, desc, option")) continue;
    const scale = e instanceof SVGElement ? Math.abs(e.getScreenCTM().a) : 1;
    if (parseFloat(getComputedStyle(e).fontSize) * scale < least) found.push(e.outerHTML.slice(0, 100));
  }
  return found;
}"""
LABELS_OVER_LABELS = """() => [...document.querySelectorAll("svg")].flatMap((svg) => {
  const texts = [...svg.querySelectorAll("text")].filter((t) => t.checkVisibility());
  const boxes = texts.map((t) => t.getBoundingClientRect());
  return texts.flatMap((one, i) => texts.slice(i + 1).filter((_, j) => {
    const a = boxes[i], b = boxes[i + 1 + j];
    const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
    return across > 1.5 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3;
  }).map((other) => `${one.textContent} | ${other.textContent}`));
})"""
LABELS_OVER_LINES = """() => [...document.querySelectorAll("svg")].flatMap((svg) => {
  const lines = [...svg.querySelectorAll("path.line, path.fitted")];
  const points = lines.flatMap((path) => {
    const whole = path.getTotalLength(), matrix = path.getScreenCTM();
    return Array.from({length: 200}, (_, n) => path.getPointAtLength(whole * n / 199).matrixTransform(matrix));
  });
  return [...svg.querySelectorAll("text")].filter((t) => {
    const box = t.getBoundingClientRect();
    return points.some(({x, y}) => x > box.left + 1 && x < box.right - 1 && y > box.top + 4 && y < box.bottom - 4);
  }).map((t) => t.textContent);
})"""

pytestmark = IN_A_BROWSER
in_both_looks = pytest.mark.parametrize(("look", "name"), [(look, name) for look in LOOKS for name in NAMES])


@in_both_looks
def test_it_fits_whatever_it_is_read_on(demo_in: Callable[[str], Path], page: Page, look: str, name: str) -> None:
    # opened on a phone, and then on wider and wider screens
    page.set_viewport_size({"width": WIDTHS[0], "height": 800})
    page.goto(f"file://{demo_in(look)}/{name}.html")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{width} pixels wide"
        if width in {320, 768, 1280}:
            assert page.evaluate(SMALL_TARGETS) == [], f"{width} pixels wide"
            assert page.evaluate(SMALL_TEXT, 8.95) == [], f"{width} pixels wide"
            assert page.evaluate(LABELS_OVER_LABELS) == [], f"{width} pixels wide"
            assert page.evaluate(LABELS_OVER_LINES) == [], f"{width} pixels wide"


@pytest.mark.parametrize("look", LOOKS)
def test_a_plain_batch_is_two_screens_of_a_laptop(demo_in: Callable[[str], Path], page: Page, look: str) -> None:
    page.set_viewport_size(LAPTOP)
    page.goto(f"file://{demo_in(look)}/batches/29.html")
    assert page.evaluate("document.documentElement.scrollHeight") <= 2 * LAPTOP["height"]
    assert page.locator("a[href]:visible, summary:visible").count() < 80, "stops of the tab key"


@pytest.mark.parametrize("look", LOOKS)
def test_on_a_phone_the_recipe_stands_before_the_diary_and_on_a_laptop_beside_it(
    demo_in: Callable[[str], Path], page: Page, look: str
) -> None:
    page.goto(f"file://{demo_in(look)}/batches/29.html")
    for width, beside in ((390, False), (1280, True)):
        page.set_viewport_size({"width": width, "height": 800})
        recipe, diary = (page.locator(part).bounding_box() for part in (".recipe-part", ".diary-part"))
        assert recipe
        assert diary
        assert (abs(recipe["y"] - diary["y"]) < 2) == beside
        assert recipe["y"] <= diary["y"] + 2
        letters = page.evaluate(
            """() => { const r = document.createRange(), p = document.querySelector(".diary-part .text p");
            r.selectNodeContents(p); const lines = new Set([...r.getClientRects()].map((b) => Math.round(b.bottom / 8)));
            return p.textContent.length / lines.size; }"""
        )
        assert letters < 76, "letters a line"


def test_a_number_leads_to_its_working_which_stands_open(demo_in: Callable[[str], Path], page: Page) -> None:
    page.set_viewport_size(LAPTOP)
    page.goto(f"file://{demo_in('notebook')}/batches/29.html")
    page.locator(".beer .alcohol-by-volume a").click()
    # a click on a link is over before the page that it leads to stands
    expect(page).to_have_url(re.compile(r"/accounts/29\.html#alcohol_by_volume$"))
    working = page.locator("#alcohol_by_volume")
    expect(working).to_have_attribute("open", "")
    expect(working).to_contain_text("OIML R 22", use_inner_text=True)


@pytest.mark.parametrize("look", LOOKS)
def test_colours_that_a_reader_forces_leave_what_is_marked_marked(
    demo_in: Callable[[str], Path], page: Page, look: str
) -> None:
    page.emulate_media(forced_colors="active")
    page.goto(f"file://{demo_in(look)}/batches/28.html")
    mark, ground = page.evaluate(
        """() => ["mark", "body"].map((e) => getComputedStyle(document.querySelector(e)).backgroundColor)"""
    )
    bars = page.evaluate("getComputedStyle(document.querySelector('.went .end rect.bar')).fill")
    assert mark not in {ground, "rgba(0, 0, 0, 0)"}
    assert bars != ground


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="no pdfinfo; .ci/run installs poppler-utils")
@pytest.mark.parametrize(
    ("look", "name", "most"),
    [
        (look, name, most)
        for look in LOOKS
        for name, most in ((n, 1 if n.startswith("recipes") else 2) for n in NAMES[:8])
    ],
)
def test_on_paper_it_is_few_sheets_and_no_small_print(
    demo_in: Callable[[str], Path], page: Page, tmp_path: Path, look: str, name: str, most: int
) -> None:
    # A4 less its margins, in CSS pixels
    page.set_viewport_size({"width": 680, "height": 1030})
    page.emulate_media(media="print")
    page.goto(f"file://{demo_in(look)}/{name}.html")
    assert page.evaluate(SMALL_TEXT, 8 * 96 / 72) == [], "under eight points"
    paper = tmp_path / "paper.pdf"
    page.pdf(path=str(paper), prefer_css_page_size=True)
    info = subprocess.run(["pdfinfo", str(paper)], capture_output=True, text=True, check=True).stdout
    sheets = next(int(line.split()[1]) for line in info.splitlines() if line.startswith("Pages:"))
    assert sheets <= most or name.startswith("accounts"), "the accounts are apart, and as long as they are"
