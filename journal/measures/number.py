"""Plain decimal numbers in a brewer's text, and what to say of those that are written otherwise."""

from __future__ import annotations

import re
from dataclasses import dataclass
from unicodedata import numeric

from journal.measures.measure import Fault

NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)")
#: `9 1/2`, `9-1/2`, `1/2`, `9 ½`, `½`: halves to sixteenths, as weights and spoons are marked.
_SIGNS, _GAP = "½¼¾⅓⅔⅛⅜⅝⅞", "[ \\u00a0\\u2009]"
_FRACTION = re.compile(
    rf"(?:(?P<whole>\d+)(?:{_GAP}|-|(?=[{_SIGNS}])))?"
    rf"(?:(?P<top>\d{{1,2}})/(?P<bottom>\d{{1,2}})(?![\d/.,])|(?P<sign>[{_SIGNS}]))"
)
#: Where a number may begin.
NUMBER_START = re.compile(rf"\d|\.\d|[{_SIGNS}]")
_COMMA = re.compile(r"[+-]?\d+,\d+")
_SEPARATORS = "\u00a0\u2009\u202f '’_"
_GROUPED = re.compile(
    rf"[+-]?[1-9]\d{{0,2}}(?:(?P<mark>[,{_SEPARATORS}])\d{{3}})(?:(?P=mark)\d{{3}})*(?:[.,]\d+)?(?!\d)"
)
#: A point between thousands shows itself by the comma after it, or by standing twice.
_POINTED = re.compile(r"[+-]?\d{1,3}(?:(?:\.\d{3})+,\d+|(?:\.\d{3}){2,}(?!\d))")
_NOT_FINITE = re.compile(r"[+-]?\.?(?:nan|inf(?:inity)?)\b", re.IGNORECASE)
_EXPONENT = re.compile(r"[+-]?[\d.]+[eE][+-]?\d+")
#: Words and signs that say “about” before a number.
_ABOUT = re.compile(r"(?:[~≈∼]|(?:about|approx(?:imately)?|around|circa|ca|c)\b\.?)\s*(?=[\d.])", re.IGNORECASE)
PLUS_MINUS = re.compile(r"\s*(?:±|\+/-)\s*")
_SPACE = re.compile(r"\s*")


class NotAQuantity(Exception):  # noqa: N818  # never leaves the reading of one text
    """Why a text is no quantity, while it is being read."""

    def __init__(self, code: str, message: str, hint: str, start: int, end: int) -> None:
        super().__init__(message)
        self.fault = Fault(code, message, hint, start, end)


@dataclass
class Cursor:
    """How far a text has been read."""

    text: str
    at: int = 0

    def skip_space(self) -> None:
        """Go past white space, if any stands here."""
        match = _SPACE.match(self.text, self.at)
        self.at = match.end() if match else self.at

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Go past what a pattern matches here; None where it does not."""
        match = pattern.match(self.text, self.at)
        if match:
            self.at = match.end()
        return match

    @property
    def done(self) -> bool:
        """Whether nothing is left."""
        return self.at >= len(self.text)


def plain(number: float) -> str:
    """A number as a brewer would write it."""
    return f"{number:.10g}"


def decimal_comma(match: re.Match[str]) -> NotAQuantity:
    """The refusal of a number with a decimal comma."""
    return NotAQuantity(
        "decimal-comma",
        f"“{match[0]}” has a decimal comma",
        f"Write {match[0].replace(',', '.')} with a decimal point.",
        match.start(),
        match.end(),
    )


def _thousands(match: re.Match[str], pointed: bool) -> NotAQuantity:
    bare = re.sub(f"[{_SEPARATORS}]", "", match[0])
    either = ""
    if pointed:
        whole = bare.replace(".", "").replace(",", ".")
    elif match["mark"] != ",":
        whole = bare.replace(",", ".")
    else:
        whole = bare.replace(",", "")
        if bare.count(",") == 1 and "." not in bare:
            either = f", or {bare.replace(',', '.')} if the comma is a decimal sign"
    return NotAQuantity(
        "thousands-separator",
        f"“{match[0]}” has a separator between thousands",
        f"Write {whole}{either}.",
        match.start(),
        match.end(),
    )


def _fraction(match: re.Match[str]) -> float | None:
    """The number that a fraction stands for, alone or behind a whole one; None where it is no proper one."""
    whole = int(match["whole"] or 0)
    if match["sign"]:
        return whole + numeric(match["sign"])
    top, bottom = int(match["top"]), int(match["bottom"])
    return whole + top / bottom if 0 < top < bottom <= 16 else None


def _with_uncertainty(text: str) -> str:
    """A quantity with a ± of its last digit, as an example of one."""
    number = NUMBER.match(text)
    digits = len(number[0].partition(".")[2]) if number else 0
    return f"{number[0]} ± {10.0**-digits:.{digits}f}{text[number.end() :]}" if number else text


def read_number(cursor: Cursor, example: str) -> float:
    """The number that stands here; raises `NotAQuantity` with `example` as what to write."""
    start = cursor.at
    if (match := _FRACTION.match(cursor.text, start)) and (fraction := _fraction(match)) is not None:
        cursor.at = match.end()
        return fraction
    if match := _POINTED.match(cursor.text, start):
        raise _thousands(match, pointed=True)
    if match := _GROUPED.match(cursor.text, start):
        raise _thousands(match, pointed=False)
    if match := _COMMA.match(cursor.text, start):
        raise decimal_comma(match)
    if match := _NOT_FINITE.match(cursor.text, start) or _EXPONENT.match(cursor.text, start):
        raise NotAQuantity(
            "number-unreadable",
            f"“{match[0]}” is not a plain finite number",
            f"Write a number as in {example}.",
            start,
            match.end(),
        )
    if (about := _ABOUT.match(cursor.text, start)) and (rest := cursor.text[about.end() :]):
        raise NotAQuantity(
            "number-unreadable",
            f"“{about[0].strip()}” says that it is not exact, and not how far off it may be",
            f"Write {rest}; or, where you know how far off it may be, with a ± as in {_with_uncertainty(rest)}.",
            start,
            about.end(),
        )
    found = cursor.take(NUMBER)
    if not found:
        raise NotAQuantity(
            "number-unreadable",
            f"“{cursor.text}” does not start with a number" if cursor.at == 0 else "a number is missing here",
            f"Write it like this: {example}.",
            start,
            len(cursor.text),
        )
    value = float(found[0])
    if abs(value) > 1e12:
        raise NotAQuantity(
            "number-out-of-range", f"{found[0]} can't be meant", f"Write it like this: {example}.", start, found.end()
        )
    return value


def read_uncertainty(cursor: Cursor, example: str) -> float | None:
    """The number behind a ± that stands here, above 0; None where none does."""
    if not cursor.take(PLUS_MINUS):
        return None
    start = cursor.at
    sd = read_number(cursor, example)
    if sd <= 0:
        raise NotAQuantity(
            "number-out-of-range",
            "an uncertainty has to be above 0",
            "Leave the ± out where you don't know it; the instrument's own then counts.",
            start,
            cursor.at,
        )
    return sd
