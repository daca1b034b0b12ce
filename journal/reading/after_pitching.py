"""What an entry must be from pitching to the glass: readings in order, a package that can be judged, scores with a scale."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time

from journal.problems import Problem
from journal.reading.entry import Batch, Reading
from journal.reading.table import is_blank


def check_after_pitching(batch: Batch) -> Iterator[Problem]:
    """Every problem of readings, package and tastings that the fields alone don't show."""
    yield from _before_pitching(batch)
    yield from _at_once(batch)
    yield from _packaged_too_early(batch)
    yield from _priming(batch)
    yield from _scores(batch)


def _before_pitching(batch: Batch) -> Iterator[Problem]:
    pitched = batch.fermenter.pitched
    for index, reading in enumerate(batch.readings):
        # one that lies before the day of brewing is told of as such
        if pitched and reading.at and reading.at < pitched and not (batch.brewed and reading.at.date() < batch.brewed):
            path = f"readings[{index}].at"
            message = f"`{path}` is {reading.at:%Y-%m-%d %H:%M}, before the yeast was pitched"
            hint = "Check both times; the wort's own gravity stands under `fermenter`."
            place, other = batch.place(path), batch.place("fermenter.pitched")
            yield Problem("dates-disorder", message, hint, place, expected_by=other)


def _in_common(one: Reading, other: Reading) -> str | None:
    """The field that two readings both have, by the same instrument."""
    if one.gravity and other.gravity and one.gravity.scale is other.gravity.scale:
        return "gravity"
    return next((name for name in ("temperature", "ph") if getattr(one, name) and getattr(other, name)), None)


def _at_once(batch: Batch) -> Iterator[Problem]:
    seen: dict[datetime, int] = {}
    for index, reading in enumerate(batch.readings):
        if reading.at is None:
            continue
        first = seen.setdefault(reading.at, index)
        field = None if first == index else _in_common(batch.readings[first], reading)
        if field:
            message = f"`readings[{index}]` and `readings[{first}]` are two readings of {field} at one time"
            hint = "Correct the time of one, or keep the one you trust."
            place, other = batch.place(f"readings[{index}].at"), batch.place(f"readings[{first}].at")
            yield Problem("readings-at-once", message, hint, place, expected_by=other)


def _packaged_too_early(batch: Batch) -> Iterator[Problem]:
    package = batch.package
    # a date before the day of brewing is told of as such
    if package.on is None or (batch.brewed and package.on < batch.brewed):
        return
    ended = datetime.combine(package.on, time.max)
    pitched = batch.fermenter.pitched
    moments = [("fermenter.pitched", pitched)]
    moments += [(f"readings[{index}].at", reading.at) for index, reading in enumerate(batch.readings)]
    late = [(at, path) for path, at in moments if at and at > ended]
    if late:
        at, path = max(late)
        message = f"`package.on` is {package.on}, before `{path}` on {at.date()}"
        yield Problem(
            "dates-disorder", message, "Check both dates.", batch.place("package.on"), expected_by=batch.place(path)
        )


def _priming(batch: Batch) -> Iterator[Problem]:
    package = batch.package
    if not is_blank(package.priming) and package.container is None:
        message = "`package.priming` is stated, but not what the beer was put into"
        hint = "Add container: bottles, keg or cask; each takes a different pressure."
        yield Problem("container-missing", message, hint, batch.place("package.priming"))


def _scores(batch: Batch) -> Iterator[Problem]:
    for index, tasting in enumerate(batch.tasting):
        path = f"tasting[{index}].score"
        if tasting.score is None:
            continue
        if tasting.out_of is None:
            message = f"`{path}` does not say what it is out of"
            yield Problem("score-without-scale", message, "Add out_of, such as out_of: 50.", batch.place(path))
        elif tasting.score.value > tasting.out_of.value:
            message = f"`{path}` is {tasting.score.value:g}, and the highest is {tasting.out_of.value:g}"
            hint = "Check `score` and `out_of`."
            other = batch.place(f"tasting[{index}].out_of")
            yield Problem("number-out-of-range", message, hint, batch.place(path), expected_by=other)
