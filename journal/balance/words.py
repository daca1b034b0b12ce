"""The verdict as a brewer would say it."""

from __future__ import annotations

from journal.balance.balance import Balance
from journal.balance.verdict import BROKEN, BROKEN_AT, CLOSES, STRAINED, Suspect, p_value
from journal.balance.went_in import WENT_IN
from journal.measures.wording import METRIC, Shown, plain, show
from journal.problems import capital
from journal.reading import Batch
from journal.reading.known_readings import BY_PATH

#: Below this a probability is not told by its number.
_LEAST_CHANCE = 0.001


def name_reading(path: str, batch: Batch) -> str:
    """A reading by its plain name, with what the brewer wrote."""
    reading = BY_PATH.get(path)
    if reading is None:
        return path
    written = batch.written(path)
    # what a brew has of its parts or of another stands in no line of its own
    return reading.with_value.format(written) if written or "{}" not in reading.with_value else f"the {reading.words}"


def show_reading(path: str, value: float, sd: float, system: str = METRIC) -> Shown:
    """A value of a reading of the balance, in the unit such a reading has."""
    return show(value, sd, BY_PATH[path].unit, system)


def amount(path: str, value: float, sd: float, system: str = METRIC) -> str:
    """The same as text."""
    return str(show_reading(path, value, sd, system))


def _show_needed(suspect: Suspect, system: str) -> str:
    return amount(suspect.path, suspect.needed, suspect.needed_sd, system)


def _accusation(balance: Balance, batch: Batch, system: str) -> list[str]:
    verdict = balance.verdict
    first = verdict.suspects[0]
    if balance.slip and balance.slip.code in WENT_IN:
        return [f"The readings don't fit together. {balance.slip.words}"]
    if verdict.alike > 1:
        pair = verdict.suspects[: verdict.alike]
        either = ", or ".join(name_reading(suspect.path, batch) for suspect in pair)
        needed = ", ".join(f"`{suspect.path}` would have to be {_show_needed(suspect, system)}" for suspect in pair)
        return [
            capital(f"{either}: one of them doesn't fit the rest, and the readings can't tell which."),
            capital(f"{needed}."),
        ]
    said = [
        capital(f"{name_reading(first.path, batch)} doesn't fit the rest."),
        f"{_show_needed(first, system)} would.",
    ]
    if balance.slip:
        said.append(balance.slip.words)
    elif balance.near_miss:
        said.append(f"{balance.near_miss.words.removesuffix('.')}; that isn't enough.")
    return said


def _the_rest(balance: Balance) -> str:
    verdict = balance.verdict
    left = p_value(verdict.suspects[0].chi_square, verdict.degrees_of_freedom - 1)
    if balance.slip and balance.slip.code in WENT_IN:
        return ""
    return (
        "Everything else agrees."
        if left >= BROKEN_AT
        else "Even without it the rest does not agree: more than one reading is off."
    )


#: What is expected of a brewhouse, in words and with its unit.
_EXPECTED = {
    "conversion": ("the mash converted {}", "1"),
    "water_held": ("the grain held {} of water by its weight", "1"),
    "shortfall": ("the run-off left {} of the dissolved extract behind, beyond what a well-mixed bed keeps", "1"),
    "boil_off": ("the boil drove off {}", "L/h"),
    "kettle_loss": ("the kettle kept {}", "L"),
}


def _change(changed: Suspect, suspects: tuple[Suspect, ...], batch: Batch, system: str) -> str:
    words, unit = _EXPECTED[changed.expected]
    now = show(changed.needed, changed.needed_sd, unit, system)
    usual = show(changed.recorded, changed.recorded_sd, unit, system)
    said = f"The readings agree if {words.format(now)}, where {usual} was to be expected: something may have changed."
    if not suspects:
        return said
    return f"{said} If nothing did, look at {name_reading(suspects[0].path, batch)}: {_show_needed(suspects[0], system)} would fit."


def chance(p: float) -> str:
    """A probability, 0 to 1, to the last digit that is shown of one; never one that is none at all."""
    return f"p = {plain(p, 3)}" if p >= _LEAST_CHANCE else f"p below {_LEAST_CHANCE}"


def sentence(balance: Balance, batch: Batch, system: str = METRIC) -> str:
    """What the balance says of a batch, in a few sentences."""
    verdict = balance.verdict
    if verdict.status == CLOSES:
        return "The readings agree with one another."
    if verdict.status == STRAINED and verdict.changed:
        return _change(verdict.changed, verdict.suspects, batch, system)
    if verdict.status == STRAINED:
        worst = max(verdict.readings, key=lambda reading: reading.measurement_test)
        in_a_hundred = plain(verdict.p_value * 100, 0)
        return (
            f"The readings agree only just: chance alone would do that in {in_a_hundred} of 100 batches. "
            f"{capital(name_reading(worst.path, batch))} is adjusted most, to {amount(worst.path, worst.balanced, worst.sd, system)}."
        )
    if verdict.status == BROKEN and verdict.suspects:
        return " ".join(part for part in [*_accusation(balance, batch, system), _the_rest(balance)] if part)
    if verdict.status == BROKEN:
        return "The readings contradict one another, and none of them can be singled out."
    return "Too few readings: nothing here checks anything else."


#: What the balance can't see, said on every page that shows one.
BLIND_SPOTS = (
    "A kettle read hot and written down as cold is 2 to 4 % off, which is near what the marks themselves are good for; "
    "until the brewery's own record is long, most of these pass unseen. An error that all readings share, a gallon that is not a "
    "gallon or a hydrometer that always reads high, agrees with itself and can't be found here at all."
)
