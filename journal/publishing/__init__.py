"""The one that writes.

In: a journal's folder. Out: the site in its output folder, and a `BuildOutcome` that says what was written and what is
wrong. Everything else only takes values and returns values.

Nothing lost: a build holds a lock (`lock.py`), puts new files into `.wortbook-new` inside the output folder, and has them moved
when all are there (`moving.py`). Many files can't change places in one step, two folders can: a copy of the new site is made
next door of hard links, changes places with the output folder (`renameat2`, RENAME_EXCHANGE), the files are moved unseen, and
the folder comes back (`stand_in.py`), the same one as before for a shell that stands in it. If the build is ended meanwhile, the
next one finishes it. Where folders can't change places files are moved in sight, new ones first, pages after what they show, the
front page last, then removals; the manifest knows of both states. What is new is on the disk before it takes its place, but for
a watched journal, which is built again in a moment. A file that no build wrote is neither written over nor deleted, and a page
changed by hand is not deleted.

Worker processes watch their parent and end with it (`worker_pool.py`); if one is killed, the parent does its tasks.
"""

from typing import TYPE_CHECKING

from journal.lazy import load_when_asked

if TYPE_CHECKING:
    from journal.publishing.progress import Progress
    from journal.publishing.route import Broken, BuildOutcome, build
    from journal.publishing.understanding import understand, with_history

__all__ = ["Broken", "BuildOutcome", "Progress", "build", "understand", "with_history"]

_HOMES = {
    "Broken": "route",
    "BuildOutcome": "route",
    "build": "route",
    "Progress": "progress",
    "understand": "understanding",
    "with_history": "understanding",
}

__getattr__ = load_when_asked(__name__, _HOMES)
