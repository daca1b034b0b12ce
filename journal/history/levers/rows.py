"""What goes in: the batches of a record as plain values, and how far a lever must move to be worth a word."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field

import numpy as np

from journal.frozen import dataclass
from journal.history.settings import Setting, lever_of
from journal.numerics import Matrix

#: The lever whose words are the names of lots.
MALT_LOT = "malt_lot"

#: The useful unit of a brewer's own number, as a share of the largest one tried.
_OWN = 0.1


@dataclass(frozen=True)
class Row:
    """One batch as the study of levers sees it; rows come in order of date.

    `value`: what it gave less what its grist explains, as a fraction. `sd`: its standard uncertainty (>= 0), without what
    all batches of a lot share. `lots`: each malt lot's share of the grist's extract, 0 to 1. `settings`: each lever's
    setting by name, in the unit of its figure; a lever that was not recorded is absent. `method`: how it was lautered, empty where
    that is not known. `most`: by lever, the highest setting that the vessels have room for with this grist.
    """

    batch: str
    value: float
    sd: float
    lots: Mapping[str, float]
    settings: Mapping[str, Setting]
    method: str = ""
    most: Mapping[str, float] = field(default_factory=dict)


def useful_unit(lever: str, numbers: Iterable[float]) -> float:
    """The smallest change of a lever worth a word, in its own unit; for a brewer's own number by the largest one tried."""
    known = lever_of(lever).useful
    return known if known is not None else _OWN * max((abs(number) for number in numbers), default=0.0)


def word(setting: Setting) -> str:
    """A setting as the name of its group."""
    if isinstance(setting, bool):
        return "yes" if setting else "no"
    return setting if isinstance(setting, str) else f"{setting:g}"


def is_number(setting: Setting) -> bool:
    """Whether a setting is a number (yes and no are words)."""
    return isinstance(setting, (int, float)) and not isinstance(setting, bool)


def lot_matrix(rows: Iterable[Row]) -> tuple[tuple[str, ...], Matrix]:
    """The lots in order of first use, and each batch's shares of them, batches × lots."""
    listed = list(rows)
    names = tuple(dict.fromkeys(lot for row in listed for lot in row.lots))
    at = {lot: column for column, lot in enumerate(names)}
    shares = np.zeros((len(listed), len(names)))
    for index, row in enumerate(listed):
        for lot, share in row.lots.items():
            shares[index, at[lot]] = share
    return names, shares
