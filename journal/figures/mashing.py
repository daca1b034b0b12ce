"""A batch's numbers of mash, crush and water: its rests or its log, its conversion, its sieve test, its liquor and salts."""

from __future__ import annotations

from typing import Any, NamedTuple

from journal.figures.as_read import Observed
from journal.figures.checked import take_off_shift
from journal.figures.conversion import FEWEST_TIMES, approach_of
from journal.figures.corrected import gravity
from journal.figures.instruments import CLOCK
from journal.figures.logged_mash import MASH_OUT, WARM, LoggedMash, MashAim, course_of, logged_mash_of
from journal.figures.observe import Called, Observer, RestStep, observes
from journal.figures.propagate import propagate
from journal.figures.uncertain import ErrorSource, source
from journal.reading import resolve
from journal.reading.entry import Mash, Rest
from journal.reading.kinds import Sort, acid_strength, ingredient_named
from journal.science import acids as acid_sums
from journal.science import mash as science
from journal.science import sieve, water_chemistry, wort

#: Every reading of a mash that one thermometer made is wrong alike.
THERMOMETER = ErrorSource("instruments.thermometer")
#: Standard uncertainty of a water report's figure, share of it: waters change over a year (common practice).
WATER_SHARE = 0.10
#: Standard uncertainty of a small volume measured in a syringe or a spoon, share of it (common practice).
ACID_SHARE = 0.05
#: And of a share in a sieve test (common practice).
SIEVE_SD = 0.01
#: EBC. Grain darker than this is roasted (common practice).
ROASTED = 400.0
_IONS = ("calcium", "magnesium", "sodium", "sulfate", "chloride")


class LoggedMinutes(NamedTuple):
    """min that the log spends in each enzyme's range."""

    beta_glucanase: Any
    protease: Any
    beta_amylase: Any
    alpha_amylase: Any


class SortedGrain(NamedTuple):
    """kg, and in words what sort of grain it is: hulls, huskless, roasted; empty for none of these."""

    weight: Any
    sort: str


class AddedSalt(NamedTuple):
    """kg of a salt, and which."""

    weight: Any
    salt: str


class AddedAcid(NamedTuple):
    """How much of an acid, kg or L, the equivalents to each of those, and which."""

    amount: Any
    equivalents: float
    acid: str


class MeshShare(NamedTuple):
    """mm, 0 for the pan, and the share that stays on it."""

    mesh: float
    share: Any


def _step(o: Observer, rest: Rest, path: str) -> Observed:
    """A rest with its temperature as uncertain as the thermometer, which errs in all of them alike."""
    temperature, time = rest.temperature, o.clock(rest.time, f"{path}.time")
    if temperature is None or time.wanting:
        return Observed(wanting=(f"{path}.temperature",) if temperature is None else time.wanting)
    own = temperature.sd is not None
    sd = temperature.sd if temperature.sd is not None else o.deviations.temperature()
    known = (
        source(temperature.value, sd, ErrorSource(f"{path}.temperature") if own else THERMOMETER)
        if sd
        else temperature.value
    )
    return Observed(RestStep(take_off_shift(known, o.checked.thermometer), time.value))


def _steps(o: Observer, mash: Mash) -> Observed:
    """The rests from 40 °C to the mash-out, chosen by what is stated: at an edge a slope means nothing."""
    every = [(f"mash.rests[{index}]", rest) for index, rest in enumerate(mash.rests)]
    between = [(path, rest) for path, rest in every if rest.temperature and WARM <= rest.temperature.value < MASH_OUT]
    # a mash that never was in between is none that anyone meant; all of it counts
    steps = [_step(o, rest, path) for path, rest in between or every]
    wanting = tuple(path for step in steps for path in step.wanting) if steps else ("mash.rests",)
    return Observed(wanting=wanting) if wanting else Observed(tuple(step.value for step in steps))


def aim_of(mash: Mash) -> MashAim:
    """What the entry states of its mash, for a log to be held against."""
    first = mash.rests[0] if mash.rests else Rest()
    strike = mash.strike.value if mash.strike else None
    return MashAim(
        strike, first.temperature.value if first.temperature else None, first.time.value if first.time else 0.0
    )


def _logged(o: Observer, mash: Mash) -> dict[str, Observed]:
    """What the log says of the mash."""
    names = ("minutes", "time", "temperature", "overshoot", "heating", "drift")
    course, sd = course_of(o.batch.mash_log), o.deviations.temperature()
    seen = logged_mash_of(course, aim_of(mash), sd) if course else None
    if seen is None:
        return {f"mash_log_{name}": Observed(wanting=("mash.log",)) for name in names}
    numbers: dict[str, Any] = {
        "minutes": LoggedMinutes._make(source(*found, THERMOMETER) for found in seen.minutes),
        "time": source(seen.time, CLOCK, ErrorSource("mash.log")),
        "temperature": source(seen.temperature, sd, THERMOMETER),
        **_of_rests(seen, sd),
    }
    wanting = {"overshoot": "mash.rests", "heating": "a rest in mash.log", "drift": "a rest in mash.log"}
    return {
        f"mash_log_{name}": Observed(numbers[name]) if name in numbers else Observed(wanting=(wanting[name],))
        for name in names
    }


def _of_rests(seen: LoggedMash, sd: float) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if seen.overshoot is not None:
        found["overshoot"] = source(seen.overshoot, sd, THERMOMETER)
    if seen.heating is not None:
        found["heating"] = source(seen.heating, CLOCK, ErrorSource("mash.log"))
    if seen.drift is not None:
        slope, own = seen.drift
        found["drift"] = source(slope, own, ErrorSource("mash.log")) if own else slope
    return found


def _in_water(sg: float) -> float:
    """kg of extract in a kg of water, of a wort's gravity."""
    return science.dissolved_extract(1.0, wort.plato_from_gravity(sg))


def _conversion(o: Observer, mash: Mash) -> Observed:
    looks = (
        sorted(
            (look.at.value, f"mash.readings[{index}]", look)
            for index, look in enumerate(mash.readings)
            if look.at is not None and look.gravity is not None
        )
        if len({look.at.value for look in mash.readings if look.at}) >= FEWEST_TIMES
        else []
    )
    minutes, dissolved = [], []
    for _, path, look in looks:
        read = propagate(gravity, {"reading": o.gravity(look.gravity, f"{path}.gravity").value})
        dissolved.append(propagate(_in_water, {"sg": read}))
        minutes.append(o.clock(look.at, f"{path}.at").value)
    course = approach_of(minutes, dissolved) if looks else None
    # one more, be they too few or all of them too early
    missing = f"mash.readings[{max(len(mash.readings), FEWEST_TIMES - 1)}].gravity"
    return Observed(wanting=(missing,)) if course is None else Observed(course)


def _sorts(o: Observer) -> Observed:
    if not o.batch.grains:
        return Observed(wanting=("grains",))
    sorts: list[SortedGrain] = []
    wanting: list[str] = []
    for index, grain in enumerate(o.batch.grains):
        path = f"grains[{index}]"
        weight = o.weight(grain.weight, f"{path}.weight")
        values = resolve(grain, path, o.malts)
        kind = ingredient_named(values.kind)
        sort = {
            "hulls": kind is not None and kind.name == "hulls",
            "huskless": kind is not None and kind.huskless,
            "roasted": values.colour is not None and values.colour.value >= ROASTED,
        }
        wanting += weight.wanting
        sorts.append(SortedGrain(weight.value, ", ".join(word for word, holds in sort.items() if holds)))
    return Observed(wanting=tuple(wanting)) if wanting else Observed(tuple(sorts))


def _sieve(o: Observer) -> dict[str, Observed]:
    """The sieve test whole, wanting for the parts that its meshes don't part."""
    fractions = o.batch.sieve or ()
    names = ("husks", "coarse", "fine")
    if not fractions:
        return {f"sieve_test_{name}": Observed(wanting=("sieve",)) for name in names}
    shares = tuple(
        MeshShare(part.mesh, o.measure(part.share, part.path, lambda m: m.sd if m.sd is not None else SIEVE_SD).value)
        for part in fractions
    )
    crush = sieve.crush_of([(part.mesh, part.share.value) for part in fractions])
    parted_by = {"husks": sieve.HUSK_MESH, "coarse": sieve.HUSK_MESH, "fine": sieve.GRITS_MESH}
    return {
        f"sieve_test_{name}": Observed(shares)
        if share is not None
        else Observed(wanting=(f"sieve.{parted_by[name]} mm",))
        for name, share in zip(names, crush, strict=True)
    }


def _water(o: Observer) -> dict[str, Observed]:
    """The water before anything is added: the entry's, whole, or else the brewery's."""
    water = o.brewery.water_of(o.batch.water)

    def ion(name: str) -> Observed:
        return o.measure(
            getattr(water, name), f"water.{name}", lambda m: m.sd if m.sd is not None else WATER_SHARE * m.value
        )

    found = {f"water_{name}": ion(name) for name in _IONS}
    alkalinity = ion("alkalinity")
    if water.alkalinity is None and water.bicarbonate is not None:
        alkalinity = Observed(
            propagate(water_chemistry.alkalinity_from_bicarbonate, {"bicarbonate": ion("bicarbonate").value})
        )
    return {**found, "water_alkalinity": alkalinity}


def _salts(o: Observer, mash: Mash) -> Observed:
    salts, wanting = [], []
    for index, addition in enumerate(mash.additions):
        path = f"mash.additions[{index}]"
        known = ingredient_named(addition.addition or "")
        if known is None:
            wanting.append(f"{path}.addition")
        elif known.sort is not Sort.SALT:
            continue
        elif addition.weighed is None:
            wanting.append(f"{path}.weight")
        else:
            weight = o.hop_weight(addition.weighed, f"{path}.{addition.weight_field}")
            salts.append(AddedSalt(weight.value, known.name))
    return Observed(wanting=tuple(wanting)) if wanting else Observed(tuple(salts))


def _acids(o: Observer, mash: Mash, ion: str | None = None) -> Observed:
    """Every acid of the mash with what it takes away of alkalinity, or those alone that bring an ion.

    A strength or an amount that is not stated is wanting.
    """
    acids: list[AddedAcid] = []
    for index, addition in enumerate(mash.additions):
        path = f"mash.additions[{index}]"
        known = ingredient_named(addition.addition or "")
        if known is None:
            return Observed(wanting=(f"{path}.addition",))
        if known.sort is not Sort.ACID or (ion and ion not in acid_sums.ACIDS[known.name].ions):
            continue
        strength = acid_strength(addition.addition or "")
        if strength is None or strength.share is None:
            return Observed(wanting=(f"the strength of {addition.addition}",))
        measure = addition.weighed or addition.amount
        if measure is None:
            return Observed(wanting=(f"{path}.amount",))
        each = _equivalents(strength.acid, strength.share, by_volume=addition.weighed is None)
        if each is None:
            return Observed(wanting=(f"{path}.weight",))
        spread = (
            o.deviations.hop_weight
            if addition.weighed
            else lambda m: m.sd if m.sd is not None else ACID_SHARE * m.value
        )
        amount = o.measure(measure, f"{path}.{addition.weight_field}", spread)
        acids.append(AddedAcid(amount.value, each, strength.acid))
    return Observed(tuple(acids))


def _equivalents(acid: str, share: float, by_volume: bool) -> float | None:
    """eq to the kg or to the L of an acid; None of a solution whose density nobody tabled."""
    try:
        return acid_sums.normality(acid, share) if by_volume else acid_sums.equivalents(acid, share)
    except ValueError:
        return None


@observes(
    grain_sorts=Called("the grains"),
    sieve_test_husks=Called("crushed malt"),
    sieve_test_coarse=Called("crushed malt"),
    sieve_test_fine=Called("crushed malt"),
    water_calcium=Called("calcium", "mg/L"),
    water_magnesium=Called("magnesium", "mg/L"),
    water_sodium=Called("sodium", "mg/L"),
    water_sulfate=Called("sulfate", "mg/L"),
    water_chloride=Called("chloride", "mg/L"),
    water_alkalinity=Called("alkalinity", "mg/L as CaCO3"),
    mash_salts=Called("the salts"),
    mash_acids=Called("the acids"),
    mash_chloride_acids=Called("the acids that bring chloride"),
    mash_sulfate_acids=Called("the acids that bring sulfate"),
    mash_steps=Called("rests"),
    mash_log_minutes=Called("time in the logged mash"),
    mash_log_time=Called("time of the logged mash", "min"),
    mash_log_temperature=Called("mean of the logged mash", "°C"),
    mash_log_overshoot=Called("highest of the log", "K"),
    mash_log_heating=Called("time in the log", "min"),
    mash_log_drift=Called("log", "K/h"),
    conversion_course=Called("course of the gravities during the mash"),
    run_offs=Called("the number of"),
)
def observe_mash(o: Observer) -> dict[str, Observed]:
    """Every reading of crush, mash and water that a figure may take, by the name of the figure's parameter."""
    mash, lauter = o.batch.mash, o.batch.lauter
    return {
        "grain_sorts": _sorts(o),
        **_sieve(o),
        **_water(o),
        "mash_salts": _salts(o, mash),
        "mash_acids": _acids(o, mash),
        "mash_chloride_acids": _acids(o, mash, "chloride"),
        "mash_sulfate_acids": _acids(o, mash, "sulfate"),
        "mash_steps": _steps(o, mash),
        **_logged(o, mash),
        "conversion_course": _conversion(o, mash),
        "run_offs": Observed(float(science.run_offs_of(lauter.method, len(lauter.fillings)))),
    }
