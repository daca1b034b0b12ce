"""Long runs: `python tests/long/run.py [NAME ...] [--many N | --share F] [--seed S]`; all there are, if none is named.

`python tests/long/run.py hold` makes those that say how well the program holds against what strangers give it, with the counts that are
asked for; `--share 0.1` makes a tenth of each.

Each is a module beside this one with a `DEFAULT`, how many trials it makes, and `run(many, seed)`, the lines of its report.
"""

from __future__ import annotations

import argparse
import importlib
import sys
from pathlib import Path

HERE = Path(__file__).parent
HOLD = ("journals", "pictures", "themes", "logs", "revisions", "served", "kills")
NAMES = [name for name in (*HOLD, "edits", "mutants", "mutation") if (HERE / f"{name}.py").is_file()]


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Long runs, outside the test line.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join((*NAMES, "hold")))
    parser.add_argument("--many", type=int, help="trials; each run has its own number if not given")
    parser.add_argument("--share", type=float, default=1.0, help="of each run's own number")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    names = [each for name in given.names for each in (HOLD if name == "hold" else (name,))]
    unknown = set(names) - set(NAMES)
    if unknown:
        parser.error(f"there is no run called {', '.join(sorted(unknown))}; there are {', '.join(NAMES)}")
    sys.path.insert(0, str(HERE.parent))
    for name in names or NAMES:
        module = importlib.import_module(f"long.{name}")
        # a run without a number of its own makes all there are
        many = given.many or (max(1, round(module.DEFAULT * given.share)) if module.DEFAULT else 0)
        print(f"{name}, {many or 'all'} of seed {given.seed}", flush=True)
        for line in module.run(many, given.seed):
            print(f"  {line}", flush=True)


if __name__ == "__main__":
    main()
