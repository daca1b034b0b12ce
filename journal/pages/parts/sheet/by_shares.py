"""What the sheet says of a grist by shares: how its weights came about, or why there are none."""

from __future__ import annotations

from journal.history.plan import Refusal
from journal.history.plan.by_shares import WeighedOut, weigh_out
from journal.history.plan.ways import usual_ways
from journal.measures import writing
from journal.measures.wording import show
from journal.pages.parts.sheet.planned_batch import PlannedBatch
from journal.problems import in_words


def how_weighed(planned: PlannedBatch) -> str:
    """What of a weighed-out grist the entry does not state, and what that rests on; empty for a grist by weight."""
    places = planned.batch.places
    if not any(grain.share for grain in planned.batch.grains) or "grains[0].weight" in places:
        return ""
    found = [words for path, words in (("mash.liquor", "the mash liquor"), ("lauter.liquor", "the sparge"))
             if path not in places and (path == "mash.liquor" or planned.batch.lauter.fillings)]  # fmt: skip
    if planned.batch.by_shares:
        return ""
    said = f"The entry gives shares; {in_words(['the weights', *found])} are calculated for its target."
    return " ".join([said, *_ways(planned)])


def _ways(planned: PlannedBatch) -> list[str]:
    """What is taken as the brewhouse has it, where the entry leaves it open."""
    index, batch = planned.view.index, planned.batch
    record = index.record
    ways = usual_ways(record.journal, record.figures, record.journal.brewhouse_key(batch), batch.day)
    taken = []
    if "lauter.method" not in batch.places:
        taken.append(ways.method)
    if "mash.liquor" not in batch.places and batch.lauter.fillings:
        taken.append(str(show(ways.liquor_to_grist, 0.0, "L/kg", planned.system)))
    if "boil.time" not in batch.places:
        taken.append(f"a boil of {writing.time(ways.boil)}")
    whose = f"as in batch {ways.batch}" if ways.batch else "as is common practice"
    return (
        [f"It says nothing of how, so {in_words(taken)} {'is' if len(taken) == 1 else 'are'} taken, {whose}."]
        if taken
        else []
    )


def why_not_weighed(planned: PlannedBatch) -> str:
    """Why a grist by shares has no weights, and what would help."""
    record = planned.view.index.record
    found = weigh_out(planned.batch, record.journal, record.figures, record.balances)
    if isinstance(found, WeighedOut):
        return ""
    if isinstance(found, Refusal):
        why, works = found.why(planned.system), found.nearest(planned.system)
        return f"The shares can't be turned into weights: {why}." + (
            f" The nearest that works: {works}." if works else ""
        )
    return f"The shares can't be turned into weights: {found.why}. {found.hint}"
