"""What the question “what pays first” is answered with: plain values, for pages and data files."""

from __future__ import annotations

from typing import Literal

from journal.frozen import dataclass
from journal.history.levers import LeverResult, Settling
from journal.history.settings import Setting

LossPlace = Literal["not dissolved", "spent grain", "dead space", "kettle"]
#: Where the grist's extract stays behind, in the order of the work.
PLACES: tuple[LossPlace, ...] = ("not dissolved", "spent grain", "dead space", "kettle")
#: What a gain rests on: the brewhouse's own balance, worked with the change; or a factor that is clear in its record.
Basis = Literal["model", "record"]
#: How an answer ends: with fewer than five batches nothing is said of practice; near the limit no change brings a point.
Ending = Literal["too few batches", "near the limit", "changes pay"]


@dataclass(frozen=True)
class Share:
    """A share of the grist's potential extract by its sheet, 0 to 1, with its interval at LEVEL, `low` to `high`."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class ExtractLoss:
    """What stays behind in one `place`: `share` of the grist's potential extract with its interval at LEVEL, `low` to `high`.

    All shares are fractions, 0 to 1; an interval may reach below 0. `best_quarter` is what stayed there in that quarter of the batches
    that brought most of the usual grists into the fermenter, None with fewer than eight batches; `physical` what must stay there
    whatever is done with these vessels and volumes. What could be had back is `share` less either. `malt_kg_a_year` is the loss as kg
    of malt a year, as often as is brewed now; `money_a_year` what that costs in whatever the brewer counts in, None where too few
    prices are known.
    """

    place: LossPlace
    share: float
    low: float
    high: float
    malt_kg_a_year: float
    money_a_year: float | None
    best_quarter: float | None
    physical: float


@dataclass(frozen=True)
class PayingChange:
    """One change that would bring more of the malt into the fermenter.

    `key` names it for programs, `change` in words, in the brewery's units; `at` is the field of the entry or of brewery.yaml that it is
    about. `gain`, a fraction of the grist's potential extract (0.01 is a point), with its interval at LEVEL, `low` to `high`. What it
    costs: `minutes` of work or boil more, None where nobody knows (0 where it takes none), and `boil_off`, L more to drive off.
    `kg_a_year`: malt saved a year for the same beer; `money_a_year` None where too few prices are known. Of a `record` basis `result`
    is the factor's study, else None: the gain is from `now`, how it mostly was set, to `setting`, the better end of what was tried, by
    the effect that may be promised.
    """

    key: str
    change: str
    at: str
    gain: float
    low: float
    high: float
    minutes: float | None
    boil_off: float
    basis: Basis
    kg_a_year: float
    money_a_year: float | None
    result: LeverResult | None = None
    now: Setting | None = None
    setting: Setting | None = None


#: How a habit stands beside what is usual.
Standing = Literal["as usual", "outside", "not written"]


@dataclass(frozen=True)
class Habit:
    """One thing that handbooks look at where conversion stays low, beside the brewer's own values; common practice, and no gain.

    `key` is the factor's name among LEVERS, `words` its name; `yours` the brewer's values in words, empty where nothing is written; `usual`
    the usual range in words. `standing` is “outside” where most of the batches lie outside it: then `advice` says what to try, `why` what
    for; both are empty otherwise. `at`: the field of the entry.
    """

    key: str
    words: str
    at: str
    yours: str
    usual: str
    standing: Standing
    advice: str = ""
    why: str = ""


@dataclass(frozen=True)
class NextTest:
    """What the next brew should change to learn most: `settling` of the factor that is worth most and not clear yet, in `figure`.

    `worth`: what the change is worth if the effect is what it seems, a fraction of the grist's potential; 0 or more.
    """

    figure: str
    settling: Settling
    worth: float


@dataclass(frozen=True)
class SpargeTable:
    """Brewhouse efficiency by sparge volume and number of run-offs, everything else as it mostly was.

    `sparge`: k volumes, L at 20 °C; `run_offs`: l numbers of fillings after the first wort; `efficiency[i][j]`: a fraction, of
    `sparge[i]` in `run_offs[j]` fillings; `minutes[i]`: of boil more (fewer: negative) for as much wort in the kettle's end as now,
    None where the boil-off is not known to be any. `now` is the place, row and column, that is nearest to how it is brewed.
    """

    sparge: tuple[float, ...]
    run_offs: tuple[int, ...]
    efficiency: tuple[tuple[float, ...], ...]
    minutes: tuple[float | None, ...]
    now: tuple[int, int]


@dataclass(frozen=True)
class Pays:
    """Where the extract of one brewhouse goes, and what pays first.

    `brewhouse` is its key, `method` the lautering method that most of the latest batches had (empty where none was written), and all is
    said of batches with that method. `batches`: ids of the latest batches that count, at most 20, in order of brewing. `losses` in the
    order of the work; with `into_fermenter` they make 1. `into_fermenter_best_quarter` (None with fewer than eight batches) and
    `into_fermenter_physical` go with the losses' own. `malt_kg_a_year`: malt used a year. `price`: of a kg of malt, None where too few
    prices are known. `changes` are those that bring anything, by gain, best first; `settled` what is already as it should be, in words.
    `handbook` is empty where conversion is not low, or nobody can say. `next_brew` is None where nothing would be learnt. With fewer
    than five batches (`ending` “too few batches”) changes rest on the model alone, and `handbook` and `next_brew` are empty. `table` is
    None where nothing was sparged. `doubted`: what moved and may be an instrument or a lot, so that no gain is claimed of what it
    touches; causes by name.
    """

    brewhouse: str
    method: str
    batches: tuple[str, ...]
    losses: tuple[ExtractLoss, ...]
    into_fermenter: Share
    into_fermenter_best_quarter: float | None
    into_fermenter_physical: float
    malt_kg_a_year: float
    price: float | None
    changes: tuple[PayingChange, ...]
    settled: tuple[str, ...]
    handbook: tuple[Habit, ...]
    next_brew: NextTest | None
    table: SpargeTable | None
    ending: Ending
    doubted: tuple[str, ...] = ()

    @property
    def practice_told(self) -> bool:
        """Whether there are batches enough to speak of practice."""
        return self.ending != "too few batches"
