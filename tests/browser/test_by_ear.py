"""What a page says to who hears it: names as the browser makes them of what stands there."""

from __future__ import annotations

import re
from pathlib import Path

from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Page, expect

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


def test_a_sheet_tells_what_a_button_did_and_says_what_to_do_once(demo: Path, page: Page) -> None:
    page.goto(f"file://{demo}/batches/34.html")
    kettle = page.get_by_role("group", name="Full kettle")
    todo = kettle.locator(".advice").get_by_role("status")
    kettle.get_by_role("textbox", name="Gravity read").fill("1.038")
    kettle.get_by_role("textbox", name="Gravity read").blur()
    expect(todo).to_contain_text("To reach the target")
    expect(kettle.locator(".advice")).to_contain_text("best estimate")
    expect(todo).not_to_contain_text("best estimate")
    page.get_by_label("Notes of the day").fill("Fog until noon.")
    page.get_by_role("button", name="Lines for the entry").click()
    expect(page.get_by_role("status").filter(has_text="The lines stand below")).to_have_count(1)
    expect(page.get_by_label("For the entry")).to_have_value(re.compile("Fog until noon"))
    spoken = named(page)
    assert any(re.fullmatch(r"[\d.]+ L by the marks, [\d.]+ L cold", name) for name in spoken)
    assert any(re.search(r"boil \d+ min → [\d.]+ L malt extract \+\d+ g → [\d.]+ L", name) for name in spoken)
