"""Journals of a simulated brewery as texts, and what the record tells of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from balance.simulated_brewery import BREWERY, Habits, Instruments, Truth, brew, entry, read, steady
from texts import journal_at

from journal.balance import Balance
from journal.figures import BatchFigures, figures_of
from journal.history import History, balance_all, history_of
from journal.problems import Severity
from journal.reading import Journal

TWO_HOUSES = BREWERY + "brewhouses: {shed: {name: Shed}, barn: {name: Barn}}\n"


@dataclass(frozen=True)
class Told:
    """A journal with everything that is worked out of it."""

    journal: Journal
    figures: dict[str, BatchFigures]
    balances: dict[str, Balance]
    history: History


def exact(count: int, habits: Habits, seed: int = 3) -> list[Truth]:
    """Brews of a brewery that never varies; their readings have no error."""
    rng = np.random.default_rng(seed)
    return [brew(steady(habits), 0.0, rng) for _ in range(count)]


def exact_texts(count: int, habits: Habits, seed: int = 3) -> list[str]:
    """Entries of such brews, numbered from 1."""
    return [entry(number, truth.readings, habits) for number, truth in enumerate(exact(count, habits, seed), start=1)]


def texts(count: int, habits: Habits, seed: int = 3) -> list[str]:
    """Entries of brews that vary, read with imperfect instruments, numbered from 1."""
    return list(_texts(count, habits, seed))


@cache
def _texts(count: int, habits: Habits, seed: int) -> tuple[str, ...]:
    rng = np.random.default_rng(seed)
    numbers = range(1, count + 1)
    return tuple(entry(number, read(brew(habits, 0.0, rng), Instruments(), rng), habits) for number in numbers)


def with_fields(text: str, fields: str) -> str:
    """An entry with more fields on top."""
    return text.replace("title: Simulated", f"title: Simulated\n{fields}")


def planned(number: int) -> str:
    """An entry of which nothing is measured yet."""
    head, _, _ = entry(number, dict.fromkeys(_READINGS, 1.0), Habits()).partition("grains:")
    return (
        f"{head}grains: [{{malt: pale malt, weight: 5 kg}}]\nmash: {{liquor: 15 L}}\n"
        "lauter: {method: batch sparge, liquor: 15 L}\nboil: {time: 60 min}\n---\n"
    )


_READINGS = tuple(exact(1, Habits())[0].readings)


def tell_of(root: Path, entries: list[str], settings: str = BREWERY, malts: str = "") -> Told:
    """What a journal of these entries tells; none of them has an error."""
    files = {f"{index:03d}.md": text for index, text in enumerate(entries)}
    journal, problems = journal_at(root, {"brewery.yaml": settings, "malts.yaml": malts or "{}\n", **files})
    assert [problem.message for problem in problems if problem.severity is Severity.ERROR] == []
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    balances = balance_all(journal, figures)
    return Told(journal, figures, balances, history_of(journal, figures, balances))
