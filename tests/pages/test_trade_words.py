"""With American units the pages say water and boil end, and what the brewer wrote stays as it was written."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages.seen import BREWERY, WHOLE, head, record_at, seen_at
from texts import entry

from journal.pages.index import Index
from journal.pages.recipe_text import recipe_text
from journal.pages.trade_words import in_trade_words

OWN = "The liquor was hot. At knockout it rained."
TITLE = "A knockout of a liquor"


@pytest.mark.parametrize(
    ("units", "ours", "theirs"),
    [("us", "Volume at boil end", "at knockout"), ("metric", "Volume at knockout", "boil end")],
)
def test_the_accounts_speak_the_trades_words(tmp_path: Path, units: str, ours: str, theirs: str) -> None:
    record = record_at(tmp_path, {"31.md": entry(WHOLE, head=head("31"))}, f"units: {units}\n{BREWERY}")
    text = seen_at(record, "accounts/31.html").text
    assert ours in text
    assert theirs not in text
    assert ("Mash water" in text) == (units == "us")
    assert "Mash liquor" not in text or units == "metric"


def test_the_brewers_own_words_stay(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "31.md": entry(WHOLE, OWN, head=head("31", TITLE)),
        "32.md": entry(WHOLE, head=head("32")),
    }
    record = record_at(tmp_path, files, f"units: us\n{BREWERY}")
    page = seen_at(record, "batches/31.html").text
    assert OWN in page
    assert TITLE in page
    assert "Sparge liquor" not in page
    for path in ("batches.html", "batches/32.html"):
        assert TITLE in seen_at(record, path).text, path


def test_the_fields_of_an_entry_are_called_what_they_are_called(tmp_path: Path) -> None:
    record = record_at(tmp_path, {"31.md": entry(WHOLE, head=head("31"))}, f"units: us\n{BREWERY}")
    assert "mash.liquor" in seen_at(record, "fields.html").text


def test_capitals_stay_and_codes_and_other_units_are_left_alone() -> None:
    assert in_trade_words("<p>Liquor, at knockout <code>liquor</code></p>", "us") == (
        "<p>Water, at boil end <code>liquor</code></p>"
    )
    assert in_trade_words("<p>Liquor</p>", "metric") == "<p>Liquor</p>"


@pytest.mark.parametrize(
    ("units", "ours", "theirs"), [("us", "mash water", "liquor"), ("metric", "mash liquor", "water")]
)
def test_a_recipe_in_the_terminal_speaks_them_too(tmp_path: Path, units: str, ours: str, theirs: str) -> None:
    fields = "mash: {liquor: 14 L, rests: [66 degC for 60 min]}"
    index = Index(record_at(tmp_path, {"31.md": entry(fields, head=head("31"))}, f"units: {units}\n{BREWERY}"))
    text = recipe_text(index, index.batches[0])
    assert ours in text
    assert theirs not in text
