"""A site made of hostile texts in a real browser: nothing of it runs, on any page, with the page's own policy taken away."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from urllib.parse import quote

import pytest
from browser.chromium import IN_A_BROWSER
from hostile import LINKS, MARKUP, hostile_journal
from playwright.sync_api import Browser, Page

from journal.publishing import Broken, build
from journal.publishing.cache import InProcessCache

pytestmark = IN_A_BROWSER
#: What a reader may be led to ask the pages that read their own address.
ASKED = [f"search.html?q={quote(MARKUP)}", f"batches.html?tag={quote(MARKUP)}&style={quote(LINKS[0])}"]
#: Opens and touches everything, and says how many places there are to write a search in, and to sort by. What listens hears the
#: events as it would hear a reader's; to lay a page out anew for each of its links would take most of the time.
STIR = """() => {
  document.querySelectorAll("details").forEach(each => { each.open = true; });
  document.querySelectorAll("body *").forEach(each => {
    each.dispatchEvent(new MouseEvent("mouseover", { bubbles: true }));
    each.dispatchEvent(new FocusEvent("focus"));
  });
  return ["#words", "thead button"].map(each => document.querySelectorAll(each).length);
}"""


@pytest.fixture(scope="module")
def hostile_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The site of the hostile journal in a theme."""
    root = tmp_path_factory.mktemp("hostile")
    hostile_journal(root)
    memory = InProcessCache()

    @cache
    def site(theme: str) -> Path:
        assert build(root, root / theme, broken=Broken.SHOWN, theme=theme, memory=memory).published
        return root / theme

    return site


def _stir(page: Page) -> None:
    """Do what a reader may do: open what is closed, point at everything and reach it by keyboard, search, filter, sort."""
    words, buttons = page.evaluate(STIR)
    if words:
        page.locator("#words").fill("script drawkcab onerror")
    for place in range(min(buttons, 3)):
        page.locator("thead button").nth(place).click()


@pytest.mark.parametrize("theme", ["notebook", "almanac"])
def test_nothing_runs_on_any_page(hostile_in: Callable[[str], Path], browser: Browser, theme: str) -> None:
    site = hostile_in(theme)
    # the policy would stop a script, and hide that it got so far
    context = browser.new_context(bypass_csp=True)
    page, faults = context.new_page(), list[str]()
    page.on("console", lambda message: faults.append(message.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("dialog", lambda dialog: (faults.append(dialog.message), dialog.dismiss()))
    page.on("popup", lambda opened: faults.append(opened.url))
    page.on(
        "request", lambda request: None if request.url.startswith(f"file://{site}/") else faults.append(request.url)
    )
    pages = [quote(str(path.relative_to(site))) for path in sorted(site.rglob("*.html"))] + ASKED
    assert len(pages) > 25
    for name in pages:
        page.goto(f"file://{site}/{name}")
        _stir(page)
        assert page.evaluate("window.ran") is None, name
        assert page.title().endswith(MARKUP), name
        assert page.url.startswith(f"file://{site}/"), name
        assert faults == [], name
    context.close()
