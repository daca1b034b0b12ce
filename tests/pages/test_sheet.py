"""The working sheet of a planned brew."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from handbook import IAPWS
from history.told import texts
from pages.seen import Seen, page_at, seen_at
from pages.test_told import told
from texts import entry

from journal.history.plan import DILUTE, KETTLE, correction_table, round_remedy
from journal.pages import Record
from journal.pages.parts.sheet.model import OffTarget, Sheet, Strip, Task
from journal.pages.site.batch import BatchModel
from journal.publishing.weighed_out import weigh_out_planned

EARLIER, NUMBER = 14, 15
PAGE = f"batches/{NUMBER}.html"
HEAD = f"batch: {NUMBER}\ntitle: Lantern Bitter\nbrewed: 2021-03-01\n"
PLAN = """
target: {gravity: 1.048, volume: 19 L}
grains:
  - {malt: pale lot, weight: 4.20 kg, extract: 81.00 %, moisture: 4.0 ± 0.1 %, diastatic_power: 250 WK, source: certificate}
crush: 1.1 mm
mash: {liquor: 14.0 L, rests: [67 degC for 60 min], grain_temperature: 20 degC}
lauter: {method: batch sparge, liquor: 15.0 L, liquor_temperature: 76 degC}
boil:
  time: 60 min
  hops:
    - {hop: Late Field, weight: 25 g, boiled: 10 min}
    - {hop: East Field, weight: 30 g, alpha: 5.5 %, boiled: 60 min}
    - {hop: Steep Field, weight: 20 g, boiled: 0 min}
fermenter: {yeast: house}
"""
US = f"units: us\n{BREWERY}"


def planned(root: Path, plan: str = PLAN, earlier: int = EARLIER, brewery: str = BREWERY) -> Record:
    """A planned brew after simulated ones."""
    return told(root, [*texts(earlier, Habits()), entry(plan, head=HEAD)], brewery)


def without(plan: str, *fields: str) -> str:
    """The plan without the lines that begin so."""
    return "\n".join(line for line in plan.splitlines() if not line.strip().startswith(fields))


def model(record: Record) -> BatchModel:
    found = page_at(record, PAGE).model
    assert isinstance(found, BatchModel)
    return found


def sheet_of(record: Record) -> Sheet:
    found = model(record).sheet
    assert found is not None
    return found


def text_of(record: Record, path: str = PAGE) -> str:
    return seen_at(record, path).text.replace("\u00a0", " ")


def task(sheet: Sheet, stage: str, words: str) -> Task:
    tasks = next(each for each in sheet.stages if each.words == stage).tasks
    return next(each for each in tasks if each.words.startswith(words))


def number(text: str) -> float:
    found = re.search(r"[−+]?\d+(?:\.\d+)?", text)
    assert found, text
    return float(found[0].replace("−", "-"))


def span(each: Task) -> tuple[float, float]:
    low, high = each.spread.replace("\u00a0", " ").split(" to ")
    return number(low), number(high)


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    return planned(tmp_path_factory.mktemp("planned"))


@pytest.fixture(scope="module")
def sheet(record: Record) -> Sheet:
    return sheet_of(record)


@pytest.fixture(scope="module")
def page(record: Record) -> Seen:
    return seen_at(record, PAGE)


def test_the_work_stands_in_its_order(sheet: Sheet) -> None:
    assert [stage.words for stage in sheet.stages] == [
        "Mill", "Mash liquor", "Mash", "Run-off", "Full kettle", "Boil", "Knockout", "Fermenter", "Pitching",
    ]  # fmt: skip


def test_strike_temperature_is_that_of_the_heat_balance(sheet: Sheet) -> None:
    """T + (c/R)(T − T of the grain), c = 0.40 at 4 % moisture: Pauls & Whites Brewing Room Book (1984/85)."""
    by_hand = 67 + 0.40 / (14.0 * IAPWS[20] / 1000 / 4.20) * (67 - 20)
    found = task(sheet, "Mash liquor", "Strike")
    assert number(found.amount) == pytest.approx(by_hand, abs=0.06)
    assert found.spread.startswith("±")
    # c/R times five degrees
    assert "5\u00a0°C colder needs 0.6\u00a0°C more" in task(sheet, "Mash liquor", "Grain").note


def test_grain_that_nobody_measured_is_18_degrees_and_that_is_said(tmp_path: Path) -> None:
    found = task(sheet_of(planned(tmp_path, PLAN.replace(", grain_temperature: 20 degC", ""))), "Mash liquor", "Grain")
    assert found.amount == "18\u00a0°C"
    assert "common practice" in found.note


@pytest.mark.parametrize(("off", "said"), [(0.0, False), (0.3, False), (2.0, True)])
def test_a_strike_that_the_entry_states_is_spoken_of_where_it_differs(off: float, said: bool, tmp_path: Path) -> None:
    reckoned = number(task(sheet_of(planned(tmp_path, earlier=3)), "Mash liquor", "Strike temperature").amount)
    stated = PLAN.replace("mash: {", f"mash: {{strike: {reckoned + off:.1f} degC, ")
    (tmp_path / "stated").mkdir()
    note = task(sheet_of(planned(tmp_path / "stated", stated, earlier=3)), "Mash liquor", "Strike temperature").note
    assert ("The entry says" in note) == said


def test_a_strike_that_no_liquor_reaches_is_said(tmp_path: Path) -> None:
    plan = PLAN.replace("liquor: 14.0 L", "liquor: 3.0 L").replace("67 degC for", "77 degC for")
    found = task(sheet_of(planned(tmp_path, plan)), "Mash liquor", "Strike")
    assert found.amount == ""
    assert "hot enough" in found.note


def test_volumes_stand_hot_as_the_marks_are_read_and_at_20(sheet: Sheet) -> None:
    """Ratio of the densities of water by IAPWS-95."""
    for stage, degrees in (("Full kettle", 65), ("Knockout", 95)):
        found = task(sheet, stage, "Volume")
        assert f"{degrees}\u00a0°C" in found.words
        cold = number(found.note)
        assert number(found.amount) == pytest.approx(cold * IAPWS[20] / IAPWS[degrees], abs=0.11)
        low, high = span(found)
        assert low < number(found.amount) < high


def test_marks_are_read_at_the_temperature_of_the_latest_batch_that_says(tmp_path: Path) -> None:
    earlier = texts(3, Habits())
    earlier[1] = re.sub(r"(before: \{volume: [\d.]+ L)", r"\1 at 72 degC", earlier[1])
    found = sheet_of(told(tmp_path, [*earlier, entry(PLAN, head=HEAD)]))
    assert "72\u00a0°C" in task(found, "Full kettle", "Volume").words
    assert "common practice" not in task(found, "Full kettle", "Volume").note
    assert "common practice" in task(found, "Knockout", "Volume").note
    assert "marks at 72\u00a0°C" in next(each.summary for each in found.tables if each.name == KETTLE)


def test_what_is_expected_narrows_with_the_record(sheet: Sheet, tmp_path: Path) -> None:
    first = sheet_of(planned(tmp_path, earlier=0))
    for stage, words in (("Full kettle", "Gravity"), ("Knockout", "Volume"), ("Fermenter", "Volume")):
        known, unknown = (span(task(each, stage, words)) for each in (sheet, first))
        assert known[1] - known[0] < unknown[1] - unknown[0]
    assert f"{EARLIER} earlier batches" in sheet.basis
    assert "common practice alone" in first.basis


def test_first_wort_is_that_of_the_mash(sheet: Sheet) -> None:
    """Strength of first wort by mass: extract over extract and water; gravity of sucrose by the ASBC table, from memory."""
    extract, water = 4.20 * 0.96 * 0.81 * Habits().conversion, 14.0 * IAPWS[20] / 1000 + 4.20 * 0.04
    strength = 100 * extract / (extract + water)
    low, high = span(task(sheet, "Run-off", "First wort"))
    # 20 °P is 1.0830, 18 °P 1.0741
    assert low < 1.0741 + (strength - 18) / 2 * (1.0830 - 1.0741) < high
    assert high - low < 0.012


def test_hops_go_in_by_the_clock(sheet: Sheet) -> None:
    boil = next(stage for stage in sheet.stages if stage.words == "Boil").tasks
    assert [each.words.split(",")[0] for each in boil] == ["Boil", "East Field", "Late Field", "Steep Field"]
    clock = [each.spread.replace("\u00a0", " ") for each in boil[1:]]
    assert clock == ["at 0 min, boils 60 min", "at 50 min, boils 10 min", "at knockout"]


def test_a_box_follows_everything_that_is_read(sheet: Sheet, page: Seen) -> None:
    assert all(each.boxes for stage in sheet.stages for each in stage.tasks)
    boxes = [attributes for attributes in page.all("span") if attributes.get("class") == "box"]
    assert len(boxes) == sum(len(each.boxes) for stage in sheet.stages for each in stage.tasks)


def test_cautions_stand_where_the_work_is_and_lead_to_more(sheet: Sheet, page: Seen, tmp_path: Path) -> None:
    by_stage = {stage.words: [mind.subject.href.split("#")[1] for mind in stage.safety_notes] for stage in sheet.stages}
    assert by_stage["Mash liquor"] == ["hot-liquor", "gas", "electricity"]
    assert by_stage["Boil"] == ["boil-over"]
    assert by_stage["Pitching"] == ["carbon-dioxide"]
    assert by_stage["Mash"] == []
    assert "../cautions.html#acids" in page.hrefs
    assert "local codes" in page.text
    acid = PLAN.replace("rests:", "additions: [{addition: lactic acid 80 %, amount: 2 mL}], rests:")
    mash = next(stage for stage in sheet_of(planned(tmp_path, acid)).stages if stage.words == "Mash")
    assert [mind.subject.href for mind in mash.safety_notes] == ["cautions.html#acids"]
    assert mash.tasks[0].amount == "2\u00a0mL"


def kettle(sheet: Sheet) -> OffTarget:
    return next(each for each in sheet.tables if each.name == KETTLE)


def test_the_table_is_that_of_the_plan(record: Record, sheet: Sheet) -> None:
    batch = next(each for each in record.batches if each.id == str(NUMBER))
    unit = IAPWS[65] / IAPWS[20]
    found = correction_table(batch, record.figures[batch.id], record.balances[batch.id].priors, KETTLE,
                  record.journal.brewery.instruments, unit)  # fmt: skip
    assert found is not None
    shown = kettle(sheet)
    assert [head.text for head, _ in shown.rows] == [f"{gravity:.3f}" for gravity in found.gravities]
    assert len(shown.columns) == len(found.volumes)
    for (_, answers), cells in zip(shown.rows, found.cells, strict=True):
        for answer, cell in zip(answers, cells, strict=True):
            assert cell is not None
            assert answer.leave == cell.leave
            for water in (remedy for remedy in cell.remedies if remedy.kind == DILUTE and not cell.leave):
                assert f"+{round_remedy(water):.1f}\u00a0L" in "".join(answer.lines)


def test_columns_are_round_by_the_marks_with_20_degrees_below(sheet: Sheet) -> None:
    for head in kettle(sheet).columns:
        assert (float(head.text) * 2) % 1 == 0, "half litres"
        assert float(head.cold) == pytest.approx(float(head.text) * IAPWS[65] / IAPWS[20], abs=0.051)


def test_boiling_down_keeps_the_extract(sheet: Sheet) -> None:
    """Longer boil or dried extract: both reach the target, so the boil lands less of the same gravity in the fermenter."""
    seen = 0
    for _, answers in kettle(sheet).rows:
        for answer in answers:
            ways = {line.split()[1]: number(line.split("→")[1]) for line in answer.lines if not answer.leave}
            if "g" in ways and "min" in ways:
                assert ways["min"] < ways["g"]
                seen += 1
            if "L" in ways and "min" in ways:
                assert ways["min"] == ways["L"], "boiling less and adding water end at the same wort"
                seen += 1
    assert seen


def test_what_is_expected_is_left_alone_and_bold(sheet: Sheet) -> None:
    """The plan lands near its target, so readings as expected want nothing."""
    rows = kettle(sheet).rows
    usual = [answers for head, answers in rows if head.usual]
    middle = usual[len(usual) // 2]
    assert any(answer.leave for answer in middle)
    assert 0 < sum(head.usual for head in kettle(sheet).columns) < len(kettle(sheet).columns)
    assert "within one point of the target" in sheet.rule


def test_sheet_and_table_expect_the_same(sheet: Sheet) -> None:
    """Bold in the head of the table is what lies in the range that stands beside the box, its ends included."""
    low, high = span(task(sheet, "Full kettle", "Gravity"))
    assert all(head.usual == (low <= float(head.text) <= high) for head, _ in kettle(sheet).rows)
    assert {low, high} <= {float(head.text) for head, _ in kettle(sheet).rows if head.usual}
    low, high = span(task(sheet, "Full kettle", "Volume"))
    assert all(head.usual == (low <= float(head.text) <= high) for head in kettle(sheet).columns)


def strip(sheet: Sheet, words: str) -> Strip:
    return next(each for each in sheet.strips if words in each.words)


def test_a_volume_read_hot_is_shrunk_as_water_is(sheet: Sheet) -> None:
    """Densities of water by IAPWS-95."""
    found = strip(sheet, "Volume")
    for degrees, factor in zip(found.heads, found.values, strict=True):
        if float(degrees) in IAPWS:
            assert float(factor) == pytest.approx(IAPWS[float(degrees)] / IAPWS[20], abs=0.0008)


def test_a_hydrometer_in_a_warm_sample_reads_low(sheet: Sheet) -> None:
    """Points at 30 and 40 °C for 10 and 15 °P by ICUMSA SPS-4 with glass of 25e-6 per K: 2.72 to 2.92, 6.22 to 6.58."""
    found = dict(zip(strip(sheet, "Hydrometer").heads, strip(sheet, "Hydrometer").values, strict=True))
    assert 2.7 <= float(found["30"]) <= 3.0
    assert 6.2 <= float(found["40"]) <= 6.6
    assert found["20"] == "0.0"
    assert found["10"].startswith("−")


def test_diastatic_power_stands_in_both_units_with_what_authors_say(record: Record) -> None:
    """250 WK is 76 °Lintner: WK = 3.5 °L − 16, Oxford Companion to Beer."""
    said = next(each for each in sheet_of(record).liquor if "Diastatic" in each)
    assert re.search(r"25\d ± \d+ WK|250 ± \d+ WK", said)
    assert "(76 ±" in said
    assert "35 °Lintner" in said
    assert "40" in said


def test_residual_alkalinity_is_kolbachs(tmp_path: Path) -> None:
    """Kolbach 1953: alkalinity − Ca/1.4015 − Mg/1.6999, in mg/L; 17.848 mg/L as CaCO3 are one °dH."""
    water = "water: {calcium: 50 mg/L, magnesium: 10 mg/L, alkalinity: 100 mg/L}\n"
    (said,) = [each for each in sheet_of(planned(tmp_path, PLAN + water)).liquor if "alkalinity" in each]
    alkalinity, degrees = re.findall(r"([\d.]+)\u00a0±", said)
    by_hand = 100 - 50 / 1.4015 - 10 / 1.6999
    assert float(alkalinity) == pytest.approx(by_hand, abs=0.5)
    assert float(degrees) == pytest.approx(by_hand / 17.848, abs=0.05)


def test_before_any_salt_is_before_any_salt(tmp_path: Path) -> None:
    """4 g of gypsum in the mash's liquor are 931 mg of calcium (CaSO4·2H2O, 40.078 in 172.164); by hand as above."""
    water = "water: {calcium: 50 mg/L, magnesium: 10 mg/L, alkalinity: 100 mg/L}\n"
    text = PLAN.replace("mash: {", "mash: {additions: [{addition: gypsum, amount: 4 g}], ", 1) + water
    assert "gypsum" in text
    view = planned(tmp_path, text)
    (said,) = [each for each in sheet_of(view).liquor if "alkalinity" in each]
    before, _, after, _ = (float(number) for number in re.findall(r"(−?[\d.]+)\u00a0±", said.replace("−", "-")))
    assert before == pytest.approx(100 - 50 / 1.4015 - 10 / 1.6999, abs=0.5)
    assert after < before - 10


def test_without_water_nothing_is_said_of_its_alkalinity(sheet: Sheet) -> None:
    assert not any("alkalinity" in sentence for sentence in sheet.liquor)


def test_mash_ph_is_the_records_word(tmp_path: Path) -> None:
    earlier = texts(4, Habits())
    for place, ph in ((0, "5.42"), (1, "5.31"), (3, "5.37")):
        earlier[place] = earlier[place].replace("mash: {", f"mash: {{ph: {ph} at 20 degC, ")
    earlier[3] = earlier[3].replace("malt: pale lot", "malt: dark lot")
    said = "".join(sheet_of(told(tmp_path, [*earlier, entry(PLAN, head=HEAD)])).liquor)
    assert "5.31 to 5.42 in 2 earlier mashes of this brewhouse with a similar grist" in said
    assert "not from a model" in said


def test_without_any_ph_nothing_is_said_of_it(sheet: Sheet) -> None:
    assert "No earlier mash of this brewhouse has its pH recorded" in "".join(sheet.liquor)


def test_without_a_target_there_is_no_table_and_it_says_what_to_add(tmp_path: Path) -> None:
    found = planned(tmp_path, without(PLAN, "target:"))
    assert sheet_of(found).tables == ()
    assert task(sheet_of(found), "Full kettle", "Gravity").amount.startswith("1.0")
    text = text_of(found)
    assert "With target: {gravity: …, volume: …}, tables for what to do off target will stand here." in text
    assert "leave it" not in text


def test_without_liquor_it_says_what_liquor_would_give(tmp_path: Path) -> None:
    found = sheet_of(planned(tmp_path, PLAN.replace("liquor: 14.0 L, ", "")))
    assert task(found, "Mash liquor", "Strike").amount == ""
    assert task(found, "Full kettle", "Volume").amount == ""
    assert (found.tables, found.basis) == ((), "")
    assert any("mash: {liquor: …}" in sentence for sentence in found.wanting)
    assert all(each.boxes for stage in found.stages for each in stage.tasks)


def test_without_grist_or_rest_the_sheet_stands_all_the_same(tmp_path: Path) -> None:
    found = sheet_of(planned(tmp_path, "target: {gravity: 1.048}\nmash: {liquor: 14 L}\n"))
    assert any("grains" in sentence for sentence in found.wanting)
    assert any("rests" in sentence for sentence in found.wanting)


def test_a_grist_that_drinks_up_its_liquor_is_named(tmp_path: Path) -> None:
    plan = PLAN.replace("liquor: 14.0 L", "liquor: 2.0 L").replace("liquor: 15.0 L", "liquor: 1.0 L")
    assert any("make no wort" in sentence for sentence in sheet_of(planned(tmp_path, plan)).wanting)


def test_neither_an_unknown_addition_nor_a_steep_is_called_no_wort(tmp_path: Path) -> None:
    for folder, plan, says in (
        (
            "sugar",
            f"{PLAN.rstrip()}\nstand: {{additions: [{{addition: dried moonbeams, weight: 1 kg}}]}}\n",
            "dried moonbeams",
        ),
        ("steep", PLAN.replace("batch sparge", "steep"), "steeped grain"),
    ):
        (tmp_path / folder).mkdir()
        wanting = sheet_of(planned(tmp_path / folder, plan, earlier=1)).wanting
        assert any(says in sentence for sentence in wanting), wanting
        assert not any("make no wort" in sentence for sentence in wanting)


def test_weights_that_were_calculated_from_shares_stand_on_the_sheet_with_what_they_rest_on(tmp_path: Path) -> None:
    grist = "grains: [{malt: pale malt, share: 93 %}, {malt: caramel malt, share: 7 %}]"
    (tmp_path / "whole").mkdir()
    found = sheet_of(
        weigh_out_planned(planned(tmp_path / "whole", f"target: {{gravity: 1.048, volume: 19 L}}\n{grist}", earlier=3))
    )
    mill = next(stage for stage in found.stages if stage.words == "Mill")
    assert [task.spread.replace("\u00a0", " ") for task in mill.tasks[:2]] == [
        "93.0 % of the grist",
        "7.0 % of the grist",
    ]
    assert all("kg" in task.amount or "g" in task.amount for task in mill.tasks[:2])
    assert "the weights, the mash liquor and the sparge are calculated for its target" in found.basis
    assert "as in batch 3" in found.basis
    none = sheet_of(planned(tmp_path, f"target: {{gravity: 1.048}}\n{grist}", earlier=1))
    assert any("a grist by shares needs a target" in sentence for sentence in none.wanting)


def test_a_bag_is_not_sparged(tmp_path: Path) -> None:
    found = sheet_of(
        planned(
            tmp_path,
            PLAN.replace("{method: batch sparge, liquor: 15.0 L, liquor_temperature: 76 degC}", "{method: bag}"),
        )
    )
    words = [each.words for each in next(stage for stage in found.stages if stage.words == "Run-off").tasks]
    assert words == ["First wort", "Bag"]


def test_a_plan_that_misses_its_target_says_so(tmp_path: Path) -> None:
    found = sheet_of(planned(tmp_path, PLAN.replace("weight: 4.20 kg", "weight: 5.20 kg")))
    assert "more than the target of 1.048" in found.basis


def test_a_brewery_in_us_units_sees_nothing_metric(tmp_path: Path) -> None:
    found = sheet_of(planned(tmp_path, brewery=US))
    shown = [
        part
        for stage in found.stages
        for each in stage.tasks
        if each.words != "Mill gap"  # as the brewer wrote it
        for part in (each.amount, each.spread, each.note, *(f" {box.unit}" for box in each.boxes))
    ]
    shown += [f"{line} " for _, answers in kettle(found).rows for answer in answers for line in answer.lines]
    shown += [kettle(found).summary, *(f"{each.first} {each.remark}" for each in found.strips)]
    for text in shown:
        assert not re.search(r"(?:\d|\s|\u00a0)(?:L|mL|kg|g|°C|K)(?:\b|$)", text), text
    assert task(found, "Mill", "pale lot").amount == "9\u00a0lb\u00a04\u00a0oz"
    assert "149\u00a0°F" in task(found, "Full kettle", "Volume").words
    assert task(found, "Mash", "Rest").amount == "153\u00a0°F"


@pytest.mark.long
def test_us_columns_are_round_in_hot_gallons(tmp_path: Path) -> None:
    """A US gallon is 3.785411784 L (NIST SP 811)."""
    metric, us = (kettle(sheet_of(planned(tmp_path / name, brewery=b))) for name, b in (("m", BREWERY), ("u", US)))
    assert all((float(head.text) * 10) % 1 == pytest.approx(0, abs=1e-9) for head in us.columns)
    low, high = (float(metric.columns[end].cold) / 3.785411784 for end in (0, -1))
    assert low - 0.2 < float(us.columns[0].cold) < float(us.columns[-1].cold) < high + 0.2


def test_what_is_expected_of_a_reading_stands_once(record: Record) -> None:
    names = [row.name for row in model(record).expected]
    assert "brewhouse_efficiency" in names
    assert not {"kettle_volume", "kettle_gravity", "original_gravity"} & set(names)


RICH = """
target: {gravity: 1.048, volume: 19 L}
grains:
  - {malt: pale lot, weight: 4.00 kg, extract: 81.00 %, moisture: 4.0 ± 0.1 %, diastatic_power: 250 WK, source: certificate}
mash:
  liquor: 16.0 L
  grain_temperature: 20 degC
  rests:
    - {temperature: 52 degC, time: 15 min}
    - {temperature: 65 degC, time: 60 min, infusion: 5 L, infusion_temperature: 98 degC}
    - {temperature: 76 degC, time: 10 min, decoction: 6 L, boiled: 15 min}
  hops: [{hop: Mash Field, weight: 10 g}]
lauter: {method: batch sparge, liquor: [8.0 L, 7.0 L], additions: [{addition: phosphoric acid 10 %, amount: 5 mL}]}
boil:
  before: {additions: [{addition: "malt extract, dry", weight: 300 g}]}
  time: 60 min
  hops: [{hop: First Field, weight: 30 g, alpha: 5 %, with_first_wort: yes}]
  additions: [{addition: Irish moss, amount: 1 tablet, boiled: 15 min}]
stand: {temperature: 80 degC, time: 20 min, hops: [{hop: Stand Field, weight: 40 g}]}
cooling: {method: immersion, time: 25 min, to: 19 degC}
fermenter:
  yeast: {strain: house, form: slurry, amount: 120 mL}
  oxygen: a stone for a minute
  temperatures: [{on: 2021-03-01, temperature: 18 degC}, {on: 2021-03-05, temperature: 21 degC, why: diacetyl rest}]
  additions: [{addition: honey, weight: 100 g}, {addition: sucrose, weight: 200 g, on: 2021-03-03}]
  hops: [{hop: Dry Field, weight: 50 g, on: 2021-03-06, off: 2021-03-09}]
"""


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Sheet:
    return sheet_of(planned(tmp_path_factory.mktemp("rich"), RICH, 6))


def test_strike_is_of_the_liquor_that_is_there_before_any_infusion(rich: Sheet) -> None:
    """11 L of the 16: 52 + 0.4 × 4 / (11 × 0.9982) × (52 − 20) = 56.66 °C."""
    assert number(task(rich, "Mash liquor", "Mash liquor").amount) == pytest.approx(11.0, abs=0.05)
    assert number(task(rich, "Mash liquor", "Strike temperature").amount) == pytest.approx(56.66, abs=0.6)


def test_where_infusion_and_decoction_land_by_the_textbook_s_heat_balance(rich: Sheet) -> None:
    """(1.6 + 10.98) kg of water's heat at 52 °C and 4.99 kg at 98 °C: 65.07 °C; then 6 L of 18.68 L of mash at 100 °C.

    The mash is 4 × 0.67 + 16 L, so 0.321 of it comes back boiling: 65 + 0.321 × 35 = 76.2 °C.
    """
    infused, decocted = task(rich, "Mash", "Second rest"), task(rich, "Mash", "Third rest")
    assert "lands at 65" in infused.note
    assert "By an infusion of 5.0" in infused.note
    assert "lands at 76" in decocted.note


@pytest.mark.parametrize(
    ("stage", "words", "said"),
    [
        ("Mash", "Mash Field", "10"),
        ("Run-off", "Sparge liquor, batch sparge, second filling", "7.0"),
        ("Run-off", "phosphoric acid 10 %", "5"),
        ("Full kettle", "malt extract, dry", "300"),
        ("Boil", "Irish moss", "boils 15"),
        ("Boil", "First Field, 5.0\N{NO-BREAK SPACE}% alpha acid", "with the first wort"),
        ("Stand and cooling", "Stand", "20"),
        ("Stand and cooling", "Stand Field", "40"),
        ("Stand and cooling", "Cooling", "19"),
        ("Fermenter", "honey", "100"),
        ("Pitching", "house", "slurry"),
        ("Pitching", "Oxygen", "a stone"),
        ("Fermentation", "diacetyl rest", "5 March 2021"),
        ("Fermentation", "sucrose", "3 March 2021"),
        ("Fermentation", "Dry Field", "6 March 2021 to 9 March 2021"),
    ],
)
def test_whatever_is_planned_stands_on_the_sheet(stage: str, words: str, said: str, rich: Sheet) -> None:
    found = task(rich, stage, words)
    assert said in f"{found.amount} {found.spread}"
