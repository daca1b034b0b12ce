"""From pitching to the glass on a batch's page: what was read stands where it belongs, and what was tasted in its brewer's words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pages.seen import accounts_of, batch_of, one_batch, seen_at

from journal.pages.parts.course import AxisScale, Plane, round_step
from journal.pages.parts.fermentation import FermentationPart

WORT = """grains: [{malt: pale malt, weight: 4.20 kg}]
fermenter: {volume: 19 L, gravity: 1.048, pitched: 2026-04-11 18:00}
"""
READINGS = """readings:
  - {at: 2026-04-13 18:00, gravity: 1.030, temperature: 19 degC}
  - {at: 2026-04-16 18:00, gravity: 1.014, temperature: 20 degC}
  - {at: 2026-04-20 18:00, gravity: 1.010, temperature: 19 degC}
  - {at: 2026-04-23 18:00, gravity: 1.010}
  - {at: 2026-04-25 18:00, gravity: 1.010}
"""
TASTED = """package:
  {on: 2026-04-26, volume: 18 L, container: bottles, carbonation: 2.4 volumes, warmest: 20 degC, priming: {addition: dextrose}}
tasting:
  - {on: 2026-05-20, words: "Dry <and> bright.", score: 36, out_of: 50, faults: [astringent]}
"""


def part(root: Path, fields: str, more: dict[str, str | bytes] | None = None) -> FermentationPart | None:
    return accounts_of(one_batch(root, fields, more=more)).fermentation


def test_each_reading_stands_at_its_day_and_gravity(tmp_path: Path) -> None:
    found = part(tmp_path, WORT + READINGS)
    assert found is not None
    assert found.picture is not None
    gravity, temperature = found.picture.panels
    pitched, *read = gravity.marks
    assert [mark.words.split(":")[0] for mark in read] == ["day 2.0", "day 5.0", "day 9.0", "day 12.0", "day 14.0"]
    # 1.048 is 11.912 °P and 1.014 3.575 °P by the ASBC cubic: 70 % seems to be gone
    assert read[1].words.endswith("70 % attenuated")
    # days and gravities are drawn to scale
    across = [(mark.x - pitched.x) / (read[-1].x - pitched.x) for mark in read]
    assert across == pytest.approx([days / 14 for days in (2, 5, 9, 12, 14)], abs=0.002)
    down = [(mark.y - pitched.y) / (read[-1].y - pitched.y) for mark in read]
    assert down == pytest.approx([(1.048 - sg) / 0.038 for sg in (1.030, 1.014, 1.010, 1.010, 1.010)], abs=0.003)
    assert gravity.fitted.startswith("M")
    assert len(temperature.marks) == 3


def test_without_a_day_of_pitching_the_wort_stands_at_the_day_of_its_brew(tmp_path: Path) -> None:
    fields = WORT.replace(", pitched: 2026-04-11 18:00", "") + READINGS
    page = one_batch(tmp_path, fields)
    line = batch_of(page).fermenting
    assert line is not None
    assert [line.dots[0][0] < x for x, _ in line.dots[1:]] == [True] * 5, "no reading stands below the wort"
    assert "in 15 days" in line.summary, "from the midnight before the brew to the evening of the 25th is 14.75 days"
    whole = accounts_of(page).fermentation
    assert whole is not None
    assert whole.picture is not None
    assert whole.picture.across == "days since the day of the brew"


def test_the_batchs_page_has_one_line_from_its_first_gravity_to_its_last(tmp_path: Path) -> None:
    line = batch_of(one_batch(tmp_path, WORT + READINGS)).fermenting
    assert line is not None
    assert (line.first, line.last) == ("1.048", "1.010")
    assert line.summary == "From 1.048 to 1.010 in 14 days, six readings."
    assert line.start[1] < line.end[1], "a gravity that falls is drawn falling"
    # 1.048 is 11.912 °P and 1.010 2.561 °P by the ASBC cubic: 78.5 % seems to be gone
    assert line.attenuated.words.startswith("79\u00a0±\u00a02\u00a0%")
    assert line.attenuated.href == "accounts/31.html#apparent_attenuation"
    assert len(line.dots) == 6


def test_a_loggers_course_is_drawn_thinned(tmp_path: Path) -> None:
    rows = [
        f"2026-04-{11 + hour // 24:02d} {hour % 24:02d}:00,{1.010 + 0.038 / (1 + hour / 20):.4f}"
        for hour in range(18, 320)
    ]
    log = "time,gravity\n" + "\n".join(rows) + "\n"
    found = part(tmp_path, WORT + "readings_log: tank.csv\n", {"tank.csv": log})
    assert found is not None
    assert found.picture is not None
    line = found.picture.panels[0].line
    assert 100 < len(re.findall("[ML]", line)) <= 240
    assert "A logger’s course" in found.picture.summary


def test_the_words_below_name_what_is_drawn_and_no_more(tmp_path: Path) -> None:
    two = "".join(READINGS.splitlines(keepends=True)[:3])
    found = part(tmp_path, WORT + two + "package: {on: 2026-04-26, volume: 18 L, gravity: 1.010}\n")
    assert found is not None
    assert found.picture is not None
    assert found.picture.summary.startswith("Two readings and the gravity at packaging over 14 days.")
    assert ("dashes" in found.picture.summary) == bool(found.picture.panels[0].fitted)
    assert "logger" not in found.picture.summary


def test_the_grid_reaches_below_the_last_reading_and_the_first_point_stands_off_the_edge(tmp_path: Path) -> None:
    found = part(tmp_path, WORT + READINGS)
    assert found is not None
    assert found.picture is not None
    panel = found.picture.panels[0]
    assert max(tick.at for tick in panel.ticks) > max(mark.y for mark in panel.marks)
    assert min(mark.x for mark in panel.marks) > found.picture.left + 5


def test_what_was_tasted_is_shown_in_its_words_as_text(tmp_path: Path) -> None:
    record = one_batch(tmp_path, WORT + READINGS + TASTED)
    seen = seen_at(record, "batches/31.html")
    assert "Dry <and> bright." in seen.text
    assert "36/50" in seen.text
    assert "astringent" in seen.text


def test_where_beer_gains_pressure_its_danger_is_said(tmp_path: Path) -> None:
    found = part(tmp_path, WORT + READINGS + TASTED)
    assert found is not None
    assert any("Bottles burst" in words for words in found.cautions)
    assert not any("No priming sugar" in words for words in found.cautions)


def test_a_beer_that_is_not_done_gets_no_sugar_and_the_reason_is_said(tmp_path: Path) -> None:
    early = READINGS.split("  - {at: 2026-04-20", maxsplit=1)[0]
    found = part(tmp_path, WORT + early + TASTED)
    assert found is not None
    assert found.cautions[0].startswith("No priming sugar is worked out: ")


def test_without_anything_from_pitching_on_there_is_no_part(tmp_path: Path) -> None:
    assert part(tmp_path, "grains: [{malt: pale malt, weight: 4.20 kg}]\n") is None


@pytest.mark.parametrize(
    ("low", "high", "most", "step"), [(0, 14, 8, 2), (1.008, 1.052, 5, 0.01), (60.0, 80.0, 5, 5), (0, 3, 8, 0.5)]
)
def test_ticks_stand_on_round_numbers(low: float, high: float, most: int, step: float) -> None:
    assert round_step(low, high, most) == pytest.approx(step)


def test_a_gap_parts_the_line() -> None:
    across, up = AxisScale(0, 3, 0, 30), AxisScale(0, 1, 10, 0)
    assert Plane(across, up).path([(0, 0), (1, 1), (2, float("nan")), (3, 0.5)]) == "M0 10L10 0M30 5"
