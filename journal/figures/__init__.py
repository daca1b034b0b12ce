"""From a batch to its derived values.

In: a `Batch`, the brewery's settings, the malts. Out: `BatchFigures`, each value with its uncertainty, its working and,
where it can't be computed, the reading that is wanting. Imports `reading`, `measures`, `problems` and `science`; knows
no page and writes nothing.
"""

from journal.figures import added, hopping, mashing, poured, borrowed, mash_shared  # noqa: F401, I001  # each observes readings
from journal.figures import grist, crush, ions, mash, readings, extract, volumes, bed, beer, course, package, taste  # noqa: F401  # each fills the catalogue, in the order of the work
from journal.figures.catalogue import CATALOGUE, Figure, figure, refuse_unknown
from journal.figures.observe import READINGS
from journal.figures.resolve import BatchFigures, Result, figures_of

refuse_unknown(READINGS)

__all__ = ["CATALOGUE", "BatchFigures", "Figure", "Result", "figure", "figures_of"]
