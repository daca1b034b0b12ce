"""A strip: a few values along one level axis that its neighbours above and below have too."""

from __future__ import annotations

from collections.abc import Sequence

from journal.frozen import dataclass
from journal.pages.charts import svg
from journal.pages.charts.axis import Axis, AxisTick

#: Pixels.
HEIGHT, AXIS_HEIGHT = 18.0, 16.0
#: What is kept free at either end, as a share of the width, so that a mark at the end is whole.
_EDGE = 0.03


@dataclass(frozen=True)
class StripPicture:
    """Values on an `axis`, in words besides (empty where the same stand beside it): `latest` filled and larger, `earlier` small,
    `left_out` as diamonds.

    `dots` are all alike, `open_dots` those that are still to come. `reach` is an interval, `band` a range that was to be expected,
    `zero` a line to hold them against, `stated` a dashed one. A value off the axis stands at its end. `clear` tells an interval
    that leaves the line out.
    """

    axis: Axis
    words: str
    latest: tuple[float, ...] = ()
    earlier: tuple[float, ...] = ()
    dots: tuple[float, ...] = ()
    open_dots: tuple[float, ...] = ()
    left_out: tuple[float, ...] = ()
    reach: tuple[float, float] | None = None
    band: tuple[float, float] | None = None
    zero: float | None = None
    stated: float | None = None
    ticks: tuple[AxisTick, ...] = ()
    clear: bool = False


@dataclass(frozen=True)
class SpotPicture:
    """One value on an axis, whose number stands beside it in words; `left_out` as a diamond."""

    axis: Axis
    value: float
    left_out: bool = False


@dataclass(frozen=True)
class StripAxis:
    """The axis of a column of strips, with its numbers; without words it is for the eye alone."""

    axis: Axis
    ticks: tuple[AxisTick, ...]
    words: str


def place_on_strip(axis: Axis, value: float) -> float:
    """Where a value stands along a strip, as a share of its width."""
    return _place(axis.share(value))


def _place(share: float) -> float:
    return _EDGE + share * (1 - 2 * _EDGE)


def strip_svg(strip: StripPicture) -> str:
    """A strip as SVG."""

    def at(value: float) -> float:
        return _place(strip.axis.share(value))

    middle = HEIGHT / 2

    def places(values: Sequence[float]) -> str:
        return svg.dots((at(value), middle) for value in values)

    on_plane = (
        svg.path("grid", svg.uprights((_place(tick.share), 0, HEIGHT) for tick in strip.ticks)),
        svg.path("band", svg.box(at(strip.band[0]), at(strip.band[1]), 3, HEIGHT - 3) if strip.band else ""),
        svg.path("zero", svg.uprights([(at(strip.zero), 0, HEIGHT)]) if strip.zero is not None else ""),
        svg.path("stated", svg.uprights([(at(strip.stated), 0, HEIGHT)]) if strip.stated is not None else ""),
        svg.path("reach", svg.levels([(middle, at(strip.reach[0]), at(strip.reach[1]))]) if strip.reach else ""),
        svg.path("earlier", places(strip.earlier)),
        svg.path("dot", places(strip.dots + strip.open_dots)),
        svg.path("hole", places(strip.open_dots)),
        svg.path("latest", places(strip.latest)),
        svg.path("hole", places(strip.latest) if strip.reach and not strip.clear else ""),
    )
    kind = "on-axis clear" if strip.clear else "on-axis"
    if not strip.words and not strip.left_out:
        return svg.plane(HEIGHT, *on_plane, kind=kind)
    apart = (svg.diamond(at(value), middle) for value in strip.left_out)
    return svg.drawing(kind, strip.words, HEIGHT, svg.plane(HEIGHT, *on_plane), *apart)


def spot_svg(spot: SpotPicture) -> str:
    """A single dot as SVG, for the eye alone."""
    share = place_on_strip(spot.axis, spot.value)
    mark = (
        svg.diamond(share, HEIGHT / 2)
        if spot.left_out
        else f'<circle class="spot" cx="{svg.percent(share)}" cy="{HEIGHT / 2:g}" r="3.5"/>'
    )
    return f'<svg class="on-axis" aria-hidden="true" width="100%" height="{HEIGHT:g}">{mark}</svg>'


def strip_axis_svg(axis: StripAxis) -> str:
    """The axis of strips as SVG."""
    numbers = (svg.text(_side(tick.share), _place(tick.share), AXIS_HEIGHT - 4, tick.words) for tick in axis.ticks)
    return svg.drawing("on-axis axis", axis.words, AXIS_HEIGHT, *numbers)


def _side(share: float) -> str:
    """Numbers near an end stand within it."""
    return "tick first" if share < _EDGE * 2 else "tick last" if share > 1 - _EDGE * 2 else "tick"
