"""One mash with two worts or more: the efficiencies that they have between them, and what neither has alone.

The grist stands with the first; what a later wort was given of its own counts as well. Kettles and fermenters of all
together are held against all of it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import fsum

from journal.figures.as_read import Observed
from journal.figures.borrowed import work_out
from journal.figures.kin import Kin
from journal.figures.observe import Observer, all_of, borrows_shared
from journal.figures.resolve import Resolver
from journal.problems import in_words
from journal.reading import Batch

#: What is reckoned from all that went into the mash and what came out of it: one wort says nothing of that alone.
OF_ONE_MASH = (
    "unlautered_extract",
    "mash_tun_loss",
    "spent_grain_extract",
    "dead_space_extract",
    "wort_left",
    "wort_left_strength",
    "wort_held",
    "absorption",
    "brewhouse_yield",
)
#: What the worts of one mash have between them.
OF_THE_PAIR = ("mash_efficiency", "lauter_efficiency", "brewhouse_efficiency")


def worts_of(batch: Batch) -> tuple[Batch, ...]:
    """Every batch with a wort of the same mash, the one that has the grist first; none where the mash gave one wort."""
    first = batch.relatives.first or batch
    return (first, *first.relatives.seconds) if first.relatives.seconds else ()


@borrows_shared
def observe_shared_mash(o: Observer, found: dict[str, Observed]) -> dict[str, Observed]:
    """The efficiencies of all worts of one mash together, under the names that those of a single wort have."""
    worts = worts_of(o.batch)
    if not worts:
        return {}
    own, kin = Resolver(found), Kin(o)

    def each(name: str) -> list[Observed]:
        return [own.find(name) if wort.id == o.batch.id else kin.find(wort, name) for wort in worts]

    words = f"{in_words([wort.id for wort in worts])} together"
    others = in_words([wort.id for wort in worts if wort.id != o.batch.id])
    absent = Observed(wanting=(f"run-off of batch {others}, which came of the same mash",))
    potential = all_of(
        [seen for wort, seen in zip(worts, each("potential_extract"), strict=True) if wort.grains or wort is worts[0]]
    )
    kettles = _without_sugar(each("kettle_extract"), each("early_extract"))
    of_pair = {
        "mash_efficiency": work_out(_share, part=kettles, whole=potential),
        "brewhouse_efficiency": work_out(_share, part=_from_grist(each), whole=potential),
    }
    alone = not any(wort.grains for wort in worts[1:])
    if alone:
        dissolved = all_of(each("dissolved_extract")[:1])
        of_pair["lauter_efficiency"] = work_out(_share, part=kettles, whole=dissolved)
    else:
        of_pair["lauter_efficiency"] = absent
    told = {name: Observed(seen.value, seen.wanting, words) for name, seen in of_pair.items()}
    return {**dict.fromkeys(OF_ONE_MASH, absent), **told}


def _share(part: tuple[float, ...], whole: tuple[float, ...]) -> float:
    return fsum(part) / fsum(whole)


def _without_sugar(kettles: Sequence[Observed], early: Sequence[Observed]) -> Observed:
    """The extract in each kettle that came of the mash."""
    return all_of(
        work_out(lambda kettle, early: kettle - early, kettle=kettle, early=sugar)
        for kettle, sugar in zip(kettles, early, strict=True)
    )


def _from_grist(each: Callable[[str], list[Observed]]) -> Observed:
    """The extract in each fermenter that came of the mash, as `brewhouse_efficiency` of a single wort has it."""
    needed = ("fermenter_extract", "early_extract", "kettle_added_extract", "fermenter_added_extract")
    worts = zip(*(each(name) for name in needed), each("transfer_efficiency"), strict=True)
    return all_of(_one_from_grist(*wort) for wort in worts)


def _one_from_grist(
    fermenter: Observed, early: Observed, kettle: Observed, late: Observed, transfer: Observed
) -> Observed:
    passed = Observed(1.0) if transfer.wanting else transfer
    return work_out(
        lambda fermenter, early, kettle, late, passed: fermenter - (early + kettle) * passed - late,
        fermenter=fermenter,
        early=early,
        kettle=kettle,
        late=late,
        passed=passed,
    )
