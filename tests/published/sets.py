"""What Wortbook gives beside what somebody measured: each published set as pairs of numbers, with the ± Wortbook promises.

The numbers stand in `data/`, each file with where it was read. Wortbook's own side is got as a brewer gets it, from an entry, where an
entry can say it; else from the formula that its figures use. Nothing here is fitted to anything.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from math import fsum, hypot, sqrt
from pathlib import Path

from texts import batch_of, brewery_of

from journal.balance.priors import Priors
from journal.figures import BatchFigures, figures_of
from journal.figures.beer_gravities import course_within, fit_course
from journal.figures.poured import recorded_fermentation
from journal.pages.site.how_right import SET_WORDS
from journal.reading import Brewery, Malts
from journal.science import beer, carbonation, mash, water, wort

DATA = Path(__file__).parent / "data"
#: kg/L of air, and of water at 60 degF weighed in it.
AIR = 0.001222
WATER_60F = water.density(15.556) - AIR
#: kg in a Bavarian pound, as Steinheil states it.
BAVARIAN_POUND = 0.56
#: bar in a psi; g/L in a volume of carbon dioxide, its molar mass over its molar volume at 0 degC and 1 atm.
PSI, VOLUME = 0.0689476, 44.0095 / 22.263


@dataclass(frozen=True)
class Held:
    """One number held to a measurement, in the set's unit; `sd` is the standard uncertainty Wortbook promises."""

    measured: float
    calculated: float
    sd: float

    @property
    def difference(self) -> float:
        """Calculated less measured."""
        return self.calculated - self.measured


@dataclass(frozen=True)
class PublishedSet:
    """Measurements of one kind by one hand, and what Wortbook makes of them."""

    name: str
    words: str
    unit: str
    decimals: int
    points: tuple[Held, ...]

    @property
    def mean(self) -> float:
        """Mean difference."""
        return fsum(point.difference for point in self.points) / len(self.points)

    @property
    def rms(self) -> float:
        """Root of the mean square of the differences."""
        return sqrt(fsum(point.difference**2 for point in self.points) / len(self.points))

    @property
    def worst(self) -> float:
        """The largest difference, with its sign."""
        return max((point.difference for point in self.points), key=abs)

    @property
    def promised(self) -> float:
        """The ± promised, where it differs from point to point its root mean square."""
        return sqrt(fsum(point.sd**2 for point in self.points) / len(self.points))

    @property
    def within(self) -> float:
        """Share of the differences within the ± promised for each."""
        return sum(abs(point.difference) <= point.sd for point in self.points) / len(self.points)


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a file of `data/`, by its header."""
    lines = (DATA / f"{name}.csv").read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def brewed(fields: str, brewery: Brewery | None = None) -> BatchFigures:
    """The figures of an entry with these fields."""
    return figures_of(batch_of(fields), brewery or Brewery(), Malts())


def sugar() -> Iterator[Held]:
    """SG 17.5/17.5 in points of a thousandth; the tables that the formula is held to are good to 0.1 kg/m3."""
    light = water.density(17.5) - 0.0012
    for row in rows("gerlach1864_sugar"):
        gravity = (wort.density(float(row["percent"]), 17.5) - 0.0012) / light
        yield Held(1000 * float(row["sg"]), 1000 * gravity, 0.1)


def hydrometer() -> Iterator[Held]:
    """degP of the full kettle, its gravity read warm or cold with a hydrometer true at 17.5 degC that is good to 0.001."""
    brewery = brewery_of("instruments: {hydrometer: {uncertainty: 0.001, calibrated_at: 17.5 degC}}\n")
    for row in rows("gerlach1864_hydrometer"):
        found = brewed(f"boil: {{before: {{gravity: {row['sg']} at {row['t_C']} degC}}}}", brewery)["kettle_gravity"]
        strength = wort.plato_from_gravity(found.value)
        yield Held(float(row["true_percent"]), strength, found.sd * wort.plato_slope(found.value))


def _alcohol(original: str, final: str, brewery: Brewery | None = None) -> tuple[float, float]:
    """% by volume from two gravities as written in an entry, and its ±."""
    fields = f"fermenter: {{gravity: {original}}}\nreadings: [{{at: 2026-04-24 20:00, gravity: {final}}}]"
    found = brewed(fields, brewery)["alcohol_by_volume"]
    return 100 * found.value, 100 * found.sd


def american_beers() -> Iterator[Held]:
    """% by volume of distilled beers; the gravities were weighed and printed to 0.0001."""
    brewery = brewery_of("instruments: {hydrometer: {uncertainty: 0.0001, calibrated_at: 15.556 degC}}\n")
    for row in rows("usda1917_beers"):
        calculated, sd = _alcohol(row["wort_sg"], row["beer_sg"], brewery)
        by_weight = float(row["alcohol"]) / 100 / (AIR + float(row["beer_sg"]) * WATER_60F)
        final = wort.gravity_at_20(float(row["beer_sg"]), 15.556, 15.556)
        yield Held(100 * beer.alcohol_by_volume(by_weight, final), calculated, sd)


def sets_of_beers() -> Iterator[Held]:
    """% by volume, means of sets of beers; a mean's gravities are taken to be good to 0.02 degP."""
    for row in rows("cutaia2009_beers"):
        calculated, sd = _alcohol(f"{row['original']} ± 0.02 °P", f"{row['apparent']} ± 0.02 °P")
        final = wort.gravity_from_plato(float(row["apparent"]))
        yield Held(100 * beer.alcohol_by_volume(float(row["alcohol"]) / 100, final), calculated, sd)


def balling_by_difference() -> Iterator[tuple[float, float, float]]:
    """Original and apparent extract, degP, and alcohol, % by weight: the table's rows, the real extract by Balling's relation."""
    for row in rows("balling1865_alcohol"):
        for original in range(9, 17):
            alcohol = float(row[str(original)])
            real = original - alcohol * (2.0665 - 0.010665 * original)
            yield float(original), real - float(row["difference"]), alcohol


def balling_alcohol() -> Iterator[Held]:
    """% by volume by Balling's own table."""
    for original, apparent, alcohol in balling_by_difference():
        calculated, sd = _alcohol(f"{original} ± 0.001 °P", f"{apparent:.4f} ± 0.001 °P")
        yield Held(100 * beer.alcohol_by_volume(alcohol / 100, wort.gravity_from_plato(apparent)), calculated, sd)


def excise() -> Iterator[Held]:
    """% by volume by the excise's factor in the middle of each band, of beers that lost four fifths of their gravity."""
    for row in rows("hmrc226_factors"):
        lost = (float(row["from"]) + float(row["to"])) / 2
        calculated, sd = _alcohol(f"{1 + lost / 800:.5f} ± 0.00001", f"{1 + lost / 4000:.5f} ± 0.00001")
        yield Held(lost * float(row["factor"]), calculated, sd)


def first_worts() -> Iterator[Held]:
    """Balling's sums of first wort and sparge, % and lb; printed to the last digit shown, and promised to one of it."""
    strong, thin = (
        strength for strength, _ in mash.run_off([400.0, 350.0], 100.0, _water_kept(120.0, 0.12847), 60.0, 0.07)
    )
    yield Held(12.847, strong, 0.001)
    yield Held(3.280, thin, 0.001)


def _water_kept(wort_kept: float, strength: float) -> float:
    """kg of water to the kg of malt in a kept wort, to 100 of malt."""
    return wort_kept * (1 - strength) / 100.0


def grain_water() -> Iterator[Held]:
    """kg of water that a kg of malt held, weighed; calculated is what is expected of a brewhouse nobody knows yet."""
    usual = Priors().water_held
    for row in rows("steinheil1847_brews"):
        yield Held(spent_grain(row)[0] / float(row["malt"]), usual.mean, usual.sd)


def spent_grain(row: dict[str, str]) -> tuple[float, float]:
    """Water and dry matter of the wet grains and the upper dough, Bavarian pounds."""
    wet = float(row["grains"]) + float(row["dough"])
    dry = float(row["grains"]) * float(row["grains_dry"]) / float(row["grains_wet"])
    dry += float(row["dough"]) * float(row["dough_dry"]) / float(row["dough_wet"])
    return wet - dry, dry


def vat() -> list[tuple[float, float]]:
    """Days and weight without the vat, Bavarian pounds."""
    return [(float(row["day"]), float(row["weight"]) - 861.88) for row in rows("steinheil1847_vat")]


def gas_lost() -> Iterator[Held]:
    """% of the wort's weight that a fermenting vat lost, and the carbon dioxide by its two gravities."""
    start, lightest = vat()[0][1], vat()[-1][1]
    found = brewed("fermenter: {gravity: 11.87 ± 0.02 °P}\nreadings: [{at: 2026-04-24 20:00, gravity: 5.54 ± 0.02 °P}]")
    alcohol = found["alcohol_by_weight"]
    # to 1 g of alcohol 0.9565 g of gas and 0.11 g of yeast leave the beer (Balling)
    share = 0.9565 / (1 + (0.9565 + 0.11) * alcohol.value)
    yield Held(100 * (start - lightest) / start, 100 * share * alcohol.value, 100 * share * alcohol.sd)


def vat_strengths() -> list[tuple[float, float]]:
    """Days and apparent degP of the vat, its loss of weight taken to go with the fall from 11.87 to 5.54."""
    weights = vat()
    start, end = weights[0][1], min(weight for _, weight in weights)
    return [(day, 5.54 + (11.87 - 5.54) * (weight - end) / (start - end)) for day, weight in weights]


_FILLED = datetime(2026, 4, 14, 5)


def course_fields(strengths: Iterable[tuple[float, float]]) -> str:
    """An entry's fields for a fermentation's strengths, degP by days, the first of them the wort's."""
    first, *others = strengths
    readings = "\n".join(
        f"  - {{at: {_FILLED + timedelta(days=day):%Y-%m-%d %H:%M}, gravity: {strength:.3f} °P}}"
        for day, strength in others
    )
    return f"fermenter: {{gravity: {first[1]:.3f} °P, pitched: {_FILLED:%Y-%m-%d %H:%M}}}\nreadings:\n{readings}"


def vat_course() -> Iterator[Held]:
    """degP at each weighing between the first and the last, by the course fitted to all the others, each good to 0.001 SG."""
    strengths = vat_strengths()
    for place in range(1, len(strengths) - 1):
        day, measured = strengths[place]
        known = recorded_fermentation(batch_of(course_fields(strengths[:place] + strengths[place + 1 :])), Brewery())
        course = fit_course(known)
        assert course is not None
        [(gravity, sd)] = course_within(course, [day])
        yield Held(measured, wort.plato_from_gravity(gravity), hypot(sd, 0.001) * wort.plato_slope(gravity))


def carbonated() -> Iterator[Held]:
    """Volumes of carbon dioxide by pressure and temperature, good to 4 %."""
    for row in rows("miller1994_carbonation"):
        held = carbonation.from_pressure(float(row["psi"]) * PSI, (float(row["t_F"]) - 32) / 1.8) / VOLUME
        yield Held(float(row["volumes"]), held, 0.04 * held)


_POINTS: dict[str, Callable[[], Iterator[Held]]] = {
    "sugar": sugar,
    "hydrometer": hydrometer,
    "american beers": american_beers,
    "sets of beers": sets_of_beers,
    "balling": balling_alcohol,
    "excise": excise,
    "first worts": first_worts,
    "grain water": grain_water,
    "gas lost": gas_lost,
    "vat course": vat_course,
    "carbonated": carbonated,
}


@cache
def published_sets() -> tuple[PublishedSet, ...]:
    """All of them, each with its points, in the order of the site's page, which has their words."""
    return tuple(
        PublishedSet(name, words.words, words.unit, words.decimals, tuple(_POINTS[name]()))
        for name, words in SET_WORDS.items()
    )
