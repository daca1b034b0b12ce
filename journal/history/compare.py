"""Two batches side by side: what differed in practice, what differed in result, and how much of that is more than chance."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from math import fsum

from journal.balance import BROKEN, Balance
from journal.balance.priors import usual_spread
from journal.figures import CATALOGUE, BatchFigures, Result
from journal.frozen import dataclass
from journal.history.made_of import BEYOND, NEEDED, MadeOf, made_of
from journal.history.settings import Setting, grist_words, lot_shares, settings_of
from journal.history.usual import sheet_sd
from journal.reading import Batch, Journal, id_order
from journal.science import beer

#: The results that two batches are compared by.
COMPARED = (
    "conversion_efficiency",
    "lauter_efficiency",
    "mash_efficiency",
    "transfer_efficiency",
    "brewhouse_efficiency",
    "boil_off",
    "wort_held",
    "original_gravity",
    "apparent_attenuation",
    "alcohol_by_volume",
)
#: What batches of one brewhouse differ by though nothing was changed (common practice), by figure.
_ORDINARY = {
    "conversion_efficiency": usual_spread("conversion"),
    "lauter_efficiency": usual_spread("shortfall"),
    "mash_efficiency": 0.014,
    "transfer_efficiency": 0.01,
    "brewhouse_efficiency": 0.017,
    "boil_off": usual_spread("boil_off"),
    "wort_held": usual_spread("water_held"),
}
#: Figures that a malt's sheet, if it is wrong, puts wrong in the same sense for every batch of its lot.
_BY_THE_SHEET = frozenset({"conversion_efficiency", "mash_efficiency", "brewhouse_efficiency"})
#: All that a comparison looks at.
_NEEDED = (*COMPARED, "original_extract", *NEEDED)
#: Figures that are worth nothing where the readings contradict one another.
_BY_THE_BALANCE = frozenset(_ORDINARY)
#: Grain that brings less of the extract than this is left out of a grist told in a line.
_IN_THE_GRIST = 0.001
#: Of two uncertainties at most this share is taken to be one error.
_MOST_SHARED = 0.9


@dataclass(frozen=True)
class Differing:
    """A setting that was not the same; None where one of the two did not record it."""

    lever: str
    first: Setting | None
    second: Setting | None


@dataclass(frozen=True)
class FigureDifference:
    """A figure of both, their difference (second less first) and its standard deviation, ordinary scatter included."""

    name: str
    unit: str
    first: Result
    second: Result
    difference: float
    sd: float

    @property
    def more_than_chance(self) -> bool:
        """Whether ordinary scatter and the readings' errors together hardly explain it."""
        return abs(self.difference) > BEYOND * self.sd


@dataclass(frozen=True)
class Split:
    """A difference in two parts that add up to it."""

    what: str
    unit: str
    difference: float
    first_part: str
    first_value: float
    second_part: str
    second_value: float


@dataclass(frozen=True)
class Comparison:
    """Two batches, the earlier first."""

    first: str
    second: str
    practice: tuple[Differing, ...]
    outcomes: tuple[FigureDifference, ...]
    splits: tuple[Split, ...]
    #: What the difference of extract is made of; None where grist and efficiency are not known of both.
    made_of: MadeOf | None = None
    #: Those whose readings contradict one another: what hangs on the balance is not compared then.
    broken: tuple[str, ...] = ()


def _practice(first: Mapping[str, Setting], second: Mapping[str, Setting]) -> Iterator[Differing]:
    for lever in dict.fromkeys([*first, *second]):
        one, other = first.get(lever), second.get(lever)
        alike = one == other or (
            isinstance(one, float)
            and isinstance(other, float)
            and math.isclose(one, other, rel_tol=0.005, abs_tol=1e-9)
        )
        if not alike:
            yield Differing(lever, one, other)


def _outcomes(first: dict[str, Result], second: dict[str, Result], sheet: float) -> Iterator[FigureDifference]:
    """`sheet` is the relative error, squared, that the two grists' sheets have in common."""
    for name in COMPARED:
        if name in first and name in second:
            one, other = first[name], second[name]
            shared = sheet * one.value * other.value if name in _BY_THE_SHEET else 0.0
            shared = min(shared, _MOST_SHARED * one.sd * other.sd)
            sd = math.sqrt(one.sd**2 + other.sd**2 - 2 * shared + 2 * _ORDINARY.get(name, 0.0) ** 2)
            yield FigureDifference(name, CATALOGUE[name].unit, one, other, other.value - one.value, sd)


def _alcohol_split(first: dict[str, Result], second: dict[str, Result]) -> Iterator[Split]:
    """Alcohol: what more extract made, and what more attenuation made."""
    needed = ("original_extract", "apparent_attenuation")
    if any(name not in found for name in needed for found in (first, second)):
        return

    def alcohol(original: float, attenuation: float) -> float:
        return beer.alcohol_by_weight(original, beer.real_extract(original, original * (1 - attenuation)))

    (original_1, attenuation_1), (original_2, attenuation_2) = (
        (found["original_extract"].value, found["apparent_attenuation"].value) for found in (first, second)
    )
    ends = alcohol(original_1, attenuation_1), alcohol(original_2, attenuation_2)
    between = alcohol(original_2, attenuation_1), alcohol(original_1, attenuation_2)
    extract = ((between[0] - ends[0]) + (ends[1] - between[1])) / 2
    attenuation = ((ends[1] - between[0]) + (between[1] - ends[0])) / 2
    what = "alcohol by weight"
    yield Split(what, "1", extract + attenuation, "the extract", extract, "the attenuation", attenuation)


def compare(
    first: Batch,
    second: Batch,
    journal: Journal,
    balances: Mapping[str, Balance],
    figures: Mapping[str, BatchFigures],
) -> Comparison:
    """What two batches have not in common, in whichever order they are given; association, not cause."""
    first, second = sorted((first, second), key=lambda batch: (batch.day, id_order(batch.id)))
    lots = [lot_shares(batch, journal.malts) for batch in (first, second)]
    settings = [
        settings_of(batch, figures[batch.id], shares) for batch, shares in zip((first, second), lots, strict=True)
    ]
    for setting, batch in zip(settings, (first, second), strict=True):
        setting.pop("malt_lot", None)
        setting["grist"] = grist_words(batch, journal.malts, _IN_THE_GRIST)
    results = [
        {name: best for name in _NEEDED if (best := balances[batch.id].best(name, figures[batch.id]))}
        for batch in (first, second)
    ]
    broken = tuple(batch.id for batch in (first, second) if balances[batch.id].verdict.status == BROKEN)
    if broken:
        # one of those readings is wrong, and nobody knows by how much
        results = [{name: got for name, got in found.items() if name not in _BY_THE_BALANCE} for found in results]
    sheet = sheet_sd((first, second), figures) ** 2 * fsum(
        share * lots[1].get(lot, 0.0) for lot, share in lots[0].items()
    )
    outcomes = tuple(_outcomes(results[0], results[1], sheet))
    return Comparison(
        first.id,
        second.id,
        tuple(_practice(*settings)),
        outcomes,
        tuple(_alcohol_split(*results)),
        made_of(results[0], results[1], {outcome.name: outcome.sd for outcome in outcomes}, sheet),
        broken,
    )
