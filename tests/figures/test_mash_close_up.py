"""Crush, grist, water and the bed: each figure against a table or arithmetic by hand."""

import numpy as np
import pytest
from texts import batch_of, figures, settings_at

from journal.figures import figures_of
from journal.reading import Brewery, Malts

WATER = "water: {calcium: 50 mg/L, magnesium: 10 mg/L, sodium: 12 mg/L, sulfate: 40 mg/L, chloride: 20 mg/L, alkalinity: 100 mg/L}"


@pytest.mark.parametrize(("wk", "lintner"), [(334, 100.0), (124, 40.0), (89, 30.0), (250, 76.0)])
def test_diastatic_power_in_both_units(wk: float, lintner: float) -> None:
    """°WK = 3.5 °Lintner − 16: Oxford Companion to Beer (2011), “diastatic power”."""
    found = figures(f"grains: [{{malt: pale malt, weight: 4 kg, diastatic_power: {wk} WK}}]")
    assert found["diastatic_power_lintner"].value == pytest.approx(lintner)


def test_a_grist_without_enzymes_has_none_in_either_unit() -> None:
    assert figures("grains: [{malt: caramel malt, weight: 1 kg}]")["diastatic_power_lintner"].value == 0.0


def test_shares_of_the_grist() -> None:
    found = figures(
        "grains: [{malt: pale malt, weight: 7 kg}, {malt: wheat malt, weight: 1 kg}, {malt: flaked oats, weight: 1 kg},"
        " {malt: black malt, weight: 600 g}, {malt: amber malt, weight: 200 g}, {malt: hulls, weight: 200 g}]"
    )
    shares = [found[f"{sort}_share"].value for sort in ("huskless", "hulls", "roasted")]
    assert shares == pytest.approx([0.20, 0.02, 0.06])
    # d(m/M) is (1 − share)/M of the roast's own error and share/M of every other's; 10 g or 1 %, the larger
    others = np.hypot.reduce([0.07, 0.01, 0.01, 0.01, 0.01])
    assert found["roasted_share"].sd == pytest.approx(np.hypot(0.94 * 0.01, 0.06 * others) / 10, rel=1e-3)


def test_roasted_goes_by_colour() -> None:
    found = figures(
        "grains: [{malt: pale malt, weight: 3 kg}, {malt: mine, weight: 1 kg, extract: 70 %, colour: 500 EBC}]"
    )
    assert found["roasted_share"].value == pytest.approx(0.25)


def test_crush_and_sieve() -> None:
    found = figures("crush: 0.043 in\nsieve: {1.25 mm: 31 ± 2 %, 0.5 mm: 38 %, pan: 29 %}")
    assert found["crush"].value == pytest.approx(1.0922)
    parts = [found[f"sieve_{part}"].value for part in ("husks", "coarse", "fine")]
    assert parts == pytest.approx([31 / 98, 38 / 98, 29 / 98])
    # d(a/(a + b + c)): (b + c)/S² of a's, a/S² of each of the others'
    by_hand = np.hypot(0.67 * 0.02, 0.31 * 0.01 * 2**0.5) / 0.98**2
    assert found["sieve_husks"].sd == pytest.approx(by_hand, rel=1e-3)
    assert figures("sieve: {0.5 mm: 60 %, pan: 40 %}").wanting["sieve_husks"] == ("sieve.1.25 mm",)
    assert figures("crush: 1 mm").wanting["sieve_fine"] == ("sieve",)


@pytest.mark.parametrize(
    ("calcium", "magnesium", "alkalinity", "residual", "degrees"),
    [
        (50, 10, 100, 58.44, 3.274),
        (100, 20, 250, 166.88, 9.350),
        (0, 0, 100, 100.0, 5.603),
        (150, 0, 50, -57.03, -3.195),
    ],
)
def test_residual_alkalinity(
    calcium: float, magnesium: float, alkalinity: float, residual: float, degrees: float
) -> None:
    """P. Kolbach (1953): alkalinity less calcium hardness / 3.5 less magnesium hardness / 7, reckoned apart."""
    ions = f"calcium: {calcium} mg/L, magnesium: {magnesium} mg/L, alkalinity: {alkalinity} mg/L as CaCO3"
    found = figures(f"water: {{{ions}}}\nmash: {{liquor: 14 L}}")
    assert found["residual_alkalinity"].value == pytest.approx(residual, abs=0.01)
    assert found["residual_alkalinity_degrees"].value == pytest.approx(degrees, abs=0.001)


def test_salts_in_the_mash_liquor() -> None:
    """4 g of gypsum in 14 L: 4000/14 mg/L, of which 40.078/172.164 is calcium and 96.056/172.164 sulfate."""
    found = figures(f"{WATER}\nmash: {{liquor: 14 L, additions: [{{addition: gypsum, amount: 4 g}}]}}")
    assert found["calcium"].value == pytest.approx(50 + 4000 / 14 * 40.078 / 172.164, abs=0.01)
    assert found["sulfate"].value == pytest.approx(40 + 4000 / 14 * 96.056 / 172.164, abs=0.01)
    assert [found[ion].value for ion in ("magnesium", "sodium", "chloride", "alkalinity")] == [10, 12, 20, 100]
    # a gram in four, 2 % of the liquor, a tenth of what the report says
    added = 4000 / 14 * 40.078 / 172.164
    assert found["calcium"].sd == pytest.approx(np.hypot(added * np.hypot(0.25, 0.02), 5.0), rel=1e-3)


def test_alkalinity_follows_from_bicarbonate_and_from_baking_soda() -> None:
    bicarbonate = figures("water: {bicarbonate: 244 mg/L}\nmash: {liquor: 14 L}")
    assert bicarbonate["alkalinity"].value == pytest.approx(244 * 50.0435 / 61.016, abs=0.05)
    soda = figures(f"{WATER}\nmash: {{liquor: 10 L, additions: [{{addition: baking soda, amount: 1 g}}]}}")
    assert soda["alkalinity"].value == pytest.approx(100 + 59.57, abs=0.01)
    assert soda["sodium"].value == pytest.approx(12 + 27.37, abs=0.01)


def test_lactic_acid_changes_no_ion_and_an_unknown_addition_makes_them_wanting() -> None:
    acid = figures(f"{WATER}\nmash: {{liquor: 14 L, additions: [{{addition: lactic acid 80 %, amount: 3 mL}}]}}")
    assert acid["calcium"].value == 50.0
    unknown = figures(f"{WATER}\nmash: {{liquor: 14 L, additions: [{{addition: house salts, amount: 3 g}}]}}")
    assert unknown.wanting["calcium"] == ("mash.additions[0].addition",)
    poured = figures(f"{WATER}\nmash: {{liquor: 14 L, additions: [{{addition: gypsum, amount: 3 mL}}]}}")
    assert poured.wanting["residual_alkalinity"] == ("mash.additions[0].weight",)


def test_the_water_of_the_entry_stands_for_the_whole_of_the_brewerys(tmp_path_factory: pytest.TempPathFactory) -> None:
    text = "water: {calcium: 96 mg/L, magnesium: 12 mg/L, alkalinity: 210 mg/L}"
    brewery, malts = settings_at(tmp_path_factory.mktemp("water"), text)
    assert figures("mash: {liquor: 14 L}", brewery, malts)["calcium"].value == 96.0
    own = figures("water: {calcium: 5 mg/L}\nmash: {liquor: 14 L}", brewery, malts)
    assert own["calcium"].value == 5.0
    assert own.wanting["magnesium"] == ("water.magnesium",)
    assert figures("mash: {liquor: 14 L}").wanting["calcium"] == ("water.calcium",)


@pytest.mark.parametrize(
    ("liquor", "maximum"), [(2.0, 27.350), (2.5, 23.216), (3.0, 20.168), (3.5, 17.827), (4.0, 15.973)]
)
def test_first_wort_maximum(liquor: float, maximum: float) -> None:
    """100 e/(e + R + M) with e = 0.768, M = 0.04: mass balance, reckoned apart; R is kg, a litre is 0.9982 of it."""
    litres = 5 * liquor / 0.998207
    found = figures(
        f"grains: [{{malt: pale malt, weight: 5 kg, extract: 80 %, moisture: 4 %}}]\nmash: {{liquor: {litres:.5f} L}}"
    )
    assert found["first_wort_maximum"].value == pytest.approx(maximum, abs=0.001)


def brew(method: str, sparge: float, kettle_plato: float, kettle_litres: float) -> str:
    """5 kg of 76.8 % extract as is and 4 % moisture in 15 kg of water; all of it dissolved, 20.1680 °P less moisture."""
    return f"""
    grains: [{{malt: mine, weight: 5 kg, extract_as_is: 76.8 %, moisture: 4 %}}]
    mash: {{liquor: {14.8 / 0.998207:.5f} L, first_wort: {100 * 3.84 / 18.84:.4f} °P}}
    lauter: {{method: {method}, liquor: {sparge / 0.998207:.5f} L}}
    boil: {{before: {{volume: {kettle_litres:.5f} L, gravity: {kettle_plato:.4f} °P}}}}
    """


#: A well-mixed bed by mass balance, 15 kg of water in the tun, 1 kg of it held by a kg of grain: extract run off, kg.
WELL_MIXED = [("no sparge", 0, 2.56), ("batch sparge", 10, 3.4133), ("batch sparge", 12, 3.4635)]


@pytest.mark.parametrize(("method", "sparge", "run_off"), WELL_MIXED)
@pytest.mark.parametrize("behind", [0.0, 0.10])
def test_what_a_well_mixed_bed_keeps(method: str, sparge: float, run_off: float, behind: float) -> None:
    """The kettle holds 10 kg of water and the sparge's, and the extract of a well-mixed bed less what stayed behind."""
    kettle_water, extract = 10.0 + sparge, run_off - behind
    plato = 100 * extract / (extract + kettle_water)
    density = float(
        np.interp(plato, [5, 10, 12, 15, 18, 20, 25], [1017.8, 1038.1, 1046.5, 1059.2, 1072.2, 1081.0, 1103.6])
    )
    found = figures(brew(method, sparge, plato, (extract + kettle_water) / density * 1000))
    assert found["dissolved_extract"].value == pytest.approx(3.84, abs=1e-3)
    assert found["extract_left_well_mixed"].value == pytest.approx(3.84 - run_off, abs=0.012)
    assert found["lauter_shortfall_extract"].value == pytest.approx(behind, abs=0.02)
    assert found["lauter_shortfall"].value == pytest.approx(behind / 3.84, abs=0.006)


def test_a_fly_sparge_is_expected_to_rinse_better() -> None:
    one, three = (
        figures(brew(method, 12, 12.0, 22.0))["extract_left_well_mixed"].value
        for method in ("batch sparge", "fly sparge")
    )
    assert three < one


def test_figures_without_mash_or_water() -> None:
    found = figures_of(batch_of(""), Brewery(), Malts())
    assert found.wanting["mash_time"] == ("mash.rests",)
    assert found.wanting["huskless_share"] == ("grains",)
    assert found.wanting["crush"] == ("crush",)
