"""From text to batches.

In: the files under entries/. Out: a `Journal` of `Batch`es whose every value keeps its place, the brewery's settings,
the malts, and the problems on the way. Imports `measures` and `problems` only; it reads files and writes none.
"""

from typing import TYPE_CHECKING

from journal.lazy import load_when_asked

if TYPE_CHECKING:
    from journal.reading.brewery import Brewery, Brewhouse
    from journal.reading.collect import Entry, Journal, id_order, read_brewery, read_entry, read_journal, read_malts
    from journal.reading.entry import Batch
    from journal.reading.malts import Malts, MaltValues, StatedValue, resolve

__all__ = [
    "Batch",
    "Brewery",
    "Brewhouse",
    "Entry",
    "Journal",
    "MaltValues",
    "Malts",
    "StatedValue",
    "id_order",
    "read_brewery",
    "read_entry",
    "read_journal",
    "read_malts",
    "resolve",
]

_HOMES = {
    "Batch": "entry",
    "Brewery": "brewery",
    "Brewhouse": "brewery",
    "Entry": "collect",
    "Journal": "collect",
    "MaltValues": "malts",
    "Malts": "malts",
    "StatedValue": "malts",
    "id_order": "collect",
    "read_brewery": "collect",
    "read_entry": "collect",
    "read_journal": "collect",
    "read_malts": "collect",
    "resolve": "malts",
}

__getattr__ = load_when_asked(__name__, _HOMES)
