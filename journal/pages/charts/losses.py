"""Where the extract goes, as one picture: a bar for all of it, and under it what stays behind, a bar a place, on a longer scale.

Of each bar below, what must stay is filled and the rest is open; a line through it is the interval, a dashed stroke the best quarter.
"""

from __future__ import annotations

from collections.abc import Iterator

from journal.frozen import dataclass
from journal.pages.charts import svg
from journal.pages.charts.axis import Axis, AxisTick

#: Pixels: a line of words, a bar, from a bar's foot to the next line, the axis's numbers.
_WORDS, _BAR, _APART, _NUMBERS = 16.0, 14.0, 10.0, 18.0
#: What is kept free above the words on the longer scale.
_FREE = 8.0
#: Strokes reach beyond a bar by so much.
_BEYOND = 3.0


@dataclass(frozen=True)
class LossBar:
    """What stays behind in one place: its words, the amount in words, and in per cent how much, its interval, the `least` that must stay,
    and what did in the best quarter.
    """

    words: str
    amount: str
    value: float
    reach: tuple[float, float]
    least: float
    best: float | None


@dataclass(frozen=True)
class LossesPicture:
    """The account of an extract: `into`, 0 to 1, is what reached its end, in `words` and `amount`; `bars` are what did not, on `axis`.

    `summary` says all of it in words.
    """

    words: str
    amount: str
    into: float
    bars: tuple[LossBar, ...]
    axis: Axis
    ticks: tuple[AxisTick, ...]
    summary: str

    @property
    def height(self) -> float:
        """Pixels."""
        return (len(self.bars) + 1) * (_WORDS + _BAR + _APART) + _FREE + _WORDS + _NUMBERS


def losses_svg(picture: LossesPicture, name: str) -> str:
    """The picture as SVG; `name` begins its ids."""
    shapes, words = list(_whole(picture)), list(_told(picture.words, picture.amount, 0.0))
    top = _WORDS + _BAR + _APART + _FREE + _WORDS
    words.append(svg.text("tick first", 0.0, top - 4, "what stays behind, on a longer scale"))
    foot = picture.height - _NUMBERS
    shapes.append(svg.path("grid", svg.uprights((tick.share, top + _WORDS, foot) for tick in picture.ticks)))
    for bar in picture.bars:
        words += _told(bar.words, bar.amount, top)
        shapes += _bar(picture.axis, bar, top + _WORDS)
        top += _WORDS + _BAR + _APART
    words += [svg.text(_side(tick.share), tick.share, picture.height - 4, tick.words) for tick in picture.ticks]
    return svg.drawing(
        "on-axis losses",
        "Where the extract goes",
        picture.height,
        svg.plane(picture.height, *shapes),
        *words,
        name=name,
        summary=picture.summary,
    )


def _told(words: str, amount: str, top: float) -> Iterator[str]:
    yield svg.text("name", 0.0, top + _WORDS - 4, words)
    yield svg.text("tick last", 1.0, top + _WORDS - 4, amount)


def _whole(picture: LossesPicture) -> Iterator[str]:
    """All of the extract, with what stays behind cut where one place ends."""
    top, foot = _WORDS, _WORDS + _BAR
    yield svg.path("into", svg.box(0.0, picture.into, top, foot))
    yield svg.path("could", svg.box(picture.into, 1.0, top, foot))
    cuts, at = [], picture.into
    for bar in reversed(picture.bars[1:]):
        at += bar.value / 100.0
        cuts.append((at, top, foot))
    yield svg.path("axis", svg.uprights(cuts))


def _bar(axis: Axis, bar: LossBar, top: float) -> Iterator[str]:
    foot, middle = top + _BAR, top + _BAR / 2
    nothing, least, value = (axis.share(each) for each in (0.0, min(bar.least, bar.value), bar.value))
    yield svg.path("must", svg.box(nothing, least, top, foot) if least > nothing else "")
    yield svg.path("could", svg.box(least, value, top, foot) if value > least else "")
    yield svg.path("reach", svg.levels([(middle, axis.share(bar.reach[0]), axis.share(bar.reach[1]))]))
    if bar.best is not None:
        yield svg.path("stated", svg.uprights([(axis.share(bar.best), top - _BEYOND, foot + _BEYOND)]))


def _side(share: float) -> str:
    return "tick first" if share < 0.04 else "tick last" if share > 0.96 else "tick"
