"""Alkalinity and hardness of brewing liquor, and the salts that change it."""

from collections.abc import Mapping
from types import MappingProxyType

# kg/kmol, abridged standard atomic weights of the IUPAC
_HYDROGEN, _CARBON, _OXYGEN, _SODIUM = 1.008, 12.011, 15.999, 22.990
_MAGNESIUM, _SULFUR, _CHLORINE, _CALCIUM = 24.305, 32.06, 35.45, 40.078
_CARBONATE = _CARBON + 3 * _OXYGEN
_BICARBONATE = _HYDROGEN + _CARBONATE
_SULFATE = _SULFUR + 4 * _OXYGEN
_WATER = 2 * _HYDROGEN + _OXYGEN
_CALCIUM_CARBONATE = _CALCIUM + _CARBONATE
_CALCIUM_OXIDE = _CALCIUM + _OXYGEN

#: What a salt may bring, all but the last as the ion, the last as CaCO3.
IONS = ("calcium", "magnesium", "sodium", "sulfate", "chloride", "alkalinity")


def _shares(mass: float, **parts: float) -> Mapping[str, float]:
    return MappingProxyType({name: part / mass for name, part in parts.items()})


#: kg of each ion, and of alkalinity as CaCO3, in a kg of the salt. Magnesium chloride is sold with six molecules of water.
SALTS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "gypsum": _shares(_CALCIUM + _SULFATE + 2 * _WATER, calcium=_CALCIUM, sulfate=_SULFATE),
        "calcium chloride dihydrate": _shares(
            _CALCIUM + 2 * _CHLORINE + 2 * _WATER, calcium=_CALCIUM, chloride=2 * _CHLORINE
        ),
        "calcium chloride, anhydrous": _shares(_CALCIUM + 2 * _CHLORINE, calcium=_CALCIUM, chloride=2 * _CHLORINE),
        "Epsom salt": _shares(_MAGNESIUM + _SULFATE + 7 * _WATER, magnesium=_MAGNESIUM, sulfate=_SULFATE),
        "magnesium chloride": _shares(
            _MAGNESIUM + 2 * _CHLORINE + 6 * _WATER, magnesium=_MAGNESIUM, chloride=2 * _CHLORINE
        ),
        "table salt": _shares(_SODIUM + _CHLORINE, sodium=_SODIUM, chloride=_CHLORINE),
        "chalk": _shares(_CALCIUM_CARBONATE, calcium=_CALCIUM, alkalinity=_CALCIUM_CARBONATE),
        "baking soda": _shares(_SODIUM + _BICARBONATE, sodium=_SODIUM, alkalinity=_CALCIUM_CARBONATE / 2),
        "slaked lime": _shares(_CALCIUM + 2 * (_OXYGEN + _HYDROGEN), calcium=_CALCIUM, alkalinity=_CALCIUM_CARBONATE),
    }
)


def residual_alkalinity(calcium: float, magnesium: float, alkalinity: float) -> float:
    """Return the residual alkalinity, mg/L as CaCO3; below 0 where hardness outweighs alkalinity.

    calcium, magnesium: mg/L of the ion, 0 to 400; alkalinity: mg/L as CaCO3, 0 to 500.
    Kolbach found it in cast-out wort from a thin mash: a way to compare liquors, not to foretell a mash's pH.
    Source: P. Kolbach (1953): alkalinity less calcium hardness/3.5 less magnesium hardness/7, all as CaCO3.

    >>> round(residual_alkalinity(50.0, 10.0, 100.0), 2)
    58.44
    """
    calcium_hardness = calcium * _CALCIUM_CARBONATE / _CALCIUM
    magnesium_hardness = magnesium * _CALCIUM_CARBONATE / _MAGNESIUM
    return alkalinity - calcium_hardness / 3.5 - magnesium_hardness / 7.0


def german_degrees(as_calcium_carbonate: float) -> float:
    """Return hardness or alkalinity in German degrees, degdH.

    as_calcium_carbonate: mg/L as CaCO3, any value.
    Source: definition, 1 degdH is 10 mg/L of CaO, 17.848 mg/L as CaCO3.

    >>> round(german_degrees(100.0), 3)
    5.603
    """
    return as_calcium_carbonate * _CALCIUM_OXIDE / _CALCIUM_CARBONATE / 10.0


def alkalinity_from_bicarbonate(bicarbonate: float) -> float:
    """Return the alkalinity, mg/L as CaCO3.

    bicarbonate: mg/L of the ion, 0 to 600, of water below pH 8.3, where hardly any carbonate is with it.
    Source: definition, half a mole of CaCO3 to a mole of bicarbonate; atomic weights of the IUPAC.

    >>> round(alkalinity_from_bicarbonate(122.0), 1)
    100.1
    """
    return bicarbonate * (_CALCIUM_CARBONATE / 2) / _BICARBONATE


def equivalents_of_alkalinity(as_calcium_carbonate: float) -> float:
    """Return alkalinity in meq/L.

    as_calcium_carbonate: mg/L as CaCO3, any value.
    Source: definition, 2 eq to the mol of CaCO3.

    >>> round(equivalents_of_alkalinity(100.0), 3)
    1.998
    """
    return 2.0 * as_calcium_carbonate / _CALCIUM_CARBONATE


def dissolved_ion(salt: str, ion: str, weight: float, volume: float) -> float:
    """Return what a salt adds, mg/L of an ion, or of alkalinity as CaCO3.

    salt: a key of SALTS; ion: one of IONS; weight: kg; volume: L of liquor, above 0. All of it is taken to dissolve, which
    chalk in plain water hardly does.
    Source: shares of the molar mass; atomic weights of the IUPAC.

    >>> round(dissolved_ion("gypsum", "calcium", 0.004, 14.0), 1)
    66.5
    """
    return SALTS[salt].get(ion, 0.0) * weight * 1e6 / volume
