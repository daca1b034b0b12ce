"""What Wortbook gives, held to published brews and measurements; where each was read stands in its file of `data/`.

A bound here is one of the measurement: what the source prints, how far its own repeats lie apart, or the ± that Wortbook promises.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from statistics import fmean

import pytest
from published.sets import (
    BAVARIAN_POUND,
    DATA,
    PublishedSet,
    american_beers,
    balling_by_difference,
    course_fields,
    published_sets,
    rows,
    spent_grain,
    vat,
    vat_strengths,
)
from texts import batch_of

from journal.figures import figures_of
from journal.figures.beer_gravities import fit_course
from journal.figures.poured import recorded_fermentation
from journal.history.advice import advice_of
from journal.reading import Brewery, Journal, Malts
from journal.science import beer, mash, water, wort


@pytest.fixture(scope="module")
def sets() -> dict[str, PublishedSet]:
    return {found.name: found for found in published_sets()}


# 15.6/15.6 degC weighed in air, to the strength of sucrose with that density there
def _plato(gravity: str) -> float:
    return wort.plato_from_gravity(wort.gravity_at_20(float(gravity), 15.556, 15.556))


def test_every_file_says_where_it_was_read_and_is_used(sets: dict[str, PublishedSet]) -> None:

    text = (DATA.parent / "sets.py").read_text("utf-8") + (DATA.parent / "test_sets.py").read_text("utf-8")
    for file in sorted(DATA.iterdir()):
        assert "Read in: " in file.read_text("utf-8"), file.name
        assert f'"{file.stem}"' in text, file.name
        assert rows(file.stem), file.name


def test_sizes_of_the_sets(sets: dict[str, PublishedSet]) -> None:
    assert {name: len(found.points) for name, found in sets.items()} == {
        "sugar": 16,
        "hydrometer": 43,
        "american beers": 34,
        "sets of beers": 5,
        "balling": 48,
        "excise": 8,
        "first worts": 2,
        "grain water": 4,
        "gas lost": 1,
        "vat course": 11,
        "carbonated": 14,
    }


@pytest.mark.parametrize(
    "name", ["sugar", "hydrometer", "balling", "excise", "first worts", "grain water", "vat course", "carbonated"]
)
def test_sets_within_the_promise(sets: dict[str, PublishedSet], name: str) -> None:
    """Each difference within the ± promised for it, and a last digit for rounding."""
    for point in sets[name].points:
        assert abs(point.difference) <= point.sd + 1e-5


def test_a_hydrometer_s_correction_gives_the_dissolved_sugar_back(sets: dict[str, PublishedSet]) -> None:
    """Read to a tenth of a per cent, which by itself scatters by 0.03."""
    assert sets["hydrometer"].rms < 0.035
    assert abs(sets["hydrometer"].worst) < 0.065


def test_an_error_of_sign_in_the_correction_would_show(sets: dict[str, PublishedSet]) -> None:
    """Uncorrected, the same readings are off by up to 10 degP and by 3.5 on the mean."""
    plain = [float(row["reading_percent"]) - float(row["true_percent"]) for row in rows("gerlach1864_hydrometer")]
    assert fmean(plain) < -3.0
    assert min(plain) == -10.0


def test_the_mean_of_the_distilled_beers(sets: dict[str, PublishedSet]) -> None:
    """34 beers that scatter by 0.137 know their mean to 0.024 % by volume: the formula in use is two such from it."""
    found = sets["american beers"]
    assert found.mean == pytest.approx(0.049, abs=0.005)
    assert 0.6 <= found.within <= 0.8  # of a normal distribution 68 %


def test_of_four_formulas_the_one_in_use_lies_nearest_on_the_mean() -> None:
    """By weight: Tabarié's principle, Balling's own ratio, Cutaia's regression, and the straight line called Balling's."""
    off: dict[str, list[float]] = {"tabarie": [], "ratio": [], "regression": [], "line": []}
    for row in rows("usda1917_beers"):
        original, apparent = _plato(row["wort_sg"]), _plato(row["beer_sg"])
        measured = float(row["alcohol"]) / (0.001222 + float(row["beer_sg"]) * (water.density(15.556) - 0.001222))
        real = {
            "tabarie": beer.real_extract(original, apparent),
            "ratio": original - (original - apparent) / (1.22 + original / 1000),
            "line": beer.real_extract_regression(original, apparent),
        }
        for name, extract in real.items():
            off[name].append(100 * beer.alcohol_by_weight(original, extract) - measured)
        off["regression"].append((original - apparent) * (0.372 + 0.00357 * original) - measured)
    means = {name: fmean(values) for name, values in off.items()}
    assert means == pytest.approx({"tabarie": 0.038, "ratio": 0.072, "regression": 0.079, "line": 0.124}, abs=0.006)
    scatters = {name: fmean((value - means[name]) ** 2 for value in values) ** 0.5 for name, values in off.items()}
    assert max(scatters.values()) - min(scatters.values()) < 0.01  # it is the beers', not the formulas'


def test_beers_sampled_twice_differ_as_much_as_the_formula() -> None:
    """Two beers of one wort: what their differences differ by is the sampling, which no formula can do anything about."""
    by_wort: dict[str, list[float]] = {}
    for row, point in zip(rows("usda1917_beers"), american_beers(), strict=True):
        by_wort.setdefault(row["wort"], []).append(point.difference)
    apart = [abs(a - b) for first, *others in by_wort.values() for a, b in [(first, other) for other in others]]
    assert len(apart) >= 8
    assert max(apart) > 0.15


def test_balling_s_worked_example() -> None:
    """Die Bierbrauerei: a wort of 15.784 %, 5.650 % apparent, 7.585 % real, 4.320 % alcohol by weight."""
    assert 100 * beer.alcohol_by_weight(15.784, 7.585) == pytest.approx(4.320, abs=0.001)
    by_ratio = 15.784 - (15.784 - 5.650) / (1.22 + 15.784 / 1000)
    assert by_ratio == pytest.approx(7.585, abs=0.0015)
    assert beer.real_extract(15.784, 5.650) == pytest.approx(7.656, abs=0.002)
    assert beer.real_extract_regression(15.784, 5.650) == pytest.approx(7.482, abs=0.001)


def test_balling_s_ratio_is_not_constant() -> None:
    """His table gives (OE - RE)/(OE - AE) of 0.815 at 9 % and 0.810 at 16 %; 0.8192 is above all of it."""
    shares: dict[float, list[float]] = {}
    for original, apparent, alcohol in balling_by_difference():
        real = original - alcohol * (2.0665 - 0.010665 * original)
        shares.setdefault(original, []).append((original - real) / (original - apparent))
    found = [fmean(shares[original]) for original in sorted(shares)]
    assert found == sorted(found, reverse=True)
    assert found == pytest.approx([1 / (1.22 + original / 1000) for original in sorted(shares)], abs=0.002)
    assert max(found) < 0.8192


def test_balling_s_losses_by_the_run_off() -> None:
    """750 lb of water in equal fills on 100 lb of malt of 60 lb of extract, 7 of water; 120 lb of wort stay after the first, 100 lb
    after each later one: 3.29 lb of extract lost in two fills, 1.75 lb in three, as printed."""
    for fills, lost in ((2, 3.29), (3, 1.75)):
        left, water_left = 60.0, 7.0
        for number in range(fills):
            kept_wort = 120.0 if number == 0 else 100.0
            whole = water_left + 750.0 / fills
            strength = left / (left + whole)
            # the bed is drained to so much wort; the science's run-off takes it as water to the kg of grain
            kept_water = kept_wort * (1 - strength)
            runnings = mash.run_off([whole], 100.0, kept_water / 100.0, left, 0.0)
            left, water_left = left - runnings[0][1], kept_water
        assert left == pytest.approx(lost, abs=0.005)


def test_weighed_brews_account_for_the_malt() -> None:
    """Brews 6 and 5: extract in the wort and what was left dry make 87 % of the malt; 4 to 8 % was moisture, the rest last runnings,
    trub and yeast. By the beer alone, as printed, 49.0 and 48.3 % went into it."""
    by_brew = {row["brew"]: row for row in rows("steinheil1847_brews")}
    for brew, into_wort, into_beer, dry in (("6", 0.502, 0.490, 0.374), ("5", 0.494, 0.483, 0.365)):
        row = by_brew[brew]
        malt, strength = float(row["malt"]), float(row["extract_percent"])
        wort_pounds = float(row["beer"]) / (1 - 0.00192 * strength)
        assert wort_pounds * strength / 100 / malt == pytest.approx(into_wort, abs=0.0006)
        assert float(row["beer"]) * strength / 100 / malt == pytest.approx(into_beer, abs=0.0006)
        assert spent_grain(row)[1] / malt == pytest.approx(dry, abs=0.0006)
        # litres of the same wort, by the density of sucrose, and back by extract
        litres = wort.volume(wort_pounds * BAVARIAN_POUND, strength)
        assert wort.extract(litres, strength) == pytest.approx(into_wort * malt * BAVARIAN_POUND, rel=0.002)


def test_water_held_by_the_grain() -> None:
    """1.09 to 1.24 kg to the kg of malt, in grain of 75 to 76 % water, as the trade's dictionary has it (75 to 80 %)."""
    held = {row["brew"]: spent_grain(row)[0] / float(row["malt"]) for row in rows("steinheil1847_brews")}
    assert held == pytest.approx({"6": 1.140, "5": 1.088, "3": 1.181, "2": 1.239}, abs=0.001)
    for row in rows("steinheil1847_brews"):
        moist, dry = spent_grain(row)
        assert 0.745 <= moist / (moist + dry) <= 0.80


def test_a_vat_on_a_scale(sets: dict[str, PublishedSet]) -> None:
    """It lost 2.61 %; its gravities account for 2.43 to 2.49 % by the constants of Balling's relation. Water goes with the gas."""
    [lost] = sets["gas lost"].points
    assert lost.measured == pytest.approx(2.612, abs=0.001)
    assert 2.42 <= lost.calculated <= 2.50
    weights = [weight for _, weight in vat()]
    assert weights[-1] - weights[-2] == pytest.approx(0.4, abs=1e-6)
    assert all(later < earlier for earlier, later in pairwise(weights[:-1]))


def test_the_vat_s_course_is_a_logistic(sets: dict[str, PublishedSet]) -> None:
    """Fitted to all weighings: its end within 0.2 degP of the last, its middle between the days that lost most."""
    course = fit_course(recorded_fermentation(batch_of(course_fields(vat_strengths())), Brewery()))
    assert course is not None
    assert float(getattr(course.end, "value", course.end)) == pytest.approx(5.54, abs=0.2)
    assert 2.1 < float(getattr(course.middle, "value", course.middle)) < 3.1


def test_an_ale_cleansed_while_it_falls_has_no_course() -> None:
    """36 lb to the barrel are 0.1 over water's 1: 26.8 down to 10.1 degP, still falling by a degree a day. No end is told of it."""
    falling = [
        (float(row["day"]), wort.plato_from_gravity(1 + float(row["pounds"]) / 360)) for row in rows("ure1839_ale")
    ]
    assert fit_course(recorded_fermentation(batch_of(course_fields(falling)), Brewery())) is None


def test_the_hotter_the_mash_the_less_it_gives_and_the_less_of_it_is_maltose() -> None:
    """Schultze's five malts, and the words the mash's notes use of them."""
    table = rows("schultze1878_mash")
    for malt in "ABCDE":
        mashes = [row for row in table if row["malt"] == malt and row["t_C"] != "65/70"]
        for column, least in (("extract", 0.9), ("maltose", 8.0)):
            values = [float(row[column]) for row in sorted(mashes, key=lambda row: float(row["t_C"]))]
            assert values == sorted(values, reverse=True)
            assert values[0] - values[-1] > least
    shares: dict[str, list[float]] = {}
    for row in table:
        shares.setdefault(row["t_C"], []).append(float(row["maltose"]) / float(row["extract"]))
    assert 0.74 < min(shares["60"]) <= max(shares["60"]) < 0.78
    assert 0.64 < min(shares["65"]) <= max(shares["65"]) < 0.68
    assert 0.54 < min(shares["72.5"]) <= max(shares["72.5"]) < 0.59


def test_the_mash_s_notes_say_what_the_table_has() -> None:
    """The numbers in the notes on a warm and on a hot mash, rounded to whole per cent."""

    def span(at: str, part: Callable[[dict[str, str]], float]) -> str:
        found = [round(part(row)) for row in rows("schultze1878_mash") if row["t_C"] == at]
        return f"{min(found)} to {max(found)} %"

    def note(code: str) -> str:
        batch = batch_of("style: dry\nmash: {rests: [72 degC for 60 min]}")
        journal = Journal(Path(), Brewery(), Malts(), ())
        [found] = [
            each for each in advice_of(batch, figures_of(batch, Brewery(), Malts()), journal, ()) if each.code == code
        ]
        assert "Schultze" in found.source
        return found.reason

    maltose = [span(at, lambda row: 100 * float(row["maltose"]) / float(row["extract"])) for at in ("60", "65", "72.5")]
    told = note("warm-for-dry")
    assert [each in told for each in maltose] == [True, True, True], (maltose, told)
    extract = [span(at, lambda row: float(row["extract"])) for at in ("72.5", "65")]
    told = note("hot-mash")
    assert [each.removesuffix(" %") in told for each in extract] == [True, True], (extract, told)


def test_hot_wort_to_cold() -> None:
    """0.96, 0.97 (Pfisterer & Stanners 1984, abstract) and 0.95 with hops and trub taken off (Barczewski 1893): contraction alone is
    0.9601, so a measured kettle and a measured fermenter need no other factor."""
    cold = water.volume_at_20(1.0, 100.0)
    assert 0.95 <= cold <= 0.97
    assert cold == pytest.approx(0.96, abs=0.002)


def test_days_are_dates() -> None:
    for row in rows("steinheil1847_brews"):
        assert date.fromisoformat(row["brewed"]).year == 1847
