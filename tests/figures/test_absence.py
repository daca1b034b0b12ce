"""A figure is there exactly when what it needs is there; otherwise the readings that would give it are named."""

import pytest
from texts import figures, settings_at

from journal.figures import BatchFigures
from journal.reading import Brewery

GRIST = "grains: [{malt: pale malt, weight: 4 kg}]\n"
MASH = "mash: {liquor: 13 L, first_wort: 1.074}\n"
SPARGE = "lauter: {method: fly sparge, liquor: 15 L}\n"
BEFORE, AFTER = "before: {volume: 25 L, gravity: 1.040}", "after: {volume: 22 L, gravity: 1.046}"
FERMENTER = "fermenter: {volume: 20 L, gravity: 1.046}\n"
READINGS = "readings: [{at: 2026-04-24 20:00, gravity: 1.010}]\n"
HOPS = "hops: [{hop: East Field Goldings, weight: 30 g, alpha: 5 %, boiled: 60 min}]"


def boil(*parts: str) -> str:
    return f"boil: {{{', '.join(parts)}}}\n"


WHOLE = GRIST + MASH + SPARGE + boil(BEFORE, AFTER, "time: 60 min", HOPS) + FERMENTER + READINGS


@pytest.fixture
def brewery(tmp_path_factory: pytest.TempPathFactory) -> Brewery:
    text = "brewhouses: {shed: {mash_tun: {dead_space: 0.6 L}}}"
    return settings_at(tmp_path_factory.mktemp("brewery"), text)[0]


#: What each figure needs of the entry, by path: with all of these it is there, without any one it is not.
NEEDS = {
    "grain_weight": "grains[0].weight",
    "potential_extract": "grains[0].weight",
    "diastatic_power": "grains[0].weight",
    "mash_liquor": "mash.liquor",
    "sparge_liquor": "lauter.liquor",
    "total_liquor": "mash.liquor lauter.liquor",
    "liquor_to_grist": "mash.liquor grains[0].weight",
    "dissolved_extract": "mash.liquor grains[0].weight mash.first_wort",
    "conversion_efficiency": "mash.liquor grains[0].weight mash.first_wort",
    "kettle_extract": "boil.before.volume boil.before.gravity",
    "lauter_efficiency": "mash.liquor grains[0].weight mash.first_wort boil.before.volume boil.before.gravity",
    "mash_efficiency": "grains[0].weight boil.before.volume boil.before.gravity",
    "added_extract": "",
    "knockout_extract": "boil.after.volume boil.after.gravity",
    "fermenter_extract": "fermenter.volume fermenter.gravity",
    "brewhouse_efficiency": "grains[0].weight fermenter.volume fermenter.gravity",
    "brewhouse_yield": "grains[0].weight boil.after.volume boil.after.gravity",
    "boil_off": "boil.before.volume boil.before.gravity boil.after.volume boil.after.gravity boil.time",
    "absorption": "mash.liquor lauter.liquor boil.before.volume grains[0].weight",
    "wort_held": "mash.liquor lauter.liquor grains[0].weight mash.first_wort boil.before.volume boil.before.gravity",
    "kettle_loss": "boil.after.volume fermenter.volume",
    "original_extract": "fermenter.gravity",
    "apparent_extract": "readings[0].gravity",
    "real_extract": "fermenter.gravity readings[0].gravity",
    "apparent_attenuation": "fermenter.gravity readings[0].gravity",
    "real_attenuation": "fermenter.gravity readings[0].gravity",
    "alcohol_by_weight": "fermenter.gravity readings[0].gravity",
    "alcohol_by_volume": "fermenter.gravity readings[0].gravity",
    "bitterness": "boil.before.gravity boil.after.gravity boil.after.volume boil.hops[0].weight boil.hops[0].alpha"
    " boil.hops[0].boiled",
    "kettle_volume": "boil.before.volume",
    "kettle_gravity": "boil.before.gravity",
    "knockout_volume": "boil.after.volume",
    "knockout_gravity": "boil.after.gravity",
    "fermenter_volume": "fermenter.volume",
    "original_gravity": "fermenter.gravity",
    "final_gravity": "readings[0].gravity",
}
#: How a reading is blanked out of the whole entry.
BLANKS = {
    "grains[0].weight": ("weight: 4 kg", "weight: "),
    "mash.liquor": ("{liquor: 13 L", "{liquor: "),
    "mash.first_wort": ("first_wort: 1.074", "first_wort: "),
    "lauter.liquor": ("liquor: 15 L", "liquor: "),
    "boil.before.volume": ("volume: 25 L", "volume: "),
    "boil.before.gravity": ("gravity: 1.040", "gravity: "),
    "boil.after.volume": ("volume: 22 L", "volume: "),
    "boil.after.gravity": ("22 L, gravity: 1.046", "22 L, gravity: "),
    "boil.time": ("time: 60 min", "time: "),
    "boil.hops[0].weight": ("weight: 30 g", "weight: "),
    "boil.hops[0].alpha": ("alpha: 5 %", "alpha: "),
    "boil.hops[0].boiled": ("boiled: 60 min", "boiled: "),
    "fermenter.volume": ("volume: 20 L", "volume: "),
    "fermenter.gravity": ("20 L, gravity: 1.046", "20 L, gravity: "),
    "readings[0].gravity": ("gravity: 1.010", "gravity: "),
}


def without(path: str) -> str:
    old, new = BLANKS[path]
    assert WHOLE.count(old) == 1
    return WHOLE.replace(old, new)


def test_a_whole_entry_gives_every_figure(brewery: Brewery) -> None:
    assert set(NEEDS) - set(figures(WHOLE, brewery).results) == set()


@pytest.mark.parametrize("path", BLANKS)
def test_what_is_lost_without_one_reading(path: str, brewery: Brewery) -> None:
    found = figures(without(path), brewery)
    lost = {name for name, needs in NEEDS.items() if path in needs.split()}
    assert lost
    assert set(NEEDS) - set(found.results) == lost
    for name in lost:
        assert found.wanting[name] == (path,), name


def test_nothing_recorded_gives_nothing_but_what_was_not_added() -> None:
    found = figures("")
    assert set(found.results) & set(NEEDS) == {"added_extract"}
    assert found["added_extract"].value == 0.0
    assert found.wanting["mash_efficiency"] == ("boil.before.volume", "boil.before.gravity", "grains")


def test_a_figure_is_either_there_or_wanting(brewery: Brewery) -> None:
    for fields in ("", GRIST, WHOLE):
        found: BatchFigures = figures(fields, brewery)
        assert not set(found.results) & set(found.wanting)
        assert all(found.wanting.values())


@pytest.mark.parametrize("method", ["no sparge", "bag"])
def test_a_sparge_not_stated_was_none_where_there_is_none(method: str) -> None:
    found = figures(GRIST + MASH + f"lauter: {{method: {method}}}")
    assert (found["sparge_liquor"].value, found["sparge_liquor"].sd) == (0.0, 0.0)
    assert found["total_liquor"].value == found["mash_liquor"].value


@pytest.mark.parametrize("lauter", ["lauter: {method: batch sparge}", "lauter: {method: fly sparge}", "lauter: {}", ""])
def test_a_sparge_not_stated_is_wanting_otherwise(lauter: str) -> None:
    found = figures(GRIST + MASH + lauter)
    assert found.wanting["sparge_liquor"] == ("lauter.liquor",)
    assert found.wanting["total_liquor"] == ("lauter.liquor",)
    assert "conversion_efficiency" in found.results, "the first wort is read before any sparge"


def test_a_stated_sparge_counts_whatever_the_method() -> None:
    assert figures("lauter: {method: bag, liquor: 3 L}")["sparge_liquor"].value == 3.0
    assert figures("lauter: {method: fly sparge, liquor: 0 L}")["sparge_liquor"].value == 0.0


def test_without_a_knockout_reading_the_transfer_is_from_the_full_kettle(brewery: Brewery) -> None:
    fields = GRIST + boil(BEFORE, "additions: [{addition: sucrose, weight: 200 g}]") + FERMENTER
    found = figures(fields, brewery)
    kettle = found["kettle_extract"].value + 0.200
    assert found["transfer_efficiency"].value == pytest.approx(found["fermenter_extract"].value / kettle, rel=1e-12)
    efficiency = found["fermenter_extract"].value - 0.200 * found["transfer_efficiency"].value
    assert found["brewhouse_efficiency"].value == pytest.approx(
        efficiency / found["potential_extract"].value, rel=1e-12
    )


def test_a_knockout_reading_comes_before_the_full_kettle() -> None:
    found = figures(boil(BEFORE, AFTER) + FERMENTER)
    assert found["transfer_efficiency"].value == pytest.approx(
        found["fermenter_extract"].value / found["knockout_extract"].value, rel=1e-12
    )


def test_a_knockout_reading_will_do_though_a_sugar_is_unknown() -> None:
    found = figures(GRIST + boil(AFTER, "additions: [{addition: mystery, weight: 200 g}]") + FERMENTER)
    assert "transfer_efficiency" in found.results
    assert found.wanting["brewhouse_yield"] == ("boil.additions[0].extract",)


def test_without_any_kettle_reading_a_sugar_is_taken_to_arrive_whole() -> None:
    found = figures(GRIST + boil("additions: [{addition: sucrose, weight: 200 g}]") + FERMENTER)
    assert found.wanting["transfer_efficiency"] == ("boil.after.volume", "boil.after.gravity")
    assert found["brewhouse_efficiency"].value == pytest.approx(
        (found["fermenter_extract"].value - 0.200) / found["potential_extract"].value, rel=1e-12
    )


@pytest.mark.parametrize("kettle", [boil(BEFORE, "{}"), boil("{}")])
def test_an_unknown_sugar_in_the_kettle_makes_what_needs_it_absent(kettle: str) -> None:
    fields = GRIST + kettle.replace("{}", "additions: [{addition: mystery, weight: 200 g}]") + FERMENTER
    found = figures(fields)
    for name in ("added_extract", "brewhouse_efficiency"):
        assert "boil.additions[0].extract" in found.wanting[name]
    assert "transfer_efficiency" in found.wanting
    assert "fermenter_extract" in found.results


def test_an_unknown_sugar_in_the_fermenter_makes_what_needs_it_absent() -> None:
    fields = GRIST + boil(BEFORE, AFTER) + FERMENTER.replace("}", ", additions: [{addition: mystery, weight: 1 kg}]}")
    found = figures(fields)
    for name in ("added_extract", "transfer_efficiency", "brewhouse_efficiency"):
        assert found.wanting[name] == ("fermenter.additions[0].extract",)
    assert {"mash_efficiency", "brewhouse_yield", "fermenter_extract"} <= set(found.results)


def test_a_sugar_of_unknown_weight() -> None:
    found = figures(boil(BEFORE, AFTER, "time: 60 min", "additions: [{addition: sucrose}]"))
    assert found.wanting["added_extract"] == ("boil.additions[0].weight",)
    assert found.wanting["boil_off"] == ("boil.additions[0].weight",)


@pytest.mark.parametrize(
    ("grain", "lost", "path"),
    [
        ("{malt: x, weight: 1 kg, extract: 80 %}", "potential_extract dissolved_extract", "grains[1].moisture"),
        ("{malt: x, weight: 1 kg, extract_as_is: 77 %}", "dissolved_extract", "grains[1].moisture"),
        ("{malt: x, weight: 1 kg, extract_as_is: 77 %}", "diastatic_power", "grains[1].diastatic_power"),
        ("{malt: x, weight: 1 kg, extract_as_is: 77 %}", "colour", "grains[1].colour"),
    ],
)
def test_a_malt_known_in_part(grain: str, lost: str, path: str) -> None:
    found = figures(GRIST.replace("]", f", {grain}]") + MASH + boil(AFTER))
    for name in lost.split():
        assert found.wanting[name] == (path,)
    assert "grain_weight" in found.results
    if "as_is" in grain:
        assert "potential_extract" in found.results


def test_colour_takes_the_fermenter_where_the_kettle_was_not_read() -> None:
    kettle = figures(GRIST + boil(AFTER) + FERMENTER)["colour"].value
    fermenter = figures(GRIST + FERMENTER)["colour"].value
    # Morey's exponent (D. A. Morey 1995): the colour goes with the volume to the power of -0.6859
    assert fermenter / kettle == pytest.approx((22 / 20) ** 0.6859, rel=1e-9)
    assert figures(GRIST).wanting["colour"] == ("boil.after.volume",)


def test_dead_space_is_the_brewhouse_s_to_state(brewery: Brewery) -> None:
    assert "absorption" in figures(WHOLE, brewery).results
    for name in ("absorption", "wort_held"):
        wanting = figures(WHOLE).wanting[name]
        assert len(wanting) == 1
        assert "dead_space" in wanting[0]


def test_a_refractometer_reads_beer_only_beside_the_wort_pitched() -> None:
    beer = "readings: [{at: 2026-04-24 20:00, gravity: 6 °Bx}]"
    assert figures(beer).wanting["final_gravity"] == ("fermenter.gravity",)
    assert figures(beer).wanting["alcohol_by_volume"] == ("fermenter.gravity",)
    assert "final_gravity" in figures(FERMENTER + beer).results


@pytest.mark.parametrize(
    ("readings", "last"),
    [
        ("readings: [{at: 2026-04-20, gravity: 1.012}, {at: 2026-04-13, gravity: 1.022}]", 1.012),
        ("readings: [{at: 2026-04-20, gravity: 1.012}, {at: 2026-04-21, temperature: 19 degC}]", 1.012),
        ("readings: [{at: 2026-04-20, gravity: 1.012}]\npackage: {on: 2026-04-20, gravity: 1.011}", 1.011),
        ("readings: [{at: 2026-04-20, gravity: 1.012}]\npackage: {gravity: 1.011}", 1.011),
        ("readings: [{at: 2026-04-20, gravity: 1.012}]\npackage: {on: 2026-04-15, gravity: 1.011}", 1.012),
        ("package: {on: 2026-04-27, gravity: 1.011}", 1.011),
    ],
)
def test_the_final_gravity_is_the_last_by_time(readings: str, last: float) -> None:
    assert figures(readings)["final_gravity"].value == last


@pytest.mark.parametrize(
    "fields",
    [
        # a hydrometer in water; a wort weaker than water; a grist of hulls; a beer stronger than its wort
        "fermenter: {volume: 20 L, gravity: 1.000}\nreadings: [{at: 2026-04-24 20:00, gravity: 1.030}]",
        "fermenter: {volume: 20 L, gravity: 0.980}\nreadings: [{at: 2026-04-24 20:00, gravity: 0.980}]",
        "grains: [{malt: hulls, weight: 4 kg}]\n" + MASH + boil(BEFORE, AFTER),
        "mash: {liquor: 1 L, first_wort: 60 °P}\n" + GRIST + boil(BEFORE, AFTER),
        "fermenter: {volume: 20 L, gravity: 59 °Bx}\nreadings: [{at: 2026-04-24 20:00, gravity: -2 °Bx}]",
    ],
)
def test_readings_that_make_no_sense_never_raise(fields: str) -> None:
    found = figures(fields)
    assert all(result.value == result.value for result in found.results.values())  # not a NaN
