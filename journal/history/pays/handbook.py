"""What handbooks look at where conversion stays low, in order of cheapness, each beside the brewer's own values.

No gain is told: what it would bring in this brewhouse nobody knows before it was tried. All usual ranges are common practice where
nothing else is said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from statistics import median

from journal.frozen import dataclass
from journal.history.advice.before import FEW_HULLS, LEAST_POWER, MOST_WITHOUT_HUSK
from journal.history.advice.mash import HOT_MASH, MASH_PH
from journal.history.levers.rows import is_number, word
from journal.history.pays.answer import Habit, Standing
from journal.history.pays.gains import field_of
from journal.history.settings import Setting, lever_of
from journal.history.words import lever_label
from journal.measures.wording import show, show_range

#: A mash loses so much of the potential, or more, before conversion is called low.
LOW_CONVERSION = 0.05
#: mm between two rollers; degC; min.
CRUSH, TEMPERATURE, TIME = (0.9, 1.3), (62.0, HOT_MASH), (60.0, 90.0)
#: Share of the grist that hulls mostly are where they are wanted.
HULLS = (0.02, 0.05)
#: Grams of maltose by Windisch and Kolbach, of a degree Lintner: WK = 3.5 °L − 16 (EBC).
_POWER = 3.5 * LEAST_POWER - 16.0


@dataclass(frozen=True)
class HandbookLine:
    """One line of the list: the factor, its usual range, and what is advised outside of it, below it and above it.

    `low`, `high` in the factor's unit; None where there is no such end, or it goes by words.
    """

    lever: str
    low: float | None
    high: float | None
    advice: Callable[[bool], tuple[str, str]]


def _crush(above: bool) -> tuple[str, str]:
    if above:
        return (
            "Set the mill a little closer, a tenth of a millimetre at a time.",
            "Coarse grits keep starch from the enzymes.",
        )
    return "Set the mill a little wider.", "Much flour balls up, and a tight bed hinders the run-off."


def _temperature(above: bool) -> tuple[str, str]:
    if above:
        return "Mash a few degrees cooler.", "Enzymes end sooner in a hot mash, and the malt gives less."
    return "Mash a few degrees warmer.", "Cool mashes gelatinise starch slowly."


def _time(above: bool) -> tuple[str, str]:
    if above:
        return "A shorter mash will do.", "What has not dissolved by then needs something else than time."
    return (
        "Mash for an hour or more, until the gravity rises no further.",
        "What has not dissolved in time stays with the grain.",
    )


def _ph(above: bool) -> tuple[str, str]:
    if above:
        return (
            "Bring the mash down with calcium, acid or acid malt.",
            "Above the usual range the enzymes work more slowly.",
        )
    return "Use less acid, or add some alkalinity.", "Below the usual range the enzymes work more slowly."


def _power(_: bool) -> tuple[str, str]:
    return "Give the grist more pale malt.", "With few enzymes starch may be left over."


LINES = (
    HandbookLine("mash_temperature", *TEMPERATURE, advice=_temperature),
    HandbookLine("crush", *CRUSH, advice=_crush),
    HandbookLine("mash_time", TIME[0], None, advice=_time),
    HandbookLine("mash_ph", *MASH_PH, advice=_ph),
)
_POWER_LINE = HandbookLine("diastatic_power", _POWER, None, advice=_power)


def handbook_habits(settings: Sequence[Mapping[str, Setting]], system: str) -> tuple[Habit, ...]:
    """The list, cheapest first: mixing, temperature, crush, time, pH, hulls, diastatic power; by the `settings` of the latest batches."""
    return (
        _mixing(settings),
        *(_numbered(line, settings, system) for line in LINES),
        _hulls(settings, system),
        _numbered(_POWER_LINE, settings, system),
    )


def _numbers(lever: str, settings: Sequence[Mapping[str, Setting]]) -> list[float]:
    return [float(value) for each in settings if (value := each.get(lever)) is not None and is_number(value)]


def _shown(numbers: Sequence[float], unit: str, system: str) -> str:
    if not numbers:
        return ""
    low, high = min(numbers), max(numbers)
    ends = {str(show(end, 0.0, unit, system)) for end in (low, high)}
    return ends.pop() if len(ends) == 1 else show_range(low, high, unit, system)


def _numbered(line: HandbookLine, settings: Sequence[Mapping[str, Setting]], system: str) -> Habit:
    numbers, unit = _numbers(line.lever, settings), lever_of(line.lever).unit
    standing: Standing = "not written"
    advice, why = "", ""
    if numbers:
        middle = median(numbers)
        below = line.low is not None and middle < line.low - 1e-9
        above = line.high is not None and middle > line.high + 1e-9
        standing = "outside" if below or above else "as usual"
        if standing == "outside":
            advice, why = line.advice(above)
    if line.low is not None and line.high is not None:
        usual = show_range(line.low, line.high, unit, system)
    else:
        usual = f"{show(line.low or 0.0, 0.0, unit, system)} or more"
    words, at = lever_label(line.lever), field_of(line.lever)
    return Habit(line.lever, words, at, _shown(numbers, unit, system), usual, standing, advice, why)


def _mixing(settings: Sequence[Mapping[str, Setting]]) -> Habit:
    words = [word(each["mixing"]) for each in settings if "mixing" in each]
    mostly = max(dict.fromkeys(words), key=words.count, default="")
    standing: Standing = "not written" if not words else "outside" if mostly == "none" else "as usual"
    advice, why = "", ""
    if standing == "outside":
        advice, why = (
            "Stir the mash through when mashing in, and once or twice after.",
            "What stays dry in a lump does not convert.",
        )
    return Habit("mixing", "mixing", field_of("mixing"), mostly, "stirred or recirculated", standing, advice, why)


def _hulls(settings: Sequence[Mapping[str, Setting]], system: str) -> Habit:
    """Hulls are wanted only where much of the grist brings no husk."""
    both = [
        (float(each["huskless"]), float(each["hulls"]))
        for each in settings
        if "huskless" in each and "hulls" in each and is_number(each["huskless"]) and is_number(each["hulls"])
    ]
    wanting = sum(huskless > MOST_WITHOUT_HUSK and hulls <= FEW_HULLS for huskless, hulls in both)
    standing: Standing = "not written" if not both else "outside" if 2 * wanting > len(both) else "as usual"
    usual = f"{show_range(*HULLS, '1', system)} of a grist of which more than a fifth brings no husk"
    advice, why = "", ""
    if standing == "outside":
        advice, why = "Add hulls to grists with much grain that has none.", "A bed that sets is rinsed in channels."
    yours = _shown([hulls for _, hulls in both], "1", system)
    return Habit("hulls", "hulls", field_of("hulls"), yours, usual, standing, advice, why)
