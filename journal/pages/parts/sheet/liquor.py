"""Acid and salts, and the power of the grist: what is known, and no more."""

from __future__ import annotations

from collections.abc import Iterator

from journal.figures import Result
from journal.measures.units import convert
from journal.measures.wording import METRIC, US, show, show_range
from journal.pages.numbers import of_result, quantity
from journal.pages.parts.sheet.planned_batch import PlannedBatch
from journal.reading import Batch
from journal.reading.liquor import Water

#: Two grists are alike where malts of the same kinds make up at least this share of both.
_ALIKE = 0.8
#: The lowest diastatic power that a grist is said to convert with, °Lintner, by author.
_LEAST_POWER = "about 35 °Lintner (Oxford Companion to Beer) to 40, some say 30 (common practice)"


def liquor_remarks(planned: PlannedBatch) -> tuple[str, ...]:
    """Sentences on residual alkalinity, on the pH of earlier mashes, and on diastatic power, as far as each is known."""
    return (*_alkalinity(planned), *_ph(planned), *_power(planned))


def _alkalinity(planned: PlannedBatch) -> Iterator[str]:
    before = planned.view.figures.get("liquor_residual_alkalinity")
    if before is None:
        return
    after = planned.view.figures.get("residual_alkalinity")
    changed = after is not None and after.value != before.value
    with_salts = f", {_both(after, planned)} with its salts" if after is not None and changed else ""
    yield (
        f"Residual alkalinity of the liquor {_both(before, planned)}, before any acid or salt{with_salts}. "
        "It says which way a mash leans, not what pH it will have."
    )


def _both(found: Result, planned: PlannedBatch) -> str:
    """As CaCO3, and in German degrees."""
    degrees, sd = (convert(value, "milligram / litre", "german_degree") for value in (found.value, found.sd))
    return f"{of_result(found, planned.system).text} ({quantity(degrees, sd, '°dH', planned.system).text})"


def _shares(planned: PlannedBatch, batch: Batch) -> dict[str, float]:
    """The grist by kind of malt, shares of its weight; by its own name where no kind is known."""
    malts = planned.view.index.record.journal.malts.by_key
    found: dict[str, float] = {}
    for grain in batch.grains:
        malt = malts.get(grain.malt or "")
        kind = (malt.kind if malt else None) or grain.malt or ""
        found[kind] = found.get(kind, 0.0) + (grain.weight.value if grain.weight else 0.0)
    whole = sum(found.values())
    return {kind: weight / whole for kind, weight in found.items()} if whole else {}


def _water(planned: PlannedBatch, batch: Batch) -> Water:
    return planned.view.index.record.journal.brewery.water_of(batch.water)


def _alike(planned: PlannedBatch, other: Batch) -> bool:
    one, two = _shares(planned, planned.batch), _shares(planned, other)
    same = sum(min(share, two.get(kind, 0.0)) for kind, share in one.items())
    return same >= _ALIKE and _water(planned, planned.batch) == _water(planned, other)


def _ph(planned: PlannedBatch) -> Iterator[str]:
    """The pH that earlier mashes of the brewhouse had, of those with a similar grist and the same liquor where there are any."""
    known = [
        (other, found.value) for other in planned.earlier if (found := planned.view.index.result(other, "mash_ph"))
    ]
    alike = [ph for other, ph in known if _alike(planned, other)]
    values, which = (alike, " with a similar grist") if alike else ([ph for _, ph in known], "")
    if not values:
        yield "No earlier mash of this brewhouse has its pH recorded, so nothing is said of this one’s."
        return
    low, high, many = min(values), max(values), len(values)
    shown = show_range(low, high, "pH", planned.system) if low < high else str(show(low, 0.0, "pH", planned.system))
    mashes = f"{many} earlier mashes" if many > 1 else "one earlier mash"
    yield f"Mash pH {shown} in {mashes} of this brewhouse{which}: from your own record, not from a model."


def _power(planned: PlannedBatch) -> Iterator[str]:
    found = planned.view.figures.get("diastatic_power")
    if found is None:
        return
    lintner, kolbach = (show(found.value, found.sd, "WK", system) for system in (US, METRIC))
    power = lintner if planned.system == US else f"{kolbach} ({lintner})"
    yield f"Diastatic power of the grist {power}. The least that converts a mash is put at {_LEAST_POWER}."
