"""A new entry: the next brew drafted and written down, never over a file that is there.

In: what is known of a journal, and what the brewer wants. Out: the text of an entry, and where it was written, or why not.
Plans by `history/plan`; imports no page. The only code that writes under `entries/`.
"""

from journal.publishing.begin.begin import WrittenEntry, begin
from journal.publishing.begin.request import Request

__all__ = ["Request", "WrittenEntry", "begin"]
