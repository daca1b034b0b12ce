"""Where a new entry goes, and the writing of it: never over a file that is there."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from journal.pages.paths import slug
from journal.publishing.refused import Refused
from journal.reading import Journal
from journal.reading.files import ENTRIES


def entry_path(journal: Journal, number: str, title: str, day: date) -> Path:
    """The file of a new entry, in the year's folder if the journal keeps its entries by year."""
    folder = journal.root / ENTRIES
    years = {Path(entry.file).parts[1] for entry in journal.entries if len(Path(entry.file).parts) > 2}
    by_year = not journal.entries or any(year.isdigit() and len(year) == 4 for year in years)
    return (folder / f"{day.year}" if by_year else folder) / f"{number.zfill(2)}-{slug(title).lower()}.md"


def write_new(journal: Journal, path: Path, text: str) -> Refused | None:
    """Write a new entry; why it was not, where something stands in its way. What is there is left as it is."""
    if not (journal.root / ENTRIES).is_dir():
        why = f"{journal.root} has no folder called {ENTRIES}/. Make one, or go to where your journal is."
        return Refused(why, misused=False)
    shown = path.relative_to(journal.root).as_posix()
    try:
        path.parent.mkdir(exist_ok=True)
        # x: never over a file that is there
        with path.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        return Refused(f"{shown} is there already; it is left as it is.", misused=False)
    except OSError as error:
        return Refused(f"{shown} can't be written: {error.strerror}.", misused=False)
    return None
