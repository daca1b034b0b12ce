"""The page on how right the numbers are: Wortbook held to what others measured.

The numbers are those of `how_right_numbers`, which a measurement in the tests writes; the words are here.
"""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from math import fsum

from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures.wording import plain
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Model
from journal.pages.site.how_right_numbers import NUMBERS, SetNumbers


class SetWords(NamedTuple):
    """What a published set is: in a few words, its unit and decimals, where it is published, and what its differences are."""

    words: str
    unit: str
    decimals: int
    source: str
    remark: str


SET_WORDS = {
    "sugar": SetWords(
        "Specific gravity of sugar solutions",
        "points",
        3,
        "G. Th. Gerlach, Dingler’s Polytechnisches Journal 172 (1864) 31–38",
        "Solutions of 1 to 30 % at 17.5 °C. Extract is counted as sucrose, so every gravity and strength rests on this.",
    ),
    "hydrometer": SetWords(
        "Hydrometer read in warm and cold wort",
        "°P",
        3,
        "G. Th. Gerlach, Dingler’s Polytechnisches Journal 172 (1864) 31–38 and 286–290",
        "A glass saccharometer in 5 to 30 % of sugar from 0.9 to 99.9 °C. The ± is that of a hydrometer good to 0.001; the correction by itself is good to 0.03 °P. A sample that cools while it is read is not so kind.",
    ),
    "american beers": SetWords(
        "Alcohol from two gravities, beer by beer",
        "% vol",
        3,
        "L. M. Tolman & J. G. Riley, A Study of American Beers and Ales, USDA Bulletin 493 (1917)",
        "34 worts and beers with the alcohol distilled. By any formula they scatter by 0.14, samples and laboratory included, and that is the ± taken from here. Of four formulas the one in use has the smallest mean difference.",
    ),
    "sets of beers": SetWords(
        "Alcohol from two gravities, means of many beers",
        "% vol",
        3,
        "A. J. Cutaia, A.-J. Reid & R. A. Speers, Journal of the Institute of Brewing 115 (2009) 318–327",
        "Five sets of modern beers, 532 in all.",
    ),
    "balling": SetWords(
        "Alcohol by Balling’s own table",
        "% vol",
        3,
        "C. J. N. Balling, Die Bierbrauerei (3rd edition, 1865), table B",
        "Worts of 9 to 16 %. His real extracts lie about 0.08 °P below those by today’s alcohol table, so all differences have one sign.",
    ),
    "excise": SetWords(
        "Alcohol by the excise’s factors",
        "% vol",
        3,
        "HM Revenue and Customs, Notice 226, section 30, as quoted",
        "Eight bands of gravity lost, for beers of 2.8 to 13 %. Degrees of gravity lost times a factor, which is how duty is worked out where nothing is distilled: a table, and no beer.",
    ),
    "first worts": SetWords(
        "First wort and sparge",
        "°P",
        4,
        "C. J. N. Balling, Die Bierbrauerei (3rd edition, 1865)",
        "A worked sum: 100 lb of malt in 400 lb of water, and 350 lb more to sparge. Promised is the last digit printed.",
    ),
    "grain water": SetWords(
        "Water held by the grain",
        "kg/kg",
        3,
        "C. A. Steinheil, Dingler’s Polytechnisches Journal 105 (1847) 381–383",
        "Four brews with their grains weighed wet and dry, beside what is expected of a brewhouse without a record. That expectation was 1.30 ± 0.12, above all four; it lies since between them and the 1.2 to 1.5 of small tuns (common practice).",
    ),
    "gas lost": SetWords(
        "Carbon dioxide given off, by weight",
        "% of the wort",
        3,
        "C. A. Steinheil, Dingler’s Polytechnisches Journal 105 (1847) 381–383",
        "One open vat on a scale for seven days. It lost more than its gravities account for: an open vat also loses water, and here nothing parts the two.",
    ),
    "vat course": SetWords(
        "Course of a fermentation",
        "°P",
        3,
        "C. A. Steinheil, Dingler’s Polytechnisches Journal 105 (1847) 381–383",
        "The same vat, its loss of weight read as a fall in strength: each of eleven weighings beside the course fitted to all the others.",
    ),
    "carbonated": SetWords(
        "Carbonation from pressure and temperature",
        "volumes",
        3,
        "The trade’s table, as printed in BrewingTechniques 2(1) (1994)",
        "0 to 8 °C, 1 to 20 psi. The table lies 3 to 7 % above a lager measured at 6 °C (ACS Omega 6, 2021, 9672), and Wortbook between the two.",
    ),
}
CHANGED = (
    "The ± of alcohol is 0.14 % by volume; it was 0.10.",
    "The water held by a kilogram of grain is expected to be 1.25 ± 0.17 kg where a brewhouse has no record; it was 1.30 ± 0.12.",
    "Diastatic power by a certificate is taken to be good to 8 %, by a data sheet to 12 %; it was 5 and 10 %. Laboratories of one ring test differ by 6 to 9 % (European Brewery Convention, at second hand).",
)
NOT_FOUND = (
    "A modern brewhouse’s batches with malt analysis, liquor, wort and spent grain all measured. The efficiencies are held to invented breweries with a known truth, and to the weighed brews of 1847 as far as those go.",
    "Mill gaps or sieve fractions beside the extract they gave.",
    "Refractometer and hydrometer in the same beers, one by one; only the regressions made from them are printed.",
)

#: The picture: a box of its own units, in which the ± promised is so wide, and dots that would hide one another lie in rows.
WIDTH, HEIGHT, MIDDLE, PROMISED = 320.0, 58.0, 160.0, 50.0
_ROWS, _ROW_HEIGHT, _TOP = 5, 6.0, 8.0
_FURTHEST = 3.0


class RightDot(NamedTuple):
    """One measurement: where its difference is drawn."""

    x: float
    y: float


@dataclass(frozen=True)
class MeasuredSet:
    """A published set with its differences: `cells` are the table's numbers, `ends` the words under the ends of the ± promised."""

    anchor: str
    words: str
    sentence: str
    remark: str
    source: str
    dots: tuple[RightDot, ...]
    mean: float
    ends: tuple[str, str]
    cells: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class HowRightModel(Model):
    """Every published set, what they changed, and what could not be held to anything."""

    count: int
    within: str
    sets: tuple[MeasuredSet, ...]
    changed: tuple[str, ...]
    not_found: tuple[str, ...]
    width: float = WIDTH
    height: float = HEIGHT
    middle: float = MIDDLE
    promised: float = PROMISED


def _at(share: float) -> float:
    return round(MIDDLE + PROMISED * min(max(share, -_FURTHEST), _FURTHEST), 1)


def _signed(value: float, decimals: int) -> str:
    return plain(value, decimals) if value < 0 else f"+{plain(value, decimals)}"


def _sentence(words: SetWords, found: SetNumbers) -> str:
    def amount(value: float) -> str:
        return f"{plain(abs(value), words.decimals)}{UNBROKEN}{words.unit}"

    side = "high" if found.mean > 0 else "low"
    if found.points == 1:
        return f"One measurement: calculated {amount(found.mean)} too {side}, with ±{UNBROKEN}{amount(found.promised)} promised."
    inside = round(found.within * found.points)
    return (
        f"{found.points} of them: {amount(found.mean)} too {side} on average, {amount(found.rms)} off as a root mean square, "
        f"{amount(found.worst)} at worst. Promised is ±{UNBROKEN}{amount(found.promised)}; {inside} of {found.points} lie within."
    )


def _measured(name: str, words: SetWords, found: SetNumbers) -> MeasuredSet:
    dots = tuple(
        RightDot(_at(share), _TOP + _ROW_HEIGHT * ((2 * place) % _ROWS if found.points > 1 else _ROWS // 2))
        for place, share in enumerate(found.differences)
    )
    promised = plain(found.promised, words.decimals)
    cells = (
        str(found.points),
        _signed(found.mean, words.decimals),
        plain(found.rms, words.decimals),
        _signed(found.worst, words.decimals),
        promised,
        f"{found.within:.0%}".replace("%", f"{UNBROKEN}%"),
        words.unit,
    )
    ends = (f"−{promised}", f"+{promised}{UNBROKEN}{words.unit}")
    mean = _at(fsum(found.differences) / len(found.differences))
    anchor = "set-" + name.replace(" ", "-")
    return MeasuredSet(anchor, words.words, _sentence(words, found), words.remark, words.source, dots, mean, ends, cells)


def how_right_model(index: Index) -> HowRightModel:
    """Everything on the page."""
    count = sum(found.points for found in NUMBERS.values())
    inside = sum(round(found.within * found.points) for found in NUMBERS.values())
    return HowRightModel(
        frame=index.frame("How right are these numbers?", "figures", "Wortbook held to what others measured."),
        count=count,
        within=f"{inside} of {count}",
        sets=tuple(_measured(name, words, NUMBERS[name]) for name, words in SET_WORDS.items()),
        changed=CHANGED,
        not_found=NOT_FOUND,
    )
