"""What went in beside the grist, by mass balance worked by hand."""

from __future__ import annotations

import pytest
from texts import batch_of, figures, read

from journal.balance import Balance, Priors, balance_of
from journal.figures import BatchFigures, figures_of
from journal.figures.impossible import find_impossible
from journal.reading import Batch, Brewery, Malts

#: kg/L at 20 °C: CRC Handbook, sucrose of 10, 12 and 15 %; water by Kell. SG by the ASBC table.
DENSITY = {10: 1.0381, 12: 1.0465, 15: 1.0592}
SG = {10: 1.04003, 12: 1.04837, 15: 1.06111}
GRIST = "grains: [{malt: island, weight: 4 kg, extract_as_is: 80 %, moisture: 4 %}]\n"


def extract(litres: float, plato: int) -> float:
    """kg in so many litres of wort."""
    return litres * DENSITY[plato] * plato / 100


def test_malt_extract_in_the_full_kettle_is_not_the_grist_s() -> None:
    """A partial mash: 4 kg of grain that could give 3.2 kg, and 0.5 kg of extract of 96 % before the kettle was read."""
    found = figures(
        GRIST
        + "boil: {before: {volume: 25 L, gravity: 12 °P, additions: [{addition: extract, weight: 0.5 kg, extract_as_is: 96 %}]},"
        " after: {volume: 22 L, gravity: 15 °P}, additions: [{addition: sugar, weight: 0.2 kg, extract_as_is: 100 %}]}\n"
        "fermenter: {volume: 20 L, gravity: 15 °P}"
    )
    early = 0.5 * 0.96
    assert found["early_extract"].value == pytest.approx(early)
    assert found["mash_efficiency"].value == pytest.approx((extract(25, 12) - early) / 3.2, rel=2e-4)
    transfer = extract(20, 15) / extract(22, 15)
    assert found["transfer_efficiency"].value == pytest.approx(transfer, rel=1e-6)
    wanted = (extract(20, 15) - (early + 0.2) * transfer) / 3.2
    assert found["brewhouse_efficiency"].value == pytest.approx(wanted, rel=3e-4)


def test_what_is_added_in_the_mash_is_in_the_first_wort_and_not_dissolved_by_it() -> None:
    """15 L of water (14.973 kg) and 0.16 kg in the grain at 15 °P hold 15.133 × 15/85 = 2.6706 kg, 0.3 of them sugar."""
    found = figures(
        GRIST
        + "mash: {liquor: 15 L, first_wort: 15 °P, additions: [{addition: sugar, weight: 0.3 kg, extract_as_is: 100 %}]}"
    )
    assert found["dissolved_extract"].value == pytest.approx((15 * 0.998203 + 0.16) * 15 / 85 - 0.3, rel=1e-5)
    # 3.5 kg of extract in 15.133 kg of water
    assert found["first_wort_maximum"].value == pytest.approx(100 * 3.5 / (3.5 + 15.1330), rel=1e-5)


def test_what_runs_off_short_is_reckoned_without_what_was_added() -> None:
    found = figures(
        GRIST + "mash: {liquor: 15 L, first_wort: 15 °P}\nlauter: {method: batch sparge, liquor: 14 L}\n"
        "boil: {before: {volume: 23 L, gravity: 12 °P, additions: [{addition: extract, weight: 0.5 kg, extract_as_is: 80 %}]}}"
    )
    dissolved = (15 * 0.998203 + 0.16) * 15 / 85
    own = extract(23, 12) - 0.4
    assert found["lauter_efficiency"].value == pytest.approx(own / dissolved, rel=3e-4)
    assert found["unlautered_extract"].value == pytest.approx(dissolved - own, abs=1e-3)
    # all that went in, less what stands in the kettle
    left = 29 * 0.998203 + 0.16 + dissolved + 0.5 - 23 * DENSITY[12]
    assert found["wort_left"].value == pytest.approx(left, abs=2e-3)


UNKNOWN = (
    GRIST + "boil: {before: {volume: 25 L, gravity: 12 °P}, after: {volume: 22 L, gravity: 12 °P},"
    " additions: [{addition: dried moonbeams, AMOUNT}]}\nfermenter: {volume: 20 L, gravity: 12 °P}"
)


def _with_unknown(amount: str) -> BatchFigures:
    batch, problems = read(UNKNOWN.replace("AMOUNT", amount))
    assert batch is not None
    assert [problem.code for problem in problems] == []
    return figures_of(batch, Brewery(), Malts())


def test_a_little_of_what_nobody_knows_is_anything_from_nothing_to_all_of_it() -> None:
    """30 g beside 3.2 kg: 0.9 %. A uniform number has a standard deviation of its width over the root of 12."""
    found = _with_unknown("weight: 30 g")
    added = found["kettle_added_extract"]
    assert added.value == pytest.approx(0.015)
    assert added.sd == pytest.approx(0.030 / 12**0.5)
    assert "brewhouse_efficiency" in found.results


@pytest.mark.parametrize("amount", ["weight: 40 g", "amount: 2 pieces", "amount: 40 mL"])
def test_more_of_it_leaves_absent_what_hangs_on_it(amount: str) -> None:
    found = _with_unknown(amount)
    assert "brewhouse_efficiency" not in found.results
    assert found.wanting["brewhouse_efficiency"] == ("boil.additions[0].extract",)
    assert "mash_efficiency" in found.results


@pytest.mark.parametrize("amount", ["amount: 15 g", "amount: 1 packet", "amount: 5 mL"])
def test_what_brings_nothing_takes_no_efficiency_away(amount: str) -> None:
    fields = UNKNOWN.replace("AMOUNT", amount).replace("dried moonbeams", "coriander")
    found = figures(fields)
    assert found["kettle_added_extract"].value == 0.0
    assert "brewhouse_efficiency" in found.results


LATE = (
    "fermenter: {{volume: 20 L, gravity: 15 °P, pitched: 2026-04-11 18:00, additions: [{{addition: sucrose, weight: 1 kg, on: {on}}}]}}\n"
    "readings: [{{at: 2026-05-01, gravity: 1.010}}]"
)


def test_sugar_during_fermentation_counts_in_alcohol_and_in_nothing_before() -> None:
    """20 L at 15 °P weigh 21.184 kg and hold 3.1776 kg; with 1 kg of sucrose 4.1776 in 22.184 kg, which is 18.83 °P."""
    found = figures(LATE.format(on="2026-04-14"))
    assert found["late_extract"].value == pytest.approx(1.0)
    assert found["original_extract_all_told"].value == pytest.approx(18.831, abs=0.005)
    assert found["original_extract"].value == pytest.approx(15.0, abs=1e-6)
    assert found["added_extract"].value == 0.0
    plain = figures("fermenter: {volume: 20 L, gravity: 18.831 °P}\nreadings: [{at: 2026-05-01, gravity: 1.010}]")
    assert found["alcohol_by_volume"].value == pytest.approx(plain["alcohol_by_volume"].value, abs=1e-5)


@pytest.mark.parametrize(
    ("on", "late"),
    [("2026-04-11", False), ("2026-04-11 17:00", False), ("2026-04-11 18:30", True), ("2026-04-12", True)],
)
def test_the_day_of_pitching_is_before_it_unless_the_clock_says_otherwise(on: str, late: bool) -> None:
    found = figures(LATE.format(on=on))
    assert (found["late_extract"].value == pytest.approx(1.0)) is late
    assert (found["added_extract"].value == pytest.approx(1.0)) is not late


def test_ice_that_was_removed_takes_the_alcohol_sum_away() -> None:
    found = figures(LATE.format(on="2026-04-14") + "\nice_removed: 3 L")
    assert found.wanting["alcohol_by_volume"] == ("a beer that no ice was taken from",)


def test_colours_of_additions_count() -> None:
    """As much again of the same colour is as if the grist held it: MCU is a sum over weight and °L."""
    grist = "grains: [{malt: dark, weight: %s kg, extract_as_is: 70 %%, moisture: 4 %%, colour: 100 EBC}]\n"
    boil = "boil: {after: {volume: 20 L}, additions: [{addition: black syrup, weight: 0.25 kg, extract_as_is: 70 %, colour: 100 EBC}]}"
    with_syrup = figures(grist % "0.25" + boil)["colour"]
    assert with_syrup.value == pytest.approx(figures(grist % "0.5" + "boil: {after: {volume: 20 L}}")["colour"].value)


def balance(batch: Batch) -> Balance:
    return balance_of(batch, figures_of(batch, Brewery(), Malts()), Brewery(), Malts(), Priors())


EXTRACT_BREW = """
grains: [{malt: caramel malt, weight: 0.4 kg}]
mash: {liquor: 4 L, rests: [66 degC for 30 min]}
lauter: {method: steep}
boil:
  before: {volume: 22 L, gravity: 1.047, additions: [{addition: "malt extract, dry", weight: 2.6 kg}]}
  after: {volume: 19.4 L, gravity: 1.0535}
  time: 60 min
fermenter: {volume: 18 L, gravity: 1.0535}
"""


def test_a_sound_extract_brew_is_sound() -> None:
    """2.6 kg at 96 to 98 % and some 0.2 kg of steeped grain's: 2.7 kg in 22 L, 11.7 °P, 1.047."""
    batch = batch_of(EXTRACT_BREW)
    found = figures_of(batch, Brewery(), Malts())
    assert find_impossible(batch, Brewery(), found) == []
    for name in ("mash_efficiency", "brewhouse_efficiency", "brewhouse_yield"):
        assert found.wanting[name] == ("a mash (these grains were steeped)",)
    assert "conversion_efficiency" not in found.results
    assert "transfer_efficiency" in found.results
    struck = balance(batch)
    assert struck.verdict.status == "closes"


def test_an_extract_brew_without_grain_balances_too() -> None:
    batch = batch_of(
        EXTRACT_BREW.replace("grains: [{malt: caramel malt, weight: 0.4 kg}]\n", "")
        .replace("1.047", "1.0435")
        .replace("1.0535", "1.0495")
    )
    assert find_impossible(batch, Brewery(), figures_of(batch, Brewery(), Malts())) == []


def test_a_partial_mash_s_balance_has_its_extract_before_the_boil() -> None:
    """The mash of 3 kg gives 2.0 kg; with 1.0 kg of dry extract the kettle holds 2.97."""
    batch = batch_of(
        "grains: [{malt: island, weight: 3 kg, extract_as_is: 79 %, moisture: 4 %}]\n"
        "mash: {liquor: 10 L, first_wort: 1.076}\nlauter: {method: batch sparge, liquor: 15 L}\n"
        "boil: {before: {volume: 21.9 L, gravity: 1.0522, additions: [{addition: x, weight: 1 kg, extract_as_is: 96 %}]},"
        " after: {volume: 19.2 L, gravity: 1.0595}, time: 60 min}\nfermenter: {volume: 18 L, gravity: 1.0595}"
    )
    found = figures_of(batch, Brewery(), Malts())
    assert find_impossible(batch, Brewery(), found) == []
    struck = balance(batch)
    assert struck.verdict.status == "closes"
    assert struck.figures["mash_efficiency"].value == pytest.approx(found["mash_efficiency"].value, abs=0.05)
