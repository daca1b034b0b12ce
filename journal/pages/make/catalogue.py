"""The page on how each number is worked out, and the trade's words on it."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from journal.figures import CATALOGUE, Figure
from journal.figures.working import formula_text
from journal.measures.wording import show, unit_for
from journal.pages.make.index import Index
from journal.pages.make.reconciling import RECONCILING
from journal.pages.models.catalogue import CatalogueModel, Definition, DefinitionGroup, GlossaryTerm
from journal.pages.models.common import Link
from journal.pages.paths import slug
from journal.pages.words import figure_words, sentence

GLOSSARY = (
    GlossaryTerm("term-extract", "Extract", "What the malt gives to the water: sugars for the most part, and all else that dissolves. Counted in kilograms."),
    GlossaryTerm("term-potential", "Potential", "The extract that a laboratory’s mash gets from the same grist, finely ground. The sheet of a lot states it."),
    GlossaryTerm("term-conversion", "Conversion", "The mash turns starch into what dissolves. Its efficiency says how much of the potential did dissolve."),
    GlossaryTerm("term-liquor", "Liquor", "Brewing water, before it has met the malt."),
    GlossaryTerm("term-grist", "Grist", "The milled grain of one brew."),
    GlossaryTerm("term-hulls", "Hulls", "Husks of rice or oats, which keep a bed of grain open. They hold no extract."),
    GlossaryTerm("term-first-wort", "First wort", "What runs from the mash before any sparge. Its strength tells how much has dissolved."),
    GlossaryTerm("term-lautering", "Lautering", "Parting the wort from the spent grain; the sparge rinses what the grain still holds."),
    GlossaryTerm("term-dead-space", "Dead space", "What stays under the false bottom and in hoses when the run-off ends."),
    GlossaryTerm("term-knockout", "Knockout", "The end of the boil, with everything still in the kettle."),
    GlossaryTerm("term-trub", "Trub", "What settles in the kettle: coagulated protein and spent hops, with the wort they hold."),
    GlossaryTerm("term-attenuation", "Attenuation", "How much of the extract the yeast has used. The apparent one takes the hydrometer at its word; the real one allows for the alcohol, which is lighter than water."),
    GlossaryTerm("term-uncertainty", "±", "One standard uncertainty: the true value lies within it about two times in three, and within twice of it about nineteen times in twenty."),
)  # fmt: skip
_UNIT_WORDS = {"": "none", "%": "per cent"}


def _doubt(figure: Figure, system: str) -> str:
    """What the relation itself adds to the uncertainty of the readings."""
    if figure.model:
        return f"The relation itself is good to ± {show(figure.model, 0.0, figure.unit, system)}."
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
