"""A recipe for another volume and brewhouse makes the same wort."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli import main
from journal.figures import Result as FigureResult
from journal.history.plan.from_batch import Unusable
from journal.history.plan.rescale import Rescaled, rescale

ENTRY = """---
batch: 1
title: Kitchen Bitter
brewed: 2026-10-03
grains:
  - {malt: pale malt, weight: 3.80 kg, extract: 81.5 %, moisture: 4 %}
  - {malt: amber malt, weight: 200 g, extract: 76 %, moisture: 4 %}
mash: {liquor: 12 L, rests: [66 degC for 60 min]}
boil: {hops: [{hop: Long Hedge, weight: 30 g, alpha: 6 %, boiled: 60 min}], additions: [{addition: sucrose, weight: 100 g}]}
fermenter: {volume: 19 L, gravity: 1.048, yeast: house}
---
"""


def of(**figures: tuple[float, float]) -> Callable[[str], FigureResult | None]:
    """Figures by name, each a value and its standard uncertainty."""
    return {name: FigureResult(name, "", value, sd, (), ()) for name, (value, sd) in figures.items()}.get


def test_grist_goes_by_extract_and_all_else_by_volume() -> None:
    """20 L at 80 % held 0.80 kg of each kilogram's extract; 25 L of that wort at 64 % need 25/20 · 80/64 of the malt."""
    found = rescale(
        of(fermenter_volume=(20.0, 0.2), brewhouse_efficiency=(0.80, 0.016), original_gravity=(1.050, 0.0007)),
        25.0,
        0.64,
    )
    assert isinstance(found, Rescaled)
    assert found.by_volume == pytest.approx(1.25)
    assert found.by_grist == pytest.approx(1.25 * 1.25)
    # 2 % of the yield are 2 % of the extract, so one point of fifty
    assert found.off == pytest.approx(0.001)


def test_without_its_own_yield_another_cannot_be_reached() -> None:
    found = rescale(of(fermenter_volume=(20.0, 0.2)), 25.0, 0.7)
    assert isinstance(found, Unusable)
    alone = rescale(of(fermenter_volume=(20.0, 0.2)), 25.0, None)
    assert isinstance(alone, Rescaled)
    assert (alone.by_grist, alone.efficiency) == (1.25, None)
    assert isinstance(rescale(of(), 25.0, None), Unusable)


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "1.md").write_text(ENTRY, "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["recipe", "1", *arguments])


def test_the_command_prints_it_as_brewed_and_rescaled(journal: Path) -> None:
    plain = run().output
    assert "3.80 kg  pale malt, 95 %" in plain
    assert "30 g  Long Hedge, 6.0 % alpha, 60 min" in plain
    double = run("--into", "38 L").output
    assert "7.60 kg  pale malt" in double
    assert "60 g  Long Hedge" in double
    assert "200 g  sucrose" in double
    assert "24.0 L  mash liquor" in double


SOURED = """---
batch: 1
title: Keg Sour
brewed: 2026-10-03
grains: [{malt: pale malt, weight: 4 kg}]
mash:
  liquor: 13.0 kg
  rests:
    - 52 degC for 10 min
    - {temperature: 66 degC, time: 60 min, infusion: 4 L, infusion_temperature: 96 degC}
    - {temperature: 76 degC, time: 5 min, decoction: 3 L, boiled: 10 min}
souring: {began: 2026-10-03 18:00, ended: 2026-10-05 06:00, temperature: 38 degC, culture: yoghurt}
boil: {time: 15 min, hops: [{hop: Long Hedge, weight: 10 g, alpha: 6 %, with_first_wort: yes}]}
stand: {temperature: 80 degC, time: 20 min}
fermenter:
  volume: 19 L
  gravity: 1.048
  top_up: 2 L
  yeast: house
  pitched: 2026-10-05 18:00
  temperatures: [{on: 2026-10-05, temperature: 18 degC}, {on: 2026-10-09, temperature: 21 degC, why: to the end}]
  additions: [{addition: raspberries, weight: 1 kg, on: 2026-10-11}]
package: {container: keg, pressure: 1.8 bar at 7 degC, carbon_dioxide: 30 %}
---
"""


def test_whatever_was_done_with_it_is_handed_on(journal: Path) -> None:
    (journal / "entries" / "1.md").write_text(SOURED, "utf-8")
    double = [" ".join(line.split()) for line in run("--into", "38 L").output.splitlines()]
    # 13.0 kg of water are 13.02 L, and twice that 26.0
    assert {
        "26.0 L mash liquor",
        "66 °C rest, by 8.0 L of that liquor at 96 °C, 60 min",
        "76 °C rest, by a decoction of 6.0 L, boiled 10 min, 5 min",
        "38 °C yoghurt, 36 h",
        "15 min boil",
        "80 °C stand, 20 min",
        "20 g Long Hedge, 6.0 % alpha, first wort",
        "18 °C pitched",
        "21 °C to the end, from day 4",
        "4.0 L water, to top up, included",
        "2.00 kg raspberries, day 6",
        "1.8 bar at 7 °C keg, 30 % carbon dioxide",
    } <= set(double)


def test_a_brewhouse_of_half_the_yield_takes_twice_the_grain_and_the_same_sugar(journal: Path) -> None:
    """By hand: 19 L of 1.048 hold 19 · 1.0463 (SPS-4) · 11.91 % = 2.37 kg, 0.10 of it the sugar's."""
    own = (19 * 1.0463 * 0.1191 - 0.100) / (3.8 * 0.96 * 0.815 + 0.2 * 0.96 * 0.76)
    grain = 3.80 * own / 0.36
    output = run("--yield", "36 %").output
    shown = float(next(line for line in output.splitlines() if "pale malt" in line).split()[0])
    assert shown == pytest.approx(grain, rel=0.01)
    assert "100 g  sucrose" in output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [(("--into", "25"), "has no unit"), (("--yield", "5 %"), "can't be brewed"), (("--into", "25 kg"), "--into")],
)
def test_what_cannot_be_meant_is_refused(journal: Path, arguments: tuple[str, ...], words: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert words in result.output
