"""Pictures: they follow the page's colours, say what they show, tell what is left out by its shape, and never change by themselves."""

from __future__ import annotations

from datetime import date
from xml.etree import ElementTree as ET

import matplotlib as mpl
import pytest

from journal.pages.charts.axis import Axis, day_ticks
from journal.pages.charts.control import LINKED, ControlDot, ControlPicture, LevelChange, control_svg
from journal.pages.charts.over_time import (
    DayLink,
    LeftOut,
    LevelBand,
    TimeDot,
    TimePanel,
    TimePicture,
    crowds,
    panel_axis,
    time_picture_svg,
)
from journal.pages.charts.strip import StripAxis, StripPicture, strip_axis_svg, strip_svg

FIRST = date(2026, 1, 1).toordinal()


def dot(place: int, value: float, *, sd: float = 1.5, marked: bool = False) -> ControlDot:
    return ControlDot(
        FIRST + 14 * place, value, sd, str(place), f"batch {place} & more", f"batches/{place}.html", marked
    )


CONTROL = ControlPicture(
    "Control & chart",
    "Three batches.",
    "points",
    (dot(0, 1.0), dot(1, -2.0), dot(4, 2.0, marked=True)),
    (LevelBand(FIRST, FIRST + 56, -5.0, 0.5, 6.0),),
    (LeftOut(FIRST + 28, True, "28"),),
    (LevelChange(FIRST + 14, "+2.0 points"),),
)
PANEL = TimePanel(
    "lauter efficiency, points",
    "batch 3: +1.0",
    tuple(TimeDot(FIRST + 30 * place, value, 0.5) for place, value in enumerate((-1.0, 2.0, 0.5, 1.0))),
    (LevelBand(FIRST, FIRST + 90, -4.0, 0.6, 5.0),),
    (LeftOut(FIRST + 45, False, "9"),),
    sign=True,
)
PICTURE = TimePicture(
    "Over <time>", "Four batches.", (PANEL, PANEL), (DayLink(FIRST + 90, "3 & more", "batches/3.html"),)
)


def parsed(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def control(picture: ControlPicture = CONTROL, name: str = "c") -> ET.Element:
    return parsed(control_svg(picture, name, "../"))


def over_time(picture: TimePicture = PICTURE, name: str = "t") -> ET.Element:
    return parsed(time_picture_svg(picture, name, "../"))


def texts(svg: ET.Element) -> list[str]:
    return ["".join(each.itertext()).strip() for each in svg.iter("text")]


def test_the_control_chart_gives_the_same_bytes_whatever_the_readers_settings() -> None:
    first = control_svg(CONTROL, "c")
    with mpl.rc_context({"font.size": 33, "axes.facecolor": "red", "svg.hashsalt": "other"}):
        second = control_svg(CONTROL, "c")
        assert mpl.rcParams["font.size"] == 33, "the reader's own settings stay"
    assert first == second


@pytest.mark.parametrize("svg", [control(), over_time()], ids=["control", "over time"])
def test_a_picture_has_a_title_and_a_description_that_it_is_named_by(svg: ET.Element) -> None:
    title, desc = svg.find("title"), svg.find("desc")
    assert title is not None
    assert desc is not None
    assert svg.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert title.text in {"Control & chart", "Over <time>"}


def test_colours_are_the_pages_and_no_style_is_inline() -> None:
    svg = control()
    colours = {e.get(key) for e in svg.iter() for key in ("fill", "stroke") if e.get(key)}
    assert {"var(--accent)", "var(--flag)", "var(--rule)"} <= colours
    assert not [colour for colour in colours if colour and colour.startswith("#01")]
    for each in (svg, over_time()):
        assert not [element for element in each.iter() if "style" in element.attrib or element.tag == "style"]
    # the pictures of our own leave all of that to the style sheet
    assert not [e for e in over_time().iter() if "fill" in e.attrib or "stroke" in e.attrib]


def test_limits_and_mean_bear_their_numbers() -> None:
    assert {"+6.0", "+0.5", "−5.0"} <= {word for text in texts(control()) for word in text.split()}


@pytest.mark.parametrize("svg", [control(), over_time()], ids=["control", "over time"])
def test_what_is_left_out_has_another_shape_and_its_number(svg: ET.Element) -> None:
    assert {"28", "9"} & set(texts(svg))
    if svg.get("class") == "over-time":
        assert len([path for path in svg.iter("path") if path.get("class") == "diamond"]) == 2


def test_what_is_left_out_sets_no_axis() -> None:
    without = TimePanel(PANEL.words, PANEL.latest, PANEL.dots, PANEL.bands)
    assert panel_axis(PANEL) == panel_axis(without)


def test_one_vague_batch_leaves_a_picture_of_the_others() -> None:
    vague = TimePanel("", "", (TimeDot(1, 1.0, 0.1), TimeDot(2, 2.0, 500.0)))
    axis = panel_axis(vague)
    assert axis.high - axis.low < 5


def test_names_left_out_side_by_side_share_one_label() -> None:
    found = crowds([(0.1, "3"), (0.5, "26"), (0.55, "28"), (0.97, "40")])
    assert [(crowd.words, crowd.late) for crowd in found] == [("3", False), ("26, 28", False), ("40", True)]


@pytest.mark.parametrize("svg", [control(), over_time()], ids=["control", "over time"])
def test_a_place_to_point_at_leads_to_its_batch_and_is_no_tab_stop(svg: ET.Element) -> None:
    links = list(svg.iter("a"))
    assert links
    for link in links:
        assert (link.get("href") or "").startswith("../batches/")
        assert link.get("tabindex") == "-1"
        assert "& more" in (link.findtext("title") or "")


def test_only_the_newest_of_many_batches_can_be_pointed_at_and_all_are_one_path() -> None:
    many = ControlPicture("", "", "points", tuple(dot(n, n % 7 - 3) for n in range(1000)), ())
    svg = control(many)
    hrefs = [link.get("href") for link in svg.iter("a")]
    assert hrefs == [f"../batches/{n}.html" for n in range(1000 - LINKED, 1000)]
    assert len(list(svg.iter())) < 300


def test_two_pictures_share_no_id() -> None:
    for draw in (control, over_time):
        first, second = ({e.get("id") for e in draw(name=name).iter() if e.get("id")} for name in ("a", "b"))
        assert first
        assert not first & second


@pytest.mark.parametrize(
    ("low", "high"), [(0, 1), (72, 78), (-8, 7), (2.8, 3.6), (0.13, 997), (1.04, 1.062), (1e-9, 2e-9)]
)
def test_ticks_are_round_and_few_and_lie_where_they_say(low: float, high: float) -> None:
    axis = Axis(low, high)
    ticks = axis.ticks(4)
    assert 2 <= len(ticks) <= 4
    for tick in ticks:
        number = float(tick.words.replace("−", "-"))
        assert tick.share == pytest.approx((number - low) / (high - low), abs=1e-6)


@pytest.mark.parametrize("span", [0, 3, 40, 200, 900, 4000, 40000])
def test_any_span_of_time_has_a_few_ticks_with_a_year(span: int) -> None:
    ticks = day_ticks(Axis.around([FIRST, FIRST + span], room=0.03, least=30), 5)
    assert 1 <= len(ticks) <= 6
    assert any(word.isdigit() and len(word) == 4 for tick in ticks for word in tick.words.split())
    assert [tick.share for tick in ticks] == sorted(tick.share for tick in ticks)


@pytest.mark.parametrize("latest", ["", "batch 7: +1.0", "a second attempt at it: +1.0"])
def test_words_of_a_panel_stay_within_the_picture(latest: str) -> None:
    svg = over_time(TimePicture("", "", (TimePanel("mash", latest, PANEL.dots),)))
    height = float(svg.get("height") or "nan")
    for text in svg.iter("text"):
        assert 0 <= float((text.get("x") or "").removesuffix("%")) <= 100
        assert 8 < float(text.get("y") or "nan") < height


def test_a_strip_puts_values_where_they_lie_on_its_axis() -> None:
    axis = Axis(60.0, 80.0)
    svg = parsed(strip_svg(StripPicture(axis, "75 % & more", latest=(75.0,), earlier=(60.0, 80.0), zero=70.0)))
    assert svg.findtext("title") == "75 % & more"
    data = {path.get("class"): path.get("d") or "" for path in svg.iter("path")}
    places = [int(each.split()[0]) for each in data["earlier"].split("M")[1:]]
    latest = int(data["latest"].split()[0].removeprefix("M"))
    assert latest == pytest.approx(places[0] + 0.75 * (places[1] - places[0]), abs=1)
    numbers = parsed(strip_axis_svg(StripAxis(axis, axis.ticks(3), "%")))
    assert [text.text for text in numbers.iter("text")] == ["60", "70", "80"]


def test_a_value_off_the_axis_stands_at_its_end() -> None:
    ends = [strip_svg(StripPicture(Axis(0.0, 1.0), "", latest=(value,))) for value in (1.0, 7.0)]
    assert ends[0] == ends[1]


def test_the_axis_of_one_value_is_as_wide_as_its_doubt() -> None:
    alone = panel_axis(TimePanel("", "", (TimeDot(1, 65.26, 3.0),)))
    assert alone.low < 62.26
    assert alone.high > 68.26
    assert [tick.words for tick in alone.ticks(4)] == ["62", "64", "66", "68"]
