"""What people really do with a reading, and which of it would explain a suspect.

Each slip says what the reading should have been had it been made. One is named only where it brings the suspect to what
the rest needs, beats plain error by far, and beats every other slip: in likelihoods, at least e² to one.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from journal.balance.equations import build_model
from journal.balance.priors import Priors
from journal.balance.verdict import Suspect, Verdict, restored, solve
from journal.figures import BatchFigures, figures_of
from journal.figures.instruments import Deviations
from journal.measures import Gravity, Measure, Scale
from journal.measures.units import convert
from journal.measures.wording import METRIC, show, whole_degrees
from journal.numerics.least_squares import NoSolution
from journal.reading import Batch, Brewery, Malts, resolve
from journal.science import water, wort

#: A slip has to come within this many standard deviations of what is needed.
FITS_WITHIN = 2.0
#: Half the difference of two squares at which one explanation is e² times as likely as the other.
CLEARLY = 4.0
#: Wort in a kettle that was read hot, degC; samples that brewers float a hydrometer in too soon, degC.
HOT_VOLUME = (50.0, 100.0)
WARM_SAMPLE = (30.0, 70.0)
#: Top-ups that are worth forgetting, L.
LEAST_TOP_UP = 0.5

#: Slips in what went into the brew rather than in what was read off an instrument: they clear every reading.
WENT_IN = frozenset({"top_up_left_out", "grain_left_out", "grain_twice"})

#: L in a gallon, and whose gallon it is.
_GALLONS = {
    name: (convert(1.0, name, "litre"), whose) for name, whose in (("us_gallon", "US"), ("imperial_gallon", "imperial"))
}


@dataclass(frozen=True)
class Slip:
    """A slip by its code and the path of what is wrong.

    `meant` is what should have stood there: L at 20 °C, SG 20/20, or kg of a grain. `away` is how far that is from what the
    rest needs, in standard deviations. `words` say what happened.
    """

    code: str
    path: str
    meant: float
    away: float
    words: str


def _away(meant: float, suspect: Suspect) -> float:
    return abs(meant - suspect.needed) / suspect.away_sd


def _reading(batch: Batch, path: str) -> Measure | Gravity | None:
    found: object = batch
    for name in path.split("."):
        found = getattr(found, name, None)
    return found if isinstance(found, Measure | Gravity) else None


def _solved_between(meant: Callable[[float], float], low: float, high: float, needed: float) -> float:
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
    at = _solved_between(lambda t: water.volume_at_20(suspect.recorded, t), *HOT_VOLUME, meant)
    how = "Read near boiling" if at > HOT_VOLUME[1] - 3 else f"Read at about {whole_degrees(at, system)}"
    words = f"{how} and written down as if cold, it would be {show(meant, 0, 'L', system)}."
    return Slip("read_hot", suspect.path, meant, _away(meant, suspect), words)


def _gallon_slips(suspect: Suspect, unit: str) -> Iterator[tuple[str, float, str]]:
    """Code, L that were meant, and in what case, for a volume written in some unit."""
    if unit == "litre":
        for litres, _ in _GALLONS.values():
            yield "litres_as_gallons", suspect.recorded * litres, "If gallons were written as litres"
    if unit in _GALLONS:
        litres, _ = _GALLONS[unit]
        yield "litres_as_gallons", suspect.recorded / litres, "If litres were written as gallons"
        for other, (others_litres, whose) in _GALLONS.items():
            if other != unit:
                yield "wrong_gallon", suspect.recorded / litres * others_litres, f"In {whose} gallons"


def _volume_slips(suspect: Suspect, measure: Measure, verdict: Verdict, system: str) -> Iterator[Slip]:
    if measure.at is None:
        yield _read_hot(suspect, system)
    for code, meant, case in _gallon_slips(suspect, measure.unit):
        words = f"{case} it would be {show(meant, 0, 'L', system)}."
        yield Slip(code, suspect.path, meant, _away(meant, suspect), words)
    for other in verdict.readings:
        if other.path != suspect.path and other.path.endswith(".volume"):
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
        at = whole_degrees(_solved_between(in_sample, *WARM_SAMPLE, meant), system)
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
    if isinstance(read, Measure) and suspect.path.endswith((".volume", ".liquor")):
        return list(_volume_slips(suspect, read, verdict, system))
    return []


@dataclass(frozen=True)
class _WentInSearch:
    """Searches what went into a brew and was not written down so, or was and did not: each with the sum of squares it leaves."""

    batch: Batch
    figures: BatchFigures
    priors: Priors
    brewery: Brewery
    malts: Malts

    @property
    def left_out(self) -> frozenset[str]:
        return frozenset(path for path, trusted in self.batch.trust.items() if not trusted)

    def shown(self, value: float, unit: str) -> str:
        return str(show(value, 0, unit, self.brewery.units or METRIC))

    def top_ups(self) -> Iterator[tuple[float, Slip]]:
        for path in ("boil.top_up", "fermenter.top_up"):
            if path in self.batch.places:
                continue
            tried = restored(self.batch, self.figures, self.priors, path, self.left_out)
            found = tried.suspect if tried else None
            if found and found.needed > max(LEAST_TOP_UP, FITS_WITHIN * found.needed_sd):
                amount = self.shown(found.needed, "L")
                words = f"{amount} of water that went in after the reading and was not written down would explain it."
                yield found.chi_square, Slip("top_up_left_out", path, found.needed, 0.0, words)

    def grains(self) -> Iterator[tuple[float, Slip]]:
        for index, grain in enumerate(self.batch.grains):
            if grain.weight is None:
                continue
            path, weight = f"grains[{index}].weight", grain.weight
            others = (self.batch.grains[:index], self.batch.grains[index + 1 :])
            twice = replace(grain, weight=weight._replace(value=2 * weight.value))
            named = f"the {self.shown(weight.value, 'kg')} of {resolve(grain, path, self.malts).name}"
            for code, grist, meant, words in (
                ("grain_left_out", (*others[0], *others[1]), 0.0, "never went into the mash"),
                ("grain_twice", (*others[0], twice, *others[1]), 2 * weight.value, "went in twice"),
            ):
                chi_square = self.with_grist(replace(self.batch, grains=grist))
                if chi_square is not None:
                    yield chi_square, Slip(code, path, meant, 0.0, f"If {named} {words}, it would explain it.")

    def with_grist(self, batch: Batch) -> float | None:
        """The sum of squares had the grist been another; None where that can't be worked out."""
        model = build_model(batch, figures_of(batch, self.brewery, self.malts), self.priors, self.left_out)
        try:
            # a grist without extract leaves a smaller model, which is no comparison
            return solve(model).chi_square if model and "water_held" in model.unknowns else None
        except NoSolution:
            return None

    def best(self, beaten: float) -> Slip | None:
        """What explains everything clearly better than any single reading does, and than anything else of its kind."""
        tried = sorted((*self.top_ups(), *self.grains()), key=lambda found: found[0])
        if not tried:
            return None
        least, slip = tried[0]
        others = [beaten, *(chi_square for chi_square, _ in tried[1:])]
        return slip if least < min(others) - CLEARLY else None


def find_slip(
    batch: Batch, figures: BatchFigures, priors: Priors, brewery: Brewery, malts: Malts, verdict: Verdict
) -> tuple[Slip | None, Slip | None]:
    """The everyday slip that explains a broken balance, and the one that comes nearest where none does.

    None for neither.
    """
    if not verdict.suspects:
        return None, None
    went_in = _WentInSearch(batch, figures, priors, brewery, malts).best(verdict.suspects[0].chi_square)
    if went_in:
        return went_in, None
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
