"""A thousand batches: the pages that tell of all of them stay such as a telephone opens."""

from __future__ import annotations

import re

import pytest
from bench.generate import generate

from journal.pages import Record, Renderer, pages_of
from journal.pages.charts.control import LINKED
from journal.publishing import understand
from journal.publishing.understanding import with_history

COUNT = 1000
#: Pages in bytes and in elements.
MOST = {
    "trends.html": (400_000, 5_000),
    "batches.html": (400_000, 8_000),
    "practice.html": (160_000, 3_500),
    "what-pays.html": (100_000, 2_000),
}

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    root = tmp_path_factory.mktemp("thousand")
    generate(COUNT, root)
    return with_history(understand(root))


@pytest.fixture(scope="module")
def trends(record: Record) -> str:
    (page,) = (page for page in pages_of(record) if page.path == "trends.html")
    return Renderer().render(page)


def test_pages_of_all_batches_are_light(record: Record) -> None:
    renderer = Renderer()
    for page in pages_of(record):
        if page.path in MOST:
            html, (most_bytes, most_elements) = renderer.render(page), MOST[page.path]
            assert len(html.encode()) <= most_bytes, page.path
            assert len(re.findall(r"<[a-z]", html)) <= most_elements, page.path


def test_every_batch_that_counts_is_drawn_and_the_newest_of_each_brewhouse_lead_to_their_pages(
    record: Record, trends: str
) -> None:
    for story in record.history.brewhouses:
        newest = [point.batch for point in story.course("brewhouse_efficiency").points][-LINKED:]  # type: ignore[union-attr]
        assert all(f'href="batches/{batch}.html" tabindex="-1"' in trends for batch in newest)
    drawn = sum(data.count("h0") for data in re.findall(r'<path class="dot" d="([^"]*)"', trends))
    assert drawn > 3 * COUNT, "of each batch the other figures"


def test_each_year_has_its_own_values(record: Record) -> None:
    years = {batch.day.year for batch in record.batches}
    paths = {page.path for page in pages_of(record)}
    assert len(years) > 1
    assert {f"years/{year}.html" for year in years} <= paths
