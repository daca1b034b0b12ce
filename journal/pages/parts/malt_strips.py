"""A row's strips on the page of malts, on axes that all rows share: the sheet, what was given against it, the efficiency."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from journal.frozen import dataclass
from journal.history.moved.lots import LotEffect
from journal.measures.wording import plain, show
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.differences import between
from journal.pages.index import Index
from journal.pages.model import UNBROKEN
from journal.pages.parts.known_malts import KnownMalt
from journal.pages.verdict import JUDGED

_TICKS = 4


@dataclass(frozen=True)
class MaltColumn:
    """One thing that malts are compared by, with the axis of all its strips."""

    words: str
    axis: StripAxis


def lot_words(effect: LotEffect, system: str) -> str:
    """What a lot gave against its sheet: news only where its 90 % interval leaves nothing out."""
    low, high = sorted((abs(effect.low), abs(effect.high)))
    if effect.low <= 0.0 <= effect.high:
        span = between(effect.low, effect.high, "1", system)
        return f"Its yield matches its sheet, as far as we can tell ({span}{UNBROKEN}% of its extract, from {effect.batches} batches)"
    size = str(show(abs(effect.effect), effect.sd, "1", system).value)
    side = "less" if effect.effect < 0 else "more"
    span = between(low, high, "1", system)
    return f"It gave {size}{UNBROKEN}% {side} extract than its sheet says ({span}), from {effect.batches} batches"


class MaltColumns:
    """The axes that all rows share, and a row's strips on them."""

    def __init__(self, index: Index, malts: Sequence[KnownMalt]) -> None:
        self.index = index
        # hulls give nothing and sugar all: the malts of sheets set the axis, as long as there are any
        sheets = [malt.extract for malt in malts if malt.extract and malt.facts]
        sheets = sheets or [malt.extract for malt in malts if malt.extract]
        effects = [effect for malt in malts for _, effect in malt.effects]
        got = [value for malt in malts for value, out in self._got(malt) if not out]
        self.sheet = self._axis([value + side * sd for value, sd in sheets for side in (-1, 1)], 10.0)
        self.against = self._axis(
            [0.0, *(100 * end for e in effects for end in (e.low, e.high))] if effects else [], 4.0
        )
        self.efficiency = self._axis(got, 10.0)

    @staticmethod
    def _axis(values: Sequence[float], least: float) -> Axis | None:
        return Axis.around(values, least=least) if values else None

    def _got(self, malt: KnownMalt) -> list[tuple[float, bool]]:
        """The efficiency of each batch made mostly of a malt, per cent, and whether a warning keeps it out."""
        known = [(batch, result) for batch in malt.mostly if (result := self.index.result(batch, JUDGED))]
        return [(100 * result.value, self.index.flagged(batch, result)) for batch, result in known]

    def known(self) -> Iterator[tuple[MaltColumn, Callable[[KnownMalt], StripPicture | None]]]:
        """The columns that any row has something in, each with what draws a row's strip."""
        for words, axis, sign, strip in (
            ("extract by its sheet, % of dry matter", self.sheet, False, self.strip_of_sheet),
            ("yield against its sheet, %", self.against, True, self.strip_against),
            ("brewhouse efficiency, %", self.efficiency, False, self.strip_of_efficiency),
        ):
            if axis:
                yield MaltColumn(words, StripAxis(axis, axis.ticks(_TICKS, sign=sign), words)), strip

    def strip_of_sheet(self, malt: KnownMalt) -> StripPicture | None:
        """What the sheet says and how sure that is; none off the axis, as hulls and sugar are."""
        if self.sheet is None or malt.extract is None or not self.sheet.holds(malt.extract[0]):
            return None
        value, sd = malt.extract
        told = f"sheet: {plain(value, 1)} ± {plain(sd, 1)} %"
        ticks = self.sheet.ticks(_TICKS)
        return StripPicture(self.sheet, told, latest=(value,), reach=(value - sd, value + sd), ticks=ticks, clear=True)

    def strip_against(self, malt: KnownMalt) -> StripPicture | None:
        """What it gave against the sheet on the brewhouse with most batches, with its interval."""
        if self.against is None or not malt.effects:
            return None
        _, effect = malt.effects[0]
        return StripPicture(
            self.against,
            lot_words(effect, self.index.system),
            latest=(100 * effect.effect,),
            reach=(100 * effect.low, 100 * effect.high),
            zero=0.0,
            ticks=self.against.ticks(_TICKS),
            clear=effect.low > 0.0 or effect.high < 0.0,
        )

    def strip_of_efficiency(self, malt: KnownMalt) -> StripPicture | None:
        """The efficiencies of the batches made mostly of it, a dot each."""
        got = self._got(malt)
        if self.efficiency is None or not got:
            return None
        sound, out = ([value for value, flagged in got if flagged is which] for which in (False, True))
        batches = f"{len(sound)} {'batch' if len(sound) == 1 else 'batches'}"
        told = f"{batches}: {', '.join(plain(value, 0) for value in sound)} %" if sound else "no batch that counts"
        return StripPicture(
            self.efficiency, told, dots=tuple(sound), left_out=tuple(out), ticks=self.efficiency.ticks(_TICKS)
        )
