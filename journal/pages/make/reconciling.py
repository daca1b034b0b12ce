"""How readings are reconciled, in plain words, and where that is published."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from journal.pages.models.catalogue import GlossaryTerm, Reconciling

_PARAGRAPHS = (
    "A batch’s readings say the same things several times over. The extract before the boil and after it is the same extract; the water that went in comes out as wort, steam and wet grain; the gravity at knockout is the gravity in the fermenter. No reading is exact, so they never say quite the same.",
    "The balance looks for values that obey these laws to the letter and lie as near to all readings as they can. Each miss is counted in the reading’s own standard uncertainty and squared, so that a good reading moves less than a vague one, and the sum of the squares is made as small as it will go. What was not read, such as the wort held by the grain, takes part as an expectation of its own uncertainty: from common practice at first, from the brewery’s earlier batches later.",
    "The result is shown first wherever the balance closes. Its uncertainty is smaller than that of any single reading, for every reading has had its say. Where the balance is broken the values stay as recorded.",
)
_TERMS = (
    GlossaryTerm("term-chi-square", "Chi-square", "That smallest sum of squares. Readings that are as good as they claim leave about as much as there are degrees of freedom: things known beyond what is needed."),
    GlossaryTerm("term-p", "p, and why 0.01", "How often chance alone, with sound readings, would leave a sum as large or larger. Below 0.01, which is once in a hundred sound batches, the balance counts as broken; below 0.05 it is strained. One sound batch in a hundred is accused: that is the price of finding the others."),
    GlossaryTerm("term-strain", "Strain", "How far the balance has moved a reading, counted in the standard deviation of such moves. About one is usual. The limit is set so that, among all the readings of a sound batch, one passes it once in a hundred batches."),
    GlossaryTerm("term-suspect", "Suspect", "Where the balance is broken each likely reading is left out in turn. The one without which the rest agrees best is the suspect. Where two do equally well, both are named."),
)  # fmt: skip
_SOURCES = (
    "D. R. Kuehn and H. Davidson, Computer control II: Mathematics of control, Chemical Engineering Progress 57 (1961), no. 6, 44–47",
    "VDI 2048 part 1, on correcting process data and their uncertainties by a correction calculation (Verein Deutscher Ingenieure)",
    "S. Narasimhan and C. Jordache, Data Reconciliation and Gross Error Detection, Gulf Publishing, Houston 2000",
)

RECONCILING = Reconciling(_PARAGRAPHS, _TERMS, _SOURCES)
