"""A batch's recipe for another volume and another brewhouse: the same wort, by extract and not by weight.

Sugars and hops belong to the wort, so they go by its volume; the grist goes by the extract that it must bring, which the
other brewhouse's yield decides. Of the same gravity and the same boil, bitterness a litre is as the weight of hops a litre.
"""

from __future__ import annotations

from collections.abc import Callable

from journal.figures import Result
from journal.frozen import dataclass
from journal.history.plan.from_batch import Unusable

#: A brewhouse yield that can be meant: below it nobody brews, above it more than all would be had.
LEAST_YIELD, MOST_YIELD = 0.2, 1.0


@dataclass(frozen=True)
class Rescaled:
    """By how much a recipe is multiplied, and on what that rests.

    `by_volume` goes with wort, sugars and hops, `by_grist` with grain and the liquor that wets it. `volume` L in the
    fermenter, `efficiency` the brewhouse's as a fraction of 1, None where the batch's own is not known and none was asked
    for. `gravity` SG of the wort. `off` is how far, in SG, the gravity of the new brew may lie from it for no other reason
    than that the batch's own yield is known to a standard uncertainty (k = 1); None where that is not known.
    """

    by_volume: float
    by_grist: float
    volume: float
    own_efficiency: Result | None
    efficiency: float | None
    gravity: float | None
    off: float | None


def rescale(
    best: Callable[[str], Result | None], volume: float | None, efficiency: float | None
) -> Rescaled | Unusable:
    """The recipe of a batch for `volume` L in the fermenter and a brewhouse efficiency, each as it was where None.

    `best` gives the batch's figures by name. What the recipe is multiplied by can't be told without the batch's own volume,
    and for another efficiency without its own.
    """
    had, own, gravity = best("fermenter_volume"), best("brewhouse_efficiency"), best("original_gravity")
    if had is None:
        return Unusable("its volume in the fermenter is not recorded", "Add fermenter.volume to its entry")
    wanted = had.value if volume is None else volume
    if efficiency is not None and own is None:
        return Unusable(
            "its brewhouse efficiency is not known, so another can't be held against it",
            "`wortbook explain` names the readings that would give it",
        )
    by_volume = wanted / had.value
    ratio = 1.0 if own is None or efficiency is None else own.value / efficiency
    off = None if own is None or gravity is None else (gravity.value - 1) * own.sd / own.value
    used = efficiency if efficiency is not None else own.value if own else None
    return Rescaled(by_volume, by_volume * ratio, wanted, own, used, gravity.value if gravity else None, off)
