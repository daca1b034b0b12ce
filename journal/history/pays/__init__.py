"""What pays first in a brewhouse: where the extract goes, what would bring more of it into the fermenter, and what that is worth.

In: the balanced batches of one brewhouse with their figures, and what moved among them. Out: `Pays`, plain values. The latest batches'
habits are found together (`level.py`), the batches brewed again by the balance's own model with one thing changed (`habitual.py`,
`account.py`). Knows no page and writes nothing.
"""

from journal.history.pays.answer import (
    PLACES,
    ExtractLoss,
    Habit,
    PayingChange,
    Pays,
    SpargeTable,
)
from journal.history.pays.what_pays import StudiedRecord, what_pays

__all__ = [
    "PLACES",
    "ExtractLoss",
    "Habit",
    "PayingChange",
    "Pays",
    "SpargeTable",
    "StudiedRecord",
    "what_pays",
]
