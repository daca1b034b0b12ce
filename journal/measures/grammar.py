"""`NUMBER [± NUMBER] UNIT [at TEMPERATURE]`, read strictly.

A decimal point, never a comma; a unit always, never guessed. Each refusal says what to write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from functools import lru_cache

from journal.measures.measure import Fault, Gravity, Measure, Scale
from journal.measures.number import (
    NUMBER,
    NUMBER_START,
    PLUS_MINUS,
    Cursor,
    NotAQuantity,
    decimal_comma,
    plain,
    read_number,
    read_uncertainty,
)
from journal.measures.units import IMPERIAL, TEMPERATURE, MeasureKind, by_imperial_gallon
from journal.problems import did_you_mean, in_words, nearest

#: 1,048 is a gravity with a decimal comma: no hydrometer shows thousands.
_COMMA_GRAVITY = re.compile(r"1,\d{3}(?!\d)")
_AT = re.compile(r"\s+at(?:\s+|$)")

#: Signs of a temperature that leave its scale open.
_BARE_DEGREES = {"°", "º", "˚", "deg", "degree", "degrees"}

#: What a hydrometer can show.
HYDROMETER_RANGE = (0.980, 1.200)
#: What a strength in °P or a refractometer's °Bx can be.
STRENGTH_RANGE = (-2.0, 60.0)
#: Liquid wort and beer at the pressure of the air, degC.
SAMPLE_RANGE = (-5.0, 110.0)

_STRENGTHS = {"°P": Scale.PLATO, "P": Scale.PLATO, "Plato": Scale.PLATO}
_STRENGTHS |= {"°Bx": Scale.BRIX, "Bx": Scale.BRIX, "Brix": Scale.BRIX}


#: What some call a unit, and how it is written here; no other word of two letters or fewer says which unit is meant.
_ALSO_CALLED = {"#": "lb", "lt": "L", "ltr": "L", "ea": "piece", "each": "piece", "count": "piece", "vial": "packet"}
_ALSO_CALLED |= dict.fromkeys(("pk", "pkg", "pkt", "pack", "package", "pouch", "sachet", "smack pack"), "packet")
#: Letters that a misspelt unit has, at least, and how alike it is to the one that it may be.
_FEWEST_LETTERS, _ALIKE = 3, 0.7
#: Units that a number without one is shown with, at most: the usual ones stand first.
_OFFERED = 5
#: The point of an abbreviation, as in `9 lb. 8 oz.`
_POINT = re.compile(r"\.(?!\d)")
#: What makes a unit's beginning of the unit before it.
_GOES_ON = re.compile(r"[^\W\d]|[°%/]")
_UNIT_WORD = re.compile(
    r"(?:(?:imp|US|UK)\s+)?(?:fl\.?|fluid)\s+[^\W\d]+|(?:imp|US|UK)\s+[^\s\d]+|deg\s+[CFcf]\b|[^\s\d]+"
)


def _choices(written: Iterable[str]) -> str:
    return in_words([text for text in written if text], "or")


def _all_units() -> dict[str, MeasureKind]:
    from journal.measures import units  # noqa: PLC0415  # only to word a refusal

    kinds = [kind for kind in vars(units).values() if isinstance(kind, MeasureKind) and not kind.difference]
    return {spelling: kind for kind in kinds for spelling in kind.written if spelling}


def unit_meant(word: str, kind: MeasureKind, number: str = "") -> str | None:
    """The unit of a kind that a word which is none may have been meant for; None where that would be a guess."""
    plain_word = word.rstrip(".").lower()
    called = _ALSO_CALLED.get(plain_word) or _ALSO_CALLED.get(plain_word.removesuffix("s"))
    if called in kind.written:
        several = f"{called}s"
        return (
            several
            if several in kind.written and kind.written[several] == "packet" and number.strip() != "1"
            else called
        )
    near = nearest(word, [each for each in kind.written if each[:1].lower() == word[:1].lower()])
    if near is None or near.lower() == word.lower():
        return near
    alike = SequenceMatcher(None, word.lower(), near.lower()).ratio() >= _ALIKE
    return near if len(word) >= _FEWEST_LETTERS and alike else None


def of_no_kind(fault: Fault, text: str, kinds: Sequence[MeasureKind]) -> Fault:
    """The refusal of a unit, or of none, where a quantity may be of several kinds: with an example of each."""
    wanted = in_words([kind.words for kind in kinds], "or")
    if fault.code == "unit-missing":
        return replace(fault, hint=f"A unit is never guessed: write {wanted}.")
    word = text[fault.start : fault.end]
    known = _all_units().get(word.rstrip("."))
    what = f"a unit of {known.name}" if known else "no unit that the journal knows here"
    return replace(fault, message=f"“{word}” is {what}", hint=f"Write {wanted}.")


def _unit_refused(word: str, kind: MeasureKind, start: int, end: int, before: str) -> NotAQuantity:
    others = _all_units()
    usual = _choices(dict.fromkeys(kind.spelling(unit) for unit in kind.written.values()))
    strengths = {**_STRENGTHS, "SG": Scale.HYDROMETER}
    spelt = word.rstrip(".")
    if spelt in others or spelt in strengths:
        what = others[spelt].name if spelt in others else "gravity"
        return NotAQuantity(
            "unit-wrong-kind",
            f"“{word}” is a unit of {what}, and this must be a {kind.name}",
            f"Write a {kind.name} in {usual}, such as {kind.example}.",
            start,
            end,
        )
    if kind.name == TEMPERATURE.name and word in _BARE_DEGREES:
        hint = f"A unit is never guessed: write {before}°C or {before}°F."
        return NotAQuantity("unit-unknown", f"“{word}” does not say of which scale", hint, start, end)
    near = unit_meant(word, kind, before)
    hint = f"Did you mean {before}{near}?" if near else f"Write it in {usual}, such as {kind.example}."
    return NotAQuantity("unit-unknown", f"“{word}” is no unit of {kind.name} that the journal knows", hint, start, end)


def _unit(cursor: Cursor, kind: MeasureKind, number: str) -> str:
    cursor.skip_space()
    rest = cursor.text[cursor.at :]
    for spelling in kind.longest_first:
        if spelling and rest.startswith(spelling) and not _GOES_ON.match(rest, len(spelling)):
            cursor.at += len(spelling)
            if spelling[-1].isalpha():
                cursor.take(_POINT)
            return kind.written[spelling]
    if "" in kind.written and (not rest or _AT.match(" " + rest)):
        cursor.at = len(cursor.text[: cursor.at].rstrip())
        return kind.written[""]
    if not rest or _AT.match(" " + rest) or PLUS_MINUS.match(rest):
        raise NotAQuantity(
            "unit-missing",
            f"“{number}” has no unit",
            "A unit is never guessed: write "
            + _choices(
                f"{number} {kind.spelling(unit)}" for unit in list(dict.fromkeys(kind.written.values()))[:_OFFERED]
            )
            + ".",
            max(0, cursor.text.rfind(number, 0, cursor.at)),
            cursor.at if rest else len(cursor.text),
        )
    word = _UNIT_WORD.match(rest)
    end = cursor.at + (word.end() if word else len(rest))
    if kind.written == {"": "fraction"}:
        raise NotAQuantity(
            "unit-wrong-kind",
            f"“{rest}” follows the number, and no unit belongs there",
            f"Write {number}.",
            cursor.at,
            len(cursor.text),
        )
    raise _unit_refused(cursor.text[cursor.at : end], kind, cursor.at, end, f"{number} ")


def _sample_temperature(cursor: Cursor) -> float | None:
    if not cursor.take(_AT):
        return None
    start = cursor.at
    value = read_number(cursor, "25 L at 65 degC")
    if PLUS_MINUS.match(cursor.text, cursor.at):
        raise NotAQuantity(
            "uncertainty-misplaced",
            "a sample's temperature takes no ±",
            f"Write at {plain(value)} degC or degF; the thermometer's own uncertainty counts.",
            cursor.at,
            len(cursor.text),
        )
    unit = _unit(cursor, TEMPERATURE, cursor.text[start : cursor.at])
    celsius = TEMPERATURE.to_kept(value, unit)
    low, high = SAMPLE_RANGE
    if not low <= celsius <= high:
        written = cursor.text[start : cursor.at]
        other = "degF" if unit == "celsius" else "degC"
        raise NotAQuantity(
            "number-out-of-range",
            f"no wort is liquid at {written}",
            f"Is it {plain(value)} {other}?",
            start,
            cursor.at,
        )
    return celsius


def _compound(cursor: Cursor, kind: MeasureKind, unit: str, total: float) -> tuple[float, bool]:
    """What follows the first number and unit of a compound such as `9 lb 8 oz`.

    The sum in kept units, and whether any did.
    """
    followed = False
    while unit in kind.compound and not cursor.done and not _AT.match(cursor.text, cursor.at):
        cursor.skip_space()
        start = cursor.at
        if not NUMBER_START.match(cursor.text, start):
            break
        number = read_number(cursor, kind.example)
        written = cursor.text[start : cursor.at]
        smaller = _unit(cursor, kind, written)
        if smaller not in kind.compound[kind.compound.index(unit) + 1 :]:
            raise NotAQuantity(
                "unit-wrong-kind",
                f"“{cursor.text}” does not go from the larger unit to the smaller",
                "Write the larger unit first, such as 9 lb 8 oz or 1 h 30 min.",
                start,
                cursor.at,
            )
        total += kind.to_kept(number, smaller)
        unit, followed = smaller, True
    return total, followed


def _in_range(value: float, kind: MeasureKind, number: float, text: str, zero: bool) -> None:
    above_low = value >= kind.low if kind.zero else value > 0 or (zero and value == 0)
    above_low = above_low and (number >= 0 or kind.negative)
    if above_low and value <= kind.high:
        return
    if kind.name == TEMPERATURE.name:
        message, hint = f"{text} can't be meant here", "Check the unit: degC or degF?"
    elif number <= 0:
        message, hint = (
            "it can't be below 0" if zero or kind.zero else "it has to be above 0",
            f"Leave the field out if it was not measured; else write it like this: {kind.example}.",
        )
    else:
        message, hint = f"{text} is more than a {kind.name} can be", f"Write it like this: {kind.example}."
    raise NotAQuantity("number-out-of-range", message, hint, 0, len(text))


def _nothing_left(cursor: Cursor, example: str) -> None:
    cursor.skip_space()
    if cursor.done:
        return
    rest = cursor.text[cursor.at :]
    late = re.match(r"(?:±|\+/-)\s*([\d.]+)", rest)
    first = NUMBER.match(cursor.text)
    if late and first:
        unit = cursor.text[first.end() : cursor.at].strip()
        code, message = "uncertainty-misplaced", "the ± stands between the number and its unit"
        hint = f"Write {first[0]} ± {late[1]} {unit}".rstrip() + "."
    else:
        code, message = "number-unreadable", f"“{rest}” is left over after the quantity"
        hint = f"Write it like this: {example}."
    raise NotAQuantity(code, message, hint, cursor.at, len(cursor.text))


def _measure(text: str, kind: MeasureKind, zero: bool) -> Measure:
    cursor = Cursor(text)
    number = read_number(cursor, kind.example)
    written = text[: cursor.at]
    sd = read_uncertainty(cursor, kind.example)
    unit = _unit(cursor, kind, written)
    value, followed = _compound(cursor, kind, unit, kind.to_kept(number, unit))
    if followed and sd is not None:
        raise NotAQuantity(
            "uncertainty-misplaced",
            "a weight or time in two units takes no ±",
            "Write it in one unit, such as 9.5 ± 0.1 lb.",
            0,
            len(text),
        )
    before_at = cursor.at
    at = _sample_temperature(cursor)
    if at is not None and not kind.at:
        raise NotAQuantity(
            "temperature-misplaced",
            f"{kind.called} does not change with a sample's temperature",
            f"Write {text[:before_at]}.",
            before_at,
            cursor.at,
        )
    _nothing_left(cursor, kind.example)
    _in_range(value, kind, number, text, zero)
    scale = kind.to_kept(1.0, unit) - kind.to_kept(0.0, unit)
    return Measure(value, unit, None if sd is None else sd * scale, at)


def _hydrometer(value: float, text: str, end: int) -> None:
    low, high = HYDROMETER_RANGE
    if low <= value <= high:
        return
    hint = "Write what the hydrometer shows, such as 1.048; strengths need their unit, such as 12 °P."
    # a number that is whole did not lose its place for the point
    slip = next(
        (power for power in (1000, 100, 10) if low * power <= value <= high * power and (power == 1000 or value % 1)), 0
    )
    if slip == 10:
        hint = f"Write {value / 10:.5g} if the point slipped, {plain(value)} °P or {plain(value)} °Bx for a strength."
    elif slip:
        hint = f"Write {value / slip:.5g} instead." if value != slip else "Write 1.000 instead."
    elif 10 <= value < 100:
        hint = f"Write 1.{value:03.0f} for degrees of gravity, {plain(value)} °P or {plain(value)} °Bx for a strength."
    raise NotAQuantity("number-out-of-range", f"{text} is no gravity a hydrometer shows", hint, 0, end)


#: Texts that are remembered with what they mean: of a journal's quantities most stand in it before, and no text means two things.
_REMEMBERED = 4096
_GRAVITY_EXAMPLE = "1.048, 12.0 °P or 12.4 °Bx"


def _scale(cursor: Cursor) -> Scale:
    """The scale whose sign stands here; none stands after what a hydrometer shows."""
    cursor.skip_space()
    word = re.match(r"[^\s\d]+", cursor.text[cursor.at :])
    if not word or word[0] == "at":
        return Scale.HYDROMETER
    if word[0] not in _STRENGTHS:
        known = _all_units().get(word[0])
        raise NotAQuantity(
            "unit-wrong-kind" if known else "unit-unknown",
            f"“{word[0]}” is a unit of {known.name}, and this must be a gravity"
            if known
            else f"“{word[0]}” is no unit of gravity",
            did_you_mean(word[0], _STRENGTHS, f"Write it like this: {_GRAVITY_EXAMPLE}."),
            cursor.at,
            cursor.at + word.end(),
        )
    cursor.at += word.end()
    return _STRENGTHS[word[0]]


def _gravity_temperature(cursor: Cursor, scale: Scale) -> float | None:
    """The sample's temperature, degC, where one stands here; only a hydrometer's reading takes one."""
    before = cursor.at
    # `at` may follow the number at once, the unit being none
    if scale is Scale.HYDROMETER and cursor.text[cursor.at : cursor.at + 2] == "at":
        cursor.at = len(cursor.text[: cursor.at].rstrip())
    at = _sample_temperature(cursor)
    if at is not None and scale is not Scale.HYDROMETER:
        why = "a refractometer compensates for it" if scale is Scale.BRIX else "Plato is a strength, not a reading"
        raise NotAQuantity(
            "temperature-misplaced",
            f"{scale.value} takes no temperature: {why}",
            f"Write {cursor.text[:before].strip()}.",
            before,
            cursor.at,
        )
    return at


def _gravity(text: str) -> Gravity:
    cursor = Cursor(text)
    if comma := _COMMA_GRAVITY.match(text):
        raise decimal_comma(comma)
    value = read_number(cursor, _GRAVITY_EXAMPLE)
    end = cursor.at
    sd = read_uncertainty(cursor, _GRAVITY_EXAMPLE)
    scale = _scale(cursor)
    at = _gravity_temperature(cursor, scale)
    _nothing_left(cursor, _GRAVITY_EXAMPLE)
    if scale is Scale.HYDROMETER:
        _hydrometer(value, text, end)
    elif not STRENGTH_RANGE[0] <= value <= STRENGTH_RANGE[1]:
        raise NotAQuantity(
            "number-out-of-range",
            f"{text} can't be a strength of wort or beer",
            f"Write it like this: {_GRAVITY_EXAMPLE}.",
            0,
            end,
        )
    return Gravity(value, scale, sd, at)


@lru_cache(_REMEMBERED)
def read_measure(text: str, kind: MeasureKind, zero: bool = False, gallon: str = "") -> Measure | Fault:
    """A quantity of a kind, in the unit the kind keeps; or what is wrong with the text, which must be stripped already.

    `zero` says that a plain 0 makes sense here, as for a sparge that was left out. `gallon` is what a bare `gal` is to this
    brewer: `imperial`, or else the US gallon.
    """
    if gallon == IMPERIAL:
        kind = by_imperial_gallon(kind)
    try:
        return _measure(text, kind, zero)
    except NotAQuantity as refused:
        return refused.fault


@lru_cache(_REMEMBERED)
def read_gravity(text: str) -> Gravity | Fault:
    """A gravity on the scale it was read on; or what is wrong with the text, which must be stripped already."""
    try:
        return _gravity(text)
    except NotAQuantity as refused:
        return refused.fault
