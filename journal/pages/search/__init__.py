"""Finding a batch by its words: the files that the search page reads.

In: a `Record`. Out: scripts by path, one with the words and where they occur, the others with the prose that excerpts are
cut from, a stretch of batches each. They are scripts because a page opened from disk may load scripts and nothing else.
"""

from journal.pages.search.files import search_files

__all__ = ["search_files"]
