"""What earlier builds worked out, kept for the next.

In: values by the digest of everything they hang on. Out: the same values, from memory (`InProcessCache`) or from a file in the user's
own cache folder (`FileCache`); where neither has one, it is made. May be deleted at any time, and is never spoken of.
"""

from journal.publishing.cache.file_cache import FileCache
from journal.publishing.cache.in_process import InProcessCache
from journal.publishing.cache.program import program_digest

__all__ = ["FileCache", "InProcessCache", "program_digest"]
