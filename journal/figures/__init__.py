"""From a batch to its derived values.

In: a `Batch`, the brewery's settings, the malts. Out: `BatchFigures`, each value with its uncertainty, its working and,
where it can't be computed, the reading that is wanting. Imports `reading`, `measures`, `problems` and `science`; knows
no page and writes nothing.

A batch that names others (`part_of`, `second_wort_of`, `joins`, `blend_of`) is linked once all entries are read
(`reading/links.py`): it has its `relatives`, the day and brewhouse it takes from them, and a digest that holds theirs. `borrowed` and
`mash_shared` put in what stands for its own readings, with whose it is (`Observed.told`). A brew day's figures are its own entry's, so
nothing sums them twice; two worts of one mash have their efficiencies together.
"""

from journal.figures import added, hopping, mashing, poured, borrowed, mash_shared  # noqa: F401, I001  # each observes readings
from journal.figures import grist, crush, ions, mash, readings, extract, volumes, bed, beer, course, package, taste  # noqa: F401  # each fills the catalogue, in the order of the work
from journal.figures.catalogue import CATALOGUE, Figure, figure, refuse_unknown
from journal.figures.observe import READINGS
from journal.figures.resolve import BatchFigures, Result, figures_of

refuse_unknown(READINGS)

__all__ = ["CATALOGUE", "BatchFigures", "Figure", "Result", "figure", "figures_of"]
