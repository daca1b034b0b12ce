"""Many batches: what the brewery's own record teaches.

In: the journal and the figures of its batches. Out: each batch's balance, struck with what the earlier ones taught.
Imports `balance`, `figures`, `reading`; knows no page and writes nothing.
"""

from journal.history.fold import balance_all

__all__ = ["balance_all"]
