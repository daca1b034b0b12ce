"""Whether the priming sugar gives the carbonation that was asked for, in words."""

from __future__ import annotations

from journal.history.plan.priming import misses
from journal.measures.wording import METRIC, US
from journal.pages.model import UNBROKEN
from journal.pages.numbers import of_result
from journal.pages.view import BatchView


def missed(view: BatchView) -> str:
    """`gives 2.18 ± 0.09 volumes, less than asked for`; empty where it is within its ± or nobody knows."""
    package, gave = view.batch.package, view.best.get("carbonation")
    if package.carbonation is None or gave is None:
        return ""
    by = misses(gave, package.carbonation.value)
    # as it was asked for, whatever the journal's units
    gives = of_result(gave, US if package.carbonation.unit == "carbon_dioxide_volume" else METRIC).text.replace(
        UNBROKEN, " "
    )
    return f"gives {gives}, {'more' if by > 0 else 'less'} than asked for" if by else ""


def primed_sentence(view: BatchView) -> str:
    """The same as a sentence, with what would have given it where that may be said."""
    said, batch = missed(view), view.batch
    if not said:
        return ""
    sugar = view.best.get("priming_sugar")
    rather = f"; {of_result(sugar, view.system).text} would give that" if sugar and sugar.value > 0 else ""
    weight, asked = (batch.written(f"package.{field}") for field in ("priming.weight", "carbonation"))
    return f"The {weight} of {batch.package.priming.addition} {said}, which was {asked}{rather}."
