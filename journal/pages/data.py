"""The data files: journal.json for programs, batches.csv for spreadsheets. Names and units are the catalogue's."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from journal.balance import LEVEL, Balance
from journal.figures import CATALOGUE, Result
from journal.figures.mash_shared import OF_THE_PAIR
from journal.history import BrewhouseStory, FigureCourse
from journal.history.levers import LeverResult
from journal.history.moved.move import Move
from journal.history.moved.words import checks_that_tell
from journal.history.pays import Pays
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.beer import beer_of
from journal.pages.recipe import recipe_of
from journal.pages.record import Record
from journal.problems.show import problem_record
from journal.reading import Batch

FORMAT = 1
#: Significant digits kept: far beyond any brewer's reading, and short of what machines, and versions of Python, differ in.
_DIGITS = 7
#: What is smaller is what is left of a difference of equal numbers: zero.
_NOTHING = 1e-9
#: What a formula begins with in the spreadsheets of the day.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def _rounded(value: Any) -> Any:
    """The same with every number in it to the digits that are kept."""
    if isinstance(value, float):
        return float(f"{value:.{_DIGITS}g}") if abs(value) >= _NOTHING else 0.0
    if isinstance(value, dict):
        return {key: _rounded(each) for key, each in value.items()}
    return [_rounded(each) for each in value] if isinstance(value, list) else value


def _unit(unit: str) -> str:
    # the pages tell these from a share only because they don't say them in per cent
    return "1" if unit in {"SG", "ratio"} else unit


def _fields(thing: object, *names: str) -> dict[str, Any]:
    """What is told of something under its own names."""
    return {name: getattr(thing, name) for name in names}


def _figure(result: Result) -> dict[str, Any]:
    return _fields(result, "value", "sd") | {"unit": _unit(result.unit)}


def _balance(balance: Balance) -> dict[str, Any]:
    verdict = balance.verdict
    return _fields(verdict, "status", "chi_square", "degrees_of_freedom", "p_value") | {
        "readings": [
            _fields(reading, "path", "recorded", "balanced", "sd") | {"strain": reading.measurement_test}
            for reading in verdict.readings
        ],
        "suspects": [suspect.path for suspect in verdict.suspects],
        "slip": balance.slip.code if balance.slip else None,
    }


def _known(**values: Any) -> dict[str, Any]:
    """What is known of it: what isn't is left out."""
    return {name: value for name, value in values.items() if value not in (None, "")}


def _grams(kg: float | None) -> float | None:
    return None if kg is None else 1000.0 * kg


def _recipe(record: Record, batch: Batch) -> dict[str, Any]:
    """What went in; `at` is the group of the entry where a hop or an addition stands, `min` how long it boiled or stood."""
    recipe = recipe_of(batch, record.journal.malts)
    return _known(
        grains=[_known(malt=grain.malt, kg=grain.weight, share=grain.share) for grain in recipe.grains],
        hops=[
            _known(hop=hop.hop, g=_grams(hop.weight), alpha=hop.alpha, at=hop.at, min=hop.minutes)
            for hop in recipe.hops
        ],
        additions=[
            _known(addition=added.addition, kg=added.weight, amount=added.written, at=added.at)
            for added in recipe.additions
        ],
        yeast=recipe.yeast,
    )


def _beer(record: Record, batch: Batch) -> dict[str, Any]:
    """The beer in plain numbers, as the pages show them first; the score as a share of the highest there is."""
    beer = beer_of(record, batch)
    figures = {
        "original_gravity": beer.original_gravity,
        "final_gravity": beer.final_gravity,
        "alcohol_by_volume": beer.alcohol_by_volume,
        "bitterness": beer.bitterness,
        "colour_ebc": beer.colour,
        "volume_l": beer.volume,
    }
    return _known(score=beer.score, **{name: found.value for name, found in figures.items() if found})


def _once(batch: Batch, name: str) -> bool:
    """Whether a figure is told with this batch: what two worts of one mash have together stands where the grist does."""
    return not (batch.second_wort_of and name in OF_THE_PAIR)


def _balanced(balance: Balance, batch: Batch) -> dict[str, Any]:
    expected = {
        name: _fields(foreseen, "value", "low", "high") | {"level": LEVEL, "from_batches": foreseen.batches}
        for name, foreseen in balance.foreseen.items()
        if foreseen.batches > 0
    }
    balanced = {name: _figure(result) for name, result in balance.figures.items() if _once(batch, name)}
    return {"balance": _balance(balance), "balanced": balanced, "expected": expected}


def _batch(record: Record, batch: Batch) -> dict[str, Any]:
    balance = record.balances.get(batch.id)
    figures = record.figures[batch.id].results
    problems = [problem_record(problem) for problem in record.problems_of(batch.file)]
    return (_balanced(balance, batch) if balance else {}) | {
        "batch": batch.id,
        "title": batch.title,
        "brewed": batch.day.isoformat(),
        "file": batch.file,
        "planned": batch.planned,
        "recipe": _recipe(record, batch),
        "beer": _beer(record, batch),
        "figures": {name: _figure(result) for name, result in figures.items() if _once(batch, name)},
        "problems": [{key: value for key, value in problem.items() if key != "file"} for problem in problems],
    }


def _course(course: FigureCourse) -> dict[str, Any]:
    def batch(index: int) -> str:
        return course.points[index].batch

    limits = _fields(course.limits, "centre", "lower", "upper") if course.limits else {}
    return limits | {
        "batches": len(course.points),
        "provisional": course.provisional,
        "signals": [{"batch": batch(s.index), "rule": s.rule, "text": s.text} for s in course.signals],
        "steps": [
            {"first_batch": batch(step.first)} | _fields(step, "change", "low", "high", "p_value")
            for step in course.steps
        ],
        "drift": course.drift and _fields(course.drift, "per_batch", "low", "high", "p_value"),
    }


def _lever(figure: str, result: LeverResult) -> dict[str, Any]:
    named = _fields(result, "lever", "group", "reference", "unit", "batches", "verdict")
    numbers = _fields(result, "effect", "low", "high", "judged_low", "judged_high", "p_value", "adjusted_p")
    return named | numbers | {"figure": figure, "level": LEVEL, "tangled_with": list(result.tangled_with)}


def _move(brewhouse: str, move: Move) -> dict[str, Any]:
    causes = [_fields(cause, "cause", "of", "size", "low", "high", "unit", "weight") for cause in move.causes]
    checks = list(checks_that_tell(move))
    return _fields(move, "first_batch", "last_batch") | {"brewhouse": brewhouse, "causes": causes, "to_check": checks}


def _gains(pays: Pays) -> dict[str, Any]:
    """Where a brewhouse's extract goes and what would bring more of it, shares of the grist's potential; money where prices are known."""
    losses = [
        _known(
            **_fields(loss, "place", "share", "low", "high", "money_a_year", "best_quarter", "physical"),
            kg_a_year=loss.malt_kg_a_year,
        )
        for loss in pays.losses
    ]
    changes = [
        _known(
            **_fields(change, "change", "at", "gain", "low", "high", "basis", "kg_a_year", "money_a_year", "minutes"),
            boil_off_l=change.boil_off,
        )
        for change in pays.changes
    ]
    practice = [
        _known(change=habit.advice, at=habit.at, basis="common practice", yours=habit.yours, usual=habit.usual)
        for habit in pays.handbook
        if habit.standing == "outside"
    ]
    into = pays.into_fermenter
    return {
        "brewhouse": pays.brewhouse,
        "batches": len(pays.batches),
        "level": LEVEL,
        "losses": losses,
        "into_fermenter": {"share": into.value, "low": into.low, "high": into.high},
        "changes": changes + practice,
    }


def _story(story: BrewhouseStory) -> dict[str, Any]:
    return {course.figure: _course(course) for course in story.courses}


def _history(record: Record) -> dict[str, Any]:
    """The courses and levers of the brewhouse with most batches, and each brewhouse's own under its key."""
    stories = record.history.brewhouses
    if not stories:
        return {"history": {}, "levers": []}
    levers = {
        story.record.key: [_lever(study.figure, result) for study in story.studies for result in study.results]
        for story in stories
    }
    first = stories[0]
    return {
        "history": _story(first),
        "levers": levers[first.record.key],
        "brewhouses": {s.record.key: {"history": _story(s), "levers": levers[s.record.key]} for s in stories},
    }


def _dumped(value: Any) -> str:
    return json.dumps(_rounded(value), ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def journal_json(record: Record, keys: Mapping[str, str] = MappingProxyType({}), memory: Memory = FORGETFUL) -> str:
    """Every batch with its figures and problems; JSON's keys sorted, the same bytes from the same journal.

    `keys`, by batch id, say what a batch's page hangs on: what is told of it here hangs on no more, and is recalled by them.
    """
    name = record.journal.brewery.name

    def told(batch: Batch) -> str:
        key = digest_of("journal.json", keys.get(batch.id, ""), batch.file)
        return (memory if batch.id in keys else FORGETFUL).recall(key, lambda: _dumped(_batch(record, batch)))

    rest = {
        "format": FORMAT,
        "brewery": {"name": name} if name else {},
        **_history(record),
        "moved": [_move(story.record.key, move) for story in record.history.brewhouses for move in story.moved.moves],
        "gains": [_gains(story.pays) for story in record.history.brewhouses if story.pays],
    }
    parts = {key: _dumped(value) for key, value in rest.items()}
    parts["batches"] = f"[{','.join(told(batch) for batch in record.batches)}]"
    return "{" + ",".join(f"{_dumped(key)}:{parts[key]}" for key in sorted(parts)) + "}\n"


def _text(text: str) -> str:
    """A cell of text: where a spreadsheet would take it for a formula, it gets the apostrophe that keeps it a text."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def batches_csv(record: Record) -> str:
    """A row a batch, a column a figure with its unit in the header: reconciled where the balance holds, else as recorded, else empty."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(
        ["batch", "title", "brewed", "planned", *(f"{f.name} [{_unit(f.unit)}]" for f in CATALOGUE.values())]
    )
    for batch in record.batches:
        best = (record.best(batch.id, name) if _once(batch, name) else None for name in CATALOGUE)
        cells = [f"{result.value:.{_DIGITS}g}" if result else "" for result in best]
        writer.writerow(
            [_text(batch.id), _text(batch.title or ""), batch.day.isoformat(), "yes" if batch.planned else "no", *cells]
        )
    return out.getvalue()
