"""The page on how each number is worked out, and the trade's words on it."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations


from journal.frozen import dataclass
from journal.figures import CATALOGUE, Figure
from journal.figures.working import formula_text
from journal.measures.wording import show, show_spread, unit_for
from journal.pages.index import Index
from journal.pages.model import Link, Model
from journal.pages.paths import slug
from journal.pages.words import figure_words, sentence


@dataclass(frozen=True)
class Definition:
    """A figure as the catalogue has it; `takes` are the figures it is worked out from, `gives` those worked out from it."""

    name: str
    words: str
    meaning: str
    unit: str
    formula: str
    source: str
    doubt: str
    takes: tuple[Link, ...]
    gives: tuple[Link, ...]


@dataclass(frozen=True)
class DefinitionGroup:
    """Figures of one kind."""

    words: str
    anchor: str
    figures: tuple[Definition, ...]


@dataclass(frozen=True)
class GlossaryTerm:
    """A word of the trade, explained."""

    anchor: str
    word: str
    meaning: str


@dataclass(frozen=True)
class Reconciling:
    """How readings are reconciled: paragraphs, the words it takes, and where it is published."""

    paragraphs: tuple[str, ...]
    terms: tuple[GlossaryTerm, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CatalogueModel(Model):
    """All figures, how readings are reconciled, and a few of the trade's words."""

    groups: tuple[DefinitionGroup, ...]
    reconciling: Reconciling
    glossary: tuple[GlossaryTerm, ...]

GLOSSARY = (
    GlossaryTerm("term-extract", "Extract", "What the malt gives to the water: sugars for the most part, and all else that dissolves. Counted in kilograms."),
    GlossaryTerm("term-potential", "Potential", "The extract that a laboratory’s mash gets from the same grist, finely ground. The sheet of a lot states it."),
    GlossaryTerm("term-conversion", "Conversion", "The mash turns starch into what dissolves. Its efficiency says how much of the potential did dissolve."),
    GlossaryTerm("term-liquor", "Liquor", "Brewing water, before it has met the malt."),
    GlossaryTerm("term-mill-gap", "Mill gap", "How far the mill’s rollers stand apart, in entries “crush”. It decides how fine the grist is crushed."),
    GlossaryTerm("term-grist", "Grist", "The milled grain of one brew."),
    GlossaryTerm("term-hulls", "Hulls", "Husks of rice or oats, which keep a bed of grain open. They hold no extract."),
    GlossaryTerm("term-first-wort", "First wort", "What runs from the mash before any sparge, also called first runnings. Its strength shows how much has dissolved."),
    GlossaryTerm("term-lautering", "Run-off", "Parting the wort from the spent grain, also called lautering; the sparge rinses what the grain still holds. How much comes through is the lauter efficiency."),
    GlossaryTerm("term-absorption", "Absorption", "Liquor in minus wort out, for each kilogram of grain: what to add to the liquor for the kettle to fill."),
    GlossaryTerm("term-water-held", "Water held", "All the water that a kilogram of spent grain holds, by weight, its own moisture included: more than the absorption, since dissolved extract takes up room in the wort."),
    GlossaryTerm("term-bag", "Bag", "Brew in a bag: the grain hangs in a bag in the kettle and is lifted out, in place of a run-off through a bed."),
    GlossaryTerm("term-wk", "WK", "Degrees Windisch–Kolbach, °WK: the diastatic power of a malt, how much starch its enzymes can turn into sugar. 250 WK are about 76 °Lintner."),
    GlossaryTerm("term-dead-space", "Dead space", "What stays under the false bottom and in hoses when the run-off ends."),
    GlossaryTerm("term-knockout", "Knockout", "The end of the boil, with everything still in the kettle."),
    GlossaryTerm("term-trub", "Trub", "What settles in the kettle: coagulated protein and spent hops, with the wort they hold."),
    GlossaryTerm("term-attenuation", "Attenuation", "How much of the extract the yeast has used. The apparent one takes the hydrometer at its word; the real one allows for the alcohol, which is lighter than water."),
    GlossaryTerm("term-uncertainty", "±", "One standard uncertainty: the true value lies within it about two times in three, and within twice of it about nineteen times in twenty."),
)  # fmt: skip
_PARAGRAPHS = (
    "A batch’s readings say the same things several times over. The extract before the boil and after it is the same extract; the water that went in comes out as wort, steam and wet grain; the gravity at knockout is the gravity in the fermenter. No reading is exact, so they never say quite the same.",
    "The balance looks for values that obey these laws to the letter and lie as near to all readings as they can. Each miss is counted in the reading’s own standard uncertainty and squared, so that a good reading moves less than a vague one, and the sum of the squares is made as small as it will go. What was not read, such as the wort held by the grain, takes part as an expectation of its own uncertainty: from common practice at first, from the brewery’s earlier batches later.",
    "The result is shown first wherever the balance closes. Its uncertainty is smaller than that of any single reading, for every reading has had its say. Where the balance is broken the values stay as recorded.",
)
_TERMS = (
    GlossaryTerm("term-chi-square", "Chi-square", "That smallest sum of squares. Readings that are as good as they claim leave about as much as there are degrees of freedom: things known beyond what is needed."),
    GlossaryTerm("term-p", "p, and why 0.01", "How often chance alone, with sound readings, would leave a sum as large or larger. Below 0.01, which is once in a hundred sound batches, the balance counts as broken; below 0.05 the readings agree only just. One sound batch in a hundred is called broken all the same: that is the price of finding the others."),
    GlossaryTerm("term-strain", "Adjusted by", "How far the balance has moved a reading, counted in the standard deviation of such moves; where one suspect is left out, how far the others are moved without it. About one is usual. The limit is set so that, among all the readings of a sound batch, one passes it once in a hundred batches."),
    GlossaryTerm("term-suspect", "Suspect", "Where the balance is broken each likely reading is left out in turn. The one without which the rest agrees best is the suspect. Where two do equally well, both are named."),
)  # fmt: skip
_SOURCES = (
    "D. R. Kuehn and H. Davidson, Computer control II: Mathematics of control, Chemical Engineering Progress 57 (1961), no. 6, 44–47",
    "VDI 2048 part 1, on correcting process data and their uncertainties by a correction calculation (Verein Deutscher Ingenieure)",
    "S. Narasimhan and C. Jordache, Data Reconciliation and Gross Error Detection, Gulf Publishing, Houston 2000",
)

RECONCILING = Reconciling(_PARAGRAPHS, _TERMS, _SOURCES)
_UNIT_WORDS = {"": "none", "%": "per cent"}


def _doubt(figure: Figure, system: str) -> str:
    """What the relation itself adds to the uncertainty of the readings."""
    if figure.model:
        return f"The relation itself is good to ± {show_spread(figure.model, figure.unit, system)}."
    if figure.model_share:
        return f"The relation itself is good to ± {show(figure.model_share, 0.0, '1', system)} of the value."
    return ""


def _link(name: str) -> Link:
    return Link(figure_words(name), f"#{name}")


def _definition(figure: Figure, system: str) -> Definition:
    sign = unit_for(figure.unit, system).sign
    return Definition(
        name=figure.name,
        words=figure_words(figure.name),
        meaning=figure.meaning,
        unit=_UNIT_WORDS.get(sign, sign),
        formula=formula_text(figure),
        source=sentence(figure.source),
        doubt=_doubt(figure, system),
        takes=tuple(_link(name) for name in figure.parameters if name in CATALOGUE),
        gives=tuple(_link(other.name) for other in CATALOGUE.values() if figure.name in other.parameters),
    )


def catalogue_model(index: Index) -> CatalogueModel:
    """All figures by kind, in the order of the work."""
    groups: dict[str, list[Definition]] = {}
    for figure in CATALOGUE.values():
        groups.setdefault(figure.group, []).append(_definition(figure, index.system))
    return CatalogueModel(
        frame=index.frame("How each number is worked out", "figures", "Every figure: meaning, formula, source."),
        groups=tuple(DefinitionGroup(words, f"group-{slug(words).lower()}", tuple(f)) for words, f in groups.items()),
        reconciling=RECONCILING,
        glossary=GLOSSARY,
    )
