"""Densities as handbooks print them, interpolated: what the simulated breweries brew by, and no formula of the package's."""

from __future__ import annotations

import numpy as np

#: Sucrose in water at 20 °C, kg/m3 by per cent of weight: CRC Handbook of Chemistry and Physics, "Concentrative
#: Properties of Aqueous Solutions: Sucrose", printed to 0.1.
CRC = {0: 998.2, 1: 1002.1, 2: 1006.0, 3: 1009.9, 4: 1013.9, 5: 1017.8, 6: 1021.8, 7: 1025.9, 8: 1029.9, 9: 1034.0}
CRC |= {10: 1038.1, 11: 1042.3, 12: 1046.5, 13: 1050.7, 14: 1054.9, 15: 1059.2, 16: 1063.5, 17: 1067.8, 18: 1072.2}
CRC |= {19: 1076.6, 20: 1081.0, 22: 1089.9, 24: 1099.0, 26: 1108.2, 28: 1117.5, 30: 1127.0, 32: 1136.6, 34: 1146.4}
#: Liquid water at 101.325 kPa, kg/m3 by °C: IAPWS-95, the formulation of the International Association for the
#: Properties of Water and Steam (Wagner & Pruß 2002), rounded to 0.001.
IAPWS = {0.01: 999.844, 10: 999.702, 20: 998.207, 30: 995.649, 40: 992.216, 50: 988.035, 60: 983.196, 65: 980.551}
IAPWS |= {70: 977.765, 75: 974.843, 80: 971.790, 85: 968.611, 90: 965.310, 95: 961.888, 99: 959.066}
#: Ordinary room air, kg/m3 (common practice).
_AIR = 1.2
_SUCROSE = np.array(list(CRC.items())).T
_WATER = np.array(list(IAPWS.items())).T


def density(strength: float) -> float:
    """kg/L of wort at 20 °C, of a strength in per cent by weight."""
    return float(np.interp(strength, *_SUCROSE)) / 1000


def gravity(strength: float) -> float:
    """Specific gravity 20/20 as weighed in air."""
    return (1000 * density(strength) - _AIR) / (CRC[0] - _AIR)


def swollen(temperature: float) -> float:
    """How many times its volume at 20 °C water takes up."""
    return IAPWS[20] / float(np.interp(temperature, *_WATER))
