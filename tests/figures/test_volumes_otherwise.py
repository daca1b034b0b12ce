"""Volumes that were weighed or dipped, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import batch_of, brewery_of, codes, entry, journal_at, settings_at

from journal.figures import BatchFigures, figures_of
from journal.reading import Malts

DIP = "brewhouses: {shed: {kettle: {dip: [0 cm = 1.2 L, 10 cm = 8.4 L, 40 cm = 30.0 L]}}}\n"


def found(fields: str, brewery: str = "") -> BatchFigures:
    return figures_of(batch_of(fields), brewery_of(brewery or "name: Shed"), Malts())


def test_weighed_wort_is_litres_by_its_strength() -> None:
    """Wort of 12 % by weight has 1046.44 kg/m3 at 20 degC (ICUMSA SPS-4), and is 1.04837 to a hydrometer: 24.6 kg are 23.508 L."""
    figures = found("boil: {before: {volume: 24.6 ± 0.05 kg, gravity: 1.04837 ± 0.0007}}")
    assert figures["kettle_volume"].value == pytest.approx(24.6 / 1.046444, abs=0.002)
    # by the weight 0.2 %, by the gravity 0.07 %
    assert figures["kettle_volume"].sd == pytest.approx(23.508 * (0.00203**2 + 0.00067**2) ** 0.5, rel=0.02)
    assert {str(source) for source, _ in figures["kettle_volume"].parts} == {
        "boil.before.volume",
        "boil.before.gravity",
    }


def test_the_extract_of_weighed_wort_is_its_weight_times_its_strength() -> None:
    """24.6 kg of 12 % hold 2.952 kg, whatever its volume."""
    assert found("boil: {before: {volume: 24.6 kg, gravity: 12.0 °P}}")["kettle_extract"].value == pytest.approx(
        2.952, abs=0.001
    )


def test_weighed_liquor_is_water() -> None:
    """14.0 kg of water are 14.025 L at 20 degC (998.21 kg/m3)."""
    figures = found("mash: {liquor: 14.0 kg}\nlauter: {method: batch sparge, liquor: [8.0 kg, 7.0 L]}")
    assert figures["mash_liquor"].value == pytest.approx(14.025, abs=0.001)
    assert figures["sparge_liquor"].value == pytest.approx(8.0 / 0.99821 + 7.0, abs=0.001)


def test_weighed_wort_of_unknown_strength_says_which_reading_is_missing() -> None:
    figures = found("boil: {before: {volume: 24.6 kg}}")
    assert "kettle_volume" not in figures.results
    assert "boil.before.gravity" in figures.wanting["kettle_volume"]


def test_a_dip_lies_straight_between_its_marks() -> None:
    """25 cm: half way from 10 to 40 cm, so half way from 8.4 to 30.0 L."""
    assert found("boil: {before: {volume: 25 cm, gravity: 1.044}}", DIP)["kettle_volume"].value == pytest.approx(19.2)


def test_a_dip_in_hot_wort_is_brought_to_20_degrees() -> None:
    """Water of 70 degC has 977.76 kg/m3, and of 20 degC 998.21 (IAPWS-95)."""
    figures = found("boil: {before: {volume: 25 cm at 70 degC, gravity: 1.044}}", DIP)
    assert figures["kettle_volume"].value == pytest.approx(19.2 * 977.76 / 998.21, abs=0.002)


def test_an_entry_uses_the_table_of_its_day() -> None:
    table = "dip: [0 cm = 0 L, 40 cm = 40 L], dip_since: {}, older_dips: [{{dip_since: 2025-01-01, dip: [0 cm = 0 L, 40 cm = 20 L]}}]"
    for since, litres in (("2026-04-11", 25.0), ("2026-04-12", 12.5)):
        brewery = f"brewhouses: {{shed: {{kettle: {{{table.format(since)}}}}}}}"
        assert found("boil: {before: {volume: 25 cm, gravity: 1.044}}", brewery)[
            "kettle_volume"
        ].value == pytest.approx(litres)


def test_a_fermenter_has_a_table_of_its_own() -> None:
    brewery = "fermenters: {bucket: {dip: [0 cm = 1 L, 30 cm = 22 L]}}"
    figures = found("fermenter: {vessel: bucket, volume: 27 cm, gravity: 1.05}", brewery)
    assert figures["fermenter_volume"].value == pytest.approx(19.9)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ("boil: {before: {volume: 24.6 kg at 70 degC}}", "temperature-misplaced"),
        ("boil: {before: {volume: 41 cm}}", "dip-unknown"),
        ("fermenter: {volume: 25 cm}", "dip-unknown"),
        ("fermenter: {vessel: bucket, volume: 25 cm}", "dip-unknown"),
        ("boil: {before: {volume: 24.6}}", "unit-missing"),
        ("boil: {before: {volume: 24.6 degC}}", "unit-wrong-kind"),
        ("boil: {before: {volume: -3 kg}}", "number-out-of-range"),
    ],
)
def test_what_no_volume_follows_from_is_refused(fields: str, code: str, tmp_path: Path) -> None:
    problems = journal_at(tmp_path, {"1.md": entry(fields), "brewery.yaml": DIP})[1]
    assert codes(problems) == [code]
    assert all(problem.hint for problem in problems)


def test_a_weighed_package_is_beer_by_its_gravity() -> None:
    """Beer of 1.010 weighs 1.010 times water's 0.99821 kg/L: 18 kg are 17.85 L."""
    assert found("package: {volume: 18 kg, gravity: 1.010}")["package_volume"].value == pytest.approx(17.85, abs=0.01)


def test_a_hop_s_alpha_may_stand_on_its_sheet(tmp_path: Path) -> None:
    """Tinseth's bitterness is in proportion to the alpha acid."""
    hop = (
        "boil: {{before: {{volume: 25 L, gravity: 1.044}}, after: {{volume: 22 L, gravity: 1.050}}, time: 60 min,"
        " hops: [{{hop: lot-7, weight: 30 g, {}boiled: 60 min}}]}}"
    )
    malts = settings_at(tmp_path, malts="lot-7: {alpha: 5 %}")[1]
    by_sheet = figures_of(batch_of(hop.format("")), brewery_of("name: Shed"), malts)["bitterness"]
    stated = figures_of(batch_of(hop.format("alpha: 10 %, ")), brewery_of("name: Shed"), malts)["bitterness"]
    assert stated.value == pytest.approx(2 * by_sheet.value)
    assert "malts.lot-7.alpha" in {str(source) for source, _ in by_sheet.parts}


def test_infusions_decoctions_and_targets_by_weight_and_by_dip_are_litres(tmp_path: Path) -> None:
    """4.0 kg of water are 4.007 L; 25 cm are 19.2 L as above; 20.5 kg of wort of 12 % by weight 20.5/1.04644 = 19.59 L."""
    fields = (
        "target: {gravity: 12.0 °P, volume: 20.5 kg}\nmash: {liquor: 30 L, rests: [{temperature: 52 degC, time: 15 min}, "
        "{temperature: 66 degC, time: 60 min, infusion: 4.0 kg, infusion_temperature: 96 degC}, "
        "{temperature: 76 degC, time: 10 min, decoction: 25 cm}]}\n"
    )
    journal, problems = journal_at(tmp_path, {"1.md": entry(fields), "brewery.yaml": DIP})
    assert codes(problems) == []
    (batch,) = journal.batches
    _, infused, decocted = batch.mash.rests
    assert infused.infusion is not None
    assert decocted.decoction is not None
    assert batch.target.volume is not None
    found = [infused.infusion.value, decocted.decoction.value, batch.target.volume.value]
    assert found == pytest.approx([4.0072, 19.2, 19.590], abs=0.002)
    assert batch.written("mash.rests[1].infusion") == "4.0 kg"
    _, problems = journal_at(tmp_path, {"1.md": entry(fields.replace("25 cm", "55 cm")), "brewery.yaml": DIP})
    assert codes(problems) == ["dip-unknown"]
