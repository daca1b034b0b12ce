"""Every kind of page parsed by html5lib, which reports each parse error of the HTML standard."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import html5lib
import pytest
from pages.seen import BREWERY, LITTLE, PLANNED, WHOLE, head, record_at, see
from texts import entry

from journal.pages import Renderer, Theme, pages_of
from journal.pages.themes import built_in_looks

PROSE = "# A head\n\n| a | b |\n|:--|--:|\n| 1 | 2 |\n\n> *Said* & <b>written</b>\n\n- one\n- two\n\n```\ncode <here>\n```\n"


def rendered(root: Path, look: str = "notebook") -> dict[str, str]:
    """Every page in the default look; one of each template in another."""
    impossible = WHOLE.replace("gravity: 1.044", "gravity: 1.068")
    files: dict[str, str | bytes] = {
        "30.md": entry(LITTLE, head=head("30", "Little & <small>", "2025-12-30")),
        "31.md": entry(WHOLE, PROSE, head=head("31")),
        "32.md": entry(impossible, head=head("32", '"Patent"', "2026-05-01")),
        "33.md": entry(PLANNED, head=head("33", "Next", "2026-06-01")),
        "34.md": entry("grains: 4 kg", head=head("34", "Broken", "2026-07-01")),
    }
    record = record_at(root, files, f"{BREWERY}address: https://example.org/a?b&c\n")
    renderer = Renderer(Theme(look))
    pages = pages_of(record)
    if look != "notebook":
        pages = list({page.template: page for page in pages}.values())
    return {page.path: renderer.render(page) for page in pages}


@pytest.mark.everyday(1)
@pytest.mark.parametrize("look", built_in_looks())
def test_every_page_is_parsed_without_an_error(look: str, tmp_path: Path) -> None:
    for path, html in rendered(tmp_path, look).items():
        parser = html5lib.HTMLParser()
        parser.parse(html)
        assert [(place, code) for place, code, _ in parser.errors] == [], path


def test_every_page_says_its_language_and_has_its_landmarks(tmp_path: Path) -> None:
    for path, html in rendered(tmp_path).items():
        seen = see(html)
        assert seen.all("html") == [{"lang": "en"}], path
        assert len(seen.all("main")) == len(seen.all("h1")) == 1, path
        # WCAG 2.2 technique G141: headings of a page step down one level at a time
        levels = [int(tag[1]) for tag, _ in seen.elements if tag in {"h1", "h2", "h3", "h4", "h5", "h6"}]
        assert all(after <= before + 1 for before, after in pairwise(levels)), path
        assert all(time.get("datetime") for time in seen.all("time")), path
