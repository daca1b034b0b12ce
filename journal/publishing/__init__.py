"""The one that writes.

In: a journal's folder. Out: the site in its output folder, and a `BuildOutcome` that says what was written and what is
wrong. Everything else only takes values and returns values.
"""

from importlib import import_module
from typing import TYPE_CHECKING

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


def __getattr__(name: str) -> object:
    """A name from the module that holds it, loaded when it is first asked for: who only checks makes no page."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
