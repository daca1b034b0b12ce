"""What the working sheet answers on the brew day is what `wortbook correct` answers, to the digit shown."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from browser.chromium import IN_A_BROWSER
from browser.filled_sheet import answers, page_alone
from browser.test_sheet import FULL, SHORT
from history.told import texts
from playwright.sync_api import Browser
from texts import entry

from journal.history.plan import KETTLE, KNOCKOUT
from journal.history.plan.correction_text import correction_text
from journal.pages import Record

pytestmark = IN_A_BROWSER

#: Instruments that were all checked once, a hydrometer made for 15 °C and a refractometer.
CHECKED = """instruments:
  malt_scale: 20 g
  volume: 0.25 L
  hydrometer: {uncertainty: 0.0007, calibrated_at: 15 degC, checks: [{on: 2021-01-02, of: water at 20 degC, shows: 1.001}]}
  refractometer: {uncertainty: 0.15 °Bx, wort_factor: 1.04 ± 0.01, checks: [{on: 2021-01-02, of: water, shows: 0.2 °Bx}]}
  thermometer:
    uncertainty: 0.4 degC
    checks: [{on: 2021-01-02, of: ice, shows: 0.5 degC}, {on: 2021-01-02, of: boiling water, shows: 99 degC}]
brewhouses:
  shed:
    name: Shed
    kettle: {dip: [5 cm = 4 L, 20 cm = 18 L, 45 cm = 40 L], checks: [{on: 2021-01-02, of: 20 kg, shows: 20.3 L}]}
"""
#: A known brewhouse, one that nothing is known of, one in gallons, and one whose instruments were checked: settings, how many
#: brews came before, the plan, and how far from what is expected the page still answers, in half-widths.
BREWERIES = {
    "known": (f"{BREWERY}brewhouses: {{shed: {{name: Shed}}}}\n", 14, SHORT, 3.8),
    "new": (f"{BREWERY}brewhouses: {{shed: {{name: Shed}}}}\n", 0, FULL, 1.0),
    "in gallons": (f"units: us\n{BREWERY}brewhouses: {{shed: {{name: Shed}}}}\n", 14, FULL, 3.0),
    "checked": (CHECKED, 3, SHORT, 2.0),
}
#: How far the two readings lie from what is expected, as shares of that.
SHARES = (-1.0, -0.7, -0.3, 0.05, 0.4, 0.75, 1.0)


@pytest.fixture(scope="module", params=list(BREWERIES))
def sheet(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Record, Path, float]:
    settings, earlier, plan, reach = BREWERIES[request.param]
    root = tmp_path_factory.mktemp("journal")
    (root / "entries").mkdir()
    (root / "entries" / "brewery.yaml").write_text(settings)
    brewed = [text.replace("grains:", "brewhouse: shed\ngrains:", 1) for text in texts(earlier, Habits())]
    planned = entry(f"brewhouse: shed\n{plan}", head="batch: 15\ntitle: Lantern Bitter\nbrewed: 2021-03-15\n")
    for place, text in enumerate([*brewed, planned]):
        (root / "entries" / f"{place:02d}.md").write_text(text)
    return *page_alone(root, "15"), reach


def _readings(record: Record, reach: float) -> Iterator[tuple[str, str, str]]:
    """A grid of readings at both places: together and one alone, on all three scales, cold and hot."""
    batch = next(batch for batch in record.batches if batch.id == "15")
    for place in (KETTLE, KNOCKOUT):
        # from the command itself, that nothing of the page is needed to ask the page
        text, _ = _asked(record, batch.id, place, "1.050", "20 L")
        ranges = [line.split("expected ")[-1].split(" to ") for line in text.splitlines()[1:3]]
        (low, high), (weak, strong) = [[float(end.split()[0]) for end in ends] for ends in ranges]
        unit = "gal" if "gal" in text.splitlines()[1] else "L"
        volumes = [(low + high) / 2 + share * reach * (high - low) / 2 for share in SHARES]
        gravities = [(weak + strong) / 2 + share * reach * (strong - weak) / 2 for share in SHARES]
        yield from ((place, f"{gravity:.4f}", f"{volume:.2f} {unit}") for gravity in gravities for volume in volumes)
        yield from ((place, f"{gravity:.4f}", "") for gravity in gravities)
        yield from ((place, "", f"{volume:.2f} {unit} at 71.5 °C") for volume in volumes)
        for share in (-0.6, 0.1, 0.7):
            gravity = 0.5 * (weak + strong) + share * 0.5 * (strong - weak)
            points = (gravity - 1) * 1000
            yield place, f"{points / 4.05:.2f} °P", f"{(low + high) / 2:.1f} ± 0.4 {unit}"
            yield place, f"{points / 3.9:.1f} °Bx", f"{(low + high) / 2:.1f} {unit} at 158 °F"
            yield place, f"{gravity - 0.004:.4f} at 35 °C", f"{(low + high) / 2:.1f} {unit} at 20 °C"
            yield place, f"{gravity:.4f} ± 0.0005 at 60 °F", ""
            litres = (low + high) / 2 * (3.785 if unit == "gal" else 1.0)
            yield place, f"{gravity:.4f}", f"{litres * 1.04:.2f} kg"
            if record.journal.brewery.brewhouses["shed"].kettle.dip:
                yield place, f"{gravity:.4f}", f"{200 + (litres - 18) * 250 / 22:.0f} mm at 60 °C"
                yield place, "", f"{20 + (litres - 18) * 25 / 22:.1f} ± 0.4 cm"


def _asked(record: Record, number: str, place: str, gravity: str, volume: str) -> tuple[str, bool]:
    batch = next(batch for batch in record.batches if batch.id == number)
    priors = record.balances[number].priors
    return correction_text(batch, record.journal, record.figures[number], priors, place, gravity, volume)


def test_the_page_answers_as_the_command_does(browser: Browser, sheet: tuple[Record, Path, float]) -> None:
    record, address, reach = sheet
    page = browser.new_page()
    page.goto(f"file://{address}")
    readings = list(_readings(record, reach))
    assert len(readings) > 100
    found = answers(page, readings)
    page.close()
    advised = set()
    for reading, lines in zip(readings, found, strict=True):
        text, answered = _asked(record, "15", *reading)
        assert answered, (reading, text)
        assert sorted(lines) == sorted(line.strip() for line in text.splitlines()[1:]), reading
        advised.update(line.split()[0] for line in lines)
    assert {"Leave", "add", "stir", "boil", "best"} <= advised
