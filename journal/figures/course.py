"""How the fermentation went: how fast, how long, and where it ends."""

from __future__ import annotations

from journal.figures.catalogue import figure
from journal.science import fermentation, wort
from journal.science.fermentation import Logistic

GROUP = "Fermentation"
#: SG. A beer as near as this to its end is as good as there: what a hydrometer shows.
NEAR = 0.001
_SOURCE = "four-parameter logistic of ASBC Yeast-14, weighed against its kin in Fermentation 7 (2021) 13"


@figure(unit="SG", group=GROUP, formula="end of the {fermentation_course}", source=_SOURCE)
def final_gravity_fitted(fermentation_course: Logistic) -> float:
    """Gravity that the whole course of readings tends to; the final gravity is the last that was read."""
    return wort.gravity_from_plato(fermentation_course.end)


@figure(
    unit="°P/day", group=GROUP, formula="fall × rate / 4 of the {fermentation_course}, at its middle", source=_SOURCE
)
def peak_rate(fermentation_course: Logistic) -> float:
    """Fastest fall of the apparent extract."""
    return fermentation.peak_rate(fermentation_course)


@figure(
    unit="days",
    group=GROUP,
    formula="time at which the {fermentation_course} is within 0.001 of its end",
    source=_SOURCE,
)
def days_to_final(fermentation_course: Logistic) -> float:
    """Days from pitching until the gravity is within 0.001 of where it ends."""
    near = wort.plato_from_gravity(wort.gravity_from_plato(fermentation_course.end) + NEAR) - fermentation_course.end
    return fermentation.days_until(fermentation_course, near)


@figure(
    unit="days",
    group=GROUP,
    formula="the {level_stretch} at the end of the readings",
    source="no reading differs from the last by more than can be seen, no line falls through them (Student's t)",
)
def gravity_level_for(level_stretch: float) -> float:
    """Days that the last gravities have been level; 0 where the last two differ."""
    return level_stretch
