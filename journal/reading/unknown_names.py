"""Names of malts and additions that nothing is known of, and what comes nearest to them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from journal.problems import Problem, in_words, nearest
from journal.reading.entry import Batch, Grain, LabValues
from journal.reading.kinds import Sort, ingredient_named, nearest_names
from journal.reading.malts import Malts, resolve

#: Every group of an entry that may hold additions, in the order of the work.
ADDED_TO = ("mash", "lauter", "boil.before", "boil", "stand", "fermenter", "package")
#: Lots of one malt that are named, at most.
_LOTS = 3
_MASHED = (Sort.MALT, Sort.GRAIN, Sort.SUGAR, Sort.FRUIT)


def find_unknown_names(batch: Batch, malts: Malts) -> Iterator[Problem]:
    """Every malt and every addition whose extract nobody can know by its name, its sheet or its line."""
    for index, grain in enumerate(batch.grains):
        path = f"grains[{index}]"
        if grain.malt is not None and not resolve(grain, path, malts).has_extract:
            yield _malt(batch, grain, path, malts)
    for path, line in additions(batch):
        if line.addition is not None and not _addition_known(line, path, malts):
            yield _addition(batch, line, path, malts)


def additions(batch: Batch) -> Iterator[tuple[str, Any]]:
    """Every addition of an entry with its path, in the order of the work."""
    for group in ADDED_TO:
        held: Any = batch
        for name in group.split("."):
            held = getattr(held, name, None)
        for index, line in enumerate(getattr(held, "additions", ())):
            yield f"{group}.additions[{index}]", line


def _near(named: str, malts: Malts, *sorts: Sort) -> str:
    called = _called(named, malts)
    key = nearest(named, malts.by_key)
    near = called or [*([key] if key else []), *nearest_names(named, *sorts)]
    return in_words(list(dict.fromkeys(near)), "or")


def _called(named: str, malts: Malts) -> list[str]:
    """The keys of the lots whose sheet bears a name, as the pages show it: the latest written first, a few of them."""
    names = {sheet.name for sheet in malts.by_key.values() if sheet.name}
    name = nearest(named, names)
    return [key for key, sheet in reversed(malts.by_key.items()) if name and sheet.name == name][:_LOTS]


def _malt(batch: Batch, grain: Grain, path: str, malts: Malts) -> Problem:
    named, place = grain.malt or "", batch.place(f"{path}.malt")
    if named in malts.by_key:
        message = f"malts.yaml states no extract of {named} and names no kind, so nothing is calculated with it"
        hint = f"Write `extract` or `kind` under {named}: there; `wortbook fields kind` lists the kinds."
        return Problem("malt-without-extract", message, hint, place)
    near = _near(named, malts, *_MASHED)
    hint = f"Did you mean {near}? If not, describe" if near else "Describe"
    hint = f"{hint} it in malts.yaml, give its `extract` here, or name a kind; `wortbook fields malt` lists those."
    message = f"“{named}” is no malt of malts.yaml and no kind of grain, and its extract is not given"
    return Problem("malt-unknown", message, hint, place)


def _addition_known(line: Any, path: str, malts: Malts) -> bool:
    if isinstance(line, LabValues):
        return resolve(line, path, malts).has_extract
    return line.addition in malts.by_key or ingredient_named(line.addition) is not None


def _hops_beside(path: str) -> str:
    """Where hops stand that were written among the additions; empty where none go in."""
    group = path.partition(".")[0]
    return f"{group}.hops" if group in {"mash", "boil", "stand", "fermenter"} else ""


def _addition(batch: Batch, line: Any, path: str, malts: Malts) -> Problem:
    named, place = line.addition, batch.place(f"{path}.addition")
    near = _near(named, malts)
    question = f"Did you mean {near}? If not, write" if near else "Write"
    if isinstance(line, LabValues):
        what = f"malts.yaml states no extract of {named}" if named in malts.by_key else f"nothing is known of “{named}”"
        message = f"{what}, and its extract is not stated here"
        hint = f"{question} what it brings: extract_as_is: 70 %, or extract_as_is: 0 % if it brings none."
        if hops := _hops_beside(path):
            hint += f" Hops stand in `{hops}`."
        if path.startswith(("mash.", "lauter.")):
            message += "; as a salt or an acid it can't count in the water's sums, which are missing"
            hint += " A salt or acid goes by its own name, such as gypsum; `wortbook fields addition` lists them."
    else:
        message = f"“{named}” is no salt, acid or other addition that the journal knows"
        question = f"Did you mean {near}?" if near else ""
        hint = f"{question} `wortbook fields addition` lists what is known by name.".strip()
    return Problem("addition-unknown", message, hint, place)
