"""Values that can't be true are shown and warned of, at a reading; one cause is said once, and luck is no cause."""

from pathlib import Path

import pytest
from texts import batch_of, settings_at

from journal.figures import figures_of
from journal.figures.impossible import find_impossible
from journal.problems import Problem, Severity
from journal.reading import Brewery, Malts

GRIST = "grains: [{malt: pale malt, weight: 4 kg}]\n"
MASH = "mash: {liquor: 13 L, first_wort: 1.074}\nlauter: {method: fly sparge, liquor: 15 L}\n"


def warnings(fields: str, brewery: Brewery | None = None) -> list[Problem]:
    batch, known = batch_of(fields), brewery or Brewery()
    found = find_impossible(batch, known, figures_of(batch, known, Malts()))
    assert all(problem.severity is Severity.WARNING for problem in found)
    assert all(problem.message and problem.hint for problem in found)
    return found


def places(fields: str, brewery: Brewery | None = None) -> list[tuple[str, str]]:
    return [(problem.code, problem.path) for problem in warnings(fields, brewery)]


def test_a_sound_brew_raises_nothing() -> None:
    fields = GRIST + MASH
    fields += "boil: {before: {volume: 24 L, gravity: 1.038}, after: {volume: 21 L, gravity: 1.043}, time: 60 min}\n"
    fields += "fermenter: {volume: 19.5 L, gravity: 1.043}\npackage: {volume: 18.5 L}\n"
    assert places(fields) == []
    assert places("") == []


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        (GRIST + "boil: {before: {volume: 27 L, gravity: 1.060}}", "mash efficiency"),
        (GRIST + "fermenter: {volume: 27 L, gravity: 1.060}", "brewhouse efficiency"),
        (GRIST + "mash: {liquor: 13 L, first_wort: 1.110}", "conversion efficiency"),
        (GRIST + MASH + "boil: {before: {volume: 26 L, gravity: 1.060}}", "efficiency"),
        (
            "boil: {after: {volume: 21 L, gravity: 1.040}}\nfermenter: {volume: 20 L, gravity: 1.050}",
            "transfer efficiency",
        ),
    ],
)
def test_an_efficiency_above_one(fields: str, message: str) -> None:
    found = warnings(fields)
    assert [problem.code for problem in found] == ["reading-impossible"]
    assert message in found[0].message
    assert found[0].path


def test_an_efficiency_a_little_above_one_is_luck() -> None:
    """Within two standard uncertainties of 1 nothing is said: 4 kg of pale malt, a yield of about 1.06 ± 0.04."""
    fields = GRIST + "boil: {before: {volume: 27 L, gravity: 1.0472}}"
    batch = batch_of(fields)
    result = figures_of(batch, Brewery(), Malts())["mash_efficiency"]
    assert 1.0 + 1.2 * result.sd < result.value < 1.0 + 1.9 * result.sd
    assert places(fields) == []


def test_a_volume_that_grew_a_little_is_luck() -> None:
    """20 and 20.9 L, each good to 2 % (common practice), differ by 1.6 standard uncertainties of their difference."""
    assert places("boil: {before: {volume: 20 L}, after: {volume: 20.9 L}}") == []
    assert places("boil: {before: {volume: 20 L}, after: {volume: 21.5 L}}") == [
        ("volume-impossible", "boil.after.volume")
    ]


def test_extract_that_grows_in_the_boil() -> None:
    fields = "boil: {before: {volume: 24 L, gravity: 1.038}, after: {volume: 22 L, gravity: 1.050}, time: 60 min}"
    assert [code for code, _ in places(fields)] == ["reading-impossible"]
    # a reading that its brewer has struck out accuses nobody; one that has no part in it changes nothing
    assert places(f"{fields}\ntrust: {{boil.after.gravity: no}}") == []
    assert places(f"{fields}\nmash: {{ph: 5.4}}\ntrust: {{mash.ph: no}}") != []
    sweetened = fields.replace("time: 60 min", "additions: [{addition: sucrose, weight: 500 g}]")
    assert places(sweetened) == []


@pytest.mark.parametrize(
    ("fields", "path"),
    [
        ("boil: {before: {volume: 20 L}, after: {volume: 24 L}}", "boil.after.volume"),
        ("boil: {before: {volume: 20 L}, after: {volume: 7 L}}", "boil.after.volume"),
        ("boil: {after: {volume: 20 L}}\nfermenter: {volume: 23 L}", "fermenter.volume"),
        (MASH + "boil: {before: {volume: 31 L}}", "boil.before.volume"),
        ("fermenter: {volume: 20 L}\npackage: {volume: 23 L}", "package.volume"),
    ],
)
def test_a_volume_that_grows_or_vanishes(fields: str, path: str) -> None:
    assert places(fields) == [("volume-impossible", path)]


@pytest.mark.parametrize(
    "fields",
    [
        "boil: {before: {volume: 20 L}, after: {volume: 24 L}, top_up: 5 L}",
        "boil: {after: {volume: 20 L}}\nfermenter: {volume: 23 L, top_up: 3.5 L}",
        # 22 L hot are 21.2 L cold
        "boil: {before: {volume: 21 L}, after: {volume: 22 L at 95 degC}}",
    ],
)
def test_a_volume_that_grew_for_a_reason(fields: str) -> None:
    assert places(fields) == []


def test_a_vessel_fuller_than_it_is(tmp_path: Path) -> None:
    text = "brewhouses: {shed: {mash_tun: {volume: 20 L}, kettle: {volume: 30 L}}}"
    shed = settings_at(tmp_path, text)[0]
    assert places("boil: {before: {volume: 33 L}}", shed) == [("volume-impossible", "boil.before.volume")]
    assert places("boil: {before: {volume: 29 L}}", shed) == []
    # common practice: grain takes up about 0.67 L/kg in the tun
    assert places(GRIST + "mash: {liquor: 19 L}", shed) == [("volume-impossible", "mash.liquor")]
    assert places(GRIST + "mash: {liquor: 16 L}", shed) == []


def test_a_fermenter_fuller_than_it_is_read_or_planned(tmp_path: Path) -> None:
    brewery, _ = settings_at(tmp_path, "fermenters: {glass: {volume: 12 L}}")
    read = places("fermenter: {vessel: glass, volume: 14 L, gravity: 1.045}", brewery)
    assert read == [("volume-impossible", "fermenter.volume")]
    planned = places("target: {gravity: 1.045, volume: 14 L}\nfermenter: {vessel: glass}", brewery)
    assert planned == [("volume-impossible", "target.volume")]
    assert places("fermenter: {vessel: glass, volume: 11.5 L, gravity: 1.045}", brewery) == []


def test_a_depth_is_held_against_the_kettle_as_litres(tmp_path: Path) -> None:
    """26 cm of this table are 8.4 + 16 × 0.72 = 19.92 L: too much for 15 L, and for 30 L nothing to tell of."""
    dip = "dip: [0 cm = 1.2 L, 10 cm = 8.4 L, 40 cm = 30.0 L]"
    for room, told in (("30 L", []), ("15 L", [("volume-impossible", "boil.before.volume")])):
        shed = settings_at(tmp_path, f"brewhouses: {{shed: {{kettle: {{volume: {room}, {dip}}}}}}}")[0]
        assert places("boil: {before: {volume: 26 cm at 68 degC, gravity: 1.044}}", shed) == told


def test_one_cause_is_said_once() -> None:
    """A kettle read in the wrong unit makes a volume and every efficiency after it impossible."""
    found = places(
        GRIST + MASH + "boil: {before: {volume: 40 L, gravity: 1.060}, after: {volume: 38 L, gravity: 1.062}}"
    )
    assert len(found) == 1
    assert found[0][0] == "volume-impossible"


def test_the_second_place_says_what_it_is_held_against() -> None:
    problem = warnings("boil: {before: {volume: 20 L}, after: {volume: 24 L}}")[0]
    assert problem.place is not None
    assert problem.expected_by is not None
    assert (problem.place.text, problem.expected_by.text) == ("24 L", "20 L")
