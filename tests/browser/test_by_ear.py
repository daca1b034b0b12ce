"""What a page says to who hears it: names as the browser makes them of what stands there."""

from __future__ import annotations

import re
from pathlib import Path

from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Page

pytestmark = IN_A_BROWSER


def named(page: Page) -> list[str]:
    """Names of all that has one, in the order of the page, from the browser's own tree."""
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    return [node["name"]["value"].replace("\u00a0", " ") for node in nodes if node.get("name", {}).get("value")]


def test_a_number_is_one_word_and_an_efficiency_a_sentence(demo: Path, page: Page) -> None:
    page.goto(f"file://{demo}/accounts/29.html")
    names = named(page)
    numbers = [name for name in names if re.fullmatch(r"[−\d.]+ ± [\d.]+( \S+)?", name)]
    assert len(numbers) > 20
    assert not [name for name in names if re.search(r"\d \.\d", name)]
    (mash,) = (name for name in names if name.startswith("mash :"))
    assert re.fullmatch(
        r"mash : [\d.]+ ± [\d.]+ % of the potential reached the kettle ; \d+ to \d+ % was to be expected.*", mash
    )
