"""Hops after knockout, yeast, gas, the day's clock, acids and mixed waters: each sum once more by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from texts import figures, settings_at

KETTLE = "boil: {before: {volume: 25 L, gravity: 1.044}, after: {volume: 20 L, gravity: 1.050}, time: 60 min%s}\n"
GRAVITY = 1.047


def tinseth(minutes: float) -> float:
    """G. Tinseth (1997), at the mean gravity of the kettle above."""
    return 1.65 * 0.000125 ** (GRAVITY - 1) * (1 - math.exp(-0.04 * minutes)) / 4.15


def iso(temperature: float, minutes: float) -> float:
    """Iso-alpha acid of fresh hops, by the two rates of Malowicki & Shellhammer (2005), stepped through second by second."""
    kelvin = temperature + 273.15
    formed, lost = 7.9e11 * math.exp(-11858 / kelvin), 4.1e12 * math.exp(-12994 / kelvin)
    alpha, found = 1.0, 0.0
    for _ in range(round(minutes * 60)):
        alpha, found = alpha - formed * alpha / 60, found + (formed * alpha - lost * found) / 60
    return found


def test_hops_in_a_stand_count_as_the_boil_that_leaves_as_much() -> None:
    """20 min at 80 °C leave 4.03 % of the alpha, as 3.31 min at 100 °C do."""
    assert iso(80, 20) == pytest.approx(iso(100, 3.31), rel=5e-3)
    found = figures(
        KETTLE % "" + "stand: {temperature: 80 degC, time: 20 min, hops: [{hop: East Field, weight: 60 g, alpha: 6 %}]}"
    )
    wanted = 60_000 * 0.06 * tinseth(3.31) / 20
    assert found["bitterness"].value == pytest.approx(wanted, rel=2e-3)
    assert found["stand_bitterness"].value == pytest.approx(wanted, rel=2e-3)


def test_kettle_hops_go_on_in_the_stand_unless_they_are_taken_out() -> None:
    hop = ", hops: [{hop: East Field, weight: 30 g, alpha: 6 %%, boiled: 15 min%s}]"
    stand = "stand: {temperature: 80 degC, time: 20 min}"
    kept, out = (figures(KETTLE % (hop % more) + stand) for more in ("", ", off: knockout"))
    assert kept["bitterness"].value == pytest.approx(30_000 * 0.06 * tinseth(18.31) / 20, rel=1e-3)
    assert out["bitterness"].value == pytest.approx(30_000 * 0.06 * tinseth(15) / 20, rel=1e-6)
    assert kept["stand_bitterness"].value == pytest.approx(kept["bitterness"].value - out["bitterness"].value, rel=1e-6)


def test_without_stand_and_cooling_bitterness_is_what_it_was() -> None:
    found = figures(KETTLE % ", hops: [{hop: East Field, weight: 30 g, alpha: 6 %, boiled: 0 min}]")
    assert found["bitterness"].value == 0.0
    assert "stand_bitterness" not in found.results
    named = figures(
        KETTLE % ", hops: [{hop: East Field, weight: 30 g, alpha: 6 %, boiled: 0 min}]"
        + "cooling: {method: closed overnight}"
    )
    assert named["bitterness"].value == 0.0


def test_slow_cooling_makes_bitter_and_slower_cooling_more() -> None:
    hop = KETTLE % ", hops: [{hop: East Field, weight: 30 g, alpha: 6 %, boiled: 0 min}]"
    slow, slower = (
        figures(hop + f"cooling: {{time: {minutes} min, to: 19 degC}}")["bitterness"].value for minutes in (30, 90)
    )
    assert 0 < slow < slower


def test_mash_hops_first_wort_hops_and_isomerised_extract() -> None:
    """Mash hops bring 9.1 over 44.0 of what 60 min of boil do: T. Justus, MBAA TQ 55(3) (2018)."""
    first = "{hop: A, weight: 20 g, alpha: 5 %, with_first_wort: yes}"
    hops = f", hops: [{first}, {{hop: B, weight: 10 g, alpha: 8 %, form: isomerised, boiled: 0 min}}]"
    found = figures("mash: {hops: [{hop: C, weight: 40 g, alpha: 5 %}]}\n" + KETTLE % hops)
    wanted = 20_000 * 0.05 * tinseth(60) + 10_000 * 0.08 + 40_000 * 0.05 * tinseth(60) * 9.1 / 44.0
    assert found["bitterness"].value == pytest.approx(wanted / 20, rel=1e-4)


def test_water_in_the_fermenter_thins_bitterness_and_colour() -> None:
    """5 of 8 L are wort: five eighths of the wort's bitterness; by Morey's power, 0.625 ** 0.6859 = 0.7244 of its colour."""
    kettle = (
        "grains: [{malt: x, weight: 1 kg, extract_as_is: 75 %, colour: 40 EBC}]\n"
        "boil: {before: {volume: 8 L, gravity: 1.060}, after: {volume: 6 L, gravity: 1.080},"
        " hops: [{hop: a, weight: 20 g, alpha: 6 %, boiled: 60 min}]}\n"
    )
    wort, thinned = figures(kettle), figures(kettle + "fermenter: {volume: 8 L, top_up: 3 L}")
    assert thinned["bitterness"].value == pytest.approx(0.625 * wort["bitterness"].value)
    assert thinned["colour"].value == pytest.approx(0.7244 * wort["colour"].value, rel=1e-4)
    # what reached the fermenter not being read, all of the kettle's wort counts: 6 of 9 L
    unread = figures(kettle + "fermenter: {top_up: 3 L}")
    assert unread["bitterness"].value == pytest.approx(6 / 9 * wort["bitterness"].value)


def test_dry_hops_take_up_beer_and_bring_no_bitterness() -> None:
    """7 to 8 mL to the gram."""
    found = figures(
        "fermenter: {hops: [{hop: A, weight: 80 g, alpha: 12 %, on: 2026-04-14, off: 2026-04-17}]}\n"
        "package: {hops: [{hop: A, weight: 20 g}]}"
    )
    assert found["beer_in_hops"].value == pytest.approx(0.75)
    assert found["beer_in_hops"].sd == pytest.approx(0.07, abs=0.015)
    assert "bitterness" not in found.results


def test_pitching_rate() -> None:
    """180 thousand million cells in 20 L of 12 °P: 0.75 million to the mL and °P, the trade's rate for ale."""
    found = figures("fermenter: {volume: 20 L, gravity: 12 °P, yeast: {strain: house, cells: 180 billion}}")
    assert found["pitching_rate"].value == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("pressure", "volumes"),
    [
        # the trade's table of volumes by pressure and temperature, from memory: it lies 1 to 4 % above the solubilities in use here
        ("12 psi at 38 degF", 2.57),
        ("10 psi at 32 degF", 2.64),
        ("20 psi at 50 degF", 2.70),
    ],
)
def test_carbonation_by_pressure(pressure: str, volumes: float) -> None:
    found = figures(f"package: {{container: keg, pressure: {pressure}}}")["pressure_carbonation"]
    assert found.value == pytest.approx(volumes * 1.977, rel=0.05)


def test_mixed_gas_carbonates_by_its_share() -> None:
    whole, part = (
        figures(f"package: {{pressure: 1 bar at 5 degC, carbon_dioxide: {share} %}}")["pressure_carbonation"].value
        for share in (100, 30)
    )
    assert part == pytest.approx(0.3 * whole, rel=1e-6)


def test_a_closed_fermenter_keeps_its_gas() -> None:
    fields = (
        "package: {volume: 18 L, warmest: 20 degC, priming: {addition: dextrose, weight: 100 g}, container: bottles%s}"
    )
    assert "residual_carbonation" in figures(fields % "").results
    closed = figures(fields % ", spund: 1.014")
    assert closed.wanting["residual_carbonation"] == ("a fermenter that stood open to the end",)
    assert "carbonation" not in closed.results


def test_the_day_by_the_clock_past_midnight() -> None:
    assert figures("clock: [08:40 mashed in, 23:50 boiled, 00:20 to bed]")["brew_day"].value == pytest.approx(
        15 + 40 / 60
    )
    assert figures("clock: [08:40 mashed in]").wanting["brew_day"] == ("clock",)


WATER = "water: {calcium: 80 mg/L, magnesium: 10 mg/L, alkalinity: 200 mg/L as CaCO3}\n"


def test_lactic_acid_takes_alkalinity_away() -> None:
    """3 mL of 80 % by weight, 1.1848 kg/L: 10.52 mol/L, of which 0.972 have let go of their proton at pH 5.4 (pK 3.86)."""
    equivalents = 3e-3 * 1.1848 * 0.8 * 1000 / 90.078 / (1 + 10 ** (3.86 - 5.4))
    found = figures(WATER + "mash: {liquor: 14 L, additions: [{addition: lactic acid 80 %, amount: 3 mL}]}")
    assert found["alkalinity_neutralised"].value == pytest.approx(1000 * equivalents / 14, rel=1e-3)
    # a milliequivalent is 50.04 mg of CaCO3: half its molar mass of 100.087
    assert found["alkalinity"].value == pytest.approx(200 - 1000 * equivalents / 14 * 100.087 / 2, abs=0.2)
    assert found["residual_alkalinity"].value < found["liquor_residual_alkalinity"].value


def test_an_acid_of_no_stated_strength_is_not_counted_as_none() -> None:
    found = figures(WATER + "mash: {liquor: 14 L, additions: [{addition: lactic acid, amount: 3 mL}]}")
    assert found.wanting["alkalinity"] == ("the strength of lactic acid",)
    assert found["calcium"].value == 80


def test_mineral_acids_bring_their_ions() -> None:
    """10 mL of each acid of 10 % by weight in 14 L.

    1.0474 and 1.0661 kg/L as `tests/science/test_acids.py` holds them, with where they were read; of the molar masses, by the abridged
    atomic weights of the IUPAC, chloride is 35.45 in 36.458 and sulfate 96.06 in 98.072.
    """
    water = "water: {sulfate: 40 mg/L, chloride: 30 mg/L, alkalinity: 200 mg/L as CaCO3}\n"
    both = "{addition: hydrochloric acid 10 %, amount: 10 mL}, {addition: sulfuric acid 10 %, amount: 10 mL}"
    found = figures(water + f"mash: {{liquor: 14 L, additions: [{both}, {{addition: lactic acid, amount: 1 mL}}]}}")
    assert found["chloride"].value == pytest.approx(30 + 10.474e3 * 0.1 * 35.45 / 36.458 / 14, rel=1e-3)
    assert found["sulfate"].value == pytest.approx(40 + 10.661e3 * 0.1 * 96.06 / 98.072 / 14, rel=1e-3)
    unsaid = figures(water + "mash: {liquor: 14 L, additions: [{addition: hydrochloric acid, amount: 10 mL}]}")
    assert unsaid.wanting["chloride"] == ("the strength of hydrochloric acid",)
    assert unsaid["sulfate"].value == 40


def test_waters_mixed_of_the_brewery_s_own(tmp_path: Path) -> None:
    """60 % of one and 40 % of the other; what one does not state nobody knows."""
    brewery, _ = settings_at(
        tmp_path,
        "waters: {tap: {calcium: 90 mg/L, alkalinity: 200 mg/L, sodium: 20 mg/L},"
        " membrane: {calcium: 2 mg/L, alkalinity: 5 mg/L}}",
    )
    found = figures(
        "water: {sources: [{name: tap, share: 60 %}, {name: membrane, share: 40 %}]}\nmash: {liquor: 15 L}", brewery
    )
    assert found["calcium"].value == pytest.approx(0.6 * 90 + 0.4 * 2)
    assert found["alkalinity"].value == pytest.approx(0.6 * 200 + 0.4 * 5)
    assert "sodium" not in found.results


def test_several_fillings_are_one_sparge() -> None:
    """8 L cold and 7.5 L at 80 °C, which are 7.3015 L at 20 °C (IAPWS-95: 0.973536)."""
    found = figures("lauter: {method: batch sparge, liquor: [8 L, 7.5 L at 80 degC]}")["sparge_liquor"]
    assert found.value == pytest.approx(8 + 7.5 * 0.973536, abs=1e-3)
    assert {str(of) for of, _ in found.parts} >= {"lauter.liquor[0]", "lauter.liquor[1]"}
    # 0.2 L of each, one of them smaller by what it shrank
    assert found.sd == pytest.approx(math.hypot(0.2, 0.2 * 0.973536), rel=1e-2)


def test_water_added_at_packaging_is_no_beer_of_the_fermenter() -> None:
    """19 L packaged of 18 L of beer and 1.5 L of water: half a litre stayed behind, and 17.5 of the 18 went out."""
    found = figures("fermenter: {volume: 18 L}\npackage: {volume: 19 L, top_up: 1.5 L}")
    assert found["package_loss"].value == pytest.approx(0.5)
    assert found["packaged_share"].value == pytest.approx(17.5 / 18)
