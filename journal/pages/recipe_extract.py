"""Which lines of an entry bring the extract of the wort, where what joins beside the grist brings much of it."""

from __future__ import annotations

from collections.abc import Iterator

from journal.figures.added import joins_late
from journal.frozen import dataclass
from journal.history.plan.from_batch import as_is
from journal.history.plan.rescale import Rescaled
from journal.reading import Batch, Malts
from journal.reading.lines import Addition
from journal.reading.malts import may_bring_extract
from journal.reading.table import lines_of

#: Malt extract and sugars that bring less than this share of all extract stand where they go in (common practice: a recipe is told
#: by its grist until the extract is a good part of it).
_MUCH = 0.1


@dataclass(frozen=True)
class Brought:
    """A malt or an addition, its weight and the extract that it holds by its sheet, both kg; `addition` is None for a malt."""

    path: str
    name: str
    weight: float
    extract: float
    addition: Addition | None

    @property
    def weight_path(self) -> str:
        """Where its weight stands."""
        return f"{self.path}.{self.addition.weight_field if self.addition else 'weight'}"


def brought_by(batch: Batch, malts: Malts, by: Rescaled) -> tuple[Brought, ...] | None:
    """All that brings extract, the most first; None where next to all is the grist's, or where something isn't known."""
    grains, joined = list(_grains(batch, malts, by)), list(_joined(batch, malts, by))
    if None in grains or not joined:
        return None
    known = [line for line in (*grains, *joined) if line is not None]
    if len(known) < len(grains) + len(joined):
        return None
    added = sum(line.extract for line in known if line.addition)
    whole = sum(line.extract for line in known)
    return tuple(sorted(known, key=lambda line: -line.extract)) if added > _MUCH * whole else None


def _grains(batch: Batch, malts: Malts, by: Rescaled) -> Iterator[Brought | None]:
    for place, grain in enumerate(batch.grains):
        path = f"grains[{place}]"
        known = as_is(grain, path, malts)
        if grain.weight is None or known is None:
            yield None
        else:
            yield Brought(path, grain.malt or "", grain.weight.value, grain.weight.value * known[0] * by.by_grist, None)


def _joined(batch: Batch, malts: Malts, by: Rescaled) -> Iterator[Brought | None]:
    for path, line in lines_of(batch, Addition):
        if not may_bring_extract(line, malts) or (path.startswith("fermenter.") and joins_late(batch, line)):
            continue
        known = as_is(line, path, malts)
        if line.weighed is None or known is None:
            yield None
        elif known[0] > 0.0:
            yield Brought(
                path, line.addition or "", line.weighed.value, line.weighed.value * known[0] * by.by_volume, line
            )
