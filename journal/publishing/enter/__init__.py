"""Readings of a brew day put into its planned entry: blank fields filled, lines added, nothing of the brewer's touched.

In: the entry and what the working sheet gave, both as text. Out: the entry's new text, which is the old one with something
added here and there; or why nothing may be added. `write` puts it in place, whole or not at all.
"""

from journal.publishing.enter.enter import Entered, enter
from journal.publishing.enter.write import write

__all__ = ["Entered", "enter", "write"]
