"""A table of batches, a row a batch: an old notebook's read into entries, the journal's written out.

A column's head is the path of a field, with the unit of its numbers or the form of its dates in brackets:
`boil.before.volume (L)`, `grains pale malt (kg)`, `brewed (DD.MM.YYYY)`. In: a table's text and what its heads mean. Out: a
new file for each row, never over one; or the text of a table.
"""

from journal.publishing.table.take_in import Taken, take_in
from journal.publishing.table.write_out import write_out

__all__ = ["Taken", "take_in", "write_out"]
