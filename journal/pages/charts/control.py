"""The large control chart of a brewhouse: what grist and volumes don't explain, batch by batch, with its limits.

The one drawing that matplotlib makes; it is imported when a chart is drawn and no earlier.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING

from markupsafe import escape

from journal.frozen import dataclass
from journal.pages.charts.axis import Axis, day_ticks
from journal.pages.charts.inline import ACCENT, BAND, FLAG, INK, QUIET, RULE, inline_svg
from journal.pages.charts.over_time import LeftOut, LevelBand, TimeDot, TimePanel, crowds, panel_axis

if TYPE_CHECKING:
    from matplotlib.axes import Axes

#: Inches; a point of the drawing is 0.6 to 1.4 pixels of the page.
SIZE = (6.5, 3.3)
#: Inches to the drawing's edges; the limits' words stand at the right.
_LEFT, _RIGHT, _TOP, _BOTTOM = 0.5, 0.62, 0.3, 0.34
_POINTS = 72
#: Numbers on the axis, and ticks on that of time, at most.
_TICKS, _DAY_TICKS = 5, 5
#: More dots than this are drawn small; sizes in points.
_MANY, _DOT, _SMALL_DOT = 150, 6.0, 3.2
#: The newest batches' dots lead to their pages; radius of the place to point at, in points.
LINKED, _POINTED = 50, 9


@dataclass(frozen=True)
class ControlDot(TimeDot):
    """A batch in the chart, in its unit: its name, what it says and where it leads.

    `marked`: it bears its name, as the latest does and those that are out of the ordinary.
    """

    name: str
    words: str
    href: str
    marked: bool = False


@dataclass(frozen=True)
class LevelChange:
    """The day from which the level was another one, and by how much in a few words."""

    day: int
    words: str


@dataclass(frozen=True)
class ControlPicture:
    """The chart's content; `unit` stands at the axis. Batches `left_out` set no axis."""

    title: str
    summary: str
    unit: str
    dots: tuple[ControlDot, ...]
    bands: tuple[LevelBand, ...]
    left_out: tuple[LeftOut, ...] = ()
    changes: tuple[LevelChange, ...] = ()


def load_library() -> None:
    """Import matplotlib, as far as a chart is drawn with it."""
    import matplotlib.backends.backend_svg  # noqa: PLC0415
    import matplotlib.figure  # noqa: PLC0415, F401


@contextmanager
def _steady(salt: str) -> Iterator[None]:
    """matplotlib set so that the same chart gives the same bytes, whatever the reader's own settings are."""
    # a cache folder that it may not write is no brewer's business
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    # a third of a second to import, and a build that finds its charts kept needs none of it
    import matplotlib as mpl  # noqa: PLC0415

    with mpl.rc_context():
        mpl.rcdefaults()
        mpl.rc("svg", fonttype="none", hashsalt=salt)
        mpl.rc("font", **{"family": "sans-serif", "sans-serif": ["DejaVu Sans"], "size": 10})
        mpl.rc("path", simplify=False)
        yield


class _ControlDrawing:
    """One chart on its axes, from the ground up."""

    def __init__(self, axes: Axes, picture: ControlPicture) -> None:
        self.axes, self.picture = axes, picture
        days = [dot.day for dot in picture.dots] + [each.day for each in picture.left_out]
        self.days = Axis.around(days, room=0.03, least=30)
        self.values = panel_axis(TimePanel("", "", picture.dots, picture.bands))

    def draw(self) -> None:
        self._frame()
        for band in self.picture.bands:
            self._band(band)
        self._limits()
        self._changes()
        self._dots()
        self._left_out()

    def _frame(self) -> None:
        axes = self.axes
        axes.set_xlim(self.days.low, self.days.high)
        axes.set_ylim(self.values.low, self.values.high)
        axes.set_autoscale_on(False)
        ticks = day_ticks(self.days, _DAY_TICKS)
        wide = self.days.high - self.days.low
        axes.set_xticks([self.days.low + tick.share * wide for tick in ticks], [tick.words for tick in ticks])
        numbers = self.values.ticks(_TICKS, sign=True)
        high = self.values.high - self.values.low
        axes.set_yticks([self.values.low + tick.share * high for tick in numbers], [tick.words for tick in numbers])
        for side in ("top", "right", "left"):
            axes.spines[side].set_visible(False)
        axes.spines["bottom"].set_color(RULE)
        axes.tick_params(axis="both", length=0, labelcolor=QUIET, pad=6)
        axes.grid(axis="y", color=RULE, linewidth=0.6)
        axes.set_axisbelow(True)
        self._say(self.picture.unit, (0, 1), (-_POINTS * _LEFT + 1, 12), QUIET, "left", "axes fraction")

    def _say(
        self,
        words: str,
        place: tuple[float, float],
        offset: tuple[float, float],
        colour: str,
        side: str,
        of: str = "data",
    ) -> None:
        self.axes.annotate(
            words, place, xytext=offset, xycoords=of, textcoords="offset points", color=colour, ha=side, va="center"
        )

    def _band(self, band: LevelBand) -> None:
        """Limits as a tone between two lines, and the centre, so that they are seen in any tone."""
        span = [band.first, band.last]
        self.axes.fill_between(span, band.low, band.high, color=BAND, linewidth=0, alpha=0.6, zorder=0.5)
        for level, style in ((band.low, ":"), (band.centre, "-"), (band.high, ":")):
            self.axes.plot(span, [level, level], color=QUIET, linewidth=0.9, linestyle=style, zorder=0.6)

    def _limits(self) -> None:
        """What the lines of the latest stretch are, beside their ends."""
        for band in self.picture.bands[-1:]:
            for level, words in ((band.low, "limit"), (band.centre, "mean"), (band.high, "limit")):
                number = f"{level:+.1f}".replace("-", "−")
                self._say(f"{words}\n{number}", (self.days.high, level), (4, 0), QUIET, "left")

    def _changes(self) -> None:
        middle = (self.days.low + self.days.high) / 2
        for change in self.picture.changes:
            self.axes.axvline(change.day, color=INK, linewidth=0.9, linestyle="--", zorder=0.7)
            late = change.day > middle
            top = (change.day, self.values.high)
            self._say(change.words, top, (-4 if late else 4, 7), INK, "right" if late else "left")

    def _dots(self) -> None:
        """All dots as one path, all uncertainties as another: lines without length have round ends."""
        from matplotlib.patches import PathPatch  # noqa: PLC0415
        from matplotlib.path import Path  # noqa: PLC0415

        dots = self.picture.dots
        many = len(dots) > _MANY
        reach = [((d.day, d.value - d.sd), (d.day, d.value + d.sd)) for d in dots]
        points = [((d.day, d.value), (d.day, d.value)) for d in dots]
        for ends, width, alpha, layer in (
            (reach, 0.6 if many else 1.1, 0.55, 2),
            (points, _SMALL_DOT if many else _DOT, 1.0, 3),
        ):
            path = Path([place for pair in ends for place in pair], [Path.MOVETO, Path.LINETO] * len(ends))
            self.axes.add_patch(
                PathPatch(
                    path, fill=False, edgecolor=ACCENT, linewidth=width, alpha=alpha, capstyle="round", zorder=layer
                )
            )
        for dot in (dot for dot in dots if dot.marked):
            above = dot.value >= self._centre(dot.day)
            # beyond the end of the bar, which would strike it through
            end = dot.value + (dot.sd if above else -dot.sd)
            self._say(dot.name, (dot.day, end), (0, 8 if above else -8), INK, "center")

    def _centre(self, day: int) -> float:
        levels = [band.centre for band in self.picture.bands if band.first <= day <= band.last]
        return levels[0] if levels else (self.values.low + self.values.high) / 2

    def _left_out(self) -> None:
        for above, edge in ((True, self.values.high), (False, self.values.low)):
            at_edge = [each for each in self.picture.left_out if each.above is above]
            self.axes.plot(
                [each.day for each in at_edge],
                [edge] * len(at_edge),
                "D",
                clip_on=False,
                markersize=6,
                markerfacecolor="none",
                markeredgecolor=FLAG,
                zorder=4,
            )
            for crowd in crowds([(self.days.share(each.day), each.name) for each in at_edge]):
                late = crowd.late
                end = crowd.first if late else crowd.last
                day = self.days.low + end * (self.days.high - self.days.low)
                self._say(crowd.words, (day, edge), (-8 if late else 8, 0), FLAG, "right" if late else "left")

    def places(self) -> list[tuple[float, float]]:
        """Where the newest dots lie in the drawing: points from its left and from its top."""
        newest = self.picture.dots[-LINKED:]
        if not newest:
            return []
        shown = self.axes.transData.transform([(dot.day, dot.value) for dot in newest])
        return [(float(x), _POINTS * SIZE[1] - float(y)) for x, y in shown]


def _links(dots: Sequence[ControlDot], places: Sequence[tuple[float, float]], up: str) -> str:
    """Places to point at; by the keyboard batches are reached in the lists that the chart leads to."""
    return "".join(
        f'<a href="{escape(up + dot.href)}" tabindex="-1"><title>{escape(dot.words)}</title>'
        f'<circle class="hit" cx="{x:.1f}" cy="{y:.1f}" r="{_POINTED}"/></a>'
        for dot, (x, y) in zip(dots, places, strict=True)
    )


def control_svg(picture: ControlPicture, name: str, up: str = "") -> str:
    """The chart as SVG to stand in a page: ids begin with `name`, links with `up`, colours follow the page's."""
    with _steady(name):
        from matplotlib.backends.backend_svg import FigureCanvasSVG  # noqa: PLC0415
        from matplotlib.figure import Figure  # noqa: PLC0415

        width, height = SIZE
        figure = Figure(figsize=SIZE, dpi=_POINTS)
        FigureCanvasSVG(figure)
        figure.subplots_adjust(_LEFT / width, _BOTTOM / height, 1 - _RIGHT / width, 1 - _TOP / height)
        axes = figure.add_subplot()
        figure.patch.set_visible(False)
        axes.patch.set_visible(False)
        drawing = _ControlDrawing(axes, picture)
        drawing.draw()
        out = StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
        links = _links(picture.dots[-LINKED:], drawing.places(), up)
    return inline_svg(out.getvalue(), name, picture.title, picture.summary, links)
