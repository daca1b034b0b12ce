"""What readings and figures are called on the pages."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime
from functools import cache

from journal.figures import CATALOGUE
from journal.pages.model import When
from journal.problems import capital
from journal.reading.known_readings import BY_PATH

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

#: Figures whose name alone does not read as words.
_FIGURES = {
    "mash_ph": "mash pH",
    "boil_off": "boil-off",
    "boil_gain": "difference of the kettle readings",
    "diastatic_power_lintner": "diastatic power, Lintner",
    "gravity_level_for": "time at level gravity",
    "minutes_beta_glucanase": "minutes for beta-glucanase",
    "minutes_protease": "minutes for proteases",
    "minutes_beta_amylase": "minutes for beta-amylase",
    "minutes_alpha_amylase": "minutes for alpha-amylase",
}


def with_article(words: str) -> str:
    """`the volume at knockout`, for words without an article of their own."""
    return words if words.startswith(("the ", "a ", "at least ", "readings ")) else f"the {words}"


@cache
def figure_words(name: str) -> str:
    """What a figure is called."""
    return _FIGURES.get(name, CATALOGUE[name].label)


def in_order_of_work(paths: Iterable[str]) -> tuple[str, ...]:
    """Readings as they come in a brewer's day, each once."""
    stages = list(BY_PATH)
    order = {path: stages.index(path) if path in BY_PATH else _stage(path, stages) for path in paths}
    return tuple(sorted(order, key=lambda path: (order[path], path)))


def _stage(path: str, stages: list[str]) -> int:
    group = re.split(r"[.\[]", path)[0]
    return max((place for place, stage in enumerate(stages) if stage.split(".")[0] == group), default=len(stages))


def sentence(text: str) -> str:
    """Text with a capital first and a full stop last; words in backticks keep their own spelling."""
    text = text.strip()
    if not text:
        return ""
    return capital(text) + ("" if text[-1] in ".:?" else ".")


def day(when: date) -> When:
    """`11 April 2026`."""
    return When(when.isoformat(), f"{when.day} {MONTHS[when.month - 1]} {when.year}")


def moment(when: datetime) -> When:
    """`11 April 2026, 17:30`; from midnight the day alone."""
    text = day(when.date()).text
    timed = f"{text}, {when:%H:%M}" if (when.hour, when.minute) != (0, 0) else text
    return When(when.isoformat(timespec="minutes"), timed)


def month(when: date) -> str:
    """`April 2026`."""
    return f"{MONTHS[when.month - 1]} {when.year}"


#: By these words in its name an addition is an acid or a caustic.
_CORROSIVE = re.compile(r"\bacids?\b(?! malt)|caustic|hydroxide|\blye\b|\blime\b|washing soda|vitriol|sodium carbonate")


def corrosive(words: str) -> bool:
    """Whether an addition is an acid or a caustic by its name."""
    return bool(_CORROSIVE.search(words.lower()))
