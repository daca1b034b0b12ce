"""Notes on the mash: its temperatures and times, its pH, its thickness, how far it converted."""

from __future__ import annotations

import re

from journal.history.advice.advice import COMMON, Advice, AdvisedBatch
from journal.reading.entry import WITHOUT_SPARGE
from journal.science.mash import ENZYMES

_RANGE = {enzyme.name: enzyme for enzyme in ENZYMES}
_BETA = _RANGE["beta_amylase"]
#: degC, min. Where proteins are broken down, and how long that does well-modified malt good; about ten minutes.
PROTEIN_REST, LONG_PROTEIN_REST = (45.0, 55.0), 15.0
#: K under the upper end of an enzyme's range that are its hot side, and min that the enzyme lasts there.
HOT_SIDE, LASTS = 2.0, 60.0
MASH_PH = (5.2, 5.6)
#: degC. A warmer sample's pH is not that of a cooled one.
COOLED = 40.0
#: L/kg.
THICKNESS = (2.0, 5.0)
#: min. Longer is a mash of many hours.
MANY_HOURS = 240.0
#: degC. From here on a main rest costs extract.
HOT_MASH = 70.0
#: What five malts gave, each mashed at one temperature until iodine showed no starch.
SCHULTZE = (
    "W. Schultze 1878, in Dingler’s Polytechnisches Journal 231, 54: five malts mashed to the end at one temperature"
)
HARRIS = "G. Harris & I. C. MacWilliam 1961, abstract"
_DRY = re.compile(r"\b(dry|brut|saison)\b", re.IGNORECASE)
_AMYLASES = {"beta_amylase": "beta-amylase", "alpha_amylase": "alpha-amylase"}


def long_protein_rest(advised: AdvisedBatch) -> Advice | None:
    """A long stay where proteins are broken down."""
    minutes, path = advised.stay(*PROTEIN_REST)
    if minutes <= LONG_PROTEIN_REST:
        return None
    low, high = (advised.shown(end, "°C") for end in PROTEIN_REST)
    return Advice(
        "long-protein-rest",
        f"The mash stood {minutes:.0f} min between {low} and {high}; with well-modified malt about 10 are enough.",
        "Longer takes body and foam, and leaves more amino nitrogen than the yeast needs, with the off-flavours that go with it.",
        COMMON,
        path,
    )


def warm_for_dry(advised: AdvisedBatch) -> Advice | None:
    """A main rest over beta-amylase's range for a beer that its title, style or tags call dry."""
    words = " ".join([advised.batch.title or "", advised.batch.style or "", *advised.batch.tags])
    main_rest = advised.main_rest
    if main_rest is None or main_rest.temperature <= _BETA.high + _BETA.high_spread or not _DRY.search(words):
        return None
    return Advice(
        "warm-for-dry",
        f"For a dry beer a main rest at {advised.shown(main_rest.temperature, '°C')} is on the warm side.",
        f"Of what five malts gave, {advised.about(60.0)} made 75 to 77 % maltose, {advised.about(65.0)} 65 to 67 % and "
        f"{advised.shown(72.5, '°C')} 55 to 58 %; the rest is hardly fermented.",
        SCHULTZE,
        main_rest.path,
    )


def hot_side(advised: AdvisedBatch) -> Advice | None:
    """A long rest at the hot side of an amylase's range."""
    main_rest = advised.main_rest
    if main_rest is None or main_rest.minutes <= LASTS:
        return None
    for name, words in _AMYLASES.items():
        enzyme = _RANGE[name]
        if enzyme.high - HOT_SIDE <= main_rest.temperature <= enzyme.high:
            at = advised.shown(main_rest.temperature, "°C")
            return Advice(
                "hot-side",
                f"At {at} {words} works fast and ends soon; the last of {main_rest.minutes:.0f} min did little.",
                "The hot side of a range quickens an enzyme and destroys it sooner; a few degrees lower it lasts longer.",
                f"{enzyme.source}; beta-amylase lasts 40 to 60 min at {advised.about(65.0)} (common practice)",
                main_rest.path,
            )
    return None


def hot_mash(advised: AdvisedBatch) -> Advice | None:
    """A main rest so hot that the malt gives less."""
    main_rest = advised.main_rest
    if main_rest is None or main_rest.temperature < HOT_MASH:
        return None
    return Advice(
        "hot-mash",
        f"A main rest at {advised.shown(main_rest.temperature, '°C')} gives less extract than a cooler one.",
        f"Five malts gave 76 to 78 % of their dry weight at {advised.shown(72.5, '°C')} and 78 to 80 % at {advised.about(65.0)}, each "
        "mashed until no starch was left.",
        SCHULTZE,
        main_rest.path,
    )


def ph_outside(advised: AdvisedBatch) -> Advice | None:
    """A mash whose pH lies outside the usual by more than it is uncertain by."""
    found = advised.figures.get("mash_ph")
    low, high = MASH_PH
    if found is None or low - found.sd <= found.value <= high + found.sd:
        return None
    side = "Higher" if found.value > high else "Lower"
    does = {
        "Higher": "slows conversion and draws harshness from the husks; calcium, acid or acid malt bring it down",
        "Lower": "slows the amylases and tastes sharp; less acid or some alkalinity bring it up",
    }[side]
    return Advice(
        "mash-ph-outside",
        f"The mash had pH {advised.shown(found.value, 'pH')} in a cooled sample; most brewers aim for 5.2 to 5.6.",
        f"{side} {does}.",
        COMMON,
        "mash.ph",
    )


def ph_read_hot(advised: AdvisedBatch) -> Advice | None:
    """A pH that was read in a hot sample."""
    ph = advised.batch.mash.ph
    if ph is None or ph.at is None or ph.at <= COOLED:
        return None
    return Advice(
        "ph-read-hot",
        f"The pH was read at {advised.shown(ph.at, '°C')}; a sample cooled to room temperature is easier to compare.",
        "At mash temperature the same mash reads 0.3 to 0.35 lower, by its chemistry; the meter's temperature compensation"
        " corrects the electrode and not that, and heat wears the electrode out.",
        COMMON,
        "mash.ph",
    )


def thickness(advised: AdvisedBatch) -> Advice | None:
    """A mash thicker or thinner than usual; one without a sparge holds all of its liquor, and is thin by intent."""
    ratio = advised.value("liquor_to_grist")
    low, high = THICKNESS
    if ratio is None or low <= ratio <= high or (ratio > high and advised.batch.lauter.method in WITHOUT_SPARGE):
        return None
    thick = ratio < low
    usual = f"{advised.shown(low, 'L/kg')} to {advised.shown(high, 'L/kg')}"
    return Advice(
        "thick-mash" if thick else "thin-mash",
        f"{advised.shown(ratio, 'L/kg')} of liquor is a {'thick' if thick else 'thin'} mash; {usual} are usual.",
        f"A thick mash is hard to mix, and what stays dry does not convert; mixed well, an hour at {advised.about(65.5)} dissolves over "
        "95 % of the carbohydrate, thick or thin."
        if thick
        else "In a thin mash the enzymes last less long, and little liquor is left for the sparge.",
        f"{COMMON}; {HARRIS}" if thick else COMMON,
        "mash.liquor",
    )


def many_hours(advised: AdvisedBatch) -> Advice | None:
    """A mash of many hours."""
    minutes = advised.value("mash_time")
    if minutes is None or minutes <= MANY_HOURS:
        return None
    return Advice(
        "many-hours",
        f"The mash lasted {minutes / 60:.1f} hours.",
        "In many hours husks give off tannins and harshness, and a mash that cools may sour; an hour at "
        f"{advised.about(65.5)} dissolves over 95 % of the carbohydrate.",
        f"{COMMON}; {HARRIS}",
        "mash.log" if advised.batch.mash_log else "mash.rests",
    )


def iodine_failed(advised: AdvisedBatch) -> Advice | None:
    """Starch at the end of the mash."""
    if advised.batch.mash.iodine != "failed":
        return None
    warm = f"{advised.about(68.0)} to {advised.about(72.0)}"
    return Advice(
        "iodine-failed",
        "Iodine still showed starch when the mash ended.",
        f"Starch in the wort brings haze and is no food for the yeast; more time near {warm} usually clears it.",
        COMMON,
        "mash.iodine",
    )


def cut_short(advised: AdvisedBatch) -> Advice | None:
    """A mash that ended before its gravity had nearly come to its end."""
    needed, lasted = advised.figures.get("conversion_time_95"), advised.value("mash_time")
    if needed is None or lasted is None or needed.value - needed.sd <= lasted:
        return None
    return Advice(
        "mash-cut-short",
        f"By its gravities the mash needed some {needed.value:.0f} min for 95 % of what it would give; it had {lasted:.0f}.",
        "What has not dissolved by then stays with the grain; a little more time costs nothing but that.",
        "the gravities read during this mash",
        "mash.readings",
    )


RULES = (
    thickness,
    long_protein_rest,
    warm_for_dry,
    hot_side,
    hot_mash,
    many_hours,
    ph_outside,
    ph_read_hot,
    iodine_failed,
    cut_short,
)
