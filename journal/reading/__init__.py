"""From text to batches.

In: the files under entries/. Out: a `Journal` of `Batch`es whose every value keeps its place, the brewery's settings,
the malts, and the problems on the way. Imports `measures` and `problems` only; it reads files and writes none.
"""

from importlib import import_module
from typing import TYPE_CHECKING

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


def __getattr__(name: str) -> object:
    """A name from the module that holds it, loaded when it is first asked for: where nothing has changed nothing is read."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
