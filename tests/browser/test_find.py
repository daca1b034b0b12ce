"""Searching and filtering in a real browser: from disk and served, by keyboard, without asking anything of anyone."""

from __future__ import annotations

import functools
import re
import shutil
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from browser.chromium import IN_A_BROWSER
from browser.faults import no_faults
from playwright.sync_api import Browser, Page, expect

from journal.pages import Renderer, pages_of
from journal.publishing import understand

ROOT = Path(__file__).parents[2]

pytestmark = IN_A_BROWSER


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        pass

    def do_GET(self) -> None:
        if self.path == "/favicon.ico":  # asked for by the browser itself
            self.send_response(204)
            self.end_headers()
            return
        super().do_GET()


@pytest.fixture(scope="module")
def site(demo: Path) -> Path:
    return demo


@pytest.fixture(scope="module", params=["from disk", "served"])
def base(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    """The address of the site's root."""
    if request.param == "from disk":
        yield f"file://{site}"
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(site)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture
def page(page: Page, base: str) -> Iterator[Page]:
    with no_faults(page, own=(base,)):
        yield page


def titles(page: Page) -> list[str]:
    return page.locator("#results .title").all_inner_texts()


def test_words_in_the_address_are_searched_for(page: Page, base: str) -> None:
    page.goto(f"{base}/search.html?q=ferry+porter")
    assert titles(page)
    assert all(title.startswith("Ferry Porter") for title in titles(page)[:2])
    page.locator("#results a").first.click()
    expect(page.locator("h1")).to_contain_text("Ferry Porter")


def test_a_word_of_the_notes_is_found_with_what_stands_around_it(page: Page, base: str) -> None:
    page.goto(f"{base}/search.html")
    page.keyboard.type("TARPAUL")
    page.locator("#results .said mark").first.wait_for()
    assert titles(page) == ["Yard Bitter"]
    assert page.locator("#results .said mark").all_inner_texts() == ["tarpaulin"]
    assert "The sacks had come by the ferry" in page.locator("#results .said").inner_text()
    expect(page).to_have_url(re.compile(r"search\.html\?q=TARPAUL$"))
    expect(page.locator("#search-count")).to_have_text("1 batch of 42")


def test_sections_of_the_help_are_found_too(base: str, page: Page) -> None:
    page.goto(f"{base}/search.html?q=commit+hook")
    page.locator("#help-results a").first.click()
    expect(page).to_have_url(re.compile(r"how-to/build-and-publish\.html#editor-shell-and-commit-hook$"))


def test_every_word_must_be_there(page: Page, base: str) -> None:
    page.goto(f"{base}/search.html?q=tarpaulin+zeppelin")
    assert titles(page) == []
    assert page.locator("#search-count").inner_text() == "No batch has all of these words."


def test_a_title_comes_before_a_note(page: Page, base: str) -> None:
    page.goto(f"{base}/search.html?q=ferry")
    found = titles(page)
    named = [title.startswith("Ferry Porter") for title in found]
    assert named == sorted(named, reverse=True)
    assert not all(named)


def test_a_label_is_found_and_said(page: Page, base: str) -> None:
    page.goto(f"{base}/search.html?q=kitchen")
    assert "kitchen" in page.locator("#results .where").first.inner_text()


def test_the_slash_leads_to_the_search_until_it_is_told_not_to(page: Page, base: str) -> None:
    page.goto(f"{base}/batches/29.html")
    page.keyboard.press("/")
    page.wait_for_url("**/search.html")
    page.locator("#search").wait_for()
    page.locator("#slash").focus()
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") in {"words", "slash"}
    page.locator("#slash").uncheck()
    page.goto(f"{base}/trends.html")
    page.keyboard.press("/")
    page.wait_for_timeout(100)
    assert page.url.endswith("/trends.html")


def test_the_table_is_filtered_from_the_address(page: Page, base: str) -> None:
    page.goto(f"{base}/batches.html?tag=cask&year=2026")
    rows = page.locator("#batches tbody tr:not(.year):visible")
    assert 0 < rows.count() < page.locator("#batches tbody tr:not(.year)").count()
    for row in rows.all():
        assert "cask" in (row.get_attribute("data-tag") or "").split()
        assert row.get_attribute("data-year") == "2026"
    assert page.locator("#filter-tag").input_value() == "cask"


def test_a_choice_goes_into_the_address_and_back_out(page: Page, base: str) -> None:
    page.goto(f"{base}/batches.html")
    rows = page.locator("#batches tbody tr:not(.year):visible")
    everything = rows.count()
    page.locator("#filter-style").select_option("bitter")
    expect(page).to_have_url(re.compile(r"batches\.html\?style=bitter$"))
    fewer = rows.count()
    assert 0 < fewer < everything
    page.reload()
    expect(rows).to_have_count(fewer)
    page.get_by_role("button", name="Show all").click()
    expect(page).to_have_url(re.compile(r"batches\.html$"))
    expect(rows).to_have_count(everything)


def test_a_label_that_no_batch_bears_filters_nothing(page: Page, base: str) -> None:
    page.goto(f"{base}/batches.html?tag=nosuch")
    assert (
        page.locator("#batches tbody tr:not(.year):visible").count()
        == page.locator("#batches tbody tr:not(.year)").count()
    )


def test_an_index_leads_to_the_table_cut_down_to_the_same(page: Page, base: str) -> None:
    page.goto(f"{base}/by/tag.html")
    section = page.locator(".entered").first
    count = section.locator(".found li").count()
    section.get_by_role("link", name="as a table").click()
    assert count
    expect(page.locator("#batches tbody tr:not(.year):visible")).to_have_count(count)


def test_without_javascript_the_indexes_are_there(browser: Browser, base: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(f"{base}/search.html")
    assert opened.get_by_text("Searching needs JavaScript").is_visible()
    assert not opened.locator("form").is_visible()
    opened.get_by_role("main").get_by_role("link", name="tag").click()
    expect(opened.locator(".found li")).not_to_have_count(0)
    context.close()


@pytest.fixture(scope="module")
def long_list(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's list of batches twice, once cut to its ten latest, beside the scripts that sort and filter it."""
    folder = tmp_path_factory.mktemp("long")
    shutil.copytree(demo / "assets", folder / "assets")
    record = understand(ROOT)
    (page,) = (each for each in pages_of(record) if each.path == "batches.html")
    for name, listed in (("cut", 10), ("whole", len(record.batches))):
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr("journal.pages.site.batches.LISTED", listed)
            (folder / f"{name}.html").write_text(Renderer().render(page), encoding="utf-8")
    return folder


def test_a_long_list_leads_to_the_years_and_is_whole_once_it_is_sorted_or_filtered(
    browser: Browser, long_list: Path
) -> None:
    rows = "[...document.querySelectorAll('#batches tbody tr:not(.year)')].filter(each => !each.hidden)"
    told = f"{rows}.map(each => each.cells[0].textContent)"
    # as a row that is there from the first, but for how finely its keys are told
    shown = f"{rows}.map(each => each.outerHTML.replace(/ data-sort=\"[^\"]*\"/g, '').replace(/\\s+/g, ' ').replace(/> </g, '><'))"
    pages = {name: browser.new_page() for name in ("cut", "whole")}
    for name, page in pages.items():
        page.goto(f"file://{long_list}/{name}.html")
    cut, whole = pages["cut"], pages["whole"]
    years = cut.locator("#batches tr.more a").evaluate_all("all => all.map(each => each.getAttribute('href'))")
    assert years
    assert all(href.startswith("years/") for href in years)
    assert cut.locator("#batches th[scope=row]").count() == 10
    for place in range(whole.locator("#sort option").count()):
        value = whole.locator("#sort option").nth(place).get_attribute("value") or ""
        for page in (cut, whole):
            page.locator("#sort").evaluate(
                "(each, to) => { each.value = to; each.dispatchEvent(new Event('change')); }", value
            )
        assert cut.evaluate(told) == whole.evaluate(told), value
    assert sorted(cut.evaluate(shown)) == sorted(whole.evaluate(shown))
    assert cut.locator("#batches tr.more").count() == 0
    for page in pages.values():
        page.goto(page.url.split("?")[0] + "?style=porter")
    assert cut.evaluate(told) == whole.evaluate(told) != []
    for page in pages.values():
        page.close()
