"""What the README and the pages of help show, and what the program says to it."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from click.testing import CliRunner

from journal.cli import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
HELP = {path.stem: path.read_text("utf-8") for path in (ROOT / "journal" / "pages" / "how_to").glob("*.md")}


def run(command: str) -> str:
    """What `wortbook` says to a line of a shell."""
    name, *arguments = shlex.split(command)
    assert name == "wortbook"
    result = CliRunner().invoke(main, arguments)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == 0, f"{command}: {result.output}"
    return result.output


def shown(text: str, language: str) -> list[str]:
    """The code blocks in a language."""
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.DOTALL | re.MULTILINE)
