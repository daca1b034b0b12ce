"""What was recorded counts as volumes at 20 °C and gravities at 20/20, whatever it was read by."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages.seen import accounts_of, record_at
from texts import entry

from journal.pages.site.accounts import AccountsModel

#: Density of water at 95 °C over that at 20 °C: IAPWS-95 at 1 atm.
AT_95 = 0.963616
FIELDS = """
grains: [{malt: pale malt, weight: 5 kg, extract_as_is: 80 %, moisture: 4 %}]
mash:
  liquor: 15 L
  first_wort: 20.8 °Bx
  readings: [{at: 10 min, gravity: 12.48 °Bx}, {at: 60 min, gravity: 1.0484}]
lauter: {method: fly sparge, last_runnings: 5.2 °Bx}
boil: {top_up: 3 L at 95 degC}
fermenter: {volume: 18 L at 95 degC, gravity: 12 °P}
readings: [{at: 2026-04-12 20:00, gravity: 1.0373 at 30 degC}, {at: 2026-04-24 20:00, gravity: 6.24 °Bx}]
package: {volume: 17 L, gravity: 6.24 °Bx, container: keg}
"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> AccountsModel:
    return accounts_of(record_at(tmp_path_factory.mktemp("recorded"), {"31.md": entry(FIELDS)}))


@pytest.mark.parametrize(
    ("anchor", "value", "unit", "within"),
    [
        # ASBC table of extract (apparent specific gravity 20/20): 5 °P is 1.01968, 12 °P 1.04837, 20 °P 1.08297;
        # a refractometer's reading of wort is divided by 1.04
        ("mash-first-wort", 1.08297, "", 1e-4),
        ("mash-readings-0-gravity", 1.04837, "", 1e-4),
        ("lauter-last-runnings", 1.01968, "", 1e-4),
        ("boil-top-up", 3 * AT_95, "L", 0.006),
        ("fermenter-volume", 18 * AT_95, "L", 0.06),
        ("fermenter-gravity", 1.04837, "", 1e-4),
        # by buoyancy with the densities of ICUMSA SPS-4: a wort of 10 °P, 1.04003, shows 2.72 points too little at 30 °C
        ("readings-0-gravity", 1.04003, "", 1e-4),
        # S. Terrill (2011), cubic: 12 and 6 °Bx, both divided by the wort factor, give 1.01168
        ("readings-1-gravity", 1.01168, "", 6e-4),
        ("package-gravity", 1.01168, "", 6e-4),
    ],
)
def test_a_reading_counts_at_20_degrees(
    anchor: str, value: float, unit: str, within: float, page: AccountsModel
) -> None:
    pieces = {piece.anchor: piece for group in page.recorded for row in group.rows for piece in row.pieces}
    counted = pieces[f"r-{anchor}"].counted
    assert counted is not None
    assert float(counted.whole + counted.fraction) == pytest.approx(value, abs=within)
    assert counted.unit == unit


def test_the_mash_s_gravities_are_drawn_on_one_scale_below_the_most_there_can_be(page: AccountsModel) -> None:
    assert page.mash is not None
    picture = page.mash.conversion
    assert picture is not None
    (panel,) = picture.panels
    by_light, by_hydrometer = panel.marks
    # 12.48 °Bx / 1.04 is 12 °P, which is 1.0484: one and the same wort
    assert by_light.y == pytest.approx(by_hydrometer.y, abs=0.2)
    # 4 kg of extract in 15 L (14.973 kg) and the grain's 0.2 kg of water: 20.86 °P, by the ASBC table 1.0869
    assert "1.087" in picture.summary
    start, end = panel.fitted.removeprefix("M").replace("L", " ").split(" ")[1::2][:2]
    assert float(start) == float(end) < by_hydrometer.y


def test_whatever_a_package_holds_is_shown(tmp_path: Path) -> None:
    fields = "package: {on: 2026-05-01, priming: {addition: dextrose, weight: 120 g}, container: bottles, carbonation: 5 g/L}"
    found = accounts_of(record_at(tmp_path, {"31.md": entry(fields)}))
    rows = {row.anchor: row for group in found.recorded for row in group.rows}
    assert rows["r-package-priming-addition"].pieces[0].written == "dextrose"
    assert rows["r-package-priming-weight"].pieces[0].written == "120 g"


@pytest.mark.parametrize(("amount", "counted"), [("4 g", "4"), ("1 tablet", None), ("3 mL", None)])
def test_what_is_poured_or_counted_is_shown_as_that(amount: str, counted: str | None, tmp_path: Path) -> None:
    fields = f"mash: {{additions: [{{addition: gypsum, amount: {amount}}}]}}"
    found = accounts_of(record_at(tmp_path, {"31.md": entry(fields)}))
    rows = {row.anchor: row for group in found.recorded for row in group.rows}
    (piece,) = rows["r-mash-additions-0"].pieces
    assert all(row.pieces for row in rows.values()), "a row of nothing says nothing"
    assert piece.written == amount
    assert (piece.counted.whole if piece.counted else None) == counted
