"""What the record says, as plain text."""

from __future__ import annotations

import math
from collections.abc import Iterator

from journal.figures import CATALOGUE
from journal.history.compare import Comparison, FigureDifference, Split
from journal.history.settings import Setting, lever_of
from journal.measures.wording import METRIC, plain, show, show_difference, signed
from journal.problems import in_words


def setting_text(lever: str, setting: Setting | None, system: str = METRIC) -> str:
    """A setting as a brewer reads it; `not recorded` where there is none."""
    if setting is None:
        return "not recorded"
    if isinstance(setting, bool):
        return "yes" if setting else "no"
    if isinstance(setting, str):
        return setting
    unit = lever_of(lever).unit
    return str(show(setting, 0.0, unit, system)) if unit else f"{setting:g}"


def lever_label(lever: str) -> str:
    """A lever's name as words."""
    return lever_of(lever).label or lever.replace("_", " ")


def difference_text(outcome: FigureDifference, system: str = METRIC) -> str:
    """A difference with its sign, its uncertainty and its unit; efficiencies differ by points."""
    return str(show_difference(outcome.difference, outcome.sd, outcome.unit, system))


def split_text(split: Split) -> str:
    """A split in one sentence, in points of a hundred; that they are rounded is said where the shown ones don't add up."""
    whole, first, second = (
        round(value * 100, 1) for value in (split.difference, split.first_value, split.second_value)
    )

    def points(value: float) -> str:
        return signed(plain(value, 1))

    rounded = "" if math.isclose(first + second, whole, abs_tol=0.05) else " (rounded)"
    return (
        f"{split.what}: {points(whole)} points, of it by {split.first_part} {points(first)} "
        f"and by {split.second_part} {points(second)}{rounded}"
    )


def made_of_text(found: Comparison) -> str:
    """What the difference of extract is made of, the largest part first, and what of it is more than chance; empty where it isn't known."""
    made = found.made_of
    if made is None:
        return ""
    whole = round(100 * made.difference, 1)
    parts = in_words([f"{part.step} {signed(plain(100 * part.value, 1))}" for part in made.by_size])
    size = f"{plain(abs(whole), 1)} points {'more' if whole > 0 else 'less'}" if whole else "as much"
    rounded = " (rounded)" if round(sum(round(100 * part.value, 1) for part in made.parts) - whole, 1) else ""
    beyond = [f"the {part.step}" for part in made.by_size if part.more_than_chance]
    chance = f"More than chance: {in_words(beyond)}." if beyond else "None of it is more than chance."
    return (
        f"Batch {found.second} brought {size} of its malt’s weight into the fermenter as extract "
        f"{'than' if whole else 'as'} batch {found.first}: {parts}{rounded}. {chance}"
    )


def name_of(found: Comparison, batch: str) -> str:
    """`batch 26`, and that it is doubtful where it is."""
    return f"batch {batch} (doubtful)" if batch in found.broken else f"batch {batch}"


def comparison_text(found: Comparison, system: str = METRIC) -> str:
    """A comparison for the terminal."""
    return "\n".join(_comparison(found, system))


def broken_text(found: Comparison) -> str:
    """Why efficiencies are not compared; empty where they are."""
    if not found.broken:
        return ""
    of = " and ".join(f"batch {each}" for each in found.broken)
    return f"The readings of {of} contradict one another, so efficiencies, boil-off and wort held are not compared."


def _comparison(found: Comparison, system: str) -> Iterator[str]:
    yield f"{name_of(found, found.first)} and {name_of(found, found.second)}"
    if found.broken:
        yield f"\n{broken_text(found)}"
    if found.made_of:
        yield f"\n{made_of_text(found)}"
    yield "\nwhat differed in practice"
    if not found.practice:
        yield "  nothing that was recorded"
    for differing in found.practice:
        first, second = (setting_text(differing.lever, s, system) for s in (differing.first, differing.second))
        yield f"  {lever_label(differing.lever):<20} {first}  →  {second}"
    yield "\nwhat differed in result"
    for outcome in found.outcomes:
        got = [str(show(r.value, r.sd, r.unit, system)) for r in (outcome.first, outcome.second)]
        verdict = "more than chance" if outcome.more_than_chance else "may be chance"
        difference = difference_text(outcome, system)
        yield f"  {CATALOGUE[outcome.name].label:<22} {got[0]:<18} {got[1]:<18} {difference:<20} {verdict}"
    if found.splits:
        yield ""
    for split in found.splits:
        yield f"  {split_text(split)}"
    yield "\nWhat changed together can’t be separated here, and what goes together need not be cause and effect."
