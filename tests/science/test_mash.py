"""First wort, run-off, pH and rests."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import mash

GRAIN, EXTRACT, MOISTURE, HELD = 5.0, 0.768, 0.04, 1.0
DISSOLVED = GRAIN * EXTRACT


@pytest.mark.parametrize(
    ("liquor", "plato", "without_moisture"),
    [(2.0, 27.350, 27.746), (2.5, 23.216, 23.501), (3.0, 20.168, 20.382), (3.5, 17.827, 17.994), (4.0, 15.973, 16.107)],
)
def test_first_wort_maximum(liquor: float, plato: float, without_moisture: float) -> None:
    """Mass balance, reckoned apart from this package."""
    assert mash.first_wort_maximum(EXTRACT, liquor, MOISTURE) == pytest.approx(plato, abs=0.0005)
    assert mash.first_wort_maximum(EXTRACT, liquor, 0.0) == pytest.approx(without_moisture, abs=0.0005)


@given(st.floats(0.3, 1.0), st.floats(1.5, 8.0), st.floats(0.0, 0.15))
def test_all_extract_found_in_the_strongest_first_wort(extract: float, liquor: float, moisture: float) -> None:
    plato = mash.first_wort_maximum(extract, liquor, moisture)
    assert mash.dissolved_extract(liquor + moisture, plato) == pytest.approx(extract, rel=1e-9)


@pytest.mark.parametrize(("plato", "conversion"), [(18.0, 0.869), (19.0, 0.928), (20.0, 0.990)])
def test_conversion_from_first_wort(plato: float, conversion: float) -> None:
    """3 kg of liquor to a kg; mass balance, reckoned apart from this package."""
    assert mash.dissolved_extract(3.04, plato) / EXTRACT == pytest.approx(conversion, abs=0.0005)


@pytest.mark.parametrize(
    ("waters", "strengths", "extract", "efficiency"),
    [
        ([15.0], [20.168], 2.5768, 0.67105),
        ([15.0, 10.0], [20.168, 7.767], 3.4189, 0.89035),
        ([15.0, 5.0, 5.0], [20.168, 11.215, 5.941], 3.5242, 0.91776),
        ([15.0, 12.0], [20.168, 6.916], 3.4685, 0.90325),
        ([25.0], [13.223], 3.0781, 0.80159),
    ],
)
def test_run_off(waters: list[float], strengths: list[float], extract: float, efficiency: float) -> None:
    """Mass balance of a mixed bed: 5 kg of malt, 76.8 % extract, 4 % moisture, 1 kg of water held by each kg."""
    runnings = mash.run_off(waters, GRAIN, HELD, DISSOLVED, MOISTURE)
    assert [plato for plato, _ in runnings] == pytest.approx(strengths, abs=0.0005)
    assert sum(kg for _, kg in runnings) == pytest.approx(extract, abs=0.00005)
    assert mash.lauter_efficiency(waters, GRAIN, HELD, DISSOLVED, MOISTURE) == pytest.approx(efficiency, abs=0.000005)


def test_run_off_in_exact_fractions() -> None:
    """The share left behind is the product of held water over water, worked in whole fractions."""
    left = Fraction(5, 1) / Fraction(152, 10) * Fraction(5, 1) / Fraction(15, 1)
    assert mash.lauter_efficiency([15.0, 10.0], GRAIN, HELD, DISSOLVED, MOISTURE) == pytest.approx(float(1 - left))


@given(st.floats(8.0, 40.0), st.floats(0.1, 40.0), st.integers(1, 6), st.floats(0.5, 1.5))
def test_splitting_the_sparge_never_loses(liquor: float, sparge: float, parts: int, held: float) -> None:
    def efficiency(share: int) -> float:
        return mash.lauter_efficiency([liquor] + [sparge / share] * share, GRAIN, held, DISSOLVED, MOISTURE)

    assert efficiency(parts + 1) >= efficiency(parts) - 1e-12


@given(st.lists(st.floats(0.1, 30.0), min_size=1, max_size=6), st.floats(0.0, 3.0))
def test_runnings_only_weaken_and_never_exceed_what_was_there(waters: list[float], held: float) -> None:
    runnings = mash.run_off(waters, GRAIN, held, DISSOLVED, MOISTURE)
    strengths = [plato for plato, _ in runnings]
    assert all(later <= earlier + 1e-9 for earlier, later in pairwise(strengths))
    assert all(kg >= 0.0 for _, kg in runnings)
    assert sum(kg for _, kg in runnings) <= DISSOLVED * (1.0 + 1e-12)


def test_dry_bed_keeps_everything() -> None:
    assert mash.lauter_efficiency([4.0], GRAIN, 1.3, DISSOLVED, MOISTURE) == 0.0


def test_ph_of_a_cooled_sample() -> None:
    """Briggs et al. (2004), from memory: about 0.35 lower at mash temperature."""
    assert mash.ph_at_20(5.05, 65.0) == pytest.approx(5.40, abs=1e-9)
    assert mash.ph_at_20(5.36, 20.0) == 5.36
    assert mash.ph_at_20(5.36, 10.0) < 5.36


def test_rests_count_at_both_ends_of_a_range() -> None:
    rests = [(54.0, 5.0), (66.0, 40.0), (66.1, 7.0), (53.9, 11.0)]
    assert mash.minutes_in_range(rests, 54.0, 66.0) == 45.0
    assert mash.minutes_in_range([], 54.0, 66.0) == 0.0


#: J. Palmer, How to Brew, ch. 14, table, degF; then the same table in the book's first edition.
FAHRENHEIT = {
    "beta_glucanase": ((98.0, 113.0), (95.0, 113.0)),
    "protease": ((115.0, 135.0), (113.0, 131.0)),
    "beta_amylase": ((130.0, 150.0), (131.0, 150.0)),
    "alpha_amylase": ((155.0, 167.0), (154.0, 162.0)),
}


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


def test_enzyme_ranges() -> None:
    """Whole degC, as authors give them: the nearest to the table's, or between it and the first edition's."""
    assert [enzyme.name for enzyme in mash.ENZYMES] == list(FAHRENHEIT)
    for enzyme in mash.ENZYMES:
        for end, table, first in zip((enzyme.low, enzyme.high), *FAHRENHEIT[enzyme.name], strict=True):
            assert end == round(end)
            assert min(celsius(table) - 0.5, celsius(first)) <= end <= max(celsius(table) + 0.5, celsius(first))
        assert enzyme.source


def test_the_ranges_spread_as_far_as_the_first_edition() -> None:
    """In whole kelvin, and by the kelvin at least that a mash is uneven by (common practice)."""
    for enzyme in mash.ENZYMES:
        low, high = (celsius(end) for end in FAHRENHEIT[enzyme.name][1])
        assert enzyme.low_spread == max(1, round(abs(low - enzyme.low))), enzyme.name
        assert enzyme.high_spread == max(1, round(abs(high - enzyme.high))), enzyme.name


@pytest.mark.parametrize(
    ("enzyme", "optimum"),
    [("beta_glucanase", 45.0), ("protease", 50.0), ("beta_amylase", 62.5), ("alpha_amylase", 72.5)],
)
def test_the_optimum_of_another_author_lies_in_the_range(enzyme: str, optimum: float) -> None:
    """Malt's enzymes as brewing schools teach them, middles of 40-50, 45-55, 60-65 and 70-75 degC, common practice."""
    found = next(each for each in mash.ENZYMES if each.name == enzyme)
    assert found.low <= optimum <= found.high


def test_what_a_kilogram_of_grain_displaces() -> None:
    """J. Palmer, How to Brew, from memory: 0.32 US quarts to the pound in the mash; NIST Handbook 44 for the units."""
    assert pytest.approx(0.32 * 0.946352946 / 0.45359237, abs=0.005) == mash.GRAIN_DISPLACEMENT


def test_a_first_order_approach_follows_its_rate() -> None:
    """What is left falls by the share dt/constant in each dt: by small steps of Euler's, apart from the formula."""
    left, step = 0.95, 0.001
    for _ in range(30_000):
        left -= left * step / 15.0
    assert mash.conversion(0.95, 2.0, 15.0, 32.0) == pytest.approx(0.95 - left, abs=1e-4)
    assert mash.conversion(0.95, 2.0, 15.0, 1.0) == 0.0
    # a constant after the start all but 1/e, 0.36788, is there, however short it is
    for constant in (0.5, 1.0, 40.0):
        assert mash.conversion(1.0, 2.0, constant, 2.0 + constant) == pytest.approx(1.0 - 0.36788, abs=1e-5)
    assert mash.time_to_share(2.0, 15.0, 0.0) == 2.0
    # 95 % is there after ln 20, 2.9957, constants
    assert mash.time_to_share(2.0, 15.0, 0.95) == pytest.approx(2.0 + 15.0 * 2.9957, abs=1e-3)


def test_undefined() -> None:
    with pytest.raises(ValueError, match="no course"):
        mash.conversion(0.95, 2.0, 0.0, 5.0)
    with pytest.raises(ValueError, match="never reaches"):
        mash.time_to_share(2.0, 15.0, 1.0)
    with pytest.raises(ValueError, match="100 degP"):
        mash.dissolved_extract(15.0, 100.0)
    with pytest.raises(ValueError, match="no strength"):
        mash.first_wort_maximum(0.0, 0.0, 0.0)
    with pytest.raises(ValueError, match="no water"):
        mash.run_off([0.0], GRAIN, HELD, DISSOLVED, 0.0)
    with pytest.raises(ValueError, match="no extract dissolved"):
        mash.lauter_efficiency([15.0], GRAIN, HELD, 0.0, MOISTURE)
