"""Links and pictures in the prose: where they lead, and that nothing of them can do harm."""

from pathlib import Path

import pytest
from texts import codes, entry, journal_at

from journal.problems import Problem
from journal.reading.prose import LARGEST_PICTURE, markdown


def problems_of(prose: str, root: Path, files: dict[str, str | bytes] | None = None) -> list[Problem]:
    found = journal_at(root, {"2026/31.md": entry("crush: 1 mm", prose), **(files or {})})[1]
    return [problem for problem in found if problem.file_name == "entries/2026/31.md"]


@pytest.mark.parametrize(
    ("link", "target"),
    [
        ("30.md", "2026/30.md"),
        ("../malt/sheet.pdf", "malt/sheet.pdf"),
        ("./30.md", "2026/30.md"),
        ("my%20sheet.pdf", "2026/my sheet.pdf"),
        ("<my sheet.pdf>", "2026/my sheet.pdf"),
        ("30.md#mash", "2026/30.md"),
        ("30.md?x=1", "2026/30.md"),
        ("caf%C3%A9.txt", "2026/café.txt"),
        ("café.txt", "2026/café.txt"),
        ("../2026/30.md", "2026/30.md"),
    ],
)
def test_a_link_to_a_file_that_is_there(link: str, target: str, tmp_path: Path) -> None:
    other = entry("", head="batch: 30\ntitle: T\nbrewed: 2026-01-01\n")
    assert problems_of(f"See [it]({link}).", tmp_path, {target: other}) == []
    (tmp_path / "entries" / target).unlink()
    assert codes(problems_of(f"See [it]({link}).", tmp_path)) == ["link-broken"]


@pytest.mark.parametrize(
    "link",
    [
        "../../README.md",
        "/etc/passwd",
        "..%2F..%2FREADME.md",
        "%2e%2e/%2e%2e/README.md",
        "../../entries-old/x.md",
        "../..",
    ],
)
def test_a_link_out_of_the_entries(link: str, tmp_path: Path) -> None:
    tmp_path.joinpath("README.md").write_text("here")
    (tmp_path / "entries-old").mkdir()
    (tmp_path / "entries-old" / "x.md").write_text("here")
    assert codes(problems_of(f"See [it]({link}).", tmp_path)) == ["link-leaves-journal"]
    assert codes(problems_of(f"![it]({link})", tmp_path)) == ["link-leaves-journal"]


def test_a_file_that_is_itself_a_link_out_of_the_entries(tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_text("here")
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "note.txt").symlink_to("../secret.txt")
    assert codes(problems_of("[it](../note.txt)", tmp_path)) == ["link-leaves-journal"]


@pytest.mark.parametrize("scheme", ["javascript:alert(1)", "JAVASCRIPT:alert(1)", "vbscript:x", "file:///etc/passwd"])
@pytest.mark.parametrize("form", ["[x]({})", "![x]({})", "<{}>", "[x][r]\n\n[r]: {}", "[x](  {})"])
def test_links_that_could_do_harm_are_dead_text(scheme: str, form: str, tmp_path: Path) -> None:
    prose = form.format(scheme)
    assert problems_of(prose, tmp_path) == []
    shown = markdown().render(prose)
    assert "href" not in shown
    assert "src" not in shown


def test_an_entity_does_not_hide_a_scheme() -> None:
    shown = markdown().render("[x](java&#115;cript:alert(1)) [y](&#x6A;avascript:alert(1))")
    assert "href" not in shown


@pytest.mark.parametrize(
    "raw", ["<script>alert(1)</script>", "a <b onclick=x>bold</b> word", "<!-- note -->", "<img src=x>"]
)
def test_raw_html_is_text(raw: str) -> None:
    shown = markdown().render(raw)
    assert raw.replace("<", "&lt;").replace(">", "&gt;") in shown


def test_tables_are_read() -> None:
    assert "<td>21 L</td>" in markdown().render("| a | b |\n| --- | --- |\n| kettle | 21 L |\n")


@pytest.mark.parametrize(
    "link", ["https://example.org/", "http://example.org", "mailto:a@example.org", "//example.org/x", "#a"]
)
def test_links_elsewhere_are_not_followed(link: str, tmp_path: Path) -> None:
    assert problems_of(f"[it]({link})", tmp_path) == []


@pytest.mark.parametrize("name", ["a" * 300 + ".md", "a/" * 3000 + "x.md", "é" * 200, "x%00y"])
def test_names_that_no_file_can_have(name: str, tmp_path: Path) -> None:
    assert codes(problems_of(f"[it]({name})", tmp_path)) == ["link-broken"]
    assert codes(problems_of(f"![it]({name})", tmp_path)) == ["picture-missing"]


#: First bytes by the formats' own specifications: PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918), GIF89a, WebP (RFC 9649), AVIF.
SHOWN = {
    "view.png": b"\x89PNG\r\n\x1a\n",
    "view.JPG": b"\xff\xd8\xff\xe0",
    "view.jpeg": b"\xff\xd8\xff\xdb",
    "view.gif": b"GIF89a",
    "view.webp": b"RIFF\x10\0\0\0WEBPVP8 ",
    "view.avif": b"\0\0\0\x20ftypavif",
    "view.svg": b'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"/>',
}


@pytest.mark.parametrize("name", SHOWN)
def test_pictures_that_browsers_show(name: str, tmp_path: Path) -> None:
    # a drawing is XML to its end, a picture's first bytes are enough
    rest = b"" if name == "view.svg" else bytes(16)
    assert problems_of(f"![the run-off]({name})", tmp_path, {f"2026/{name}": SHOWN[name] + rest}) == []


@pytest.mark.parametrize("name", SHOWN)
def test_a_file_that_is_only_called_a_picture(name: str, tmp_path: Path) -> None:
    found = problems_of(f"![the run-off]({name})", tmp_path, {f"2026/{name}": b"a few words"})
    assert codes(found) == ["picture-unreadable"]
    assert "holds none" in found[0].message


@pytest.mark.parametrize("name", ["view.tiff", "view.heic", "view", "view.html", "view.exe"])
def test_pictures_that_they_do_not(name: str, tmp_path: Path) -> None:
    found = problems_of(f"![the run-off]({name})", tmp_path, {f"2026/{name}": b"-"})
    assert codes(found) == ["picture-unreadable"]


def test_a_picture_too_large_to_publish(tmp_path: Path) -> None:
    (tmp_path / "entries" / "2026").mkdir(parents=True)
    with (tmp_path / "entries" / "2026" / "view.png").open("wb") as file:
        file.truncate(LARGEST_PICTURE + 1)
    assert codes(problems_of("![the run-off](view.png)", tmp_path)) == ["picture-unreadable"]


def test_each_mention_has_its_own_place(tmp_path: Path) -> None:
    prose = "lost.md, [one](lost.md) and [two](lost.md)\nand\x0c\n[three](lost.md) [![four](lost.png)](lost.md)\n"
    found = problems_of(prose, tmp_path)
    places = [(p.line, p.column) for p in found if p.code == "link-broken"]
    assert places == [(7, 16), (7, 35), (9, 9), (9, 38)]
    assert [(p.line, p.column) for p in found if p.code == "picture-missing"] == [(9, 27)]


def test_a_reference_is_marked_where_it_is_defined(tmp_path: Path) -> None:
    found = problems_of("[one][r]\n\n[r]: <lost.md>\n\nlost.md, [two](other.md)\n", tmp_path)
    assert [(p.code, p.line, p.column) for p in found] == [("link-broken", 9, 7), ("link-broken", 11, 16)]
