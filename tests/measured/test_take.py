"""What was measured is kept as its commands print it."""

from __future__ import annotations

import runpy
import sys
from pathlib import Path

import pytest
from measured.take import BLOCK, HERE, ROOT, commands, main, take

PAGES = sorted(HERE.glob("*.md"))
KEPT = """# Two tables

```console
$ python one.py 3
as it was
```

Said between.

```console
$ python two.py
stays
```

Said below.
"""


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("measured.take.ROOT", tmp_path)
    (tmp_path / "one.py").write_text("import sys\nprint('anew', sys.argv[1])\nprint()\nprint('and more')\n")
    (tmp_path / "two.py").write_text("print('half')\nraise SystemExit(3)\n")
    page = tmp_path / "page.md"
    page.write_text(KEPT)
    return page


def test_a_block_takes_what_its_command_prints_and_a_failed_one_stays(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    take(page)
    assert page.read_text() == KEPT.replace("as it was", "anew 3\n\nand more")
    assert "page: ended with 3, so its block stays" in capsys.readouterr().out


def test_a_page_that_is_not_there_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match=r"There is no page nonesuch; there are balance, .*speed"):
        main(["nonesuch"])
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_each_page_s_commands_are_there_and_have_printed(page: Path) -> None:
    for command in commands(page):
        assert command.split()[0] == "python"
        assert (ROOT / command.split()[1]).is_file()
    assert all(block["output"].strip() for block in BLOCK.finditer(page.read_text("utf-8")))


def test_most_pages_are_measured_by_a_command() -> None:
    assert sum(1 for page in PAGES for _ in commands(page)) >= 8


def test_the_script_runs_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["take.py", "nonesuch"])
    with pytest.raises(SystemExit, match="There is no page"):
        runpy.run_path(str(HERE / "take.py"), run_name="__main__")
