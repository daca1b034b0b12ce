"""What happens under the folders of a journal, as a call for a rebuild."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from watchfiles import watch

from journal.pages.themes_folder import themes_folder
from journal.publishing.watch.live import Live, State
from journal.reading.files import ENTRIES

#: Milliseconds: changes that follow one another so closely are one; and the longest that is waited for an end of them.
_STEP, _LONGEST = 40, 800
#: Seconds between looks for a folder that is gone.
_LOOK_AGAIN = 0.5
#: Milliseconds between looks for a folder that has come.
_LOOK_FOR_FOLDERS = 1000


def folders_to_watch(live: Live) -> list[Path]:
    """The folders whose every event calls for a rebuild: entries, and the looks."""
    folders = (live.root / ENTRIES, live.root / "themes", themes_folder())
    return list(dict.fromkeys(folder.resolve() for folder in folders if folder.is_dir()))


def keep_watch(live: Live, say: Callable[[State], None], stop: threading.Event | None = None) -> None:
    """Build at the start and after every change, until `stop`; `say`, which raises nothing, hears how each build went.

    Any event is taken as a call to look at everything: editors save by renaming, and version control changes two hundred files at
    once.
    """
    stop = stop or threading.Event()
    missed = False
    while not stop.is_set():
        live.build(say)
        folders = folders_to_watch(live)
        if not (live.root / ENTRIES).is_dir():
            stop.wait(_LOOK_AGAIN)
            continue
        try:
            for changes in watch(
                *folders,
                step=_STEP,
                debounce=_LONGEST,
                stop_event=stop,
                watch_filter=None,
                raise_interrupt=True,
                rust_timeout=_LOOK_FOR_FOLDERS,
                yield_on_timeout=True,
            ):
                if folders_to_watch(live) != folders:
                    # entries/ is gone, or a theme's folder has come; what happens until that is watched would be missed
                    missed = True
                    break
                if changes or missed:
                    live.build(say)
                missed = False
        except (OSError, RuntimeError):
            # a watched folder went away while it was being looked at
            stop.wait(_LOOK_AGAIN)
