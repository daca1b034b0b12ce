"""Pages of brews in several vessels and of several in one: each links the others and says whose numbers it shows."""

from __future__ import annotations

from pathlib import Path

import pytest
from figures.test_relatives import BREW, ELDER, SMALL, STRONG, WHOLE, YOUNGER
from pages.seen import record_at, seen_at

from journal.pages.record import Record


def record(root: Path, **entries: str) -> Record:
    return record_at(root, {f"a{name}.md": f"---\nbatch: {name[1:]}\n{text}---\n" for name, text in entries.items()})


@pytest.fixture
def parted(tmp_path: Path) -> Record:
    return record(tmp_path, _14=WHOLE, _15=ELDER, _16=YOUNGER)


def test_a_part_and_its_brew_link_each_other_on_page_and_recipe(parted: Record) -> None:
    for folder in ("batches", "recipes"):
        assert f"../{folder}/14.html" in seen_at(parted, f"{folder}/15.html").hrefs
        assert {f"../{folder}/15.html", f"../{folder}/16.html"} <= set(seen_at(parted, f"{folder}/14.html").hrefs)


def test_the_accounts_of_every_relative_can_be_set(tmp_path: Path) -> None:
    blend = "title: Both\nblend_of: {15: 5 L, 23: 5 L}\n"
    guest = BREW + "joins: 14\nfermenter: {volume: 3 L, gravity: 1.040}\n"
    found = record(tmp_path, _14=WHOLE, _15=ELDER, _16=YOUNGER, _22=STRONG, _23=SMALL, _24=blend, _25=guest)
    for batch in found.batches:
        for folder in ("batches", "accounts", "recipes"):
            assert seen_at(found, f"{folder}/{batch.id}.html").ids


def test_a_planned_part_is_set_too(tmp_path: Path) -> None:
    found = record(tmp_path, _14=WHOLE, _15="title: Elder\npart_of: 14\nfermenter: {yeast: one}\n")
    assert found.journal.batches[1].planned
    assert "../batches/14.html" in seen_at(found, "batches/15.html").hrefs
