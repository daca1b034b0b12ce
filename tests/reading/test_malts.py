"""Which value of a malt counts: what stands in the entry over malts.yaml, and that over the kind."""

from pathlib import Path

import pytest
from texts import HEAD, batch_of, journal_at, settings_at

from journal.reading import Malts, MaltValues, StatedValue, resolve
from journal.reading.kinds import KINDS
from journal.reading.malts import sheet_name

MALTS = """
    island-pale:
      kind: pale malt
      extract: 82.5 %
      moisture: 3.5 ± 0.2 %
      source: certificate
    island-raw:
      extract_as_is: 75 %
      source: datasheet
    island-kind:
      kind: munich malt
    island-nothing:
      name: Nothing known
"""


@pytest.fixture
def malts(tmp_path: Path) -> Malts:
    return settings_at(tmp_path, malts=MALTS)[1]


def values(grain: str, malts: Malts) -> MaltValues:
    batch = batch_of(f"grains: [{{malt: wheat malt, weight: 1 kg}}, {{weight: 1 kg, {grain}}}]")
    return resolve(batch.grains[1], "grains[1]", malts)


def test_a_lot_wins_over_its_kind_and_the_kind_gives_the_rest(malts: Malts) -> None:
    found = values("malt: island-pale", malts)
    assert found.extract == StatedValue(pytest.approx(0.825), None, "certificate", "malts.island-pale.extract")
    assert found.moisture is not None
    assert (found.moisture.value, found.moisture.sd) == (pytest.approx(0.035), pytest.approx(0.002))
    typical = KINDS["pale malt"]
    assert found.colour == StatedValue(typical.colour, None, "typical", "kinds.pale malt.colour")
    assert found.diastatic_power == StatedValue(
        typical.diastatic_power, None, "typical", "kinds.pale malt.diastatic_power"
    )


def test_the_entry_wins_over_the_lot(malts: Malts) -> None:
    found = values("malt: island-pale, extract: 79 %, source: guess", malts)
    assert found.extract == StatedValue(pytest.approx(0.79), None, "guess", "grains[1].extract")
    assert found.moisture is not None
    assert found.moisture.source == "certificate", "the entry's source is about the numbers that stand there"


@pytest.mark.parametrize(
    ("grain", "extract", "as_is"),
    [
        ("malt: island-pale, extract_as_is: 70 %", None, 0.70),
        ("malt: island-raw", None, 0.75),
        ("malt: island-raw, extract: 80 %", 0.80, None),
        ("malt: island-kind", KINDS["munich malt"].extract, None),
        ("malt: pale malt, extract_as_is: 70 %", None, 0.70),
        ("malt: island-nothing", None, None),
        ("malt: sucrose", None, 1.0),
    ],
)
def test_extract_dry_or_as_is_whichever_was_stated_nearest(
    grain: str, extract: float | None, as_is: float | None, malts: Malts
) -> None:
    found = values(grain, malts)
    for stated, wanted in ((found.extract, extract), (found.extract_as_is, as_is)):
        assert (stated and stated.value) == (None if wanted is None else pytest.approx(wanted))
    assert found.has_extract == (extract is not None or as_is is not None)


def test_moisture_comes_from_wherever_it_is_known(malts: Malts) -> None:
    assert values("malt: island-pale, moisture: 5 %", malts).moisture == StatedValue(
        pytest.approx(0.05), None, "typical", "grains[1].moisture"
    )
    assert values("malt: island-raw", malts).moisture is None
    assert values("malt: unheard of, extract: 80 %", malts).moisture is None


def test_a_source_that_is_not_stated_is_no_better_than_typical(malts: Malts) -> None:
    found = values("malt: anything, extract: 80 %", malts)
    assert found.extract is not None
    assert found.extract.source == "typical"


def test_a_lot_is_one_statement_for_all_who_use_it(malts: Malts) -> None:
    first = resolve(batch_of("grains: [{malt: island-pale, weight: 1 kg}]").grains[0], "grains[0]", malts)
    second = values("malt: island-pale", malts)
    assert first.extract == second.extract


def test_every_kind_of_the_format_is_there() -> None:
    grains = "pale malt, pilsner malt, mild malt, vienna malt, munich malt, wheat malt, rye malt, oat malt, smoked malt"
    grains += ", acid malt, amber malt, brown malt, caramel malt, chocolate malt, black malt, roasted barley"
    grains += ", flaked barley, flaked oats, flaked wheat, flaked rye, flaked maize, flaked rice, hulls"
    sugars = ["sucrose", "dextrose", "malt extract, dry", "malt extract, liquid", "honey"]
    assert set(KINDS) >= {*grains.split(", "), *sugars}
    for name in grains.split(", "):
        kind = KINDS[name]
        assert kind.extract is not None
        # common practice: no grain gives more than starch would, none holds more than 15 % of water
        assert 0.0 <= kind.extract <= 0.92
        assert 0.0 < kind.moisture <= 0.15
        assert kind.extract > 0.55 or name == "hulls"
    # sucrose is all extract; the monohydrate of dextrose is 180.16 in 198.17 parts by weight (its molar masses)
    assert KINDS["sucrose"].extract_as_is == 1.0
    assert KINDS["dextrose"].extract_as_is == pytest.approx(180.16 / 198.17, abs=0.005)
    assert KINDS["hulls"].extract == 0.0


def test_roasted_grain_turns_no_starch() -> None:
    """Common practice: the kiln of coloured and roasted malt leaves no enzymes."""
    for name in (
        "brown malt",
        "caramel malt",
        "chocolate malt",
        "black malt",
        "roasted barley",
        "flaked oats",
        "hulls",
    ):
        assert KINDS[name].diastatic_power == 0.0


@pytest.mark.parametrize(
    ("grain", "extract", "moisture"),
    [
        # another name, or other capitals, is the kind where the line states no extract of its own
        ("malt: Pale Malt", KINDS["pale malt"].extract, KINDS["pale malt"].moisture),
        ("malt: lager malt, moisture: 5 %", KINDS["pilsner malt"].extract, 0.05),
        ("malt: Pale Malt, extract: 79 %", 0.79, None),
        ("malt: pale malt, extract: 79 %", 0.79, KINDS["pale malt"].moisture),
    ],
)
def test_another_name_fills_in_where_no_extract_is_stated(
    grain: str, extract: float, moisture: float | None, malts: Malts
) -> None:
    found = values(grain, malts)
    assert found.extract is not None
    assert found.extract.value == pytest.approx(extract)
    assert (found.moisture and found.moisture.value) == (moisture if moisture is None else pytest.approx(moisture))


@pytest.mark.parametrize("named", ["gypsum", "lactic acid 80 %", "coriander"])
def test_what_is_never_mashed_is_no_malt_without_extract(named: str, malts: Malts) -> None:
    assert not values(f"malt: {named}", malts).has_extract


def test_a_sheet_may_name_its_kind_as_the_trade_does(tmp_path: Path) -> None:
    found = settings_at(tmp_path, malts="lot-1: {kind: Two-Row Malt, moisture: 3 %}")[1]
    assert values("malt: lot-1", found).kind == "pale malt"


@pytest.mark.parametrize(
    ("grain", "known_as"),
    [
        ("malt: Pale Malt", "pale malt"),
        ("malt: 2-row", "pale malt"),
        ("malt: Pale Malt, extract: 80 %", "Pale Malt"),
        ("malt: island-pale", "island-pale"),
        ("malt: crystal 60L", "caramel malt 60L"),
        ("malt: my own", "my own"),
    ],
)
def test_however_a_line_calls_it_a_kind_is_one(grain: str, known_as: str, malts: Malts) -> None:
    assert sheet_name(batch_of(f"grains: [{{weight: 1 kg, {grain}}}]").grains[0], malts) == known_as


def test_a_malt_by_the_name_on_its_sheet_is_led_to_the_keys_of_its_lots(tmp_path: Path) -> None:
    sheets = "".join(f"pale-{lot}:\n  name: Sandhill pale malt\n  extract: 81 %\n" for lot in (2501, 2502, 2503, 2504))
    entry = f"---\n{HEAD}grains: [{{malt: Sandhill pale malt, weight: 4 kg}}]\n---\n"
    _, problems = journal_at(tmp_path, {"31.md": entry, "malts.yaml": sheets})
    (problem,) = (each for each in problems if each.code == "malt-unknown")
    assert problem.hint.startswith("Did you mean pale-2504, pale-2503 or pale-2502?")


@pytest.mark.parametrize("price", ["$1.60 per lb", "1.60/lb", "3.5274", "€3.5274 per kg", "$0.10 per oz"])
def test_a_price_may_be_of_a_pound(price: str, tmp_path: Path) -> None:
    """A pound is 0.45359237 kg: UK Weights and Measures Act 1985, Schedule 1."""
    found = settings_at(tmp_path, malts=f"lot-1: {{kind: pale malt, price: {price}}}")[1].by_key["lot-1"].price
    assert found is not None
    assert found.value == pytest.approx(1.60 / 0.45359237, rel=1e-5)
