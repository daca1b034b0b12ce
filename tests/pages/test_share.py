"""Feed, map and addresses in full, held against RFC 4287, sitemaps.org's protocol and the Open Graph protocol."""

from __future__ import annotations

import io
import re
from pathlib import Path
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import pytest
from pages.seen import BREWERY, LITTLE, PLANNED, WHOLE, head, one_batch, record_at, see, seen_at, site_of
from PIL import Image
from texts import entry

from journal.pages import Page, Record, Renderer, Theme, pages_of, share_files
from journal.pages.cards import cards_of
from journal.pages.index import Index

ADDRESS = "https://example.org/lock-cottage"
ADDRESSED = f"{BREWERY}address: {ADDRESS}\n"
ATOM = "{http://www.w3.org/2005/Atom}"
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
#: RFC 3339, section 5.6.
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)")


def journal(root: Path, count: int = 3, brewery: str = ADDRESSED) -> Record:
    files: dict[str, str | bytes] = {
        f"{n}.md": entry(
            f"{LITTLE}style: bitter & mild\ntags: [cask]\n", head=head(str(n), f"Lamp <{n}>", f"2026-01-{n:02}")
        )
        for n in range(1, count + 1)
    }
    files["plan.md"] = entry(PLANNED, head=head("90", "Next", "2026-06-01"))
    files["broken.md"] = entry("grains: 4 kg", head=head("91", "Broken", "2026-07-01"))
    return record_at(root, files, brewery)


def feed_of(record: Record) -> ET.Element:
    return ET.fromstring(share_files(record)["feed.xml"])


def one(element: ET.Element, name: str) -> ET.Element:
    """The child that must be there exactly once."""
    (found,) = element.findall(ATOM + name)
    return found


def text_of(element: ET.Element, name: str) -> str:
    return one(element, name).text or ""


def test_the_feed_has_what_it_must(tmp_path: Path) -> None:
    feed = feed_of(journal(tmp_path))
    assert feed.tag == f"{ATOM}feed"  # RFC 4287, 4.1.1
    assert text_of(feed, "id") == f"{ADDRESS}/"  # 4.1.1 and 4.2.6: exactly one, an IRI
    assert text_of(feed, "title") == "Lock Cottage"  # 4.2.14
    assert MOMENT.fullmatch(text_of(feed, "updated"))  # 3.3
    assert text_of(one(feed, "author"), "name") == "Lock Cottage"  # 4.2.1 and 3.2.1
    selves = [link for link in feed.findall(f"{ATOM}link") if link.get("rel") == "self"]
    assert [link.get("href") for link in selves] == [f"{ADDRESS}/feed.xml"]  # 4.1.1: should have one


def test_every_entry_of_the_feed_has_what_it_must(tmp_path: Path) -> None:
    feed = feed_of(journal(tmp_path))
    entries = feed.findall(f"{ATOM}entry")
    assert [text_of(each, "title") for each in entries] == ["3 Lamp <3>", "2 Lamp <2>", "1 Lamp <1>"]
    for each in entries:
        assert urlsplit(text_of(each, "id")).scheme == "https"  # RFC 4287, 4.1.2 and 4.2.6
        assert MOMENT.fullmatch(text_of(each, "updated"))
        assert MOMENT.fullmatch(text_of(each, "published"))
        alternates = [link for link in each.findall(f"{ATOM}link") if link.get("rel", "alternate") == "alternate"]
        assert len(alternates) == 1  # 4.1.2: without content there must be one, and no two of one type and language
        assert alternates[0].get("href") == text_of(each, "id")
        assert "into the fermenter" in text_of(each, "summary")
        terms = [category.get("term") for category in each.findall(f"{ATOM}category")]
        assert terms == ["bitter & mild", "cask"]  # 4.2.2: must have a term
    assert len({text_of(each, "id") for each in entries}) == len(entries)
    assert text_of(feed, "updated") == max(text_of(each, "updated") for each in entries)


def test_the_feed_carries_the_beer_and_the_diary_with_every_address_in_full(tmp_path: Path) -> None:
    fields = WHOLE + 'tasting: [{on: 2026-05-01, words: "Dry & <bright>.", score: 4, out_of: 5}]\n'
    prose = "![The label](label.svg)\n\nA *slow* one, after [the last](30.md).\n"
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="12" height="8"></svg>'
    files = {
        "31.md": entry(fields, prose),
        "30.md": entry(LITTLE, head=head("30", brewed="2026-01-01")),
        "label.svg": svg,
    }
    newest, _ = feed_of(record_at(tmp_path, dict(files), ADDRESSED)).findall(f"{ATOM}entry")
    content = one(newest, "content")
    assert content.get("type") == "html"  # RFC 4287, 4.1.3.1 and 3.1.1.2: escaped HTML
    seen = see(content.text or "")
    assert "1.051 → 1.011" in seen.text.replace("\u00a0", " ")
    assert "4/5 “Dry & <bright>.”" in seen.text
    assert "A slow one" in seen.text
    assert [image["src"] for image in seen.all("img")] == [f"{ADDRESS}/files/label.svg"]
    assert seen.hrefs == [f"{ADDRESS}/batches/30.html"]


def test_every_pages_foot_leads_to_the_feed_where_there_is_one(tmp_path: Path) -> None:
    for path, seen in site_of(journal(tmp_path)).items():
        assert "../" * path.count("/") + "feed.xml" in seen.hrefs, path
    assert not [href for href in seen_at(one_batch(tmp_path / "b"), "index.html").hrefs if "feed" in href]


# cards


def cards(record: Record) -> dict[str, Page]:
    index = Index(record)
    return {page.path: page for page in cards_of(index, dict.fromkeys(index.order, ""), Theme())}


def test_a_batchs_page_names_its_card_and_the_card_is_there(tmp_path: Path) -> None:
    record = journal(tmp_path)
    told = {
        meta["property"]: meta["content"]
        for meta in seen_at(record, "batches/2.html").all("meta")
        if "property" in meta
    }
    assert told["og:image"] == f"{ADDRESS}/cards/2.png"
    assert "og:image" not in str(seen_at(record, "batches/90.html").all("meta")), "a plan has nothing to show yet"
    page = cards(record)["cards/2.png"]
    assert page.draw is not None
    with Image.open(io.BytesIO(page.draw(page.model))) as picture:
        assert picture.format == "PNG"
        assert (str(picture.width), str(picture.height)) == (told["og:image:width"], told["og:image:height"])
        # at least 600 by 315, and 1.91 to 1: what readers of the Open Graph protocol show large
        assert picture.width / picture.height == pytest.approx(1.91, abs=0.01)
        shades = picture.convert("L").getextrema()
    assert shades[0] < 60, "ink"
    assert shades[1] > 230, "paper"


def test_the_drawn_card_says_the_beer_in_text(tmp_path: Path) -> None:
    drawn = Renderer().render(cards(one_batch(tmp_path))["cards/31.svg"])
    said = " ".join("".join(ET.fromstring(drawn).itertext()).split())
    assert "31 Lantern Bitter" in said
    assert "1.051 → 1.011" in said
    assert "into the fermenter" in said


def test_a_name_that_is_too_long_for_a_card_is_cut(tmp_path: Path) -> None:
    record = record_at(tmp_path, {"31.md": entry(WHOLE, head=head("31", "Lamp " * 60))}, ADDRESSED)
    page = cards(record)["cards/31.png"]
    assert page.draw is not None
    assert page.draw(page.model).startswith(b"\x89PNG")


def test_without_an_address_no_picture_is_drawn(tmp_path: Path) -> None:
    assert list(cards(one_batch(tmp_path))) == ["cards/31.svg"]


def test_the_feed_has_the_twenty_newest_that_are_brewed(tmp_path: Path) -> None:
    entries = feed_of(journal(tmp_path, 25)).findall(f"{ATOM}entry")
    assert len(entries) == 20
    assert text_of(entries[-1], "title").startswith("6 ")


def test_a_feed_of_nothing_is_still_one(tmp_path: Path) -> None:
    feed = feed_of(record_at(tmp_path, {}, ADDRESSED))
    assert MOMENT.fullmatch(text_of(feed, "updated"))
    assert not feed.findall(f"{ATOM}entry")


def test_the_map_has_every_page_worth_finding(tmp_path: Path) -> None:
    record = journal(tmp_path)
    root = ET.fromstring(share_files(record)["sitemap.xml"])
    assert root.tag == f"{MAP}urlset"  # sitemaps.org, protocol 0.9
    assert {child.tag for child in root} == {f"{MAP}url"}
    found = [url.findtext(f"{MAP}loc") or "" for url in root]
    assert len(set(found)) == len(found) <= 50_000
    assert all(url.startswith(f"{ADDRESS}/") and len(url) < 2048 for url in found)
    pages = {page.path for page in pages_of(record)} - {"index.html", "search.html", "batches/91.html"}
    assert set(found) == {f"{ADDRESS}/", *(f"{ADDRESS}/{path}" for path in pages)}


def test_a_page_says_where_it_belongs_and_what_it_is(tmp_path: Path) -> None:
    record = journal(tmp_path)
    seen = seen_at(record, "batches/2.html")
    links = {link["rel"]: link for link in seen.all("link") if link["rel"] != "stylesheet"}
    assert links["canonical"]["href"] == f"{ADDRESS}/batches/2.html"
    assert links["alternate"]["type"] == "application/atom+xml"
    assert links["alternate"]["href"] == f"{ADDRESS}/feed.xml"
    told = {meta["property"]: meta["content"] for meta in seen.all("meta") if "property" in meta}
    assert told["og:title"] == "2 Lamp <2>"
    assert told["og:type"] == "article"
    assert "into the fermenter" in told["og:description"]
    assert told["og:url"] == links["canonical"]["href"]
    home = seen_at(record, "index.html")
    assert {"rel": "canonical", "href": f"{ADDRESS}/"} in home.all("link")


def test_nothing_else_on_a_page_is_addressed_in_full(tmp_path: Path) -> None:
    for path, seen in site_of(journal(tmp_path)).items():
        body = [attributes for tag, attributes in seen.elements if tag not in {"link", "meta"}]
        assert not [a for a in body if ADDRESS in a.get("href", "") + a.get("src", "")], path


@pytest.mark.parametrize("address", ["", "example.org", "ftp://example.org/a", "https://", "javascript:alert(1)"])
def test_without_an_address_of_the_web_there_is_nothing_to_share(tmp_path: Path, address: str) -> None:
    record = journal(tmp_path, 1, f"{BREWERY}address: '{address}'\n" if address else BREWERY)
    assert share_files(record) == {}
    seen = seen_at(record, "batches/1.html")
    assert {link["rel"] for link in seen.all("link")} == {"stylesheet"}
    assert "og:url" not in [meta.get("property") for meta in seen.all("meta")]


def test_equal_journals_are_shared_alike(tmp_path: Path) -> None:
    assert share_files(journal(tmp_path / "a")) == share_files(journal(tmp_path / "b"))


def test_every_page_forbids_what_it_does_not_need(tmp_path: Path) -> None:
    record = journal(tmp_path)
    renderer = Renderer()
    for page in pages_of(record):
        seen = see(renderer.render(page))
        (policy,) = (m["content"] for m in seen.all("meta") if m.get("http-equiv") == "Content-Security-Policy")
        rules = {name: sources for name, *sources in (rule.split() for rule in policy.split(";"))}
        assert rules["default-src"] == ["'none'"]
        assert rules["base-uri"] == ["'none'"]
        allowed = {source for sources in rules.values() for source in sources}
        assert allowed == {"'none'", "'self'", "file:"}, "no inline style or script, no host"
        # CSP level 3, 3.3: a policy holds for what comes after it
        assert seen.elements.index(("meta", {"http-equiv": "Content-Security-Policy", "content": policy})) < min(
            place for place, (tag, _) in enumerate(seen.elements) if tag in {"link", "script"}
        )
        assert not [a for _, a in seen.elements if any(name.startswith("on") or name == "style" for name in a)]
