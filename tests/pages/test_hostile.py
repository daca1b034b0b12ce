"""A site made of hostile texts: as markup it has what the templates have, and nothing more."""

from __future__ import annotations

import csv
import json
import re
from functools import cache
from pathlib import Path
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import html5lib
import pytest
from hostile import MARKUP, hostile_journal
from pages.seen import see

from journal.problems.direction import TURNING, find_unpaired
from journal.publishing import Broken, build, understand

pytestmark = pytest.mark.long

#: What starts something by itself, or reaches elsewhere; no template has any of these.
ACTIVE = {
    "iframe",
    "frame",
    "object",
    "embed",
    "applet",
    "base",
    "audio",
    "video",
    "math",
    "marquee",
    "textarea",
    "style",
}

#: Elements of the feed, by RFC 4287.
ELEMENTS = {
    "feed", "id", "title", "link", "updated", "author", "name", "entry", "published", "category", "summary", "content",
}  # fmt: skip


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("hostile")
    hostile_journal(root)
    build(root, root / "site", broken=Broken.SHOWN)
    record = understand(root)
    assert [entry.file for entry in record.broken] == ["entries/broken.md"]
    assert len(record.batches) == 11
    return root / "site"


@cache
def _parsed(path: Path) -> ET.Element:
    return html5lib.parse(path.read_text("utf-8"), namespaceHTMLElements=False)


def _elements(site: Path) -> list[tuple[str, ET.Element]]:
    found = [
        (path.name, each)
        for path in sorted(site.rglob("*.html"))
        for each in _parsed(path).iter()
        if isinstance(each.tag, str)
    ]
    assert len({name for name, _ in found}) > 20
    return found


def test_no_text_has_become_an_element(site: Path) -> None:
    for name, element in _elements(site):
        tag = element.tag.split("}")[-1]
        assert tag not in ACTIVE, (name, tag)
        if tag == "script" and element.get("type") == "application/json":
            assert "<" not in (element.text or ""), name
            assert MARKUP in json.dumps(json.loads(element.text or ""), ensure_ascii=False).replace('\\"', '"'), name
        elif tag == "script":
            assert re.fullmatch(r"(\.\./)*(assets|search)/[a-z0-9-]+\.js", element.get("src", "")), (
                name,
                element.attrib,
            )
            assert not (element.text or "").strip()
        if tag == "img":
            assert element.get("src") == "../files/picture.svg", name
        if tag == "meta":
            assert element.get("http-equiv") in {None, "Content-Security-Policy"}, name


def test_no_text_has_become_an_attribute(site: Path) -> None:
    for name, element in _elements(site):
        assert not [attribute for attribute in element.attrib if str(attribute).startswith("on")], (
            name,
            element.attrib,
        )
        assert "autofocus" not in element.attrib, name


def test_no_link_leads_to_a_script_or_out_of_the_site(site: Path) -> None:
    for name, element in _elements(site):
        for attribute in ("href", "src", "action", "formaction", "poster", "srcset"):
            scheme = urlsplit(element.get(attribute, "").strip().lower()).scheme
            assert scheme in {"", "http", "https", "mailto"}, (name, element.attrib)
    for path in site.rglob("*"):
        assert not path.is_file() or path.read_bytes() != b"secret", path


def test_no_template_runs_a_text(site: Path) -> None:
    for path in site.rglob("*.html"):
        assert "$49" not in path.read_text("utf-8")
    home = "".join(_parsed(site / "index.html").itertext())
    assert "{{ 7*7 }}{% set a = 1 %}" in home
    assert MARKUP in home


def test_nothing_beside_the_prose_turns_the_direction_of_writing(site: Path) -> None:
    for path in site.rglob("*.html"):
        for element in _parsed(path).iter():
            for text in (element.text, element.tail, *element.attrib.values()):
                if text and find_unpaired(text):
                    # a block of its own, and so is each paragraph in it: a browser turns nothing beyond its end
                    assert TURNING.sub("", text).strip() == "ever sdrawkcab"
                    assert element.tag == "p"


def test_a_card_is_a_drawing_of_texts_alone(site: Path) -> None:
    drawn = list((site / "cards").glob("*.svg"))
    assert drawn
    for path in drawn:
        # an XML parser: a character that may not stand in XML 1.0 (2.2) ends it
        elements = [element.tag.split("}")[-1] for element in ET.parse(path).iter()]
        assert set(elements) == {"svg", "title", "rect", "path", "text"}, path


def test_what_a_feed_reader_is_given_holds_nothing_active(site: Path) -> None:
    for content in ET.parse(site / "feed.xml").iter("{http://www.w3.org/2005/Atom}content"):
        for tag, attributes in see(content.text or "").elements:
            assert tag not in ACTIVE | {"script", "style"}, tag
            assert not [name for name in attributes if name.startswith("on")]


def test_files_for_other_programs_hold_the_texts_as_texts(site: Path) -> None:
    feed = ET.parse(site / "feed.xml").getroot()
    assert {element.tag.split("}")[-1] for element in feed.iter()} <= ELEMENTS
    assert any(MARKUP in (title.text or "") for title in feed.iter("{http://www.w3.org/2005/Atom}title"))
    assert ET.parse(site / "sitemap.xml").getroot().tag.endswith("urlset")
    assert MARKUP in json.dumps(
        json.loads((site / "data" / "journal.json").read_text("utf-8"))["batches"], ensure_ascii=False
    ).replace('\\"', '"')
    rows = list(csv.reader((site / "data" / "batches.csv").read_text("utf-8").splitlines()))
    assert len({len(row) for row in rows}) == 1


def test_what_the_search_reads_is_data(site: Path) -> None:
    for path in (site / "search").glob("*.js"):
        call = re.fullmatch(r"journalSearch\.[a-zA-Z]+\((.*)\);\n", path.read_text("utf-8"), re.DOTALL)
        assert call
        assert isinstance(json.loads(f"[{call[1]}]"), list)
