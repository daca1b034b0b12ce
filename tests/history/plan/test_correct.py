"""Off target on the day: remedies worked by hand in kg of water and extract, and belief against the whole balance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from history.plan.planned import KNOWN, PALE, entry_of, figures
from hypothesis import given, settings
from hypothesis import strategies as st
from texts import batch_of

from journal.balance import Priors
from journal.balance.equations import build_model
from journal.balance.foresee import foresee
from journal.balance.model import solve
from journal.balance.vessels import BrewState
from journal.history.plan import (
    BOIL,
    DILUTE,
    KETTLE,
    KNOCKOUT,
    MALT_EXTRACT,
    SUCROSE,
    Aim,
    Correction,
    Plan,
    Range,
    Remedy,
    correct,
    correction_table,
    forecast_of,
    make_plan,
    round_remedy,
    target_of,
)
from journal.numerics import Estimate
from journal.reading import Batch

AIM = Aim(1.050, 20.0, 3.0, 1.0)
PLAN = make_plan(AIM, PALE, KNOWN)
assert isinstance(PLAN, Plan)
BATCH = entry_of(PLAN, AIM, "target: {gravity: 1.050, volume: 20 L}")
#: Readings so good that they are believed.
SURE_SD = 1e-6
#: kg of water in a litre at 20 °C (IAPWS-95).
WATER = 0.998207


def density(strength: float) -> float:
    """kg/L at 20 °C of sucrose in water.

    Quadratic through the CRC Handbook's values at 10, 12 and 14 per cent by weight (1.0381, 1.0465, 1.0549), from 9 to 15.
    """
    return 1.0381 + 0.0042 * (strength - 10)


def plato(gravity: float) -> float:
    """°P of an SG 20/20 by the ASBC table's cubic, from memory."""
    return -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3


def water_and_extract(volume: float, gravity: float) -> tuple[float, float]:
    """kg of each in L at 20 °C."""
    strength = plato(gravity)
    mass = volume * density(strength)
    return mass * (1 - strength / 100), mass * strength / 100


def corrected(
    place: str, gravity: float | None, volume: float | None, sd: tuple[float, float] = (SURE_SD, SURE_SD)
) -> Correction:
    found = correct(
        BATCH,
        figures(BATCH),
        KNOWN,
        place,
        None if gravity is None else Estimate(gravity, sd[0]),
        None if volume is None else Estimate(volume, sd[1]),
    )
    assert found is not None
    return found


def kinds(found: Correction) -> set[str]:
    return {remedy.kind for remedy in found.remedies}


def inside(found: Range) -> bool:
    return found.low <= found.recorded <= found.high


def remedy(found: Correction, kind: str) -> Remedy:
    return next(remedy for remedy in found.remedies if remedy.kind == kind)


# -- remedies, worked by hand


def test_water_at_knockout_worked_by_hand() -> None:
    """22 L at 1.054 (13.32 °P): 23.15 kg, 3.084 kg of it extract, which at 12.39 °P (1.050) is 24.90 kg: 1.74 kg of water."""
    water, extract = water_and_extract(22.0, 1.054)
    wanted = extract / (plato(1.050) / 100)
    found = corrected(KNOCKOUT, 1.054, 22.0)
    assert remedy(found, DILUTE).amount == pytest.approx((wanted - water - extract) / WATER, abs=0.02)
    assert remedy(found, DILUTE).knockout_volume == pytest.approx(wanted / density(plato(1.050)), abs=0.02)
    # nothing but the kettle's loss of 1.3 L is on the way
    assert remedy(found, DILUTE).fermenter_volume == pytest.approx(
        remedy(found, DILUTE).knockout_volume - 1.3, abs=0.01
    )
    assert remedy(found, DILUTE).original_gravity == pytest.approx(1.050, abs=1e-6)
    assert found.original_gravity.value == pytest.approx(1.054, abs=1e-5)
    assert found.fermenter_volume == pytest.approx(20.7, abs=0.01)
    assert BOIL not in kinds(found)
    assert MALT_EXTRACT not in kinds(found)
    assert SUCROSE not in kinds(found)


def test_extract_and_sugar_at_knockout_worked_by_hand() -> None:
    """22 L at 1.046: water w and extract e; m kg that are a share a extract: (e + a m) / (w + e + m) = 0.1239.

    Dried malt extract is 95 % extract (common practice), sucrose all of it.
    """
    water, extract = water_and_extract(22.0, 1.046)
    share = plato(1.050) / 100
    found = corrected(KNOCKOUT, 1.046, 22.0)
    assert remedy(found, MALT_EXTRACT).amount == pytest.approx(
        (share * (water + extract) - extract) / (0.95 - share), abs=0.003
    )
    assert remedy(found, SUCROSE).amount == pytest.approx(
        (share * (water + extract) - extract) / (1 - share), abs=0.003
    )
    # a kg of dissolved sucrose takes up 0.62 L: (1/1.0381 - 0.9/0.9982)/0.1, from the CRC Handbook's densities
    assert remedy(found, SUCROSE).knockout_volume == pytest.approx(
        22.0 + 0.62 * remedy(found, SUCROSE).amount, abs=0.01
    )
    assert remedy(found, SUCROSE).original_gravity == pytest.approx(1.050, abs=1e-6)
    assert DILUTE not in kinds(found)


def test_boiling_down_worked_by_hand() -> None:
    """25 L at 1.041 in the kettle, 3.4 L/h: boil until the extract is 12.39 % of what is left.

    An hour as planned drives off 3.394 kg of water.
    """
    water, extract = water_and_extract(25.0, 1.041)
    left = extract / (plato(1.050) / 100)
    minutes = 60 * (water + extract - left) / (3.4 * WATER)
    found = corrected(KETTLE, 1.041, 25.0)
    assert minutes > 65
    assert remedy(found, BOIL).amount == pytest.approx(minutes, abs=1.0)
    assert remedy(found, BOIL).knockout_volume == pytest.approx(left / density(plato(1.050)), abs=0.02)
    nothing = 100 * extract / (water + extract - 3.4 * WATER)
    assert plato(found.original_gravity.value) == pytest.approx(nothing, abs=0.01)


def test_a_strong_kettle_boils_shorter_or_gets_water() -> None:
    water, extract = water_and_extract(24.0, 1.046)
    left = extract / (plato(1.050) / 100)
    found = corrected(KETTLE, 1.046, 24.0)
    assert remedy(found, BOIL).amount == pytest.approx(60 * (water + extract - left) / (3.4 * WATER), abs=1.0)
    assert remedy(found, BOIL).amount < 60
    assert remedy(found, DILUTE).amount == pytest.approx(3.4 * (1 - remedy(found, BOIL).amount / 60), abs=0.01)
    assert remedy(found, BOIL).fermenter_volume == pytest.approx(remedy(found, DILUTE).fermenter_volume, abs=1e-6)


def test_no_boil_is_too_short_to_mend_a_kettle_that_is_past_the_target() -> None:
    assert BOIL not in kinds(corrected(KETTLE, 1.053, 24.0))


def test_sugar_and_water_that_join_later_are_reckoned_with() -> None:
    """3 L of water wait for the fermenter and 0.45 kg of extract for the kettle: with them the wort lands on 1.055."""
    aim = Aim(1.055, 20.0, 3.0, 1.0, sugar=0.45, kettle_water=0.05, fermenter_water=3.0 * WATER)
    plan = make_plan(aim, PALE, KNOWN)
    assert isinstance(plan, Plan)
    batch = entry_of(plan, aim, "target: {gravity: 1.055}")
    found = correct(
        batch, figures(batch), KNOWN, KETTLE, Estimate(plan.kettle.gravity, SURE_SD), Estimate(26.0, SURE_SD)
    )
    assert found is not None
    for remedy in found.remedies:
        assert remedy.original_gravity == pytest.approx(1.055, abs=1e-6)
    exactly = correct(
        batch,
        figures(batch),
        KNOWN,
        KETTLE,
        Estimate(plan.kettle.gravity, 0.0007),
        Estimate(plan.kettle.volume, 0.25),
    )
    assert exactly is not None
    assert exactly.original_gravity.value == pytest.approx(1.055, abs=0.0002)
    assert exactly.fermenter_volume == pytest.approx(20.0, abs=0.05)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([KETTLE, KNOCKOUT]), st.floats(1.030, 1.065), st.floats(18.0, 30.0))
def test_every_remedy_lands_on_the_target_and_no_two_pull_apart(place: str, gravity: float, volume: float) -> None:
    found = corrected(place, gravity, volume)
    for remedy in found.remedies:
        assert remedy.amount > 0
        assert remedy.original_gravity == pytest.approx(1.050, abs=1e-6)
    offered = kinds(found)
    assert not {DILUTE, MALT_EXTRACT} <= offered
    assert (MALT_EXTRACT in offered) == (SUCROSE in offered)
    weak = found.original_gravity.value < 1.050
    if abs(found.original_gravity.value - 1.050) > 1e-4:
        assert (MALT_EXTRACT in offered) == weak


@settings(max_examples=30, deadline=None)
@given(st.floats(1.034, 1.044), st.floats(20.0, 28.0))
def test_a_weaker_kettle_boils_longer(gravity: float, volume: float) -> None:
    weaker, stronger = (remedy(corrected(KETTLE, read, volume), BOIL) for read in (gravity, gravity + 0.001))
    assert weaker.amount > stronger.amount
    assert weaker.knockout_volume < stronger.knockout_volume


@pytest.mark.parametrize(
    ("kind", "amount", "measured"),
    [
        (BOIL, 72.4, 70.0),
        (BOIL, 72.6, 75.0),
        (DILUTE, 1.26, 1.3),
        (MALT_EXTRACT, 0.126, 0.13),
        (SUCROSE, 0.1949, 0.19),
        (MALT_EXTRACT, 0.262, 0.25),
        (SUCROSE, 0.263, 0.275),
    ],
)
def test_amounts_as_a_brewer_measures_them(kind: str, amount: float, measured: float) -> None:
    assert round_remedy(Remedy(kind, amount, 22.0, 20.0, 1.050)) == pytest.approx(measured)


# -- what is believed


def fitted(place: str, gravity: float, volume: float, priors: Priors) -> BrewState:
    """The whole balance, struck with these two readings only."""
    read = f"volume: {volume:.4f} ± 0.25 L, gravity: {gravity:.5f} ± 0.0007"
    batch = entry_of(PLAN, AIM, **{{KETTLE: "before", KNOCKOUT: "after"}[place]: read})
    model = build_model(batch, figures(batch), priors)
    assert model is not None
    return model.at(solve(model).fit.state)[1]


@pytest.mark.parametrize("place", [KETTLE, KNOCKOUT])
@pytest.mark.parametrize("points", [-4, -1, 0, 3])
@pytest.mark.parametrize("litres", [-1.0, 0.0, 1.5])
def test_the_gain_is_the_whole_balance_in_one_step(place: str, points: int, litres: float) -> None:
    at = {KETTLE: (PLAN.kettle.gravity, PLAN.kettle.volume), KNOCKOUT: (PLAN.knockout.gravity, PLAN.knockout.volume)}
    gravity, volume = at[place][0] + points / 1000, at[place][1] + litres
    found, state = corrected(place, gravity, volume, (0.0007, 0.25)), fitted(place, gravity, volume, KNOWN)
    vessel = {KETTLE: state.kettle, KNOCKOUT: state.knockout}[place]
    assert found.volume.value == pytest.approx(vessel.volume, abs=0.02)
    assert found.gravity.value == pytest.approx(vessel.gravity, abs=0.0001)
    assert found.original_gravity.value == pytest.approx(state.fermenter.gravity, abs=0.0001)
    assert found.fermenter_volume == pytest.approx(state.fermenter.volume, abs=0.02)


def test_a_reading_is_believed_by_what_it_is_worth() -> None:
    """One gravity, two points low: what is believed lies between it and the plan, by the inverse variances of both."""
    recorded = PLAN.kettle.gravity - 0.002
    forecast = forecast_of(BATCH, figures(BATCH), KNOWN)
    assert forecast is not None
    prior = foresee(BATCH, figures(BATCH), KNOWN)["kettle_gravity"].sd
    for sd in (0.0003, 0.001, 0.005):
        weight = prior**2 / (prior**2 + sd**2)
        found = corrected(KETTLE, recorded, None, (sd, SURE_SD))
        assert found.gravity.value == pytest.approx(PLAN.kettle.gravity - 0.002 * weight, abs=2e-5)
        assert found.gravity.sd == pytest.approx(prior * sd / np.hypot(prior, sd), rel=0.02)
        assert list(found.ranges) == ["gravity"]


def test_the_range_is_that_of_the_eve_and_the_readings_own() -> None:
    foreseen = foresee(BATCH, figures(BATCH), KNOWN)
    found = corrected(KETTLE, 1.044, 24.0, (0.0007, 0.25))
    for name, figure, sd in (("gravity", "kettle_gravity", 0.0007), ("volume", "kettle_volume", 0.25)):
        before, range_ = foreseen[figure], found.ranges[name]
        assert range_.expected == pytest.approx(before.value, abs=1e-6)
        # upper 5 % point of Student's t with 24 degrees of freedom, any table of it
        assert range_.high - range_.expected == pytest.approx(1.711 * np.hypot(before.sd, sd), rel=0.005)
        assert range_.expected - range_.low == pytest.approx(range_.high - range_.expected)
    assert all(inside(range_) for range_ in found.ranges.values())


def test_what_lands_near_the_target_is_left_alone() -> None:
    plan = (PLAN.kettle.gravity, PLAN.kettle.volume)
    usual = corrected(KETTLE, *plan, (0.0007, 0.25))
    assert usual.leave
    assert all(inside(range_) for range_ in usual.ranges.values())
    assert usual.original_gravity.value == pytest.approx(1.050, abs=0.0002)
    # one point by a poor hydrometer moves nobody, six points by a good one do
    assert corrected(KETTLE, plan[0] - 0.001, plan[1], (0.002, 0.25)).leave
    off = corrected(KETTLE, plan[0] - 0.006, plan[1], (0.0007, 0.25))
    assert not off.leave
    assert not inside(off.ranges["gravity"])
    assert inside(off.ranges["volume"])


def test_a_vague_expectation_lets_the_reading_speak() -> None:
    """In a brewhouse nobody knows, two points low may lie in the range and are worth acting on all the same."""
    vague = Priors()
    found = correct(
        BATCH,
        figures(BATCH),
        vague,
        KETTLE,
        Estimate(PLAN.kettle.gravity - 0.003, 0.0005),
        Estimate(PLAN.kettle.volume, 0.2),
    )
    assert found is not None
    assert all(inside(range_) for range_ in found.ranges.values())
    assert not found.leave


def test_nothing_to_go_by() -> None:
    bare = batch_of("grains: [{malt: pale malt, weight: 5 kg}]")
    assert correct(bare, figures(bare), KNOWN, KETTLE, Estimate(1.044, 0.001)) is None
    assert correction_table(bare, figures(bare), KNOWN, KETTLE) is None
    assert correct(BATCH, figures(BATCH), KNOWN, KETTLE) is None
    drowned = entry_of(replace(PLAN, grain=40.0), AIM)
    assert correct(drowned, figures(drowned), KNOWN, KETTLE, Estimate(1.044, 0.001)) is None


def test_readings_that_the_entry_holds_are_not_asked() -> None:
    read = entry_of(PLAN, AIM, "target: {gravity: 1.050}", before="volume: 27 L, gravity: 1.030")
    found = correct(read, figures(read), KNOWN, KETTLE, Estimate(1.044, 0.0007), Estimate(24.0, 0.25))
    assert found is not None
    assert found.gravity == corrected(KETTLE, 1.044, 24.0, (0.0007, 0.25)).gravity


def _aimed(gravity: str) -> Batch:
    return entry_of(PLAN, AIM, f"target: {{gravity: {gravity}}}")


def test_the_target_in_any_scale() -> None:
    assert target_of(_aimed("1.052")) == 1.052
    assert plato(target_of(_aimed("12.0 °P")) or 0.0) == pytest.approx(12.0)
    # a refractometer shows 1.04 times as much (common practice)
    assert plato(target_of(_aimed("12.48 °Bx")) or 0.0) == pytest.approx(12.0)
    assert target_of(entry_of(PLAN, AIM)) is None


def test_without_a_target_the_plan_is_the_target() -> None:
    batch = entry_of(PLAN, AIM)
    found = correct(batch, figures(batch), KNOWN, KETTLE, Estimate(1.040, 0.0007))
    assert found is not None
    assert found.target == pytest.approx(1.050, abs=0.0002)


def test_readings_of_no_wort() -> None:
    for gravity, volume in ((1.2, 2.0), (1.044, 1.0)):
        assert (
            correct(BATCH, figures(BATCH), Priors(), KETTLE, Estimate(gravity, 0.001), Estimate(volume, 0.25)) is None
        )
