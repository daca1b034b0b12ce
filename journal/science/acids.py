"""How much alkalinity an acid takes away, and an alkali brings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import fsum
from types import MappingProxyType

#: pH of an ordinary mash in a cooled sample (common practice): how far down an acid is asked to work.
MASH_PH = 5.4
_STRONG = -6.0  # a pK so low that all of it is dissociated


@dataclass(frozen=True)
class Acid:
    """An acid: its molar mass, how firmly it holds each proton, how heavy its solutions are, which ions it brings."""

    molar_mass: float  # kg/kmol
    constants: tuple[float, ...]  # pK at 25 degC, the loosest proton first
    densities: tuple[tuple[float, float], ...]  # share by weight and kg/L at 20 degC, rising
    ions: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))  # kg in a kg of the pure acid


#: Dissociation: Chemistry LibreTexts, Reference Tables, E1 (25 degC, no salt); of lactic acid common practice. Densities: lactic and
#: citric acid, CRC Handbook of Chemistry and Physics as reprinted in public tables; hydrochloric acid agrees to 0.001 with a public
#: table at 20 degC, sulfuric acid is common practice, for 10, 50 and 96 % public tables have 1.07, 1.40 and 1.84;
#: lactic acid of 90 % by the British Pharmacopoeia's limits, 1.20 to 1.21; phosphoric acid agrees with the handbooks in ECHA's dossier.
ACIDS: Mapping[str, Acid] = MappingProxyType(
    {
        "lactic acid": Acid(
            90.078,
            (3.86,),
            ((0.0, 0.9982), (0.1, 1.0199), (0.2, 1.0439), (0.6, 1.1392), (0.7, 1.1586), (0.8, 1.1848), (0.9, 1.207)),
        ),
        "phosphoric acid": Acid(
            97.994,
            (2.16, 7.21, 12.32),
            ((0.0, 0.9982), (0.1, 1.0532), (0.3, 1.1804), (0.5, 1.3350), (0.75, 1.579), (0.85, 1.6895)),
        ),
        "citric acid": Acid(
            192.123, (3.13, 4.76, 6.40), ((0.0, 0.9982), (0.05, 1.0189), (0.1, 1.0402), (0.2, 1.0858), (0.3, 1.1346))
        ),
        "citric acid monohydrate": Acid(210.138, (3.13, 4.76, 6.40), ()),
        "malic acid": Acid(134.087, (3.40, 5.11), ()),
        "tartaric acid": Acid(150.086, (2.98, 4.34), ()),
        "hydrochloric acid": Acid(
            36.458,
            (_STRONG,),
            ((0.0, 0.9982), (0.1, 1.0474), (0.2, 1.0980), (0.3, 1.1492), (0.38, 1.1885)),
            MappingProxyType({"chloride": 35.45 / 36.458}),
        ),
        "sulfuric acid": Acid(
            98.072,
            (_STRONG, 1.99),
            (
                (0.0, 0.9982),
                (0.1, 1.0661),
                (0.2, 1.1394),
                (0.3, 1.2185),
                (0.4, 1.3028),
                (0.5, 1.3951),
                (0.6, 1.4983),
                (0.8, 1.7272),
                (0.96, 1.8355),
            ),
            MappingProxyType({"sulfate": 96.056 / 98.072}),
        ),
    }
)


def protons_given(acid: str, ph: float = MASH_PH) -> float:
    """Return how many protons a molecule of the acid has let go of at a pH.

    acid: a key of ACIDS; ph: 3 to 9.
    Source: law of mass action, with the constants of ACIDS; in a mash's salts they lie up to 0.2 lower, which at pH 5.4 makes up to
    1 % of lactic, 2 % of phosphoric and 5 % of citric acid.

    >>> [round(protons_given(acid), 3) for acid in ("lactic acid", "phosphoric acid", "citric acid")]
    [0.972, 1.015, 1.901]
    """
    weights = [1.0]
    for constant in ACIDS[acid].constants:
        weights.append(weights[-1] * 10.0 ** (ph - constant))
    return fsum(number * weight for number, weight in enumerate(weights)) / fsum(weights)


def equivalents(acid: str, share: float, ph: float = MASH_PH) -> float:
    """Return what a kilogram of the acid takes away of alkalinity, mol of charge (eq) to the kg.

    acid: a key of ACIDS; share: of the pure acid by weight, 0 to 1; ph: of the mash or liquor it goes into, 3 to 9.
    Source: definition, with `protons_given`.

    >>> round(equivalents("lactic acid", 0.80), 2)
    8.63
    """
    return 1000.0 * share / ACIDS[acid].molar_mass * protons_given(acid, ph)


def normality(acid: str, share: float, ph: float = MASH_PH) -> float:
    """Return what a litre of the acid takes away of alkalinity, eq to the L, which is meq to the mL.

    acid, share, ph: as in `equivalents`; the share no higher than the acid is sold as a solution.
    Source: definition, with `density`.

    >>> [round(normality(*acid), 2) for acid in (("lactic acid", 0.80), ("phosphoric acid", 0.75))]
    [10.23, 12.26]
    """
    return equivalents(acid, share, ph) * density(acid, share)


def density(acid: str, share: float) -> float:
    """Return the density of a solution of the acid at 20 degC, kg/L.

    acid: a key of ACIDS; share: of the pure acid by weight, from 0 to the strongest that is sold.
    Source: tables named at ACIDS, straight between their rows, which is within 0.5 %.

    >>> round(density("lactic acid", 0.88), 3)
    1.203
    """
    for (weaker, lighter), (stronger, heavier) in pairwise(ACIDS[acid].densities):
        if weaker <= share <= stronger:
            return lighter + (heavier - lighter) * (share - weaker) / (stronger - weaker)
    raise ValueError(f"the density of {acid} of {100.0 * share:g} % is not known: weigh it")


def alkalinity_neutralised(equivalents: float, volume: float) -> float:
    """Return the alkalinity that acid takes out of liquor, meq/L.

    equivalents: eq of all acid that went in; volume: L of the liquor, above 0.
    Source: definition. What is more than the liquor's own alkalinity goes on to lower the mash's pH.

    >>> round(alkalinity_neutralised(0.003 * normality("lactic acid", 0.80), 14.0), 2)
    2.19
    """
    if volume <= 0.0:
        raise ValueError(f"acid goes into liquor, not into {volume:g} L")
    return 1000.0 * equivalents / volume


def brought_ion(acid: str, ion: str, equivalents: float, volume: float, ph: float = MASH_PH) -> float:
    """Return what an acid adds of an ion, mg/L: hydrochloric acid of chloride, sulfuric acid of sulfate.

    acid: a key of ACIDS; ion: `chloride`, `sulfate` or any other, of which there is 0; equivalents: eq of it, at that pH;
    volume: L of liquor, above 0.
    Source: the ion's share of the molar mass; atomic weights of the IUPAC.

    >>> round(brought_ion("hydrochloric acid", "chloride", 0.020, 20.0), 1)
    35.5
    """
    of_pure = equivalents * ACIDS[acid].molar_mass / protons_given(acid, ph)  # g
    return 1000.0 * of_pure * ACIDS[acid].ions.get(ion, 0.0) / volume
