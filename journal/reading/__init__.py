"""From text to batches.

In: the files under entries/. Out: a `Journal` of `Batch`es whose every value keeps its place, the brewery's settings,
the malts, and the problems on the way. Imports `measures` and `problems` only; it reads files and writes none.
"""

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
