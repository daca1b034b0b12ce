"""What a closed bottle or keg would hold: each warning on both sides of its limit.

Gas by hand: a mol of sucrose (342.3 g) gives four of carbon dioxide (44.01 g), a volume is 1.977 g/L (44.01 g in 22.26 L, as
R. F. Weiss has it), and beer that fermented at 20 °C keeps 0.92 of what water holds, 1.56 g/L.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.figures import figures_of
from journal.figures.closed_package import MOST_IN_BOTTLES, MOST_IN_HEAVY_BOTTLES, ExpectedEnd, check_closed_package
from journal.problems import Problem, Severity, Source
from journal.reading import Brewery, Malts
from journal.reading.collect import read_entry

VOLUME = 19.0
LEVEL = "readings: [{at: 2026-01-10 20:00, gravity: 1.010}, {at: 2026-01-14 20:00, gravity: 1.010}]\n"
ENTRY = """---
batch: 1
title: Closed
brewed: 2026-01-01
fermenter: {{volume: 20 L, gravity: 1.048, pitched: 2026-01-01 18:00}}
{readings}package: {{on: 2026-01-15, volume: 19 L, gravity: {gravity}, {package}}}
---
"""


def grams_for(volumes: float, residual: float = 1.56) -> float:
    """Sucrose for so many volumes in 19 L, by hand."""
    return (volumes * 1.977 - residual) * VOLUME / (4 * 44.01 / 342.3)


def problems(
    package: str, readings: str = LEVEL, gravity: str = "1.010", end: ExpectedEnd | None = None
) -> list[Problem]:
    text = ENTRY.format(package=package, readings=readings, gravity=gravity)
    batch, wrong = read_entry(Source("entries/1.md", text))
    assert batch is not None
    assert not wrong
    found = list(check_closed_package(batch, Brewery(), figures_of(batch, Brewery(), Malts()), end))
    assert all(problem.severity is Severity.WARNING for problem in found)
    return found


def codes(*arguments: str, **named: object) -> list[str]:
    return [problem.code for problem in problems(*arguments, **named)]  # type: ignore[arg-type]


def primed(grams: float, container: str, more: str = "warmest: 20 degC") -> str:
    return f"container: {container}, priming: {{addition: sucrose, weight: {grams:.1f} g}}, {more}"


@pytest.mark.parametrize(
    ("container", "most"), [("bottles", MOST_IN_BOTTLES), ("heavy bottles", MOST_IN_HEAVY_BOTTLES)]
)
def test_more_gas_than_a_bottle_bears_is_told_just_above_the_limit_and_not_below(container: str, most: float) -> None:
    assert codes(primed(grams_for(most + 0.05), container)) == ["carbonation-beyond-bottle"]
    assert codes(primed(grams_for(most - 0.05), container)) == []


def test_six_hundred_grams_in_nineteen_litres_are_told_whatever_else_is_missing() -> None:
    """600 g give 600 · 0.514 / 19 = 16.2 g/L, 8.2 volumes, before what the beer held."""
    (problem,) = problems(primed(600, "bottles", "top_up: 0 L"))
    assert problem.code == "carbonation-beyond-bottle"
    assert "8.2 volumes by itself" in problem.message
    assert "keep them cold" in problem.hint
    assert codes("priming: {addition: table sugar, weight: 600 g}") == ["carbonation-beyond-bottle"]


def test_a_keg_holds_what_no_bottle_does() -> None:
    assert codes(primed(grams_for(4.5), "keg")) == []


def test_carbonation_wanted_that_no_bottle_should_hold_is_told() -> None:
    assert codes("container: bottles, carbonation: 3.6 volumes") == ["carbonation-beyond-bottle"]
    assert codes("container: heavy bottles, carbonation: 3.6 volumes") == []
    assert codes("container: heavy bottles, carbonation: 7 volumes") == ["carbonation-beyond-bottle"]
    assert codes("container: keg, carbonation: 4.5 volumes") == []


def test_more_than_was_asked_for_is_told_beyond_its_uncertainty() -> None:
    """The beer's own gas is known to a tenth, 0.16 g/L or 0.08 volumes, and that is most of the doubt."""
    wanted = "warmest: 20 degC, carbonation: 2.4 volumes"
    assert codes(primed(grams_for(2.40), "bottles", wanted)) == []
    assert codes(primed(grams_for(2.60), "bottles", wanted)) == ["carbonation-above-wanted"]


def test_a_sugar_that_cannot_be_calculated_is_told_instead_of_nothing() -> None:
    (problem,) = problems("container: bottles, priming: {addition: treacle, weight: 150 g}")
    assert problem.code == "priming-uncomputed"
    assert "sucrose" in problem.hint
    (problem,) = problems("container: bottles, priming: {addition: lactose, weight: 150 g}")
    assert "brewer’s yeast ferments next to nothing" in problem.message


def test_honey_by_hand_with_what_honeys_differ_by() -> None:
    """150 g in 20 L: 0.796 of it simple sugars, 0.4886 g of gas to the gram, so 2.92 g/L, 4 % of which is 0.12 g/L."""
    fields = "container: bottles, on: 2026-01-20, volume: 20 L, warmest: 20 degC, priming: {addition: set honey, weight: 150 g}"
    batch, _ = read_entry(
        Source("entries/1.md", f"---\nbatch: 1\ntitle: One\nbrewed: 2026-01-01\npackage: {{{fields}}}\n---\n")
    )
    assert batch is not None
    found = figures_of(batch, Brewery(), Malts())
    brought = found["carbonation"].value - found["residual_carbonation"].value
    assert brought == pytest.approx(2.917, abs=0.005)
    doubt = {source.path: sd for source, sd in found["carbonation"].parts}
    assert doubt["kinds.honey.fermentable_share"] == pytest.approx(0.117, abs=0.001)


def test_bottled_while_the_gravity_falls_or_before_three_days_are_told() -> None:
    falling = "readings: [{at: 2026-01-10 20:00, gravity: 1.016}, {at: 2026-01-14 20:00, gravity: 1.010}]\n"
    short = "readings: [{at: 2026-01-13 20:00, gravity: 1.010}, {at: 2026-01-14 20:00, gravity: 1.010}]\n"
    late = "gravity: 1.010"
    assert codes("container: bottles", falling) == ["packaged-unready"]
    assert codes("container: bottles", short, late.removeprefix("gravity: ")) == ["packaged-unready"]
    assert codes("container: bottles") == []
    assert codes("container: cask", falling) == []


def test_a_beer_far_above_its_expected_end_is_told_although_it_is_level() -> None:
    """1.048 to 1.010 is 79 % apparent."""
    (problem,) = problems("container: bottles", end=ExpectedEnd(0.88, 0.84))
    assert problem.code == "packaged-unready"
    assert "looks level too" in problem.message
    assert codes("container: bottles", end=ExpectedEnd(0.80, 0.76)) == []


def test_a_keg_past_its_rating_in_a_warm_room_is_told() -> None:
    """3 volumes, 5.93 g/L, need 5.93 / (0.92 · 1.27 g/L at 30 °C) - 1.01 bar, about 4."""
    assert codes(primed(grams_for(3.0), "keg", "warmest: 20 degC, rated: 3 bar")) == ["pressure-over-rating"]
    assert codes(primed(grams_for(3.0), "keg", "warmest: 20 degC, rated: 5 bar")) == []


reached = {"told": 0, "quiet": 0}


@pytest.mark.long
@settings(max_examples=120, deadline=None)
@given(st.floats(0.5, 12.0), st.sampled_from(["bottles", "heavy bottles"]))
def test_no_bottle_is_filled_past_its_limit_in_silence(volumes: float, container: str) -> None:
    most = {"bottles": MOST_IN_BOTTLES, "heavy bottles": MOST_IN_HEAVY_BOTTLES}[container]
    grams = grams_for(volumes)
    if grams <= 1 or abs(volumes - most) < 0.03:
        return
    told = "carbonation-beyond-bottle" in codes(primed(grams, container))
    reached["told" if told else "quiet"] += 1
    assert told == (volumes > most)


@pytest.mark.long
def test_the_property_reached_both_sides() -> None:
    test_no_bottle_is_filled_past_its_limit_in_silence()
    assert min(reached.values()) >= 12
