"""The catalogue: every figure is one function, named, explained and sourced, of figures and readings that exist."""

import re
from dataclasses import replace

import pytest
from texts import batch_of

from journal.figures import CATALOGUE, figure
from journal.figures import observe as module
from journal.figures.as_read import Observed
from journal.figures.catalogue import refuse_unknown
from journal.figures.observe import READINGS, Called, Observer, observe, observes
from journal.measures.wording import UNITS, US, show
from journal.reading import Brewery, Malts


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_formula_names_its_parameters_and_no_others(name: str) -> None:
    entry = CATALOGUE[name]
    named = set(re.findall(r"{(\w+)}", entry.formula))
    assert named <= set(entry.parameters)
    assert set(entry.needs) <= named | {"original_extract"}, "what a figure needs, its formula shows"


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_figure_says_what_it_is_in_which_unit_and_where_from(name: str) -> None:
    entry = CATALOGUE[name]
    assert re.fullmatch(r"[a-z]+(_([a-z]+|[0-9]+))*", name)
    assert entry.meaning.endswith(".")
    assert "!" not in entry.meaning
    assert entry.source
    assert entry.group
    assert entry.parameters


def test_no_figure_needs_itself() -> None:
    def reaches(name: str, path: tuple[str, ...] = ()) -> None:
        assert name not in path, path
        for parameter in CATALOGUE[name].parameters:
            if parameter in CATALOGUE:
                reaches(parameter, (*path, name))

    for name in CATALOGUE:
        reaches(name)


def test_every_unit_is_shown_in_us_units_too() -> None:
    for unit in UNITS:
        assert show(10.0, 0.5, unit).value
        assert show(10.0, 0.5, unit, US).value


def test_a_formula_that_names_what_it_does_not_take_is_refused() -> None:
    def nonsense(grain_weight: float) -> float:
        return grain_weight

    with pytest.raises(ValueError, match="kettle_volume"):
        figure(unit="kg", group="x", formula="{grain_weight} / {kettle_volume}", source="x")(nonsense)
    assert "nonsense" not in CATALOGUE


def test_a_name_is_given_once() -> None:
    def grain_weight(grain_weights: float) -> float:
        return grain_weights

    with pytest.raises(ValueError, match="grain_weight"):
        figure(unit="kg", group="x", formula="{grain_weights}", source="x")(grain_weight)


def test_a_unit_that_nothing_can_show_is_refused() -> None:
    def nonsense(grain_weight: float) -> float:
        return grain_weight

    with pytest.raises(ValueError, match="nonsense is kept in 'stone'"):
        figure(unit="stone", group="x", formula="{grain_weight}", source="x")(nonsense)
    assert "nonsense" not in CATALOGUE


def test_what_is_neither_a_figure_nor_a_reading_is_refused_by_name(monkeypatch: pytest.MonkeyPatch) -> None:
    misspelt = replace(CATALOGUE["grain_weight"], name="nonsense", needs=("grain_wieghts",))
    monkeypatch.setitem(CATALOGUE, "nonsense", misspelt)
    with pytest.raises(ValueError, match=r"nonsense takes grain_wieghts, .* Did you mean grain_weights\?"):
        refuse_unknown(READINGS)


def test_a_figure_with_the_name_of_a_reading_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """One name means one thing, or a formula could take a reading where it shows a figure."""
    monkeypatch.setitem(CATALOGUE, "mill_gap", replace(CATALOGUE["grain_weight"], name="mill_gap"))
    with pytest.raises(ValueError, match="mill_gap is a reading"):
        refuse_unknown(READINGS)


def test_a_reading_is_observed_once() -> None:
    with pytest.raises(ValueError, match="mill_gap, which is observed already"):
        observes(mill_gap=Called("the gap"))(lambda o: {"mill_gap": Observed(1.0)})


@pytest.fixture
def own_readings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("READINGS", "_OBSERVED_BY"):
        monkeypatch.setattr(module, name, dict(getattr(module, name)))


@pytest.mark.usefixtures("own_readings")
def test_a_reading_that_is_named_and_not_observed_is_refused_by_name() -> None:
    observes(rakes=Called("turns of the rakes"), rake_time=Called("time of the rakes"))(
        lambda o: {"rake_time": Observed(1.0)}
    )
    with pytest.raises(ValueError, match=r": rakes$"):
        observe(batch_of(""), Brewery(), Malts())["rake_time"]


@pytest.mark.usefixtures("own_readings")
def test_a_reading_that_is_observed_and_not_named_is_refused_by_name() -> None:
    observes(rakes=Called("turns of the rakes"))(lambda o: {"rakes": Observed(1.0), "rake_time": Observed(1.0)})
    with pytest.raises(ValueError, match=r": rake_time$"):
        observe(batch_of(""), Brewery(), Malts())["rakes"]


def test_a_reading_is_observed_when_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    reading = Observer.reading
    monkeypatch.setattr(Observer, "reading", lambda o, of: (asked.append(of.path), reading(o, of))[1])
    found = observe(batch_of(""), Brewery(), Malts())
    assert (found["mill_gap"].wanting, found["mill_gap"].wanting) == (("crush",), ("crush",))
    assert asked == ["crush"]
    assert found.with_these({"mill_gap": Observed(1.0)})["mill_gap"].value == 1.0
