"""The beer itself, as its batch's figures have it: how strong, how bitter, how dark, how much, and how good."""

from __future__ import annotations

from journal.figures import Result
from journal.frozen import dataclass
from journal.measures.wording import plain
from journal.pages.record import Record
from journal.reading import Batch
from journal.reading.entry import Tasting

#: What the beer's volume is, the first that is known: what was packaged, else what went into the fermenter.
BEER_VOLUMES = ("package_volume", "fermenter_volume")


@dataclass(frozen=True)
class Beer:
    """One batch's beer; a figure is None where it is absent. `tasting` is the latest that says anything."""

    original_gravity: Result | None
    final_gravity: Result | None
    alcohol_by_volume: Result | None
    bitterness: Result | None
    colour: Result | None
    volume: Result | None
    tasting: Tasting | None

    @property
    def score(self) -> float | None:
        """How good the latest tasting found it, as a share of the highest score there is; None where none was given."""
        given = self.tasting and self.tasting.score
        most = self.tasting and self.tasting.out_of
        return given.value / most.value if given and most and most.value else None

    @property
    def score_text(self) -> str:
        """`8/10`; empty where none was given."""
        return score_text(self.tasting) if self.tasting else ""


def score_text(tasting: Tasting) -> str:
    """`8/10`, a half as `7.5/10`; empty without a score."""
    if tasting.score is None or tasting.out_of is None:
        return ""
    digits = (
        plain(number, 0 if number == round(number) else 1) for number in (tasting.score.value, tasting.out_of.value)
    )
    return "/".join(digits)


def beer_of(record: Record, batch: Batch) -> Beer:
    """The beer of a batch, each figure as it is to be shown first."""

    def best(name: str) -> Result | None:
        return record.best(batch.id, name)

    told = [tasting for tasting in batch.tasting if tasting.words or tasting.score is not None]
    return Beer(
        original_gravity=best("original_gravity"),
        final_gravity=best("final_gravity"),
        alcohol_by_volume=best("alcohol_by_volume"),
        bitterness=best("bitterness"),
        colour=best("colour"),
        volume=next((found for name in BEER_VOLUMES if (found := best(name))), None),
        tasting=told[-1] if told else None,
    )
