"""What people really do with a reading, and which of it would explain the suspect of a broken balance."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from journal.balance.slip import CLEARLY, FITS_WITHIN, Slip
from journal.balance.verdict import Suspect, Verdict
from journal.figures.instruments import Deviations
from journal.measures import Gravity, Measure, Scale
from journal.measures.units import convert
from journal.measures.wording import METRIC, show, whole_degrees
from journal.reading import Batch, Brewery
from journal.reading.known_readings import BY_PATH, JOINED, VOLUME
from journal.science import water, wort

#: Wort in a kettle that was read hot, degC; samples that brewers float a hydrometer in too soon, degC.
HOT_VOLUME = (50.0, 100.0)
WARM_SAMPLE = (30.0, 70.0)
#: Whose gallon it is, by the unit.
_GALLONS = {"us_gallon": "US", "imperial_gallon": "imperial"}


def _litres(gallon: str) -> float:
    return convert(1.0, gallon, "litre")


def _away(meant: float, suspect: Suspect) -> float:
    return abs(meant - suspect.needed) / suspect.away_sd


def _reading(batch: Batch, path: str) -> Measure | Gravity | None:
    found: object = batch
    for name in path.split("."):
        found = getattr(found, name, None)
    return found if isinstance(found, Measure | Gravity) else None


def _solve_between(meant: Callable[[float], float], low: float, high: float, needed: float) -> float:
    """The temperature between two at which a slip comes nearest to what is needed; monotonous slips only."""
    for _ in range(40):
        middle = (low + high) / 2
        if (meant(low) - needed) * (meant(middle) - needed) <= 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def _read_hot(suspect: Suspect, system: str) -> Slip:
    """The kettle's marks read in hot wort, whose volume shrinks as it cools."""
    hottest, mildest = (water.volume_at_20(suspect.recorded, t) for t in reversed(HOT_VOLUME))
    meant = min(max(suspect.needed, hottest), mildest)
    at = _solve_between(lambda t: water.volume_at_20(suspect.recorded, t), *HOT_VOLUME, meant)
    how = "Read near boiling" if at > HOT_VOLUME[1] - 3 else f"Read at about {whole_degrees(at, system)}"
    words = f"{how} and written down as if cold, it would be {show(meant, 0, 'L', system)}."
    return Slip("read_hot", suspect.path, meant, _away(meant, suspect), words)


def _gallon_slips(suspect: Suspect, unit: str) -> Iterator[tuple[str, float, str]]:
    """Code, L that were meant, and in what case, for a volume written in some unit."""
    if unit == "litre":
        for gallon in _GALLONS:
            yield "litres_as_gallons", suspect.recorded * _litres(gallon), "If gallons were written as litres"
    if unit in _GALLONS:
        yield "litres_as_gallons", suspect.recorded / _litres(unit), "If litres were written as gallons"
        for other, whose in _GALLONS.items():
            if other != unit:
                yield "wrong_gallon", suspect.recorded / _litres(unit) * _litres(other), f"In {whose} gallons"


def _volume_slips(suspect: Suspect, measure: Measure, verdict: Verdict, system: str) -> Iterator[Slip]:
    if measure.at is None:
        yield _read_hot(suspect, system)
    for code, meant, case in _gallon_slips(suspect, measure.unit):
        words = f"{case} it would be {show(meant, 0, 'L', system)}."
        yield Slip(code, suspect.path, meant, _away(meant, suspect), words)
    for other in verdict.readings:
        if other.path != suspect.path and BY_PATH[other.path].station and BY_PATH[other.path].unit == VOLUME:
            here = abs(suspect.recorded - other.balanced) / suspect.away_sd
            if here < FITS_WITHIN:
                written = show(suspect.recorded, 0, "L", system)
                words = f"{written} is what `{other.path}` comes to: the volume of another vessel?"
                yield Slip("other_vessel", suspect.path, suspect.needed, here, words)


def _hydrometer_slips(suspect: Suspect, gravity: Gravity, calibrated_at: float, system: str) -> Iterator[Slip]:
    def slip(code: str, meant: float, words: str) -> Slip:
        return Slip(code, suspect.path, meant, _away(meant, suspect), words)

    def in_sample(temperature: float) -> float:
        return wort.gravity_at_20(gravity.value, temperature, calibrated_at)

    if gravity.at is None:
        low, high = (in_sample(t) for t in WARM_SAMPLE)
        meant = min(max(suspect.needed, low), high)
        at = whole_degrees(_solve_between(in_sample, *WARM_SAMPLE, meant), system)
        yield slip("read_hot", meant, f"Read in a sample of about {at} and not corrected, it would be {meant:.4f}.")
    digits = re.fullmatch(r"1\.(\d)(\d)(\d)0*", f"{gravity.value:.4f}")
    if digits and digits[2] != digits[3]:
        swapped = float(f"1.{digits[1]}{digits[3]}{digits[2]}")
        at_sample = calibrated_at if gravity.at is None else gravity.at
        meant = wort.gravity_at_20(swapped, at_sample, calibrated_at)
        yield slip("swapped_digits", meant, f"With two digits the other way round it would be {swapped:.3f}.")


def _scale_slip(suspect: Suspect, gravity: Gravity, factor: float) -> Slip:
    """°P and °Bx taken for each other."""
    as_plato = gravity.scale is Scale.PLATO
    meant = wort.gravity_from_plato(gravity.value / factor if as_plato else gravity.value)
    words = f"If {gravity.value:g} was {'°Bx' if as_plato else '°P'}, it would be {meant:.4f}."
    return Slip("plato_as_brix", suspect.path, meant, _away(meant, suspect), words)


def _of_suspect(batch: Batch, brewery: Brewery, suspect: Suspect, verdict: Verdict) -> list[Slip]:
    read, system = _reading(batch, suspect.path), brewery.units or METRIC
    deviations = Deviations(brewery.instruments)
    if isinstance(read, Gravity) and read.scale is Scale.HYDROMETER:
        return list(_hydrometer_slips(suspect, read, deviations.calibrated_at, system))
    if isinstance(read, Gravity):
        return [_scale_slip(suspect, read, deviations.wort_factor[0])]
    if isinstance(read, Measure) and BY_PATH[suspect.path].unit == VOLUME and BY_PATH[suspect.path] not in JOINED:
        return list(_volume_slips(suspect, read, verdict, system))
    return []


def find_slip(batch: Batch, brewery: Brewery, verdict: Verdict) -> tuple[Slip | None, Slip | None]:
    """What was done to the one reading that a broken balance accuses: the everyday slip that explains it, and the one that
    comes nearest where none does.

    None for neither.
    """
    if verdict.alike != 1:
        return None, None
    suspect = verdict.suspects[0]
    noise = _away(suspect.recorded, suspect)
    tried = sorted(_of_suspect(batch, brewery, suspect, verdict), key=lambda slip: slip.away)
    if not tried:
        return None, None
    best = tried[0]
    beaten = min([noise, *(slip.away for slip in tried if slip.code != best.code)])
    if best.away <= FITS_WITHIN and beaten**2 - best.away**2 >= CLEARLY:
        return best, None
    # a slip that goes the right way and not far enough is worth saying
    return None, best if FITS_WITHIN < best.away < noise * 0.9 else None
