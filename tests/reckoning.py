"""The arithmetic of a brew, written apart from the package: published formulas and tables on plain numbers and arrays.

Where a relation is published in more than one form, the form used here is another than the package's: water by Kell's
original coefficients, sucrose by the densities of a handbook's table instead of a formula.
"""

import numpy as np
from numpy.typing import ArrayLike
from scipy.interpolate import CubicSpline

Array = np.ndarray

#: Density of sucrose solutions at 20 °C by per cent of weight, kg/m³: CRC Handbook of Chemistry and Physics, table
#: "Concentrative Properties of Aqueous Solutions: Sucrose"; printed to 0.1.
CRC = {0: 998.2, 1: 1002.1, 2: 1006.0, 3: 1009.9, 4: 1013.9, 5: 1017.8, 6: 1021.8, 7: 1025.9, 8: 1029.9, 9: 1034.0}
CRC |= {10: 1038.1, 11: 1042.3, 12: 1046.5, 13: 1050.7, 14: 1054.9, 15: 1059.2, 16: 1063.5, 17: 1067.8, 18: 1072.2}
CRC |= {19: 1076.6, 20: 1081.0, 22: 1089.9, 24: 1099.0, 26: 1108.2, 28: 1117.5, 30: 1127.0}
_SUCROSE = CubicSpline(list(CRC), np.array(list(CRC.values())) / 1000.0)

#: Density of ethanol and water at 20 °C by powers of the fraction of weight, kg/m³: OIML R 22 (1975), also Council
#: Directive 76/766/EEC, annex.
OIML = [998.2012300, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234]
OIML += [747017.2998, -547846.1354, 223446.0334, -39032.85426]
ETHANOL = sum(OIML) / 1000.0  # kg/L, pure

#: Atomic masses, g/mol (IUPAC, abridged), and what C12H22O11 gives when it ferments: 4 CO2 to the molecule.
C, H, O = 12.011, 1.008, 15.999  # noqa: E741
GAS_OF_SUCROSE = 4 * (C + 2 * O) / (12 * C + 22 * H + 11 * O)


def water(t: ArrayLike) -> Array:
    """kg/L: G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, as printed; within 20 ppm of the form restated for ITS-90."""
    t = np.asarray(t, dtype=float)
    top = 999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3 + 105.56302e-9 * t**4
    return (top - 280.54253e-12 * t**5) / (1 + 16.879850e-3 * t) / 1000.0


def at_20(volume: ArrayLike, t: ArrayLike) -> Array:
    """L at 20 °C: the mass stays."""
    return np.asarray(volume) * water(t) / water(20.0)


def plato(gravity: ArrayLike) -> Array:
    """°P: the cubic to the table of the American Society of Brewing Chemists, from memory."""
    s = np.asarray(gravity)
    return 135.997 * s**3 - 630.272 * s**2 + 1111.14 * s - 616.868


def gravity(strength: ArrayLike) -> Array:
    """SG 20/20: the cubic solved by halving."""
    strength = np.asarray(strength, dtype=float)
    low, high = np.full_like(strength, 0.9), np.full_like(strength, 1.3)
    for _ in range(60):
        middle = (low + high) / 2
        above = plato(middle) > strength
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return (low + high) / 2


def wort(strength: ArrayLike) -> Array:
    """kg/L at 20 °C, from the handbook's table."""
    return np.asarray(_SUCROSE(strength))


def extract(volume: ArrayLike, sg: ArrayLike) -> Array:
    """kg of extract in L of wort at 20 °C: by the definition of °P."""
    return np.asarray(volume) * wort(plato(sg)) * plato(sg) / 100.0


def carbon_dioxide(t: ArrayLike) -> Array:
    """g/L that water holds under 1 bar: J. J. Carroll, J. D. Slupsky & A. E. Mather, J. Phys. Chem. Ref. Data 20 (1991) 1201.

    Their Henry's constant is by mole fraction, in MPa, for 273 to 433 K; it lies within 2 % of R. F. Weiss's about 20 °C.
    """
    kelvin = np.asarray(t) + 273.15
    constant = np.exp(-6.8346 + 1.2817e4 / kelvin - 3.7668e6 / kelvin**2 + 2.997e8 / kelvin**3)
    fraction = 0.1 / constant
    return fraction / (1 - fraction) * 1000 * water(t) / (2 * H + O) * (C + 2 * O)


def spirit(weight: ArrayLike) -> Array:
    """kg/L of ethanol and water by fraction of weight."""
    return np.polynomial.polynomial.polyval(np.asarray(weight), OIML) / 1000.0


def alcohol(original: ArrayLike, apparent: ArrayLike) -> tuple[Array, Array]:
    """Real extract, °P, and alcohol, fraction of weight, by Balling's relation and Tabarié's principle, by halving.

    In a litre of beer are as much alcohol as in a litre of a spirit and as much extract as in a litre of a wort; the
    excesses of these two over water add up to the beer's.
    """
    original, apparent = np.asarray(original, dtype=float), np.asarray(apparent, dtype=float)
    beer, alone = wort(apparent), wort(0.0)
    strengths = np.linspace(-1.0, 30.0, 3101)
    grams = strengths / 100.0 * wort(strengths)  # kg of extract in 1 L
    low, high = apparent.copy(), original.copy()
    for _ in range(50):
        real = (low + high) / 2
        weight = (original - real) / (206.65 - 1.0665 * original)
        its_wort = wort(np.interp(real / 100.0 * beer, grams, strengths)) / alone
        its_spirit = spirit(_by_weight(weight * beer)) / spirit(0.0)
        heavy = its_wort - 1.0 + its_spirit > beer / alone
        low, high = np.where(heavy, low, real), np.where(heavy, real, high)
    real = (low + high) / 2
    return real, (original - real) / (206.65 - 1.0665 * original)


def _by_weight(kilograms: ArrayLike) -> Array:
    """Fraction of weight of the spirit that holds so many kg of ethanol in a litre."""
    weights = np.linspace(0.0, 0.3, 3001)
    return np.interp(kilograms, weights * spirit(weights), weights)
