"""The one that writes.

In: a journal's folder. Out: the site in its output folder, and a `BuildOutcome` that says what was written and what is
wrong. Everything else only takes values and returns values.
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
