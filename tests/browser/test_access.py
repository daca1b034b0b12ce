"""Every kind of page held against WCAG 2.2 AA by axe-core, in the light, in the dark and on a phone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser.chromium import IN_A_BROWSER, in_both_themes
from playwright.sync_api import Browser, Page

ROOT = Path(__file__).parents[2]
PAGES = (
    "index",
    "batches",
    "by/tag",
    "search",
    "trends",
    "practice",
    "what-pays",
    "brewhouse",
    "compare",
    "compare/29-30",
    "malts",
    "malt-needed",
    "figures",
    "how-right",
    "how-to",
    "how-to/write-an-entry",
    "cautions",
    "batches/29",
    "batches/34",
    "accounts/29",
    "recipes/22",
    "gallery",
)
#: Axe-core's tags for the success criteria of WCAG 2.2, levels A and AA, and its own best practices.
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

pytestmark = IN_A_BROWSER


def found_by_axe(page: Page, rules: dict[str, object]) -> list[str]:
    found = Axe().run(page, options={"runOnly": rules, "resultTypes": ["violations"]})
    return [
        f"{violation['id']}: {node['target']} {node.get('failureSummary', '')}"
        for violation in found.response["violations"]
        for node in violation["nodes"][:3]
    ]


def address_of(site: Path, name: str) -> str:
    return f"file://{site}/{name}.html" + ("?q=ferry" if name == "search" else "")


@pytest.mark.parametrize(("theme", "name"), in_both_themes(PAGES))
def test_axe_finds_nothing(demo_in: Callable[[str], Path], browser: Browser, theme: str, name: str) -> None:
    """In the light; in the dark its colours, which stand out; on a phone its targets, which are wide enough."""
    # the checker is put into the page from outside, which the page's own policy would forbid
    context = browser.new_context(color_scheme="light", viewport={"width": 1280, "height": 900}, bypass_csp=True)
    page = context.new_page()
    page.goto(address_of(demo_in(theme), name))
    page.evaluate("document.querySelectorAll('details').forEach((each, n) => { each.open = n < 3; })")
    told = found_by_axe(page, {"type": "tag", "values": TAGS})
    page.emulate_media(color_scheme="dark")
    told += found_by_axe(page, {"type": "rule", "values": ["color-contrast"]})
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 320, "height": 900})
    told += found_by_axe(page, {"type": "rule", "values": ["target-size"]})
    context.close()
    assert not told, "\n".join(told)
