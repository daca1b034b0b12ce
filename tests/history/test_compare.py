"""Two batches side by side: what is said to differ does, by arithmetic on paper, and nothing else."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
import reckoning as r
from click.testing import CliRunner, Result
from history.told import Told, tell_of

from journal.cli import main
from journal.history.compare import Comparison, FigureDifference, Split, compare
from journal.history.words import comparison_text, split_text

MALTS = """
lot-a: {kind: pale malt, extract: 81 %, moisture: 4 %, source: certificate}
lot-b: {kind: pale malt, extract: 79 %, moisture: 4 %, source: certificate}
"""
FULL = """
crush: {crush} mm
grains: [{{malt: {lot}, weight: 4.50 kg}}]
mash: {{liquor: 14.0 L, first_wort: 1.0745, mixing: {mixing}}}
lauter: {{method: batch sparge, liquor: 15.0 L}}
boil: {{before: {{volume: 24.5 L, gravity: 1.0430}}, after: {{volume: 21.2 L, gravity: 1.0497}}, time: 60 min}}
fermenter: {{volume: 19.6 L, gravity: 1.0497}}
practice: {practice}
"""
#: Too little is recorded for a balance, so that every value is what its own readings say.
SPARSE = """
grains: [{{malt: {lot}, weight: {weight} kg}}]
fermenter: {{volume: {volume} L, gravity: {original}}}
readings: [{{at: 2026-05-20 20:00, gravity: {final}}}]
"""


def text(number: int | str, fields: str, day: str = "", brewhouse: str = "") -> str:
    head = f"---\nbatch: {number}\ntitle: Number {number}\nbrewed: {day or f'2026-04-0{number}'}\n"
    return head + (f"brewhouse: {brewhouse}\n" if brewhouse else "") + fields.strip() + "\n---\n"


def full(crush: str = "1.10", lot: str = "lot-a", mixing: str = "stirred", practice: str = "{pump: slow}") -> str:
    return FULL.format(crush=crush, lot=lot, mixing=mixing, practice=practice)


def sparse(
    original: str = "1.0500", final: str = "1.0100", volume: str = "20.0", lot: str = "lot-a", weight: str = "4.50"
) -> str:
    return SPARSE.format(original=original, final=final, volume=volume, lot=lot, weight=weight)


def compared(root: Path, first: str, second: str) -> Comparison:
    return side_by_side(tell_of(root, [text(1, first), text(2, second)], malts=MALTS))


def side_by_side(told: Told) -> Comparison:
    one, other = told.journal.batches
    return compare(one, other, told.journal, told.balances, told.figures)


def outcome(found: Comparison, name: str) -> FigureDifference:
    return next(outcome for outcome in found.outcomes if outcome.name == name)


def split(found: Comparison, what: str) -> Split:
    return next(split for split in found.splits if split.what.startswith(what))


def test_what_differed_in_practice_is_found_and_nothing_else(tmp_path: Path) -> None:
    first = full(practice="{pump: slow, turns: 3, lid: yes, room: cold}")
    second = full("1.30", "lot-b", "recirculated", "{pump: fast, turns: 4, lid: no, room: cold}")
    found = compared(tmp_path, first, second)
    assert {d.lever: (d.first, d.second) for d in found.practice} == {
        "crush": (1.1, 1.3),
        "mixing": ("stirred", "recirculated"),
        "grist": ("lot-a 100 %", "lot-b 100 %"),
        "pump": ("slow", "fast"),
        "turns": (3.0, 4.0),
        "lid": (True, False),
    }


def test_what_only_one_recorded_differs_from_nothing(tmp_path: Path) -> None:
    found = compared(tmp_path, full(practice="{pump: slow, turns: 3}"), full(practice="{pump: slow}"))
    (turns,) = found.practice
    assert (turns.lever, turns.first, turns.second) == ("turns", 3.0, None)


def test_equal_batches_differ_in_nothing(tmp_path: Path) -> None:
    told = tell_of(tmp_path, [text(1, full()), text(2, full())], malts=MALTS)
    found = side_by_side(told)
    assert found.practice == ()
    assert {"conversion_efficiency", "brewhouse_efficiency", "boil_off"} <= {o.name for o in found.outcomes}
    for result in found.outcomes:
        assert result.difference == pytest.approx(0.0, abs=1e-9)
        assert result.sd > 0
        assert not result.more_than_chance
    for part in found.splits:
        assert (part.first_value, part.second_value) == (pytest.approx(0.0, abs=1e-9), pytest.approx(0.0, abs=1e-9))


@pytest.mark.parametrize(("second", "more"), [("1.0470", True), ("1.0530", True), ("1.0485", False), ("1.0515", False)])
def test_a_difference_of_two_hydrometer_readings(second: str, more: bool, tmp_path: Path) -> None:
    found = outcome(compared(tmp_path, sparse(), sparse(second)), "original_gravity")
    assert found.difference == pytest.approx(float(second) - 1.05, abs=1e-9)
    # the hydrometer is read to 0.0007: the difference of two readings is good to 0.00099, and 90 % of chance lie within
    # 1.645 of that, 0.0016
    assert found.sd == pytest.approx(0.0007 * math.sqrt(2), rel=1e-6)
    assert found.more_than_chance is more


def test_efficiencies_scatter_from_batch_to_batch_as_well(tmp_path: Path) -> None:
    found = outcome(compared(tmp_path, sparse(), sparse(volume="21.0")), "brewhouse_efficiency")
    potential = 4.50 * 0.96 * 0.81
    first, second = (float(r.extract(volume, 1.05)) / potential for volume in (20.0, 21.0))
    assert found.difference == pytest.approx(second - first, abs=1e-4)
    # 1.7 points each (common practice), beside what the readings allow; the one sheet, 0.5 of 81 % (a certificate's
    # default), is wrong for both alike
    apart = found.first.sd**2 + found.second.sd**2 + 2 * 0.017**2
    expected = math.sqrt(apart - 2 * first * second * (0.5 / 81) ** 2)
    assert found.sd == pytest.approx(expected, rel=1e-4)


def test_two_lots_have_two_sheets_and_their_errors_do_not_cancel(tmp_path: Path) -> None:
    found = outcome(compared(tmp_path, sparse(), sparse(lot="lot-b")), "brewhouse_efficiency")
    assert found.sd == pytest.approx(math.sqrt(found.first.sd**2 + found.second.sd**2 + 2 * 0.017**2))


def parts(found: Comparison) -> dict[str, float]:
    assert found.made_of
    return {part.step: part.value for part in found.made_of.parts}


def test_extract_splits_into_malt_and_brewing_that_add_up(tmp_path: Path) -> None:
    found = compared(tmp_path, sparse(), sparse("1.0520", volume="19.0", lot="lot-b", weight="4.40"))
    got = [float(r.extract(20.0, 1.050)) / 4.50, float(r.extract(19.0, 1.052)) / 4.40]
    offered = [0.96 * 0.81, 0.96 * 0.79]
    assert found.made_of
    assert found.made_of.difference == pytest.approx(got[1] - got[0], abs=1e-4)
    made = parts(found)
    assert made["malt"] + made["brewing"] == pytest.approx(found.made_of.difference)
    # a malt that offers so much less, at the mean of what was made of the two
    mean = (got[0] / offered[0] + got[1] / offered[1]) / 2
    assert made["malt"] == pytest.approx((offered[1] - offered[0]) * mean, abs=1e-4)


def test_of_one_malt_all_is_brewing(tmp_path: Path) -> None:
    found = compared(tmp_path, sparse(), sparse("1.0520"))
    assert parts(found) == {"malt": pytest.approx(0.0, abs=1e-12), "brewing": pytest.approx(found.made_of.difference)}  # type: ignore[union-attr]


def test_a_kettle_that_kept_a_litre_is_told_from_mash_and_run_off(tmp_path: Path) -> None:
    """The wort of 4.50 kg is the same up to the knockout, and 1.5 L of its 21.2 L less reach the fermenter."""
    found = compared(tmp_path, full(), full().replace("volume: 19.6 L", "volume: 18.1 L"))
    assert found.made_of
    one, other = (float(r.extract(volume, 1.0497)) / 4.50 for volume in (19.6, 18.1))
    assert found.made_of.difference == pytest.approx(other - one, abs=3e-3)
    made = parts(found)
    assert list(made) == ["malt", "mash", "run-off", "kettle"]
    assert sum(made.values()) == pytest.approx(found.made_of.difference)
    assert made["kettle"] == pytest.approx(other - one, abs=6e-3)
    assert abs(made["mash"]) + abs(made["run-off"]) < 0.006
    assert [part.step for part in found.made_of.parts if part.more_than_chance] == ["kettle"]
    assert comparison_text(found).split("\n")[2].endswith("More than chance: the kettle.")


def test_alcohol_splits_into_extract_and_attenuation_that_add_up(tmp_path: Path) -> None:
    found = split(compared(tmp_path, sparse("1.0480", "1.0120"), sparse("1.0560", "1.0100")), "alcohol")
    ends = [
        float(r.alcohol(r.plato(original), r.plato(final))[1]) for original, final in ((1.048, 1.012), (1.056, 1.010))
    ]
    assert found.difference == pytest.approx(ends[1] - ends[0], abs=2e-4)
    assert found.first_value + found.second_value == pytest.approx(found.difference)
    # both went up, so both made alcohol
    assert found.first_value > 0.001
    assert found.second_value > 0.001


def test_at_one_original_gravity_all_alcohol_is_attenuation(tmp_path: Path) -> None:
    found = split(compared(tmp_path, sparse("1.0500", "1.0140"), sparse("1.0500", "1.0090")), "alcohol")
    assert found.first_value == pytest.approx(0.0, abs=1e-12)
    assert found.second_value > 0.001


def test_splits_are_left_out_where_a_part_is_not_known(tmp_path: Path) -> None:
    without = sparse().replace("readings: [{at: 2026-05-20 20:00, gravity: 1.0100}]", "")
    found = compared(tmp_path, sparse(), without)
    assert found.splits == ()
    assert found.made_of


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    entries = [text(1, full()), text(2, full("1.30")), text("a", full("1.00"), "2026-04-08")]
    tell_of(tmp_path, [*entries, text("b", full("1.20"), "2026-04-08")], malts=MALTS)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, ["compare", *arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def test_where_readings_contradict_each_other_no_efficiency_is_compared(tmp_path: Path) -> None:
    """A kettle of 24.5 L written as 29.5: the fault is told, and brewing is credited with nothing."""
    broken = full().replace("volume: 24.5 L", "volume: 29.5 L")
    told = tell_of(tmp_path, [text(1, full()), text(2, broken)], malts=MALTS)
    found = side_by_side(told)
    assert found.broken == ("2",)
    named = {outcome.name for outcome in found.outcomes}
    assert "original_gravity" in named
    assert not named & {"mash_efficiency", "lauter_efficiency", "brewhouse_efficiency", "boil_off", "wort_held"}
    assert found.made_of is None
    said = comparison_text(found)
    assert "The readings of batch 2 contradict one another" in said
    assert "efficienc" not in said.split("contradict", 1)[1].split("\n", 1)[1]
    assert side_by_side(tell_of(tmp_path / "sound", [text(1, full()), text(2, full("1.30"))], malts=MALTS)).broken == ()


@pytest.mark.usefixtures("journal")
def test_the_command_says_what_differed_in_practice_and_in_result() -> None:
    result = run("1", "2")
    assert result.exit_code == 0
    lines = [" ".join(line.split()) for line in result.output.splitlines()]
    assert lines[0] == "batch 1 and batch 2"
    crush = next(line for line in lines if line.startswith("mill gap"))
    assert crush.index("1.1") < crush.index("→") < crush.index("1.3")
    assert any(line.startswith("brewhouse efficiency") and line.endswith("may be chance") for line in lines)


@pytest.mark.usefixtures("journal")
@pytest.mark.parametrize(("one", "other"), [("1", "2"), ("2", "a"), ("a", "b")])
def test_either_order_of_two_batches_gives_the_same(one: str, other: str) -> None:
    assert run(one, other).output == run(other, one).output
    assert run(other, one).output.startswith(f"batch {one} and batch {other}\n")


@pytest.mark.usefixtures("journal")
@pytest.mark.parametrize("arguments", [("1", "77"), ("77", "1"), ("1",)])
def test_an_unknown_batch_or_none_ends_with_2(arguments: tuple[str, ...]) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert "what differed" not in result.output


@pytest.mark.parametrize(
    ("first", "second", "said"),
    [
        (0.004, 0.002, "alcohol: +0.6 points, of it by the extract +0.4 and by the attenuation +0.2"),
        (-0.0030, 0.0050, "alcohol: +0.2 points, of it by the extract −0.3 and by the attenuation +0.5"),
        # +0.66 and −0.64 make +0.02
        (0.0066, -0.0064, "alcohol: 0.0 points, of it by the extract +0.7 and by the attenuation −0.6 (rounded)"),
    ],
)
def test_a_split_says_that_it_is_rounded_where_what_is_shown_does_not_add_up(
    first: float, second: float, said: str
) -> None:
    assert split_text(Split("alcohol", "1", first + second, "the extract", first, "the attenuation", second)) == said
