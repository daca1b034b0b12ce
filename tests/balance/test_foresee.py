"""What is expected on the eve of brewing: of this grist, of these volumes, and no narrower than what is known."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

import pytest
from balance.brewed_exactly import OWN, USUAL, batch_with, brewery_at, struck, truth
from texts import batch_of

from journal.balance import Priors
from journal.balance.foresee import FORESEEN, Foreseen, foresee
from journal.figures import figures_of
from journal.numerics import LEVEL
from journal.reading import Brewery, Malts

PLANNED = """
    grains: [{{malt: pale lot, weight: {grain} kg, extract: {extract} %, moisture: 4.0 ± 0.1 %, source: certificate}}]
    mash: {{liquor: 15.0 L}}
    lauter: {{method: batch sparge, liquor: 15.0 L}}
    boil: {{time: 60 min}}
"""
SPARGED = "batch sparge, liquor: 15.0 L"
#: Upper 5 % point of Student's t with 24 degrees of freedom, any table of it: twenty batches, and four that common
#: practice stands for.
T_24 = 1.711


@pytest.fixture
def brewery(tmp_path: Path) -> Brewery:
    return brewery_at(tmp_path)


def eve(brewery: Brewery, grain: float = 5.0, extract: float = 81.0, priors: Priors = OWN) -> dict[str, Foreseen]:
    batch = batch_of(PLANNED.format(grain=grain, extract=extract))
    return foresee(batch, figures_of(batch, brewery, Malts()), priors)


def test_everything_is_expected_of_a_planned_batch(brewery: Brewery) -> None:
    batch = batch_of(PLANNED.format(grain=5.0, extract=81.0))
    assert batch.planned
    balance = struck(batch, brewery)
    assert not balance.holds
    assert set(balance.foreseen) == set(FORESEEN)
    for expected in balance.foreseen.values():
        assert expected.low < expected.value < expected.high
        assert expected.value - expected.low == pytest.approx(expected.high - expected.value)


def test_the_interval_is_students_of_what_is_not_known(brewery: Brewery) -> None:
    assert LEVEL == 0.90
    for expected in eve(brewery).values():
        assert (expected.high - expected.value) / expected.sd == pytest.approx(T_24, abs=5e-4)
        assert expected.batches == 20


def test_few_batches_reach_further(brewery: Brewery) -> None:
    few = Priors(**{f.name: replace(getattr(OWN, f.name), batches=3) for f in fields(Priors)})
    expected = eve(brewery, priors=few)["mash_efficiency"]
    assert expected.batches == 3
    # seven degrees of freedom, any table of t
    assert (expected.high - expected.value) / expected.sd == pytest.approx(1.895, abs=5e-4)


def test_a_stronger_beer_is_expected_to_lauter_worse_and_to_convert_as_well(brewery: Brewery) -> None:
    weak, usual, strong = (eve(brewery, grain) for grain in (3.5, 5.0, 7.0))
    for name in ("lauter_efficiency", "mash_efficiency", "brewhouse_efficiency"):
        assert weak[name].value > usual[name].value > strong[name].value
    assert weak["original_gravity"].value < usual["original_gravity"].value < strong["original_gravity"].value
    assert strong["kettle_volume"].value < usual["kettle_volume"].value
    assert strong["conversion_efficiency"].value == pytest.approx(weak["conversion_efficiency"].value, abs=1e-4)


def test_efficiencies_go_by_the_sheet(brewery: Brewery) -> None:
    poor, rich = eve(brewery, extract=79.0), eve(brewery, extract=83.0)
    for expected in (poor, rich):
        assert expected["conversion_efficiency"].value == pytest.approx(USUAL.conversion, abs=1e-4)
    dissolved = [found["conversion_efficiency"].value * sheet for found, sheet in ((poor, 0.79), (rich, 0.83))]
    assert dissolved[1] / dissolved[0] == pytest.approx(83 / 79, abs=1e-4)
    assert rich["kettle_gravity"].value > poor["kettle_gravity"].value + 0.001


def test_a_vague_sheet_does_not_widen_what_goes_by_it(brewery: Brewery) -> None:
    vague = PLANNED.replace("source: certificate", "source: typical")
    batch = batch_of(vague.format(grain=5.0, extract=81.0))
    expected = foresee(batch, figures_of(batch, brewery, Malts()), OWN)["conversion_efficiency"]
    assert expected.sd == pytest.approx(eve(brewery)["conversion_efficiency"].sd, rel=0.02)


def test_what_an_exact_brew_gives_is_what_was_expected_of_it(brewery: Brewery) -> None:
    really = truth()
    balance = struck(batch_with({}), brewery)
    assert balance.holds
    for name in ("conversion_efficiency", "mash_efficiency", "brewhouse_efficiency"):
        assert balance.foreseen[name].value == pytest.approx(really.efficiency[name], abs=0.004)
    assert balance.foreseen["kettle_volume"].value == pytest.approx(really.readings["boil.before.volume"], abs=0.1)
    assert balance.foreseen["original_gravity"].value == pytest.approx(really.readings["fermenter.gravity"], abs=0.0005)
    assert balance.foreseen["boil_off"].value == pytest.approx(USUAL.boil_off)


def test_the_days_readings_dont_move_what_was_expected(brewery: Brewery) -> None:
    usual = struck(batch_with({}), brewery).foreseen
    other = struck(batch_with({"boil.after.gravity": "1.0590", "mash.first_wort": "1.0600"}), brewery).foreseen
    assert {name: found.value for name, found in other.items()} == {name: found.value for name, found in usual.items()}


@pytest.mark.parametrize(
    "missing",
    ["mash: {liquor: 15.0 L}", "lauter: {method: batch sparge, liquor: 15.0 L}", ", liquor: 15.0 L}"],
    ids=["mash", "lautering", "sparge"],
)
def test_nothing_is_expected_where_the_liquor_is_not_known(missing: str, brewery: Brewery) -> None:
    fields = PLANNED.format(grain=5.0, extract=81.0)
    assert missing in fields
    batch = batch_of(fields.replace(missing, "}" if missing.startswith(",") else ""))
    assert foresee(batch, figures_of(batch, brewery, Malts()), OWN) == {}


def test_without_a_sparge_the_mash_liquor_is_all_there_is(brewery: Brewery) -> None:
    batch = batch_of(PLANNED.format(grain=5.0, extract=81.0).replace(SPARGED, "no sparge"))
    expected = foresee(batch, figures_of(batch, brewery, Malts()), OWN)
    sparged = eve(brewery)
    rinsed = (sparged["mash_efficiency"].value - expected["mash_efficiency"].value) * 5.0 * 0.96 * 0.81
    assert rinsed > 0.5
    # a kg of dissolved sucrose takes up 0.62 L: (1/1.0381 - 0.9/0.9982)/0.1, from the CRC Handbook's densities
    less = sparged["kettle_volume"].value - expected["kettle_volume"].value
    assert less == pytest.approx(15.0 + 0.62 * rinsed, abs=0.03)


def test_liquor_that_the_grain_drinks_up_makes_one_expect_nothing(brewery: Brewery) -> None:
    batch = batch_of(PLANNED.format(grain=20.0, extract=81.0).replace(SPARGED, "no sparge"))
    assert foresee(batch, figures_of(batch, brewery, Malts()), OWN) == {}
