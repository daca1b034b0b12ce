"""A thousand batches: the pages that tell of all of them stay such as a telephone opens.

A journal of 250 shows by how much each page grows with a batch, beyond the newest that have links and rows of their own; a
thousand would take it as much further as they are more.
"""

from __future__ import annotations

import re

import pytest
from bench.generate import generate

from journal.pages import Record, Renderer, pages_of
from journal.pages.charts.control import LINKED
from journal.publishing import understand
from journal.publishing.cache import InProcessCache
from journal.publishing.understanding import with_history

FEWER, MORE, COUNT = 170, 250, 1000
#: Pages of `COUNT` batches in bytes and in elements.
MOST = {
    "trends.html": (400_000, 5_000),
    "batches.html": (400_000, 8_000),
    "practice.html": (160_000, 3_500),
    "what-pays.html": (100_000, 2_000),
}

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> tuple[Record, Record]:
    """What is known of the first batches of a journal, and of all; what comes of a batch hangs on earlier ones alone."""
    memory, root = InProcessCache(), tmp_path_factory.mktemp("many")
    generate(MORE, root)
    more = with_history(understand(root, memory=memory), memory=memory)
    for entry in sorted((root / "entries").rglob("*.md"))[FEWER:]:
        entry.unlink()
    return with_history(understand(root, memory=memory), memory=memory), more


@pytest.fixture(scope="module")
def record(records: tuple[Record, Record]) -> Record:
    return records[1]


@pytest.fixture(scope="module")
def trends(record: Record) -> str:
    (page,) = (page for page in pages_of(record) if page.path == "trends.html")
    return Renderer().render(page)


def sizes(record: Record) -> dict[str, tuple[int, int]]:
    """Bytes and elements of each page that tells of all batches."""
    renderer = Renderer()
    told = {page.path: renderer.render(page) for page in pages_of(record) if page.path in MOST}
    return {path: (len(html.encode()), len(re.findall(r"<[a-z]", html))) for path, html in told.items()}


def test_pages_of_all_batches_are_light(records: tuple[Record, Record]) -> None:
    fewer, more = map(sizes, records)
    assert fewer.keys() == more.keys() == MOST.keys()
    for path, most in MOST.items():
        for few, many, limit in zip(fewer[path], more[path], most, strict=True):
            of_a_batch = max(many - few, 0) / (MORE - FEWER)
            assert many + of_a_batch * (COUNT - MORE) <= limit, path


def test_every_batch_that_counts_is_drawn_and_the_newest_of_each_brewhouse_lead_to_their_pages(
    record: Record, trends: str
) -> None:
    for story in record.history.brewhouses:
        newest = [point.batch for point in story.course("brewhouse_efficiency").points][-LINKED:]  # type: ignore[union-attr]
        assert all(f'href="batches/{batch}.html" tabindex="-1"' in trends for batch in newest)
    drawn = sum(data.count("h0") for data in re.findall(r'<path class="dot" d="([^"]*)"', trends))
    assert drawn > 3 * MORE, "of each batch the other figures"
