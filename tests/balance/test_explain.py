"""A balance as plain text: its verdict, every reading as recorded and balanced, and the suspects of a broken one."""

from __future__ import annotations

import re

import pytest
from balance.brewed_exactly import batch_with, brewery_at, struck, truth
from handbook import CRC, gravity

from journal.balance import BROKEN, CLOSES
from journal.balance.explain import explain_balance
from journal.measures.wording import US
from journal.reading import Brewery

TRUE = truth().readings


@pytest.fixture(scope="module")
def brewery(tmp_path_factory: pytest.TempPathFactory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def rows(text: str) -> dict[str, str]:
    return {found[1]: found[0] for found in re.finditer(r"^  (\S+) .*$", text, re.MULTILINE)}


def test_every_reading_stands_beside_what_it_is_balanced_to(brewery: Brewery) -> None:
    batch = batch_with({})
    balance = struck(batch, brewery)
    text = explain_balance(balance, batch)
    assert text.startswith(f"balance of batch {batch.id}: {CLOSES}\n")
    assert "suspects" not in text
    told = rows(text)
    for reading in balance.verdict.readings:
        written = batch.written(reading.path)
        # a whole list of grains has no room beside its weight
        assert written in told[reading.path] or reading.path == "grains"
        assert told[reading.path].endswith(f"{reading.adjusted:.1f}")


def test_of_a_broken_one_the_suspects_come_last_the_likeliest_first(brewery: Brewery) -> None:
    away = gravity(next(strength for strength in CRC if gravity(strength) > TRUE["boil.before.gravity"] + 0.01))
    batch = batch_with({"boil.before.gravity": f"{away:.4f}"})
    balance = struck(batch, brewery)
    assert balance.verdict.status == BROKEN
    text = explain_balance(balance, batch)
    suspects = text[text.index("suspects, likeliest first") :]
    first = re.search(r"^    (\S+)", suspects, re.MULTILINE)
    assert first is not None
    assert first[1] == "boil.before.gravity"


def test_gallons_are_shown_where_the_brewery_measures_in_them(brewery: Brewery) -> None:
    batch = batch_with({})
    assert " gal" in explain_balance(struck(batch, brewery), batch, US)
