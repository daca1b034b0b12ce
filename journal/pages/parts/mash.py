"""The mash, close up: its course over the enzymes' ranges, its figures beside those of earlier mashes, and notes."""

from __future__ import annotations

from collections.abc import Callable
from statistics import quantiles

from journal.figures.counted import sg_of_strength
from journal.figures.mash import ENZYME_BANDS
from journal.frozen import dataclass
from journal.history.advice import advice_of
from journal.measures.wording import plain, show_range, unit_for
from journal.pages.mash_course import between_amylases, mash_course
from journal.pages.model import Link, Number
from journal.pages.numbers import of_result
from journal.pages.parts.course import (
    LEFT,
    PANEL,
    RIGHT,
    TOP,
    AxisScale,
    CoursePicture,
    CourseStrip,
    Panel,
    Plane,
    spread,
)
from journal.pages.parts.working import is_zero
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.reading import Batch
from journal.reading.entry import STEEP
from journal.reading.table import is_blank


@dataclass(frozen=True)
class ComparedFigure:
    """A figure of the mash beside the earlier mashes of its brewhouse: their range, empty where there are too few."""

    figure: Link
    number: Number
    earlier: str


@dataclass(frozen=True)
class AdviceLine:
    """A note such as a friend would give: what, why, and by whose word."""

    text: str
    reason: str
    source: str


@dataclass(frozen=True)
class MashPart:
    """The mash: what is to be said of its course, its figures beside earlier ones, how conversion went on, and notes."""

    remark: str
    conversion: CoursePicture | None
    beside: tuple[ComparedFigure, ...]
    advice: tuple[AdviceLine, ...]


#: Earlier mashes that a range is told from, the latest, and the fewest.
_LATEST, _FEWEST = 24, 4
#: What a mash is held against earlier ones by.
_BESIDE = (
    "mash_temperature",
    "mash_time",
    "mash_ph",
    "liquor_to_grist",
    "minutes_beta_amylase",
    "minutes_alpha_amylase",
    "conversion_efficiency",
    "conversion_time_95",
    "lauter_shortfall",
    "diastatic_power",
)
#: A range's borders are no borders of what an enzyme does: both amylases work from about 60 to 70 °C, common practice.
_BETWEEN = (
    "Most of this mash stood between the two amylases’ ranges, where both work, so minutes in a range say little of it "
    "(common practice)."
)
#: Below this the course is only of heating up, °C; drawn from here where the mash went through it.
_FROM = 35.0
#: In the picture's own units: how high the course is drawn, and where it ends, for the enzymes' names to stand beside it.
_LOW_PANEL, _BESIDE_WORDS = 110.0, 362.0


def mash_part(view: BatchView) -> MashPart | None:
    """Everything that a batch's page says of its mash; None where nothing is known of it."""
    index, batch = view.index, view.batch
    if is_blank(batch.mash):
        return None
    earlier = index.earlier(batch, _LATEST)
    said = advice_of(batch, index.figures(batch), index.record.journal, earlier)
    advice = tuple(AdviceLine(each.text, each.reason, each.source) for each in said)
    conversion = _conversion(view)
    # a steep is no mash, and no mash is like it
    mashes = [each for each in earlier if each.lauter.method != STEEP]
    beside = () if batch.planned or batch.lauter.method == STEEP else tuple(_beside(view, mashes))
    if not (conversion or beside or advice):
        return None
    remark = _BETWEEN if between_amylases(view) else ""
    return MashPart(remark, conversion, beside, advice)


def _beside(view: BatchView, earlier: list[Batch]) -> list[ComparedFigure]:
    rows = []
    finders = [view.index.record.finder(other.id) for other in earlier]
    for name in _BESIDE:
        result = view.best.get(name)
        if result is None or is_zero(result):
            continue
        known = [found.value for find in finders if (found := find(name))]
        span = ""
        if len(known) >= _FEWEST:
            deciles = quantiles(known, n=10, method="inclusive")
            span = show_range(deciles[0], deciles[-1], result.unit, view.system)
            first, _, rest = span.partition(" to ")
            # all alike: one number, and no range
            span = rest if rest.split(" ")[0] == first else span
        rows.append(ComparedFigure(Link(figure_words(name), f"#{name}"), of_result(result, view.system), span))
    return rows


def stepped_mash(view: BatchView) -> CoursePicture | None:
    """The mash's course over the enzymes' ranges, where it has one: of a single rest that nobody logged it would be a level line."""
    points, logged = mash_course(view.batch)
    if not points or (not logged and len({warmth for _, warmth in points}) == 1):
        return None
    how = unit_for("°C", view.system)
    warm = [temperature for _, temperature in points]
    low, high = spread([max(min(warm), _FROM), max(warm), 62.0, 74.0], 0.05, 10.0)
    up = AxisScale(how.convert(low), how.convert(high), TOP + _LOW_PANEL, TOP)
    across = AxisScale(0.0, max(minutes for minutes, _ in points) * 1.02, LEFT, _BESIDE_WORDS)
    strips = tuple(_strips(up, how.convert))
    line = Plane(across, up).path([(minutes, how.convert(temperature)) for minutes, temperature in points])
    whose = "as logged" if logged else "as the rests were written down"
    return CoursePicture(
        name="mash",
        title="The mash’s temperature over the enzymes’ ranges",
        summary=f"{plain(across.high / 1.02, 0)} minutes {whose}. The ranges are bands, not borders: authors differ by a few degrees.",
        panels=(Panel(TOP, TOP + _LOW_PANEL, how.sign, up.ticks(5), (), strips, line),),
        scale=across,
        across="minutes",
    )


def _strips(up: AxisScale, convert: Callable[[float], float]) -> list[CourseStrip]:
    made = []
    for words, low, high in ENZYME_BANDS:
        top, bottom = up.at(convert(high)), up.at(convert(low))
        if bottom - top > 1.0:
            made.append(CourseStrip(top, round(bottom - top, 1), words))
    return made


def _conversion(view: BatchView) -> CoursePicture | None:
    """The gravity of the mash's wort, SG 20/20 whatever it was read by, against the most it could be."""
    looks = [
        (look.at.value, view.recordings.gravity(look.gravity, f"mash.readings[{index}].gravity"))
        for index, look in enumerate(view.batch.mash.readings)
        if look.at and look.gravity
    ]
    strongest = view.figures.get("first_wort_maximum")
    if len(looks) < 2 or strongest is None:
        return None
    most = sg_of_strength(strongest.value)
    across = AxisScale(0.0, max(minutes for minutes, _ in looks) * 1.05, LEFT, RIGHT)
    low, high = spread([most, *(read.value for _, read in looks)], 0.1, 0.01)
    up = AxisScale(low, high, TOP + PANEL, TOP)
    plane = Plane(across, up)
    marks = tuple(
        plane.mark(minutes, read.value, read.sd, f"{plain(minutes, 0)} min: {plain(read.value, 3)}")
        for minutes, read in looks
    )
    limit = plane.path([(0.0, most), (across.high, most)])
    return CoursePicture(
        name="conversion",
        title="Gravity of the mash’s wort over time",
        summary=f"{len(looks)} readings during the mash, and in dashes the most that this grist could give: {plain(most, 3)}.",
        panels=(Panel(TOP, TOP + PANEL, "", up.ticks(5, lambda value, _: plain(value, 3)), marks, fitted=limit),),
        scale=across,
        across="minutes since mashing in",
    )
