"""Mixtures of ethanol and water at 20 degC."""

from journal.science._newton import root

# kg/m3, by power of the mass fraction from the zeroth.
_OIML_R_22 = (
    998.2012300,
    -192.9769495,
    389.1238958,
    -1668.103923,
    13522.15441,
    -88292.78388,
    306287.4042,
    -613838.1234,
    747017.2998,
    -547846.1354,
    223446.0334,
    -39032.85426,
)


def density(fraction_by_weight: float) -> float:
    """Return the density of ethanol and water at 20 degC, kg/L.

    fraction_by_weight: ethanol, 0 to 1.
    Source: OIML R 22 (1975), the general formula at 20 degC; also Council Directive 76/766/EEC, annex.

    >>> round(density(0.04), 7)
    0.9910247
    """
    series = 0.0
    for coefficient in reversed(_OIML_R_22):
        series = series * fraction_by_weight + coefficient
    return series / 1000.0


PURE, NONE = density(1.0), density(0.0)  # kg/L at 20 degC, of ethanol and of water


def by_volume(by_weight: float) -> float:
    """Return the fraction of ethanol by volume at 20 degC in a mixture with water.

    by_weight: fraction, 0 to 1.
    Source: OIML R 22 (1975), definition of alcoholic strength by volume.

    >>> round(by_volume(0.04), 6)
    0.050227
    """
    return by_weight * density(by_weight) / PURE


def by_weight(by_volume: float) -> float:
    """Return the fraction of ethanol by weight in a mixture with water.

    by_volume: fraction at 20 degC, 0 to 1.
    Source: as `by_volume`, solved by Newton's method.

    >>> round(by_weight(0.05), 6)
    0.039818
    """
    return root(lambda weight: weight * density(weight) / PURE - by_volume, by_volume * (0.79 + 0.21 * by_volume))
