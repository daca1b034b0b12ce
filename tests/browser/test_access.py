"""Every kind of page held against WCAG 2.2 AA by axe-core, in the light, in the dark and on a phone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from browser.axe import found_by_axe
from browser.chromium import IN_A_BROWSER, in_both_themes
from playwright.sync_api import Page

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

pytestmark = IN_A_BROWSER


def address_of(site: Path, name: str) -> str:
    return f"file://{site}/{name}.html" + ("?q=ferry" if name == "search" else "")


@pytest.mark.parametrize(("theme", "name"), in_both_themes(PAGES))
def test_axe_finds_nothing(demo_in: Callable[[str], Path], page: Page, theme: str, name: str) -> None:
    """In the light; in the dark its colours, which stand out; on a phone its targets, which are wide enough."""
    page.goto(address_of(demo_in(theme), name))
    page.evaluate("document.querySelectorAll('details').forEach((each, n) => { each.open = n < 3; })")
    told = found_by_axe(page)
    page.emulate_media(color_scheme="dark")
    told += found_by_axe(page, "color-contrast")
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 320, "height": 900})
    told += found_by_axe(page, "target-size")
    assert not told, "\n".join(told)


def test_the_checker_sees_what_is_wrong(demo_in: Callable[[str], Path], page: Page) -> None:
    """It is axe-core with two pieces replaced: a page that is spoilt on purpose is found out by each kind of rule."""
    page.goto(f"file://{demo_in('notebook')}/cautions.html")
    # the page's own policy lets no style stand in its text, but a script may set it
    page.locator("main").evaluate(
        """main => {
          const put = (name, style, words = "") => {
            const made = main.appendChild(document.createElement(name));
            made.style.cssText = style;
            made.textContent = words;
            return made;
          };
          put("img", "");
          put("button", "");
          put("p", "color: #999; background: #aaa", "Hardly to be read.");
          const small = "all: unset; position: fixed; top: 0; width: 9px; height: 9px; left: ";
          for (const left of ["0px", "10px"]) put("button", small + left).ariaLabel = left;
        }"""
    )
    found = {line.partition(":")[0] for line in found_by_axe(page)}
    assert found >= {"image-alt", "button-name", "color-contrast", "target-size"}
