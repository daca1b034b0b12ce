"""Whole journals of simulated breweries with a known truth, read, balanced and told: does the record say what happened.

`python tests/history/backtest.py [JOURNALS]` prints the table that stands in tests/measured/record.md; the tests run a small share.
Everything goes through the entries' text; the truth comes from `balance/simulated_brewery.py`, which shares no formula with
the code judged.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, entry, read, some_brewery
from texts import brewery_of

from journal.figures import figures_of
from journal.history import BrewhouseStory, balance_all, history_of
from journal.problems import Source
from journal.reading import Brewery, Entry, Journal, Malts, read_entry

BATCHES = 40
LOT = 8
CRUSHES = (0.95, 1.05, 1.15, 1.25, 1.35)


@dataclass(frozen=True)
class Story:
    """A told journal with its truth: the efficiencies of each batch in order."""

    told: BrewhouseStory
    truth: list[dict[str, float]]
    shown: list[dict[str, float]]
    foreseen: list[dict[str, tuple[float, float]]]


def settings() -> Brewery:
    return brewery_of(BREWERY)


def _lot_entry(number: int, readings: dict[str, float], habits: Habits, lot: int, levers: str) -> str:
    text = entry(number, readings, habits).replace("pale lot", f"pale lot {lot}")
    return text.replace("mash: {liquor", f"{levers}\nmash: {{liquor")


def journal(seed: int, brewery: Brewery, step: float = 0.0, crush: float = 0.0) -> Story:
    """Forty batches of one brewery: lots of eight, conversion `step` higher from the 20th on, `crush` of it per mm of gap."""
    rng = np.random.default_rng(seed)
    # a level low enough that a better conversion has room
    habits = replace(some_brewery(rng), conversion=rng.normal(0.91, 0.01))
    entries, truth, sheet = [], [], 0.0
    for index in range(BATCHES):
        if index % LOT == 0:
            sheet = rng.normal(0, Instruments().sheet)
        gap = rng.choice(CRUSHES)
        conversion = habits.conversion + crush * (gap - 1.15) + (step if index >= BATCHES // 2 - 1 else 0.0)
        real = brew(replace(habits, conversion=conversion), sheet, rng)
        levers = (
            f"crush: {gap:.2f} mm\npractice: {{paddle: {rng.integers(1, 6)}, moon: {rng.choice(['waxing', 'waning'])}}}"
        )
        text = _lot_entry(index + 1, read(real, Instruments(), rng), habits, index // LOT, levers)
        source = Source(f"entries/{index + 1:02d}.md", text)
        batch, problems = read_entry(source)
        assert batch is not None, problems
        entries.append(Entry(source.name, batch, (), ()))
        truth.append(real.efficiency)
    read_in = Journal(Path(), brewery, Malts(), tuple(entries))
    figures = {batch.id: figures_of(batch, brewery, Malts()) for batch in read_in.batches}
    balances = balance_all(read_in, figures)
    shown, foreseen = [], []
    for batch in read_in.batches:
        balance = balances[batch.id]
        results = balance.figures if balance.holds else figures[batch.id].results
        shown.append({name: result.value for name, result in results.items()})
        foreseen.append({name: (f.low, f.high) for name, f in balance.foreseen.items()})
    return Story(history_of(read_in, figures, balances).brewhouses[0], truth, shown, foreseen)


def found_near(story: Story, figure: str, batch: int, within: int = 3) -> bool:
    """Whether a step is reported within so many batches of the one where it was made."""
    course = story.told.course(figure)
    assert course is not None
    return any(abs(int(course.points[step.first].batch) - batch) <= within for step in course.steps)


def any_step(story: Story) -> bool:
    return any(course.steps for course in story.told.courses)


def covered(stories: list[Story], figure: str, first: int = 12) -> float:
    """Share of values shown, from a batch on, that lay in the interval of the evening before."""
    inside = [
        low <= shown[figure] <= high
        for story in stories
        for shown, foreseen in list(zip(story.shown, story.foreseen, strict=True))[first - 1 :]
        if figure in shown and figure in foreseen
        for low, high in [foreseen[figure]]
    ]
    return float(np.mean(inside))


def lever(story: Story, name: str, figure: str = "conversion_efficiency") -> Iterator[tuple[str, float, float]]:
    """Verdict and interval of a lever on a figure; for words one a group."""
    for study in story.told.studies:
        if study.figure == figure:
            for result in study.results:
                if result.lever == name and result.low is not None and result.high is not None:
                    yield result.verdict, result.low, result.high


def table(count: int) -> str:
    brewery = settings()
    plain = [journal(seed, brewery) for seed in range(count)]
    rows = [
        f"90 % expected intervals of {figure.replace('_', ' ')} cover, 12th batch on: {covered(plain, figure):.1%}"
        for figure in ("conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency")
    ]
    rows.append(
        f"no step made: journals that report one in any of five figures: {np.mean([any_step(s) for s in plain]):.1%}"
    )
    for step in (0.04, 0.025):
        stories = [journal(1000 + seed, brewery, step=step) for seed in range(count)]
        near = np.mean([found_near(s, "conversion_efficiency", BATCHES // 2) for s in stories])
        rows.append(f"step of {step * 100:g} points in conversion at batch 20, found within 3 batches: {near:.1%}")
    idle: dict[str, list[bool]] = defaultdict(list)
    for effect in (-0.2, -0.1):
        stories = [journal(2000 + seed, brewery, crush=effect) for seed in range(count)]
        found = [next(lever(s, "crush")) for s in stories]
        clear = np.mean([verdict == "clear" for verdict, _, _ in found])
        holds = np.mean([low <= effect <= high for _, low, high in found])
        rows.append(
            f"crush effect of {effect / 10:g} per 0.1 mm: clear {clear:.1%}, interval covers the truth {holds:.1%}"
        )
        for story in stories:
            for name in ("paddle", "moon", "liquor_to_grist"):
                idle[name] += [verdict == "clear" for verdict, _, _ in lever(story, name)]
    for name, verdicts in idle.items():
        rows.append(f"lever without effect ({name}): clear {np.mean(verdicts):.1%}")
    return "\n".join(rows)


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 100))
