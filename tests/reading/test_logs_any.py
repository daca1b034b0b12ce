"""Loggers' files of any kind: what goes in comes out, nothing raises, and no extreme is lost for a picture."""

import csv
from datetime import datetime, timedelta
from io import StringIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.problems import Severity, Source
from journal.problems.show import as_text
from journal.reading.logs import read_log, thin

MASH = ("temperature",)
BEER = ("gravity", "temperature")
HEAD = "time (min),temperature (degC)\n"
DAY = datetime(2026, 4, 11, 17, 30)
UNITS = {"s": 1 / 60, "min": 1.0, "h": 60.0, "days": 1440.0, "ISO": 0.0}


@st.composite
def _files(draw: st.DrawFn) -> tuple[str, str, str, str]:
    """A course as a file: its text, its delimiter, and the units of time and temperature."""
    seconds = sorted(draw(st.sets(st.integers(0, 10**6), min_size=1, max_size=30)))
    unit, degrees = draw(st.sampled_from(sorted(UNITS))), draw(st.sampled_from(["degC", "degF"]))
    delimiter, newline = draw(st.sampled_from(",;\t")), draw(st.sampled_from(["\n", "\r\n"]))
    columns: dict[str, list[str]] = {f"time ({unit})": [], f"temperature ({degrees})": [], "gravity": []}
    low = 5.0 if degrees == "degC" else 41.0
    for second in seconds:
        time = str(DAY + timedelta(seconds=second)) if unit == "ISO" else repr(second / 60 / UNITS[unit])
        temperature = draw(st.one_of(st.just(""), st.floats(low, low + 35).map(lambda value: f"{value:.3f}")))
        gravity = f"{draw(st.floats(0.99, 1.15)):.4f}"
        for column, cell in zip(columns, (time, temperature, gravity), strict=True):
            columns[column].append(cell)
    names = draw(st.permutations(sorted(columns)))
    written = StringIO()
    writer = csv.writer(written, delimiter=delimiter, lineterminator=newline)
    writer.writerow(names)
    writer.writerows(zip(*(columns[name] for name in names), strict=True))
    return written.getvalue(), delimiter, unit, degrees


@given(_files())
@settings(deadline=None, max_examples=80)
def test_a_course_comes_back_as_an_independent_reader_has_it(written: tuple[str, str, str, str]) -> None:
    text, delimiter, unit, degrees = written
    log, problems = read_log(Source("entries/31.csv", text), BEER)
    assert {problem.severity for problem in problems} <= {Severity.NOTE}
    assert log is not None
    rows = list(csv.DictReader(StringIO(text), delimiter=delimiter))
    times = [row[f"time ({unit})"] for row in rows]
    if unit == "ISO":
        moments = [datetime.strptime(time, "%Y-%m-%d %H:%M:%S") for time in times]
        expected = [(moment - moments[0]).total_seconds() / 60 for moment in moments]
        assert log.start == moments[0]
    else:
        expected = [float(time) * UNITS[unit] for time in times]
    cells = [float(row[f"temperature ({degrees})"] or "nan") for row in rows]
    assert log.minutes == pytest.approx(expected, abs=1e-6)
    celsius = cells if degrees == "degC" else [(cell - 32) / 1.8 for cell in cells]
    assert log.temperature == pytest.approx(celsius, abs=1e-6, nan_ok=True)
    assert log.gravity == pytest.approx([float(row["gravity"]) for row in rows], abs=1e-6)


@given(
    st.sampled_from(["", HEAD, "time,gravity\n", "time (h:mm:ss)\tgravity (°P)\ttemperature (F)\n"]),
    st.text(st.one_of(st.sampled_from('0123456789.,;\t\n\r"#-:TZ+ e_nan'), st.characters(codec="utf-8")), max_size=200),
    st.sampled_from([MASH, BEER]),
)
@settings(deadline=None, max_examples=200)
def test_no_text_raises(head: str, text: str, wants: tuple[str, ...]) -> None:
    log, problems = read_log(Source("entries/31.csv", head + text), wants)
    assert (log is None) == any(problem.severity is Severity.ERROR for problem in problems)
    assert as_text(problems).count("entries/31.csv") >= len(problems)
    if log is not None:
        assert (np.diff(log.minutes) > 0).all()


@given(st.lists(st.one_of(st.just(float("nan")), st.floats(-1e6, 1e6)), min_size=1, max_size=400), st.integers(4, 60))
@settings(deadline=None)
def test_thinning_never_loses_an_extreme(heights: list[float], points: int) -> None:
    values, minutes = np.array(heights), np.cumsum(np.arange(len(heights)) % 7 + 1.0)
    kept = thin(minutes, values, points)
    there = values[np.isfinite(values)]
    assert len(kept) <= points
    assert (np.diff(kept) > 0).all()
    assert np.isfinite(values[kept]).all()
    if len(there):
        assert (values[kept].min(), values[kept].max()) == (there.min(), there.max())
        assert (values[kept][0], values[kept][-1]) == (there[0], there[-1])


def test_thinning_keeps_a_spike_of_one_row_in_each_stretch() -> None:
    values = np.zeros(100_000)
    spikes = [5_000, 50_001, 99_000]
    values[spikes] = [3.0, -2.0, 1.0]
    kept = thin(np.arange(100_000.0), values, 200)
    assert set(spikes) <= set(kept.tolist())
    assert len(kept) <= 200
