"""A brew held against itself with something otherwise: by mass balance on paper, and against brewing it again in a simulator."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from balance.simulated_brewery import (
    Habits,
    Recipe,
    Weather,
    boiled,
    entry,
    mash_and_run_off,
    readings,
)
from handbook import gravity
from history.rinsing_brewery import Doing
from history.rinsing_brewery import brewed as into_fermenter
from history.told import Told, tell_of, with_fields

from journal.history.levers import LeverResult
from journal.history.what_if import VESSEL_FIELDS, BrewedDay, VesselChange, WhatIf, what_if
from journal.history.what_if.by_record import changed_factors
from journal.reading.otherwise import CantBe, Otherwise, assignment, read_otherwise, read_vessel

HABITS = Habits(conversion=0.93, boil_off=3.0, kettle_loss=1.5)
LUCK = Weather(0.93, 1.3, 0.015, 3.0, 1.5)
RECIPE = Recipe(5.0, 15.0, 14.0)


def brewed(
    recipe: Recipe = RECIPE, luck: Weather = LUCK, habits: Habits = HABITS, minutes: float = 60.0
) -> dict[str, float]:
    """What a perfectly read batch of a recipe shows, with its brewhouse efficiency."""
    brewing = mash_and_run_off(recipe, habits, 0.0, luck)
    knockout = boiled(brewing.kettle, luck, minutes)
    shown = readings(brewing, knockout)
    into = brewing.kettle.extract / brewing.potential * shown["fermenter.volume"] / knockout.volume
    return shown | {"brewhouse_efficiency": into, "original_gravity": gravity(knockout.strength)}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """Six batches alike, without a doubt in any reading."""
    texts = [with_fields(entry(number, brewed(), HABITS), "crush: 1.2 mm") for number in range(1, 7)]
    return tell_of(tmp_path_factory.mktemp("what_if"), texts)


def asked(told: Told, *changes: str, results: dict[str, list[LeverResult]] | None = None) -> WhatIf | CantBe:
    batch = told.journal.batches[-1]
    wanted = [assignment(text) for text in changes]
    written = [each for each in wanted if isinstance(each, Otherwise)]
    of_entry = [each for each in written if not each.path.startswith("brewhouse.")]
    read = read_otherwise(batch, of_entry, "")
    if isinstance(read, CantBe):
        return read
    vessels = []
    for each in written:
        if each not in of_entry:
            found = read_vessel(each, VESSEL_FIELDS, "")
            assert not isinstance(found, CantBe)
            vessels.append(VesselChange(each, *found))
    day = BrewedDay(batch, told.figures[batch.id], told.balances[batch.id], told.journal, results or {})
    return what_if(day, list(zip(of_entry, read, strict=True)), vessels)


@pytest.mark.parametrize(
    ("changes", "again"),
    [
        (["lauter.liquor=+2 L"], brewed(replace(RECIPE, sparge_liquor=16.0))),
        (["mash.liquor=17 L", "lauter.liquor=-2 L"], brewed(Recipe(5.0, 17.0, 12.0))),
        (["grains[0].weight=6 kg"], brewed(replace(RECIPE, grain=6.0))),
        (["boil.time=+30 min"], brewed(minutes=90.0)),
        (["brewhouse.kettle.loss=-0.5 L"], brewed(luck=replace(LUCK, kettle_loss=1.0))),
        (["brewhouse.absorption=-0.2 L/kg"], brewed(luck=replace(LUCK, water_held=1.1))),
        (["brewhouse.boil_off=+1 L/h"], brewed(luck=replace(LUCK, boil_off=4.0))),
    ],
)
def test_it_is_what_brewing_it_again_gives(told: Told, changes: list[str], again: dict[str, float]):
    found = asked(told, *changes)
    assert isinstance(found, WhatIf)
    was = brewed()
    by_figure = {outcome.figure: outcome for outcome in found.outcomes}
    for figure, key, near in (
        ("brewhouse_efficiency", "brewhouse_efficiency", 0.002),
        ("original_gravity", "original_gravity", 0.0003),
        ("fermenter_volume", "fermenter.volume", 0.05),
    ):
        assert by_figure[figure].difference == pytest.approx(again[key] - was[key], abs=near)
        assert by_figure[figure].low - 1e-9 <= by_figure[figure].difference <= by_figure[figure].high + 1e-9
    assert set(by_figure["brewhouse_efficiency"].rests_on) <= {"model", "not known from your record"}
    grain = (
        again["grain"] * was["brewhouse_efficiency"] * was["grain"] / (again["brewhouse_efficiency"] * again["grain"])
    )
    assert found.malt.after == pytest.approx(grain, abs=0.02)


def test_sparge_in_two_fillings_rinses_twice(told: Told):
    """The same 14 L in two, each drained before the next, as a stirred bed has it."""
    found = asked(told, "lauter.liquor=[7 L, 7 L]")
    assert isinstance(found, WhatIf)
    once, twice = (
        into_fermenter(Doing(RECIPE, LUCK, HABITS.dead_space, fillings), HABITS, 0.0)[1] for fillings in (1, 2)
    )
    (efficiency,) = (outcome for outcome in found.outcomes if outcome.figure == "brewhouse_efficiency")
    assert efficiency.difference == pytest.approx(twice[-1] - once[-1], abs=0.001)
    assert efficiency.difference > 0.02


CRUSH = LeverResult(
    "crush",
    "slope",
    "1/mm",
    30,
    "clear",
    lowest=1.0,
    highest=1.3,
    effect=-0.2,
    low=-0.25,
    high=-0.15,
    judged_low=-0.3,
    judged_high=-0.1,
)


class TestFactors:
    def test_a_clear_factor_does_what_the_record_says(self, told: Told):
        """A tenth of a millimetre at -0.2 per mm: 2 points of conversion, 1 to 3 by the interval that the verdict goes by."""
        found = asked(told, "crush=1.1 mm", results={"conversion_efficiency": [CRUSH]})
        assert isinstance(found, WhatIf)
        by_figure = {outcome.figure: outcome for outcome in found.outcomes}
        conversion = by_figure["conversion_efficiency"]
        ends = (conversion.difference, conversion.low, conversion.high)
        assert ends == (pytest.approx(0.02, abs=5e-5), pytest.approx(0.01, abs=5e-5), pytest.approx(0.03, abs=5e-5))
        assert conversion.rests_on == ("record",)
        # what is dissolved more arrives as what was dissolved before did
        carried = by_figure["brewhouse_efficiency"].before / conversion.before
        assert by_figure["brewhouse_efficiency"].difference == pytest.approx(0.02 * carried, abs=1e-3)
        assert found.known

    def test_less_is_promised_than_was_found_and_the_interval_is_the_verdicts(self, told: Told):
        found = asked(told, "crush=1.1 mm", results={"conversion_efficiency": [replace(CRUSH, sd=0.1)]})
        assert isinstance(found, WhatIf)
        (conversion,) = (outcome for outcome in found.outcomes if outcome.figure == "conversion_efficiency")
        ends = (conversion.difference, conversion.low, conversion.high)
        assert ends == tuple(pytest.approx(each, abs=5e-5) for each in (0.015, 0.01, 0.03))

    @pytest.mark.parametrize(
        ("change", "result", "why"),
        [
            ("crush=0.8 mm", CRUSH, "you tried 1.00 to 1.30 mm, and nothing beyond"),
            ("crush=1.1 mm", replace(CRUSH, verdict="not clear"), "30 batches can’t tell yet"),
            ("crush=1.1 mm", None, "your record says nothing of it yet"),
        ],
    )
    def test_what_the_record_does_not_say_is_not_said(
        self, told: Told, change: str, result: LeverResult | None, why: str
    ):
        found = asked(told, change, results={"conversion_efficiency": [result] if result else []})
        assert isinstance(found, WhatIf)
        ((_, basis, reason),) = found.changes[0].rests_on
        assert (basis, reason) == ("not known from your record", why)
        assert not found.known
        assert all(outcome.difference == pytest.approx(0.0) for outcome in found.outcomes)

    def test_words_go_both_ways(self):
        stirred = LeverResult(
            "mixing", "groups", "1", 20, "clear", "stirred", "none", effect=0.02, judged_low=0.01, judged_high=0.03
        )
        (back,) = changed_factors(
            {"mixing": "stirred"}, {"mixing": "none"}, {"conversion_efficiency": [stirred]}, "metric"
        )
        assert [(each.effect, each.low, each.high) for each in back.effects] == [(-0.02, -0.03, -0.01)]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("lauter.liqour=3 L", "an entry has no field lauter.liqour. Did you mean lauter.liquor?"),
        ("crush=1 kg", "crush=1 kg can't be. `crush`: “kg” is a unit of weight, and this must be a length. "),
        ("lauter.liquor=+2 min", "lauter.liquor: “min” is a unit of time, and this must be a volume. "),
        ("lauter.liquor=-20 L", "lauter.liquor: there are only 14.00 L to take 20 L from."),
        ("grains[4].weight=1 kg", "grains[4].weight: there is 1 line here, and the first is [0]."),
        (
            "mash.liquor=2 L",
            "no wort would run off: there are 2.2 L of water in the mash, and the grain and the dead space keep ",
        ),
        ("boil.time=20 h", "no wort would be left: the boil drives off more than runs into the kettle."),
        ("title=Other", "title=Other makes no other wort: "),
        (
            "lauter.method=centrifuge",
            "lauter.method=centrifuge can't be. `lauter.method` can't be “centrifuge”. Write one of: ",
        ),
    ],
)
def test_what_can_not_be_is_said_in_a_line(told: Told, change: str, said: str):
    found = asked(told, change)
    assert isinstance(found, CantBe)
    assert found.why.startswith(said)
    assert "\n" not in found.why


def test_a_temperature_is_added_to_by_its_steps(tmp_path: Path):
    """9 °F more are 5 °C more, wherever the scale begins."""
    told = tell_of(
        tmp_path,
        [entry(1, brewed(), HABITS).replace("mash: {", "mash: {rests: [{temperature: 60 degC, time: 60 min}], ")],
    )
    (batch,) = read_otherwise(told.journal.batches[0], [Otherwise("mash.rests[0].temperature", "+9 degF")], "")  # type: ignore[misc]
    assert batch.mash.rests[0].temperature is not None
    assert batch.mash.rests[0].temperature.value == pytest.approx(65.0)
