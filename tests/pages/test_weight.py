"""How much of a page there is: a diary is read on a phone, and nobody reads what nobody can find."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pages.seen import see

from journal.pages import Record, Renderer, pages_of
from journal.publishing import understand

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def demo() -> Record:
    return understand(ROOT)


def test_a_batchs_page_is_light(demo: Record) -> None:
    renderer = Renderer()
    planned = {f"batches/{batch.id}.html" for batch in demo.batches if batch.planned}
    for page in pages_of(demo):
        if page.template in {"batch.html.j2", "recipe.html.j2"} and page.path not in planned:
            html = renderer.render(page)
            assert len(html.encode()) <= 60_000, page.path
            assert len(see(html).elements) <= 1_200, page.path


def test_every_number_of_a_batchs_page_leads_to_a_row_of_its_accounts(demo: Record) -> None:
    renderer = Renderer()
    pages = {page.path: page for page in pages_of(demo)}
    seen = {path: see(renderer.render(pages[path])) for path in ("batches/29.html", "accounts/29.html")}
    led = [href.partition("#") for href in seen["batches/29.html"].hrefs if href.startswith("../accounts/29.html#")]
    assert len(led) > 30
    assert {anchor for _, _, anchor in led} <= set(seen["accounts/29.html"].ids)


def test_no_heading_of_a_page_is_there_twice(demo: Record) -> None:
    """But those that the brewer wrote."""
    renderer = Renderer()
    for page in pages_of(demo):
        if page.template in {"batch.html.j2", "accounts.html.j2", "recipe.html.j2"}:
            headings = re.findall(r"<h[1-6][^>]*>(.*?)</h[1-6]>", renderer.render(page), re.DOTALL)
            assert len(set(headings)) == len(headings), page.path
