"""Alkalinity and hardness of brewing liquor."""

# kg/kmol
_CALCIUM_CARBONATE = 100.087
_CALCIUM = 40.078
_MAGNESIUM = 24.305
_CALCIUM_OXIDE = 56.077


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
