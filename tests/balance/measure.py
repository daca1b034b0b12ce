"""How well the balance does on simulated batches with a known truth.

`python tests/balance/measure.py [BATCHES]` prints the table that stands in tests/measured/balance.md. It is a measurement, not a test:
the tests beside it run a small, seeded share of it.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.trials import AIMED, FAULTS, Judged, accused, bettered, caught, own, wide

_WORDS = {"wide": "wide expectations", "own": "the brewery's own"}
_WIDTH = 60


def clean_rows(count: int) -> Iterator[str]:
    """Clean batches: what the balance does for the efficiencies, and how many it accuses."""
    yield f"{'clean batches':<{_WIDTH}}{'error ratio':>12}{'90 % covers':>13}{'accused':>9}{'batches':>9}"
    clean = {"wide": list(wide(count, 1, None)), "own": list(own(max(count // 20, 2), 20, 2, [None]))}
    for kind, cases in clean.items():
        for name in ("mash_efficiency", "brewhouse_efficiency"):
            found = bettered(cases, name)
            row = f"{_WORDS[kind] + ', ' + name.replace('_', ' '):<{_WIDTH}}"
            yield f"{row}{found.error_ratio:>12.2f}{found.covers:>13.1%}{accused(cases):>9.1%}{len(cases):>9}"


def _caught_row(words: str, cases: list[Judged]) -> str:
    found = caught(cases)
    return f"{words:<{_WIDTH}}{found.flagged_share:>10.1%}{found.right_share:>15.1%}{'':>9}{found.cases:>9}"


def fault_rows(count: int) -> Iterator[str]:
    """Batches with one wrong reading: how many are flagged, and how many of those accuse the right one."""
    yield f"{'one wrong reading':<{_WIDTH}}{'flagged':>10}{'of them right':>15}{'':>9}{'batches':>9}"
    pooled: dict[str, list[Judged]] = defaultdict(list)
    for kind, faults in FAULTS.items():
        each = max(count // (2 * len(faults)), 1)
        found = {
            "wide": [case for seed, fault in enumerate(faults) for case in wide(each, 100 + seed, fault)],
            "own": list(own(max(count // 40, 2), 10, 7, list(faults))),
        }
        for words, cases in found.items():
            yield _caught_row(f"{words}: {kind}", cases)
            if kind in AIMED:
                pooled[words].extend(cases)
    for words, cases in pooled.items():
        yield _caught_row(f"{words}: the first four together", cases)


def table(count: int) -> str:
    """The whole table, for about so many clean batches."""
    return "\n".join([*clean_rows(count), "", *fault_rows(count)])


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 400))
