"""How much a brewhouse scatters from batch to batch, and whether its instruments are as good as they claim.

By the differences of neighbours, so that a level that moves counts in one of them only.
"""

from __future__ import annotations

import numpy as np

from journal.balance.priors import usual_spread
from journal.history.moved.causes import HABITS
from journal.numerics import Vector

#: Natural logarithms of the factors within which common practice knows a brewhouse's spread, and a brewer an instrument.
_SPREAD_KNOWN, _INSTRUMENT_KNOWN = 0.5, 0.25
#: Of the information that differences of neighbours seem to hold, the part they do: each batch stands in two of them
#: (J. von Neumann, Ann. Math. Stat. 12 (1941) 367: the mean square successive difference is two thirds as efficient).
_NEIGHBOURS_KNOW = 2.0 / 3.0
_STEPS = 12


def scatter(residuals: Vector, habits: Vector, noise: Vector, fixed: Vector) -> tuple[Vector, Vector]:
    """Spread of each habit and the factor of each kind of noise, from patterns in order of date.

    residuals: batches × readings. habits: batches × readings × habits. noise: kinds × batches × readings × readings, each
    kind scaled by one factor. fixed: batches × readings × readings.

    The most likely values under log-normal expectations, by Fisher's scoring on their logarithms.
    """
    differences = np.diff(residuals, axis=0)
    parts = [
        *(np.einsum("bi,bj->bij", habits[:, :, k], habits[:, :, k]) for k in range(habits.shape[2])),
        *noise,
    ]
    pairs = np.array([part[1:] + part[:-1] for part in parts])
    rest = fixed[1:] + fixed[:-1]
    usual = np.log(np.array([*(usual_spread(name) ** 2 for name in HABITS), *([1.0] * len(noise))]))
    doubt = np.array([*([2 * _SPREAD_KNOWN] * len(HABITS)), *([2 * _INSTRUMENT_KNOWN] * len(noise))])
    logs = usual.copy()
    for _ in range(_STEPS):
        inner = np.exp(logs)
        inverse = np.linalg.inv(np.einsum("k,kbij->bij", inner, pairs) + rest)
        weighed = np.einsum("bij,kbjl->kbil", inverse, pairs * inner[:, None, None, None])
        bent = np.einsum("bij,bj->bi", inverse, differences)
        fit = np.einsum("bi,kbij,bj->k", bent, pairs * inner[:, None, None, None], bent)
        slope = _NEIGHBOURS_KNOW * 0.5 * (fit - np.einsum("kbii->k", weighed)) - (logs - usual) / doubt**2
        curve = _NEIGHBOURS_KNOW * 0.5 * np.einsum("kbij,lbji->kl", weighed, weighed) + np.diag(doubt**-2)
        step = np.linalg.solve(curve, slope)
        logs = logs + np.clip(step, -1.0, 1.0)
        if np.max(np.abs(step)) < 1e-3:
            break
    found = np.exp(logs)
    return np.sqrt(found[: len(HABITS)]), found[len(HABITS) :]
