"""The pages of a journal as a whole: which there are, that they hold together, and that nothing leads out of them."""

from __future__ import annotations

import pickle
import posixpath
import re
from datetime import date
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from pages.seen import LITTLE, PLANNED, WHOLE, Seen, head, one_batch, record_at, seen_at, site_of
from texts import entry

import journal
from journal.pages import Record, Renderer, Theme, assets, attachments_of, pages_of, search_files
from journal.pages.brewhouses import brewhouse_views
from journal.pages.index import Index
from journal.pages.verdict import verdict

PACKAGE = Path(journal.__file__).parent
PICTURE = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x40\0\0\0\x20\x08\x02\0\0\0\xfc\x18\xed\xa3\0\0\0\0IEND\xaeB`\x82"
PROSE = """
The [one before](30.md), a ![picture](run-off.png), a [log](mash.csv), and [elsewhere](https://example.org/a).
"""


def several(root: Path) -> Record:
    """Batches of every sort: whole, with little recorded, impossible, planned, broken."""
    impossible = WHOLE.replace("gravity: 1.044", "gravity: 1.068")
    files: dict[str, str | bytes] = {
        "2025/30.md": entry(LITTLE, head=head("30", "Little", "2025-12-30")),
        "2025/run-off.png": PICTURE,
        "2025/mash.csv": "time,temperature\n",
        "2025/31.md": entry(WHOLE, PROSE, head=head("31")),
        "2026/32.md": entry(impossible, head=head("32", "Patent", "2026-05-01")),
        "2026/33-b.md": entry(PLANNED, head=head("33-b", "Next", "2026-06-01")),
        "2026/34.md": entry("grains: 4 kg", head=head("34", "Broken", "2026-07-01")),
        "2026/odd name.md": "no front matter",
    }
    return record_at(root, files)


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    return several(tmp_path_factory.mktemp("several"))


@pytest.fixture(scope="module")
def site(record: Record) -> dict[str, Seen]:
    return site_of(record)


def test_every_kind_of_page_is_there(record: Record) -> None:
    assert {page.path for page in pages_of(record)} == {
        "index.html",
        "batches.html",
        "batches/30.html",
        "batches/31.html",
        "batches/32.html",
        "batches/33-b.html",
        "batches/34.html",
        "batches/2026-odd-name.html",
        *(f"{kind}/{batch}.html" for kind in ("accounts", "recipes") for batch in ("30", "31", "32", "33-b")),
        "trends.html",
        "numbers.html",
        "years/2025.html",
        "years/2026.html",
        "practice.html",
        "what-pays.html",
        "brewhouse.html",
        "compare.html",
        "malts.html",
        "malt-needed.html",
        "by/tag.html",
        "by/style.html",
        "by/year.html",
        "by/brewhouse.html",
        "search.html",
        "gallery.html",
        "fields.html",
        "figures.html",
        "how-right.html",
        "how-to.html",
        *(f"how-to/{path.stem}.html" for path in (PACKAGE / "pages" / "how_to").iterdir()),
        "cautions.html",
    }, "a new page stands in this list"


def test_every_link_and_picture_leads_to_something_that_is_there(record: Record, site: dict[str, Seen]) -> None:
    files = {*site, *assets(Theme("notebook")), *search_files(record), *(a.path for a in attachments_of(record))}
    ids = {path: set(seen.ids) for path, seen in site.items()}
    for path, seen in site.items():
        sources = [attributes["src"] for attributes in (*seen.all("img"), *seen.scripts)]
        for target in [*seen.hrefs, *sources]:
            parts = urlsplit(target)
            if parts.scheme:
                assert target == "https://example.org/a", "only the author's own link leads out"
                continue
            inside = posixpath.normpath(posixpath.join(posixpath.dirname(path), unquote(parts.path)))
            there = inside if parts.path else path
            assert there in files, f"{path} leads to {target}"
            if parts.fragment:
                assert unquote(parts.fragment) in ids[there], f"{path} leads to {target}"


def test_every_page_is_reached_from_the_first(site: dict[str, Seen]) -> None:
    reached, ahead = set[str](), ["index.html"]
    while ahead:
        path = ahead.pop()
        reached.add(path)
        targets = (
            posixpath.normpath(posixpath.join(posixpath.dirname(path), urlsplit(h).path)) for h in site[path].hrefs
        )
        ahead += {unquote(target) for target in targets} & site.keys() - reached
    assert site.keys() - reached == set()


def test_no_id_stands_twice_on_a_page_and_nothing_brings_a_style_of_its_own(site: dict[str, Seen]) -> None:
    for path, seen in site.items():
        assert len(set(seen.ids)) == len(seen.ids), path
        assert not [attributes for _, attributes in seen.elements if "style" in attributes], path
        assert not seen.all("style"), path
        assert not [attributes for attributes in seen.scripts if "src" not in attributes], path


def test_labels_and_descriptions_point_to_ids_on_their_page(site: dict[str, Seen]) -> None:
    for path, seen in site.items():
        ids = set(seen.ids)
        for _, attributes in seen.elements:
            named = attributes.get("aria-labelledby", "").split() + attributes.get("for", "").split()
            assert set(named) <= ids, path


def test_equal_journals_give_equal_bytes(tmp_path: Path) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    pages = [pages_of(several(root)) for root in (first, second)]
    models = [[(page.path, page.template, page.model) for page in each] for each in pages]
    assert models[0] == models[1]
    renderers = [Renderer(), Renderer()]
    assert [renderers[0].render(page) for page in pages[0]] == [renderers[1].render(page) for page in pages[1]]


def test_models_can_be_kept_apart_from_the_journal(record: Record) -> None:
    for page in pages_of(record):
        model = page.model
        again = pickle.loads(pickle.dumps(model))
        assert again == model
        assert hash(again) == hash(model)


def test_an_empty_journal_has_its_pages_all_the_same(tmp_path: Path) -> None:
    site = site_of(record_at(tmp_path, {}))
    assert "Nothing is brewed yet" in site["index.html"].text
    assert "No batch yet has the readings" in site["trends.html"].text


def test_a_journal_with_only_a_planned_brew_shows_the_plan(tmp_path: Path) -> None:
    site = site_of(one_batch(tmp_path, PLANNED))
    assert "31 Lantern Bitter, 19.0 L at 1.046" in site["index.html"].text
    assert "0 batches brewed, 1 planned" in site["index.html"].text
    assert "Nothing is measured yet." in site["batches/31.html"].text


def test_one_batch_is_a_row_of_strips_without_a_verdict(tmp_path: Path) -> None:
    trends = seen_at(one_batch(tmp_path), "trends.html")
    assert "In the first batch, 31, " in trends.text
    assert "../" not in "".join(trends.hrefs)
    strips = [attributes for attributes in trends.all("svg") if attributes.get("class") == "on-axis"]
    assert len(strips) == 6, "the six figures over time"
    assert "years/2026.html" in seen_at(one_batch(tmp_path / "again"), "numbers.html").hrefs


def test_five_batches_get_a_sentence_on_their_range(tmp_path: Path) -> None:
    files = {
        f"{n}.md": entry(LITTLE.replace("20.0 L", f"{19 + n / 2} L"), head=head(str(n), brewed=f"2026-0{n}-01"))
        for n in range(1, 6)
    }
    record = record_at(tmp_path, dict(files))
    values = sorted(100 * figures["brewhouse_efficiency"].value for figures in record.figures.values())
    said = verdict(Index(record), brewhouse_views(Index(record))[0]).replace("\N{NO-BREAK SPACE}", " ")
    assert said.startswith("In the latest batch, 5, ")
    ends = re.search(r"over five batches it was ([\d.]+) to ([\d.]+) %", said)
    assert ends
    assert [float(each) for each in ends.groups()] == pytest.approx([values[0], values[-1]], abs=0.5)
    four = {name: text for name, text in files.items() if name != "5.md"}
    assert "five batches are needed to tell change from chance, and there are four" in (
        seen_at(record_at(tmp_path / "four", dict(four)), "trends.html").text
    )


def test_a_repeated_id_leaves_the_page_to_the_first(tmp_path: Path) -> None:
    files = {"a.md": entry(LITTLE, head=head("5", "First")), "b.md": entry(LITTLE, head=head("5", "Second"))}
    record = record_at(tmp_path, dict(files))
    site = site_of(record)
    assert "First" in site["batches/5.html"].text
    assert "batch 5 is also in entries/a.md".capitalize() in site["batches/b.html"].text
    assert "batches/b.html" in site["batches.html"].hrefs


def test_a_day_gone_by_is_told_from_one_to_come(tmp_path: Path) -> None:
    record = one_batch(tmp_path, PLANNED)
    before, after = date(2026, 4, 10), date(2026, 4, 12)
    assert "Planned for 11 April 2026" in seen_at(record, "batches/31.html", before).text
    assert "Was planned for 11 April 2026" in seen_at(record, "batches/31.html", after).text


@pytest.mark.parametrize("theme", ["bones", "nothing", "../entries"])
def test_a_theme_that_is_not_there_is_refused(theme: str) -> None:
    with pytest.raises(ValueError, match="no theme"):
        Renderer(Theme(theme))
