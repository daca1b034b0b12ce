"""A brewed batch with something otherwise: what it would have come to, and what each number rests on.

In: a batch with its balance, the same batch read with some fields otherwise (`reading/otherwise.py`), what the record says of factors.
Out: `WhatIf`, plain values. Writes nothing.
"""

from journal.history.what_if.answer import OutcomeChange, WhatIf
from journal.history.what_if.what_if import VESSEL_FIELDS, BrewedDay, VesselChange, what_if

__all__ = ["VESSEL_FIELDS", "BrewedDay", "OutcomeChange", "VesselChange", "WhatIf", "what_if"]
