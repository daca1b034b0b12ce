"""Acids of the brewhouse: how much alkalinity they take up, and how heavy their solutions are."""

from collections.abc import Mapping
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple


class Acid(NamedTuple):
    """kg/kmol without water of crystals; pKa of each step at 25 degC; pairs of mass fraction and kg/L at 20 degC."""

    molar_mass: float
    steps: tuple[float, ...]
    densities: tuple[tuple[float, float], ...]


#: Of a strong acid the step is put far below any liquor's pH. Dissociation: CRC Handbook of Chemistry and Physics, from
#: memory; densities: makers' data sheets agree on them within 1 % (from memory).
ACIDS: Mapping[str, Acid] = MappingProxyType(
    {
        "lactic acid": Acid(90.078, (3.86,), ((0.0, 0.998), (0.1, 1.020), (0.5, 1.12), (0.8, 1.19), (0.9, 1.21))),
        "phosphoric acid": Acid(
            97.994,
            (2.15, 7.20, 12.35),
            ((0.0, 0.998), (0.1, 1.053), (0.3, 1.181), (0.5, 1.335), (0.75, 1.579), (0.85, 1.689)),
        ),
        "citric acid": Acid(192.123, (3.13, 4.76, 6.40), ((0.0, 0.998), (0.1, 1.038), (0.3, 1.125), (0.5, 1.22))),
        "malic acid": Acid(134.087, (3.40, 5.11), ((0.0, 0.998), (0.1, 1.036), (0.5, 1.21))),
        "tartaric acid": Acid(150.086, (2.98, 4.34), ((0.0, 0.998), (0.1, 1.045), (0.5, 1.26))),
        "sulfuric acid": Acid(
            98.072, (-3.0, 1.99), ((0.0, 0.998), (0.1, 1.066), (0.3, 1.219), (0.5, 1.395), (0.98, 1.836))
        ),
        "hydrochloric acid": Acid(36.458, (-6.0,), ((0.0, 0.998), (0.1, 1.047), (0.2, 1.098), (0.37, 1.18))),
    }
)
#: Parts of lactic acid in acid malt by weight: 1 to 2 in a hundred, common practice.
LACTIC_IN_ACID_MALT = 0.02


def charge(acid: str, ph: float) -> float:
    """Return how many protons a molecule of the acid has given off.

    acid: a key of ACIDS; ph: of the liquor or mash, 2 to 9.
    Source: mass action, with the pKa of ACIDS.

    >>> round(charge("lactic acid", 5.4), 3)
    0.972
    """
    shares, product = [1.0], 1.0
    for step in ACIDS[acid].steps:
        product *= 10.0 ** (ph - step)
        shares.append(product)
    return sum(given * share for given, share in enumerate(shares)) / sum(shares)


def equivalents(acid: str, share: float, ph: float) -> float:
    """Return the alkalinity that a kg of an acid's solution takes up, eq.

    acid: a key of ACIDS; share: its strength, mass fraction, 0 to 1; ph: that is reached, 4 to 7.
    Source: `charge`, over the molar mass. At a mash's pH of 5.4 phosphoric acid counts once and lactic acid nearly so.

    >>> round(equivalents("lactic acid", 0.80, 5.4), 2)
    8.63
    """
    if not 0.0 <= share <= 1.0:
        raise ValueError(f"an acid's strength is a fraction, not {share:g}")
    return 1000.0 * share * charge(acid, ph) / ACIDS[acid].molar_mass


def solution_density(acid: str, share: float) -> float:
    """Return the density of an acid's solution at 20 degC, kg/L; good to 1 %.

    acid: a key of ACIDS; share: its strength, mass fraction, from 0 to the strongest that is sold; beyond it that one's.
    Source: straight between the values of ACIDS.

    >>> round(solution_density("phosphoric acid", 0.80), 3)
    1.634
    """
    known = ACIDS[acid].densities
    for (low, light), (high, heavy) in pairwise(known):
        if share <= high:
            return light + (heavy - light) * (share - low) / (high - low)
    return known[-1][1]
