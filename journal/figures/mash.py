"""The mash: how long and how warm, in the ranges of its enzymes, and how the extract came into solution.

Where a logger saw the mash its course counts, else the rests as they are written down.
"""

from __future__ import annotations

from math import fsum
from typing import Any

from journal.figures.catalogue import figure
from journal.figures.conversion import Approach
from journal.figures.mashing import LoggedMinutes
from journal.figures.observe import RestStep
from journal.science import mash, water

GROUP = "Mash"
_RANGE = {enzyme.name: enzyme for enzyme in mash.ENZYMES}
#: Each enzyme in words with the range it works in, degC: a band and not a border, for authors differ.
ENZYME_BANDS: tuple[tuple[str, float, float], ...] = tuple(
    (enzyme.name.replace("_", "-"), enzyme.low, enzyme.high) for enzyme in mash.ENZYMES
)
_OR_RESTS = (("mash_rests",), ("mash_log_minutes",))
_COURSE = "first-order approach to an end, by least squares; a description of the readings and no model of the enzymes"
_LOG = "the logged course, straight between its readings"


def _minutes(rests: tuple[RestStep, ...] | None, log: LoggedMinutes | None, enzyme: str) -> float | None:
    if log is not None:
        return float(getattr(log, enzyme))
    if rests is None:
        return None
    return mash.minutes_in_range([tuple(rest) for rest in rests], _RANGE[enzyme].low, _RANGE[enzyme].high)


def _facts(enzyme: str) -> dict[str, Any]:
    found = _RANGE[enzyme]
    formula = f"{{mash_log_minutes}}, else Σ time of the {{mash_rests}}, from {found.low:g} to {found.high:g} °C"
    return {
        "unit": "min",
        "group": GROUP,
        "formula": formula,
        "source": f"{found.source}; authors differ by a few degrees",
        "either": _OR_RESTS,
    }


@figure(**_facts("beta_glucanase"))
def minutes_beta_glucanase(
    mash_rests: tuple[RestStep, ...] | None = None, mash_log_minutes: LoggedMinutes | None = None
) -> float | None:
    """Time where beta-glucanase works."""
    return _minutes(mash_rests, mash_log_minutes, "beta_glucanase")


@figure(**_facts("protease"))
def minutes_protease(
    mash_rests: tuple[RestStep, ...] | None = None, mash_log_minutes: LoggedMinutes | None = None
) -> float | None:
    """Time where proteases work."""
    return _minutes(mash_rests, mash_log_minutes, "protease")


@figure(**_facts("beta_amylase"))
def minutes_beta_amylase(
    mash_rests: tuple[RestStep, ...] | None = None, mash_log_minutes: LoggedMinutes | None = None
) -> float | None:
    """Time where beta-amylase works."""
    return _minutes(mash_rests, mash_log_minutes, "beta_amylase")


@figure(**_facts("alpha_amylase"))
def minutes_alpha_amylase(
    mash_rests: tuple[RestStep, ...] | None = None, mash_log_minutes: LoggedMinutes | None = None
) -> float | None:
    """Time where alpha-amylase works."""
    return _minutes(mash_rests, mash_log_minutes, "alpha_amylase")


@figure(
    unit="min",
    group=GROUP,
    formula="{mash_log_time}, else Σ time of the {mash_steps}, from 40 °C to the mash-out at 75 °C",
    source="definition; a mash-out ends the enzymes' work, common practice",
    either=(("mash_steps",), ("mash_log_time",)),
)
def mash_time(mash_steps: tuple[RestStep, ...] | None = None, mash_log_time: float | None = None) -> float | None:
    """How long the enzymes had, a mash-out aside; by the log with the heating between rests, by the rests without."""
    if mash_log_time is not None:
        return mash_log_time
    return None if mash_steps is None else fsum(step.time for step in mash_steps)


@figure(
    unit="°C",
    group=GROUP,
    formula="{mash_log_temperature}, else Σ temperature × time / Σ time of the {mash_steps}, from 40 °C to the mash-out at 75 °C",
    source="mean by time",
    either=(("mash_steps",), ("mash_log_temperature",)),
)
def mash_temperature(
    mash_steps: tuple[RestStep, ...] | None = None, mash_log_temperature: float | None = None
) -> float | None:
    """Mean temperature of the mash by time, a mash-out aside."""
    if mash_log_temperature is not None:
        return mash_log_temperature
    if mash_steps is None:
        return None
    return float(fsum(step.temperature * step.time for step in mash_steps) / fsum(step.time for step in mash_steps))


@figure(unit="K", group=GROUP, formula="{mash_log_overshoot} over the first rest as stated", source=_LOG)
def mash_overshoot(mash_log_overshoot: float) -> float:
    """How far the first rest rose above the temperature stated for it; below 0 where it was never reached."""
    return mash_log_overshoot


@figure(unit="K/h", group=GROUP, formula="slope of the {mash_log_drift} over the longest rest", source=_LOG)
def mash_drift(mash_log_drift: float) -> float:
    """How fast the longest rest grew warmer, or below 0 cooler."""
    return mash_log_drift


@figure(unit="min", group=GROUP, formula="{mash_log_heating} from 40 °C to the longest rest", source=_LOG)
def mash_heating(mash_log_heating: float) -> float:
    """How long it took to reach the longest rest, rests on the way included."""
    return mash_log_heating


@figure(
    unit="°P",
    group=GROUP,
    formula="100 × E / (E + mass of {mash_liquor} + {grain_moisture}), E = {potential_extract} + {mash_added_extract}",
    source="mass balance of the mash",
)
def first_wort_maximum(
    potential_extract: float, mash_added_extract: float, mash_liquor: float, grain_moisture: float
) -> float:
    """Strength that the first wort would have if all of the grist's extract had dissolved."""
    liquor = mash_liquor * water.density(20.0)
    return mash.first_wort_maximum(potential_extract + mash_added_extract, liquor, grain_moisture)


@figure(unit="min", group=GROUP, formula="time at which the {conversion_course} is at 95 % of its end", source=_COURSE)
def conversion_time_95(conversion_course: Approach) -> float:
    """Time from mashing in until the mash had given 95 % of what it gave in the end."""
    return mash.time_to_share(conversion_course.start, conversion_course.constant, 0.95)


@figure(
    unit="1",
    group=GROUP,
    formula="end of the {conversion_course} × (mass of {mash_liquor} + {grain_moisture}) / {potential_extract}",
    source=_COURSE,
)
def conversion_end(
    conversion_course: Approach, mash_liquor: float, grain_moisture: float, potential_extract: float
) -> float:
    """How much of what the grist could give the mash would have dissolved, had it gone on."""
    water_mass = mash_liquor * water.density(20.0) + grain_moisture
    return float(conversion_course.dissolved * water_mass / potential_extract)
