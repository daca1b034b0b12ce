"""What a logger's course says of a mash, against integrals that know nothing of crossings."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import integrate
from texts import batch_of

from journal.figures import BatchFigures, figures_of
from journal.figures.logged_mash import (
    MashAim,
    MashCourse,
    course_of,
    logged_mash_of,
    minutes_between,
    rests,
    stretches_above,
)
from journal.figures.observe import observe
from journal.figures.uncertain import ErrorSource
from journal.figures.working import working_of
from journal.problems import Source
from journal.reading import Batch, Brewery, Malts, read_brewery
from journal.reading.logs import Log, read_log

#: A step mash by its corners: min, °C. Mashed in at 52, 66 and 72 after a minute a kelvin, a mash-out, and the run-off.
STEPS = [(0, 20), (2, 52), (12, 52), (26, 66), (76, 64), (84, 72), (99, 72), (105, 78), (120, 77), (150, 74), (180, 30)]
RESTS = "mash: {rests: [52 degC for 10 min, 66 degC for 60 min, 72 degC for 15 min]}"


def course(corners: list[tuple[float, float]]) -> MashCourse:
    minutes, temperature = np.array(corners, dtype=float).T
    return MashCourse(minutes, temperature)


def log_of(corners: list[tuple[float, float]]) -> Log:
    text = "time (min),temperature (degC)\n" + "".join(f"{minute},{degrees}\n" for minute, degrees in corners)
    log, problems = read_log(Source("entries/mash.csv", text), ("temperature",))
    assert log is not None, problems
    return log


def logged(
    corners: list[tuple[float, float]], fields: str = "mash: {}", brewery: Brewery | None = None
) -> BatchFigures:
    batch: Batch = replace(batch_of(fields), mash_log=log_of(corners))
    return figures_of(batch, brewery or Brewery(), Malts())


def by_small_steps(corners: list[tuple[float, float]], low: float, high: float, end: float) -> float:
    """Minutes in a range by looking every fifth of a second."""
    grid = np.arange(0.0, end, 1 / 300)
    degrees = np.interp(grid, *np.array(corners, dtype=float).T)
    return float(np.sum((degrees >= low) & (degrees <= high)) / 300)


@pytest.mark.parametrize(
    ("enzyme", "low", "high"),
    [("beta_glucanase", 36, 45), ("protease", 46, 57), ("beta_amylase", 54, 66), ("alpha_amylase", 68, 75)],
)
def test_minutes_in_a_range(enzyme: str, low: float, high: float) -> None:
    # from 72 at 99 min to 78 at 105 min: 75 °C is passed at 102 min, and what cools again later is past its work
    found = logged(STEPS)[f"minutes_{enzyme}"]
    assert found.value == pytest.approx(by_small_steps(STEPS, low, high, 102.0), abs=0.02)


def test_time_and_mean_temperature() -> None:
    """From 40 °C, at 1.25 min, to 75 °C, at 102 min; the mean by scipy's trapezoids over a fine grid."""
    found = logged(STEPS)
    grid = np.linspace(1.25, 102.0, 200_001)
    degrees = np.interp(grid, *np.array(STEPS, dtype=float).T)
    assert found["mash_time"].value == pytest.approx(100.75)
    assert found["mash_temperature"].value == pytest.approx(integrate.trapezoid(degrees, grid) / 100.75, abs=1e-4)


def test_the_longest_rest_and_its_drift() -> None:
    """From 66 to 64 °C in 50 min is 2.4 K in an hour; it is reached 24 min after 40 °C."""
    found = logged(STEPS)
    assert found["mash_drift"].value == pytest.approx(-2.4, abs=0.3)
    assert found["mash_heating"].value == pytest.approx(26.0 - 1.25, abs=2.5)


def test_the_log_wins_and_the_rests_stand_in() -> None:
    by_rests = figures_of(batch_of(RESTS), Brewery(), Malts())
    assert by_rests["mash_time"].value == 85.0
    assert by_rests["mash_temperature"].value == pytest.approx((52 * 10 + 66 * 60 + 72 * 15) / 85)
    assert by_rests["minutes_beta_amylase"].value == 60.0
    both = logged(STEPS, RESTS)
    assert both["mash_time"].value == pytest.approx(100.75)
    assert both["minutes_beta_amylase"].value != 60.0
    assert "mash_overshoot" not in by_rests.results
    assert by_rests.wanting["mash_overshoot"] == ("mash.log",)
    assert logged(STEPS).wanting["mash_overshoot"] == ("mash.rests",)


def test_a_mash_out_is_left_aside_in_rests_too() -> None:
    found = figures_of(
        batch_of("mash: {rests: [38 degC for 5 min, 67 degC for 50 min, 76 degC for 10 min]}"), Brewery(), Malts()
    )
    assert (found["mash_time"].value, found["mash_temperature"].value) == (50.0, 67.0)


@pytest.mark.parametrize("edge", [40, 75])
def test_a_rest_at_an_edge_makes_no_leap(edge: float) -> None:
    found = figures_of(batch_of(f"mash: {{rests: [{edge} degC for 20 min, 66 degC for 50 min]}}"), Brewery(), Malts())
    assert found["mash_time"].sd < 2.0
    assert found["mash_temperature"].sd < 1.0


def test_what_is_wanting_is_the_rests() -> None:
    found = figures_of(batch_of("mash: {liquor: 12 L}"), Brewery(), Malts())
    for name in ("mash_time", "mash_temperature", "minutes_beta_amylase"):
        assert found.wanting[name] == ("mash.rests",)


def test_the_thermometer_errs_in_all_rests_alike() -> None:
    found = figures_of(batch_of(RESTS), Brewery(), Malts())["mash_temperature"]
    assert dict(found.parts)[ErrorSource("instruments.thermometer")] == pytest.approx(0.5)
    own = batch_of("mash: {rests: [60 ± 0.2 degC for 30 min, 70 ± 0.2 degC for 30 min]}")
    parts = dict(figures_of(own, Brewery(), Malts())["mash_temperature"].parts)
    assert [parts[ErrorSource(f"mash.rests[{rest}].temperature")] for rest in (0, 1)] == pytest.approx([0.1, 0.1])
    assert ErrorSource("instruments.thermometer") not in parts


def test_at_the_edge_of_a_range_minutes_are_as_uncertain_as_the_thermometer_makes_them() -> None:
    """An hour at 66.0 °C, where the range ends: half a kelvin more, and none of it is inside."""
    edge = logged([(0, 20), (1, 66), (61, 66), (62, 20)])["minutes_beta_amylase"]
    middle = logged([(0, 20), (1, 60), (61, 60), (62, 20)])["minutes_beta_amylase"]
    assert edge.sd > 50.0
    assert middle.sd < 0.1


def test_overshoot_is_of_the_first_rest_as_stated() -> None:
    corners = [(0, 20), (2, 65), (8, 68.4), (15, 66), (60, 65.5), (70, 30)]
    found = logged(corners, "mash: {rests: [66 degC for 60 min]}")
    assert found["mash_overshoot"].value == pytest.approx(2.4)
    assert found["mash_overshoot"].sd == pytest.approx(0.5)
    below = logged([(0, 20), (2, 63), (60, 62), (70, 30)], "mash: {rests: [66 degC for 60 min]}")
    assert below["mash_overshoot"].value == pytest.approx(-3.0)
    # a later rest is not an overshoot of the first
    assert logged(STEPS, RESTS)["mash_overshoot"].value == pytest.approx(0.0, abs=0.1)


def test_strike_liquor_that_was_logged_before_the_grist_is_no_mash() -> None:
    corners = [(0, 15), (60, 73), (80, 73), (82, 66.5), (142, 66), (150, 76), (160, 76)]
    stated = logged(corners, "mash: {strike: 73 degC}")
    assert stated["mash_time"].value == pytest.approx(149.2 - 80.3, abs=0.5)
    assert stated["mash_temperature"].value == pytest.approx(66.4, abs=0.4)
    # a mash-out as hot as the strike comes after a rest, and is none of it
    later = logged(STEPS, "mash: {strike: 58 degC}")
    assert later["mash_time"].value == pytest.approx(100.75)
    assert logged(STEPS, "mash: {strike: 72 degC}")["mash_time"].value == pytest.approx(100.75)


@pytest.mark.parametrize("cooling", [2, 40])
def test_without_a_mash_out_the_mash_ends_with_its_last_rest(cooling: float) -> None:
    """From 40 °C, half a minute after the start, to where an hour at 66 °C is left; a probe out of it or a bed that cools."""
    found = logged([(0, 26), (1, 54), (2, 66), (62, 66), (62 + cooling, 30)])
    assert found["mash_time"].value == pytest.approx(61.5, abs=1.2)
    assert found["mash_temperature"].value == pytest.approx(66.0, abs=0.3)
    assert found["minutes_protease"].value == pytest.approx(8 / 28 + 3 / 12, abs=0.01)


def test_a_moment_over_the_mash_out_is_none() -> None:
    corners = [(0, 20), (2, 74), (3, 76), (4, 74), (10, 67), (70, 66), (80, 30)]
    assert logged(corners)["mash_time"].value > 60.0


def test_a_log_that_never_was_warm_or_has_one_reading() -> None:
    cold = logged([(0, 20), (60, 21)])
    assert cold.wanting["mash_drift"] == ("mash.log",)
    assert cold.wanting["mash_time"] == ("mash.rests",)
    assert logged_mash_of(course([(0, 20), (10, 39)]), MashAim(), 0.5) is None
    assert course_of(log_of([(0, 66)])) is None


def test_gaps_are_bridged_and_nan_is_passed_over() -> None:
    log = log_of(STEPS)
    assert log.temperature is not None
    minutes = np.insert(log.minutes, 3, 13.0)
    holed = replace(log, minutes=minutes, temperature=np.insert(log.temperature, 3, np.nan))
    whole, found = course_of(log), course_of(holed)
    assert whole is not None
    assert found is not None
    assert np.array_equal(whole.minutes, found.minutes)


def test_a_drift_is_told_to_what_its_scatter_allows() -> None:
    chance = np.random.default_rng(7)
    inside = 0
    for _ in range(100):
        minutes = np.arange(0.0, 61.0, 1.0)
        # noise that lasts about ten minutes, as currents in a tun do
        noise = np.convolve(chance.normal(0, 0.2, 70), np.ones(10) / 10**0.5, mode="valid")
        seen = logged_mash_of(MashCourse(minutes, 66.0 - 2.0 * minutes / 60.0 + noise), MashAim(), 0.5)
        assert seen is not None
        if seen.drift is None:
            continue
        inside += abs(seen.drift[0] + 2.0) < 2.0 * seen.drift[1]
    assert inside >= 80


@pytest.mark.parametrize("seed", range(20))
def test_any_course_against_small_steps(seed: int) -> None:
    chance = np.random.default_rng(seed)
    corners = list(zip(np.cumsum(chance.uniform(0.2, 9, 30)), np.round(chance.uniform(30, 80, 30)), strict=True))
    low, high = sorted(chance.uniform(30, 80, 2))
    found = minutes_between(course(corners), low, high)
    grid = np.linspace(corners[0][0], corners[-1][0], 400_001)
    degrees = np.interp(grid, *np.array(corners).T)
    assert found == pytest.approx(
        integrate.trapezoid(((degrees >= low) & (degrees <= high)).astype(float), grid), abs=0.02
    )
    above = stretches_above(course(corners), high)
    assert float(np.sum(above[:, 1] - above[:, 0])) == pytest.approx(
        integrate.trapezoid((degrees >= high).astype(float), grid), abs=0.02
    )


def test_ranges_that_share_an_edge_add_up() -> None:
    whole = minutes_between(course(STEPS), 40.0, 80.0)
    parts = [minutes_between(course(STEPS), low, low + 4.0) for low in range(40, 80, 4)]
    # level stretches at an edge, 52 °C for 10 and 72 °C for 15 min, count on both sides
    assert sum(parts) == pytest.approx(whole + 10.0 + 15.0)


def test_rests_are_where_little_moves() -> None:
    found = rests(course(STEPS)).tolist()
    starts = [start for start, _ in found]
    assert starts[:3] == pytest.approx([2.0, 26.0, 84.0], abs=3.0)


def test_a_hundred_thousand_rows_are_read_at_once() -> None:
    minutes = np.linspace(0.0, 150.0, 100_000)
    degrees = np.interp(minutes, *np.array(STEPS, dtype=float).T)
    log = replace(log_of(STEPS), minutes=minutes, temperature=degrees)
    batch = replace(batch_of(RESTS), mash_log=log)
    found = figures_of(batch, Brewery(), Malts())
    assert found["mash_time"].value == pytest.approx(100.75, abs=0.01)


@pytest.mark.parametrize("name", ["minutes_beta_amylase", "mash_time", "mash_overshoot", "mash_drift", "mash_heating"])
def test_the_working_names_the_log(name: str) -> None:
    batch = replace(batch_of(RESTS), mash_log=log_of(STEPS))
    found = figures_of(batch, Brewery(), Malts())
    working = working_of(name, found, observe(batch, Brewery(), Malts()))
    assert working is not None
    assert "log" in working.formula
    assert "{" not in working.formula + working.numbers
    assert any("log" in term.label for term in working.terms)


def test_a_better_thermometer_makes_a_better_mean(tmp_path_factory: pytest.TempPathFactory) -> None:
    root = tmp_path_factory.mktemp("brewery")
    (root / "entries").mkdir()
    (root / "entries" / "brewery.yaml").write_text("instruments: {thermometer: 0.1 degC}\n")
    brewery, _ = read_brewery(root)
    assert logged(STEPS, brewery=brewery)["mash_temperature"].sd == pytest.approx(0.1)
