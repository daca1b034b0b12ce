"""What the balance adds to the problems of a batch.

A broken balance, a strained one, and the suspect of anything impossible.
"""

from __future__ import annotations

from dataclasses import replace

from journal.balance.balance import Balance
from journal.balance.verdict import BROKEN, STRAINED
from journal.balance.went_in import WENT_IN
from journal.balance.words import sentence
from journal.measures.wording import METRIC
from journal.problems import Problem
from journal.reading import Batch, Brewery

_LOOK = "Check the page that was written on the day"


def _accuse(balance: Balance) -> str:
    """The path that a broken balance points at; empty where nothing can be singled out."""
    if balance.slip and balance.slip.code in WENT_IN:
        return balance.slip.path
    return balance.verdict.suspects[0].path if balance.verdict.suspects else ""


def _advice(batch: Batch, balance: Balance) -> str:
    """What to do, and what to write where the balance can do without a reading."""
    suspects = balance.verdict.suspects
    went_in = balance.slip is not None and balance.slip.code in WENT_IN
    if went_in or not suspects or suspects[0].path not in batch.places:
        return f"{_LOOK}, and correct the entry."
    return f"{_LOOK}; correct the entry, or leave the reading out with `trust: {{{suspects[0].path}: no}}`."


def _explains(balance: Balance, problem: Problem) -> bool:
    """Whether the broken balance is of one cause with an impossible value: an efficiency, or a volume that is a suspect."""
    suspects = {suspect.path for suspect in balance.verdict.suspects[: balance.verdict.alike]}
    places = {problem.path, problem.expected_by.path if problem.expected_by else ""}
    return problem.code == "reading-impossible" or bool(places & suspects)


def _broken(batch: Batch, balance: Balance, said: str, impossible: list[Problem]) -> list[Problem]:
    accused = _accuse(balance)
    explained = [problem for problem in impossible if _explains(balance, problem)]
    apart = [problem for problem in impossible if problem not in explained]
    if not explained:
        return [*apart, Problem("balance-broken", said, _advice(batch, balance), batch.place(accused))]
    # one cause is said once, by the problem that stands where the suspect does, if one does
    telling = next((problem for problem in explained if problem.path == accused), explained[0])
    place = batch.place(accused) if telling.code == "reading-impossible" else telling.place
    return [*apart, replace(telling, place=place, hint=f"{said} {_LOOK}, and correct the entry.")]


def find_odd(batch: Batch, brewery: Brewery, balance: Balance, impossible: list[Problem]) -> list[Problem]:
    """The problems of a batch's numbers, one for each fault.

    What is impossible with the balance's suspect, or the balance itself.
    """
    verdict = balance.verdict
    said = sentence(balance, batch, brewery.units or METRIC)
    if verdict.status == BROKEN:
        return _broken(batch, balance, said, impossible)
    if verdict.status == STRAINED and not impossible:
        worst = max(verdict.readings, key=lambda reading: reading.measurement_test)
        return [Problem("balance-strained", said, "", batch.place(worst.path))]
    return impossible
