"""Long runs: `python tests/long/run.py [NAME ...] [--many N] [--seed S]`; all there are, if none is named.

Each is a module beside this one with a `DEFAULT`, how many trials it makes, and `run(many, seed)`, the lines of its report.
"""

from __future__ import annotations

import argparse
import importlib
import sys
from pathlib import Path

HERE = Path(__file__).parent
NAMES = [name for name in ("kills", "edits", "mutants", "mutation") if (HERE / f"{name}.py").is_file()]


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Long runs, outside the test line.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join(NAMES))
    parser.add_argument("--many", type=int, help="trials; each run has its own number if not given")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    unknown = set(given.names) - set(NAMES)
    if unknown:
        parser.error(f"there is no run called {', '.join(sorted(unknown))}; there are {', '.join(NAMES)}")
    sys.path.insert(0, str(HERE.parent))
    for name in given.names or NAMES:
        module = importlib.import_module(f"long.{name}")
        print(name)
        for line in module.run(given.many or module.DEFAULT, given.seed):
            print(f"  {line}", flush=True)


if __name__ == "__main__":
    main()
