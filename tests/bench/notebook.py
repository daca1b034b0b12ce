"""A brew day as its brewer writes it down: an entry's front matter, read through imperfect instruments."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

from bench.brewday import BrewDay, Grain, Wort, swollen

_LITRES_A_GALLON = 3.785411784
_KG_AN_OUNCE = 0.45359237 / 16


@dataclass(frozen=True)
class Instruments:
    """Readings with a little error, less than brewery.yaml allows them, in the units of one brewer."""

    rng: Random
    us: bool = False
    scale: str = "hydrometer"  # or plato, refractometer
    with_uncertainty: bool = False

    def temperature(self, celsius: float) -> str:
        return f"{celsius * 1.8 + 32:.0f} degF" if self.us else f"{celsius:.1f} degC"

    def volume(self, litres: float, celsius: float | None = None) -> str:
        """Litres at 20 °C, as they stand in a vessel at some temperature."""
        seen = (litres + self.rng.gauss(0, 0.1)) * (swollen(celsius) if celsius else 1)
        number, unit = (f"{seen / _LITRES_A_GALLON:.2f}", "gal") if self.us else (f"{seen:.1f}", "L")
        uncertainty = (" ± 0.07" if self.us else " ± 0.25") if self.with_uncertainty else ""
        return f"{number}{uncertainty} {unit}" + (f" at {self.temperature(celsius)}" if celsius else "")

    def weight(self, kg: float) -> str:
        seen = kg + self.rng.gauss(0, 0.008 if kg > 1 else 0.002)
        if self.us:
            pounds, ounces = divmod(round(seen / _KG_AN_OUNCE, 1), 16)
            return f"{pounds:.0f} lb {ounces:.1f} oz" if pounds else f"{ounces:.1f} oz"
        return f"{seen:.2f} kg" if seen > 1 else f"{seen * 1000:.0f} g"

    def gravity(self, wort: Wort, celsius: float | None = None) -> str:
        """Only a hydrometer minds a warm sample: it sinks deeper, and its glass swells a little."""
        if self.scale == "refractometer":
            return f"{wort.strength * 1.04 + self.rng.gauss(0, 0.06):.1f} °Bx"
        if self.scale == "plato":
            return f"{wort.strength + self.rng.gauss(0, 0.08):.1f} °P"
        true = wort.gravity + self.rng.gauss(0, 0.0003)
        if celsius is None:
            return f"{true:.3f}"
        shown = true / swollen(celsius) * (1 + 25e-6 * (celsius - 20))
        return f"{shown:.3f}" + (" ± 0.001" if self.with_uncertainty else "") + f" at {self.temperature(celsius)}"


@dataclass(frozen=True)
class Entry:
    """Everything an entry's front matter is written from."""

    number: int
    title: str
    style: str
    brewed: date
    day: BrewDay
    read: Instruments

    @property
    def rng(self) -> Random:
        return self.read.rng

    def front_matter(self) -> str:
        parts = (_head, _grains, _mash, _lauter, _boil, _fermenter, _readings, _last)
        return "\n".join(line for part in parts for line in part(self)) + "\n"


def _head(entry: Entry) -> list[str]:
    tags = entry.rng.sample(("cask", "bottled", "house", "trial", "winter", "harvest", "small"), 2)
    return [
        f"batch: {entry.number}",
        f"title: {entry.title}",
        f"brewed: {entry.brewed}",
        f"style: {entry.style}",
        f"brewhouse: {entry.day.brewhouse.key}",
        f"tags: [{', '.join(tags)}]",
        f"target: {{gravity: {entry.day.pitched.gravity:.3f}, volume: {entry.day.pitched.litres:.0f} L}}",
    ]


def _grain(grain: Grain, read: Instruments) -> list[str]:
    return [
        f"  - malt: {grain.malt}",
        f"    weight: {read.weight(grain.weight)}",
        *(f"    {name}: {value}" for name, value in grain.lab.items()),
    ]


def _grains(entry: Entry) -> list[str]:
    gap = f"{entry.day.crush / 25.4:.3f} in" if entry.read.us else f"{entry.day.crush:.2f} mm"
    lines = [line for grain in entry.day.grains for line in _grain(grain, entry.read)]
    return ["grains:", *lines, f"crush: {gap}"]


def _mash(entry: Entry) -> list[str]:
    day, read, rng = entry.day, entry.read, entry.rng
    sample = rng.uniform(18, 26)
    log = [f"  log: {entry.number:05d}-mash.csv"] if keeps_mash_log(entry.number) else []
    stuck = [f"  stuck: {rng.choice((0, 4, 10))} min"] if entry.number % 3 == 0 else []
    return [
        "mash:",
        f"  liquor: {read.volume(day.mash_liquor)}",
        f"  strike: {read.temperature(day.strike)}",
        f"  grain_temperature: {read.temperature(day.grain_temperature)}",
        "  rests:",
        f"    - {read.temperature(day.rest)} for {rng.choice((45, 60, 75))} min",
        f"    - {{temperature: {read.temperature(76)}, time: {rng.choice(('10 min', '0 h 15 min'))}}}",
        *log,
        f"  ph: {rng.gauss(5.4, 0.06):.2f} at {read.temperature(rng.uniform(18, 24))}",
        f"  first_wort: {read.gravity(day.first_wort, sample)}",
        f"  mixing: {rng.choice(('none', 'stirred', 'recirculated'))}",
        *stuck,
        "  additions:",
        f"    - {{addition: lactic acid 80 %, amount: {rng.randint(1, 5)} mL}}",
        f"    - {{addition: gypsum, amount: {rng.randint(2, 6)} g}}",
    ]


def _lauter(entry: Entry) -> list[str]:
    day, read = entry.day, entry.read
    sparge = []
    if day.sparge_liquor:
        sparge = [
            f"  liquor: {read.volume(day.sparge_liquor)}",
            f"  liquor_temperature: {read.temperature(76)}",
            f"  last_runnings: {read.gravity(day.last_runnings)}",
        ]
    return ["lauter:", f"  method: {day.method}", *sparge, f"  time: {entry.rng.randint(25, 70)} min"]


def _hop(entry: Entry, boiled: int) -> str:
    hop = entry.rng.choice(("Long Fallow", "Withy Green", "Otter Bine", "Brack Gold"))
    weight = entry.rng.randint(15, 45)
    amount = f"{weight / 28.35:.1f} oz" if entry.read.us else f"{weight} g"
    return f"    - {{hop: {hop}, weight: {amount}, alpha: {entry.rng.uniform(4, 8):.1f} %, boiled: {boiled} min}}"


def _boil(entry: Entry) -> list[str]:
    day, read = entry.day, entry.read
    top_up = [f"  top_up: {day.kettle_top_up} L"] if day.kettle_top_up else []
    sugar = []
    if day.kettle_sugar:
        sugar = ["  additions:", f"    - {{addition: dextrose, weight: {day.kettle_sugar} kg, extract_as_is: 91 %}}"]
    before, after = entry.rng.uniform(60, 70), entry.rng.uniform(92, 97)
    return [
        "boil:",
        "  before:",
        f"    volume: {read.volume(day.full_kettle.litres, before)}",
        f"    gravity: {read.gravity(day.full_kettle, entry.rng.uniform(18, 32))}",
        *top_up,
        "  after:",
        f"    volume: {read.volume(day.knockout.litres, after)}",
        f"    gravity: {read.gravity(day.knockout)}",
        f"  time: {day.boil_time} min",
        "  hops:",
        *(_hop(entry, boiled) for boiled in (60, 20, 5)),
        *sugar,
    ]


def _fermenter(entry: Entry) -> list[str]:
    day, read = entry.day, entry.read
    top_up = [f"  top_up: {day.fermenter_top_up} L"] if day.fermenter_top_up else []
    honey = []
    if day.fermenter_honey:
        sheet = "extract: 100 %, moisture: 19 %, diastatic_power: 0 WK, colour: 6 EBC, source: datasheet"
        honey = ["  additions:", f"    - {{addition: heather honey, weight: {day.fermenter_honey} kg, {sheet}}}"]
    return [
        "fermenter:",
        f"  volume: {read.volume(day.pitched.litres)}",
        f"  gravity: {read.gravity(day.pitched)}",
        *top_up,
        *honey,
        f"  yeast: {entry.rng.choice(('loft ale strain', 'barn lager strain', 'saved slurry'))}",
        f"  pitched: {entry.brewed} {entry.rng.randint(15, 19)}:30",
    ]


def _readings(entry: Entry) -> list[str]:
    """Gravities of fermenting beer by hydrometer, for a refractometer would show the alcohol too."""
    lines = ["readings:"]
    for day in (2, 4, 8, 13):
        at = entry.brewed + timedelta(days=day)
        ph = f", ph: {entry.rng.gauss(4.3, 0.05):.2f}" if day > 4 else ""
        gravity, beer = entry.day.gravity_on_day(day), entry.read.temperature(entry.rng.uniform(18, 20))
        lines.append(f"  - {{at: {at} 20:00, gravity: {gravity:.3f}, temperature: {beer}{ph}}}")
    return lines


def _last(entry: Entry) -> list[str]:
    rng, day = entry.rng, entry.day
    log = [f"readings_log: {entry.number:05d}-fermentation.csv"] if keeps_fermentation_log(entry.number) else []
    trust = ["trust: {boil.after.volume: no}"] if entry.number % 11 == 10 else []
    packaged = entry.read.volume(day.pitched.litres - rng.uniform(0.6, 1.4))
    run_off, lid = rng.choice(("slow", "brisk")), rng.choice(("yes", "no"))
    return [
        *log,
        f"package: {{on: {entry.brewed + timedelta(days=15)}, volume: {packaged}, gravity: {day.final_gravity:.3f}}}",
        f"practice: {{run_off: {run_off}, paddle_turns: {rng.randint(4, 20)}, lid: {lid}}}",
        *trust,
    ]


def keeps_mash_log(number: int) -> bool:
    return number % 6 == 0


def keeps_fermentation_log(number: int) -> bool:
    return number % 6 == 1


def mash_log(day: BrewDay, rng: Random) -> str:
    """A logger's file, a row every two minutes of an hour."""
    rows = (f"{minute},{day.rest + 0.8 * (1 - minute / 30) + rng.gauss(0, 0.1):.2f}" for minute in range(0, 62, 2))
    return "time (min),temperature (degC)\n" + "\n".join(rows) + "\n"


def fermentation_log(day: BrewDay, brewed: date, rng: Random) -> str:
    """A logger's file, a row every six hours of a fortnight."""
    rows = []
    for quarter in range(4 * 14):
        at = brewed + timedelta(days=1 + quarter // 4)
        gravity = day.gravity_on_day(0.25 + quarter / 4)
        rows.append(f"{at}T{quarter % 4 * 6:02d}:00,{gravity:.4f},{rng.gauss(19, 0.3):.1f}")
    return "time,gravity,temperature (degC)\n" + "\n".join(rows) + "\n"
