"""From pitching to the glass: what readings and logs give, what they don't, and what is refused or warned of."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
import reckoning
from hypothesis import given
from hypothesis import strategies as st
from texts import batch_of, figures, read

from journal.figures import BatchFigures, figures_of
from journal.figures.beer_gravities import course_within, fit_course
from journal.figures.fermenting import check_fermentation
from journal.figures.poured import recorded_fermentation, why_not_primed
from journal.figures.propagate import nominal
from journal.problems import Source
from journal.reading import Batch, Brewery, Malts
from journal.reading.logs import Log
from journal.science import beer as science

PITCHED = datetime(2026, 4, 11, 18)
WORT = "fermenter: {volume: 20 L, gravity: 1.050, pitched: 2026-04-11 18:00}\n"
#: Days since pitching and gravities of a logistic course from 1.050 to 1.010, rounded as a hydrometer is read.
DAYS = (1.0, 2.0, 3.0, 5.0, 8.0, 12.0)
END, DROP, RATE, MIDDLE = 2.56, 10.3, 1.5, 2.0


def strength(days: np.ndarray) -> np.ndarray:
    return END + DROP / (1 + np.exp(RATE * (np.asarray(days) - MIDDLE)))


def reading(days: float, gravity: str, more: str = "") -> str:
    return f"  - {{at: {PITCHED + timedelta(days=days):%Y-%m-%d %H:%M}, gravity: {gravity}{more}}}\n"


def readings(gravities: dict[float, str]) -> str:
    return "readings:\n" + "".join(reading(days, gravity) for days, gravity in gravities.items())


def course(days: tuple[float, ...] = DAYS) -> str:
    return readings({day: f"{float(reckoning.gravity(strength(np.array(day)))):.4f}" for day in days})


PACKAGE = (
    "package: {on: 2026-04-24, volume: 18.5 L, carbonation: 2.4 volumes, warmest: 20 degC, container: bottles,"
    " priming: {addition: dextrose, weight: 130 g}}\n"
)


def test_the_course_of_an_entry() -> None:
    found = figures(WORT + course())
    assert found["final_gravity_fitted"].value == pytest.approx(1.010, abs=0.0005)
    assert found["peak_rate"].value == pytest.approx(DROP * RATE / 4, rel=0.03)
    # within 0.001, 0.257 °P at 1.010, of the end: M + ln(drop/0.257 - 1)/B
    assert found["days_to_final"].value == pytest.approx(MIDDLE + np.log(DROP / 0.257 - 1) / RATE, abs=0.1)
    assert found["gravity_level_for"].value == pytest.approx(7.0)
    for name in ("final_gravity_fitted", "peak_rate", "days_to_final"):
        assert 0 < found[name].sd < 0.2 * found[name].value


def test_the_uncertainty_of_the_fitted_end_by_drawing_readings() -> None:
    """As when the hydrometer errs anew each time; 150 draws know a standard deviation to 6 %."""
    rng = np.random.default_rng(5)
    true = {day: float(reckoning.gravity(strength(np.array(day)))) for day in DAYS}
    drawn = []
    for _ in range(150):
        entry = readings({day: f"{sg + rng.normal(0, 0.001):.5f}" for day, sg in true.items()})
        drawn.append(figures(WORT + entry)["final_gravity_fitted"])
    spread = float(np.std([result.value for result in drawn]))
    assert float(np.median([result.sd for result in drawn])) == pytest.approx(spread, rel=0.25)
    inside = [abs(result.value - 1.010) < 1.645 * result.sd for result in drawn]
    assert 0.83 <= np.mean(inside) <= 0.97


def test_the_band_about_a_course() -> None:
    """At its end it is the fitted final gravity's; where the readings lie it is narrower than one of them."""
    fit = fit_course(recorded_fermentation(batch_of(WORT + course()), Brewery()))
    assert fit is not None
    end = figures(WORT + course())["final_gravity_fitted"]
    *seen, last = course_within(fit, [0.0, *DAYS, 1000.0])
    assert last == pytest.approx((end.value, end.sd), rel=1e-6)
    for days, (gravity, sd) in zip((0.0, *DAYS), seen, strict=True):
        assert gravity == pytest.approx(float(reckoning.gravity(strength(np.array(days)))), abs=3 * sd)
        assert 0.0 < sd < 0.0012


def test_the_band_about_a_course_by_drawing_its_four_numbers() -> None:
    """4,000 draws know a standard deviation to 1.1 %; to first order, as the draws are small."""
    fit = fit_course(recorded_fermentation(batch_of(WORT + course()), Brewery()))
    assert fit is not None
    tags = sorted({tag for number in fit for tag in getattr(number, "parts", {})})
    draws = np.random.default_rng(6).normal(0, 0.1, (4000, len(tags)))
    parts = np.array([[number.parts.get(tag, 0.0) for tag in tags] for number in fit])
    end, drop, rate, middle = (draws @ parts.T + [nominal(number) for number in fit]).T
    days = [0.0, 1.0, 2.0, 4.0, 12.0]
    for day, (_, sd) in zip(days, course_within(fit, days), strict=True):
        drawn = reckoning.gravity(end + drop / (1.0 + np.exp(rate * (day - middle))))
        assert sd == pytest.approx(10.0 * float(np.std(drawn)), rel=0.05)


@pytest.mark.parametrize(
    ("fields", "wanting"),
    [
        (WORT + course(DAYS[:4]), "readings[4].gravity"),
        (WORT + course((0.5, 0.8, 1.0, 1.2, 1.4)), "readings[5].gravity"),
        (WORT.replace(", pitched: 2026-04-11 18:00", "") + course(), "fermenter.pitched"),
        (WORT, "readings[4].gravity"),
    ],
)
def test_what_is_wanting_for_a_course(fields: str, wanting: str) -> None:
    found = figures(fields)
    for name in ("final_gravity_fitted", "peak_rate", "days_to_final"):
        assert found.wanting[name] == (wanting,)


def test_level_takes_two_readings() -> None:
    assert figures(WORT).wanting["gravity_level_for"] == ("readings[0].gravity",)
    assert figures(WORT + readings({9: "1.010"})).wanting["gravity_level_for"] == ("readings[1].gravity",)
    assert figures(WORT + readings({9: "1.010", 12: "1.010"}))["gravity_level_for"].value == pytest.approx(3.0)
    # no pitching is needed to count the days between two readings
    bare = figures(readings({9: "1.010", 12: "1.010"}))
    assert bare["gravity_level_for"].value == pytest.approx(3.0)


def test_a_refractometer_s_reading_of_beer_and_its_uncertainty() -> None:
    """S. Terrill's cubic (2011), from °Bx divided by 1.04; correlations in print differ by 0.002 at least."""
    found = figures("fermenter: {gravity: 12.48 °Bx}\nreadings: [{at: 2026-04-24 20:00, gravity: 6.24 °Bx}]")
    assert found["final_gravity"].value == pytest.approx(1.01168, abs=1e-5)
    assert found["final_gravity"].sd > 0.002


def test_of_one_day_a_hydrometer_s_reading_is_the_last() -> None:
    for order in (("1.012", "6.3 °Bx"), ("6.3 °Bx", "1.012")):
        found = figures(WORT + readings(dict(zip((9.0, 9.1), order, strict=True))))
        assert found["final_gravity"].value == 1.012
    # a later day's reading is news
    later = figures(WORT + readings({3.0: "1.030", 9.0: "6.0 °Bx"}))
    assert later["final_gravity"].value < 1.02


def test_the_refractometer_s_own_error_is_one_and_the_same_from_look_to_look() -> None:
    """A correlation that is off by 0.002 is off at both: that the gravity stands still is known better than where."""
    batch = batch_of(WORT + readings({9.0: "6.2 °Bx", 12.0: "6.2 °Bx"}) + PACKAGE)
    looks = recorded_fermentation(batch, Brewery()).gravities
    assert all(look.sd < 0.001 for look in looks)
    assert all(look.gravity.sd > 0.002 for look in looks)
    assert why_not_primed(batch, Brewery()) is None


def test_refractometer_readings_too_early_to_understand_are_in_no_course() -> None:
    """Beer with an apparent attenuation below 61 %: there the correlation fails (S. Terrill, 2011)."""
    batch = batch_of(WORT + readings({1.0: "12.0 °Bx", 2.0: "9.5 °Bx", 9.0: "6.2 °Bx"}))
    assert [look.path for look in recorded_fermentation(batch, Brewery()).gravities] == ["readings[2].gravity"]


def logger(minutes: np.ndarray, gravity: np.ndarray, start: datetime | None = PITCHED) -> Log:
    return Log(Source("log.csv", ""), start, minutes, None, gravity, np.arange(len(minutes)) + 2)


def with_log(fields: str, log: Log) -> Batch:
    return replace(batch_of(fields), fermentation_log=log)


def of_log(fields: str, log: Log) -> BatchFigures:
    return figures_of(with_log(fields, log), Brewery(), Malts())


def drifting(count: int, seed: int, offset: float = 0.0) -> Log:
    """A float's gravities, rough by 0.001, with bubbles now and then, and all of them off alike."""
    rng = np.random.default_rng(seed)
    minutes = np.sort(rng.uniform(0, 12 * 1440, count))
    gravity = reckoning.gravity(strength(minutes / 1440)) + rng.normal(0, 0.001, count) + offset
    gravity[rng.random(count) < 0.02] += 0.02
    gravity[rng.random(count) < 0.05] = np.nan
    return logger(minutes, gravity)


def test_the_course_of_a_log() -> None:
    found = of_log(WORT, drifting(5000, 1, offset=0.0015))
    assert found["final_gravity_fitted"].value == pytest.approx(1.0115, abs=0.0005)
    # nothing says how far the float is off
    assert found["final_gravity_fitted"].sd == pytest.approx(0.002, rel=0.1)
    assert found["peak_rate"].value == pytest.approx(DROP * RATE / 4, rel=0.05)
    assert found["gravity_level_for"].value > 3.0


def test_a_hydrometer_sets_a_log_right() -> None:
    found = of_log(WORT + readings({9.0: "1.010", 11.0: "1.010"}), drifting(5000, 1, offset=0.004))
    assert found["final_gravity_fitted"].value == pytest.approx(1.010, abs=0.0006)
    assert found["final_gravity_fitted"].sd == pytest.approx(0.001 / 2**0.5, rel=0.3)
    assert found["final_gravity"].value == 1.010


def test_readings_by_hand_where_there_are_enough_win_over_a_log() -> None:
    by_hand = figures(WORT + course())["final_gravity_fitted"]
    assert of_log(WORT + course(), drifting(5000, 1, offset=0.02))["final_gravity_fitted"] == by_hand


def test_a_log_of_a_hundred_thousand_rows_says_what_a_thinner_one_does() -> None:
    many, few = (of_log(WORT, drifting(rows, 2))["final_gravity_fitted"] for rows in (100_000, 5_000))
    assert many.value == pytest.approx(few.value, abs=0.001)


def test_a_log_without_gravities_changes_nothing() -> None:
    log = logger(np.arange(100.0), np.full(100, np.nan))
    assert of_log(WORT, log).wanting == figures(WORT).wanting
    before_pitching = logger(np.arange(100.0), np.full(100, 1.05), PITCHED - timedelta(days=2))
    assert of_log(WORT, before_pitching).wanting == figures(WORT).wanting


def test_the_account_ends_in_the_glass() -> None:
    """The fermenter's extract is what stayed behind, what fermented and what is in the package."""
    found = figures(WORT + course() + PACKAGE)
    parts = [found[name].value for name in ("fermenter_left_extract", "fermented_extract", "packaged_extract")]
    assert sum(parts) == pytest.approx(found["fermenter_extract"].value, rel=1e-12)
    assert min(parts) > 0
    assert found["package_loss"].value == pytest.approx(1.5)
    assert found["packaged_share"].value == pytest.approx(0.925)
    # of what was packaged, that share fermented
    packaged = found["fermented_extract"].value + found["packaged_extract"].value
    real = 1 - found["packaged_extract"].value / packaged
    # beer weighs less than its wort: carbon dioxide and yeast are gone
    assert real == pytest.approx(found["real_attenuation"].value, abs=0.02)


def test_rdf_and_energy_of_a_beer() -> None:
    """1.050 to 1.010, by the straight line for real extract: RDF 66.5 %, 45.7 kcal in 100 g (reckoned apart).

    By Tabarié's principle its real extract is 0.15 °P higher, which is 1.2 points and 0.4 kcal.
    """
    found = figures("fermenter: {gravity: 1.050}\nreadings: [{at: 2026-04-24, gravity: 1.010}]")
    assert found["real_degree_of_fermentation"].value == pytest.approx(0.665, abs=0.015)
    assert found["energy"].value == pytest.approx(45.7 * 1.010, abs=0.5)
    assert found["energy"].value == pytest.approx(
        science.energy(found["alcohol_by_weight"].value, found["real_extract"].value, 1.010)
    )


def test_priming_by_hand() -> None:
    """2.4 volumes are 2.4 x 1.977 g/L; at 20 °C 0.92 x 1.698 g/L are there; dextrose gives 0.4442 g of gas to the gram."""
    found = figures(WORT + course() + PACKAGE)
    there = 0.92 * 1.698
    assert found["residual_carbonation"].value == pytest.approx(there, rel=1e-3)
    assert found["priming_sugar"].value == pytest.approx((2.4 * 1.977 - there) * 18.5 / 0.4442 / 1000, rel=1e-3)
    assert found["carbonation"].value == pytest.approx(there + 130 * 0.4442 / 18.5, rel=1e-3)
    assert found["residual_carbonation"].sd >= 0.1 * there


@pytest.mark.parametrize(
    ("old", "new", "wanting"),
    [
        ("container: bottles, ", "", "package.container"),
        (", carbonation: 2.4 volumes", "", "package.carbonation"),
        (", warmest: 20 degC", "", "package.warmest"),
        (", volume: 18.5 L", "", "package.volume"),
        ("addition: dextrose, ", "", "package.priming.addition"),
        ("dextrose", "candied fruit", "package.priming.addition"),
    ],
)
def test_what_is_wanting_for_the_sugar(old: str, new: str, wanting: str) -> None:
    found = figures(WORT + course() + PACKAGE.replace(old, new))
    assert wanting in "; ".join(found.wanting["priming_sugar"])


def test_no_sugar_for_a_beer_that_still_ferments() -> None:
    fields = WORT + readings({5.0: "1.016", 8.0: "1.013", 9.0: "1.012"}) + PACKAGE
    found = figures(fields)
    assert "two gravities three days apart that agree" in found.wanting["priming_sugar"][0]
    assert "carbonation" in found.results, "what was given is still reckoned"


def problems(fields: str) -> list[tuple[str, str]]:
    return [(problem.code, problem.path) for problem in check_fermentation(batch_of(fields), Brewery())]


def test_a_gravity_that_rises() -> None:
    assert problems(WORT + readings({2: "1.030", 3: "1.034", 9: "1.010"})) == [("gravity-rises", "readings[1].gravity")]
    assert problems(WORT + readings({2: "1.054"})) == [("gravity-rises", "readings[0].gravity")]
    # one low reading is one cause, told once, the low one beside it
    low = readings({2: "1.030", 3: "1.002", 4: "1.020", 9: "1.010"})
    (found,) = check_fermentation(batch_of(WORT + low), Brewery())
    assert found.path == "readings[2].gravity"
    assert found.expected_by is not None
    assert found.expected_by.path == "readings[1].gravity"


def test_a_gravity_that_rises_within_its_uncertainty_does_not() -> None:
    # twice the uncertainty of a difference of two readings of 0.001 is 0.0028
    assert problems(WORT + readings({7: "1.010", 9: "1.0125"})) == []
    assert problems(WORT + readings({7: "1.010", 9: "1.0129"})) == [("gravity-rises", "readings[1].gravity")]
    assert problems(WORT + readings({7: "1.010 ± 0.003", 9: "1.015"})) == []


def test_sugar_in_a_beer_that_may_not_be_done() -> None:
    unready = WORT + readings({5.0: "1.016", 9.0: "1.012"}) + PACKAGE
    assert problems(unready) == [("priming-unready", "package.priming")]
    (told,) = check_fermentation(batch_of(unready), Brewery())
    assert "1.016 was read 4 days before the last, 1.012" in told.message
    assert problems(WORT + PACKAGE) == [("priming-unready", "package.priming")]
    assert problems(WORT + course() + PACKAGE) == []
    # sugar that is only planned, and a package that is told of elsewhere
    assert problems(unready.replace(", weight: 130 g", "")) == []
    assert problems(unready.replace(" container: bottles,", "")) == []


def test_to_a_gravity_of_a_day_days_are_counted_by_the_calendar() -> None:
    # read on the 21st at 06:00 and at 19:00; of the packaging no hour is stated
    for days in (9.5, 10 + 1 / 24):
        fields = WORT + readings({days: "1.010"}) + "package: {on: 2026-04-24, gravity: 1.010, container: bottles}"
        assert why_not_primed(batch_of(fields), Brewery()) is None
        short = why_not_primed(batch_of(fields.replace("2026-04-24", "2026-04-23")), Brewery())
        assert "three days or more apart" in (short or "")
    # with both hours stated it is the hours that count, and two dates are as far apart as they say
    hours = "readings: [{at: 2026-04-21 19:00, gravity: 1.010}, {at: 2026-04-24 18:00, gravity: 1.010}]\n"
    kept = "package: {container: bottles}"
    assert "three days or more apart" in (why_not_primed(batch_of(WORT + hours + kept), Brewery()) or "")
    dates = hours.replace(" 19:00", "").replace(" 18:00", "")
    assert why_not_primed(batch_of(WORT + dates + kept), Brewery()) is None
    near = dates.replace("04-24", "04-23")
    assert "three days or more apart" in (why_not_primed(batch_of(WORT + near + kept), Brewery()) or "")
    undated = fields.replace("on: 2026-04-24, ", "")
    assert "three days or more apart" in (why_not_primed(batch_of(undated), Brewery()) or "")


gravities = st.sampled_from(
    ["1.050", "1.010", "0.980", "1.200", "12 °P", "-2 °P", "60 °P", "8 °Bx", "60 °Bx", "1.010 at 100 degC"]
)


@given(gravities, st.lists(st.tuples(st.floats(-3, 30), gravities), max_size=7))
def test_any_readings_give_figures_or_what_is_wanting(original: str, seen: list[tuple[float, str]]) -> None:
    fields = WORT.replace("gravity: 1.050", f"gravity: {original}") + readings(dict(seen) or {1.0: "1.040"}) + PACKAGE
    batch, _ = read(fields)
    assert batch is not None
    found = figures_of(batch, Brewery(), Malts())
    for name in ("final_gravity_fitted", "peak_rate", "days_to_final", "gravity_level_for", "priming_sugar"):
        assert (name in found.results) != (name in found.wanting)
        if name in found.results:
            assert np.isfinite([found[name].value, found[name].sd]).all()
    assert len(list(check_fermentation(batch, Brewery()))) <= len(seen) + 2
