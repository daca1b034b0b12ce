"""The brewer's natural experiments: two batches that differ in one lever only, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from journal.frozen import dataclass
from journal.history.levers.lever import Lever, levers_of
from journal.history.levers.rows import Row, lot_matrix
from journal.history.settings import Setting
from journal.numerics import Mask, Matrix

#: Pairs that are listed of each lever.
MOST = 20
#: Batches, the latest, that pairs are looked for among: every one is held against every other.
FAR_BACK = 400


@dataclass(frozen=True)
class MatchedPair:
    """Two batches that differ in one lever only, the earlier one first.

    `difference`: the second's value less the first's, a fraction, with its standard uncertainty `sd`. `informative`: useful
    units between the two settings (1 for words) per sd.
    """

    lever: str
    first: str
    second: str
    before: Setting
    after: Setting
    difference: float
    sd: float
    informative: float


def matched_pairs(rows: Sequence[Row], lot_sd: float, spread: float) -> list[MatchedPair]:
    """Pairs of batches alike in every lever but one, the most informative first, twenty a lever at most.

    Alike: less than a useful unit apart, the same word, or recorded in neither.
    Looked for among the latest FAR_BACK batches. `lot_sd`: standard uncertainty that batches of a lot share, which cancels
    as far as two batches are of the same lots.
    `spread`: standard deviation between batches beyond their own uncertainties. All are fractions.
    """
    rows = rows[-FAR_BACK:]
    levers = levers_of(rows)
    alike = {name: _alike(lever) for name, lever in levers.items()}
    unlike = sum((~same for same in alike.values()), np.zeros((len(rows), len(rows)), dtype=np.int64))
    sd = _sd(rows, lot_sd, spread)
    pairs = [
        pair
        for name, lever in levers.items()
        for pair in _pairs(rows, lever, np.triu(~alike[name] & (unlike == 1), 1), sd)
    ]
    return sorted(pairs, key=lambda pair: -pair.informative)


def _alike(lever: Lever) -> Mask:
    neither = ~lever.recorded[:, None] & ~lever.recorded[None, :]
    if lever.numbers is None:
        same: Mask = lever.group[:, None] == lever.group[None, :]
    else:
        apart = np.abs(lever.numbers[:, None] - lever.numbers[None, :])
        same = (apart < lever.unit * (1.0 - 1e-9)) | (apart == 0.0)
    return same | neither


def _sd(rows: Sequence[Row], lot_sd: float, spread: float) -> Matrix:
    """Standard uncertainty of every difference between two batches, batches × batches."""
    own = np.array([row.sd for row in rows]) ** 2 + spread**2
    _, shares = lot_matrix(rows)
    overlap = shares @ shares.T
    alone = np.diag(overlap)
    apart = np.maximum(alone[:, None] + alone[None, :] - 2.0 * overlap, 0.0)
    sd: Matrix = np.sqrt(own[:, None] + own[None, :] + lot_sd**2 * apart)
    return sd


def _pairs(rows: Sequence[Row], lever: Lever, wanted: Mask, sd: Matrix) -> Iterator[MatchedPair]:
    wanted = wanted & lever.recorded[:, None] & lever.recorded[None, :]
    first, second = np.nonzero(wanted)
    steps = np.ones(len(first))
    if lever.numbers is not None and lever.unit > 0.0:
        steps = np.abs(lever.numbers[second] - lever.numbers[first]) / lever.unit
    informative = steps / np.maximum(sd[first, second], 1e-300)
    for index in np.argsort(-informative, kind="stable")[:MOST]:
        one, other = rows[first[index]], rows[second[index]]
        yield MatchedPair(
            lever.name,
            one.batch,
            other.batch,
            one.settings[lever.name],
            other.settings[lever.name],
            other.value - one.value,
            float(sd[first[index], second[index]]),
            float(informative[index]),
        )
