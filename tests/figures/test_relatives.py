"""Brews in several vessels and several in one, worked by hand: by extract, mass and alcohol that are conserved.

Densities of sucrose solutions at 20 °C, kg/L, as the CRC Handbook prints them: 7 % 1.0259, 8 % 1.0299, 9 % 1.0340, 10 %
1.0381, 11 % 1.0423, 12 % 1.0465, 16 % 1.0635, 20 % 1.0810; water 0.9982.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import journal_at

from journal.balance import common_practice
from journal.balance.balance import balance_of
from journal.figures import BatchFigures, figures_of
from journal.figures.impossible import find_impossible
from journal.problems import Severity
from journal.reading import Journal

BREW = "title: Brew\nbrewed: 2026-04-11\n"


def worked(root: Path, **entries: str) -> tuple[Journal, dict[str, BatchFigures]]:
    files: dict[str, str | bytes] = {
        f"a{name}.md": f"---\nbatch: {name[1:]}\n{text}---\n" for name, text in entries.items()
    }
    journal, problems = journal_at(root, files)
    assert [p.message for p in problems if p.severity is Severity.ERROR] == []
    return journal, {each.id: figures_of(each, journal.brewery, journal.malts) for each in journal.batches}


WHOLE = BREW + (
    "grains: [{malt: pale malt, weight: 4.2 kg}]\n"
    "boil: {before: {volume: 25 L, gravity: 1.042}, after: {volume: 21.5 L, gravity: 1.048},"
    " hops: [{hop: East Field, weight: 30 g, alpha: 5 %, boiled: 60 min}]}\n"
    "fermenter: {gravity: 11.9121 °P}\n"
)
ELDER = (
    "title: Elder\npart_of: 14\nfermenter: {volume: 10 L, yeast: one}\n"
    "readings: [{at: 2026-04-20 10:00, gravity: 1.010}]\n"
)
YOUNGER = (
    "title: Younger\npart_of: 14\nfermenter: {volume: 10 L, top_up: 1 L, yeast: another}\n"
    "readings: [{at: 2026-04-20 10:00, gravity: 1.006}]\n"
)


def test_two_parts_with_their_own_yeast_and_top_up(tmp_path: Path) -> None:
    journal, found = worked(tmp_path, _14=WHOLE, _15=ELDER, _16=YOUNGER)
    elder, younger, whole = found["15"], found["16"], found["14"]
    # 1.048 (11.91 °P by the ASBC's table) to 1.010: 38 points × 0.130, HMRC Notice 226's factor of that band, 4.94 %
    assert elder["alcohol_by_volume"].value == pytest.approx(0.0494, abs=4e-4)
    assert elder["apparent_attenuation"].value == pytest.approx(0.785, abs=2e-4)
    # 10 L of 10.77 °P weigh 10.413 kg (1.0413 kg/L between 10 and 11 %), less 0.998 kg of water 9.415 kg of wort, with
    # 11.9121 % of it 1.1215 kg of extract: 10.77 %
    assert younger["original_extract"].value == pytest.approx(10.77, abs=0.005)
    # RE = 0.1808 × 10.77 + 0.8192 × 1.54 = 3.21, by weight 7.56 / (2.0665 − 0.010665 × 10.77) = 3.874 %, by volume
    # × 1.006 × 0.9982 / 0.7892 = 4.93 %
    assert younger["alcohol_by_volume"].value == pytest.approx(0.0493, abs=0.001)
    # nothing of the brew day is the parts', so nobody can count it again
    for part in (elder, younger):
        for name in ("potential_extract", "kettle_extract", "mash_efficiency", "brewhouse_efficiency"):
            assert name not in part.results
        assert "brew day of batch 14" in part.wanting["brewhouse_efficiency"]
    # the whole's volume is its parts': 10 L, and 9.415 kg at ρ(11.91) = 1.0461 are 9.00 L
    assert whole["fermenter_volume"].value == pytest.approx(19.0, abs=0.005)
    assert whole["parts_extract"].value == pytest.approx((10.461 + 9.415) * 0.119121, abs=0.002)
    assert whole["brewhouse_efficiency"].value == pytest.approx(
        whole["fermenter_extract"].value / whole["potential_extract"].value
    )
    assert "alcohol_by_volume" not in whole.results
    # bitterness goes with the wort: 9.00 of 10 L
    assert elder["bitterness"].value == pytest.approx(whole["bitterness"].value)
    assert younger["bitterness"].value == pytest.approx(0.900 * whole["bitterness"].value, rel=1e-3)
    for batch in journal.batches:
        assert find_impossible(batch, journal.brewery, found[batch.id]) == []


def test_a_part_that_was_read_by_itself_goes_by_that(tmp_path: Path) -> None:
    own = YOUNGER.replace("volume: 10 L", "volume: 10 L, gravity: 10.5 °P")
    _, found = worked(tmp_path, _14=WHOLE, _15=ELDER, _16=own)
    assert found["16"]["original_extract"].value == pytest.approx(10.5, abs=1e-6)


def test_a_refractometer_reads_the_beer_of_a_part_by_the_wort_of_its_brew(tmp_path: Path) -> None:
    by_light = ELDER.replace("gravity: 1.010", "gravity: 6.24 °Bx")
    _, found = worked(tmp_path, _14=WHOLE, _15=by_light)
    # S. Terrill's cubic at 11.91 and 6.0: about 1.0117, as its docstring has it of 12.0
    assert found["15"]["final_gravity"].value == pytest.approx(1.0117, abs=3e-4)


def test_a_doubt_about_the_brew_is_named_by_its_batch(tmp_path: Path) -> None:
    _, found = worked(tmp_path, _14=WHOLE, _15=ELDER)
    named = {source.path for source, _ in found["15"]["alcohol_by_volume"].parts}
    assert {"batch 14: fermenter.gravity", "readings[0].gravity"} <= named


def test_volumes_stated_of_one_part_alone_are_no_sum(tmp_path: Path) -> None:
    _, found = worked(tmp_path, _14=WHOLE, _15=ELDER, _16=YOUNGER.replace("volume: 10 L, ", ""))
    assert "fermenter_volume" not in found["14"].results
    assert "batch 16: fermenter.volume" in found["14"].wanting["fermenter_volume"]


STRONG = BREW + (
    "grains: [{malt: pale malt, weight: 8 kg, extract: 80 %, moisture: 4 %}]\n"
    "mash: {liquor: 21 L}\nlauter: {method: fly sparge, liquor: 6 L}\n"
    "boil: {before: {volume: 18 L, gravity: 16.0 °P}}\nfermenter: {volume: 14 L, gravity: 20.0 °P}\n"
)
SMALL = (
    "title: Small\nsecond_wort_of: 22\nlauter: {method: fly sparge, liquor: 13 L}\n"
    "boil: {before: {volume: 14 L, gravity: 7.5 °P}}\nfermenter: {volume: 11 L, gravity: 9.0 °P}\n"
)


def test_a_first_and_a_second_wort_by_the_extract_they_conserve(tmp_path: Path) -> None:
    journal, found = worked(tmp_path, _22=STRONG, _23=SMALL)
    strong, small = found["22"], found["23"]
    potential = 8 * 0.96 * 0.80
    kettles = 18 * 1.0635 * 0.16 + 14 * 1.0279 * 0.075
    fermenters = 14 * 1.0810 * 0.20 + 11 * 1.0340 * 0.09
    for each in (strong, small):
        assert each["mash_efficiency"].value == pytest.approx(kettles / potential, abs=2e-4)
        assert each["brewhouse_efficiency"].value == pytest.approx(fermenters / potential, abs=2e-4)
        # what one of the two would say of the mash is absent, with the reason
        for name in ("absorption", "wort_held", "mash_tun_loss", "brewhouse_yield"):
            assert name not in each.results
    assert strong.wanting["mash_tun_loss"] == ("run-off of batch 23, which came of the same mash",)
    # the doubts of both count, each by its batch
    named = {source.path for source, _ in strong["brewhouse_efficiency"].parts}
    assert {"fermenter.volume", "batch 23: fermenter.volume", "grains[0].weight"} <= named
    assert strong["brewhouse_efficiency"].sd == pytest.approx(small["brewhouse_efficiency"].sd)
    # the grist stands with the first alone
    assert "potential_extract" not in small.results
    for batch in journal.batches:
        assert find_impossible(batch, journal.brewery, found[batch.id]) == []
        _, house = journal.brewery.brewhouse_of(batch.brewhouse)
        priors = common_practice(house, batch.lauter.method or "")
        balance = balance_of(batch, found[batch.id], journal.brewery, journal.malts, priors)
        assert balance.verdict.status != "broken"
        assert "mash_efficiency" not in balance.figures or balance.figures["mash_efficiency"].value == pytest.approx(
            kettles / potential, abs=2e-4
        )


def test_without_the_other_kettle_the_pair_has_no_efficiency(tmp_path: Path) -> None:
    _, found = worked(tmp_path, _22=STRONG, _23=SMALL.replace("fermenter: {volume: 11 L, gravity: 9.0 °P}\n", ""))
    assert "brewhouse_efficiency" not in found["22"].results
    assert "batch 23: fermenter.volume" in found["22"].wanting["brewhouse_efficiency"]
    assert "mash_efficiency" in found["22"].results


def test_a_blend_by_mass(tmp_path: Path) -> None:
    one = BREW + "fermenter: {volume: 20 L, gravity: 1.048}\nreadings: [{at: 2026-04-20 10:00, gravity: 1.010}]\n"
    two = BREW + "fermenter: {volume: 20 L, gravity: 15.0 °P}\nreadings: [{at: 2026-04-20 10:00, gravity: 1.015}]\n"
    _, found = worked(tmp_path, _14=one, _17=two, _18="title: Both\nblend_of: {14: 12 L, 17: 6 L}\n")
    first, second, both = found["14"], found["17"], found["18"]
    assert both["final_gravity"].value == pytest.approx((12 * 1.010 + 6 * 1.015) / 18, abs=1e-6)
    m1, m2 = 12 * 1.010, 6 * 1.015
    alcohol = (m1 * first["alcohol_by_weight"].value + m2 * second["alcohol_by_weight"].value) / (m1 + m2)
    real = (m1 * first["real_extract"].value + m2 * second["real_extract"].value) / (m1 + m2)
    assert both["alcohol_by_weight"].value == pytest.approx(alcohol, abs=1e-4)
    assert both["real_extract"].value == pytest.approx(real, abs=0.02)
    assert first["original_gravity"].value < both["original_gravity"].value < second["original_gravity"].value
    assert both["fermenter_volume"].value == pytest.approx(18.0)
    for name in ("potential_extract", "mash_efficiency", "brewhouse_efficiency"):
        assert name not in both.results


def test_a_brew_that_joins_another_in_its_fermenter(tmp_path: Path) -> None:
    grist = "grains: [{malt: pale malt, weight: 2.5 kg}]\n"
    host = (
        BREW
        + grist
        + "fermenter: {volume: 10 L, gravity: 12.0 °P}\nreadings: [{at: 2026-04-20 10:00, gravity: 1.010}]\n"
    )
    guest = BREW.replace("04-11", "04-12") + grist + "joins: 31\nfermenter: {volume: 8 L, gravity: 10.0 °P}\n"
    journal, found = worked(tmp_path, _31=host + "package: {volume: 17 L}\n", _32=guest)
    # 10 L × 1.0465 × 12 % and 8 L × 1.0381 × 10 % in 10.465 + 8.305 kg
    extract, mass = 10.465 * 0.12 + 8.3048 * 0.10, 10.465 + 8.3048
    assert found["31"]["original_extract"].value == pytest.approx(100 * extract / mass, abs=0.002)
    assert found["31"]["joined_extract"].value == pytest.approx(8.3048 * 0.10, abs=1e-4)
    # 17 of the 18 L that were in the fermenter came out of it
    assert found["31"]["package_loss"].value == pytest.approx(1.0)
    assert found["31"]["packaged_share"].value == pytest.approx(17 / 18)
    assert found["31"]["fermenter_left_extract"].value == pytest.approx(extract / 18, abs=1e-3)
    left = found["31"]["packaged_extract"].value
    assert found["31"]["fermented_extract"].value == pytest.approx(extract * 17 / 18 - left, abs=2e-3)
    alone = 10.465 * 0.12 / found["31"]["potential_extract"].value
    # each brew's efficiency is its own
    assert found["31"]["brewhouse_efficiency"].value == pytest.approx(alone, abs=1e-4)
    assert found["32"]["brewhouse_efficiency"].value == pytest.approx(
        0.83048 / found["32"]["potential_extract"].value, abs=1e-4
    )
    assert found["32"].wanting["alcohol_by_volume"] == ("beer of batch 31",)
    for batch in journal.batches:
        assert find_impossible(batch, journal.brewery, found[batch.id]) == []
