"""Dates that are written otherwise than year-month-day: which days they may be."""

from __future__ import annotations

import re
from datetime import date, datetime

#: A date in three numbers, or with the month's name, and perhaps a time behind it.
_NUMBERS = re.compile(r"(\d{1,4})[/.\- ]+(\d{1,2})[/.\- ]+(\d{2}|\d{4})\.?(?:[ T,]+(\d{1,2}:\d{2}))?")
_NAMED = ("%d %B %Y", "%d %b %Y", "%B %d %Y", "%b %d %Y")


def other_dates(text: str) -> list[str]:
    """The dates a text may stand for, each as year-month-day with the time behind it as it stands there; none where it is no date.

    Of two numbers below 13 either may be the month, so there are two; a year in two digits is of this century.
    """
    found = _NUMBERS.fullmatch(text)
    if not found:
        return _named(text)
    first, second, third = (int(found[n]) for n in (1, 2, 3))
    if len(found[1]) == 4:
        orders = [(first, second, third)]
    else:
        year = third if len(found[3]) == 4 else 2000 + third
        orders = [(year, first, second), (year, second, first)]
    days = [day for order in orders if (day := _day(*order))]
    return [f"{day}{f' {found[4]:0>5}' if found[4] else ''}" for day in dict.fromkeys(days)]


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _named(text: str) -> list[str]:
    plain = " ".join(re.sub(r"(?<=\d)(?:st|nd|rd|th)\b|[.,]", " ", text).split())
    for form in _NAMED:
        try:
            return [f"{datetime.strptime(plain, form):%Y-%m-%d}"]  # a day has no zone
        except ValueError:
            continue
    return []
