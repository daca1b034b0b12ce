"""What is told of what pays: factors by the record, the handbook's list, a year's malt, and a share of the simulated breweries."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import Habits
from history.pays_trials import A_POINT, PaysTrial, pays_trial
from history.rinsing_brewery import limit_house, some_bag, some_house
from history.test_pays import BREWED, FACTS
from history.told import exact_texts, tell_of
from texts import batch_of

from journal.balance.vessels import WATER
from journal.history.levers import LeverResult, Settling
from journal.history.moved.move import Move, PossibleCause
from journal.history.moved.record import MovedRecord
from journal.history.pays.account import HABITS
from journal.history.pays.alter import ModelChange
from journal.history.pays.doubts import doubted_causes, without_doubted
from journal.history.pays.gains import THICKNESS, FoundFactor, YearOfMalt, by_record, next_test, settle_thickness
from journal.history.pays.habitual import Habitual
from journal.history.pays.handbook import handbook_habits
from journal.history.pays.level import MeanHabits
from journal.history.pays.year import batches_a_year
from journal.history.settings import Setting
from journal.reading import Batch

YEAR = YearOfMalt(100.0, 2.0, 0.7)
CRUSH = LeverResult(
    "crush", "slope", "1/mm", 30, "clear", lowest=0.9, highest=1.4, effect=-0.2, judged_low=-0.3, judged_high=-0.1
)
TRIED: list[dict[str, Setting]] = [{"crush": gap} for gap in (0.9, 1.0, 1.0, 1.1, 1.2, 1.2, 1.2, 1.3, 1.4)]


@cache
def tried() -> tuple[list[PaysTrial], list[PaysTrial]]:
    """A seeded share of what `pays_trials.py` measures: breweries with a weakness, and some at their limit."""
    weak = [pays_trial(some_house, seed) for seed in (90_001, 90_002, 90_003)] + [pays_trial(some_bag, 90_004)]
    return weak, [pays_trial(limit_house, seed) for seed in (90_005, 90_006)]


@pytest.mark.long
class TestSimulated:
    def test_gains_by_the_model_are_what_brewing_again_gives(self):
        said = [each for trial in tried()[0] for each in trial.errors() if each.name != "crush"]
        assert len(said) > 15
        assert max(abs(each.error) for each in said) < 0.006
        assert abs(np.mean([each.error for each in said])) < 0.001
        assert np.mean([each.covers for each in said]) > 0.8

    def test_the_first_is_among_the_best_two(self):
        assert all(trial.top_is_right() for trial in tried()[0])

    def test_where_nothing_is_to_be_had_nothing_is_promised(self):
        for trial in tried()[1]:
            assert max(trial.gains.values()) < A_POINT
            assert not any(change.gain > A_POINT for change in trial.pays.changes)
            assert trial.pays.ending == "near the limit"
            assert trial.pays.handbook == ()


class TestRecord:
    def test_from_how_it_mostly_is_to_the_better_end_that_several_batches_had(self):
        """From 1.2 mm to 1.0, the third finest: 0.2 mm at -0.2 is 4 points, of which three quarters count; 2 to 6 by the verdict's
        interval.
        """
        (change,) = by_record([FoundFactor("conversion_efficiency", [CRUSH], 0.75)], TRIED[4:7], TRIED, YEAR, "metric")
        assert (change.now, change.setting) == (1.2, 1.0)
        assert (change.gain, change.low, change.high) == tuple(
            pytest.approx(0.75 * each) for each in (0.04, 0.02, 0.06)
        )
        # the same beer wants 70/73 of 100 kg
        assert change.kg_a_year == pytest.approx(100.0 * (1 - 70 / 73))
        assert change.money_a_year == pytest.approx(200.0 * (1 - 70 / 73))
        assert (change.at, change.basis) == ("crush", "record")

    def test_what_was_picked_for_being_clear_is_promised_less(self):
        """An effect of 0.2 with an error of 0.1 loses a quarter; one no larger than its error all of it."""
        assert replace(CRUSH, sd=0.1).likely_effect == pytest.approx(-0.15)
        assert replace(CRUSH, sd=0.3).likely_effect == 0.0
        (change,) = by_record(
            [FoundFactor("conversion_efficiency", [replace(CRUSH, sd=0.1)], 1.0)], TRIED[4:7], TRIED, YEAR, "metric"
        )
        assert (change.gain, change.low, change.high) == tuple(pytest.approx(each) for each in (0.03, 0.02, 0.06))

    @pytest.mark.parametrize("verdict", ["not clear", "too little variation"])
    def test_what_is_not_clear_promises_nothing(self, verdict: str):
        unclear = replace(CRUSH, verdict=verdict)  # type: ignore[arg-type]
        assert not list(by_record([FoundFactor("conversion_efficiency", [unclear], 1.0)], TRIED, TRIED, YEAR, "metric"))

    def test_what_is_set_well_already_is_left(self):
        latest: list[dict[str, Setting]] = [{"crush": 1.0}] * 5
        assert not list(by_record([FoundFactor("conversion_efficiency", [CRUSH], 1.0)], latest, TRIED, YEAR, "metric"))

    def test_a_step_that_the_latest_batches_have_taken_is_not_offered_again(self):
        """Sixteen of twenty at 1.3 mm, so that they mostly are, and the last four at 1.0."""
        factors = [FoundFactor("conversion_efficiency", [CRUSH], 1.0)]
        before: list[dict[str, Setting]] = [{"crush": 1.3}] * 16
        taken: list[dict[str, Setting]] = [{"crush": 1.0}] * 4
        assert not list(by_record(factors, before + taken, TRIED, YEAR, "metric"))
        assert list(by_record(factors, before + taken[:3], TRIED, YEAR, "metric")), "three in a row may be chance"
        assert list(by_record(factors, taken + before, TRIED, YEAR, "metric")), "given up again"

    @pytest.mark.long
    def test_the_mash_has_one_best_thickness(self):
        """The record is clear that thicker mashes dissolve more: the run-off's loss by it is taken off, and no thinner one is told of
        beside it.
        """
        weak = tried()[0][0].pays
        brewing = ({**BREWED, "sparge_liquor": 12.0 / WATER}, FACTS)
        habits = MeanHabits(np.array([BREWED[name] for name in HABITS]), np.zeros((6, 6)), np.zeros((0, 6)), 20.0)
        habitual = Habitual((brewing,), habits)
        thick = LeverResult(THICKNESS, "slope", "kg/L", 20, "clear", effect=-0.04, judged_low=-0.06, judged_high=-0.02)
        recorded = replace(
            next(
                iter(by_record([FoundFactor("conversion_efficiency", [CRUSH], 1.0)], TRIED[4:7], TRIED, YEAR, "metric"))
            ),
            key=THICKNESS,
            now=3.0,
            setting=2.5,
            gain=0.02,
            low=0.01,
            high=0.03,
        )
        found = settle_thickness(
            habitual, [FoundFactor("conversion_efficiency", [thick], 1.0)], weak.changes, [recorded], YEAR
        )
        assert not {"thinner-mash", "equal-run-offs"} & {change.key for change in found}
        (change,) = (each for each in found if each.key == THICKNESS)
        # by hand: 2.5 L of 15 go from the mash to 12 kg of sparge; 5 kg stay of 15.2 and of 17 kg, then of 12.7 and of 19.5
        moved = 2.5 * WATER
        run_off = 5 / 15.2 * 5 / 17 - 5 / (15.2 - moved) * 5 / (17 + moved)
        assert change.gain == pytest.approx(0.02 + run_off)
        assert (change.low, change.high) == (pytest.approx(0.01 + run_off), pytest.approx(0.03 + run_off))
        assert run_off < -0.001

    def test_a_word_that_goes_with_less_is_to_be_given_up(self):
        none = LeverResult(
            "mixing", "groups", "1", 20, "clear", "none", "stirred", effect=-0.02, judged_low=-0.03, judged_high=-0.01
        )
        latest: list[dict[str, Setting]] = [{"mixing": "none"}] * 3
        (change,) = by_record([FoundFactor("conversion_efficiency", [none], 1.0)], latest, latest, YEAR, "metric")
        assert (change.now, change.setting, change.gain) == ("none", "stirred", pytest.approx(0.02))
        assert (change.low, change.high) == (pytest.approx(0.01), pytest.approx(0.03))

    def test_the_next_test_is_of_the_factor_worth_most_that_nothing_is_clear_of(self):
        def settling(lever: str, effect: float) -> Settling:
            return Settling(lever, "1", None, None, "30", 1.0, 2.0, effect, 0.01, 0.005, 3)

        results = [CRUSH, replace(CRUSH, lever="mash_ph", verdict="not clear")]
        found = next_test(
            [FoundFactor("conversion_efficiency", results, 0.5)],
            {"conversion_efficiency": [settling("crush", 0.09), settling("mash_ph", -0.02), settling("lid", 0.01)]},
        )
        assert found is not None
        assert (found.settling.lever, found.worth) == ("mash_ph", pytest.approx(0.01))


class TestHandbook:
    def test_each_stands_beside_what_is_usual(self):
        settings: list[dict[str, Setting]] = [
            {"crush": 1.5, "mash_time": 60.0, "mash_ph": 5.4, "mash_temperature": 73.0, "mixing": "none"},
            {"crush": 1.6, "mash_time": 75.0, "mash_ph": 5.3, "mash_temperature": 72.0, "mixing": "none"},
        ]
        found = {habit.key: habit for habit in handbook_habits(settings, "metric")}
        assert list(found) == [
            "mixing",
            "mash_temperature",
            "crush",
            "mash_time",
            "mash_ph",
            "hulls",
            "diastatic_power",
        ]
        assert {key for key, habit in found.items() if habit.standing == "outside"} == {
            "mixing",
            "mash_temperature",
            "crush",
        }
        assert {key for key, habit in found.items() if habit.standing == "as usual"} == {"mash_time", "mash_ph"}
        assert (found["crush"].yours, found["crush"].usual) == ("1.50 to 1.60 mm", "0.90 to 1.30 mm")
        assert all(bool(habit.advice) == (habit.standing == "outside") for habit in found.values())
        # no number is told of what it would bring
        assert not any("point" in habit.advice + habit.why for habit in found.values())


def test_a_year_holds_as_many_batches_as_are_brewed():
    def brewed(*days: int) -> list[Batch]:
        first = date(2024, 1, 1)
        return [replace(batch_of(""), brewed=first + timedelta(days=day)) for day in days]

    # three in the year before the last, one beyond; ten in 180 days; three in a month are all there are
    assert batches_a_year(brewed(0, 300, 400, 500)) == 3.0
    assert batches_a_year(brewed(*range(0, 181, 20))) == pytest.approx(9 * 365 / 180)
    assert batches_a_year(brewed(0, 10, 30)) == 3.0


def test_nothing_is_told_of_a_habit_that_an_instrument_may_have_changed():
    """The kettle's marks may be what makes it seem to keep more: half of its loss is no gain to be promised; one that is sure was
    corrected.
    """

    def moved(weight: float) -> MovedRecord:
        causes = [PossibleCause("kettle marks", "", 0.04, 0.03, 0.05, "1", weight, "20", None)]
        if weight < 0.95:
            causes.append(PossibleCause("kettle loss", "", 0.8, 0.6, 1.0, "L", 1.0 - weight, "20", None))
        return MovedRecord((Move(tuple(causes), weight),), (), {}, ("19", "20"))

    changes = [
        ModelChange("half-kettle-loss", "", "", lambda brewing: brewing, habit="kettle_loss"),
        ModelChange("more-sparge", "", "", lambda brewing: brewing),
    ]
    assert [change.key for change in without_doubted(changes, moved(0.6))] == ["more-sparge"]
    assert doubted_causes(moved(0.6)) == ("kettle marks", "kettle loss")
    assert [change.key for change in without_doubted(changes, moved(0.98))] == ["half-kettle-loss", "more-sparge"]
    assert doubted_causes(moved(0.98)) == ()


def test_the_latest_batches_are_those_of_the_way_that_most_of_them_were_lautered(tmp_path: Path):
    """Nine batch sparges among five fly sparges: all nine, and none of the others."""
    entries = exact_texts(14, Habits())
    others = [number for number in range(14) if number % 3 == 1]
    for number in others:
        entries[number] = entries[number].replace("method: batch sparge", "method: fly sparge")
    pays = tell_of(tmp_path, entries).history.brewhouses[0].pays
    assert pays is not None
    assert pays.method == "batch sparge"
    assert pays.batches == tuple(str(number + 1) for number in range(14) if number not in others)


def test_five_batches_are_needed_to_speak_of_practice(tmp_path: Path):
    pays = tell_of(tmp_path, exact_texts(4, Habits(conversion=0.85))).history.brewhouses[0].pays
    assert pays is not None
    assert (pays.ending, pays.practice_told, pays.handbook, pays.next_brew) == ("too few batches", False, (), None)
    assert all(change.basis == "model" for change in pays.changes)
    assert pays.into_fermenter_best_quarter is None
