"""What moved, in words: the one place that every page, `check` and the data files have it from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from journal.frozen import dataclass
from journal.history.moved.causes import (
    BREWING,
    FERMENTER_MARKS,
    HYDROMETER,
    INSTRUMENT,
    KETTLE_MARKS,
    LIQUOR_MEASURE,
    LOT,
    MALT_LOT,
    MALT_SCALE,
    REFRACTOMETER,
)
from journal.history.moved.move import Move, PossibleCause
from journal.history.moved.weights import LISTED
from journal.measures.wording import METRIC, plain, unit_for
from journal.problems import capital, in_words

#: What a lot is called, by its name in the record.
LotNamed = Callable[[str], str]


def _as_lot(name: str) -> str:
    return f"lot {name}"


#: Causes, and checks, named at most: those of what is likeliest.
_CHECKS = 3
#: A cause of less weight is not named in a sentence; from this weight on it is said to be most likely.
_TOLD, _MOST = 0.10, 0.5


@dataclass(frozen=True)
class _Saying:
    """A cause in a clause with `{}` for its size, by whether that is above 0; what it is called; and the check that would tell."""

    more: str
    less: str
    name: str
    check: str


_POURED = "10.0 kg of water"
_SAYINGS = {
    HYDROMETER: _Saying(
        "the hydrometer reads {} high",
        "the hydrometer reads {} low",
        "the hydrometer",
        "Float the hydrometer in distilled water at 20 degC: it must show 1.000.",
    ),
    REFRACTOMETER: _Saying(
        "the refractometer reads {} high",
        "the refractometer reads {} low",
        "the refractometer",
        "Put distilled water on the refractometer: it must show 0.0 °Bx.",
    ),
    KETTLE_MARKS: _Saying(
        "the kettle’s marks show {} too much",
        "the kettle’s marks show {} too little",
        "the kettle’s marks",
        f"Pour {_POURED} into the kettle, cold: its marks must show 10.0 L.",
    ),
    FERMENTER_MARKS: _Saying(
        "the fermenter’s marks show {} too much",
        "the fermenter’s marks show {} too little",
        "the fermenter’s marks",
        f"Pour {_POURED} into the fermenter, cold: its marks must show 10.0 L.",
    ),
    LIQUOR_MEASURE: _Saying(
        "the liquor’s measure shows {} more than it gives",
        "the liquor’s measure shows {} less than it gives",
        "the liquor’s measure",
        "Weigh what the liquor’s measure calls 10.0 L, cold: it must be 10.0 kg.",
    ),
    MALT_SCALE: _Saying(
        "the malt scale shows {} too much",
        "the malt scale shows {} too little",
        "the malt scale",
        "Put an unopened 5 kg of sugar on the malt scale: it must show 5.0 kg and its wrapping.",
    ),
    MALT_LOT: _Saying(
        "{lot} gives {} less extract than its sheet says",
        "{lot} gives {} more extract than its sheet says",
        "{lot}",
        "Mash a small sample of {lot} and of another lot side by side, alike in crush, liquor and time: their worts must differ "
        "by no more than their sheets do.",
    ),
    "conversion": _Saying(
        "conversion is {} higher",
        "conversion is {} lower",
        "conversion in the mash",
        "Mash a small sample of this malt, finely crushed, an hour longer than you do: if the mash gave all it could, its wort is "
        "hardly stronger than the mash’s.",
    ),
    "run-off": _Saying(
        "the run-off leaves {} more of the extract behind",
        "the run-off leaves {} less of the extract behind",
        "the run-off",
        "Read the gravity of the last runnings, and of what still drips an hour later: they must be alike.",
    ),
    "absorption": _Saying(
        "the grain holds {} more",
        "the grain holds {} less",
        "the water that the grain holds",
        "Weigh the spent grain wet: less the dry grain’s weight it must be what the page of the brewhouse says.",
    ),
    "dead space": _Saying(
        "{} more stay under the mash tun’s false bottom",
        "{} less stay under the mash tun’s false bottom",
        "the mash tun’s dead space",
        "Fill the empty mash tun with water, run it off as you do, and measure what stays.",
    ),
    "boil-off": _Saying(
        "the boil drives off {} more",
        "the boil drives off {} less",
        "the boil-off",
        "Boil a known volume of water for half an hour as you do, and measure what is left when it is cold.",
    ),
    "kettle loss": _Saying(
        "{} more stay in the kettle",
        "{} less stay in the kettle",
        "what stays in the kettle",
        "Measure what stays in the kettle after the next run-off.",
    ),
}  # fmt: skip


def _sizes(cause: PossibleCause, system: str) -> tuple[str, str]:
    """The size without its sign, and its interval."""
    ends = (
        sorted((abs(cause.low), abs(cause.high)))
        if cause.low * cause.high > 0.0
        else [0.0, max(abs(cause.low), abs(cause.high))]
    )
    points = cause.cause in {MALT_LOT, "conversion", "run-off"}
    if cause.unit == "SG":
        factor, sign = 1000.0, "points"
    elif points:
        factor, sign = 100.0, "points"
    else:
        how = unit_for(cause.unit, system)
        factor, sign = abs(how.convert_difference(1.0)), how.sign
    width = factor * (ends[1] - ends[0])
    decimals = 2 if width < 0.2 else 1 if width < 10.0 else 0
    size, low, high = (plain(factor * value, decimals) for value in (abs(cause.size), *ends))
    return f"{size} {sign}", f"{low} to {high}"


def cause_clause(cause: PossibleCause, system: str = METRIC, named: LotNamed = _as_lot) -> str:
    """`the hydrometer reads 3.0 points high (2.6 to 3.4)`."""
    saying = _SAYINGS[cause.cause]
    size, interval = _sizes(cause, system)
    clause = (saying.more if cause.size >= 0.0 else saying.less).replace("{lot}", named(cause.of))
    return f"{clause.replace('{}', size)} ({interval})"


def cause_name(cause: PossibleCause, named: LotNamed = _as_lot) -> str:
    """`the hydrometer`."""
    return _SAYINGS[cause.cause].name.replace("{lot}", named(cause.of))


def _since(move: Move) -> str:
    if move.last_batch is None:
        return f"from batch {move.first_batch} on"
    if move.last_batch == move.first_batch:
        return f"in batch {move.first_batch}"
    return f"from batch {move.first_batch} to batch {move.last_batch}"


def _share(weight: float) -> str:
    percent = min(max(round(100 * weight), 1), 99)
    return f"{percent} %"


def move_sentence(move: Move, system: str = METRIC, named: LotNamed = _as_lot) -> str:
    """Since when, what explains it, how surely, and what else would: one sentence, without a full stop."""
    lead = cause_clause(move.likeliest, system, named)
    if move.sure:
        return f"{capital(_since(move))} {lead}"
    told = [cause for cause in move.causes[1:] if cause.weight >= _TOLD][: _CHECKS - 1]
    others = [f", or {cause_clause(cause, system, named)} ({_share(cause.weight)})" for cause in told]
    rest = ", or something else" if len(told) + 1 < len(move.causes) else ""
    sure = "most likely " if move.likeliest.weight >= _MOST else "perhaps "
    return f"{capital(_since(move))} the level is different: {sure}{lead} ({_share(move.likeliest.weight)}){''.join(others)}{rest}"


def by_what(move: Move, named: LotNamed = _as_lot) -> str:
    """`by the hydrometer`, or `most likely by the mash’s conversion (68 %)`: what explains a change, in a clause."""
    lead = cause_name(move.likeliest, named)
    if move.sure:
        return f"by {lead}"
    surely = "most likely" if move.likeliest.weight >= _MOST else "perhaps"
    return f"{surely} by {lead} ({_share(move.likeliest.weight)})"


def of_what(move: Move, named: LotNamed = _as_lot) -> str:
    """`the hydrometer`, or `most likely the mash’s conversion (68 %)`."""
    return by_what(move, named).replace("by ", "", 1)


def consequence(move: Move) -> str:
    """What is made of it, as a sentence."""
    if move.corrects and move.likeliest.cause == MALT_LOT:
        return "Its batches are compared with what it gives, not with its sheet."
    if move.corrects:
        return "The record corrects these batches for that and shows both numbers; your entries stay as they are."
    if move.claims:
        return "No instrument and no malt explains it as well."
    if move.likeliest.cause in move.denied:
        return "Until that is settled, nothing is corrected, and neither a gain nor a loss is claimed of it."
    return "Until that is settled, neither a gain nor a loss is claimed of it."


def on_its_batches(move: Move, named: LotNamed = _as_lot) -> str:
    """What a move means for the numbers of each batch under it, as a sentence without sizes: later batches seldom change it."""
    lead = move.likeliest
    if move.corrects:
        saying = _SAYINGS[lead.cause]
        clause = (saying.more if lead.size >= 0.0 else saying.less).replace("{lot}", named(lead.of))
        clause = " ".join(clause.replace("{} ", "").split())
        kept = "its sheet" if lead.cause == MALT_LOT else "its readings as written"
        return (
            f"All batches together say that {clause} {_since(move)}: the record corrects this batch for that; "
            f"the numbers here go by {kept}."
        )
    causes = [lead, *(cause for cause in move.causes[1:] if cause.weight >= _TOLD)][:_CHECKS]
    why = in_words([cause_name(cause, named) for cause in causes], "or")
    return (
        f"All batches together say that the level is different {_since(move)}, and {why} may be why: until that is "
        "settled, no gain or loss is claimed of it."
    )


def on_the_plan(move: Move, system: str = METRIC, named: LotNamed = _as_lot) -> str:
    """What an instrument that moved means for the next brew, as a sentence."""
    return (
        f"{move_sentence(move, system, named)}. This plan goes by readings as you take them now, that error included."
    )


def said_words(move: Move) -> str:
    """What the brewer says happened then, and which of its causes were checked since; empty for nothing."""
    parts = [f"Your own words for that time: {move.told}."] if move.told else []
    checked = [cause for cause in move.causes if cause.cause in move.checked]
    agreed = [cause_name(cause) for cause in checked if cause.cause not in move.denied]
    if agreed:
        parts.append(f"Your check of {in_words(agreed)} is counted in.")
    denied = [cause_name(cause) for cause in checked if cause.cause in move.denied]
    if denied:
        parts.append(
            f"Your check of {in_words(denied)} shows otherwise: the check or the readings of the batches are wrong."
        )
    return " ".join(parts)


def checks_that_tell(move: Move, named: LotNamed = _as_lot) -> tuple[str, ...]:
    """What would settle it, the likeliest cause first; what was checked since is not asked for again, unless it showed otherwise."""
    told = [cause for place, cause in enumerate(move.causes) if cause.weight >= _TOLD or place < 1]
    asked = [cause for cause in told if cause.cause not in move.checked - move.denied]
    texts = dict.fromkeys(
        _SAYINGS[cause.cause].check.replace("{lot}", named(cause.of)) for cause in _worth_checking(asked)
    )
    return tuple(texts)[:_CHECKS]


def where_it_counts(move: Move, since: date) -> str:
    """Where the result of such a check is written, as a sentence; `since` is the day of the move's first batch."""
    if move.likeliest.cause in move.checked - move.denied:
        return (
            f"Add `since: {since}` to your check of {cause_name(move.likeliest)} in brewery.yaml: then the readings from batch "
            f"{move.first_batch} on are corrected by it, and the next brew is planned with true ones."
        )
    kinds = {cause.kind for cause in move.causes if cause.weight >= _TOLD or cause is move.likeliest}
    if INSTRUMENT in kinds:
        return (
            "Write what an instrument showed into brewery.yaml under `checks`, and it counts here; "
            f"with `since: {since}` the readings from batch {move.first_batch} on are corrected by it."
        )
    if LOT in kinds:
        return "What the malt gave goes into its lot in malts.yaml."
    return (
        ""
        if move.told
        else "What was done otherwise from then on goes into brewery.yaml under `changes`, and it counts here."
    )


def _worth_checking(causes: Iterable[PossibleCause]) -> list[PossibleCause]:
    """Instruments and lots before the brewing's own, which nobody can hold against anything."""
    return sorted(causes, key=lambda cause: cause.kind == BREWING)


def shares_remark(move: Move) -> str:
    """What the shares are; empty where none is told."""
    left = 100 - round(100 * LISTED)
    if move.sure:
        return ""
    return f"The percentages share out the evidence; whatever is not listed holds less than {left} % of it in all."
