"""Values that can't be true, each the sign of a wrong reading.

An efficiency above 1, extract that grows in the boil, more wort out than liquor in, a vessel fuller than it is: beyond
two standard uncertainties these are said, at the reading that carries most of the doubt; one cause is said once. A broken
balance that explains one is said in its place (`balance/odd.py`): what merely catches the eye belongs beside these, not among them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from journal.figures.catalogue import CATALOGUE
from journal.figures.fermenting import check_fermentation
from journal.figures.mash_shared import OF_THE_PAIR
from journal.figures.resolve import BatchFigures, Result
from journal.measures.units import is_depth, is_weight
from journal.measures.wording import METRIC, show
from journal.problems import Problem
from journal.reading import Batch, Brewery
from journal.reading.brewery import Brewhouse
from journal.reading.entry import STEEP
from journal.reading.known_readings import BY_PATH, VOLUME, KnownReading, read_at
from journal.reading.table import written_at
from journal.science.mash import GRAIN_DISPLACEMENT

#: Beyond this many standard uncertainties a value is taken to be impossible rather than unlucky.
BEYOND = 2.0
#: L that a kilogram of sugar adds when it dissolves (from the CRC Handbook's densities: 0.62).
DISSOLVED_SUGAR = 0.62
#: A boil that drives off more than this share of the wort is not a boil anyone means.
MOST_BOILED_OFF = 0.6

#: The efficiencies, the one a brewer quotes first.
_EFFICIENCIES = (
    "mash_efficiency",
    "brewhouse_efficiency",
    "lauter_efficiency",
    "conversion_efficiency",
    "transfer_efficiency",
)


@dataclass(frozen=True)
class _Checker:
    batch: Batch
    figures: BatchFigures
    system: str

    def figure(self, name: str) -> Result | None:
        """A figure that no reading has a part in which its brewer doesn't trust; None where there is none."""
        found = self.figures.results.get(name)
        trusted = found is not None and all(self.batch.trust.get(source.path, True) for source, _ in found.parts)
        return found if trusted else None

    def most_doubtful(self, results: list[Result]) -> str:
        """The reading of the entry that carries most of the uncertainty of all these figures.

        Empty if they share none.
        """
        shares: dict[str, list[float]] = {}
        for result in results:
            for source, sd in result.parts:
                if source.path in self.batch.places:
                    shares.setdefault(source.path, []).append((sd / result.sd) ** 2)
        shared = {path: fsum(parts) for path, parts in shares.items() if len(parts) >= len(results)}
        return max(shared, key=lambda path: shared[path], default="")

    def impossible(self, results: list[Result], what: str) -> Problem:
        path = self.most_doubtful(results) or self.most_doubtful(results[:1])
        hint = f"A reading is wrong. `{path}: {self.batch.written(path)}` carries most of the doubt: look at that one first."
        return Problem("reading-impossible", what, hint if path else "A reading is wrong.", self.batch.place(path))

    def shown(self, result: Result) -> str:
        return str(show(result.value, result.sd, result.unit, self.system))

    def volume_impossible(self, path: str, message: str, expected: str) -> Problem:
        place = self.batch.place(expected) if expected in self.batch.places else None
        hint = "Check both readings, their units and the temperature they were read at."
        return Problem("volume-impossible", message, hint, self.batch.place(path), expected_by=place)


def _over_one(check: _Checker) -> Iterator[Problem]:
    # what two worts of one mash have together is told of where the grist stands
    names = [name for name in _EFFICIENCIES if not (check.batch.second_wort_of and name in OF_THE_PAIR)]
    known = [found for name in names if (found := check.figure(name)) is not None]
    over = [result for result in known if result.value > 1.0 + BEYOND * result.sd]
    if over:
        what = f"{CATALOGUE[over[0].name].label} comes to {check.shown(over[0])}: more extract than there was"
        yield check.impossible(over, what)


def _grows_in_the_boil(check: _Checker) -> Iterator[Problem]:
    gain = check.figure("boil_gain")
    if gain is not None and gain.value > BEYOND * gain.sd > 0:
        yield check.impossible(
            [gain], f"the wort at knockout holds {check.shown(gain)} more extract than went into the boil"
        )


_KETTLE, _KNOCKOUT, _FERMENTER = (read_at(station, VOLUME) for station in ("kettle", "knockout", "fermenter"))
#: A volume, the one before it, what joined between them, and the words for a volume that grew.
_STEPS = (
    (_KNOCKOUT, _KETTLE, "boil", "the wort grew in the boil"),
    (_FERMENTER, _KNOCKOUT, "fermenter", "more wort reached the fermenter than left the kettle"),
)


def _litres_joined(check: _Checker, group: str) -> float:
    """L of water and sugar that joined at a step; dissolved sugar takes up room too."""
    sugar = fsum(addition.weighed.value for addition in getattr(check.batch, group).additions if addition.weighed)
    top_up = check.figures.get(BY_PATH[f"{group}.top_up"].figure)
    return (top_up.value if top_up else 0.0) + DISSOLVED_SUGAR * float(sugar)


def _volumes(check: _Checker) -> Iterator[Problem]:
    kettle, liquor = check.figure(_KETTLE.figure), check.figure("total_liquor")
    # what is steeped in is not all the water there is
    steeped = check.batch.lauter.method == STEEP
    if kettle and liquor and not steeped and kettle.value > liquor.value + BEYOND * math.hypot(kettle.sd, liquor.sd):
        message = f"{check.shown(kettle)} of wort came out of {check.shown(liquor)} of liquor"
        yield check.volume_impossible(_KETTLE.path, message, "mash.liquor")
    for reading, before, group, words in _STEPS:
        now, then = check.figure(reading.figure), check.figure(before.figure)
        if now is None or then is None:
            continue
        grown = now.value - then.value - _litres_joined(check, group)
        if grown > BEYOND * math.hypot(now.sd, then.sd):
            yield check.volume_impossible(
                reading.path, f"{words}: {check.shown(then)} before, {check.shown(now)} after", before.path
            )
    knockout = check.figure(_KNOCKOUT.figure)
    if knockout and kettle and knockout.value < (1.0 - MOST_BOILED_OFF) * kettle.value:
        message = f"the boil would have driven off more than half: {check.shown(kettle)} before, {check.shown(knockout)} after"
        yield check.volume_impossible(_KNOCKOUT.path, message, _KETTLE.path)


def _litres_read(check: _Checker, reading: KnownReading) -> float | None:
    """L that stood in a vessel as it was read; of what was weighed or dipped, at 20 °C, which is less than stood in it hot."""
    written = written_at(check.batch, reading.path)
    if written is None or not (is_weight(written.unit) or is_depth(written.unit)):
        return None if written is None else float(written.value)
    figure = check.figures.get(reading.figure)
    return figure.value if figure else None


def _vessels(check: _Checker, brewhouse: Brewhouse) -> Iterator[Problem]:
    read = check.figures.get(_KETTLE.figure)
    sd = read.sd if read else 0.25
    kettle = brewhouse.kettle.volume
    for reading in (_KETTLE, _KNOCKOUT):
        litres = _litres_read(check, reading)
        if kettle and litres is not None and litres > kettle.value + BEYOND * sd:
            held, room = show(litres, 0, "L", check.system), show(kettle.value, 0, "L", check.system)
            yield check.volume_impossible(reading.path, f"{held} stand in a kettle that holds {room}", "")
    tun = brewhouse.mash_tun.volume
    liquor, grain = check.figures.get("mash_liquor"), check.figures.get("grain_weight")
    if tun and liquor and grain:
        mash = liquor.value + GRAIN_DISPLACEMENT * grain.value
        if mash > tun.value + BEYOND * math.hypot(liquor.sd, GRAIN_DISPLACEMENT * grain.sd):
            held, room = show(mash, 0, "L", check.system), show(tun.value, 0, "L", check.system)
            yield check.volume_impossible("mash.liquor", f"a mash of {held} stands in a tun that holds {room}", "")


def _fermenter(check: _Checker, brewery: Brewery) -> Iterator[Problem]:
    """More than the fermenter holds: read in it, or planned for it."""
    vessel = brewery.fermenters.get(check.batch.fermenter.vessel or "")
    room = vessel.volume if vessel else None
    if room is None:
        return
    read, wanted = check.figures.get(_FERMENTER.figure), check.batch.target.volume
    if read is not None:
        if read.value > room.value + BEYOND * read.sd:
            message = f"{check.shown(read)} stand in a fermenter that holds {show(room.value, 0, 'L', check.system)}"
            yield check.volume_impossible(_FERMENTER.path, message, "")
    elif wanted is not None and wanted.value > room.value:
        held, most = (show(each.value, 0, "L", check.system) for each in (wanted, room))
        message, hint = (
            f"{held} are planned into a fermenter that holds {most}",
            "Plan less, or name a larger one as vessel:.",
        )
        yield Problem("volume-impossible", message, hint, check.batch.place("target.volume"))


def _more_packaged(check: _Checker) -> Iterator[Problem]:
    package, fermenter = check.figures.get("package_volume"), check.figures.get(_FERMENTER.figure)
    guests = [guest.fermenter.volume for guest in check.batch.relatives.guests if guest.fermenter.volume]
    # what a guest's was that was weighed or dipped is not known here
    if not package or not fermenter or any(is_weight(each.unit) or is_depth(each.unit) for each in guests):
        return
    filled = fermenter.value + fsum(volume.value for volume in guests)
    if package.value > filled * 1.05 + BEYOND * fermenter.sd:
        packaged = show(package.value, 0, "L", check.system)
        message = f"{packaged} were packaged from {check.shown(fermenter)} in the fermenter"
        yield check.volume_impossible("package.volume", message, _FERMENTER.path)


def find_impossible(batch: Batch, brewery: Brewery, figures: BatchFigures) -> list[Problem]:
    """Every value of a batch that can't be true, as warnings at the readings to look at.

    Never an error, never clipped.
    """
    check = _Checker(batch, figures, brewery.units or METRIC)
    _, brewhouse = brewery.brewhouse_of(batch.brewhouse)
    volumes = [*_volumes(check), *_vessels(check, brewhouse), *_fermenter(check, brewery), *_more_packaged(check)]
    doubted = {problem.path for problem in volumes}
    efficiencies = [*_over_one(check), *_grows_in_the_boil(check)]
    # a volume that can't be makes efficiencies that can't be: one cause is said once
    named = [problem for problem in efficiencies if problem.path not in doubted and not _shares_cause(problem, doubted)]
    return [*volumes, *named[:1], *check_fermentation(batch, brewery)]


def _shares_cause(problem: Problem, doubted: set[str]) -> bool:
    groups = {path.rsplit(".", 1)[0] for path in doubted}
    return problem.path.rsplit(".", 1)[0] in groups
