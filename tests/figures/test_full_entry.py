"""One entry with everything recorded: each figure against arithmetic that shares nothing with the package."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from brew import BREWERY, FIELDS, MALTS, readings, reckoned
from texts import batch_of, figures, settings_at

from journal.figures import CATALOGUE, BatchFigures
from journal.figures.observe import observe
from journal.figures.uncertain import ErrorKind, ErrorSource
from journal.figures.working import formula_text, working_of
from journal.reading import Brewery, Malts

#: The names and units of the derived values, as the data file states them.
UNITS = {
    "kg": "grain_weight potential_extract dissolved_extract kettle_extract added_extract knockout_extract"
    " fermenter_extract fermenter_left_extract packaged_extract fermented_extract priming_sugar"
    " extract_left_well_mixed lauter_shortfall_extract",
    "WK": "diastatic_power",
    "L": "mash_liquor sparge_liquor total_liquor kettle_volume kettle_top_up knockout_volume fermenter_volume fermenter_top_up kettle_loss"
    " package_volume package_top_up package_loss beer_in_hops",
    "L/kg": "liquor_to_grist absorption wort_held",
    "L/h": "boil_off",
    "1": "conversion_efficiency lauter_efficiency mash_efficiency transfer_efficiency brewhouse_efficiency"
    " brewhouse_yield apparent_attenuation real_attenuation alcohol_by_weight alcohol_by_volume"
    " real_degree_of_fermentation packaged_share lauter_shortfall hulls_share",
    "g/L": "pressure_carbonation residual_carbonation carbonation",
    "kcal/100 mL": "energy",
    # a specific gravity is a number, shown with more decimals than a share and never in per cent
    "SG": "kettle_gravity knockout_gravity original_gravity final_gravity",
    "°P": "original_extract apparent_extract real_extract first_wort_maximum",
    "EBC": "colour",
    "IBU": "bitterness stand_bitterness",
    "h": "brew_day",
    "million/(mL·°P)": "pitching_rate",
    "pH": "mash_ph",
    "min": "minutes_beta_glucanase minutes_protease minutes_beta_amylase minutes_alpha_amylase mash_time",
    "°Lintner": "diastatic_power_lintner",
}
NAMED = {name: unit for unit, names in UNITS.items() for name in names.split()}

#: Only a logger sees these, and this entry has no log.
#: These take more than one entry, see test_relatives.py.
OF_RELATIVES = {"parts_extract", "joined_extract"}
OF_A_LOG = {"mash_overshoot", "mash_drift", "mash_heating"}

#: How far the two ways of reckoning may differ: the handbook prints densities of sucrose to 0.1 kg/m³, 0.005 % of a
#: wort's mass and 0.013 °P of beer's real extract; Kell's two forms differ by 20 ppm.
VALUE = dict.fromkeys(NAMED, 2e-4)
VALUE |= {"real_extract": 5e-3, "real_attenuation": 2e-3, "alcohol_by_weight": 2e-3, "alcohol_by_volume": 2e-3}
# differences of much larger masses
VALUE |= {"boil_off": 1e-3, "wort_held": 1e-3}
VALUE |= {"real_degree_of_fermentation": 2e-3, "energy": 1e-3, "packaged_extract": 5e-3, "fermented_extract": 2e-3}
# differences again, of the grain bed
VALUE |= {"extract_left_well_mixed": 1e-3, "lauter_shortfall_extract": 5e-3, "lauter_shortfall": 5e-3}
# two fits to the solubility of carbon dioxide
VALUE |= {
    "pressure_carbonation": 0.02,
    "stand_bitterness": 2e-3,
    "bitterness": 4e-4,
    "residual_carbonation": 0.02,
    "carbonation": 0.008,
    "priming_sugar": 0.01,
}
#: What the relation itself adds to the readings' uncertainty: 20 % for Tinseth's (common practice), 10 % for Morey's,
#: 0.14 % by volume for alcohol, which is 0.11 % by weight.
MODEL = {
    "bitterness": 0.20,
    "stand_bitterness": 0.20,
    "colour": 0.10,
    "beer_in_hops": 0.7 / 7.5,
    "pressure_carbonation": 0.04,
}
ALCOHOL_MODEL = {"alcohol_by_volume": 0.0014, "alcohol_by_weight": 0.0014 * 0.789, "energy": 0.0014 * 0.789 * 690}
#: What a beer holds when fermentation ends is foretold to a tenth (common practice); how far that goes into each.
GAS_MODEL = {"residual_carbonation": 0.10, "carbonation": 0.10, "priming_sugar": 0.10 * 18.8 / (514.3)}


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> BatchFigures:
    return figures(FIELDS, *settings_at(tmp_path_factory.mktemp("full"), BREWERY, MALTS))


@pytest.fixture(scope="module")
def alone() -> dict[str, np.ndarray]:
    return reckoned(readings(lambda value, _: np.float64(value)))


@pytest.fixture(scope="module")
def drawn() -> dict[str, np.ndarray]:
    chance = np.random.default_rng(20260411)
    return reckoned(readings(lambda value, sd: chance.normal(value, sd, 20_000)))


def test_no_figure_is_missing_from_the_catalogue() -> None:
    assert set(NAMED) - set(CATALOGUE) == set()
    assert {name: CATALOGUE[name].unit for name in NAMED} == NAMED


def test_the_arithmetic_here_covers_every_figure(alone: dict[str, np.ndarray]) -> None:
    assert set(alone) == set(NAMED)


@pytest.mark.parametrize("name", NAMED)
def test_value(name: str, full: BatchFigures, alone: dict[str, np.ndarray]) -> None:
    assert full[name].unit == NAMED[name]
    assert full[name].value == pytest.approx(float(alone[name]), rel=VALUE[name])


@pytest.mark.parametrize("name", NAMED)
def test_standard_uncertainty_by_drawing_readings(
    name: str, full: BatchFigures, drawn: dict[str, np.ndarray], alone: dict[str, np.ndarray]
) -> None:
    """20,000 draws know a standard deviation to 0.5 %; the chain is straight enough for the rest of the 3 %."""
    model = MODEL.get(name, 0.0) * float(alone[name]) + ALCOHOL_MODEL.get(name, 0.0)
    model += GAS_MODEL.get(name, 0.0) * float(alone["residual_carbonation"])
    wanted = float(np.hypot(np.std(drawn[name]), model))
    assert full[name].sd == pytest.approx(wanted, rel=0.03)


def test_conversion_times_lauter_is_mash(full: BatchFigures) -> None:
    product = full["conversion_efficiency"].value * full["lauter_efficiency"].value
    assert product == pytest.approx(full["mash_efficiency"].value, rel=1e-14)


def test_errors_that_two_steps_share_cancel(full: BatchFigures) -> None:
    """Were the first wort's error counted in both steps, the product would be far less certain than it is."""
    steps = [full[name].sd / full[name].value for name in ("conversion_efficiency", "lauter_efficiency")]
    whole = full["mash_efficiency"].sd / full["mash_efficiency"].value
    assert whole < 0.9 * float(np.hypot(*steps))
    assert ErrorSource("mash.first_wort") not in dict(full["mash_efficiency"].parts)


@pytest.mark.parametrize("name", NAMED)
def test_parts_add_up_and_name_readings(name: str, full: BatchFigures) -> None:
    result = full[name]
    assert result.sd == pytest.approx(sum(part**2 for _, part in result.parts) ** 0.5, rel=1e-12)
    # equal shares differ in their last digits, and keep the order of their names
    shares = [part for _, part in result.parts]
    assert all(later <= share * (1 + 1e-5) for share, later in pairwise(shares))
    batch = batch_of(FIELDS)
    for source, _ in result.parts:
        elsewhere = source.path.split(".")[0] in {"instruments", "malts", "kinds", "brewhouses"}
        assert source.path in batch.places or elsewhere or source.kind is ErrorKind.MODEL, source


def test_the_hydrometer_matters_most_for_the_kettle_extract_of_a_hydrometer() -> None:
    """27 L read to 0.25 L at 1.044 read to 0.001: the gravity brings 2.2 %, the volume 0.9 % of the extract."""
    found = figures("boil: {before: {volume: 27.0 ± 0.25 L, gravity: 1.044}}")["kettle_extract"]
    parts = {str(source): sd / found.value for source, sd in found.parts}
    # d(ρP)/ρP at 1.044 by the ASBC cubic: (3·135.997 S² − 2·630.272 S + 1111.14)/P + 1/S
    slope = (3 * 135.997 * 1.044**2 - 2 * 630.272 * 1.044 + 1111.14) / 10.955 + 1 / 1.044
    assert parts == {
        "boil.before.gravity": pytest.approx(0.001 * slope, rel=0.01),
        "boil.before.volume": pytest.approx(0.25 / 27.0, rel=1e-6),
    }


@pytest.mark.parametrize("name", [name for name in CATALOGUE if name not in OF_A_LOG | OF_RELATIVES])
def test_every_figure_has_its_working(name: str, full: BatchFigures, tmp_path: Path) -> None:
    brewery, malts = settings_at(tmp_path, BREWERY, MALTS)
    assert name in full, f"FIELDS of tests/brew.py states none of {full.wanting.get(name)}"
    working = working_of(name, full, observe(batch_of(FIELDS), brewery, malts))
    assert working is not None
    assert "{" not in working.formula + working.numbers
    assert working.formula == formula_text(CATALOGUE[name])
    assert any(character.isdigit() for character in str(working.result))
    # days on a calendar are counted
    assert sum(part.share for part in working.parts) == pytest.approx(1.0 if full[name].sd else 0.0, abs=0.05)


def test_a_figure_that_is_wanting_has_no_working() -> None:
    batch = batch_of("boil: {before: {volume: 27 L}}")
    found = figures("boil: {before: {volume: 27 L}}")
    assert working_of("kettle_extract", found, observe(batch, Brewery(), Malts())) is None


def test_the_working_in_us_units(full: BatchFigures, tmp_path: Path) -> None:
    brewery, malts = settings_at(tmp_path, BREWERY, MALTS)
    observed = observe(batch_of(FIELDS), brewery, malts)
    working = working_of("kettle_volume", full, observed, "us")
    assert working is not None
    assert working.result.unit == "gal"
    assert float(working.result.value) == pytest.approx(full["kettle_volume"].value / 3.785411784, abs=0.06)
    assert "149" in working.numbers, "65 °C is 149 °F"
