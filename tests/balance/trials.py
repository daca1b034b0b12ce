"""Simulated batches put before the balance: clean ones, and ones with a single wrong reading of a known kind."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from balance.simulated_brewery import (
    BREWERY,
    Habits,
    Instruments,
    brew,
    entry,
    read,
    some_brewery,
    swapped,
    warm_hydrometer,
)
from handbook import swollen

from journal.balance import BROKEN, Priors, Verdict, balance_of, common_practice
from journal.figures import BatchFigures, figures_of
from journal.history.learn import learn
from journal.numerics import Estimate
from journal.problems import Source
from journal.reading import Brewery, Brewhouse, Malts, read_brewery, read_entry

#: Spoils one reading in place and says which; an empty path where this batch offers nothing to spoil.
Fault = Callable[[dict[str, float], np.random.Generator], str]

KETTLE_GRAVITIES = ("boil.before.gravity", "boil.after.gravity", "fermenter.gravity")
KETTLE_VOLUMES = ("boil.before.volume", "boil.after.volume")
#: 90 % of a normal distribution lie within this many standard deviations (any table of it).
Z_90 = 1.645


@cache
def settings() -> Brewery:
    """The simulated brewery's instruments."""
    with TemporaryDirectory() as folder:
        (Path(folder) / "entries").mkdir()
        (Path(folder) / "entries" / "brewery.yaml").write_text(BREWERY)
        brewery, problems = read_brewery(Path(folder))
    assert not problems
    return brewery


def strangers_priors() -> Priors:
    """What is expected of a brewery that nothing is known of."""
    return common_practice(Brewhouse(), "batch sparge")


@dataclass(frozen=True)
class Judged:
    """One simulated batch after the balance, with its truth; `wrong` is the path of the reading that was spoilt."""

    recorded: BatchFigures
    verdict: Verdict
    balanced: dict[str, tuple[float, float]]
    evidence: Mapping[str, Estimate]
    truth: dict[str, float]
    wrong: str = ""


def judged(
    readings: dict[str, float], truth: dict[str, float], habits: Habits, priors: Priors, wrong: str = ""
) -> Judged:
    """The balance of one simulated batch."""
    batch, problems = read_entry(Source("entry.md", entry(1, readings, habits)))
    assert batch is not None, problems
    recorded = figures_of(batch, settings(), Malts())
    balance = balance_of(batch, recorded, settings(), Malts(), priors)
    # a brewhouse that may have changed is not accused, and shows nothing of this one
    if not balance.holds or balance.verdict.changed:
        return Judged(recorded, balance.verdict, {}, {}, truth, wrong)
    balanced = {name: (result.value, result.sd) for name, result in balance.figures.items()}
    return Judged(recorded, balance.verdict, balanced, balance.evidence, truth, wrong)


def _shifted(path: str, change: Callable[[float, np.random.Generator], float]) -> Fault:
    def fault(readings: dict[str, float], rng: np.random.Generator) -> str:
        readings[path] = change(readings[path], rng)
        return path

    return fault


def off_by_a_tenth(path: str) -> Fault:
    """A reading 8 to 10 % too large or too small."""
    return _shifted(path, lambda value, rng: value * (1 + rng.choice([-1, 1]) * rng.uniform(0.08, 0.10)))


def five_points(path: str) -> Fault:
    """A gravity five points too high or too low."""
    return _shifted(path, lambda value, rng: value + rng.choice([-1, 1]) * 0.005)


def warm(path: str) -> Fault:
    """A hydrometer floated in wort of 50 °C."""
    return _shifted(path, lambda value, _: warm_hydrometer(value))


def hot_as_cold(path: str) -> Fault:
    """A volume read at 65 to 95 °C and written down as if cold."""
    return _shifted(path, lambda value, rng: value * swollen(rng.uniform(65, 95)))


def digits(path: str) -> Fault:
    """Two digits of a gravity the wrong way round, where that makes nine points or more."""

    def fault(readings: dict[str, float], rng: np.random.Generator) -> str:  # as every fault
        wrong = swapped(readings[path])
        if abs(wrong - readings[path]) < 0.009:
            return ""
        readings[path] = wrong
        return path

    return fault


FAULTS: dict[str, list[Fault]] = {
    "gravity off by 5 points": [five_points(path) for path in KETTLE_GRAVITIES],
    "digits swapped by 0.009 or more": [digits(path) for path in KETTLE_GRAVITIES],
    "hydrometer in wort of 50 °C": [warm(path) for path in KETTLE_GRAVITIES],
    "kettle volume off by 8 to 10 %": [off_by_a_tenth(path) for path in KETTLE_VOLUMES],
    "first wort off by 5 points": [five_points("mash.first_wort")],
    "fermenter volume off by 8 to 10 %": [off_by_a_tenth("fermenter.volume")],
    "liquor off by 8 to 10 %": [off_by_a_tenth("mash.liquor"), off_by_a_tenth("lauter.liquor")],
    "kettle volume read at 65 to 95 °C, written as cold": [hot_as_cold(path) for path in KETTLE_VOLUMES],
}
#: What the aims are set for.
AIMED = tuple(FAULTS)[:4]


def wide(count: int, seed: int, fault: Fault | None) -> Iterator[Judged]:
    """Batches, each of another brewery, with nothing known of it."""
    rng = np.random.default_rng(seed)
    made = 0
    while made < count:
        habits = some_brewery(rng)
        truth = brew(habits, rng.normal(0, Instruments().sheet), rng)
        readings = read(truth, Instruments(), rng)
        wrong = fault(readings, rng) if fault else ""
        if fault and not wrong:
            continue
        made += 1
        yield judged(readings, truth.efficiency, habits, strangers_priors(), wrong)


def learnt_priors(habits: Habits, sheet: float, rng: np.random.Generator, batches: int = 20) -> Priors:
    """What a brewery's own earlier batches teach, one in ten of them with a bad reading."""
    start = strangers_priors()
    past: list[Mapping[str, Estimate]] = []
    for _ in range(batches):
        truth = brew(habits, sheet, rng)
        readings = read(truth, Instruments(), rng)
        if rng.uniform() < 0.1:
            kind = FAULTS[AIMED[rng.integers(len(AIMED))]]
            kind[rng.integers(len(kind))](readings, rng)
        said = judged(readings, truth.efficiency, habits, learn(start, past)).evidence
        if said:
            past.append(said)
    return learn(start, past)


def own(breweries: int, each: int, seed: int, kinds: list[Fault | None]) -> Iterator[Judged]:
    """Batches of breweries that have twenty batches behind them."""
    rng = np.random.default_rng(seed)
    for _ in range(breweries):
        habits, sheet = some_brewery(rng), rng.normal(0, Instruments().sheet)
        priors = learnt_priors(habits, sheet, rng)
        for index in range(each):
            fault = kinds[index % len(kinds)]
            truth = brew(habits, sheet, rng)
            readings = read(truth, Instruments(), rng)
            wrong = fault(readings, rng) if fault else ""
            if fault is None or wrong:
                yield judged(readings, truth.efficiency, habits, priors, wrong)


@dataclass(frozen=True)
class Caught:
    """Of `cases` with a wrong reading, how many were `flagged`, and of those how many accuse the `right` reading."""

    cases: int
    flagged: int
    right: int

    @property
    def flagged_share(self) -> float:
        """Of all cases."""
        return self.flagged / self.cases

    @property
    def right_share(self) -> float:
        """Of those flagged."""
        return self.right / max(self.flagged, 1)


def caught(cases: list[Judged]) -> Caught:
    """How the balance did on batches with a wrong reading."""
    broken = [case for case in cases if case.verdict.status == BROKEN]
    right = sum(bool(case.verdict.suspects) and case.verdict.suspects[0].path == case.wrong for case in broken)
    return Caught(len(cases), len(broken), right)


@dataclass(frozen=True)
class Bettered:
    """What the balance did for one efficiency over so many clean batches.

    `error_ratio`: root mean square error, balanced to recorded; `covers`: share of 90 % intervals that hold the truth.
    """

    error_ratio: float
    covers: float
    cases: int


def bettered(cases: list[Judged], name: str) -> Bettered:
    """How the balance did on clean batches, by one efficiency; those it accuses have no balanced value."""
    held = [case for case in cases if name in case.balanced]
    balanced = np.array([case.balanced[name][0] - case.truth[name] for case in held])
    recorded = np.array([case.recorded[name].value - case.truth[name] for case in held])
    sd = np.array([case.balanced[name][1] for case in held])
    ratio = np.sqrt(np.mean(balanced**2) / np.mean(recorded**2))
    return Bettered(float(ratio), float(np.mean(np.abs(balanced) <= Z_90 * sd)), len(held))


def accused(cases: list[Judged]) -> float:
    """Share of batches whose balance is broken."""
    return sum(case.verdict.status == BROKEN for case in cases) / len(cases)
