"""The prose on its page: where links and pictures lead, and what stays dead text."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pages.seen import LITTLE, Seen, batch_of, head, record_at, seen_at
from PIL import Image
from texts import entry

from journal.pages import attachments_of
from journal.pages.pictures import smaller

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 80"></svg>'


def png(width: int, height: int) -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").resize((width, height)).save(out, "PNG")
    return out.getvalue()


def prose_page(root: Path, prose: str, more: dict[str, str | bytes] | None = None) -> Seen:
    files = {"2026/31.md": entry(LITTLE, prose, head=head("31")), **(more or {})}
    return seen_at(record_at(root, files), "batches/31.html")


def test_a_link_to_an_entry_leads_to_its_batch(tmp_path: Path) -> None:
    other = {"2025/7 first.md": entry(LITTLE, head=head("7", brewed="2025-01-01"))}
    assert "../batches/7.html" in prose_page(tmp_path, "[it](<../2025/7 first.md>)", dict(other)).hrefs


def test_the_first_picture_leads_the_page_and_the_others_lie_in_the_text_with_their_size(tmp_path: Path) -> None:
    prose = "![The label](label.svg)\n\nIt ran.\n\n![The run-off & more](a%20b.svg)\n"
    record = record_at(
        tmp_path,
        {"2026/31.md": entry(LITTLE, prose, head=head("31")), "2026/a b.svg": SVG, "2026/label.svg": SVG},
    )
    leading, picture = seen_at(record, "batches/31.html").all("img")
    assert leading == {"src": "../files/2026/label.svg", "alt": "The label", "width": "120", "height": "80"}
    assert picture == {
        "src": "../files/2026/a%20b.svg",
        "alt": "The run-off & more",
        "loading": "lazy",
        "width": "120",
        "height": "80",
    }
    assert batch_of(record).prose.startswith("<p>It ran.</p>"), "nothing is left of what went to the head"


def test_a_large_picture_has_copies_that_a_phone_can_bear(tmp_path: Path) -> None:
    prose = "![label](label.png)\n\n![mill](mill.png)\n"
    files = {"label.png": png(2000, 1000), "mill.png": png(560, 400)}
    record = record_at(tmp_path, {"31.md": entry(LITTLE, prose, head=head("31")), **files})
    leading, small = seen_at(record, "batches/31.html").all("img")
    assert leading["srcset"] == ("../files/label-480w.png 480w, ../files/label-960w.png 960w, ../files/label.png 2000w")
    assert "srcset" not in small, "a copy hardly smaller than the picture is not worth its file"
    copies = [(found.path, found.width) for found in attachments_of(record) if found.width]
    assert copies == [("files/label-480w.png", 480), ("files/label-960w.png", 960)]
    with Image.open(io.BytesIO(smaller(files["label.png"], 480))) as copy:
        assert (copy.format, copy.size) == ("PNG", (480, 240))
    assert smaller(files["label.png"], 10_000) == files["label.png"], "a copy is never wider than its picture"


def test_bytes_that_are_no_picture_stay_as_they_are() -> None:
    assert smaller(b"no picture", 480) == b"no picture"


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


def test_what_a_browser_would_run_goes_along_as_a_text(tmp_path: Path) -> None:
    """Opened from a published site, it could read all of it."""
    active = '<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    files = {
        "2026/page.html": "<script>alert(1)</script>",
        "2026/drawn.svg": active,
        "2026/plain.svg": SVG,
        "2026/odd": "x",
    }
    prose = "[page](page.html) [drawn](drawn.svg) [plain](plain.svg) [odd](odd)\n\n![the drawing](drawn.svg)\n"
    record = record_at(tmp_path, {"2026/31.md": entry(LITTLE, prose, head=head("31")), **files})
    assert {a.source.rpartition("/")[2]: a.path.rpartition("/")[2] for a in attachments_of(record)} == {
        "page.html": "page.html.txt",
        "drawn.svg": "drawn.svg.txt",
        "plain.svg": "plain.svg",
        "odd": "odd.txt",
    }
    page = seen_at(record, "batches/31.html")
    assert {f"../files/2026/{name}" for name in ("page.html.txt", "drawn.svg.txt", "plain.svg", "odd.txt")} <= set(
        page.hrefs
    )
    assert "drawn" not in str(page.all("img"))


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
    assert "right" in [attributes.get("class") for attributes in seen.all("td")]
    assert not [attributes for _, attributes in seen.elements if "style" in attributes]
