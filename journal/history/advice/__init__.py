"""Notes a brewer would give a friend on a batch: each with its reason and where it comes from, none as a verdict.

In: a batch with its figures, the journal, the batches brewed before it. Out: `Advice`, in the order of the work.
"""

from __future__ import annotations

from collections.abc import Sequence

from journal.figures import BatchFigures
from journal.history.advice import bed, before, mash
from journal.history.advice.advice import Advice, AdvisedBatch
from journal.reading import Batch, Journal

__all__ = ["RULES", "Advice", "advice_of"]

#: Every rule, in the order of the work.
RULES = (*before.RULES, *mash.RULES, *bed.RULES)


def advice_of(batch: Batch, figures: BatchFigures, journal: Journal, earlier: Sequence[Batch]) -> tuple[Advice, ...]:
    """What a friend would note on a batch; `earlier` are the batches of the journal brewed before it, in order of date."""
    advised = AdvisedBatch(batch, figures, journal, tuple(earlier))
    notes = (rule(advised) for rule in RULES)
    return tuple(note for note in notes if note is not None)
