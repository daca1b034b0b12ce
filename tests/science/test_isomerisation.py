"""Isomerisation against the published constants, an independent integrator, and cases by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from journal.science import hops
from journal.science import isomerisation as iso


@pytest.mark.parametrize(
    ("temperature", "formed", "lost"), [(100.0, 0.0125, 0.0031), (90.0, 0.0052, 0.0012), (80.0, 0.0021, 0.0004)]
)
def test_rates_by_the_published_constants(temperature: float, formed: float, lost: float) -> None:
    """Malowicki & Shellhammer (2005), abstract: 7.9e11 exp(-11858/T), 4.1e12 exp(-12994/T) per minute, by a pocket calculator."""
    assert iso.isomerisation_rates(temperature) == pytest.approx((formed, lost), abs=5.1e-5)


def test_activation_energies_as_printed() -> None:
    """The same abstract: 98.6 and 108.0 kJ/mol; R is 8.314 J/(mol K)."""
    cold, hot = iso.isomerisation_rates(95.0), iso.isomerisation_rates(105.0)
    span = 1.0 / 368.15 - 1.0 / 378.15
    for low, high, energy in zip(cold, hot, (98.6, 108.0), strict=True):
        assert 8.314e-3 * math.log(high / low) / span == pytest.approx(energy, abs=0.05)


def by_integration(temperatures, minutes: float, start=(1.0, 0.0)) -> np.ndarray:
    """Shares of alpha and iso-alpha acid at the end, by scipy's integrator and the printed constants."""

    def slopes(t: float, shares: np.ndarray) -> list[float]:
        kelvin = temperatures(t) + 273.15
        formed, lost = 7.9e11 * math.exp(-11858 / kelvin), 4.1e12 * math.exp(-12994 / kelvin)
        return [-formed * shares[0], formed * shares[0] - lost * shares[1]]

    return solve_ivp(slopes, (0.0, minutes), start, rtol=1e-9, atol=1e-12).y[:, -1]


@pytest.mark.parametrize(("temperature", "minutes"), [(100.0, 60.0), (80.0, 20.0), (95.0, 240.0), (70.0, 0.0)])
def test_a_hold_is_the_solution_of_the_two_steps(temperature: float, minutes: float) -> None:
    found = iso.isomerised([(temperature, minutes)])
    if minutes:
        assert found == pytest.approx(by_integration(lambda _: temperature, minutes), abs=1e-8)
    else:
        assert found == iso.HopAcids(1.0, 0.0)


def test_boiled_and_stood() -> None:
    boiled = iso.isomerised([(100.0, 60.0)])
    assert iso.isomerised([(100.0, 60.0), (80.0, 30.0)]) == iso.isomerised([(80.0, 30.0)], boiled)
    assert boiled.iso < iso.isomerised([(80.0, 30.0)], boiled).iso < iso.isomerised([(100.0, 90.0)]).iso


@pytest.mark.parametrize(("start", "end", "minutes"), [(95.0, 20.0, 40.0), (100.0, 18.0, 25.0), (98.0, 30.0, 600.0)])
def test_cooling_is_newtons_law(start: float, end: float, minutes: float) -> None:
    """Against the smooth course, integrated: T = 15 + (T0 - 15) exp(-t/tau)."""
    time = minutes / math.log((start - 15.0) / (end - 15.0))
    expected = by_integration(lambda t: 15.0 + (start - 15.0) * math.exp(-t / time), minutes)
    holds = iso.cooling(start, end, minutes)
    assert iso.isomerised(holds).iso == pytest.approx(expected[1], rel=3e-3)
    assert sum(part for _, part in holds) == pytest.approx(minutes)
    assert start > holds[0][0] > holds[-1][0] > end


def test_minutes_of_boil_by_hand() -> None:
    """At first iso-alpha acid grows as k1 t: 20 min at 80 degC are 20 * 0.00207/0.01249 = 3.31 min, less what is lost meanwhile."""
    assert iso.boil_minutes([(80.0, 20.0)]) == pytest.approx(3.31, abs=0.02)
    assert iso.boil_minutes([]) == pytest.approx(0.0, abs=1e-9)


@given(st.floats(0.0, 148.0))
def test_a_boil_is_worth_its_own_minutes(minutes: float) -> None:
    assert iso.boil_minutes([(100.0, minutes)]) == pytest.approx(minutes, abs=1e-5)


@given(st.floats(60.0, 98.0), st.floats(1.0, 90.0))
def test_a_cooler_stand_is_worth_fewer_minutes(temperature: float, minutes: float) -> None:
    worth = iso.boil_minutes([(temperature, minutes)])
    assert 0.0 < worth < minutes
    assert iso.boil_minutes([(temperature - 5.0, minutes)]) < worth


def test_the_most_that_boiling_leaves() -> None:
    """63 % after 149 min, then it falls; six hours at 90 degC leave more, and count as those minutes."""
    most = iso.isomerised([(100.0, 148.64)]).iso
    assert most == pytest.approx(0.632, abs=0.001)
    assert max(iso.isomerised([(100.0, float(t))]).iso for t in range(400)) <= most + 1e-6
    assert iso.isomerised([(90.0, 360.0)]).iso > most
    assert iso.boil_minutes([(90.0, 360.0)]) == pytest.approx(148.6, abs=0.1)


def test_order_of_a_whirlpool_and_of_the_mash() -> None:
    """T. Justus, MBAA TQ 55(3) (2018), abstract: 44.0 % of the alpha acid from 60 min of boil, 29.9 % from the whirlpool, 9.1 %
    from the mash. How hot and long that whirlpool was is not said there; 30 min at 95 degC are worth a half of an hour's boil."""
    stood = hops.tinseth_utilisation(1.048, iso.boil_minutes([(95.0, 30.0), *iso.cooling(95.0, 20.0, 60.0)]))
    hour = hops.tinseth_utilisation(1.048, 60.0)
    assert 0.8 * 29.9 / 44.0 < stood / hour < 1.2 * 29.9 / 44.0
    assert hops.mash_hop_utilisation(1.048) / hour == pytest.approx(9.1 / 44.0)


@pytest.mark.parametrize(("start", "end"), [(95.0, 15.0), (20.0, 30.0), (90.0, 5.0)])
def test_wort_does_not_cool_below_what_cools_it(start: float, end: float) -> None:
    with pytest.raises(ValueError, match="does not cool"):
        iso.cooling(start, end, 30.0)


def test_no_time_and_no_temperature() -> None:
    assert iso.isomerised(iso.cooling(95.0, 20.0, 0.0)) == iso.HopAcids(1.0, 0.0)
    with pytest.raises(ValueError, match="for some time"):
        iso.isomerised([(90.0, -1.0)])
    with pytest.raises(ValueError, match="as cold"):
        iso.isomerisation_rates(-300.0)
