"""Twelve kinds of home brew as a brewer would write them, in `dozen/`, each worked by hand; none refused, none silently short.

They were written from the README, `wortbook fields` and the messages. What stands beside each number is all that it was
worked with: water in kg/L (CRC Handbook) is 0.99820 at 20 °C, 0.98066 at 65, 0.97890 at 68, 0.97776 at 70, 0.96189 at 95;
degrees Plato are of the ASBC's table: 1.031 7.79, 1.037 9.27, 1.041 10.23, 1.043 10.71, 1.045 11.19, 1.048 11.91, 1.049 12.15,
1.050 12.39, 1.051 12.62, 1.052 12.86, 1.054 13.33, 1.058 14.26, 1.065 15.88, 1.094 22.44. A wort of gravity g holds
volume × g × 0.9982 × Plato / 100 of extract. Alcohol is Balling's: RE = 0.1808 OE + 0.8192 AE, by weight
(OE − RE) / (2.0665 − 0.010665 OE), by volume × gravity / 0.7907; published relations differ by 0.1 to 0.2 % by volume.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from journal.balance import CLOSES
from journal.figures import BatchFigures
from journal.pages import Record
from journal.problems import Severity
from journal.publishing import understand
from journal.reading.table import walk

GALLON, POUND = 3.785412, 0.45359237


@pytest.fixture(scope="module")
def record() -> Record:
    return understand(Path(__file__).parent / "dozen")


@pytest.fixture
def of(record: Record, request: pytest.FixtureRequest) -> BatchFigures:
    """The figures, as recorded, of the batch that a test is named for."""
    return record.figures[request.param]


def extract(volume: float, gravity: float, plato: float) -> float:
    """kg in so many L at 20 °C."""
    return volume * gravity * 0.9982 * plato / 100


def alcohol(original: float, apparent: float, gravity: float) -> float:
    """Balling's, as a fraction by volume; strengths in degP."""
    real = 0.1808 * original + 0.8192 * apparent
    return (original - real) / (2.0665 - 0.010665 * original) * gravity / 0.7907 / 100


def test_none_is_refused_and_nothing_is_odd(record: Record) -> None:
    assert [entry.file for entry in record.broken] == []
    assert [
        (problem.file_name, problem.message) for problem in record.problems if problem.severity is not Severity.NOTE
    ] == []
    assert len(record.batches) == 16
    told = {batch.id: balance.verdict.status for batch in record.batches if (balance := record.balances.get(batch.id))}
    # a part has no kettle of its own to balance
    assert {batch for batch, status in told.items() if status != CLOSES} == {"8-a", "8-b"}


def test_nothing_that_was_written_is_lost(record: Record) -> None:
    """Every line of every list of an entry is one of the batch read."""
    for batch in record.batches:
        items = sum(len(value) for _, value, _ in walk(batch) if isinstance(value, tuple))
        text = batch.source.text.split("\n---\n")[0]
        named = sum(text.count(f"{key}:") for key in ("addition", "hop", "malt")) - text.count("priming:")
        assert items >= named, batch.id


@pytest.mark.parametrize("of", ["1"], indirect=True)
def test_batch_sparge_in_gallons(of: BatchFigures) -> None:
    assert of["total_liquor"].value == pytest.approx(7.5 * GALLON, abs=0.005)
    # by the brewers' own sum: 5.25 gal × 52 points over 46.2 points of sucrose for a pound of 77 and of 72 % (0.770)
    potential = (9.5 * 0.77 + 0.5 * 0.72) * 46.2
    assert of["brewhouse_efficiency"].value == pytest.approx(5.25 * 52 / potential, abs=0.004)
    # 6.6 gal read at 151 °F (66.1 °C, 0.9800) are 24.53 L, with 11.19 % of 1.045 2.863 kg, of 3.481 kg in the grist
    kettle = extract(6.6 * GALLON * 0.9800 / 0.9982, 1.045, 11.19)
    assert of["kettle_extract"].value == pytest.approx(kettle, abs=0.005)
    assert of["mash_efficiency"].value == pytest.approx(kettle / (POUND * (9.5 * 0.77 + 0.5 * 0.72)), abs=0.002)
    assert of["alcohol_by_volume"].value == pytest.approx(alcohol(12.86, 2.81, 1.011), abs=0.002)


@pytest.mark.parametrize("of", ["2"], indirect=True)
def test_bag(of: BatchFigures) -> None:
    assert of["kettle_extract"].value == pytest.approx(extract(22.8 * 0.97776 / 0.9982, 1.043, 10.71), abs=0.005)
    # 18.5 L of 1.049 hold 2.353 kg, of 4.0 × 0.78
    assert of["brewhouse_efficiency"].value == pytest.approx(extract(18.5, 1.049, 12.15) / 3.12, abs=0.002)
    assert of["sparge_liquor"].value == 0.0


@pytest.mark.parametrize("of", ["3"], indirect=True)
def test_steps_by_infusion_and_decoction(of: BatchFigures, record: Record) -> None:
    # what was poured on for the step is part of the mash's 13.7 L
    assert of["mash_liquor"].value == pytest.approx(13.7, abs=0.005)
    assert of["total_liquor"].value == pytest.approx(26.8, abs=0.005)
    assert [of[f"minutes_{name}"].value for name in ("protease", "beta_amylase", "alpha_amylase")] == [10, 40, 20]
    assert of["fermenter_extract"].value == pytest.approx(extract(19.2, 1.052, 12.86), abs=0.005)
    first, infused, decocted = next(batch.mash.rests for batch in record.batches if batch.id == "3")
    assert first.infusion is None
    # J. Palmer's sum: 12 degrees × (0.41 × 4.2 kg + 9.5 L) / (96 − 64), 4.21 L
    assert infused.infusion
    assert infused.infusion.value == pytest.approx(12 * (0.41 * 4.2 + 9.5) / 32, abs=0.02)
    assert decocted.decoction
    assert decocted.boiled
    assert (decocted.decoction.value, decocted.boiled.value) == (4.1, 10)


@pytest.mark.parametrize("of", ["4"], indirect=True)
def test_extract_and_steeping(of: BatchFigures) -> None:
    # dry malt extract gives 44 points to the pound and gallon (common practice) of sucrose's 46.2: 0.952
    assert of["early_extract"].value == pytest.approx(2.5 * 44 / 46.2, abs=0.02)
    # 14.9 L of the kettle's wort with five of water: 19.9 L of 1.045
    assert of["fermenter_extract"].value == pytest.approx(extract(19.9, 1.045, 11.19), abs=0.005)
    knockout = extract(16.7 * 0.96189 / 0.9982, 1.060, 14.74)
    assert of["transfer_efficiency"].value == pytest.approx(extract(19.9, 1.045, 11.19) / knockout, abs=0.003)
    # Tinseth at 1.057, 45 min: 1.65 × 0.000125^0.057 × (1 − e^−1.8) / 4.15 = 0.1988 of 1650 mg in 16.09 L, thinned to 14.9 of 19.9
    assert of["bitterness"].value == pytest.approx(0.1988 * 1650 / 16.09 * 14.9 / 19.9, rel=0.01)
    # no mash: nothing is claimed of one
    assert {"mash_efficiency", "conversion_efficiency", "brewhouse_efficiency"} <= set(of.wanting)


@pytest.mark.parametrize("of", ["5"], indirect=True)
def test_sugar_in_stages(of: BatchFigures) -> None:
    # 18.4 L of 1.058 weigh 19.432 kg and hold 2.771; with 0.8 kg of sugar 3.571 in 20.232: 17.65 °P
    wort = 18.4 * 1.058 * 0.9982
    told = 100 * (extract(18.4, 1.058, 14.26) + 0.8) / (wort + 0.8)
    assert of["original_extract_all_told"].value == pytest.approx(told, abs=0.02)
    assert of["alcohol_by_volume"].value == pytest.approx(alcohol(told, 1.54, 1.006), abs=0.002)
    # the kettle's half kilogram is not the grist's, and neither is the fermenter's: 2.771 less 0.5 × 0.927, of 3.12
    knockout = extract(20.6 * 0.96189 / 0.9982, 1.058, 14.26)
    fermenter = extract(18.4, 1.058, 14.26)
    assert of["brewhouse_efficiency"].value == pytest.approx((fermenter - 0.5 * fermenter / knockout) / 3.12, abs=0.003)


@pytest.mark.parametrize("of", ["6"], indirect=True)
def test_lager_with_its_rests(of: BatchFigures, record: Record) -> None:
    # 350 000 million in 21 000 mL of 12.62 °P: 1.32 million (0.75 to 1.5 is common practice)
    assert of["pitching_rate"].value == pytest.approx(350_000 / 21_000 / 12.62, abs=0.005)
    assert of["apparent_attenuation"].value == pytest.approx((12.62 - 2.56) / 12.62, abs=0.002)
    assert of["alcohol_by_volume"].value == pytest.approx(alcohol(12.62, 2.56, 1.010), abs=0.002)
    held = next(batch.fermenter.temperatures for batch in record.batches if batch.id == "6")
    assert [(step.temperature.value, step.why) for step in held if step.temperature] == [
        (10.0, None),
        (16.0, "diacetyl rest"),
        (1.0, "lagering"),
    ]


@pytest.mark.parametrize("of", ["7"], indirect=True)
def test_kettle_sour(of: BatchFigures) -> None:
    # read at 38 °C (0.99297): 16.91 L; of 1.5 × 0.80 and 1.5 × 0.78
    kettle = extract(17.0 * 0.99297 / 0.9982, 1.043, 10.71)
    assert of["mash_efficiency"].value == pytest.approx(kettle / 2.37, abs=0.003)
    assert of["original_gravity"].value == pytest.approx(1.045)
    assert of["alcohol_by_volume"].value == pytest.approx(alcohol(11.19, 2.31, 1.009), abs=0.002)


@pytest.mark.parametrize("of", ["8"], indirect=True)
def test_a_batch_split_between_two_yeasts(of: BatchFigures, record: Record) -> None:
    house, farmhouse = record.figures["8-a"], record.figures["8-b"]
    # twice 12.5 L of wort, whatever water joined one of them
    assert of["fermenter_extract"].value == pytest.approx(extract(25.0, 1.048, 11.91), abs=0.005)
    assert of["brewhouse_efficiency"].value == pytest.approx(extract(25.0, 1.048, 11.91) / (5.4 * 0.78), abs=0.002)
    # a litre of water: 1.557 kg in 13.077 + 0.998 kg, 11.07 °P
    thinned = 100 * extract(12.5, 1.048, 11.91) / (12.5 * 1.048 * 0.9982 + 0.9982)
    assert farmhouse["original_extract"].value == pytest.approx(thinned, abs=0.02)
    assert house["alcohol_by_volume"].value == pytest.approx(alcohol(11.91, 2.81, 1.011), abs=0.002)
    assert farmhouse["alcohol_by_volume"].value == pytest.approx(alcohol(thinned, 0.77, 1.003), abs=0.002)
    assert "brewhouse_efficiency" not in house.results


@pytest.mark.parametrize("of", ["9"], indirect=True)
def test_fruit_and_dry_hops(of: BatchFigures) -> None:
    # 2 kg of cherries of 14 % sugar, the rest of them water: 2.055 + 0.28 kg in 17.262 + 2.0 kg, 12.12 °P
    told = 100 * (extract(16.5, 1.048, 11.91) + 0.28) / (16.5 * 1.048 * 0.9982 + 2.0)
    assert of["late_extract"].value == pytest.approx(0.28)
    assert of["original_extract_all_told"].value == pytest.approx(told, abs=0.03)
    assert of["alcohol_by_volume"].value == pytest.approx(alcohol(told, 2.56, 1.010), abs=0.002)
    # 7 to 8 mL of beer to the gram of pellets (a trade article)
    assert 0.060 * 7 <= of["beer_in_hops"].value <= 0.060 * 8
    # dry hops bring no bitterness, and no other hops were written
    assert "bitterness" not in of.results


@pytest.mark.parametrize("of", ["10"], indirect=True)
def test_two_beers_from_one_mash(of: BatchFigures, record: Record) -> None:
    small = record.figures["10-b"]
    # 9.6 L of 1.094 and 14.7 L of 1.037, of 7.0 × 0.78: the same on both pages
    both = (extract(9.6, 1.094, 22.44) + extract(14.7, 1.037, 9.27)) / 5.46
    assert of["brewhouse_efficiency"].value == pytest.approx(both, abs=0.003)
    assert small["brewhouse_efficiency"].value == pytest.approx(of["brewhouse_efficiency"].value)
    kettles = extract(16.5 * 0.97890 / 0.9982, 1.065, 15.88) + extract(19.5 * 0.98001 / 0.9982, 1.031, 7.79)
    assert of["mash_efficiency"].value == pytest.approx(kettles / 5.46, abs=0.003)


@pytest.mark.parametrize("of", ["11"], indirect=True)
def test_keg(of: BatchFigures) -> None:
    # brewers' charts have 2.47 volumes for 12 psi at 40 °F (from memory); a volume of the gas weighs 1.977 g/L
    assert of["pressure_carbonation"].value / 1.977 == pytest.approx(2.47, abs=0.06)
    # nothing was primed
    assert "carbonation" not in of.results


@pytest.mark.parametrize("of", ["12"], indirect=True)
def test_salts_and_acids(of: BatchFigures) -> None:
    # by molar mass: gypsum 40.08 and 96.06 of 172.17, calcium chloride dihydrate 40.08 and 70.91 of 147.01; in 13 L of mash
    assert of["calcium"].value == pytest.approx(60 + (4000 * 40.08 / 172.17 + 2000 * 40.08 / 147.01) / 13, rel=0.005)
    assert of["sulfate"].value == pytest.approx(40 + 4000 * 96.06 / 172.17 / 13, rel=0.005)
    assert of["chloride"].value == pytest.approx(25 + 2000 * 70.91 / 147.01 / 13, rel=0.005)
    # lactic acid of 80 % weighs 1.19 kg/L: 2 mL are 21.1 mmol, of which 97 % part from their proton at pH 5.4 (pKa 3.86);
    # 50.04 mg of CaCO3 to the milliequivalent
    parted = 2.0 * 1.19 * 0.80 / 90.08 * 1000 / 13 * 0.972
    assert of["alkalinity_neutralised"].value == pytest.approx(parted, rel=0.02)
    assert of["alkalinity"].value == pytest.approx(120 - 50.04 * parted, abs=2.0)


@pytest.mark.parametrize("of", ["12"], indirect=True)
def test_priming(of: BatchFigures) -> None:
    # dextrose with its water gives two of 44.01 for 198.17: 0.4442 of 110 g in 18 L, 2.71 g/L; beer at 20 °C holds 0.85 volumes
    # of its own by the brewers' charts, from memory
    assert of["carbonation"].value == pytest.approx(110 * 2 * 44.01 / 198.17 / 18 + 0.85 * 1.977, abs=0.2)
    assert of["gravity_level_for"].value >= 3.0


@pytest.mark.parametrize("of", ["13"], indirect=True)
def test_no_cooling_after_a_stand(of: BatchFigures) -> None:
    # Malowicki and Shellhammer's rate goes as e^(−11858/T): at 80 °C 0.1654 of that at 100 °C, so that 30 min are worth 4.96.
    # Tinseth at 1.0465: 1.0864 × (1 − e^(−0.04 × 4.96)) / 4.15 = 0.0471 of 3000 mg in 21.01 L
    assert of["stand_bitterness"].value == pytest.approx(0.0471 * 3000 / 21.01, rel=0.01)
    # the early hops were taken out at knockout: 1.0864 × (1 − e^−2.4) / 4.15 = 0.2380 of 1500 mg
    assert of["bitterness"].value == pytest.approx((0.0471 * 3000 + 0.2380 * 1500) / 21.01, rel=0.01)
    assert of["fermenter_extract"].value == pytest.approx(extract(19.5, 1.050, 12.39), abs=0.005)
