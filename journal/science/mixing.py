"""Worts and beers that are parted, thinned and put together: by what is conserved, mass, extract and alcohol."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple

from journal.science import water, wort

_ROUNDS = 60
_CLOSE = 1e-12


class Thinned(NamedTuple):
    """A vessel of wort with water and sugar in it: its strength, degP, and how much of it is the wort, L at 20 degC and kg."""

    strength: float
    wort_volume: float
    wort_mass: float


def after_thinning(volume: float, plato: float, top_up: float, added_weight: float, added_extract: float) -> Thinned:
    """Return what stands in a vessel that was filled with wort, water and sugars.

    volume: L at 20 degC of all of it, above what joined; plato: degP of the wort, 0 to 30; top_up: L of water at 20 degC;
    added_weight, added_extract: kg of sugars as weighed, and of the extract in them.
    Raises ValueError where more joined than there is.
    Source: mass balance; densities by ICUMSA SPS-4.

    >>> found = after_thinning(20.0, 12.0, 2.0, 0.0, 0.0)
    >>> round(found.strength, 3), round(found.wort_volume, 3)
    (10.85, 18.0)
    """
    joined = top_up * water.density(20.0) + added_weight
    strength = plato
    for _ in range(_ROUNDS):
        mass = volume * wort.density(strength)
        if mass <= joined:
            raise ValueError(f"{joined:g} kg joined, and there are {mass:g} kg in the vessel")
        before, strength = strength, (plato * (mass - joined) + 100.0 * added_extract) / mass
        if abs(strength - before) < _CLOSE:
            break
    of_wort = volume * wort.density(strength) - joined
    return Thinned(strength, of_wort / wort.density(plato), of_wort)


class BlendedBeer(NamedTuple):
    """One beer of a blend: L at 20 degC, SG 20/20, alcohol as a fraction by weight, real extract in degP."""

    volume: float
    gravity: float
    alcohol_by_weight: float
    real_extract: float


def blended_gravity(beers: Sequence[BlendedBeer]) -> float:
    """Return the gravity of a blend, SG 20/20; volumes of beer add up as near as a brewer can tell.

    Source: definition; common practice that volumes add up.

    >>> round(blended_gravity([BlendedBeer(12.0, 1.010, 0.04, 4.0), BlendedBeer(6.0, 1.016, 0.05, 5.5)]), 4)
    1.012
    """
    return fsum(beer.volume * beer.gravity for beer in beers) / fsum(beer.volume for beer in beers)


def blended_original(beers: Sequence[BlendedBeer]) -> float:
    """Return the original extract of a blend, degP: of the wort whose beer has the blend's alcohol and real extract.

    Alcohol and real extract add up by mass; Balling's relation, solved for the wort, gives the strength.
    Source: mass balance; C. J. N. Balling, as in `beer.alcohol_by_weight`.

    >>> round(blended_original([BlendedBeer(10.0, 1.010, 0.039499, 4.2515)]), 3)
    11.912
    """
    masses = [beer.volume * beer.gravity for beer in beers]
    whole = fsum(masses)
    alcohol = 100.0 * fsum(m * beer.alcohol_by_weight for m, beer in zip(masses, beers, strict=True)) / whole
    real = fsum(m * beer.real_extract for m, beer in zip(masses, beers, strict=True)) / whole
    return (2.0665 * alcohol + real) / (1.0 + 0.010665 * alcohol)


class Poured(NamedTuple):
    """A wort poured into a vessel: L at 20 degC, degP."""

    volume: float
    plato: float


def together(worts: Sequence[Poured]) -> float:
    """Return the strength of worts put together, degP.

    Source: mass balance; densities by ICUMSA SPS-4.

    >>> round(together([Poured(10.0, 10.0), Poured(10.0, 20.0)]), 2)
    15.1
    """
    mass = fsum(each.volume * wort.density(each.plato) for each in worts)
    return 100.0 * fsum(wort.extract(each.volume, each.plato) for each in worts) / mass
