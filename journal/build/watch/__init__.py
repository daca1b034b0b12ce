"""The journal live: rebuilt at every change and shown on this machine.

In: a journal's folder. Out: a site kept up to date, served to browsers that refresh themselves; what is wrong lies on top of the
pages until it is mended. Builds through `build`'s own route, writes only to the output folder, and is imported by `cli` alone.
"""

from journal.build.watch.live import Live, State
from journal.build.watch.server import Server
from journal.build.watch.watch import keep_watch

__all__ = ["Live", "Server", "State", "keep_watch"]
