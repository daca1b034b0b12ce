"""Ten questions that somebody comes with who has never seen the journal, each answered from its first page by at most two clicks.

`pytest -s tests/browser/test_questions.py` prints the clicks.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Locator, Page

MOST_CLICKS = 2

pytestmark = IN_A_BROWSER


@dataclass
class Reader:
    """Somebody at the first page, who follows what can be seen; `clicks` is what was clicked on the way."""

    page: Page
    clicks: list[str] = field(default_factory=list)

    def click(self, place: Locator) -> None:
        """Click what stands there to be seen."""
        seen = place.first
        assert seen.is_visible(), place
        self.clicks.append(" ".join(seen.inner_text().split()))
        seen.click()

    def follow(self, link: Locator) -> None:
        """Click a link; the page that it leads to, or the place on this one, is there when this ends."""
        with self.page.expect_event("framenavigated"):
            self.click(link)
        self.page.wait_for_load_state()

    def section(self, heading: str) -> Locator:
        """A part of the page by its heading."""
        return self.page.locator("section", has=self.page.get_by_role("heading", name=heading, exact=True))

    def sees(self, place: Locator, words: str = "") -> str:
        """What stands in a place that can be seen, and holds what is asked for."""
        assert place.first.is_visible(), place
        text = " ".join(place.first.inner_text().split())
        assert re.search(words, text), text
        return text


def which_beer(reader: Reader) -> str:
    """Which beer is it?"""
    return reader.sees(reader.section("Last brewed").locator(".beer-name"), r"\d+ \w+")


def how_strong(reader: Reader) -> str:
    """How strong is it?"""
    return reader.sees(reader.section("Last brewed").locator(".beer-line"), r"1\.0\d+ → 1\.0\d+.*\d %")


def good(reader: Reader) -> str:
    """Was it good?"""
    reader.follow(reader.page.get_by_role("link", name="Batches"))
    return reader.sees(reader.page.locator("#batches tr", has_text=re.compile(r"\d/\d")), r"\d+/\d+")


def recipe(reader: Reader) -> str:
    """What went into it?"""
    reader.follow(reader.section("Last brewed").locator(".beer-name a"))
    return reader.sees(reader.section("Recipe"), r"\d kg")


def odd(reader: Reader) -> str:
    """What was odd?"""
    reader.follow(reader.page.get_by_role("link", name="Batches"))
    reader.follow(reader.page.get_by_role("link", name="flagged"))
    return reader.sees(reader.page.locator("#odd"), r"\w+")


def where_it_went(reader: Reader) -> str:
    """Where did the extract go?"""
    reader.follow(reader.page.get_by_role("link", name="What pays"))
    return reader.sees(
        reader.page.locator("figure", has=reader.page.locator("svg.losses")),
        "into the fermenter .* left in the spent grain",
    )


def next_brew(reader: Reader) -> str:
    """What is brewed next?"""
    return reader.sees(reader.section("Next"), r"\d+ \w+.*1\.0\d+")


def last_spring(reader: Reader) -> str:
    """Which beers were brewed last spring?"""
    reader.follow(reader.section("A dot a brew").get_by_role("link"))
    return reader.sees(reader.page.locator("#batches tr", has_text=re.compile(r"20\d\d-0[345]-")), r"20\d\d-0[345]-")


def best_of_the_year(reader: Reader) -> str:
    """Which was the best of the year?"""
    reader.follow(reader.section("A dot a brew").get_by_role("link"))
    return reader.sees(reader.page.locator(".lead"), r"Best.*\d+/\d+")


def worked_out(reader: Reader) -> str:
    """How is this number worked out?"""
    reader.follow(reader.section("Last brewed").locator(".beer-name a"))
    reader.follow(reader.page.locator(".lead a.told"))
    row = reader.page.locator(":target")
    # it is open, or one stroke away on the spot
    if not row.locator(".working").first.is_visible():
        reader.click(row.locator("summary"))
    return reader.sees(row.locator(".working"), r"Source")


QUESTIONS: tuple[Callable[[Reader], str], ...] = (
    which_beer,
    how_strong,
    good,
    recipe,
    odd,
    where_it_went,
    next_brew,
    last_spring,
    best_of_the_year,
    worked_out,
)


@pytest.fixture
def reader(page: Page, demo: Path) -> Reader:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"file://{demo}/index.html")
    return Reader(page)


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.__name__)
def test_a_question_is_answered_by_two_clicks_at_most(reader: Reader, question: Callable[[Reader], str]) -> None:
    answer = question(reader)
    print(f"\n{question.__doc__} {' → '.join(reader.clicks) or 'no click'} ({len(reader.clicks)}): {answer[:90]}")
    assert len(reader.clicks) <= MOST_CLICKS
