"""The journal live: rebuilt at every change and shown on this machine.

In: a journal's folder. Out: a site kept up to date, served to browsers that refresh themselves; what is wrong lies on top of the
pages until it is mended. Builds through `publishing`'s one route, writes only to the output folder, and is imported by `cli` alone.
"""

from journal.publishing.watch.live import Live, State
from journal.publishing.watch.server import Server
from journal.publishing.watch.watch import keep_watch

__all__ = ["Live", "Server", "State", "keep_watch"]
