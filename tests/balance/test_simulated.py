"""A small, seeded share of the measurement on simulated batches: what the balance is there for, in numbers.

A share that is measured over n cases strays by sqrt(p (1 - p) / n), the standard deviation of a binomial share; every bound
leaves three of these, and says so.
"""

from __future__ import annotations

from functools import cache

import pytest
from balance.measure import table
from balance.trials import AIMED, FAULTS, Judged, accused, bettered, caught, own, wide

STRANGERS = 240
#: The bounds: errors after the balance over errors before; batches accused that are clean.
BETTER = 0.65
ACCUSED = 0.02

pytestmark = pytest.mark.long


def margin(share: float, cases: int) -> float:
    """Three standard deviations of a binomial share."""
    return 3 * (share * (1 - share) / cases) ** 0.5


@cache
def strangers() -> list[Judged]:
    return list(wide(STRANGERS, 20, None))


@cache
def regulars() -> list[Judged]:
    return list(own(6, 30, 21, [None]))


#: The kinds of fault that the bounds are set for, each in every reading it may befall.
GROSS = [fault for kind in AIMED for fault in FAULTS[kind]]


@cache
def faulty_strangers() -> list[Judged]:
    return [case for seed, fault in enumerate(GROSS) for case in wide(9, 30 + seed, fault)]


@cache
def faulty_regulars() -> list[Judged]:
    return list(own(3, 3 * len(GROSS), 40, list(GROSS)))


@pytest.mark.parametrize("cases", [strangers, regulars])
def test_the_error_of_mash_efficiency_is_two_thirds_or_less(cases):
    found = bettered(cases(), "mash_efficiency")
    # the standard deviation of a ratio r of two root mean squares whose errors correlate by r itself, over n cases
    strays = BETTER * ((1 - BETTER**2) / found.cases) ** 0.5
    assert found.error_ratio <= BETTER + 3 * strays
    assert found.error_ratio < 0.8


@pytest.mark.parametrize("cases", [strangers, regulars])
@pytest.mark.parametrize("name", ["mash_efficiency", "brewhouse_efficiency"])
def test_intervals_of_90_percent_cover_90_percent(cases, name):
    found = bettered(cases(), name)
    assert found.covers == pytest.approx(0.90, abs=margin(0.90, found.cases))


@pytest.mark.parametrize("cases", [strangers, regulars])
def test_clean_batches_are_hardly_ever_accused(cases):
    assert accused(cases()) <= ACCUSED + margin(ACCUSED, len(cases()))


def test_gross_errors_are_found_in_a_brewery_that_nothing_is_known_of():
    found = caught(faulty_strangers())
    assert found.cases == 99
    assert found.flagged_share >= 0.70
    assert found.right_share >= 0.95


def test_gross_errors_are_found_in_a_brewery_with_a_record():
    found = caught(faulty_regulars())
    assert found.cases >= 80
    assert found.flagged_share >= 0.95
    assert found.right_share >= 0.92


def test_a_record_sees_what_a_stranger_cannot():
    # a fermenter that is a tenth off: what stays behind in the kettle has to be known
    unknown = caught(list(wide(24, 50, FAULTS["fermenter volume off by 8 to 10 %"][0])))
    known = caught(list(own(2, 12, 51, list(FAULTS["fermenter volume off by 8 to 10 %"]))))
    assert known.flagged_share > unknown.flagged_share + margin(0.5, 24)


def test_the_table_has_a_row_for_every_kind_of_fault(monkeypatch):
    some = dict(list(FAULTS.items())[-2:])
    monkeypatch.setattr("balance.measure.FAULTS", some)
    printed = table(2).splitlines()
    for kind in some:
        rows = [row for row in printed if row.split(":")[-1].strip().startswith(kind)]
        assert [row.split(":")[0] for row in rows] == ["wide", "own"]
