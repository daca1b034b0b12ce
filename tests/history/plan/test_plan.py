"""The plan against mass balances worked by hand, and against the model that will judge the batch."""

from __future__ import annotations

from dataclasses import replace

import pytest
from history.plan.planned import KNOWN, PALE, entry_of, figures
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.balance import Expectation, Priors, common_practice
from journal.balance.foresee import foresee
from journal.history.plan import Aim, Grist, GristLine, Lot, Plan, Refusal, make_plan, scale_grist, swap
from journal.reading import Brewhouse

#: What the worked run-offs take: all starch converted, a kilogram of grain keeps a kilogram of water, nothing else.
BY_HAND = Priors(
    conversion=Expectation(1.0, 0.01),
    water_held=Expectation(1.0, 0.01),
    dead_space=Expectation(0.0, 0.01),
    shortfall=Expectation(0.0, 0.01),
    boil_off=Expectation(3.0, 0.1),
    kettle_loss=Expectation(1.0, 0.1),
)
WORKED = Grist(0.768, 0.04)
#: kg of water in a litre at 20 °C (IAPWS-95).
WATER = 0.998207


def density(strength: float) -> float:
    """kg/L at 20 °C of sucrose in water, °P up to 30.

    Quadratic through the CRC Handbook's values at 0, 10 and 20 per cent by weight (0.9982, 1.0381, 1.0810); within 0.0003
    to 30.
    """
    return 0.9982 + 0.003835 * strength + 0.0000155 * strength**2


def plato(gravity: float) -> float:
    """°P of an SG 20/20 by the ASBC table's cubic, from memory."""
    return -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3


def planned(aim: Aim, grist: Grist = PALE, priors: Priors = KNOWN) -> Plan:
    plan = make_plan(aim, grist, priors)
    assert isinstance(plan, Plan), plan.why()
    return plan


def refused(aim: Aim, grist: Grist = PALE, priors: Priors = KNOWN) -> Refusal:
    refusal = make_plan(aim, grist, priors)
    assert isinstance(refusal, Refusal)
    return refusal


def gravity_of(strength: float) -> float:
    """SG 20/20 of °P: the cubic above, solved by halving."""
    low, high = 1.0, 1.2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if plato(middle) < strength else (low, middle)
    return low


def fermenter_of(kettle_water: float, kettle_extract: float) -> tuple[float, float]:
    """Gravity and volume in the fermenter: an hour's boil at 3 L/h, 1 L left in the kettle."""
    water = kettle_water - 3.0 * WATER
    strength = 100 * kettle_extract / (water + kettle_extract)
    return gravity_of(strength), (water + kettle_extract) / density(strength) - 1.0


@pytest.mark.parametrize(
    ("method", "sparge_water", "extract", "efficiency"),
    [
        # 5 kg of grain at 76.8 % as is and 4 % moisture, 15 kg of mash water; the grain keeps 5 kg. With its moisture the
        # mash holds 15.2 kg of water and 3.84 kg of extract, 20.168 °P. The first run-off carries 10.2/15.2 of the extract,
        # 2.5768 kg (67.105 %); a sparge of 10 kg then 10/15 of what is left: 3.4189 kg. Well-mixed run-off, mass balance
        # worked by hand.
        ("batch sparge", 10.0, 3.4189, 0.89035),
        # a sparge of 12 kg: 12/17 of what is left
        ("batch sparge", 12.0, 3.4685, 0.90325),
        # the same in the three parts that a fly sparge counts for: 1.2632 kg × (5/9)³ stay, 3.6234 kg run off
        ("fly sparge", 12.0, 3.6234, 0.94359),
    ],
)
def test_grain_and_liquor_of_a_run_off_worked_by_hand(
    method: str, sparge_water: float, extract: float, efficiency: float
) -> None:
    gravity, volume = fermenter_of(15.2 + sparge_water - 5.0, extract)
    aim = Aim(gravity, volume, 15.0 / WATER / 5.0, 1.0, method=method)
    plan = planned(aim, WORKED, BY_HAND)
    assert plan.grain == pytest.approx(5.0, abs=0.005)
    assert plan.mash_liquor == pytest.approx(15.0 / WATER, abs=0.015)
    assert plan.sparge_liquor == pytest.approx(sparge_water / WATER, abs=0.015)
    assert plan.lauter_efficiency == pytest.approx(efficiency, abs=0.0003)
    assert plan.first_wort == pytest.approx(gravity_of(20.168), abs=0.00005)


def test_no_sparge_worked_by_hand() -> None:
    """5 kg, 25 kg of water: 25.2 kg with the moisture, 13.223 °P; 20.2/25.2 of 3.84 kg runs off, 3.0781 kg, 80.159 %."""
    gravity, volume = fermenter_of(25.2 - 5.0, 3.0781)
    plan = planned(Aim(gravity, volume, 3.0, 1.0, method="no sparge"), WORKED, BY_HAND)
    assert plan.grain == pytest.approx(5.0, abs=0.005)
    assert plan.mash_liquor == pytest.approx(25.0 / WATER, abs=0.02)
    assert plan.sparge_liquor == 0.0
    assert plan.lauter_efficiency == pytest.approx(0.80159, abs=0.0003)


def test_the_way_back_from_the_fermenter_worked_by_hand() -> None:
    """20 L at 12 °P (1.04837), 1 L left behind: 21 L of 1.0464 kg/L hold 21.975 kg, 2.6370 kg of it extract.

    An hour at 3 L/h drives off 2.9946 kg of water: 24.970 kg in the full kettle, 10.561 °P, 1.0404 kg/L, 24.001 L.
    """
    plan = planned(Aim(1.04837, 20.0, 3.0, 1.0), WORKED, BY_HAND)
    assert plan.knockout.volume == pytest.approx(21.0, abs=0.01)
    assert plan.knockout.gravity == pytest.approx(1.04837, abs=1e-5)
    assert plan.kettle.volume == pytest.approx(24.001, abs=0.01)
    assert plato(plan.kettle.gravity) == pytest.approx(10.561, abs=0.005)
    assert plan.mash_efficiency * plan.grain * 0.768 == pytest.approx(2.6370, abs=0.001)


AIMS = [
    Aim(1.050, 20.0, 3.0, 1.0),
    Aim(1.038, 15.0, 2.7, 1.5),
    Aim(1.070, 24.0, 2.6, 1.0, method="fly sparge"),
    Aim(1.048, 19.0, 3.0, 1.0, method="no sparge"),
    Aim(1.052, 21.0, 3.0, 1.0, method="bag"),
    Aim(1.065, 20.0, 3.0, 1.0, sugar=0.455, kettle_water=0.045),
    Aim(1.055, 20.0, 3.0, 1.0, fermenter_water=3.0),
]
EXPECTED = {"known": KNOWN, "common practice": common_practice(Brewhouse(), "batch sparge")}


@pytest.mark.parametrize("aim", AIMS, ids=lambda aim: f"{aim.method} {aim.gravity}")
@pytest.mark.parametrize("priors", EXPECTED.values(), ids=EXPECTED)
def test_a_batch_brewed_as_planned_is_foreseen_at_the_target(aim: Aim, priors: Priors) -> None:
    plan = planned(aim, priors=priors)
    batch = entry_of(plan, aim)
    if not aim.fermenter_water:
        assert batch.planned
    foreseen = foresee(batch, figures(batch), priors)
    assert foreseen["original_gravity"].value == pytest.approx(aim.gravity, abs=0.0002)
    assert foreseen["fermenter_volume"].value == pytest.approx(aim.volume, abs=0.05)
    assert foreseen["kettle_volume"].value == pytest.approx(plan.kettle.volume, abs=0.02)
    assert foreseen["kettle_gravity"].value == pytest.approx(plan.kettle.gravity, abs=0.0001)
    assert foreseen["mash_efficiency"].value == pytest.approx(plan.mash_efficiency, abs=0.001)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(1.030, 1.070),
    st.floats(8.0, 60.0),
    st.sampled_from(["batch sparge", "fly sparge", "no sparge", "bag"]),
)
def test_more_strength_takes_more_grain_and_lauters_worse(gravity: float, volume: float, method: str) -> None:
    aim = Aim(gravity, volume, 2.8, 1.0, method=method)
    weaker, stronger = planned(aim), planned(replace(aim, gravity=gravity + 0.004))
    assert stronger.grain > weaker.grain
    assert stronger.lauter_efficiency < weaker.lauter_efficiency
    assert stronger.grain / weaker.grain > plato(gravity + 0.004) / plato(gravity)


@settings(max_examples=40, deadline=None)
@given(st.floats(1.030, 1.070), st.floats(8.0, 60.0))
def test_more_beer_takes_more_of_everything(gravity: float, volume: float) -> None:
    less, more = planned(Aim(gravity, volume, 2.8, 1.0)), planned(Aim(gravity, volume * 1.1, 2.8, 1.0))
    assert more.grain > less.grain
    assert more.mash_liquor > less.mash_liquor
    assert more.sparge_liquor > less.sparge_liquor


@settings(max_examples=30, deadline=None)
@given(st.floats(1.030, 1.065), st.floats(10.0, 40.0))
def test_parting_the_sparge_never_takes_more_grain(gravity: float, volume: float) -> None:
    """Splitting a fixed sparge into equal parts never lowers the well-mixed bed's efficiency (mass balance)."""
    once = planned(Aim(gravity, volume, 2.8, 1.0))
    parted = planned(Aim(gravity, volume, 2.8, 1.0, method="fly sparge"))
    assert parted.grain <= once.grain + 1e-9


def test_a_richer_grist_takes_less_weight_and_better_conversion_too() -> None:
    aim = Aim(1.050, 20.0, 3.0, 1.0)
    usual = planned(aim)
    assert planned(aim, Grist(0.80, 0.04)).grain < usual.grain
    better = replace(KNOWN, conversion=Expectation(0.96, 0.015, 20))
    assert planned(aim, priors=better).grain < usual.grain


def test_sugar_takes_the_place_of_grain() -> None:
    """Half a kilogram of extract less from the grain, at 82 to 88 % of 0.7776 kg/kg and 93 % conversion."""
    plain, sweetened = planned(Aim(1.065, 20.0, 3.0, 1.0)), planned(Aim(1.065, 20.0, 3.0, 1.0, sugar=0.5))
    saved = plain.grain - sweetened.grain
    assert 0.5 / (0.7776 * 0.93) < saved < 0.5 / (0.7776 * 0.93 * 0.6)
    assert sweetened.knockout.gravity == pytest.approx(plain.knockout.gravity, abs=1e-9)


def test_a_known_grist_keeps_its_proportions() -> None:
    lines = (GristLine(4.0, 0.78, 0.04), GristLine(0.4, 0.72, 0.05), GristLine(0.1, 0.0, 0.09))
    found = scale_grist(Aim(1.055, 30.0, 3.0, 1.0), lines, KNOWN)
    assert isinstance(found, Plan)
    assert sum(line.weight for line in found.lines) == pytest.approx(found.grain)
    for line, scaled in zip(lines, found.lines, strict=True):
        assert scaled.weight / found.lines[0].weight == pytest.approx(line.weight / 4.0)
        assert scaled[1:] == line[1:]
    # (4 × 0.78 + 0.4 × 0.72 + 0) / 4.5 and (4 × 0.04 + 0.4 × 0.05 + 0.1 × 0.09) / 4.5
    assert Grist.of(lines).extract == pytest.approx(3.408 / 4.5)
    assert Grist.of(lines).moisture == pytest.approx(0.189 / 4.5)


def test_a_grist_that_weighs_nothing_is_none() -> None:
    with pytest.raises(ValueError, match="weighs something"):
        Grist.of([])


def test_a_lot_for_another_brings_the_same_extract() -> None:
    """4 kg at 78 % bring 3.12 kg; at 75 % that takes 4.16 kg, and 4.16 / 0.98 where the new lot gives 2 % less than its sheet."""
    assert swap([4.0], Lot(0.78), Lot(0.75)) == (pytest.approx(4.16),)
    assert swap([4.0, 1.0], Lot(0.78), Lot(0.75, effect=0.98)) == pytest.approx((4.16 / 0.98, 1.04 / 0.98))
    with pytest.raises(ValueError, match="without extract"):
        swap([4.0], Lot(0.78), Lot(0.0))


# -- what can't be brewed


def test_a_mash_that_the_tun_does_not_hold() -> None:
    refusal = refused(Aim(1.060, 20.0, 3.0, 1.0, mash_tun=18.0))
    assert refusal.code == "mash tun"
    # 3 L of liquor and 0.67 L of grain to each kilogram (common practice)
    grain = planned(Aim(1.060, 20.0, 3.0, 1.0)).grain
    assert refusal.needed == pytest.approx(3.67 * grain, rel=1e-6)
    assert refusal.room == 18.0
    assert refusal.volume is not None
    assert refusal.gravity is not None
    assert refusal.liquor_to_grist is not None
    for fits in (
        Aim(1.060, refusal.volume, 3.0, 1.0, mash_tun=18.0),
        Aim(refusal.gravity, 20.0, 3.0, 1.0, mash_tun=18.0),
        Aim(1.060, 20.0, refusal.liquor_to_grist, 1.0, mash_tun=18.0),
    ):
        planned(fits)
    assert refused(Aim(1.060, refusal.volume + 0.2, 3.0, 1.0, mash_tun=18.0)).code == "mash tun"
    assert refused(Aim(refusal.gravity + 0.002, 20.0, 3.0, 1.0, mash_tun=18.0)).code == "mash tun"
    assert "18.0 L" in refusal.why()
    assert f"{refusal.volume:.1f} L at 1.060" in refusal.nearest()
    assert "gal" in refusal.nearest("us")


def test_a_kettle_that_boils_over() -> None:
    """24.5 L at 20 °C stand at 25.5 L when they boil: water is 0.95835 kg/L at 100 °C and 0.998207 at 20 °C (IAPWS-95)."""
    aim = Aim(1.050, 20.0, 3.0, 1.0, kettle=26.0)
    refusal = refused(aim)
    boiling = planned(replace(aim, kettle=None)).kettle.volume * 0.998207 / 0.95835
    assert refusal.code == "kettle"
    assert refusal.needed == pytest.approx(boiling, abs=0.01)
    # 5 % head room (common practice)
    assert refusal.room == pytest.approx(24.7)
    assert refusal.volume is not None
    assert refusal.volume < 20.0
    planned(replace(aim, volume=refusal.volume))
    assert refused(replace(aim, volume=refusal.volume + 0.2)).code == "kettle"


def test_a_bag_is_mashed_in_the_kettle() -> None:
    assert refused(Aim(1.060, 20.0, 3.0, 1.0, method="bag", kettle=30.0)).code == "mash tun"
    planned(Aim(1.060, 20.0, 3.0, 1.0, method="batch sparge", kettle=30.0))


def test_vessels_that_nobody_measured_refuse_nothing() -> None:
    planned(Aim(1.080, 400.0, 2.5, 1.0))


def test_a_mash_that_takes_all_the_liquor() -> None:
    aim = Aim(1.120, 20.0, 3.0, 1.0)
    refusal = refused(aim)
    assert refusal.code == "no liquor left"
    assert refusal.volume is None
    assert refusal.gravity is not None
    last = planned(replace(aim, gravity=refusal.gravity))
    assert last.sparge_liquor >= 0
    assert refused(replace(aim, gravity=refusal.gravity + 0.002)).code == "no liquor left"
    # at the end of it all liquor is in the mash: no sparge is left worth the name
    assert last.sparge_liquor < 0.1 * last.mash_liquor
    assert "3.00 L/kg" in refusal.why()


def test_too_strong_for_the_run_off() -> None:
    aim = Aim(1.145, 20.0, 3.0, 1.0, method="no sparge")
    refusal = refused(aim)
    assert refusal.code == "too strong"
    assert refusal.gravity is not None
    last = planned(replace(aim, gravity=refusal.gravity))
    # no thicker than can be stirred, 2 L/kg (common practice)
    assert last.mash_liquor / last.grain >= 2.0
    assert last.mash_liquor / last.grain < 2.1
    assert refusal.nearest() == f"{refusal.gravity:.3f} with 20.0 L"


def test_a_mash_that_gives_no_first_wort() -> None:
    refusal = refused(Aim(1.050, 20.0, 1.1, 1.0))
    assert refusal.code == "mash too thick"
    assert "1.10 L/kg" in refusal.why()
    assert refusal.nearest() == ""


def test_sugar_that_needs_no_grain() -> None:
    assert refused(Aim(1.040, 20.0, 3.0, 1.0, sugar=3.0)).code == "sugar alone"


@pytest.mark.parametrize("aim", [Aim(0.999, 20.0, 3.0, 1.0), Aim(1.2, 20.0, 3.0, 1.0), Aim(1.050, 0.0, 3.0, 1.0)])
def test_no_wort_at_all(aim: Aim) -> None:
    refusal = refused(aim)
    assert refusal.code == "out of range"
    assert "1.001 to 1.150" in refusal.why()


def test_a_grist_of_hulls_brews_nothing() -> None:
    assert refused(Aim(1.050, 20.0, 3.0, 1.0), Grist(0.0, 0.09)).code == "too strong"
