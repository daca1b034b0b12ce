"""Hot volumes, hydrometers away from 20 °C, °P and °Bx: brought to 20 °C and to specific gravity 20/20."""

import pytest
from texts import figures, settings_at

from journal.figures.uncertain import ErrorSource
from journal.reading import Brewery

#: Density of water over that at 20 °C: IAPWS-95 at 1 atm, six digits; 100 °C as saturated liquid.
WATER = {5: 1.001763, 15: 1.000897, 40: 0.993998, 65: 0.982312, 80: 0.973536, 95: 0.963616, 99: 0.960789, 100: 0.960070}


@pytest.mark.parametrize("at", WATER)
def test_hot_volume(at: int) -> None:
    found = figures(f"boil: {{before: {{volume: 25 L at {at} degC}}}}")["kettle_volume"]
    assert found.value == pytest.approx(25 * WATER[at], abs=25e-5)


def test_hot_volume_in_us_units() -> None:
    """152 °F is 66.667 °C: the ratio there is 0.981397 (IAPWS-95)."""
    found = figures("boil: {after: {volume: 6 gal at 152 degF}}")["knockout_volume"]
    assert found.value == pytest.approx(6 * 3.785411784 * 0.981397, abs=3e-4)


@pytest.mark.parametrize(
    ("fields", "name"),
    [
        ("mash: {liquor: 14 L at 70 degC}", "mash_liquor"),
        ("lauter: {liquor: 14 L at 70 degC}", "sparge_liquor"),
        ("fermenter: {volume: 14 L at 70 degC}", "fermenter_volume"),
    ],
)
def test_every_volume_may_be_hot(fields: str, name: str) -> None:
    assert figures(fields)[name].value == pytest.approx(14 * 0.979521, abs=14e-5)


def test_only_at_says_that_a_volume_was_hot() -> None:
    found = figures(
        "mash: {liquor: 14 L, strike: 72.5 degC}\nlauter: {liquor: 15 L, liquor_temperature: 77 degC}\n"
        "readings: [{at: 2026-04-24 20:00, gravity: 1.011, temperature: 30 degC}]"
    )
    assert found["mash_liquor"].value == 14.0
    assert found["sparge_liquor"].value == 15.0
    assert found["final_gravity"].value == 1.011, "the beer's temperature never corrects a gravity"


@pytest.mark.parametrize(
    ("true", "celsius", "points"),
    [
        # what a 20 °C hydrometer of glass (25e-6/K) reads too much, in thousandths, by buoyancy with the densities of
        # ICUMSA SPS-4, reckoned apart from this package; at 15 °C within 0.01 °Bx of NBS Circular 440 (from memory)
        (1.00000, 15, 0.77),
        (1.04003, 15, 1.02),
        (1.08302, 15, 1.27),
        (1.04003, 25, -1.25),
        (1.04003, 30, -2.72),
        (1.04003, 40, -6.22),
        (1.06114, 30, -2.92),
    ],
)
def test_hydrometer_in_a_warm_or_cold_sample(true: float, celsius: int, points: float) -> None:
    shown = true + points / 1000
    found = figures(f"boil: {{after: {{gravity: {shown:.5f} at {celsius} degC}}}}")["knockout_gravity"]
    assert found.value == pytest.approx(true, abs=3e-5)


@pytest.fixture
def imperial(tmp_path_factory: pytest.TempPathFactory) -> Brewery:
    text = "instruments: {hydrometer: {calibrated_at: 60 degF}}"
    return settings_at(tmp_path_factory.mktemp("brewery"), text)[0]


@pytest.mark.parametrize(
    ("at_60", "at_20"), [(1.01976, 1.01966), (1.04022, 1.04003), (1.04861, 1.04839), (1.08341, 1.08302)]
)
def test_hydrometer_made_for_60_fahrenheit(at_60: float, at_20: float, imperial: Brewery) -> None:
    """Specific gravity 60/60 °F against 20/20 °C of 5, 10, 12 and 20 °P in air, from the densities of ICUMSA SPS-4."""
    for written in (f"{at_60:.5f}", f"{at_60:.5f} at 60 degF"):
        found = figures(f"boil: {{after: {{gravity: {written}}}}}", imperial)["knockout_gravity"]
        assert found.value == pytest.approx(at_20, abs=2e-5)


def test_a_20_degree_hydrometer_at_20_degrees_reads_true() -> None:
    for written in ("1.048", "1.048 at 20 degC", "1.048 at 68 degF"):
        found = figures(f"boil: {{after: {{gravity: {written}}}}}")["knockout_gravity"]
        assert found.value == pytest.approx(1.048, abs=1e-9)


@pytest.mark.parametrize(
    ("plato", "gravity"), [(5, 1.01968), (10, 1.04003), (12, 1.04837), (15, 1.06111), (20, 1.08297)]
)
def test_plato_as_the_trade_s_table_has_it(plato: int, gravity: float) -> None:
    """ASBC table of extract (apparent specific gravity 20/20): 10 °P is 1.04003, 12 °P 1.0484."""
    found = figures(f"fermenter: {{gravity: {plato} °P}}")
    assert found["original_gravity"].value == pytest.approx(gravity, abs=1e-5)
    assert found["original_extract"].value == pytest.approx(plato, abs=1e-9)


def test_refractometer_of_wort_is_divided_by_its_factor(tmp_path_factory: pytest.TempPathFactory) -> None:
    assert figures("fermenter: {gravity: 12.48 °Bx}")["original_extract"].value == pytest.approx(12.48 / 1.04, abs=1e-9)
    text = "instruments: {refractometer: {wort_factor: 1.02 ± 0.005}}"
    own = settings_at(tmp_path_factory.mktemp("brewery"), text)[0]
    found = figures("fermenter: {gravity: 12.24 °Bx}", own)["original_extract"]
    assert found.value == pytest.approx(12.0, abs=1e-9)
    # relative parts: 0.2 °Bx of 12.24 and 0.005 of 1.02
    assert found.sd == pytest.approx(12.0 * ((0.2 / 12.24) ** 2 + (0.005 / 1.02) ** 2) ** 0.5, rel=1e-6)


def test_refractometer_of_beer() -> None:
    """S. Terrill (2011), cubic: 12 and 6 °Bx, both divided by the wort factor, give 1.01168; ± 0.002 of its own."""
    found = figures("fermenter: {gravity: 12 °P}\nreadings: [{at: 2026-04-24 20:00, gravity: 6.24 °Bx}]")
    assert found["final_gravity"].value == pytest.approx(1.01168, abs=1e-5)
    parts = dict(found["final_gravity"].parts)
    assert max(parts.values()) < found["final_gravity"].sd
    assert any(part == pytest.approx(0.002, rel=1e-6) for part in parts.values())


def test_one_refractometer_has_one_wort_factor() -> None:
    """Two worts by one instrument: their ratio does not depend on its factor."""
    found = figures(
        "boil: {before: {volume: 25 L, gravity: 11 °Bx}, after: {volume: 22 L, gravity: 12.5 °Bx}}\n"
        "fermenter: {volume: 20 L, gravity: 12.5 °Bx}"
    )
    factor_of = ErrorSource("instruments.refractometer.wort_factor")
    factor = dict(found["transfer_efficiency"].parts).get(factor_of, 0.0)
    alone = dict(found["knockout_extract"].parts)[factor_of]
    assert factor / found["transfer_efficiency"].value < 1e-6
    assert alone / found["knockout_extract"].value > 0.015


def test_ph_of_a_hot_sample() -> None:
    """Briggs et al., Brewing: Science and Practice (2004), from memory: about 0.35 lower at 65 °C."""
    assert figures("mash: {ph: 5.05 at 65 degC}")["mash_ph"].value == pytest.approx(5.40, abs=1e-9)
    assert figures("mash: {ph: 5.36}")["mash_ph"].value == 5.36


@pytest.mark.parametrize(
    ("rests", "minutes"),
    [
        # J. Palmer, How to Brew, ch. 14: 36-45, 46-57, 54-66, 68-75 °C, both ends included
        ("40 degC for 15 min, 52 degC for 10 min, 66 degC for 60 min, 75 degC for 10 min", (15, 10, 60, 10)),
        ("55 degC for 20 min, 67 degC for 60 min", (0, 20, 20, 0)),
        ("36 degC for 1 min, 45 degC for 2 min, 46 degC for 4 min, 57 degC for 8 min", (3, 12, 8, 0)),
        ("54 degC for 1 min, 66 degC for 2 min, 68 degC for 4 min, 75 degC for 8 min", (0, 1, 3, 12)),
    ],
)
def test_minutes_in_the_enzymes_ranges(rests: str, minutes: tuple[int, ...]) -> None:
    found = figures(f"mash: {{rests: [{rests}]}}")
    names = ("beta_glucanase", "protease", "beta_amylase", "alpha_amylase")
    for name, wanted in zip(names, minutes, strict=True):
        result = found[f"minutes_{name}"]
        assert result.value == wanted
        # a clock is read to a minute, so no sum of four rests is less certain than two minutes
        assert result.sd <= 2.0
