"""Strength, density and gravity of wort, reckoned as a solution of sucrose, as the trade does."""

from typing import Any

from journal.science import water
from journal.science._newton import root

# ICUMSA SPS-4: rows by power of (t - 20)/100, columns by power of the mass fraction, from the first; kg/m3.
_SPS_4 = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
_WATER_20 = water.density(20.0)
_AIR = 0.0012  # kg/L, ordinary room air
_MOST_STEPS, _STEPS_AT_ONCE = 30, 3
_SETTLED = 1e-13
_GLASS_EXPANSION = 25e-6  # per K, by volume, of hydrometer glass


def density(plato: float, temperature: float = 20.0) -> float:
    """Return the density of wort, kg/L.

    plato: degP, 0 to 60 (0 to 34 checked against handbook tables within 0.1 kg/m3); temperature: degC, 0 to 80,
    extrapolated smoothly to 100.
    Wort solids are not all sucrose: take 0.1 % as the uncertainty of a thermal expansion got from this.
    Source: ICUMSA Method SPS-4, density of sucrose solutions, on the water of `water.density`.

    >>> round(density(12.0), 5)
    1.04644
    """
    fraction = plato / 100.0
    if temperature == 20.0:
        return _WATER_20 + _series(_SPS_4[0], fraction) / 1000.0
    return water.density(temperature) + _excess(fraction, temperature)


def _excess(fraction: float, temperature: float) -> float:
    """How much denser than water, kg/L, wort is whose mass is sugar by a fraction."""
    warmth = (temperature - 20.0) / 100.0
    excess = 0.0
    for row in reversed(_SPS_4):
        excess = excess * warmth + _series(row, fraction)
    return excess / 1000.0


def _series(coefficients: tuple[float, ...], fraction: float) -> float:
    series = 0.0
    for coefficient in reversed(coefficients):
        series = (series + coefficient) * fraction
    return series


def plato_from_gravity(gravity: float) -> float:
    """Return the strength, degP, of wort of a given gravity.

    gravity: SG 20/20 in air, 1.000 to 1.130, there within 0.012 degP of the density tables. At exactly 1 the
    formula gives -0.003 degP.
    Source: cubic fitted to the ASBC table (American Society of Brewing Chemists), as in G. J. Noonan, New Brewing Lager Beer,
    p. 312, at second hand.

    >>> round(plato_from_gravity(1.048), 4)
    11.9121
    """
    return -616.868 + gravity * (1111.14 + gravity * (-630.272 + gravity * 135.997))


def plato_slope(gravity: float) -> float:
    """Return how fast the strength rises with the gravity, degP per unit of SG 20/20.

    gravity: SG 20/20 in air, 1.000 to 1.130.
    Source: derivative of `plato_from_gravity`.

    >>> round(plato_slope(1.048), 2)
    238.19
    """
    return 1111.14 + gravity * (-1260.544 + gravity * 407.991)


def _near_gravity(plato: Any) -> Any:
    return 1.0 + plato / (258.6 - 0.8795507 * plato)


def gravities_from_plato(plato: Any) -> Any:
    """Return the gravities of strengths that are given as an array; whatever takes arithmetic will do.

    plato: degP, an array of any shape, each above -60 and below 200 or nan, which stays nan.
    Source: as `gravity_from_plato`; three of Newton's steps are exact to the last digits from its start.

    >>> round(gravities_from_plato(12.0), 5)
    1.04837
    """
    gravity = _near_gravity(plato)
    for _ in range(_STEPS_AT_ONCE):
        gravity = gravity - (plato_from_gravity(gravity) - plato) / plato_slope(gravity)
    return gravity


def gravity_from_plato(plato: float) -> float:
    """Return the gravity, SG 20/20 in air, of wort of a given strength.

    plato: degP, 0 to 30. The exact inverse of `plato_from_gravity`, whose slope is positive everywhere.
    Source: as `plato_from_gravity`, solved by Newton's method from a start that is within 5e-5 over 0 to 35 degP
    (a rational fit, common practice).

    >>> round(gravity_from_plato(12.0), 5)
    1.04837
    """
    if not -60.0 < plato < 200.0:
        raise ValueError(f"no wort has a strength of {plato:g} degP")
    gravity: float = _near_gravity(plato)
    for _ in range(_MOST_STEPS):
        step = (plato_from_gravity(gravity) - plato) / plato_slope(gravity)
        gravity -= step
        if abs(step) < _SETTLED:
            break
    return gravity


def mass(volume: float, plato: float) -> float:
    """Return the mass of wort, kg.

    volume: L at 20 degC; plato: degP, 0 to 34.
    Source: definition, with `density`.

    >>> round(mass(20.0, 12.0), 3)
    20.929
    """
    return volume * density(plato)


def volume(mass: float, plato: float) -> float:
    """Return the volume of weighed wort, L at 20 degC.

    mass: kg, 0 or more; plato: degP, 0 to 34; of beer its apparent extract, which is what its density makes it.
    Source: definition, with `density`; weighed in air, a litre seems 1.1 g lighter, which is left out.

    >>> round(volume(20.929, 12.0), 3)
    20.0
    """
    return mass / density(plato)


def extract(volume: float, plato: float) -> float:
    """Return the extract in a volume of wort, kg.

    volume: L at 20 degC; plato: degP, 0 to 34.
    Source: definition, V * density * P / 100.

    >>> round(extract(20.0, 12.0), 4)
    2.5115
    """
    return mass(volume, plato) * plato / 100.0


def gravity_at_20(reading: float, sample_temperature: float, calibrated_at: float = 20.0) -> float:
    """Return the gravity, SG 20/20 in air, meant by a glass hydrometer's reading in a warm or cold sample.

    reading: what the hydrometer shows, 0.98 to 1.13; sample_temperature: degC, 0 to 60; calibrated_at: degC, where
    the instrument reads 1.000 in water. Beer is taken to expand as wort does. Above about 40 degC the correction
    is larger than most brewers' instruments deserve.
    The mark at `reading` stands for one density of liquid when the glass is at its calibration temperature. The
    glass, having swollen, floats to that mark in a liquid lighter by the same share. The strength of sucrose that
    has this density at the sample's temperature is sought; its density at 20 degC gives the gravity. Both gravities
    are weighed in air, so at 20 degC with a 20 degC hydrometer the reading comes back as it was.
    Source: buoyancy; densities by ICUMSA SPS-4; expansion of glass 25e-6 per K, common practice.

    >>> round(gravity_at_20(1.0373, 30.0), 4)
    1.04
    >>> round(gravity_at_20(1.05, 20.0), 9)
    1.05
    """
    marked = _AIR + reading * (water.density(calibrated_at) - _AIR)
    afloat = marked / (1.0 + _GLASS_EXPANSION * (sample_temperature - calibrated_at))
    warm = water.density(sample_temperature)
    strength = root(lambda plato: warm + _excess(plato / 100.0, sample_temperature) - afloat, (reading - 1.0) * 250.0)
    return (density(strength) - _AIR) / (_WATER_20 - _AIR)


def brix_to_plato(brix: float, wort_factor: float) -> float:
    """Return the strength, degP, of unfermented wort from a refractometer's reading.

    brix: degBx, 0 to 32, temperature-compensated; wort_factor: what the instrument shows in wort over the wort's
    degP, about 1.00 to 1.06, 1.04 where nothing better is known.
    Source: common practice.

    >>> round(brix_to_plato(12.48, 1.04), 9)
    12.0
    """
    if wort_factor <= 0.0:
        raise ValueError(f"the wort factor must be above 0, not {wort_factor:g}")
    return brix / wort_factor
