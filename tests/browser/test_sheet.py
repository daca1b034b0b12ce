"""The working sheet on paper and on a phone, of a short day and of a full one."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from browser.chromium import IN_A_BROWSER
from history.told import texts
from playwright.sync_api import Page
from texts import entry

from journal.publishing import build

SHORT = """
target: {gravity: 1.048, volume: 19 L}
grains: [{malt: pale malt, weight: 4.20 kg}]
mash: {liquor: 14.0 L, rests: [67 degC for 60 min]}
lauter: {method: batch sparge, liquor: 15.0 L}
boil: {time: 60 min, hops: [{hop: East Field, weight: 30 g, boiled: 60 min}]}
"""
FULL = """
target: {gravity: 1.055, volume: 18 L}
grains:
  - {malt: pale malt, weight: 3.60 kg}
  - {malt: munich malt, weight: 500 g}
  - {malt: wheat malt, weight: 250 g}
  - {malt: amber malt, weight: 150 g}
  - {malt: chocolate malt, weight: 120 g}
  - {malt: roasted barley, weight: 60 g}
crush: 1.1 mm
mash:
  liquor: 14.5 L
  strike: 58 degC
  additions: [{addition: lactic acid 80 %, amount: 2 mL}, {addition: gypsum, amount: 3 g}]
  rests: [52 degC for 10 min, 66 degC for 50 min, 72 degC for 15 min]
lauter: {method: fly sparge, liquor: 15.0 L, liquor_temperature: 76 degC}
boil:
  time: 75 min
  top_up: 1 L
  hops:
    - {hop: East Field, weight: 30 g, alpha: 5.5 %, boiled: 70 min}
    - {hop: Late Field, weight: 25 g, alpha: 5.0 %, boiled: 30 min}
    - {hop: Late Field, weight: 25 g, alpha: 5.0 %, boiled: 10 min}
    - {hop: Steep Field, weight: 20 g, alpha: 4.0 %, boiled: 0 min}
  additions: [{addition: sucrose, weight: 200 g}]
fermenter: {yeast: house, top_up: 1 L}
"""
PLANS = {"15": SHORT, "16": FULL}
#: Where the plan of the first brew of all stands: nothing is known, so its tables are the longest.
FIRST = "17"

pytestmark = IN_A_BROWSER


@pytest.fixture(scope="module", params=["metric notebook", "us notebook", "us almanac"])
def site(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    units, theme = request.param.split()
    root = tmp_path_factory.mktemp("journal")
    (root / "entries").mkdir()
    houses = "brewhouses: {shed: {name: Shed}, barn: {name: Barn}}\n"
    (root / "entries" / "brewery.yaml").write_text(f"units: {units}\n{houses}{BREWERY}")
    brewed = [text.replace("grains:", "brewhouse: shed\ngrains:", 1) for text in texts(14, Habits())]
    planned = [entry(f"brewhouse: shed\n{plan}", head=_head(number)) for number, plan in PLANS.items()]
    first = entry(f"brewhouse: barn\n{FULL}", head=_head(FIRST))
    for place, text in enumerate([*brewed, *planned, first]):
        (root / "entries" / f"{place:02d}.md").write_text(text)
    assert build(root, root / "site", theme=theme).published
    return root / "site"


def _head(number: str) -> str:
    return f"batch: {number}\ntitle: Lantern Bitter\nbrewed: 2021-03-{number}\n"


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="no pdfinfo; .ci/run installs poppler-utils")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("number", [*PLANS, FIRST])
def test_the_sheet_prints_on_two_leaves_at_most(
    site: Path, page: Page, tmp_path: Path, number: str, paper: str
) -> None:
    page.goto(f"file://{site}/batches/{number}.html")
    leaf = tmp_path / f"{number}.pdf"
    page.pdf(path=str(leaf), format=paper)
    info = subprocess.run(["pdfinfo", str(leaf)], capture_output=True, text=True, check=True).stdout
    assert next(int(line.split()[1]) for line in info.splitlines() if line.startswith("Pages:")) <= 2
    text = subprocess.run(["pdftotext", "-layout", str(leaf), "-"], capture_output=True, text=True, check=True).stdout
    for words in ("Lantern Bitter", "Strike temperature", "Pitching", "Off target", "leave it", "Volume read hot"):
        assert words in text
    assert "What is planned" not in text, "the rest of the page stays on the screen"


@pytest.mark.parametrize("number", [*PLANS, FIRST])
def test_no_cell_runs_into_its_neighbour_on_paper(site: Path, page: Page, number: str) -> None:
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 688, "height": 1000})  # A4 less its margins, in CSS pixels
    page.goto(f"file://{site}/batches/{number}.html")
    assert page.locator(".off-target td").count() > 20
    wide = page.evaluate(
        "[...document.querySelectorAll('.off-target td')].filter(td => td.scrollWidth > td.clientWidth + 1).length"
    )
    assert wide == 0


@pytest.mark.parametrize("width", [320, 360, 768])
@pytest.mark.parametrize("name", ["batches/15", "batches/16", "malt-needed"])
def test_nothing_scrolls_sideways_but_the_tables(site: Path, page: Page, name: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(f"file://{site}/{name}.html")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
