"""Any picture of the pages as SVG: what templates reach by the filter `drawn`."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import NamedTuple

from markupsafe import Markup

from journal.memory import Memory, digest_of
from journal.pages.charts.control import ControlPicture, control_svg, load_library
from journal.pages.charts.losses import LossesPicture, losses_svg
from journal.pages.charts.over_time import TimePicture, time_picture_svg
from journal.pages.charts.strip import SpotPicture, StripAxis, StripPicture, spot_svg, strip_axis_svg, strip_svg

Picture = ControlPicture | TimePicture | LossesPicture | StripPicture | SpotPicture | StripAxis


class NamedChart(NamedTuple):
    """A control chart with what its ids and its links begin with."""

    picture: ControlPicture
    name: str
    up: str = ""


def _key(picture: ControlPicture, name: str, up: str) -> str:
    return digest_of("control chart", repr(picture), name, up)


class Drawer:
    """Draws pictures; a control chart, which takes as long as a page, is kept while its numbers stay."""

    def __init__(self, memory: Memory) -> None:
        self._memory = memory

    def get_ready(self) -> None:
        """Load what control charts are drawn with, beside other work: it takes several times as long as one of them."""
        self._memory.get_ready(load_library)

    def begin(self, charts: Iterable[NamedChart]) -> None:
        """Begin to draw control charts that will be asked for, where none like them is kept, beside other work."""
        new = [chart for chart in charts if not self._memory.has(_key(*chart))]
        if new:
            self.get_ready()
            self._memory.make_ahead(((_key(*chart), partial(control_svg, *chart)) for chart in new), when_ready=True)

    def __call__(self, picture: Picture, name: str = "", up: str = "") -> Markup:
        """The picture as SVG to stand in a page; `name` begins its ids, where it has any, and `up` its links."""
        # our own drawings, whose texts are escaped
        return Markup(self._svg(picture, name, up))  # noqa: S704

    def _svg(self, picture: Picture, name: str, up: str) -> str:
        match picture:
            case ControlPicture():
                return self._memory.recall(_key(picture, name, up), lambda: control_svg(picture, name, up))
            case TimePicture():
                return time_picture_svg(picture, name, up)
            case LossesPicture():
                return losses_svg(picture, name)
            case StripPicture():
                return strip_svg(picture)
            case SpotPicture():
                return spot_svg(picture)
            case StripAxis():
                return strip_axis_svg(picture)
