"""An entry, a brewery and malts with every field the format has, read without a fault and to the letter."""

import dataclasses
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pytest
from texts import journal_at

from journal.measures import Gravity, Measure, Scale
from journal.reading import Batch, Brewery, Brewhouse, Malts
from journal.reading.brewery import Change, FermentingVessel, Kettle, MashTun
from journal.reading.dip import DatedDip, DipMark
from journal.reading.entry import (
    Addition,
    Boil,
    Cooling,
    Fermenter,
    FullKettle,
    Grain,
    HeldTemperature,
    Hop,
    Lauter,
    Mash,
    MashReading,
    Package,
    Priming,
    Reading,
    Rest,
    Souring,
    SouringReading,
    Stand,
    Starter,
    Target,
    Tasting,
    VesselReadings,
    Yeast,
)
from journal.reading.forms import ClockTime, in_days
from journal.reading.instrument_checks import GravityCheck, TemperatureCheck
from journal.reading.instruments import (
    Hydrometer,
    Instruments,
    LiquorMeasure,
    PhMeter,
    Refractometer,
    Scales,
    Thermometer,
)
from journal.reading.liquor import Water, WaterSource
from journal.reading.malts import Malt
from journal.reading.sieve import SieveFraction
from journal.reading.table import fields_of

CASES = Path(__file__).parent / "cases"
POUND, GALLON = 0.45359237, 3.785411784

#: The fields of the format, written out from its description: the code's tables hold these, neither more nor less.
FORMAT: dict[type, str] = {
    Batch: "batch title brewed part_of taken second_wort_of joins blend_of"
    " style brewhouse tags target grains crush sieve water mash souring lauter boil stand cooling fermenter"
    " readings readings_log ice_removed package tasting picture clock practice trust",
    Target: "gravity volume",
    Grain: "malt weight share extract extract_as_is moisture diastatic_power colour source",
    Addition: "addition weight amount boiled on extract extract_as_is moisture diastatic_power colour source",
    Mash: "liquor strike grain_temperature rests log ph first_wort mixing stuck hops additions readings iodine",
    MashReading: "at gravity",
    Water: "name date calcium magnesium sodium sulfate chloride bicarbonate alkalinity sources",
    WaterSource: "name share",
    Rest: "temperature time infusion infusion_temperature decoction boiled",
    Lauter: "method liquor liquor_temperature time last_runnings ph additions",
    Souring: "began ended temperature culture readings",
    SouringReading: "at ph temperature",
    Boil: "on before top_up after time hops additions",
    Stand: "temperature time hops additions",
    Cooling: "method time to",
    FullKettle: "volume gravity additions",
    VesselReadings: "volume gravity",
    Hop: "hop weight alpha form boiled with_first_wort stood on off",
    Fermenter: "vessel volume gravity top_up additions yeast oxygen pitched temperatures hops",
    Yeast: "strain form amount generation of_batch starter cells",
    Starter: "volume gravity",
    HeldTemperature: "on temperature why",
    Reading: "at gravity temperature ph",
    Package: "on volume gravity carbonation warmest container priming pressure carbon_dioxide rated closed spund top_up hops"
    " additions",
    Priming: "addition weight",
    Tasting: "on words score out_of faults",
    Brewery: "name units gallon address theme instruments brewhouses fermenters water waters",
    Instruments: "malt_scale hop_scale volume hydrometer refractometer thermometer ph_meter",
    Hydrometer: "uncertainty calibrated_at checks",
    Refractometer: "uncertainty wort_factor checks",
    PhMeter: "uncertainty calibrated checks",
    Scales: "uncertainty checks",
    LiquorMeasure: "uncertainty checks",
    Thermometer: "uncertainty checks",
    GravityCheck: "on of shows since new",
    TemperatureCheck: "on of shows since new height",
    Brewhouse: "name mash_tun kettle boil_off absorption changes",
    Change: "on what",
    MashTun: "volume dead_space",
    Kettle: "volume loss dip dip_since older_dips checks",
    FermentingVessel: "volume dip dip_since older_dips checks",
    DatedDip: "dip_since dip",
    Malt: "name maltster lot kind extract extract_as_is fine_coarse_difference moisture diastatic_power colour"
    " alpha price source",
}


@pytest.mark.parametrize("record", FORMAT, ids=lambda record: record.__name__)
def test_the_tables_hold_the_fields_of_the_format(record: type) -> None:
    assert set(fields_of(record)) == set(FORMAT[record].split()), (
        "a new field stands in FORMAT and in cases/complete.md"
    )
    assert all(facts.doc for facts in fields_of(record).values())


@pytest.fixture(scope="module")
def complete(tmp_path_factory: pytest.TempPathFactory) -> tuple[Batch, Brewery, Malts]:
    files = {name: (CASES / "settings" / name).read_bytes() for name in ("brewery.yaml", "malts.yaml")}
    files |= {
        "complete.md": (CASES / "complete.md").read_bytes(),
        "settings.txt": b"-",
        "runs.html": b"-",
        "runs.svg": b"<svg/>",
        "kettle.png": b"\x89PNG\r\n\x1a\n",
    }
    files |= {name: (CASES / name).read_bytes() for name in ("47-mash.csv", "47-fermentation.csv")}
    journal, problems = journal_at(tmp_path_factory.mktemp("complete"), files)
    assert problems == []
    return journal.batches[0], journal.brewery, journal.malts


def _records(value: object) -> Iterator[object]:
    if dataclasses.is_dataclass(value) and not isinstance(value, Measure | Gravity | type):
        yield value
        for field in dataclasses.fields(value):
            yield from _records(getattr(value, field.name))
    elif isinstance(value, tuple | list):
        for part in value:
            yield from _records(part)
    elif isinstance(value, dict):
        yield from _records(list(value.values()))


#: An entry can hold but one of these; `format_1/weir/` has them all.
LINKS = {"part_of", "taken", "second_wort_of", "joins", "blend_of"}


def test_the_example_states_every_field(complete: tuple[Batch, Brewery, Malts]) -> None:
    stated: dict[type, set[str]] = {}
    for record in _records([complete[0], complete[1], complete[2].by_key]):
        filled = {name for name in fields_of(type(record)) if getattr(record, name) not in (None, (), {})}
        stated.setdefault(type(record), set()).update(filled)
    for record, names in FORMAT.items():
        # what all checks have stands in those of the hydrometer
        of_any = {"since", "new"} if issubclass(record, TemperatureCheck) else set()
        elsewhere = of_any | (LINKS if record is Batch else set())
        assert set(names.split()) - stated[record] - elsewhere == set(), f"not in cases/complete.md: {record.__name__}"


def test_general_fields(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert (batch.id, batch.title, batch.day, batch.style) == ("47-b", "Tidewater Porter", date(2026, 3, 7), "porter")
    assert (batch.brewhouse, batch.tags, batch.file) == ("loft", ("dark", "winter"), "entries/complete.md")
    assert batch.target == Target(Gravity(13.5, Scale.PLATO), Measure(pytest.approx(5.3 * GALLON), "us_gallon"))
    assert batch.crush == Measure(pytest.approx(0.043 * 25.4), "inch")
    assert batch.practice == {"run_off": "slow", "rakes": False, "paddle_turns": 12.0}
    assert batch.trust == {"boil.after.volume": False, "mash.first_wort": True}
    assert batch.readings_log == "47-fermentation.csv"
    assert batch.prose.startswith("\nA long day")
    assert not batch.planned


def test_grist(complete: tuple[Batch, Brewery, Malts]) -> None:
    pale, brown, roast, crystal, hulls = complete[0].grains
    assert pale == Grain(
        malt="quay-pale-2511",
        weight=Measure(pytest.approx(9.25 * POUND), "pound"),
        share=Measure(pytest.approx(0.881), "percent"),
    )
    assert brown.weight == Measure(pytest.approx(0.450), "gram", sd=pytest.approx(0.005))
    assert brown.source == "guess"
    assert roast.extract == Measure(pytest.approx(0.705), "percent")
    assert roast.colour is not None
    assert roast.colour.value == pytest.approx(2.65 * 400 - 1.2)
    assert crystal.extract_as_is == Measure(pytest.approx(0.72), "percent")
    assert hulls.extract == Measure(0.0, "percent")


def test_mash_and_lauter(complete: tuple[Batch, Brewery, Malts]) -> None:
    mash, lauter = complete[0].mash, complete[0].lauter
    assert mash.liquor == Measure(pytest.approx(15.2 * GALLON / 4), "us_quart")
    assert mash.strike == Measure(pytest.approx((163 - 32) / 1.8), "fahrenheit")
    first, second, poured, boiled = mash.rests
    assert first == Rest(Measure(pytest.approx(200 / 3), "fahrenheit"), Measure(60.0, "hour"))
    assert second == Rest(Measure(76.0, "celsius"), Measure(10.0, "minute"))
    assert poured.infusion == Measure(pytest.approx(2 * GALLON / 4), "us_quart")
    assert poured.infusion_temperature == Measure(pytest.approx((205 - 32) / 1.8), "fahrenheit")
    assert (boiled.decoction, boiled.boiled) == (Measure(3.0, "litre"), Measure(10.0, "minute"))
    assert mash.ph == Measure(5.42, "fraction", sd=0.03, at=22.0)
    assert mash.first_wort == Gravity(1.079, Scale.HYDROMETER, sd=0.001, at=40.0)
    assert (mash.mixing, mash.log) == ("recirculated", "47-mash.csv")
    assert mash.stuck == Measure(4.0, "minute")
    acid, salt = mash.additions
    assert acid == Addition(addition="lactic acid 80 %", amount=Measure(pytest.approx(0.002), "millilitre"))
    assert salt == Addition(addition="calcium chloride", amount=Measure(pytest.approx(0.2 * POUND / 16), "ounce"))
    assert mash.iodine == "passed"
    early, late = mash.readings
    assert early == MashReading(Measure(10.0, "minute"), Gravity(1.041, Scale.HYDROMETER))
    assert late == MashReading(Measure(60.0, "hour"), Gravity(18.6, Scale.BRIX))
    assert lauter.ph == Measure(5.7, "fraction", at=20.0)
    assert lauter.method == "fly sparge"
    assert lauter.liquor == Measure(pytest.approx(4.1 * 4.54609), "imperial_gallon")
    assert lauter.time == Measure(65.0, "hour")
    assert lauter.last_runnings == Gravity(3.1, Scale.BRIX)


def test_sieve(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert batch.sieve is not None
    meshes = [1.25, 1.0, 0.508, 0.5, 0.25, 0.125, 0.0]
    assert [fraction.mesh for fraction in batch.sieve] == pytest.approx(meshes)
    assert batch.sieve[0] == SieveFraction(
        "sieve.1.25 mm", 1.25, Measure(pytest.approx(0.31), "percent", sd=pytest.approx(0.02))
    )
    assert sum(fraction.share.value for fraction in batch.sieve) == pytest.approx(0.995)
    assert batch.written("sieve.pan") == "9 %"


def test_water(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch, brewery, _ = complete
    assert (batch.water.name, batch.water.date) == ("rain and well", date(2026, 2, 20))
    assert batch.water.calcium == Measure(41.0, "milligram / litre", sd=3.0)
    assert batch.water.magnesium == Measure(6.0, "milligram / litre")
    # 1 °dH is 10 mg/L of CaO: 100.087 / 56.077 * 10 of CaCO3
    assert batch.water.alkalinity == Measure(pytest.approx(5.8 * 17.848, rel=1e-4), "german_degree")
    assert brewery.water == Water(
        name="well",
        calcium=Measure(96.0, "milligram / litre"),
        magnesium=Measure(12.0, "milligram / litre"),
        alkalinity=Measure(210.0, "milligram / litre"),
    )


def test_boil(complete: tuple[Batch, Brewery, Malts]) -> None:
    boil = complete[0].boil
    assert boil.before.volume == Measure(pytest.approx(7.1 * GALLON), "us_gallon", at=pytest.approx((150 - 32) / 1.8))
    assert boil.before.gravity == Gravity(11.9, Scale.BRIX)
    assert boil.after.volume is not None
    assert boil.after.volume.sd == pytest.approx(0.1 * GALLON)
    assert boil.top_up == Measure(0.0, "litre")
    assert [hop.boiled and hop.boiled.value for hop in boil.hops] == [60.0, 0.0]
    assert boil.hops[1].alpha == Measure(pytest.approx(0.046), "percent", sd=pytest.approx(0.003))
    assert [sugar.addition for sugar in boil.additions] == ["treacle", "sucrose", "Irish moss"]
    assert boil.additions[2].amount == Measure(1.0, "tablet")
    assert boil.before.additions[0].weight == Measure(pytest.approx(0.2), "gram")


def test_fermenter_readings_and_package(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert batch.fermenter.top_up == Measure(pytest.approx(GALLON / 4), "us_quart")
    assert batch.fermenter.pitched == datetime(2026, 3, 8, 21, 15)
    assert batch.fermenter.yeast == Yeast(
        "harbour strain",
        "slurry",
        Measure(pytest.approx(0.12), "millilitre"),
        Measure(3.0, "fraction"),
        "44",
        Starter(Measure(1.5, "litre"), Gravity(1.037, Scale.HYDROMETER)),
        Measure(180.0, "billion_cells"),
    )
    assert batch.clock == (ClockTime(520, "mashed in"), ClockTime(1430, "boiled"), ClockTime(20, "to bed"))
    assert [time.minutes for time in in_days(batch.clock)] == [520, 1430, 1460]
    assert batch.stand.hops[0].stood == Measure(15.0, "minute")
    assert batch.boil.hops[1].off == "knockout"
    assert batch.package.rated == Measure(pytest.approx(60 * 0.0689475729), "psi")
    assert batch.fermenter.additions[0].moisture == Measure(pytest.approx(0.17), "percent")
    early, late = batch.readings
    assert (early.at, late.at) == (datetime(2026, 3, 10, 8), datetime(2026, 3, 21, 8))
    assert early.gravity == Gravity(7.2, Scale.BRIX)
    assert early.ph == Measure(4.5, "fraction", at=20.0)
    assert late.gravity == Gravity(1.015, Scale.HYDROMETER, at=18.0)
    volume_of_gas = 44.01 / 22.263  # g/L at 0 °C and 1 atm: R. F. Weiss (1974)
    package = batch.package
    assert package.on == date(2026, 3, 28)
    assert package.volume == Measure(pytest.approx(5.1 * GALLON), "us_gallon")
    assert package.gravity == Gravity(1.014, Scale.HYDROMETER)
    assert package.carbonation == Measure(
        pytest.approx(2.1 * volume_of_gas, rel=1e-4),
        "carbon_dioxide_volume",
        sd=pytest.approx(0.1 * volume_of_gas, rel=1e-4),
    )
    assert package.warmest == Measure(pytest.approx((66 - 32) / 1.8), "fahrenheit")
    assert package.container == "bottles"
    assert package.priming == Priming("dextrose", Measure(pytest.approx(0.15 * POUND), "ounce"))
    assert package.pressure == Measure(0.9, "bar", at=4.0)


def test_tastings(complete: tuple[Batch, Brewery, Malts]) -> None:
    first, second = complete[0].tasting
    assert first == Tasting(
        date(2026, 5, 2),
        "roast and plum, a little harsh",
        Measure(36.0, "fraction"),
        Measure(50.0, "fraction"),
        ("astringent", "sulphury"),
    )
    assert second == Tasting(date(2026, 6, 1), "rounder")


def test_settings(complete: tuple[Batch, Brewery, Malts]) -> None:
    _, brewery, malts = complete
    assert (brewery.name, brewery.units) == ("Quayside Loft", "us")
    assert brewery.instruments.hydrometer.calibrated_at == Measure(pytest.approx(20.0), "fahrenheit")
    assert brewery.instruments.refractometer.wort_factor == Measure(1.02, "fraction", sd=0.008)
    assert brewery.instruments.ph_meter.calibrated == (date(2026, 1, 15), date(2026, 3, 2))
    shown = brewery.instruments.refractometer.checks[0].shows
    assert shown == Measure(pytest.approx(-0.1), "fraction")
    assert brewery.fermenters["bucket"].dip_on(date(2025, 6, 1)) == (DipMark(0.0, 0.0), DipMark(300.0, 21.5))
    assert brewery.fermenters["bucket"].dip_on(date(2026, 6, 1)) == (DipMark(0.0, 0.4), DipMark(300.0, 22.0))
    assert brewery.fermenters["bucket"].dip_on(date(2024, 6, 1)) is None
    key, loft = brewery.brewhouse_of(None)
    assert [(change.on, change.what) for change in loft.changes] == [(date(2026, 1, 20), "new mill rollers")]
    assert key == "loft", "the only brewhouse is meant where an entry names none"
    assert loft.boil_off is not None
    assert loft.boil_off.value == pytest.approx(0.9 * GALLON)
    assert loft.absorption is not None
    assert loft.absorption.value == pytest.approx(0.45 * GALLON / 4 / POUND)
    pale = malts.by_key["quay-pale-2511"]
    assert (pale.lot, pale.kind, pale.source) == ("2511", "pale malt", "certificate")
    assert pale.extract == Measure(pytest.approx(0.809), "percent", sd=pytest.approx(0.004))
    assert pale.price is not None
    assert pale.price.value == 1.62


WRITTEN = {
    "batch": "47-b",
    "grains[0].weight": "9 lb 4 oz",
    "grains[1].weight": "450 ± 5 g",
    "grains[4].extract": "0 %",
    "mash.rests[0].temperature": "152 degF",
    "mash.rests[0].time": "1 h",
    "mash.rests[1].temperature": "76 °C",
    "mash.additions[1].amount": "0.2 oz",
    "mash.ph": "5.42 ± 0.03 at 22 degC",
    "sieve.1.25 mm": "31 ± 2 %",
    "water.magnesium": "6 ppm",
    "mash.readings[1].gravity": "18.6 °Bx",
    "boil.before.volume": "7.1 gal at 150 degF",
    "boil.before.gravity": "11.9 °Bx",
    "boil.hops[1].alpha": "4.6 ± 0.3 %",
    "boil.additions[0].extract_as_is": "78 %",
    "fermenter.additions[0].weight": "150 g",
    "readings[0].at": "2026-03-10 08:00",
    "readings[1].temperature": "18.5 degC",
    "package.on": "2026-03-28",
    "package.carbonation": "2.1 ± 0.1 volumes",
    "tasting[0].faults[1]": "sulphury",
    "practice.paddle_turns": "12",
    "trust.boil.after.volume": "no",
}


def test_every_value_stands_where_its_place_says(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert {path: batch.written(path) for path in WRITTEN} == WRITTEN
    lines = batch.source.text.split("\n")
    for path, shown in WRITTEN.items():
        place = batch.place(path)
        assert lines[place.line - 1][place.column - 1 :].startswith(shown), path


def test_the_name_of_each_field_stands_where_its_place_says(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert len(batch.names) > 80
    for path, span in batch.names.items():
        assert path.endswith(batch.source.text[span.start : span.end]), path


def test_a_reading_that_is_not_there_has_the_place_of_its_group(complete: tuple[Batch, Brewery, Malts]) -> None:
    batch = complete[0]
    assert batch.place("grains[0].extract").span == batch.place("grains[0]").span
    assert batch.place("nowhere.at.all").line == 1
    assert batch.written("grains[0].extract") == ""
