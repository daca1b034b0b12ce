"""Many batches: what the brewery's own record teaches.

In: the journal and the figures of its batches. Out: each batch's balance, struck with what the earlier ones taught, and the
`History` of each brewhouse: what it does, what changed and when, which practice goes with it, what is worth how much. Imports
`balance`, `figures`, `reading`, `science`; knows no page and writes nothing.
"""

from journal.history.fold import balance_all
from journal.history.story import BrewhouseStory, FigureCourse, History, LeverStudy, history_of

__all__ = ["BrewhouseStory", "FigureCourse", "History", "LeverStudy", "balance_all", "history_of"]
