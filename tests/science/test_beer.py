"""Attenuation, alcohol and energy against published tables and analyses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import beer, wort

# OG, FG; alcohol by volume by the straight line for real extract and by Tabarié's principle, %.
# Reckoned apart from this package from Balling's relation, OIML R 22 and ICUMSA SPS-4. For
# Tabarié's principle the gravity was taken there as a ratio of densities, without the air: worth up to 0.006 %.
BEERS = [
    (1.030, 1.006, 3.158, 3.100),
    (1.038, 1.008, 3.964, 3.891),
    (1.040, 1.008, 4.232, 4.155),
    (1.048, 1.010, 5.046, 4.952),
    (1.050, 1.010, 5.316, 5.219),
    (1.060, 1.012, 6.411, 6.293),
    (1.080, 1.018, 8.363, 8.201),
    (1.100, 1.020, 10.893, 10.686),
]
# HMRC Notice 226 (Beer Duty), section 30: degrees lost from, to; factor; alcohol printed for the upper end, % by volume.
HMRC = [
    (0.0, 6.9, 0.125, 0.8),
    (7.0, 10.4, 0.126, 1.3),
    (10.5, 17.2, 0.127, 2.1),
    (17.3, 26.1, 0.128, 3.3),
    (26.2, 36.0, 0.129, 4.6),
    (36.1, 46.5, 0.130, 6.0),
    (46.6, 57.1, 0.131, 7.5),
    (57.2, 67.9, 0.132, 9.0),
    (68.0, 78.8, 0.133, 10.5),
    (78.9, 89.7, 0.134, 12.0),
    (89.8, 100.7, 0.135, 13.6),
]
# Cutaia, Reid & Speers, J. Inst. Brew. 115 (2009) 318, table III, means of five sets of beers: original extract,
# alcohol % by weight, real extract, apparent extract; then, as calculated there, Balling's original extract and the
# straight line's real extract.
CUTAIA = [
    (14.08, 4.72, 5.28, 3.11, 14.31, 5.09),
    (14.54, 5.14, 4.88, 2.53, 14.70, 4.70),
    (17.67, 6.56, 5.38, 2.45, 17.70, 5.20),
    (11.34, 3.82, 3.80, 2.01, 11.24, 3.70),
    (12.75, 4.21, 4.74, 2.79, 12.86, 4.59),
]


def extracts(original_gravity: float, final_gravity: float) -> tuple[float, float]:
    return wort.plato_from_gravity(original_gravity), wort.plato_from_gravity(final_gravity)


@pytest.mark.parametrize(("og", "fg", "line", "tabarie"), BEERS)
def test_alcohol(og: float, fg: float, line: float, tabarie: float) -> None:
    original, apparent = extracts(og, fg)
    by_line = beer.alcohol_by_weight(original, beer.real_extract_regression(original, apparent))
    by_tabarie = beer.alcohol_by_weight(original, beer.real_extract(original, apparent))
    assert 100.0 * beer.alcohol_by_volume(by_line, fg) == pytest.approx(line, abs=0.001)
    assert 100.0 * beer.alcohol_by_volume(by_tabarie, fg) == pytest.approx(tabarie, abs=0.01)


def excise(lost: float) -> float:
    """Alcohol, % by volume, of a beer that has lost so many degrees of gravity, by HMRC's factors."""
    return lost * next(factor for _, most, factor, _ in HMRC if round(lost, 1) <= most)


def test_the_excise_s_own_example() -> None:
    """HMRC Notice 226, section 30: 1057 to 1018 is 39 degrees, at 0.130; alcohol is printed to a tenth."""
    assert excise(39.0) == pytest.approx(5.07)
    assert all(abs(excise(most) - printed) < 0.1 for _, most, _, printed in HMRC)


@pytest.mark.parametrize("lost", [24.0, 30.0, 38.0, 40.0, 48.0, 62.0, 80.0])
def test_tabarie_agrees_with_the_excise(lost: float) -> None:
    """Within 0.04 % by volume of HMRC's factors, for beers that lose four fifths of their gravity."""
    og, fg = 1.0 + lost / 800.0, 1.0 + lost / 4000.0
    original, apparent = extracts(og, fg)
    alcohol = beer.alcohol_by_weight(original, beer.real_extract(original, apparent))
    assert 100.0 * beer.alcohol_by_volume(alcohol, fg) == pytest.approx(excise(lost), abs=0.04)


@pytest.mark.parametrize("analysis", CUTAIA)
def test_analysed_beers(analysis: tuple[float, ...]) -> None:
    """Printed to 0.01; the tolerances of the first two lines are what that rounds away."""
    original, alcohol, real, apparent, balling, line = analysis
    assert 100.0 * beer.alcohol_by_weight(balling, real) == pytest.approx(alcohol, abs=0.005 + 0.01 / 1.9)
    assert beer.real_extract_regression(original, apparent) == pytest.approx(line, abs=0.005 + 0.005)
    found = beer.real_extract(original, apparent)
    assert found == pytest.approx(real, abs=0.1)
    # Balling's relation misses these sets' original extract by up to 0.25 degP, which is 0.13 % of alcohol.
    assert 100.0 * beer.alcohol_by_weight(original, found) == pytest.approx(alcohol, abs=0.13 + 0.1 / 1.9)


def test_balling_from_his_masses() -> None:
    """2.0665 g of extract leave 1 g of ethanol; 0.9565 g of CO2 and 0.11 g of yeast go (Nielsen et al. 2007)."""
    ethanol, real = 4.0, 4.5
    wort_mass = 100.0 + (0.9565 + 0.11) * ethanol
    original = 100.0 * (2.0665 * ethanol + real) / wort_mass
    assert 100.0 * beer.alcohol_by_weight(original, real) == pytest.approx(ethanol, rel=1e-12)


@pytest.mark.parametrize(
    ("og", "fg", "apparent", "real", "degree"),
    [(1.048, 1.010, 78.50, 64.31, 65.75), (1.050, 1.010, 79.33, 64.99, 66.47)],
)
def test_attenuation(og: float, fg: float, apparent: float, real: float, degree: float) -> None:
    """Definitions, and ASBC Beer-6 (from memory); reckoned apart from this package."""
    original, remaining = extracts(og, fg)
    true = beer.real_extract_regression(original, remaining)
    assert 100.0 * beer.apparent_attenuation(original, remaining) == pytest.approx(apparent, abs=0.01)
    assert 100.0 * beer.real_attenuation(original, true) == pytest.approx(real, abs=0.01)
    assert 100.0 * beer.real_degree_of_fermentation(original, true) == pytest.approx(degree, abs=0.01)


@pytest.mark.parametrize(
    ("og", "fg", "bottle"),
    [
        (1.040, 1.008, 130.45),
        (1.048, 1.010, 157.26),
        (1.050, 1.010, 163.73),
        (1.060, 1.012, 197.14),
        (1.080, 1.018, 265.29),
    ],
)
def test_energy_of_a_bottle(og: float, fg: float, bottle: float) -> None:
    """kcal in 355 mL by the ASBC formula (Oxford Companion to Beer), reckoned apart from this package to 0.01."""
    original, apparent = extracts(og, fg)
    real = beer.real_extract_regression(original, apparent)
    found = beer.energy(beer.alcohol_by_weight(original, real), real, fg)
    assert 3.55 * found == pytest.approx(bottle, abs=0.005)


def test_energy_of_ordinary_beer() -> None:
    """USDA food tables, regular beer, from memory: 43 kcal in 100 g, with 3.9 g of alcohol and 4.0 g of solids."""
    assert beer.energy(0.039, 4.0, 1.0) == pytest.approx(43.0, abs=1.0)


@pytest.mark.parametrize(
    ("before", "after", "cubic"),
    [
        (10.0, 5.0, 1.01030),
        (12.0, 6.0, 1.01168),
        (12.5, 6.5, 1.01282),
        (15.0, 7.5, 1.01347),
        (18.0, 9.0, 1.01502),
    ],
)
def test_refractometer(before: float, after: float, cubic: float) -> None:
    """S. Terrill (2011), reckoned apart from this package."""
    assert beer.final_gravity_from_refractometer(before, after) == pytest.approx(cubic, abs=1e-5)


@given(st.floats(2.0, 30.0))
def test_nothing_fermented(original: float) -> None:
    """Wort is beer without alcohol: its real extract is its apparent extract."""
    assert beer.real_extract(original, original) == pytest.approx(original, abs=1e-9)


@given(st.floats(5.0, 28.0), st.floats(0.3, 1.1), st.floats(0.01, 0.2))
def test_further_fermented_means_more_alcohol(original: float, attenuation: float, further: float) -> None:
    def alcohol(share: float) -> float:
        return beer.alcohol_by_weight(original, beer.real_extract(original, original * (1.0 - share)))

    assert alcohol(attenuation + further) > alcohol(attenuation)


@given(st.floats(8.0, 20.0), st.floats(0.6, 0.9))
def test_quotient_of_attenuations(original: float, share: float) -> None:
    """Real over apparent attenuation of finished beers is 0.80 to 0.83 in print (Cutaia et al. 2009)."""
    apparent = original * (1.0 - share)
    real = beer.real_extract(original, apparent)
    assert 0.80 <= (original - real) / (original - apparent) <= 0.83


def test_undefined() -> None:
    with pytest.raises(ValueError, match="no attenuation"):
        beer.apparent_attenuation(0.0, 0.0)
    with pytest.raises(ValueError, match="no attenuation"):
        beer.real_attenuation(0.0, 0.0)
    with pytest.raises(ValueError, match="Balling"):
        beer.alcohol_by_weight(200.0, 4.0)
    with pytest.raises(ValueError, match="degree of fermentation"):
        beer.real_degree_of_fermentation(12.0, 200.0)


def test_staged_sugar_by_hand() -> None:
    """20 L of 15 degP weigh 21.1832 kg (1.05916 kg/L) and hold 3.1775 kg; with 1 kg of sugar 4.1775 of 22.1832 kg: 18.832 degP."""
    sugar = beer.LateExtract(1.0, 1.0, 20.0)
    assert beer.original_extract_all_told(15.0, [sugar]) == pytest.approx(18.832, abs=0.001)


def test_staged_sugar_counts_by_the_beer_that_is_there() -> None:
    halves = [beer.LateExtract(0.5, 0.5, 20.0)] * 2
    assert beer.original_extract_all_told(15.0, halves) == pytest.approx(18.832, abs=0.001)
    assert beer.original_extract_all_told(15.0, [beer.LateExtract(0.025, 0.025, 0.5)]) == pytest.approx(
        18.832, abs=0.001
    )
    half_a_batch = beer.LateExtract(0.5, 0.5, 10.0)
    assert beer.original_extract_all_told(15.0, [half_a_batch]) == pytest.approx(18.832, abs=0.001)
    assert beer.original_extract_all_told(15.0, []) == pytest.approx(15.0)


def test_late_fruit_thins_by_its_water() -> None:
    """1 kg of fruit with 90 g of sugar in 10 L of 12 degP: 10.4644 kg hold 1.25573; 1.34573 of 11.4644 kg are 11.738 degP."""
    assert beer.original_extract_all_told(12.0, [beer.LateExtract(1.0, 0.09, 10.0)]) == pytest.approx(11.738, abs=0.001)
    with pytest.raises(ValueError, match="not 0 L"):
        beer.original_extract_all_told(12.0, [beer.LateExtract(1.0, 0.09, 0.0)])


def test_staged_sugar_gives_the_alcohol_it_would_have_given_in_the_wort() -> None:
    """Balling: 2.0665 g of extract to 1 g of alcohol. 1 kg of sugar in 20 L that ferments away gives 484 g, 24 g/L, 3.1 % by volume."""
    told = beer.original_extract_all_told(12.0, [beer.LateExtract(1.0, 1.0, 20.0)])
    real = 4.0
    less = beer.alcohol_by_weight(12.0, real)
    more = beer.alcohol_by_weight(told, real * 1.0)
    assert (more - less) * 1.005 / 0.78924 == pytest.approx(0.031, abs=0.003)
