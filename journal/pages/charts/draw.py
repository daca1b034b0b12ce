"""One figure over time: points with their uncertainty, a flagged one by its shape, the latest named, limits as a band."""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from io import StringIO
from typing import TYPE_CHECKING

from markupsafe import Markup

from journal.pages.charts.inline import ACCENT, BAND, FLAG, INK, QUIET, RULE, DrawingContext, inlined
from journal.pages.models.trends import Band, Chart, Point
from journal.pages.words import MONTHS
from journal.pages.words import day as day_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes

#: Inches; a point of the drawing is a point of the page at its widest.
SIZE, SMALL = (6.5, 3.0), (6.5, 1.8)
#: Inches to the drawing's edges.
_LEFT, _RIGHT, _TOP, _BOTTOM = 0.49, 0.33, 0.21, 0.36
#: Points from a point's middle to its number, and those that a letter takes at the most, on a telephone.
_BESIDE, _LETTER = 7, 9
#: Signs of units up to this length are short.
_SHORT = 4
#: Ticks on an axis, at most.
_TICKS = 7
#: Room above and below the points, as a share of their range.
_ROOM = 0.08


@contextmanager
def _steady(salt: str) -> Iterator[None]:
    """matplotlib set so that the same chart gives the same bytes, whatever the reader's own settings are."""
    # a cache folder that it may not write is no brewer's business
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    # half a second to import, and most pages have no chart
    import matplotlib as mpl  # noqa: PLC0415

    with mpl.rc_context():
        mpl.rcdefaults()
        mpl.rc("svg", fonttype="none", hashsalt=salt)
        mpl.rc("font", **{"family": "sans-serif", "sans-serif": ["DejaVu Sans"], "size": 10})
        mpl.rc("path", simplify=False)
        yield


def _days(points: Sequence[Point]) -> list[int]:
    return [date.fromisoformat(point.day).toordinal() for point in points]


def _month_ticks(first: int, last: int) -> list[tuple[int, str]]:
    """Firsts of months, as many as fit; the year stands at the first tick and at each January."""
    begin, end = date.fromordinal(first), date.fromordinal(last)
    months = (end.year - begin.year) * 12 + end.month - begin.month
    step = next(step for step in (1, 2, 3, 6, 12, 24, 60, 120, 1200) if months / step <= _TICKS)
    ticks, seen = [], 0
    for count in range(begin.year * 12 + begin.month - 1, end.year * 12 + end.month + 1):
        day = date(count // 12, count % 12 + 1, 1)
        if count % step == 0 and first <= day.toordinal() <= last:
            month = MONTHS[day.month - 1][:3]
            ticks.append((day.toordinal(), f"{month} {day.year}" if day.year != seen else month))
            seen = day.year
    return ticks


def _frame(axes: Axes, chart: Chart) -> None:
    from matplotlib.ticker import MaxNLocator  # noqa: PLC0415

    days = _days(chart.points)
    room = max((days[-1] - days[0]) * 0.03, 5)
    first, last = int(days[0] - room), int(days[-1] + room)
    low = min([point.value - point.sd for point in chart.points] + [band.low for band in chart.bands])
    high = max([point.value + point.sd for point in chart.points] + [band.high for band in chart.bands])
    pad = max((high - low) * _ROOM, 0.01 * abs(high), 1e-6)
    axes.set_xlim(first, last)
    axes.set_ylim(low - pad, high + pad)
    axes.yaxis.set_major_locator(MaxNLocator(nbins=4, steps=[1, 2, 5, 10]))
    ticks = _month_ticks(first, last) or [(days[0], day_words(date.fromordinal(days[0])).text)]
    axes.set_xticks([day for day, _ in ticks], [words for _, words in ticks])
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(RULE)
    axes.tick_params(axis="both", length=0, labelcolor=QUIET, pad=6)
    axes.grid(axis="y", color=RULE, linewidth=0.6)
    axes.set_axisbelow(True)
    axes.annotate(
        chart.unit,
        # a short sign stands over the numbers, a word begins at the drawing's edge
        (0, 1),
        xytext=(-6, 4) if len(chart.unit) <= _SHORT else (-72 * _LEFT, 4),
        xycoords="axes fraction",
        textcoords="offset points",
        ha="right" if len(chart.unit) <= _SHORT else "left",
        color=QUIET,
    )


def _draw_points(axes: Axes, points: Sequence[Point], colour: str, marker: str, filled: bool) -> None:
    if not points:
        return
    days, values = _days(points), [point.value for point in points]
    axes.errorbar(days, values, [point.sd for point in points], fmt="none", ecolor=colour, elinewidth=1.1, alpha=0.55)
    face = colour if filled else "none"
    dots = axes.scatter(days, values, s=34, marker=marker, facecolors=face, edgecolors=colour, linewidths=1.4, zorder=3)
    dots.set_urls([point.href for point in points])


def _named(chart: Chart) -> list[Point]:
    """The points that bear their number: the latest and the flagged."""
    return [point for point in chart.points if point.flagged or point is chart.points[-1]]


def _label(axes: Axes, chart: Chart) -> None:
    first, last = axes.get_xlim()
    width = 72 * (SMALL if chart.small else SIZE)[0]
    for point in _named(chart):
        day = date.fromisoformat(point.day).toordinal()
        room = 72 * _RIGHT + (last - day) / (last - first) * (width - 72 * (_LEFT + _RIGHT))
        # an id is a free text: one that has no room beside its point ends over or under it, away from the point before
        beside = _BESIDE + _LETTER * len(point.batch) <= room
        before = chart.points[max(chart.points.index(point) - 1, 0)]
        side = 0 if beside else -1 if before.value > point.value else 1
        axes.annotate(
            point.batch,
            (day, point.value + side * point.sd),
            xytext=(_BESIDE, 3 * side),
            textcoords="offset points",
            ha="left" if beside else "right",
            va=("center", "bottom", "top")[side],
            color=FLAG if point.flagged else INK,
        )


def _day(iso: str) -> int:
    return date.fromisoformat(iso).toordinal()


def _draw_band(axes: Axes, band: Band) -> None:
    """Limits as a tone between two lines, and the centre, so that they are seen in any tone."""
    span = [_day(band.first), _day(band.last)]
    axes.fill_between(span, band.low, band.high, color=BAND, linewidth=0, alpha=0.6, zorder=0.5)
    for level, style in ((band.low, ":"), (band.centre, "-"), (band.high, ":")):
        axes.plot(span, [level, level], color=QUIET, linewidth=0.8, linestyle=style, zorder=0.6)


def _mark_steps(axes: Axes, chart: Chart) -> None:
    for step in chart.steps:
        axes.axvline(_day(step.day), color=INK, linewidth=0.9, linestyle="--", zorder=0.7)
        place = (_day(step.day), 1)
        # the words stand on the side that has more room
        late = _day(step.day) - _day(chart.points[0].day) > (_day(chart.points[-1].day) - _day(chart.points[0].day)) / 2
        axes.annotate(
            step.words.split("(")[0].strip(),
            place,
            xytext=(-4 if late else 4, -2),
            xycoords=("data", "axes fraction"),
            textcoords="offset points",
            ha="right" if late else "left",
            va="top",
            color=INK,
        )


def _svg(chart: Chart) -> str:
    from matplotlib.backends.backend_svg import FigureCanvasSVG  # noqa: PLC0415
    from matplotlib.figure import Figure  # noqa: PLC0415

    width, height = SMALL if chart.small else SIZE
    figure = Figure(figsize=(width, height))
    FigureCanvasSVG(figure)
    figure.subplots_adjust(_LEFT / width, _BOTTOM / height, 1 - _RIGHT / width, 1 - _TOP / height)
    axes = figure.add_subplot()
    figure.patch.set_visible(False)
    axes.patch.set_visible(False)
    _frame(axes, chart)
    for band in chart.bands:
        _draw_band(axes, band)
    _mark_steps(axes, chart)
    _draw_points(axes, [point for point in chart.points if not point.flagged], ACCENT, "o", True)
    _draw_points(axes, [point for point in chart.points if point.flagged], FLAG, "D", False)
    _label(axes, chart)
    out = StringIO()
    figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return out.getvalue()


def chart_svg(chart: Chart, name: str, up: str = "") -> Markup:
    """The chart as SVG to stand in a page: ids begin with `name`, links with `up`, colours follow the page's."""
    with _steady(name):
        svg = _svg(chart)
    words = {point.href: point.words for point in chart.points}
    title = f"{chart.words[:1].upper()}{chart.words[1:]} over time"
    changes = "".join(f" A level changed from {step.day} on: {step.words}." for step in chart.steps)
    flagged = [point.batch for point in chart.points if point.flagged]
    odd = f" Open diamonds bear a warning: batch {', '.join(flagged)}." if flagged else ""
    context = DrawingContext(name, up, title, f"{chart.summary}{odd}{changes}", words)
    return Markup(inlined(svg, context))  # noqa: S704  # our own drawing, escaped as XML
