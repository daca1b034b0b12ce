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


def test_a_chart_says_its_message_and_no_scraps_of_its_axes(demo: Path, page: Page) -> None:
    page.goto(f"file://{demo}/trends.html")
    names = named(page)
    (chart,) = (name for name in names if "batch by batch 26 batches" in name)
    assert re.search(r"mean [−+]\d+\.\d, limits [−+]\d+\.\d and [−+]\d+\.\d points", chart)
    assert not [name for name in names if name in {"limit", "mean", "Jan 2026", "+5"}]
    past = page.get_by_role("link", name="Past the batches of the chart").first
    past.focus()
    expect(past).to_be_in_viewport()
    past.press("Enter")
    assert page.evaluate("document.activeElement.id.endsWith('-control-after')")


def test_a_filter_says_how_many_batches_it_leaves(demo: Path, page: Page) -> None:
    page.goto(f"file://{demo}/batches.html")
    status, words = page.get_by_role("status"), page.get_by_label("Show only batches with")
    expect(status).to_have_text("")
    words.fill("haymaker")
    expect(status).to_have_text(re.compile(r"^\d of 42 batches$"))
    words.fill("")
    expect(status).to_have_text("all 42 batches")
    page.goto(f"file://{demo}/search.html?q=commit+hook")
    expect(page.locator("#search-count")).to_have_text("No batch has all of these words, but the help has.")


def test_a_table_is_named_and_so_are_its_columns(demo: Path, page: Page) -> None:
    for name in ("batches", "batches/29", "accounts/29"):
        page.goto(f"file://{demo}/{name}.html")
        assert page.locator("main table").count()
        # but for those that the brewer wrote
        assert page.locator("main table:not([aria-label], [aria-labelledby], :has(> caption), .text *)").count() == 0, (
            name
        )
    page.goto(f"file://{demo}/batches/29.html")
    assert {"how much", "of the potential"} <= set(named(page))
