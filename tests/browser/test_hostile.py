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

pytestmark = IN_A_BROWSER
#: What a reader may be led to ask the pages that read their own address.
ASKED = [f"search.html?q={quote(MARKUP)}", f"batches.html?tag={quote(MARKUP)}&style={quote(LINKS[0])}"]


@pytest.fixture(scope="module")
def hostile_in(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """The site of the hostile journal in a theme."""
    root = tmp_path_factory.mktemp("hostile")
    hostile_journal(root)

    @cache
    def site(theme: str) -> Path:
        assert build(root, root / theme, broken=Broken.SHOWN, theme=theme).published
        return root / theme

    return site


def _stir(page: Page) -> None:
    """Do what a reader may do: open what is closed, search, filter, sort, and point at every doubtful link."""
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
    page.evaluate(
        "document.querySelectorAll('a[href]:not([href^=http])').forEach(each => { each.focus({preventScroll: true}); })"
    )
    if page.locator("#words").count():
        page.locator("#words").fill("script drawkcab onerror")
    for button in page.locator("thead button").all()[:3]:
        button.click()


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
