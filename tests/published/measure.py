"""How right Wortbook is, held to what others measured.

`python tests/published/measure.py` prints the table that stands in DEVELOPERS.md; `--write` brings the numbers that the site's page shows
up to date besides. `tests/published/test_page.py` holds those to this measurement.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from published.sets import PublishedSet, published_sets

_HEAD = ("set", "points", "mean difference", "rms", "worst", "own ±", "within", "unit")
_WIDTHS = (54, 8, 17, 8, 9, 8, 8, 0)


def row(found: PublishedSet) -> tuple[str, ...]:
    """A set as the table has it."""
    places = found.decimals
    return (
        found.words,
        str(len(found.points)),
        f"{found.mean:+.{places}f}",
        f"{found.rms:.{places}f}",
        f"{found.worst:+.{places}f}",
        f"{found.promised:.{places}f}",
        f"{found.within:.0%}",
        found.unit,
    )


def table(sets: tuple[PublishedSet, ...]) -> Iterator[str]:
    """The table, line by line."""
    for cells in (_HEAD, *(row(found) for found in sets)):
        words, *numbers = cells
        line = f"{words:<{_WIDTHS[0]}}" + "".join(
            f"{cell:>{width}}" for cell, width in zip(numbers[:-1], _WIDTHS[1:-1], strict=True)
        )
        yield f"{line}  {numbers[-1]}"


if __name__ == "__main__":
    print("\n".join(table(published_sets())))
