"""Several things over one axis of time, one panel below the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from markupsafe import escape

from journal.frozen import dataclass
from journal.pages.charts import svg
from journal.pages.charts.axis import Axis, AxisTick, day_ticks

#: Pixels: a panel's line of words, its drawing, the gap to the next, the axis of time below all.
_HEAD, _PLOT, _GAP, _AXIS = 26.0, 60.0, 12.0, 22.0
#: What a letter of a number at the axis takes and what stands beside it, on the narrowest page there is, both in pixels.
_NARROWEST, _LETTER, _BESIDE = 264.0, 7.0, 8.0
_RIGHT = 0.03
#: Numbers on an axis, and ticks on that of time.
_TICKS, _DAY_TICKS = 4, 5
#: More dots than this are drawn small.
_MANY = 150
#: Diamonds nearer to one another than this share of the width have one label.
_CROWD = 0.07
#: Half the widest place to point at, as a share of the width.
_POINTED = 0.02


@dataclass(frozen=True)
class TimeDot:
    """A value and its standard uncertainty on a day (`date.toordinal`)."""

    day: int
    value: float
    sd: float


@dataclass(frozen=True)
class LevelBand:
    """A level and the limits about it over a stretch of days."""

    first: int
    last: int
    low: float
    centre: float
    high: float


@dataclass(frozen=True)
class LeftOut:
    """A batch that is kept out: it stands at the upper or the lower edge, and no axis follows it."""

    day: int
    above: bool
    name: str


@dataclass(frozen=True)
class DayLink:
    """Where a day of a picture leads, and in words what all panels show of it."""

    day: int
    words: str
    href: str


@dataclass(frozen=True)
class TimePanel:
    """One thing over time: what it is and its latest value in words, and what is drawn.

    `changes` are days from which the level was another; `stated` a value to hold the level against; `sign` puts a plus before
    numbers above zero.
    """

    words: str
    latest: str
    dots: tuple[TimeDot, ...]
    bands: tuple[LevelBand, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    changes: tuple[int, ...] = ()
    stated: float | None = None
    sign: bool = False


@dataclass(frozen=True)
class TimePicture:
    """Panels on one axis of time; `links` are of the days that can be pointed at."""

    title: str
    summary: str
    panels: tuple[TimePanel, ...]
    links: tuple[DayLink, ...] = ()


def panel_axis(panel: TimePanel) -> Axis:
    """What a panel's height stands for: its values, limits and what is stated, and how sure they are.

    An uncertainty wider than all values are apart is cut, lest one vague batch leave no picture of the others; where all are one
    value, the narrowest is what is left to draw.
    """
    values = [dot.value for dot in panel.dots]
    ends = [end for band in panel.bands for end in (band.low, band.high)]
    low, high = min([*values, *ends], default=0.0), max([*values, *ends], default=1.0)
    wide = high - low or min((dot.sd for dot in panel.dots), default=0.0)
    reached = [min(dot.sd, wide) for dot in panel.dots]
    around = [value + side * reach for value, reach in zip(values, reached, strict=True) for side in (-1, 1)]
    stated = [panel.stated] if panel.stated is not None and low - wide <= panel.stated <= high + wide else []
    return Axis.around([low, high, *around, *stated])


class _Layout:
    """Where things stand across the picture."""

    def __init__(self, picture: TimePicture) -> None:
        self.axes = [panel_axis(panel) for panel in picture.panels]
        self.ticks = [
            axis.ticks(_TICKS, sign=panel.sign) for axis, panel in zip(self.axes, picture.panels, strict=True)
        ]
        letters = max((len(tick.words) for ticks in self.ticks for tick in ticks), default=1)
        self.left = (_LETTER * letters + _BESIDE) / _NARROWEST
        days = [dot.day for panel in picture.panels for dot in panel.dots]
        days += [each.day for panel in picture.panels for each in panel.left_out]
        self.days = Axis.around(days, room=0.03, least=30)

    def x(self, day: float) -> float:
        return self.left + self.days.share(day) * (1 - self.left - _RIGHT)


def time_picture_svg(picture: TimePicture, name: str, up: str) -> str:
    """The picture as SVG; its ids begin with `name`, its links with `up`."""
    layout = _Layout(picture)
    pitch = _HEAD + _PLOT + _GAP
    foot = pitch * len(picture.panels) - _GAP
    height = foot + _AXIS
    paths: list[str] = []
    texts: list[str] = []
    for place, panel in enumerate(picture.panels):
        drawn = _Panel(panel, layout, layout.axes[place], place * pitch)
        paths += drawn.paths(layout.ticks[place])
        texts += drawn.texts(layout.ticks[place])
    paths.append(svg.path("axis", svg.levels([(foot, layout.left, 1 - _RIGHT)])))
    texts += (_day_tick(tick, layout, foot + 15) for tick in day_ticks(layout.days, _DAY_TICKS))
    many = max((len(panel.dots) for panel in picture.panels), default=0) > _MANY
    return svg.drawing(
        "over-time many" if many else "over-time",
        picture.title,
        height,
        # what is drawn is for the eye: axes, read out, are scraps
        f'<g aria-hidden="true">{svg.plane(height, *paths)}{"".join(texts)}</g>',
        *_hits(picture.links, layout, foot, up),
        name=name,
        summary=picture.summary,
        role="group" if picture.links else "img",
    )


def _day_tick(tick: AxisTick, layout: _Layout, y: float) -> str:
    share = layout.left + tick.share * (1 - layout.left - _RIGHT)
    return svg.text("tick first" if share < 0.12 else "tick last" if share > 0.9 else "tick", share, y, tick.words)


class _Panel:
    """One panel at its height in the picture."""

    def __init__(self, panel: TimePanel, layout: _Layout, axis: Axis, top: float) -> None:
        self.panel, self.layout, self.axis = panel, layout, axis
        self.head, self.top, self.bottom = top + 12, top + _HEAD, top + _HEAD + _PLOT

    def y(self, value: float) -> float:
        return self.top + (1 - self.axis.share(value)) * (self.bottom - self.top)

    def paths(self, ticks: Sequence[AxisTick]) -> list[str]:
        """What is drawn, from the ground up."""
        left, right = self.layout.left, 1 - _RIGHT
        panel, x, y = self.panel, self.layout.x, self.y
        grid = svg.levels((self.bottom - tick.share * (self.bottom - self.top), left, right) for tick in ticks)
        bands = "".join(svg.box(x(b.first), x(b.last), y(b.high), y(b.low)) for b in panel.bands)
        limits = svg.levels((y(end), x(b.first), x(b.last)) for b in panel.bands for end in (b.low, b.high))
        centres = svg.levels((y(b.centre), x(b.first), x(b.last)) for b in panel.bands)
        stated = svg.levels([(y(panel.stated), left, right)]) if panel.stated is not None else ""
        changes = svg.uprights((x(day), self.top, self.bottom) for day in panel.changes)
        reach = svg.uprights(
            (x(dot.day), y(dot.value + dot.sd), y(dot.value - dot.sd)) for dot in panel.dots if dot.sd > 0
        )
        return [
            svg.path("band", bands),
            svg.path("grid", grid),
            svg.path("limit", limits),
            svg.path("level", centres),
            svg.path("stated", stated),
            svg.path("change", changes),
            svg.path("reach", reach),
            svg.path("dot", svg.dots((x(dot.day), y(dot.value)) for dot in panel.dots)),
        ]

    def texts(self, ticks: Sequence[AxisTick]) -> list[str]:
        """Words, numbers at the axis, and who is left out."""
        left = self.layout.left - 0.012
        numbers = (
            svg.text("tick up", left, self.bottom - tick.share * (self.bottom - self.top) + 4, tick.words)
            for tick in ticks
        )
        latest = [svg.text("latest-words", 1 - _RIGHT, self.head, self.panel.latest)] if self.panel.latest else []
        return [svg.text("name", 0, self.head, self.panel.words), *latest, *numbers, *self._left_out()]

    def _left_out(self) -> Iterable[str]:
        for above, y in ((True, self.top), (False, self.bottom)):
            at_edge = [each for each in self.panel.left_out if each.above is above]
            for crowd in crowds([(self.layout.x(each.day), each.name) for each in at_edge]):
                labelled = crowd.first if crowd.late else crowd.last
                for x in crowd.places:
                    yield svg.diamond(x, y, crowd.words if x == labelled else "", before=crowd.late)


@dataclass(frozen=True)
class Crowd:
    """Batches left out so near one another that they share one label: shares of the width, and their names in words.

    `late`: there is no room after the last, so that the label stands before the first.
    """

    places: tuple[float, ...]
    words: str

    @property
    def first(self) -> float:
        """Where the first one stands."""
        return self.places[0]

    @property
    def last(self) -> float:
        """Where the last one stands."""
        return self.places[-1]

    @property
    def late(self) -> bool:
        """Whether the label stands before the first."""
        return self.last > 1 - 2 * _CROWD


def crowds(places: Sequence[tuple[float, str]]) -> list[Crowd]:
    """Places along the width, in order, each with a name, put together where they are near one another."""
    made: list[list[tuple[float, str]]] = []
    for place in places:
        if made and place[0] - made[-1][-1][0] <= _CROWD:
            made[-1].append(place)
        else:
            made.append([place])
    return [Crowd(tuple(x for x, _ in crowd), ", ".join(name for _, name in crowd)) for crowd in made]


def _hits(links: Sequence[DayLink], layout: _Layout, height: float, up: str) -> Iterable[str]:
    """A place to point at a day, as high as the picture and as wide as its neighbours allow."""
    places = [layout.x(link.day) for link in links]
    middles = [(before + after) / 2 for before, after in pairwise(places)]
    for link, x, left, right in zip(links, places, [0.0, *middles], [*middles, 1.0], strict=False):
        first, last = max(left, x - _POINTED), min(right, x + _POINTED)
        yield (
            f'<a href="{escape(up + link.href)}" tabindex="-1"><title>{escape(link.words)}</title>'
            f'<rect class="hit" x="{svg.percent(first)}" width="{svg.percent(max(last - first, 0.001))}" y="0" height="{height:g}"/></a>'
        )
