"""The picture of a batch's water and extract on their way: two bands whose widths go with kilograms.

Water stands to the right of a spine, extract to the left of it. From one station to the next, what stays behind
bends away to its own side, and what joins bends in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.balance import Balance, Flow
from journal.frozen import dataclass
from journal.measures.wording import plain, unit_for
from journal.pages.parts.course import short
from journal.pages.words import sentence


@dataclass(frozen=True)
class Shape:
    """A filled outline in the picture of the flow; `of` is water or extract."""

    of: str
    path: str


@dataclass(frozen=True)
class Caption:
    """A word or amount in the picture of the flow at its place in the picture's own units.

    `kind` is the side of the picture that it belongs to (extract, name, water) and what it says there.
    """

    kind: str
    x: float
    y: float
    text: str


@dataclass(frozen=True)
class FlowPicture:
    """A batch's water and extract on their way, in a picture `width` by `height`; `summary` says the same in words."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    captions: tuple[Caption, ...]
    summary: str


#: The picture's own units: its width, the spine with its gap, how wide water and extract may be together.
WIDTH, _SPINE, _GAP, _WIDEST = 480.0, 116.0, 3.0, 200.0
#: Where captions begin on the right and end on the left, and how far from them a branch ends.
_RIGHT, _LEFT, _CLEAR = 336.0, 84.0, 8.0
#: A bend's inner radius; the height of a station's own stretch, of a line of its caption, of a branch with its caption.
_BEND, _STATION, _LINE, _BRANCH = 8.0, 42.0, 18.0, 46.0
_HAIR = 0.5
#: Less than this joins nothing: kg.
_LEAST = 0.05
#: A difference of two vessels below this is rounding: kg.
_ROUNDING = 1e-6
#: Stations in order, and what leaves after each.
_STATIONS = (("mash", "spent grain"), ("kettle", "steam"), ("knockout", "left in the kettle"), ("fermenter", ""))
#: A station is shown where it or a later one was read.
_READ_FROM = {"mash": "", "kettle": "", "knockout": "boil.after", "fermenter": "fermenter"}


@dataclass(frozen=True)
class _Stretch:
    """A station with what leaves after it and what joins before the next."""

    station: Flow
    leaves: Flow | None
    joins: Flow | None


def _stretches(flows: Sequence[Flow], read: Sequence[str]) -> list[_Stretch]:
    by_name = {flow.name: flow for flow in flows}
    order = [names for names in _STATIONS if names[0] in by_name]
    reached = [i for i, (name, _) in enumerate(order) if any(path.startswith(_READ_FROM[name]) for path in read)]
    order = order[: max(reached, default=0) + 1]
    made = []
    for (name, leaving), following in zip(order, [*order[1:], None], strict=True):
        here, leaves = by_name[name], by_name.get(leaving) if following else None
        made.append(_Stretch(here, leaves, _joins(here, leaves, by_name[following[0]]) if following else None))
    return made


def _joins(here: Flow, leaves: Flow | None, then: Flow) -> Flow | None:
    """What has come in besides, between two stations: top-up and sugars."""
    water = then.water - here.water + (leaves.water if leaves else 0.0)
    extract = then.extract - here.extract + (leaves.extract if leaves else 0.0)
    if max(water, extract) <= _LEAST:
        return None
    return Flow("added", water if water > _ROUNDING else 0.0, extract if extract > _ROUNDING else 0.0)


@dataclass(frozen=True)
class _Side:
    """One band: which way its outside lies (1 right, -1 left), where it begins, how far its branches reach."""

    of: str
    way: int
    start: float
    reach: float

    def band(self, width: float, top: float, bottom: float) -> Shape:
        """A stretch of the band that goes straight down, under the next by a hair so that no seam shows."""
        bottom += _HAIR
        return Shape(
            self.of, f"M{short(self.start)} {short(top)}h{short(self.way * width)}V{short(bottom)}H{short(self.start)}z"
        )

    def branch(self, width: float, thick: float, y: float, *, leaving: bool) -> Shape:
        """The outermost `thick` of a band `width` wide bending away below `y`, or bending in above it."""
        inner, outer = self.start + self.way * width, self.start + self.way * (width - thick)
        turn = inner + self.way * _BEND
        down = 1 if leaving else -1
        near, far = y + down * _BEND, y + down * (_BEND + thick)
        there, back = ("0", "1") if (self.way > 0) == leaving else ("1", "0")
        return Shape(
            self.of,
            f"M{short(outer)} {short(y)}A{short(_BEND + thick)} {short(_BEND + thick)} 0 0 {there} {short(turn)} {short(far)}"
            f"H{short(self.reach)}V{short(near)}H{short(turn)}A{short(_BEND)} {short(_BEND)} 0 0 {back} {short(inner)} {short(y)}z",
        )


_WATER = _Side("water", 1, _SPINE + _GAP, _RIGHT - _CLEAR)
_EXTRACT = _Side("extract", -1, _SPINE, _LEFT)


class _Drawing:
    """Draws a batch's flow from the top down; `scale` is units of the picture a kilogram."""

    def __init__(self, stretches: list[_Stretch], system: str) -> None:
        self.unit = unit_for("kg", system)
        self.scale = _WIDEST / max(s.station.water + s.station.extract for s in stretches)
        self.shapes: list[Shape] = []
        self.captions = [
            Caption("extract head", _SPINE, 14.0, "extract"),
            Caption("water head", _SPINE + 10, 14.0, "water"),
        ]
        self.y = 24.0
        for stretch in stretches:
            self._station(stretch)

    def amount(self, kg: float, decimals: int) -> str:
        return f"{plain(self.unit.convert(kg), decimals)}\N{NO-BREAK SPACE}{self.unit.sign}"

    def _station(self, stretch: _Stretch) -> None:
        here = stretch.station
        # one below the other: side by side they would run over the band's edge
        first, second = self.y + _LINE, self.y + 2 * _LINE
        self.captions.append(Caption("extract", _LEFT, (first + second) / 2, self.amount(here.extract, 2)))
        self.captions.append(Caption("water name", _SPINE + 10, first, here.name))
        self.captions.append(Caption("water", _SPINE + 10, second, self.amount(here.water, 1)))
        self._bands(here.water, here.extract, _STATION)
        water, extract = here.water, here.extract
        for branch, leaving in ((stretch.leaves, True), (stretch.joins, False)):
            if branch is not None:
                after = -1 if leaving else 1
                self._branch(branch, water, extract, leaving=leaving)
                water, extract = water + after * branch.water, extract + after * branch.extract

    def _bands(self, water: float, extract: float, height: float) -> None:
        for side, kg in ((_WATER, water), (_EXTRACT, extract)):
            self.shapes.append(side.band(kg * self.scale, self.y, self.y + height))
        self.y += height

    def _branch(self, branch: Flow, water: float, extract: float, *, leaving: bool) -> None:
        """What leaves, from the bands as they are, or what joins, beside the bands as they stay."""
        height = max(branch.water * self.scale + _BEND + 6, _BRANCH)

        def centre(kg: float) -> float:
            middle = _BEND + kg * self.scale / 2
            return self.y + (middle if leaving else height - middle)

        for side, kg, part in ((_WATER, water, branch.water), (_EXTRACT, extract, branch.extract)):
            if part > 0:
                widest = kg if leaving else kg + part
                y = self.y if leaving else self.y + height
                self.shapes.append(side.branch(widest * self.scale, part * self.scale, y, leaving=leaving))
        self.captions.append(Caption("water name", _RIGHT, centre(branch.water) - 3, branch.name))
        self.captions.append(Caption("water", _RIGHT, centre(branch.water) + 15, self.amount(branch.water, 1)))
        if branch.extract > 0:
            amount = self.amount(branch.extract, 2)
            self.captions.append(Caption("extract", _LEFT - _CLEAR, centre(branch.extract) + 5, amount))
        left = -1 if leaving else 0
        self._bands(water + left * branch.water, extract + left * branch.extract, height)


def _told(stretches: list[_Stretch], drawing: _Drawing) -> Iterator[str]:
    def both(flow: Flow) -> str:
        extract = f" and {drawing.amount(flow.extract, 2)} of extract" if flow.extract > 0 else ""
        return f"{drawing.amount(flow.water, 1)} of water{extract}"

    for stretch in stretches:
        yield f"{stretch.station.name}: {both(stretch.station)}"
        for branch in (stretch.leaves, stretch.joins):
            if branch is not None:
                yield f"{branch.name}: {both(branch)}"


def flow_picture(balance: Balance, system: str) -> FlowPicture | None:
    """The picture of a balance, as far as the batch was read; None where the balance could not be struck."""
    if not balance.flows:
        return None
    stretches = _stretches(balance.flows, [reading.path for reading in balance.verdict.readings])
    drawing = _Drawing(stretches, system)
    return FlowPicture(
        width=WIDTH,
        height=round(drawing.y + 4),
        shapes=tuple(drawing.shapes),
        captions=tuple(drawing.captions),
        summary=sentence("; ".join(_told(stretches, drawing))),
    )
