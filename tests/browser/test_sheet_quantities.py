"""The working sheet reads what is typed as the journal reads an entry: the same numbers, and the same texts refused."""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Any

import pytest
from browser.chromium import IN_A_BROWSER
from browser.filled_sheet import page_alone
from playwright.sync_api import Browser, Page
from texts import entry

from journal.measures import Fault, read_gravity, read_measure
from journal.measures.units import LENGTH, PH, TEMPERATURE, WEIGHT, MeasureKind
from journal.reading.values import VesselVolume

pytestmark = IN_A_BROWSER

KINDS: dict[str, MeasureKind | None] = {
    kind.name: kind for kind in (WEIGHT, VesselVolume.kind, TEMPERATURE, LENGTH, PH)
} | {"gravity": None}
NUMBERS = (
    "24.5",
    ".5",
    "1.048",
    "1048",
    "12",
    "0",
    "-3",
    "+2",
    "9 1/2",
    "9-1/2",
    "½",
    "2¼",
    "17/16",
    "1e3",
    "1 234",
    "1.2.3",
    "nan",
)
NUMBERS += ("007", "5.", "1'000", "3000000000000", "", "L")
SPREADS = ("", "", "", " ± 0.2", " +/- 1", "±0", " ± x")
UNITS = (
    "",
    " L",
    "L",
    " l",
    " mL",
    " gal",
    " imp gal",
    " qt",
    " bbl",
    " kg",
    " g",
    "lb",
    " oz",
    " cm",
    " mm",
    " in",
    " °C",
    " degF",
    " fl oz",
    " tbsp",
    " lb.",
    " gal.",
)
UNITS += (" C", " min", " °P", "°Bx", " Brix", " SG", " %", " EBC", " Liter", " K", " °", " L/h", " _L", " kg²")
ENDS = (
    "",
    "",
    "",
    " at 65 degC",
    " at 149 °F",
    " at 20",
    " at 400 C",
    "at 20 degC",
    " at -40 °F",
    " at ",
    " 8 oz",
    " 8 oz.",
    " 3 lb",
    " 1/2 oz",
    " x",
)

READ = """texts => {
  const read = SheetQuantity(JSON.parse(document.getElementById("sheet-data").textContent));
  return texts.map(([text, kind, unit]) => read(text, kind, unit));
}"""


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Page:
    root = tmp_path_factory.mktemp("journal")
    (root / "entries").mkdir()
    plan = "grains: [{malt: pale malt, weight: 4 kg}]\nmash: {liquor: 14 L}\n"
    (root / "entries" / "1.md").write_text(entry(plan, head="batch: 1\ntitle: A\nbrewed: 2026-04-11\n"))
    opened = browser.new_page()
    opened.goto(f"file://{page_alone(root, '1')[1]}")
    return opened


def _read(text: str, kind: str) -> tuple[float, float | None, float | None] | None:
    """Value, its stated uncertainty and the temperature that the journal reads; None for a text that it refuses."""
    known = KINDS[kind]
    if known is None:
        found: Any = read_gravity(text.strip())
    else:
        found = read_measure(text.strip(), VesselVolume().kind_of(text) if kind == "volume" else known)
    return None if isinstance(found, Fault) else (found.value, found.sd, found.at)


def _alike(one: Sequence[float | None] | None, other: Sequence[float | None]) -> bool:
    return one is not None and all(
        a == b or (a is not None and b is not None and a == pytest.approx(b, rel=1e-9))
        for a, b in zip(one, other, strict=True)
    )


def test_every_text_is_read_or_refused_alike(page: Page) -> None:
    rng = random.Random(7)
    asked = []
    for name, kind in KINDS.items():
        own = tuple(f" {spelling}" for spelling in (kind.written if kind else ("", "°P", "Bx")))
        parts = (NUMBERS, SPREADS, own * (len(UNITS) // len(own)) + UNITS, ENDS + ("",) * 12)
        asked += [("".join(rng.choice(part) for part in parts), name, "") for _ in range(1500)]
    found = page.evaluate(READ, asked)
    taken = 0
    for (text, kind, _), seen in zip(asked, found, strict=True):
        wanted = _read(text, kind)
        if wanted is None:
            assert all(seen.get(said) for said in ("message", "hint")), (text, kind, seen)
            continue
        taken += 1
        assert "message" not in seen, (text, kind, seen)
        assert _alike((seen["value"], seen["sd"], seen["at"] and seen["at"]["value"]), wanted), (text, kind)
        # and what is written for the entry means the same
        again = seen["text"] + (f" at {seen['at']['text']}" if seen["at"] else "")
        assert _alike(_read(again, kind), wanted), (text, again)
    assert taken > 300


@pytest.mark.parametrize(
    ("text", "kind", "unit", "written"),
    [
        ("24,5", "volume", "L", "24.5 L"),
        ("24", "volume", "gal", "24 gal"),
        ("24 at 65 °C", "volume", "L", "24 L"),
        ("1,048", "gravity", "", "1.048"),
        ("12,4", "gravity", "°Bx", "12.4 °Bx"),
        ("0,125", "weight", "kg", "0.125 kg"),
        ("9 8 oz", "weight", "lb", None),
        ("1,250", "weight", "g", None),
        ("1,250,5", "weight", "g", None),
        ("5,36", "pH", "", "5.36"),
    ],
)
def test_a_number_alone_has_the_unit_beside_it_and_a_comma_may_be_a_point(
    page: Page, text: str, kind: str, unit: str, written: str | None
) -> None:
    (seen,) = page.evaluate(READ, [(text, kind, unit)])
    assert seen.get("text") == written
