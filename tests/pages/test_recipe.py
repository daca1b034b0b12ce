"""A recipe can be brewed from, and the page, its text and the terminal say the same."""

from __future__ import annotations

from pathlib import Path

from pages.seen import BREWERY, head, page_at, record_at
from texts import entry

from journal.history.plan.rescale import Rescaled
from journal.measures.wording import per_cents
from journal.pages.index import Index
from journal.pages.recipe_amounts import AS_BREWED
from journal.pages.recipe_text import recipe_text
from journal.pages.site.recipe import RecipeModel
from journal.publishing import understand

EXTRACT = """
grains: [{malt: crystal 60, weight: 1 lb}]
mash: {liquor: 2 gal, rests: [155 degF for 30 min], additions: [{addition: gypsum, amount: 5 mL}]}
lauter: {method: steep}
boil:
  before: {volume: 5.5 gal, gravity: 1.051, additions: [{addition: light LME, weight: 6.6 lbs}]}
  time: 60 min
  additions: [{addition: DME, weight: 1 lb, boiled: 15 min}, {addition: Irish moss, amount: 1 tablet, boiled: 15 min}]
fermenter:
  volume: 5 gal
  gravity: 1.052
  pitched: 2026-04-11 19:00
  temperatures: [{on: 2026-04-11 19:00, temperature: 66 degF}]
  hops: [{hop: East Field, weight: 1 oz, on: 2026-04-18, off: 2026-04-22}]
package: {on: 2026-04-26, priming: {addition: corn sugar, weight: 4 oz}}
"""


def index_at(root: Path) -> Index:
    return Index(record_at(root, {"31.md": entry(EXTRACT, head=head("31"))}, f"units: us\n{BREWERY}"))


def rows(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.splitlines()]


def test_what_brings_the_extract_stands_first_and_everything_says_when(tmp_path: Path) -> None:
    index = index_at(tmp_path)
    found = rows(recipe_text(index, index.batches[0]))
    first = next(place for place, row in enumerate(found) if row.startswith("Malt and extract"))
    # the brewer's own words, and the largest share of the extract
    assert found[first + 1].startswith("6.6 lbs light LME, ")
    assert found[first + 1].endswith(" %, before the boil")
    assert {
        "155 °F steep, 30 min",
        "1 tablet Irish moss, boiled 15 min",
        "5.5 gal in the kettle before the boil, at 1.051",
        "60 min boil",
        "5 gal into the fermenter, at 1.052",
        "1 oz East Field, fermenter, day 7 to day 11",
        "15 days until packaged",
    } <= set(found)
    assert not any("deg" in row for row in found)


def test_the_page_and_the_text_have_the_same_rows(tmp_path: Path) -> None:
    index = index_at(tmp_path)
    model = page_at(index.record, "recipes/31.html").model
    assert isinstance(model, RecipeModel)
    text = rows(recipe_text(index, index.batches[0]))
    for group in model.recipe:
        assert group.words in text
        for line in group.lines:
            words = ", ".join(part for part in (line.what.words, line.when) if part)
            assert f"{line.amount.words} {words}".replace("\u00a0", " ").strip() in text


def test_for_twice_the_volume_salts_go_along_and_what_is_counted_says_that_it_stays(tmp_path: Path) -> None:
    index = index_at(tmp_path)
    found = rows(recipe_text(index, index.batches[0], Rescaled(2.0, 2.0, 37.854, None, None, None, None)))
    assert {
        "10 mL gypsum",
        "1 tablet Irish moss, boiled 15 min, not scaled",
        "8 oz corn sugar, to carbonate it",
        "10.00 gal into the fermenter, at 1.052",
    } <= set(found)


def test_shares_add_up_where_that_cannot_mislead() -> None:
    assert per_cents([0.335, 0.335, 0.33]) == ["34 %", "34 %", "33 %"], "equal ones look equal"
    assert per_cents([0.696, 0.176, 0.128]) == ["69 %", "18 %", "13 %"]
    assert per_cents([0.5, None]) == ["50 %", ""]


def test_a_planned_brew_says_what_its_kettle_is_expected_to_hold_and_is_rescaled_by_its_target(tmp_path: Path) -> None:
    fields = "target: {volume: 20 L, gravity: 1.046}\ngrains: [{malt: pale malt, weight: 4 kg}]\nmash: {liquor: 13 L}\n"
    fields += "lauter: {method: batch sparge, liquor: 14 L}\nboil: {time: 60 min}"
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "31.md").write_text(entry(fields, head=head("31")), "utf-8")
    index = Index(understand(tmp_path))
    once, twice = (
        rows(recipe_text(index, index.batches[0], by))
        for by in (AS_BREWED, Rescaled(2.0, 2.0, 40.0, None, None, None, None))
    )
    (kettle,) = (float(row.split()[0]) for row in once if "in the kettle before the boil, expected" in row)
    # 27 L less a litre or so held by each kilogram of grain (common practice)
    assert 20.0 < kettle < 25.0
    assert "20 L into the fermenter, as planned" in once
    assert "40.0 L into the fermenter, as planned" in twice
