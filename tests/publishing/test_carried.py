"""What a brew like another takes over: every field of an entry that was chosen and not measured."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from journal.pages.index import Index
from journal.pages.parts.sheet.whole import sheet
from journal.pages.record import Record
from journal.pages.view import view_of
from journal.publishing import understand
from journal.publishing.begin import Request, WrittenEntry, begin
from journal.reading import Batch

BREWERY = """
brewhouses:
  shed: {mash_tun: {volume: 40 L, dead_space: 0.5 L}, kettle: {volume: 60 L, loss: 1.2 L}, boil_off: 3 L/h}
fermenters: {bucket: {volume: 30 L}}
"""
WHOLE = """---
batch: 50
title: Everything
brewed: 2026-10-03
brewhouse: shed
target: {gravity: 1.050, volume: 20 L}
grains: [{malt: pale malt, weight: 4.4 kg}, {malt: munich malt, weight: 400 g}]
water: {name: well, date: 2026-01-02, calcium: 80 mg/L, alkalinity: 190 mg/L as CaCO3}
mash:
  liquor: 15 L
  rests:
    - {temperature: 52 degC, time: 15 min}
    - {temperature: 66 degC, time: 60 min, infusion: 4.0 L, infusion_temperature: 96 degC}
    - {temperature: 76 degC, time: 10 min, decoction: 6 L, boiled: 15 min}
  first_wort: 1.075
  hops: [{hop: Long Hedge, weight: 10 g, alpha: 6 %}]
  additions: [{addition: lactic acid 80 %, amount: 3 mL}, {addition: gypsum, amount: 0.10 oz}]
souring: {began: 2026-10-03 18:00, ended: 2026-10-05 09:00, temperature: 38 degC, culture: own, readings: [{at: 2026-10-04 08:00, ph: 3.9}]}
lauter:
  method: batch sparge
  liquor: [8.0 L, 6.0 L]
  liquor_temperature: 77 degC
  additions: [{addition: gypsum, amount: 2 g}]
boil:
  on: 2026-10-05
  before: {volume: 25 L at 65 degC, gravity: 1.046, additions: [{addition: "malt extract, dry", weight: 250 g}]}
  top_up: 1 L
  time: 60 min
  hops:
    - {hop: Long Hedge, weight: 30 g, alpha: 6 %, boiled: 60 min, with_first_wort: yes, form: cones}
    - {hop: Long Hedge, weight: 20 g, boiled: 5 min, off: knockout}
  additions: [{addition: dextrose, weight: 100 g, extract_as_is: 91 %, boiled: 10 min}, {addition: Irish moss, amount: 1 tablet}]
stand: {temperature: 80 degC, time: 20 min, hops: [{hop: Long Hedge, weight: 60 g, alpha: 6 %, stood: 10 min}]}
cooling: {method: immersion, time: 25 min, to: 19 degC}
fermenter:
  vessel: bucket
  volume: 20.1 L
  gravity: 1.050
  top_up: 1.5 L
  yeast:
    {strain: staithe ale, form: slurry, amount: 120 mL, generation: 3, starter: {volume: 1.5 L, gravity: 1.037}, cells: 180 billion}
  oxygen: with a stone for a minute
  pitched: 2026-10-05 17:30
  temperatures: [{on: 2026-10-05, temperature: 10 degC}, {on: 2026-10-13, temperature: 17 degC, why: diacetyl rest}]
  hops: [{hop: Sexton's Green, weight: 50 g, on: 2026-10-18 20:00, off: 2026-10-21}]
  additions: [{addition: sucrose, weight: 400 g, on: 2026-10-14}, {addition: yeast nutrient, amount: 5 g}]
readings: [{at: 2026-10-18 20:00, gravity: 1.011}]
package:
  {on: 2026-10-27, container: keg, volume: 18.9 L, gravity: 1.011, pressure: 0.9 bar at 4 degC, carbon_dioxide: 100 %, rated: 4 bar}
clock: [08:40 mashed in]
tasting: [{on: 2026-11-20, words: clean}]
---
"""


def like(root: Path, entries: str, **asked: str) -> tuple[Batch, Batch, Record]:
    """The entry that is begun like the only one of a journal, that one, and all that is known then."""
    (root / "entries").mkdir()
    (root / "entries" / "brewery.yaml").write_text(BREWERY, "utf-8")
    (root / "entries" / "50.md").write_text(entries, "utf-8")
    found = begin(understand(root), Request(date(2026, 12, 1), like="50", on="2026-12-05", **asked))
    assert isinstance(found, WrittenEntry), found
    record = understand(root)
    (new,) = [batch for batch in record.batches if batch.id != "50"]
    assert [p.message for p in record.problems_of(new.file)] == []
    assert new.planned
    return new, next(batch for batch in record.batches if batch.id == "50"), record


def test_every_field_that_was_chosen_is_taken_over(tmp_path: Path) -> None:
    new, old, record = like(tmp_path, WHOLE, gravity="1.050", volume="20 L")
    later = timedelta(days=63)

    # the same target by the same ways: what was chosen and is not planned anew is the same, but for days
    assert new.water == old.water
    assert (new.mash.hops, new.stand, new.cooling) == (old.mash.hops, old.stand, old.cooling)
    assert [addition.addition for addition in new.mash.additions] == ["lactic acid 80 %", "gypsum"]
    assert (new.boil.hops, new.boil.additions, new.boil.top_up) == (old.boil.hops, old.boil.additions, old.boil.top_up)
    assert new.boil.before.additions == old.boil.before.additions
    assert new.boil.on == date(2026, 12, 7)
    assert new.souring == replace(
        old.souring, readings=(), began=datetime(2026, 12, 5, 18), ended=datetime(2026, 12, 7, 9)
    )
    held, before = new.fermenter, old.fermenter
    assert (held.vessel, held.oxygen, held.top_up) == (before.vessel, before.oxygen, before.top_up)
    assert held.yeast == replace(before.yeast, generation=None, of_batch=None, cells=None)
    assert [each.on - later for each in held.temperatures] == [each.on for each in before.temperatures if each.on]
    assert [each.why for each in held.temperatures] == [None, "diacetyl rest"]
    assert held.hops == tuple(replace(h, on=h.on + later, off=h.off + later) for h in before.hops)
    assert [each.on for each in held.additions] == [datetime(2026, 12, 16), None]
    assert new.package == replace(old.package, on=None, volume=None, gravity=None)
    # what was measured, and what was of that day alone
    assert (new.readings, new.clock, new.tasting, new.mash.first_wort, held.pitched) == ((), (), (), None, None)
    # early extract, kettle sugar and water are in the plan: it is foreseen where it aims
    foreseen = record.balances[new.id].foreseen
    assert foreseen["original_gravity"].value == pytest.approx(1.050, abs=0.0006)
    assert foreseen["fermenter_volume"].value == pytest.approx(20.0, abs=0.2)


def test_amounts_go_with_what_they_go_with(tmp_path: Path) -> None:
    new, old, record = like(tmp_path, WHOLE, gravity="1.050", volume="30 L")
    by_liquor = record.figures[new.id]["mash_liquor"].value / 15.0
    infusion, decoction = new.mash.rests[1].infusion, new.mash.rests[2].decoction
    assert infusion is not None
    assert decoction is not None
    assert infusion.value == pytest.approx(4.0 * by_liquor, abs=0.06)
    assert decoction.value == pytest.approx(6.0 * by_liquor, rel=0.05)
    acid, gypsum = new.mash.additions
    assert acid.amount is not None
    assert gypsum.amount is not None
    assert acid.amount.value * 1000 == pytest.approx(3.0 * by_liquor, rel=0.01)
    # a salt stays in the unit that it was weighed in, to the hundredth that a pocket scale shows
    assert gypsum.amount.unit == "ounce"
    assert gypsum.amount.value == pytest.approx(0.10 * 0.028349523 * by_liquor, abs=0.0051 * 0.028349523)
    first, second = (filling.value for filling in new.lauter.fillings)
    assert first / second == pytest.approx(8.0 / 6.0, rel=0.01)
    # half as much again of the same wort: hops by the volume, sugar by the extract
    assert [hop.weight.value for hop in new.fermenter.hops if hop.weight] == pytest.approx([0.075])
    assert next(each.weighed.value for each in new.fermenter.additions if each.weighed) == pytest.approx(0.6)
    assert old.fermenter.additions


def test_the_strike_liquor_of_an_infusion_mash_is_what_is_in_before_the_infusion(tmp_path: Path) -> None:
    new, _, record = like(tmp_path, WHOLE, gravity="1.050", volume="20 L")
    figures = record.figures[new.id]
    infusion = new.mash.rests[1].infusion
    assert infusion is not None
    assert new.mash.strike is not None
    # (0.40 · T_grain + R · T_strike) / (0.40 + R) = T_mash: Lewis & Young's 0.40, R in kg of first liquor a kilogram of grain
    ratio = (figures["mash_liquor"].value - infusion.value) * 0.9982 / figures["grain_weight"].value
    assert (0.40 * 18.0 + ratio * new.mash.strike.value) / (0.40 + ratio) == pytest.approx(52.0, abs=0.4)


STEEPED = """---
batch: 50
title: From extract
brewed: 2026-10-13
brewhouse: shed
grains: [{malt: caramel malt, weight: 400 g}]
mash: {liquor: 4 L, rests: [68 degC for 30 min]}
lauter: {method: steep}
boil: {before: {additions: [{addition: "malt extract, dry", weight: 2 kg}]}, time: 30 min}
fermenter: {volume: 20 L, gravity: 1.042, top_up: 10 L}
---
"""


def test_steeped_grain_and_extract_go_in_proportion(tmp_path: Path) -> None:
    new, _, _ = like(tmp_path, STEEPED, gravity="1.042", volume="30 L")
    # half as much again of the same wort by mass balance: of all that brings extract half as much again
    assert [grain.weight.value for grain in new.grains if grain.weight] == pytest.approx([0.6])
    assert [line.weight.value for line in new.boil.before.additions if line.weight] == pytest.approx([3.0])
    assert new.mash.liquor is not None
    assert new.fermenter.top_up is not None
    assert (new.mash.liquor.value, new.fermenter.top_up.value) == pytest.approx((6.0, 15.0))


BAG = """---
batch: 50
title: A bag with a rinse, and a concentrate
brewed: 2026-10-14
brewhouse: shed
target: {gravity: 1.045, volume: 20 L}
grains: [{malt: pale malt, weight: 4.2 kg}]
mash: {liquor: 14 L, rests: [66 degC for 60 min]}
lauter: {method: bag, liquor: 4 L}
boil: {before: {volume: 14.5 L, gravity: 1.064}, after: {volume: 12.0 L, gravity: 1.077}, time: 60 min}
fermenter: {volume: 17.8 L, gravity: 1.046, top_up: 7 L}
---
"""


def test_a_bag_with_a_rinse_and_a_top_up_is_planned_as_it_was_brewed(tmp_path: Path) -> None:
    new, _, record = like(tmp_path, BAG)
    figures, foreseen = record.figures[new.id], record.balances[new.id].foreseen
    assert figures["liquor_to_grist"].value == pytest.approx(14 / 4.2, abs=0.05)
    assert new.lauter.method == "bag"
    assert figures["sparge_liquor"].value > 2.0
    assert foreseen["original_gravity"].value == pytest.approx(1.045, abs=0.0006)
    assert foreseen["fermenter_volume"].value == pytest.approx(20.0, abs=0.2)
    text = (tmp_path / new.file).read_text("utf-8")
    assert re.search(r"top_up: 7\.0 L +# scaled with the volume", text)


OF_EXTRACT = """---
batch: 50
title: From tins
brewed: 2026-10-03
brewhouse: shed
target: {gravity: 1.046, volume: 19 L}
boil:
  before: {volume: 12 L, gravity: 1.000}
  time: 30 min
  hops: [{hop: Long Hedge, weight: 40 g, alpha: 6 %, boiled: 30 min}]
  additions: [{addition: "malt extract, dry", weight: 2.5 kg}]
fermenter: {volume: 19 L, gravity: 1.046, top_up: 8 L, yeast: packet ale}
ice_removed: 1.0 L
---
"""


def test_a_brew_of_extract_alone_is_begun_in_proportion(tmp_path: Path) -> None:
    new, _, record = like(tmp_path, OF_EXTRACT, gravity="1.046", volume="38 L")
    assert (new.grains, new.lauter.method, new.mash.liquor) == ((), None, None)
    (extract,) = new.boil.additions
    assert extract.weight is not None
    assert extract.weight.value == pytest.approx(5.0)
    assert new.fermenter.top_up is not None
    assert new.fermenter.top_up.value == pytest.approx(16.0)
    assert new.ice_removed is not None
    assert new.ice_removed.value == pytest.approx(2.0)
    # water alone until the extract goes in
    assert "gravity:                                # expected: 1.0000" in new.source.text
    page = sheet(view_of(Index(record), new))
    assert page is not None
    assert page.stages[0].words == "Full kettle"
    # the cautions of heating water stand where water is first heated
    assert len(page.stages[0].safety_notes) == 3
    assert not any("`" in words for words in page.wanting)


def test_priming_that_missed_what_was_wanted_is_worked_out_anew(tmp_path: Path) -> None:
    """19 L of beer that was 20 °C warm hold about 1.6 g/L; 4.8 g/L want 3.2 more, and a kilogram of sucrose gives 514 g (stoichiometry)."""
    bottled = "on: 2026-10-27, container: bottles, volume: 19 L, warmest: 20 degC, carbonation: 4.8 g/L"
    package = f"package: {{{bottled}, priming: {{addition: sucrose, weight: 80 g}}}}"
    whole = re.sub(r"package:\n.*\n", f"{package}\n", WHOLE)
    new, _, _ = like(tmp_path, whole, gravity="1.050", volume="20 L")
    assert new.package.priming.weight is not None
    assert new.package.priming.weight.value == pytest.approx(3.2 * 19 / 514 * 20 / 20.1, rel=0.05)
    text = new.source.text
    assert "80 g in batch 50 gave" in text
    assert "for 4.8 g/L in" in text


def test_the_entry_and_its_sheet_expect_the_same_volumes(tmp_path: Path) -> None:
    """To the step that a volume is read to; and the liquors, as they are measured out, bring what is aimed at."""
    for gallons, volume in (("a", "20.3 L"), ("b", "23.7 L")):
        (tmp_path / gallons).mkdir()
        new, _, record = like(tmp_path / gallons, WHOLE, gravity="1.050", volume=volume)
        foreseen = record.balances[new.id].foreseen
        expected = [float(text) for text in re.findall(r"expected: ([\d.]+) L at 20 °C", new.source.text)]
        assert expected == [round(foreseen[f"{place}_volume"].value, 1) for place in ("kettle", "knockout")]
        assert foreseen["fermenter_volume"].value == pytest.approx(float(volume[:4]), abs=0.11)
