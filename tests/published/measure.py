"""How right Wortbook is, held to what others measured.

`python tests/published/measure.py` prints the table that stands in tests/measured/published.md; `--write` brings the numbers that
the site's page shows up to date besides. `tests/published/test_page.py` holds those to this measurement.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from published.sets import PublishedSet, published_sets

NUMBERS_FILE = Path(__file__).parents[2] / "journal" / "pages" / "site" / "how_right_numbers.py"
_MODULE = '''"""How far Wortbook lies from what others measured; written by `python tests/published/measure.py --write`."""

# fmt: off
# ruff: noqa: E501  # a set to a line

from __future__ import annotations

from typing import NamedTuple


class SetNumbers(NamedTuple):
    """One set of `points` numbers: mean, rms and worst difference and the ± promised in its unit; the share within that, and each
    difference over the ± promised for it."""

    points: int
    mean: float
    rms: float
    worst: float
    promised: float
    within: float
    differences: tuple[float, ...]


NUMBERS = {{
{numbers}
}}
'''
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


def module_text(sets: tuple[PublishedSet, ...]) -> str:
    """The module of numbers that the site's page shows."""
    lines = [
        f"    {found.name!r}: SetNumbers({len(found.points)}, {_rounded(found.mean)}, {_rounded(found.rms)}, {_rounded(found.worst)}, "
        f"{_rounded(found.promised)}, {_rounded(found.within)}, ({', '.join(_shares(found))},)),"
        for found in sets
    ]
    return _MODULE.format(numbers="\n".join(line.replace("'", '"') for line in lines))


def _rounded(value: float) -> str:
    return repr(round(value, 4) + 0.0)


def _shares(found: PublishedSet) -> Iterator[str]:
    return (repr(round(point.difference / point.sd, 2) + 0.0) for point in found.points)


def main(words: list[str]) -> None:
    """Print the table; bring the page's numbers up to date if asked to."""
    sets = published_sets()
    print("\n".join(table(sets)))
    if "--write" in words:
        NUMBERS_FILE.write_text(module_text(sets), encoding="utf-8")
        print(f"written: {NUMBERS_FILE.name}")


if __name__ == "__main__":
    main(sys.argv[1:])
