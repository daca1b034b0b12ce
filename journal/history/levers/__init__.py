"""Which of a brewer's practices goes with a better figure, by the record alone, or that the record can't tell.

In: one row a batch with plain numbers (`Row`): what it gave less what its grist explains, how sure that is, its lots of
malt, and how each lever was set, made ready once (`prepare`). Out: each lever's effect with its interval and verdict
(`measure`, `judge`), pairs of batches that differ in one lever only (`matched_pairs`), the change on the next brew that would
tell most (`settle_each`). All of it is association: what else changed unrecorded stays unknown. The same rows always give the
same results. Of ours it imports the table of levers and the distributions.
"""

from journal.history.levers.pairs import MatchedPair, matched_pairs
from journal.history.levers.rows import Row
from journal.history.levers.settle import Settling, settle_each
from journal.history.levers.study import LeverResult, Prepared, count_looked_at, judge, measure, prepare, spread_between

__all__ = [
    "LeverResult",
    "MatchedPair",
    "Prepared",
    "Row",
    "Settling",
    "count_looked_at",
    "judge",
    "matched_pairs",
    "measure",
    "prepare",
    "settle_each",
    "spread_between",
]
