"""Where a brewhouse's extract goes on the mean of its latest batches, as a picture and as a table."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.history.pays import ExtractLoss, Pays
from journal.measures.wording import plain, unit_for
from journal.pages.charts.axis import Axis
from journal.pages.charts.losses import LossBar, LossesPicture
from journal.pages.differences import join, show_within
from journal.pages.index import Index
from journal.pages.words import sentence

#: What a place is called where extract stays behind in it.
_WORDS = {
    "not dissolved": "not dissolved",
    "spent grain": "left in the spent grain",
    "dead space": "left in the dead space",
    "kettle": "left in the kettle",
}
_TICKS = 5
#: Money from here on is told in whole ones.
_WHOLE = 9.95


@dataclass(frozen=True)
class LossRow:
    """What stays behind in one place: what that is in malt and money a year, and how much of it could be had back.

    `best` by doing always as in the best quarter, `most` at the physical limit, both in points; empty where nobody can say.
    """

    words: str
    malt: str
    money: str
    best: str
    most: str


def loss_words(loss: ExtractLoss) -> str:
    """`left in the spent grain`."""
    return _WORDS[loss.place]


def into_words(index: Index, pays: Pays) -> str:
    """What reaches the fermenter, with its interval."""
    into = pays.into_fermenter
    return show_within(into.value, into.low, into.high, "1", index.system)


def money_words(amount: float | None) -> str:
    """About how much money, in whole ones, and below ten in tenths; empty for none."""
    if amount is None:
        return ""
    return plain(amount, 0) if abs(amount) >= _WHOLE else f"{plain(amount, 1)}0"


def malt_words(index: Index, weight: float) -> str:
    """About how much malt a year, from kg: in tenths, and below one in hundredths."""
    how = unit_for("kg", index.system)
    amount = how.convert(weight)
    decimals = next((places for places, least in enumerate((99.5, 0.995)) if abs(amount) >= least), 2)
    return join(plain(amount, decimals), how.sign)


def losses_picture(index: Index, pays: Pays) -> LossesPicture:
    """The account as a picture."""
    ends = [100 * end for loss in pays.losses for end in (loss.low, loss.high, loss.best_quarter or 0.0)]
    axis = Axis(min(0.0, *ends), max(4.0, 1.02 * max(ends)))
    bars = tuple(_bar(index, loss) for loss in pays.losses)
    into = into_words(index, pays)
    told = "; ".join(f"{bar.words} {bar.amount}" for bar in bars)
    return LossesPicture(
        words="into the fermenter",
        amount=into,
        into=min(max(pays.into_fermenter.value, 0.0), 1.0),
        bars=bars,
        axis=axis,
        ticks=axis.ticks(_TICKS),
        summary=sentence(f"into the fermenter {into}; {told}"),
    )


def _bar(index: Index, loss: ExtractLoss) -> LossBar:
    return LossBar(
        words=loss_words(loss),
        amount=show_within(loss.share, loss.low, loss.high, "1", index.system),
        value=100 * loss.share,
        reach=(100 * loss.low, 100 * loss.high),
        least=100 * loss.physical,
        best=None if loss.best_quarter is None else 100 * loss.best_quarter,
    )


def loss_rows(index: Index, pays: Pays) -> tuple[LossRow, ...]:
    """The account as a table, with all of what stays behind in its last row."""
    rows = [_row(index, loss) for loss in pays.losses]
    share = sum(loss.share for loss in pays.losses)
    into, best = pays.into_fermenter, pays.into_fermenter_best_quarter
    whole = ExtractLoss(
        place="kettle",
        share=share,
        low=1.0 - into.high,
        high=1.0 - into.low,
        malt_kg_a_year=sum(loss.malt_kg_a_year for loss in pays.losses),
        money_a_year=None if pays.price is None else share * pays.malt_kg_a_year * pays.price,
        best_quarter=None if best is None else 1.0 - best,
        physical=1.0 - pays.into_fermenter_physical,
    )
    return (*rows, _row(index, whole, "all of it"))


def _row(index: Index, loss: ExtractLoss, words: str = "") -> LossRow:
    return LossRow(
        words=words or loss_words(loss),
        malt=malt_words(index, loss.malt_kg_a_year),
        money=money_words(loss.money_a_year),
        best="" if loss.best_quarter is None else _points(loss.share - loss.best_quarter),
        most=_points(loss.share - loss.physical),
    )


def _points(share: float) -> str:
    return plain(100 * max(share, 0.0), 1)
