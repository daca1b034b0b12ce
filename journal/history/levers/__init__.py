"""Which of a brewer's practices goes with a better figure, by the record alone, or that the record can't tell.

In: one row a batch with plain numbers (`Row`): what it gave less what its grist explains, how sure that is, its lots of
malt, and how each lever was set, made ready once (`prepare`). Out: each lever's effect with its interval and verdict
(`study`), pairs of batches that differ in one lever only (`matched_pairs`), the change on the next brew that would tell
most (`settle`). All of it is association: what else changed
unrecorded stays unknown. The same rows always give the same results. Of ours it imports the table of levers and the
distributions.
"""

from journal.history.levers.pairs import MatchedPair, matched_pairs
from journal.history.levers.rows import Row
from journal.history.levers.settle import Settling, settle, settle_each
from journal.history.levers.study import LeverResult, Prepared, prepare, spread_between, study
from journal.history.settings import Setting

__all__ = [
    "LeverResult",
    "MatchedPair",
    "Prepared",
    "Row",
    "Setting",
    "Settling",
    "matched_pairs",
    "prepare",
    "settle",
    "settle_each",
    "spread_between",
    "study",
]
