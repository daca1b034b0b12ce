"""The page that says how right the numbers are has those of the measurement."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages.seen import record_at, site_of
from published.measure import NUMBERS_FILE, module_text, table
from published.sets import published_sets

from journal.pages.site.how_right import SET_WORDS
from journal.pages.site.how_right_numbers import NUMBERS


def test_the_page_s_numbers_are_those_of_the_measurement() -> None:
    """To the last digit shown: an optimiser may differ by machines in the digits beyond."""
    assert list(NUMBERS) == list(SET_WORDS)
    for found in published_sets():
        kept, unit = NUMBERS[found.name], 0.51 * 10**-found.decimals
        assert kept.points == len(found.points)
        for name in ("mean", "rms", "worst", "promised"):
            assert getattr(kept, name) == pytest.approx(getattr(found, name), abs=unit)
        assert kept.within == pytest.approx(found.within, abs=0.0051)
        assert kept.differences == pytest.approx([point.difference / point.sd for point in found.points], abs=0.011)


def test_the_module_is_written_by_the_measurement() -> None:
    written = NUMBERS_FILE.read_text("utf-8").splitlines()
    expected = module_text(published_sets()).splitlines()
    assert [line for line in written if "SetNumbers(" not in line] == [
        line for line in expected if "SetNumbers(" not in line
    ]


def test_the_kept_table_is_what_the_measurement_prints() -> None:
    text = (Path(__file__).parents[1] / "measured" / "published.md").read_text("utf-8")
    for line in table(published_sets()):
        assert line in text


def test_the_page_shows_every_set_with_its_source(tmp_path: Path) -> None:
    page = site_of(record_at(tmp_path, {}))["how-right.html"]
    for words in SET_WORDS.values():
        assert words.words in page.text
        assert words.source in page.text
        assert words.remark in page.text
    assert len(page.all("circle")) == sum(found.points for found in NUMBERS.values())


def test_every_page_leads_there(tmp_path: Path) -> None:
    site = site_of(record_at(tmp_path, {}))
    assert all(any(target.endswith("how-right.html") for target in seen.hrefs) for seen in site.values())
