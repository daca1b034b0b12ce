"""A batch read once more with a field otherwise: what is put where, what is added to what, and what can't be."""

from __future__ import annotations

import pytest
from texts import HEAD, entry

from journal.problems import Source
from journal.reading import Batch, read_entry
from journal.reading.otherwise import CantBe, Otherwise, assignment, read_otherwise, read_vessel

FIELDS = """crush: 1.20 mm
grains: [{malt: pale malt, weight: 4 kg}]
mash: {liquor: 12 L at 60 degC, strike: 160 degF, rests: [{temperature: 60 degC, time: 60 min}, 72 degC for 10 min]}
lauter: {liquor: [7 L, 8 L], method: batch sparge}
boil: {time: 60 min}
practice: {turns: 4}
"""
VESSELS = ("brewhouse.kettle.loss", "brewhouse.mash_tun.dead_space")


def brewed() -> Batch:
    batch, problems = read_entry(Source("entries/1.md", entry(FIELDS)))
    assert batch is not None, problems
    return batch


def otherwise(*changes: str) -> Batch:
    asked = [assignment(change) for change in changes]
    found = read_otherwise(brewed(), [each for each in asked if isinstance(each, Otherwise)], "us_gallon")
    assert not isinstance(found, CantBe), found
    return found[-1]


@pytest.mark.parametrize(
    ("text", "path", "value"), [("crush=1.0 mm", "crush", "1.0 mm"), (" a.b[0] = x=y ", "a.b[0]", "x=y")]
)
def test_a_change_is_a_field_an_equals_sign_and_its_value(text: str, path: str, value: str) -> None:
    assert assignment(text) == Otherwise(path, value)


@pytest.mark.parametrize("text", ["crush", "=1 mm", "crush=", "mash rests]=1", "mash..rests=1"])
def test_what_is_no_change_is_told(text: str) -> None:
    assert isinstance(assignment(text), CantBe)


def test_a_value_takes_the_place_of_what_stands_there() -> None:
    batch = otherwise(
        "crush=1.0 mm", "mash.rests[0]=66 degC for 90 min", "fermenter.volume=18 L", "lauter.liquor[1]=9 L"
    )
    assert batch.crush is not None
    assert batch.crush.value == pytest.approx(1.0)
    first = batch.mash.rests[0]
    assert (first.temperature.value, first.time.value) == pytest.approx((66.0, 90.0))  # type: ignore[union-attr]
    # a group that was not there is made, and all else stays
    assert batch.fermenter.volume.value == pytest.approx(18.0)  # type: ignore[union-attr]
    assert batch.mash.liquor.value == brewed().mash.liquor.value  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("change", "path", "value"),
    [
        # 2 L more of a liquor that stays as hot as it was; 9 degF are 5 K (160 degF are 71.1 degC); a US gallon is 3.785411784 L
        ("mash.liquor=+2 L", "mash.liquor", 14.0),
        ("mash.liquor=+1 gal", "mash.liquor", 12.0 + 3.785411784),
        ("mash.strike=−9 degF", "mash.strike", (160.0 - 9.0 - 32.0) / 1.8),
        ("boil.time=-15 min", "boil.time", 45.0),
        ("grains[0].weight=+500 g", "grains[0].weight", 4.5),
    ],
)
def test_a_sign_adds_to_what_stands_there(change: str, path: str, value: float) -> None:
    found: object = otherwise(change)
    for name in path.replace("[0]", ".0").split("."):
        found = found[0] if name == "0" else getattr(found, name)  # type: ignore[index]
    assert found.value == pytest.approx(value)  # type: ignore[attr-defined]


def test_a_brewers_own_number_is_added_to() -> None:
    assert otherwise("practice.turns=+2").practice["turns"] == pytest.approx(6)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("lauter.liqour=3 L", "an entry has no field lauter.liqour. Did you mean lauter.liquor?"),
        ("crush=1 kg", "crush=1 kg can't be."),
        ("boil.time=+2 kg", "boil.time: “kg” is a unit of weight"),
        ("boil.time=-2 h", "boil.time: there are only 60 min"),
        ("grains[4].weight=1 kg", "grains[4].weight: there is 1 line here"),
        ("hops[0]=x", "an entry has no field hops"),
        ("boil.hops[0].weight=1 g", "boil.hops[0].weight: there is no line here"),
        ("mash.rests[1].time=90 min", "mash.rests[1].time: the entry says this as one text"),
        ("crush.size=1 mm", "crush.size: the entry says this as one text"),
        ("lauter.liquor=+1 L", "lauter.liquor: there is a list of 2; say which"),
        ("fermenter.volume=+1 L", "fermenter.volume: nothing stands there"),
        ("brewed=[", "brewed=[ can't be"),
    ],
)
def test_what_can_not_be_is_said(change: str, said: str) -> None:
    asked = assignment(change)
    assert isinstance(asked, Otherwise)
    found = read_otherwise(brewed(), [asked], "us_gallon")
    assert isinstance(found, CantBe)
    assert found.why.startswith(said)


def test_an_entry_without_fields_has_none_to_change() -> None:
    batch = brewed()
    bare = read_entry(Source("entries/1.md", f"---\n{HEAD}---\n"))[0]
    assert bare is not None
    assert batch.source != bare.source
    object.__setattr__(bare, "source", Source("entries/1.md", "No fields."))
    assert isinstance(read_otherwise(bare, [Otherwise("crush", "1 mm")], ""), CantBe)


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("brewhouse.kettle.loss=1 L", (1.0, False)),
        ("brewhouse.kettle.loss=-0.5 L", (-0.5, True)),
        ("brewhouse.kettle.loss=+0.5 L", (0.5, True)),
    ],
)
def test_a_vessel_is_otherwise_by_so_much_or_to_so_much(change: str, found: tuple[float, bool]) -> None:
    asked = assignment(change)
    assert isinstance(asked, Otherwise)
    assert read_vessel(asked, VESSELS, "") == found


@pytest.mark.parametrize("change", ["brewhouse.kettle.los=1 L", "brewhouse.kettle.loss=1 kg"])
def test_what_is_nothing_of_a_vessel_is_told(change: str) -> None:
    asked = assignment(change)
    assert isinstance(asked, Otherwise)
    assert isinstance(read_vessel(asked, VESSELS, ""), CantBe)
