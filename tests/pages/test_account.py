"""Where the extract went: steps that add up, merged where readings are wanting, and what can't be true drawn as it is."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from pages.seen import LITTLE, WHOLE, batch_of, one_batch, seen_at

from journal.pages.parts.account import Account


def account_of(root: Path, fields: str) -> Account:
    account = batch_of(one_batch(root, fields)).account
    assert account is not None
    return account


def kg(account: Account) -> list[tuple[str, float]]:
    return [(step.kind, float((step.kg.whole + step.kg.fraction).replace("−", "-"))) for step in account.steps]


SIGNS = {"start": 1, "loss": -1, "gain": 1, "join": 1, "differ": 1}
WITHOUT_BEFORE = WHOLE.replace("  before: {volume: 25.0 L at 65 degC, gravity: 1.044}\n", "")
WITHOUT_AFTER = WHOLE.replace("  after: {volume: 22.3 L at 95 degC, gravity: 1.050}\n", "")
WITHOUT_KETTLE = WITHOUT_BEFORE.replace("  after: {volume: 22.3 L at 95 degC, gravity: 1.050}\n", "")
WITHOUT_MASH = WHOLE.replace("  first_wort: 1.077\n", "")
SUGARED = WHOLE.replace("  time: 60 min\n", "  time: 60 min\n  additions: [{addition: sucrose, weight: 0.4 kg}]\n")
PRIMED = WHOLE.replace("gravity: 1.051,", "gravity: 1.051, additions: [{addition: honey, weight: 0.3 kg}],")
EARLY = WHOLE.replace("gravity: 1.044}", "gravity: 1.054, additions: [{addition: dry malt extract, weight: 0.7 kg}]}")
IMPOSSIBLE = WHOLE.replace("gravity: 1.044", "gravity: 1.068")


@pytest.mark.parametrize(
    "fields",
    [
        WHOLE,
        LITTLE,
        WITHOUT_BEFORE,
        WITHOUT_AFTER,
        WITHOUT_KETTLE,
        WITHOUT_MASH,
        SUGARED,
        PRIMED,
        EARLY,
        EARLY.replace("  first_wort: 1.077\n", ""),
        IMPOSSIBLE,
        SUGARED.replace("  before: {volume: 25.0 L at 65 degC, gravity: 1.044}\n", ""),
        SUGARED.replace("  after: {volume: 22.3 L at 95 degC, gravity: 1.050}\n", ""),
    ],
)
def test_the_steps_add_up_to_the_end(tmp_path: Path, fields: str) -> None:
    steps = kg(account_of(tmp_path, fields))
    assert steps[0][0] == "start"
    assert steps[-1][0] == "end"
    reached = sum(SIGNS[kind] * amount for kind, amount in steps[:-1])
    # each number as shown ends at hundredths of a kilogram
    assert reached == pytest.approx(steps[-1][1], abs=0.005 * len(steps) + 1e-9)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (LITTLE, ["left on the way, not known where"]),
        (WITHOUT_KETTLE, ["not dissolved in the mash", "left in mash tun and kettle"]),
        (WITHOUT_AFTER, ["lost in the boil and left in the kettle"]),
        (WITHOUT_BEFORE, ["not dissolved in the mash", "left in the mash tun", "left in the kettle"]),
        (WITHOUT_MASH, ["left in the mash tun, dissolved or not", "the two kettle readings differ"]),
        (SUGARED, ["joined in the kettle"]),
        (PRIMED, ["joined in the fermenter"]),
        (EARLY, ["joined before the boil"]),
        (IMPOSSIBLE, ["more in the kettle than was dissolved"]),
    ],
)
def test_a_step_whose_readings_are_wanting_is_merged_with_the_next(
    tmp_path: Path, fields: str, words: list[str]
) -> None:
    named = [step.words for step in account_of(tmp_path, fields).steps]
    assert set(words) <= set(named)
    if fields == WITHOUT_KETTLE:
        assert named == ["the grist’s potential", *words, "into the fermenter"]


@pytest.mark.parametrize("fields", [WHOLE, LITTLE, SUGARED, PRIMED, IMPOSSIBLE])
def test_each_bar_begins_where_the_last_one_ended(tmp_path: Path, fields: str) -> None:
    steps = account_of(tmp_path, fields).steps
    for before, after in pairwise(steps[:-1]):
        ends = (after.left, after.left + after.width)
        assert min(abs(end - before.level) for end in ends) < 0.02
    for step in steps:
        assert 0 <= step.left <= 100
        assert step.left + step.width <= 100.01
        assert step.low <= step.high


STEEPED = """
grains: [{malt: caramel malt, weight: 0.3 kg}]
mash: {liquor: 9 L}
lauter: {method: steep}
boil: {before: {volume: 9 L, gravity: 1.050, additions: [{addition: dry malt extract, weight: 1.1 kg}]}}
fermenter: {volume: 8 L, gravity: 1.052}
"""


@pytest.mark.parametrize("fields", [SUGARED, PRIMED, EARLY, STEEPED])
def test_where_something_joined_the_shares_are_of_all_extract_and_add_up(tmp_path: Path, fields: str) -> None:
    account = account_of(tmp_path, fields)
    shares = [(step.kind, float((step.share.whole + step.share.fraction).replace("−", "-"))) for step in account.steps]
    assert account.of == "of all extract"
    # as shown, each ends at tenths of a per cent or at whole ones
    assert sum(share for kind, share in shares if kind in {"start", "join"}) == pytest.approx(100.0, abs=1.0)
    reached = sum(SIGNS[kind] * share for kind, share in shares[:-1])
    assert reached == pytest.approx(shares[-1][1], abs=0.5 * len(shares))
    assert shares[-1][1] <= 102.0
    assert any("of all extract" in remark for remark in account.remarks)


def test_its_end_is_the_brewhouse_efficiency(tmp_path: Path) -> None:
    model = batch_of(one_batch(tmp_path))
    assert model.account is not None
    (brewhouse,) = (link.number for link in model.chain if link.name == "brewhouse_efficiency")
    assert brewhouse is not None
    assert model.account.steps[-1].share == brewhouse


def test_without_a_grist_there_is_no_account(tmp_path: Path) -> None:
    model = batch_of(one_batch(tmp_path, "brewhouse: shed\nfermenter: {volume: 20 L, gravity: 1.05}"))
    assert model.account is None


def test_each_step_leads_to_its_row_in_the_accounts(tmp_path: Path) -> None:
    record = one_batch(tmp_path)
    ids = set(seen_at(record, "accounts/31.html").ids)
    led = {href.partition("#")[2] for href in seen_at(record, "batches/31.html").hrefs if "/accounts/31.html#" in href}
    assert {"potential_extract", "undissolved_extract", "fermenter_extract"} <= led <= ids
