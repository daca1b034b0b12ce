"""The built demo in a real browser: opened from disk, on a phone, in the dark, on paper."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser.chromium import IN_A_BROWSER, in_both_themes
from browser.faults import no_faults
from playwright.sync_api import Browser, Page, expect

ROOT = Path(__file__).parents[2]
PAGES = (
    "index",
    "batches",
    "trends",
    "practice",
    "what-pays",
    "brewhouse",
    "compare",
    "compare/29-30",
    "malts",
    "figures",
    "how-right",
    "how-to",
    "how-to/write-an-entry",
    "cautions",
    "batches/29",
    "batches/28",
    "batches/7",
    "batches/34",
    "accounts/29",
    "recipes/22",
    "gallery",
)

pytestmark = IN_A_BROWSER


@pytest.fixture(scope="module")
def site(demo: Path) -> Path:
    return demo


@pytest.fixture
def page(page: Page) -> Iterator[Page]:
    with no_faults(page, own=("file:",)):
        yield page


@pytest.mark.parametrize(("theme", "name"), in_both_themes(PAGES))
def test_a_page_opens_from_disk_without_asking_anything_of_anyone(
    demo_in: Callable[[str], Path], page: Page, theme: str, name: str
) -> None:
    page.goto(f"file://{demo_in(theme)}/{name}.html")
    assert page.locator("h1").count() == 1


def test_links_between_pages_work_from_disk(site: Path, page: Page) -> None:
    page.goto(f"file://{site}/index.html")
    page.get_by_role("link", name="Sour Widow").first.click()
    expect(page).to_have_url(re.compile("/batches/"))
    expect(page.locator("h1")).to_contain_text("Sour Widow")
    page.get_by_role("link", name="Trends").first.click()
    expect(page).to_have_url(re.compile(r"/trends\.html$"))


def test_a_figure_opens_to_its_working(site: Path, page: Page) -> None:
    page.goto(f"file://{site}/accounts/29.html")
    working = page.locator("details", has_text="How much of what the grist could give reached the kettle").first
    assert working.get_attribute("open") is None
    working.locator("summary").first.click()
    expect(working).to_have_attribute("open", "")


def test_the_table_of_batches_is_filtered_by_text(site: Path, page: Page) -> None:
    page.goto(f"file://{site}/batches.html")
    rows = page.locator("tbody tr:not(.year):visible")
    everything = rows.count()
    page.locator("input").first.fill("porter")
    expect(rows).not_to_have_count(everything)
    expect(rows).not_to_have_count(0)


def test_the_table_of_batches_is_sorted_by_a_column(site: Path, page: Page) -> None:
    page.goto(f"file://{site}/batches.html")

    def first_ids() -> list[str]:
        return [row.split()[0] for row in page.locator("tbody tr:not(.year):visible").all_inner_texts()][:5]

    before = first_ids()
    page.locator("thead button").nth(2).click()
    assert first_ids() != before


def test_the_list_of_batches_is_sorted_on_a_phone_too(site: Path, page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 800})
    page.goto(f"file://{site}/batches.html")
    # the choices are folded until they are asked for: the list itself stands on the first screen
    assert not page.locator("#sort").is_visible()
    more = page.get_by_role("button", name="More filters, and sorting")
    assert more.get_attribute("aria-expanded") == "false"
    more.focus()
    page.keyboard.press("Enter")
    expect(more).to_have_attribute("aria-expanded", "true")
    page.locator("#sort").select_option(label="ABV, %, highest first")
    assert page.locator("tbody tr:visible th").first.inner_text().startswith("Long Night"), "10.3 %"
    assert page.locator(".year:visible").count() == 0
    page.locator("#sort").select_option(label="brewed, earliest first")
    years = page.locator(".year:visible a").all_inner_texts()
    assert years == sorted(years)
    assert len(years) > 1


def test_a_recipe_is_copied_as_text_and_without_scripts_nothing_offers_to(site: Path, browser: Browser) -> None:
    context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    page.goto(f"file://{site}/recipes/29.html")
    page.get_by_role("button", name="Copy the recipe").focus()
    page.keyboard.press("Enter")
    page.get_by_role("status").filter(has_text="Copied.").wait_for()
    text = page.evaluate("navigator.clipboard.readText()")
    assert text.startswith("29 Yard Bitter\nbitter")
    assert "\nHops\n        35 g  Long Hedge, 6.2 % alpha, 60 min\n" in text
    assert len(text.splitlines()) > page.locator("table.recipe tr").count()
    context.close()
    bare = browser.new_context(java_script_enabled=False).new_page()
    bare.goto(f"file://{site}/recipes/29.html")
    assert bare.get_by_role("button").count() == 0


@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_the_dark_is_dark(demo_in: Callable[[str], Path], page: Page, theme: str) -> None:
    page.emulate_media(color_scheme="dark")
    page.goto(f"file://{demo_in(theme)}/index.html")
    background, ink = page.evaluate(
        "(() => { const s = getComputedStyle(document.body); return [s.backgroundColor, s.color]; })()"
    )

    def light(colour: str) -> float:
        numbers = [float(part) for part in colour[colour.index("(") + 1 : -1].replace("%", "").split(",")[:3]]
        return sum(numbers) / 3

    assert light(background) < 60
    assert light(ink) > 180


def test_the_page_reads_without_javascript(site: Path, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(f"file://{site}/batches.html")
    assert opened.locator("tbody tr:visible").count() >= 36
    context.close()


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="no pdfinfo; .ci/run installs poppler-utils")
@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_a_batch_prints_on_few_sheets_without_the_navigation(
    demo_in: Callable[[str], Path], page: Page, tmp_path: Path, theme: str
) -> None:
    page.goto(f"file://{demo_in(theme)}/batches/22.html")
    paper = tmp_path / "22.pdf"
    page.pdf(path=str(paper), format="A4")
    info = subprocess.run(["pdfinfo", str(paper)], capture_output=True, text=True, check=True).stdout
    sheets = next(int(line.split()[1]) for line in info.splitlines() if line.startswith("Pages:"))
    # with both of its courses, which lie beside one another
    assert sheets == 1
    text = _text_of(paper)
    assert "Long Night" in text
    assert "apparent attenuation" in text
    assert "beta-amylase" in text
    assert "Cautions\n" not in text.split("Long Night")[0]
    assert "to print" not in text


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext; .ci/run installs poppler-utils")
@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_a_comparison_prints_every_figure_that_differed(
    demo_in: Callable[[str], Path], page: Page, tmp_path: Path, theme: str
) -> None:
    page.goto(f"file://{demo_in(theme)}/compare/29-30.html")
    figures = page.locator(".outcomes tbody th").all_inner_texts()
    verdicts = page.locator(".outcomes tbody tr").all_inner_texts()
    paper = tmp_path / "29-30.pdf"
    page.pdf(path=str(paper), format="A4")
    # the page tells of both kinds, and those that are more than chance are what one prints it for
    assert sum("may be chance" in verdict for verdict in verdicts) in range(1, len(verdicts))
    printed = " ".join(_text_of(paper).split())
    table = printed.split("beyond scatter", 1)[1].split("beyond 90", 1)[0]
    assert [name for name in figures if name not in table] == []


def _text_of(paper: Path) -> str:
    return subprocess.run(["pdftotext", "-layout", str(paper), "-"], capture_output=True, text=True, check=True).stdout
