"""A batch's figures in two goes: those that a record is learnt from and a check looks at, then the rest, where any of it is asked for.

Two in three are for pages alone, and a check need not work them out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import TypeVar

from journal.figures.resolve import BatchFigures

T = TypeVar("T")

#: What balances, levers and the checks of a batch's numbers go by. What is missing here is worked out all the same, only later.
LOOKED_AT = frozenset(
    {
        "absorption",
        "apparent_attenuation",
        "boil_gain",
        "brewhouse_efficiency",
        "carbonation",
        "conversion_efficiency",
        "diastatic_power",
        "fermenter_added_extract",
        "fermenter_top_up",
        "fermenter_volume",
        "first_wort_gravity",
        "grain_moisture",
        "grain_weight",
        "gravity_level_for",
        "hulls_share",
        "huskless_share",
        "kettle_added_extract",
        "kettle_early_extract",
        "kettle_gravity",
        "kettle_top_up",
        "kettle_volume",
        "knockout_gravity",
        "knockout_volume",
        "lauter_efficiency",
        "liquor_to_grist",
        "mash_added_extract",
        "mash_efficiency",
        "mash_liquor",
        "mash_ph",
        "mash_temperature",
        "mash_time",
        "original_extract",
        "original_gravity",
        "package_volume",
        "potential_extract",
        "sparge_liquor",
        "total_liquor",
        "transfer_efficiency",
    }
)


class _Completed(Mapping[str, T]):
    """What is known of the figures in LOOKED_AT, and all there is as soon as another is asked for."""

    def __init__(self, known: Mapping[str, T], whole: Callable[[], Mapping[str, T]]) -> None:
        self._known, self._whole = known, whole

    def __getitem__(self, name: str) -> T:
        return (self._known if name in LOOKED_AT else self._whole())[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._whole())

    def __len__(self) -> int:
        return len(self._whole())


def completed(looked_at: BatchFigures, make: Callable[[], BatchFigures]) -> BatchFigures:
    """The figures of LOOKED_AT as they are known, completed by `make` when any other is asked for."""
    whole = cache(make)
    return BatchFigures(
        _Completed(looked_at.results, lambda: whole().results), _Completed(looked_at.wanting, lambda: whole().wanting)
    )
