"""Finding batches: words and places packed and unpacked, indexes, filters, and what leads to them."""

from __future__ import annotations

import gzip
import json
import unicodedata
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pages.seen import LITTLE, PLANNED, WHOLE, head, one_batch, page_at, record_at, seen_at, site_of
from texts import entry

from journal.pages import Record, search_files
from journal.pages.labels import label_key
from journal.pages.search.packing import SIGNS, pack_places, pack_words
from journal.pages.search.prose import plain_text
from journal.pages.search.words import fold, words_of
from journal.pages.site.batches import BatchesModel
from journal.pages.site.by import ByModel


def unpacked_places(signs: str) -> list[int]:
    """Written from the description: five bits a sign, the lowest first, steps less one."""
    places, step, shift, last = [], 0, 0, -1
    for sign in signs:
        value = SIGNS.index(sign)
        step |= (value & 31) << shift
        shift += 5
        if value < 32:
            last += step + 1
            places.append(last)
            step, shift = 0, 0
    return places


def unpacked_words(packed: list[str]) -> list[str]:
    words, before = [], ""
    for each in packed:
        before = before[: SIGNS.index(each[0])] + each[1:]
        words.append(before)
    return words


def values(script: bytes) -> list[Any]:
    """What a script hands over."""
    text = script.decode()
    return json.loads(f"[{text[text.index('(') + 1 : text.rindex(')')]}]")


def occurrences(record: Record) -> dict[str, list[list[str]]]:
    """The batches of every word by where it occurs: prose, labels, titles."""
    lines, rows, _, _ = values(search_files(record)["search/words.js"])
    split = [line.split(" ") for line in lines.split("\n")]
    words = unpacked_words([packed for packed, *_ in split])
    return {
        word: [[rows[place][0] for place in unpacked_places(signs)] for signs in lists]
        for word, (_, *lists) in zip(words, split, strict=True)
    }


def four(root: Path) -> Record:
    files = {
        "1.md": entry(WHOLE, "A *slow* run-off, said [Bram](2.md).", head=head("1", "Lantern Bitter", "2025-04-11")),
        "2.md": entry(LITTLE + "style: Bitter\ntags: [Dry Hop, Märzen]\n", head=head("2", "Kölnisch", "2026-01-01")),
        "3.md": entry(LITTLE + "tags: [dry-hop]\n", head=head("3", "Lantern", "2026-02-01")),
        "4.md": entry(PLANNED, head=head("4", "Next", "2026-03-01")),
    }
    return record_at(root, dict(files))


@given(st.sets(st.integers(0, 5_000_000)))
def test_places_come_back_as_they_went_in(places: set[int]) -> None:
    assert unpacked_places(pack_places(sorted(places))) == sorted(places)


@given(st.sets(st.text(min_size=1)))
def test_words_come_back_as_they_went_in(words: set[str]) -> None:
    assert unpacked_words(pack_words(sorted(words))) == sorted(words)


@given(st.text())
def test_folding_is_done_once_and_for_all(text: str) -> None:
    folded = fold(text)
    # Unicode Standard Annex 15: no mark is left apart from its letter
    assert not [c for c in folded if unicodedata.combining(c)]
    assert words_of(folded) == words_of(text)


def test_words_are_folded() -> None:
    assert words_of("Kölnisch, ÉLAN; brewer’s Weißbier 22-b at 1.048.") == {
        "kolnisch", "elan", "brewers", "weissbier", "22", "b", "at", "1.048",
    }  # fmt: skip


def test_prose_is_said_without_its_marks() -> None:
    prose = "# A head\n\nOne *two* [three](four.md)\nfive `six`\n\n- seven\n- eight\n\n![nine](ten.png)"
    assert plain_text(prose) == "A head One two three five six seven eight nine"


def test_a_word_is_found_where_it_stands_and_no_twice(tmp_path: Path) -> None:
    found = occurrences(four(tmp_path))
    assert found["lantern"] == [[], [], ["1", "3"]]
    assert found["bram"] == [["1"]]
    assert found["meadow"] == [[], ["1", "2", "3"]], "a malt by its sheet’s name"
    assert found["kolnisch"] == [[], [], ["2"]]
    assert found["bitter"] == [[], ["2"], ["1"]], "in the title of 1 as well as its style: the title counts"
    assert list(found) == sorted(found)


def test_hops_yeast_additions_steps_and_faults_are_found(tmp_path: Path) -> None:
    tasted = 'tasting: [{on: 2026-05-01, words: "Thin, a little smoke.", faults: [astringent]}]\n'
    record = record_at(tmp_path, {"7.md": entry(WHOLE + tasted, "Said little.", head=head("7"))})
    found = occurrences(record)
    for word in ("field", "house", "lactic", "astringent", "sparge", "slow"):
        assert found[word] == [[], ["7"]], word
    assert found["smoke"] == [["7"]], "what was tasted is told in the brewer's words"
    files = search_files(record)
    _, rows, things, _ = values(files["search/words.js"])
    assert {"East Field", "house", "lactic acid 80 %", "astringent", "run off slow"} <= {things[n] for n in rows[0][5]}
    assert values(files["search/prose-0.js"]) == [0, ["Said little. Thin, a little smoke."]]
    assert not {"kilogram", "litre", "celsius", "minute"} & (found.keys() | set(things)), (
        "a quantity's unit went into no beer"
    )


def test_prose_lies_in_stretches_that_a_new_batch_leaves_alone(tmp_path: Path) -> None:
    def files(count: int) -> dict[str, bytes]:
        entries = {
            f"{n}.md": entry(LITTLE, f"Said of {n}.", head=head(str(n), brewed=f"{2020 + n // 12}-{n % 12 + 1:02}-01"))
            for n in range(count)
        }
        return search_files(record_at(tmp_path / str(count), dict(entries)))

    before, after = files(51), files(52)
    assert before["search/prose-0.js"] == after["search/prose-0.js"]
    assert values(after["search/prose-1.js"]) == [1, ["Said of 50.", "Said of 51."]]


def test_equal_journals_give_equal_files(tmp_path: Path) -> None:
    assert search_files(four(tmp_path / "a")) == search_files(four(tmp_path / "b"))


def test_each_section_of_the_help_is_found_by_its_words(tmp_path: Path) -> None:
    record = record_at(tmp_path, {})
    (sections,) = values(search_files(record)["search/how-to.js"])
    site = site_of(record)
    for href, page, heading, text in sections:
        path, _, anchor = href.partition("#")
        assert page
        assert text
        assert f"{heading} {text}".strip() in " ".join(site[path].text.split())
        assert not anchor or anchor in site[path].ids
    assert any("the option goes before the file" in text for *_, text in sections)


def test_a_journal_without_batches_has_its_search_all_the_same(tmp_path: Path) -> None:
    assert values(search_files(record_at(tmp_path, {}))["search/words.js"])[:3] == ["", [], []]


def test_an_index_holds_every_batch_that_bears_the_label(tmp_path: Path) -> None:
    model = page_at(four(tmp_path), "by/tag.html").model
    assert isinstance(model, ByModel)
    found = {entered.anchor: [each.id for each in entered.batches] for entered in model.entered}
    assert found == {"tag-cask": ["1"], "tag-dry-hop": ["3", "2"], "tag-märzen": ["2"]}
    years = page_at(four(tmp_path), "by/year.html").model
    assert isinstance(years, ByModel)
    assert [entered.words for entered in years.entered] == ["2026", "2025"]


def test_what_a_batch_is_found_by_leads_to_its_place_in_an_index(tmp_path: Path) -> None:
    record = four(tmp_path)
    hrefs = seen_at(record, "batches/2.html").hrefs
    for target in ("by/tag.html#tag-märzen", "by/tag.html#tag-dry-hop", "by/style.html#style-bitter"):
        path, anchor = target.split("#")
        assert f"../{target}" in [unquote(href) for href in hrefs]
        assert anchor in seen_at(record, path).ids


def test_the_table_can_be_cut_down_to_what_an_index_links_to(tmp_path: Path) -> None:
    record = four(tmp_path)
    model = page_at(record, "batches.html").model
    assert isinstance(model, BatchesModel)
    choices = {each.name: {choice.key: choice.batches for choice in each.choices} for each in model.filters}
    assert choices["tag"] == {"cask": 1, "dry-hop": 2, "märzen": 1}
    assert "brewhouse" not in choices, "all were brewed on the one"
    rows = seen_at(record, "batches.html").all("tr")
    for entered in page_at(record, "by/tag.html").model.entered:  # type: ignore[attr-defined]
        asked = parse_qs(urlsplit(entered.table).query)
        (key,) = asked["tag"]
        kept = [row for row in rows if key in row.get("data-tag", "").split()]
        assert len(kept) == len(entered.batches) == choices["tag"][key]


@pytest.mark.parametrize(("words", "key"), [("Dry Hop", "dry-hop"), ("dry - hop", "dry-hop"), ("", "-"), ("-", "-")])
def test_a_key_holds_no_space(words: str, key: str) -> None:
    assert label_key(words) == key


def test_without_javascript_the_search_says_so_and_leads_on(tmp_path: Path) -> None:
    seen = seen_at(one_batch(tmp_path), "search.html")
    assert "Searching needs JavaScript" in seen.text
    assert {"by/tag.html", "by/style.html", "malts.html", "by/year.html", "by/brewhouse.html"} <= set(seen.hrefs)
    (form,) = seen.all("form")
    assert "hidden" in form


def test_the_lists_are_light(tmp_path: Path) -> None:
    """A thousand batches may take 300 kB: 300 bytes each, which the demo's prose keeps to before words repeat much."""
    demo = Path(__file__).parents[2] / "entries"
    prose = [path.read_text("utf-8").split("\n---\n", 1)[1] for path in sorted(demo.rglob("*.md"))]
    files = {f"{n}.md": entry(LITTLE, text.replace("](", "] ("), head=head(str(n))) for n, text in enumerate(prose)}
    words = search_files(record_at(tmp_path, dict(files)))["search/words.js"]
    assert len(gzip.compress(words)) < 300 * len(files)
