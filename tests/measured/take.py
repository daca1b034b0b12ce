"""Measure again: `python tests/measured/take.py [PAGE ...]`; all pages if none is named.

The pages beside this module show what a command printed as a `console` block: the command after `$`, its output below. Each is run from
the project's root, one after the other, and its output put in the place of the old. What fails leaves its block as it was. The prose
around the blocks is nobody's but the writer's: read it once more.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
#: A command and what it printed.
BLOCK = re.compile(r"^```console\n\$ (?P<command>[^\n]+)\n(?P<output>.*?)^```$", re.DOTALL | re.MULTILINE)


def commands(page: Path) -> Iterator[str]:
    """What is run for a page, in order."""
    return (found["command"] for found in BLOCK.finditer(page.read_text("utf-8")))


def printed(command: str) -> str:
    """What a command prints, run by this Python; raises `CalledProcessError` if it fails."""
    words = command.split()
    words[0] = sys.executable if words[0] == "python" else words[0]
    ended = subprocess.run(words, cwd=ROOT, stdout=subprocess.PIPE, text=True, check=True)
    return ended.stdout.strip("\n") + "\n"


def take(page: Path) -> None:
    """Run a page's commands, and put what they print into their blocks, each as soon as it is there."""
    for command in commands(page):
        print(f"{page.stem}: {command}", flush=True)
        try:
            output = printed(command)
        except subprocess.CalledProcessError as error:
            print(f"{page.stem}: ended with {error.returncode}, so its block stays", flush=True)
            continue
        begin = f"```console\n$ {command}\n"
        text = page.read_text("utf-8")
        at = text.index(begin) + len(begin)
        page.write_text(text[:at] + output + text[text.index("```", at) :], "utf-8")


def main(names: list[str]) -> None:
    """The command."""
    pages = {path.stem: path for path in sorted(HERE.glob("*.md"))}
    if unknown := sorted(set(names) - set(pages)):
        sys.exit(f"There is no page {', '.join(unknown)}; there are {', '.join(pages)}.")
    for name in names or pages:
        take(pages[name])


if __name__ == "__main__":
    main(sys.argv[1:])
