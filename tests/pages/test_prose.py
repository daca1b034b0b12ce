"""The prose on its page: where links and pictures lead, and what stays dead text."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages.seen import LITTLE, Seen, head, record_at, seen_at
from texts import entry

from journal.pages import attachments_of

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 80"></svg>'


def prose_page(root: Path, prose: str, more: dict[str, str | bytes] | None = None) -> Seen:
    files = {"2026/31.md": entry(LITTLE, prose, head=head("31")), **(more or {})}
    return seen_at(record_at(root, files), "batches/31.html")


def test_a_link_to_an_entry_leads_to_its_batch(tmp_path: Path) -> None:
    other = {"2025/7 first.md": entry(LITTLE, head=head("7", brewed="2025-01-01"))}
    assert "../batches/7.html" in prose_page(tmp_path, "[it](<../2025/7 first.md>)", dict(other)).hrefs


def test_a_picture_lies_in_the_site_with_its_size(tmp_path: Path) -> None:
    seen = prose_page(tmp_path, "![The run-off & more](a%20b.svg)", {"2026/a b.svg": SVG})
    (picture,) = seen.all("img")
    assert picture == {
        "src": "../files/2026/a%20b.svg",
        "alt": "The run-off & more",
        "loading": "lazy",
        "width": "120",
        "height": "80",
    }


def test_a_file_beside_the_entry_goes_along(tmp_path: Path) -> None:
    files = {
        "2026/31.md": entry(LITTLE + "mash: {log: mash.csv}\n", "[sheet](sheet.pdf)", head=head("31")),
        "2026/mash.csv": "time,temperature\n",
        "2026/sheet.pdf": "a sheet",
        "2026/other.pdf": "not linked",
    }
    record = record_at(tmp_path, dict(files))
    assert [(a.source, a.path) for a in attachments_of(record)] == [
        ("entries/2026/mash.csv", "files/2026/mash.csv"),
        ("entries/2026/sheet.pdf", "files/2026/sheet.pdf"),
    ]
    assert "../files/2026/sheet.pdf" in seen_at(record, "batches/31.html").hrefs


def test_a_picture_from_elsewhere_is_a_link(tmp_path: Path) -> None:
    seen = prose_page(tmp_path, "![a swan](https://example.org/swan.png)")
    assert not seen.all("img")
    assert "https://example.org/swan.png" in seen.hrefs
    assert "a swan" in seen.text


@pytest.mark.parametrize(
    "target",
    ["javascript:alert(1)", "data:text/html,x", "data:image/png;base64,AAAA", "vbscript:x", "file:///etc/passwd"],
)
def test_a_doubtful_link_is_dead_text(tmp_path: Path, target: str) -> None:
    seen = prose_page(tmp_path, f"[here]({target}) and ![there]({target})")
    assert not [href for href in seen.hrefs if href.split(":")[0] in {"javascript", "data", "vbscript", "file"}]
    assert not seen.all("img")
    assert "here" in seen.text


def test_its_headings_stand_below_the_pages_own(tmp_path: Path) -> None:
    seen = prose_page(tmp_path, "# One\n\n## Two\n\n###### Six\n")
    assert len(seen.all("h1")) == 1
    assert len(seen.all("h4")) == 1
    assert len(seen.all("h6")) == 1


def test_columns_are_aligned_by_class(tmp_path: Path) -> None:
    seen = prose_page(tmp_path, "| a | b |\n| --- | ---: |\n| 1 | 2 |\n")
    assert [attributes.get("class") for attributes in seen.all("td")][-1] == "right"
    assert not [attributes for _, attributes in seen.elements if "style" in attributes]
