"""What pays first in a brewhouse: where the extract goes, what would bring more of it into the fermenter, and what that is worth.

In: the balanced batches of one brewhouse with their figures, and what moved among them. Out: `Pays`, plain values. The latest batches'
habits are found together (`level.py`), the batches brewed again by the balance's own model with one thing changed (`habitual.py`,
`account.py`). Knows no page and writes nothing.

One batch can't tell the dead space from the water held, batches of other sizes can: so the latest twenty that count are added up as
information matrices, with the spread from batch to batch between (`level.py`). A gain's interval knows that both sides share what nobody
knows. Gains by the record are of factors that are clear; what may be an instrument's doing is promised nothing (`doubts.py`). How thick
the mash should be has one answer: where the record is clear of it, the run-off's part is added and the model's own changes left out.
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
