"""What one wort of a mash leaves to the others of the same mash, for the account of where the extract went."""

from __future__ import annotations

import math

from journal.figures.mash_shared import worts_of
from journal.frozen import dataclass
from journal.pages.index import Index
from journal.problems import in_words
from journal.reading import Batch


@dataclass(frozen=True)
class OtherWorts:
    """Extract of the grist that reached the other worts' kettles, kg with its standard uncertainty, and whose they are."""

    value: float
    sd: float
    words: str


def other_worts(index: Index, batch: Batch) -> OtherWorts | None:
    """That of the batch that has the grist; None where it can't be told: a kettle is not known, or another wort had grain of its own."""
    others = [wort for wort in worts_of(batch) if wort.id != batch.id]
    if batch.second_wort_of or any(wort.grains for wort in others):
        return None
    value = variance = 0.0
    for wort in others:
        kettle, early = (index.result(wort, name) for name in ("kettle_extract", "early_extract"))
        if kettle is None:
            return None
        value += kettle.value - (early.value if early else 0.0)
        variance += kettle.sd**2 + (early.sd**2 if early else 0.0)
    return OtherWorts(value, math.sqrt(variance), in_words([wort.id for wort in others]))
