"""Charts: they follow the page's colours, name what they show, mark a flagged point by its shape, and never change by themselves."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import matplotlib as mpl
import pytest

from journal.pages.charts.draw import chart_svg
from journal.pages.models.trends import Chart, Point


def point(day: str, value: float, *, sd: float = 1.5, flagged: bool = False) -> Point:
    return Point(day, value, sd, day[8:], f"batches/{day[8:]}.html", f"batch of {day} & more", flagged)


CHART = Chart(
    "mash_efficiency",
    "mash efficiency",
    "%",
    "Three batches.",
    (point("2026-01-01", 80.0), point("2026-01-15", 107.0, flagged=True), point("2026-03-02", 82.0)),
)


def drawn(chart: Chart = CHART, name: str = "trend") -> ET.Element:
    return ET.fromstring(str(chart_svg(chart, name, "../")))


def test_the_same_chart_gives_the_same_bytes_whatever_the_readers_settings() -> None:
    first = chart_svg(CHART, "trend")
    with mpl.rc_context({"font.size": 33, "axes.facecolor": "red", "svg.hashsalt": "other"}):
        second = chart_svg(CHART, "trend")
        assert mpl.rcParams["font.size"] == 33, "the reader's own settings stay"
    assert first == second


def test_each_point_leads_to_its_batch_and_says_which_it_is() -> None:
    links = [element for element in drawn().iter() if element.tag == "a"]
    assert sorted(link.get("href") or "" for link in links) == [
        "../batches/01.html",
        "../batches/02.html",
        "../batches/15.html",
    ]
    assert all((link.findtext("title") or "").startswith("batch of 2026") for link in links)


def test_it_has_a_title_and_a_description_that_it_is_named_by() -> None:
    svg = drawn()
    assert svg.findtext("title") == "Mash efficiency over time"
    assert svg.findtext("desc") == "Three batches. Open diamonds bear a warning: batch 15."
    assert svg.get("aria-labelledby") == "trend-title trend-desc"


def test_a_flagged_point_has_another_shape() -> None:
    svg = drawn()
    shapes = {use.get("href") for use in svg.iter("use") if (use.get("href") or "").startswith("#trend-")}
    links = {a.get("href"): [use.get("href") for use in a.iter("use")] for a in svg.iter("a")}
    paths = {a.get("href"): [path.get("d") for path in a.iter("path")] for a in svg.iter("a")}
    marks = {href: (links[href], paths[href]) for href in links}
    assert marks["../batches/15.html"] != marks["../batches/01.html"]
    assert shapes or any(paths.values())


def test_its_colours_are_the_pages_and_its_text_is_text() -> None:
    svg = drawn()
    colours = {e.get(key) for e in svg.iter() for key in ("fill", "stroke") if e.get(key)}
    assert {"var(--accent)", "var(--flag)", "var(--rule)"} <= colours
    assert not [colour for colour in colours if colour and colour.startswith("#01")]
    assert not [element for element in svg.iter() if "style" in element.attrib or element.tag == "style"]
    assert {"%", "15"} <= {"".join(text.itertext()) for text in svg.iter("text")}


def test_two_charts_share_no_id() -> None:
    first, second = ({e.get("id") for e in drawn(name=name).iter() if e.get("id")} for name in ("a", "b"))
    assert first
    assert not first & second


@pytest.mark.parametrize("days", [["2026-01-01"], ["2026-01-01", "2026-01-02"], ["1990-05-05", "2026-01-01"]])
def test_any_span_of_time_has_a_few_ticks(days: list[str]) -> None:
    chart = Chart("boil_off", "boil-off", "L/h", "", tuple(point(day, 3.0, sd=0.0) for day in days))
    texts = ["".join(text.itertext()) for text in drawn(chart).iter("text")]
    assert 1 <= len([text for text in texts if any(year in text for year in ("19", "20")) or text.isalpha()]) <= 9


@pytest.mark.parametrize("number", ["7", "128", "14-b", "2026-11-20", "a second attempt at it"])
@pytest.mark.parametrize("small", [False, True])
def test_the_latest_batchs_number_stays_within_the_picture(number: str, small: bool) -> None:
    latest = Point("2026-03-02", 82.0, 1.5, number, "batches/latest.html", "latest", flagged=False)
    svg = drawn(Chart("mash_efficiency", "mash efficiency", "%", "", (*CHART.points[:2], latest), small=small))
    (text,) = [element for element in svg.iter() if element.tag == "text" and element.text == number]
    wide, high = (float(each) for each in (svg.get("viewBox") or "").split()[2:])
    x, y = float(text.get("x") or "nan"), float(text.get("y") or "nan")
    # the widest letters are about 0.6 of their size, and themes set these at 16 at the most
    letters = 0.6 * 15 * len(number)
    left, right = (x - letters, x) if text.get("text-anchor") == "end" else (x, x + letters)
    assert 0 < left < right <= wide
    assert 10 < y < high
