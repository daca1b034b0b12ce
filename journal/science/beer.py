"""Attenuation, alcohol, real extract and energy of beer; gravities read with a refractometer."""

from collections.abc import Iterable
from typing import NamedTuple

from journal.science import ethanol, water, wort
from journal.science._newton import root

_ASH = 0.1  # g in 100 g of beer, common practice


class LateExtract(NamedTuple):
    """Something that joined a fermenting beer: its weight and its extract, kg, and the L of wort there, as pitched."""

    weight: float
    extract: float
    volume: float


def real_extract(original: float, apparent: float) -> float:
    """Return the real extract of beer, degP.

    original: degP of the wort, 1 to 30; apparent: degP of the beer, -3 to original.
    Tabarié's principle: the beer's specific gravity less 1 is the sum of what its alcohol takes away in water of
    the same volume, and what its extract adds. Alcohol and extract are tied by Balling's relation, so one unknown
    is left. The volume lost where ethanol and sugar meet is neglected; other ways to calculate it differ by up to
    0.2 degP, and by 0.1 % by volume in the alcohol. Of 34 beers with distilled alcohol (USDA Bulletin 493, 1917) the alcohol
    that follows lies 0.05 % by volume too high on the mean, and 0.14 % off, root mean square. Wort that has not fermented keeps
    its extract exactly.
    Source: Tabarié (1830), densities by OIML R 22 and ICUMSA SPS-4; Balling's relation as in `alcohol_by_weight`.

    >>> round(real_extract(11.9121, 2.5608), 2)
    4.39
    """
    beer = wort.density(apparent)
    alone = water.density(20.0)

    def excess(strength: float) -> float:
        """How much heavier than the beer the sum is, if its extract alone were wort of this strength."""
        dissolved = wort.density(strength)
        alcohol = alcohol_by_weight(original, strength * dissolved / beer)
        spirit = ethanol.density(ethanol.by_weight(alcohol * beer / ethanol.PURE))
        return spirit / ethanol.NONE + dissolved / alone - 1.0 - beer / alone

    strength = root(excess, real_extract_regression(original, apparent))
    return strength * wort.density(strength) / beer


def real_extract_regression(original: float, apparent: float) -> float:
    """Return the real extract of beer, degP, by the usual straight line.

    original: degP of the wort, 0 to 30; apparent: degP of the beer, -3 to original.
    It gives alcohol 0.09 to 0.18 % by volume above the factors of HM Revenue and Customs, and 0.16 % above 34 distilled beers.
    Source: common practice, 0.1808 OE + 0.8192 AE. It is called Balling's, whose ratio was not constant:
    RE = OE - (OE - AE)/(1.22 + OE/1000), as in Dingler's Polytechnisches Journal 189, 404; at 12 degP that is 0.8117 for 0.8192.

    >>> round(real_extract_regression(11.9121, 2.5608), 4)
    4.2515
    """
    return 0.1808 * original + 0.8192 * apparent


def alcohol_by_weight(original: float, real: float) -> float:
    """Return the alcohol in beer, fraction by weight.

    original: degP of the wort, 0 to 30; real: real extract of the beer, degP, 0 to original.
    Not for beer diluted after fermentation.
    Source: C. J. N. Balling, Die Bierbrauerei (1865): A = 100 (OE - RE)/(206.65 - 1.0665 OE) % by weight, from 2.0665 g of
    extract that give 1 g of ethanol, 0.9565 g of CO2 and 0.11 g of yeast; so too H. Nielsen et al., Scandinavian School of
    Brewing / Brauwelt (2007).

    >>> round(alcohol_by_weight(11.9121, 4.2515), 6)
    0.039499
    """
    yielding = 2.0665 - 0.010665 * original
    if yielding <= 0.0:
        raise ValueError(f"Balling's relation has no answer for a wort of {original:g} degP")
    return (original - real) / yielding / 100.0


def alcohol_by_volume(by_weight: float, gravity: float) -> float:
    """Return the alcohol in beer, fraction by volume at 20 degC.

    by_weight: fraction, 0 to 0.2; gravity: SG 20/20 of the beer, 0.98 to 1.06.
    Source: definition, with the densities of water (Kell 1975) and of ethanol (OIML R 22).

    >>> round(alcohol_by_volume(0.039499, 1.010), 5)
    0.05046
    """
    return by_weight * gravity * water.density(20.0) / ethanol.PURE


def original_extract_all_told(original: float, late: Iterable[LateExtract]) -> float:
    """Return the original extract a beer would have had if all that joined it during fermentation had been in the wort, degP.

    original: degP of the wort pitched, 0 to 30; late: what joined, in any order. Each counts by what there was for it: the
    litres of the wort as pitched that were still there, what had joined before left out. With this as the original extract
    the beer's alcohol and attenuation come out as if nothing had been staged.
    Source: mass balance of extract and of all that is weighed, to a litre of the wort pitched.

    >>> round(original_extract_all_told(15.0, [LateExtract(1.0, 1.0, 20.0)]), 2)
    18.83
    """
    weight = wort.density(original)
    extract = weight * original / 100.0
    for joined in late:
        if joined.volume <= 0.0:
            raise ValueError("extract joins a beer that is there, not 0 L")
        weight += joined.weight / joined.volume
        extract += joined.extract / joined.volume
    return 100.0 * extract / weight


def apparent_attenuation(original: float, apparent: float) -> float:
    """Return the apparent attenuation, fraction.

    original: degP of the wort, above 0; apparent: degP of the beer.
    Source: definition, (OE - AE)/OE.

    >>> round(apparent_attenuation(11.9121, 2.5608), 4)
    0.785
    """
    return _attenuation(original, apparent)


def real_attenuation(original: float, real: float) -> float:
    """Return the real attenuation, fraction.

    original: degP of the wort, above 0; real: real extract of the beer, degP.
    Source: definition, (OE - RE)/OE.

    >>> round(real_attenuation(11.9121, 4.2515), 4)
    0.6431
    """
    return _attenuation(original, real)


def _attenuation(original: float, remaining: float) -> float:
    if original == 0.0:
        raise ValueError("a wort without extract has no attenuation")
    return (original - remaining) / original


def real_degree_of_fermentation(original: float, real: float) -> float:
    """Return the real degree of fermentation, fraction, which allows for the weight lost as CO2 and yeast.

    original: degP of the wort, above 0; real: real extract of the beer, degP, 0 to original.
    Source: common practice, named after the ASBC (American Society of Brewing Chemists), whose text was not at hand:
    (OE - RE)/OE / (1 - 0.005161 RE).

    >>> round(real_degree_of_fermentation(11.9121, 4.2515), 4)
    0.6575
    """
    remaining = 1.0 - 0.005161 * real
    if remaining <= 0.0:
        raise ValueError(f"the degree of fermentation has no answer for a real extract of {real:g} degP")
    return _attenuation(original, real) / remaining


def energy(alcohol_by_weight: float, real: float, gravity: float) -> float:
    """Return the food energy of beer, kcal per 100 mL.

    alcohol_by_weight: fraction, 0 to 0.2; real: real extract, degP, 0 to 20; gravity: SG 20/20 of the beer.
    Source: ASBC, as in the Oxford Companion to Beer: 6.9 A + 4.0 (RE - ash) kcal in 100 g, ash taken as 0.1.

    >>> round(energy(0.039499, 4.2515, 1.010), 1)
    44.3
    """
    return (6.9 * 100.0 * alcohol_by_weight + 4.0 * (real - _ASH)) * gravity


def final_gravity_from_refractometer(before: float, after: float) -> float:
    """Return the gravity of finished beer, SG, from refractometer readings before and after fermentation.

    before, after: degBx, each divided by the wort factor, 8 to 25 and 3 to 15. For finished beer: below about 61 %
    apparent attenuation it fails. Published correlations differ by 0.002 to 0.004, so allow 0.002 at least.
    Source: S. Terrill (2011), cubic fit to 68 beers.

    >>> round(final_gravity_from_refractometer(12.0, 6.0), 5)
    1.01168
    """
    wort_part = before * (-0.0044993 + before * (0.00027581 - before * 0.0000072800))
    beer_part = after * (0.011774 + after * (-0.0012717 + after * 0.000063293))
    return 1.0 + wort_part + beer_part
