"""Planned brews of simulated breweries: does the plan land where it aims, and does correcting on the day help.

`python tests/history/plan_trials.py [JOURNALS]` prints the table that stands in tests/measured/plan.md; the tests run a small share.
Each journal knows twelve batches; the next eight are planned, brewed as planned and recorded. Everything goes through the
entries' text; the truth shares no formula with the planner.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.simulated_brewery import (
    BREWERY,
    Brew,
    Habits,
    Instruments,
    Recipe,
    Truth,
    boiled,
    brew,
    entry,
    mash_and_run_off,
    measured_out,
    read,
    readings,
    some_brewery,
    weather,
)
from handbook import gravity
from history.plan.planned_brewery import enriched, planned_entry, watered
from texts import brewery_of

from journal.balance import balance_of
from journal.balance.foresee import Foreseen, foresee
from journal.figures import figures_of
from journal.history.fold import EvidenceByMethod, expected_of
from journal.history.plan import (
    BOIL,
    DILUTE,
    KETTLE,
    MALT_EXTRACT,
    Aim,
    Correction,
    Grist,
    Plan,
    Remedy,
    correct,
    make_plan,
    round_remedy,
)
from journal.numerics import Estimate
from journal.problems import Source
from journal.reading import Batch, Brewery, Journal, Malts, read_entry

KNOWN, PLANNED, LOT = 12, 8, 8
HOURS = 1.0
MOISTURE = 0.04
ADVISED, OUTSIDE, EXACT = (
    "followed where advised",
    "followed where a reading is outside its range",
    "every reading taken for exact",
)
FIGURES = ("kettle_gravity", "kettle_volume", "original_gravity")


@dataclass(frozen=True)
class Outcome:
    """One planned brew: what it aimed at and got, SG, and which ranges of the eve held the truth.

    `corrected` by which corrections were followed; `advised` and `outside` say whether the belief was off target and
    whether a reading lay outside its range.
    """

    target: float
    got: float
    corrected: dict[str, float]
    advised: bool
    outside: bool
    held: dict[str, bool]


@dataclass
class Brewhouse:
    """A simulated brewery with its record."""

    habits: Habits
    rng: np.random.Generator
    journal: Journal
    record: EvidenceByMethod = field(default_factory=EvidenceByMethod)
    brewed: int = 0
    sheet_error: float = 0.0

    def next_number(self) -> int:
        if self.brewed % LOT == 0:
            self.sheet_error = self.rng.normal(0, Instruments().sheet)
        self.brewed += 1
        return self.brewed

    def learn(self, text: str) -> None:
        batch = batch_of(text)
        brewery, malts = self.journal.brewery, self.journal.malts
        balance = balance_of(
            batch,
            figures_of(batch, brewery, malts),
            brewery,
            malts,
            expected_of(batch, self.journal, self.record),
        )
        if balance.evidence:
            self.record.said.append(("batch sparge", balance.evidence))


def settings() -> Brewery:
    return brewery_of(BREWERY)


def batch_of(text: str) -> Batch:
    batch, problems = read_entry(Source("entries/01.md", text))
    assert batch is not None, problems
    return batch


def brewhouse(seed: int, settings: Brewery) -> Brewhouse:
    """A brewery whose first twelve batches are known."""
    rng = np.random.default_rng(seed)
    habits = replace(some_brewery(rng), conversion=rng.normal(0.91, 0.01))
    house = Brewhouse(habits, rng, Journal(Path(), settings, Malts(), ()))
    for _ in range(KNOWN):
        number = house.next_number()
        house.learn(entry(number, read(brew(habits, house.sheet_error, rng), Instruments(), rng), habits))
    return house


def remedy_of(found: Correction, prefer: str) -> Remedy | None:
    """What a brewer does about it: water if it is too strong, else what he likes better of boiling on and extract."""
    return next((remedy for remedy in found.remedies if remedy.kind in {DILUTE, prefer}), None)


def mended(real: Brew, remedy: Remedy | None) -> float:
    """The original gravity that a remedy, measured out as brewers do, really leads to."""
    amount = round_remedy(remedy) if remedy else 0.0
    kind = remedy.kind if remedy else ""
    wort = boiled(real.kettle, real.luck, amount if kind == BOIL else HOURS * 60)
    if kind == DILUTE:
        wort = watered(wort, amount)
    if kind == MALT_EXTRACT:
        wort = enriched(wort, amount)
    return gravity(wort.strength)


def planned_brew(house: Brewhouse) -> Outcome:
    """One batch planned from the record, brewed as planned, read at kettle-full, and recorded."""
    number, rng, habits = house.next_number(), house.rng, house.habits
    target, volume = rng.uniform(1.038, 1.070), rng.uniform(15, 25)
    grist = Grist(habits.malt_extract * (1 - MOISTURE), MOISTURE)
    bare = batch_of(planned_entry(number, Recipe(5, 15, 15), habits, target))
    priors = expected_of(bare, house.journal, house.record)
    plan = make_plan(Aim(target, volume, rng.uniform(2.7, 3.3), HOURS), grist, priors)
    assert isinstance(plan, Plan)
    recipe = Recipe(plan.grain, plan.mash_liquor, plan.sparge_liquor)
    batch = batch_of(planned_entry(number, recipe, habits, target))
    recorded = figures_of(batch, house.journal.brewery, house.journal.malts)
    went_in = measured_out(recipe, Instruments(), rng)
    real = mash_and_run_off(went_in, habits, house.sheet_error, weather(habits, rng))
    truth = readings(real, boiled(real.kettle, real.luck, HOURS * 60))
    seen = read_kettle(real, rng)
    found = correct(batch, recorded, priors, KETTLE, *seen)
    exact = correct(batch, recorded, priors, KETTLE, *(Estimate(reading.value, 1e-6) for reading in seen))
    assert found is not None
    assert exact is not None
    written = read(Truth(truth, {}), Instruments(), rng)
    # weights and liquors stand in the entry as they were planned
    written |= {"grain": recipe.grain, "mash.liquor": recipe.mash_liquor, "lauter.liquor": recipe.sparge_liquor}
    house.learn(entry(number, written, habits))
    eve = foresee(batch, recorded, priors)
    got, prefer = truth["fermenter.gravity"], BOIL if number % 2 else MALT_EXTRACT
    followed = mended(real, remedy_of(found, prefer))
    inside = all(shown.low <= shown.recorded <= shown.high for shown in found.ranges.values())
    corrected = {
        ADVISED: got if found.leave else followed,
        OUTSIDE: got if inside else followed,
        EXACT: mended(real, remedy_of(exact, prefer)),
    }
    return Outcome(target, got, corrected, not found.leave, not inside, held(eve, truth))


def read_kettle(real: Brew, rng: np.random.Generator) -> tuple[Estimate, Estimate]:
    """Gravity and volume of the full kettle through the instruments."""
    tools = Instruments()
    return (
        Estimate(gravity(real.kettle.strength) + rng.normal(0, tools.gravity), tools.gravity),
        Estimate(real.kettle.volume + rng.normal(0, tools.volume), tools.volume),
    )


def held(eve: dict[str, Foreseen], truth: dict[str, float]) -> dict[str, bool]:
    """Whether the interval of the eve held what came, by figure."""
    paths = ("boil.before.gravity", "boil.before.volume", "fermenter.gravity")
    return {n: eve[n].low <= truth[path] <= eve[n].high for n, path in zip(FIGURES, paths, strict=True)}


def trial(seed: int, settings: Brewery) -> list[Outcome]:
    """The eight planned brews of one journal."""
    house = brewhouse(seed, settings)
    return [planned_brew(house) for _ in range(PLANNED)]


def rms(errors: list[float]) -> float:
    return float(np.sqrt(np.mean(np.square(errors))))


def off(outcomes: list[Outcome]) -> list[float]:
    """How far the original gravities were off, points."""
    return [1000 * (o.got - o.target) for o in outcomes]


def within(outcomes: list[Outcome], points: float = 2.0) -> float:
    return float(np.mean(np.abs(off(outcomes)) <= points))


def improvement(outcomes: list[Outcome], which: str = ADVISED) -> float:
    """Root mean square of the error with corrections followed, over that without."""
    return rms([1000 * (o.corrected[which] - o.target) for o in outcomes]) / rms(off(outcomes))


def covered(outcomes: list[Outcome], figure: str) -> float:
    return float(np.mean([o.held[figure] for o in outcomes]))


def rows(outcomes: list[Outcome]) -> Iterator[str]:
    yield f"{'planned brews':<52}{len(outcomes):>9}"
    yield f"{'original gravity within ±2 points':<52}{within(outcomes):>9.1%}"
    yield f"{'bias of the original gravity, points':<52}{np.mean(off(outcomes)):>9.2f}"
    yield f"{'root mean square error, points':<52}{rms(off(outcomes)):>9.2f}"
    for figure in FIGURES:
        words = f"90 % range held the {figure.replace('_', ' ')}"
        yield f"{words:<52}{covered(outcomes, figure):>9.1%}"
    yield f"{'correction advised at kettle-full':<52}{np.mean([o.advised for o in outcomes]):>9.1%}"
    yield f"{'a reading outside its 90 % range':<52}{np.mean([o.outside for o in outcomes]):>9.1%}"
    yield "error with the correction over that without"
    for which in (ADVISED, OUTSIDE, EXACT):
        yield f"{'  ' + which:<52}{improvement(outcomes, which):>9.2f}"


def table(count: int) -> str:
    found = [outcome for seed in range(9000, 9000 + count) for outcome in trial(seed, settings())]
    return "\n".join(rows(found))


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 60))
