"""The catalogue: every figure is one function, named, explained and sourced, of figures and readings that exist."""

import re

import pytest
from texts import batch_of

from journal.figures import CATALOGUE, figure
from journal.figures.observe import observe
from journal.measures.wording import US, show
from journal.reading import Brewery, Malts

UNITS = {
    "kg",
    "L",
    "L/kg",
    "L/h",
    "1",
    "SG",
    "°P",
    "pH",
    "min",
    "WK",
    "EBC",
    "IBU",
    "g/L",
    "°P/day",
    "days",
    "kcal/100 mL",
    "mm",
    "°C",
    "K",
    "K/h",
    "mg/L",
    "mg/L as CaCO3",
    "°dH",
    "°Lintner",
}


@pytest.fixture(scope="module")
def observed() -> set[str]:
    return set(observe(batch_of(""), Brewery(), Malts()))


@pytest.mark.parametrize("name", CATALOGUE)
def test_every_parameter_is_a_figure_or_a_reading(name: str, observed: set[str]) -> None:
    assert CATALOGUE[name].parameters
    assert set(CATALOGUE[name].parameters) <= observed | set(CATALOGUE)


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
    assert entry.unit in UNITS
    assert entry.source
    assert entry.group


def test_no_name_is_both_a_figure_and_a_reading(observed: set[str]) -> None:
    """One name means one thing, or a formula could take a reading where it shows a figure."""
    assert observed & set(CATALOGUE) == set()


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
