"""A planned grist that is given by shares, weighed out: its weights, and the liquors that the entry leaves open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from journal.balance import Balance, Priors
from journal.figures import BatchFigures, figures_of
from journal.frozen import dataclass
from journal.history.fold import expected_on
from journal.history.plan.aim import Aim, Plan
from journal.history.plan.forecast import target_of
from journal.history.plan.from_batch import Unusable, aim_like, grist_lines
from journal.history.plan.room import Refusal
from journal.history.plan.solve import scale_grist
from journal.history.plan.ways import Ways, usual_ways
from journal.measures import Measure
from journal.reading import Batch, Journal
from journal.reading.entry import STEEP, WITHOUT_SPARGE
from journal.science import wort

#: About how much of its weight a grist leaves in the fermenter as extract: what additions are held against before the grist is known.
_ABOUT = 0.6


@dataclass(frozen=True)
class WeighedOut:
    """A planned batch with the weights that its shares come to: `batch` is the entry's with these and with its liquors filled in.

    `ways` are what it leaves unsaid and is taken to be brewed by, `priors` what the plan expects of the brewhouse.
    """

    batch: Batch
    plan: Plan
    ways: Ways
    priors: Priors


def weigh_out(
    batch: Batch, journal: Journal, figures: Mapping[str, BatchFigures], balances: Mapping[str, Balance]
) -> WeighedOut | Refusal | Unusable:
    """The weights of a planned grist by shares, by what is expected of its brewhouse; why not, where there are none.

    `figures` and `balances` are those of the journal's batches, by id. What the entry states stays: with its mash liquor settled the sparge
    follows, with both settled the volume.
    """
    gravity, volume = target_of(batch), batch.target.volume
    if gravity is None or volume is None:
        return Unusable("a grist by shares needs a target", "Add target: {gravity: …, volume: …} to its entry.")
    if batch.lauter.method == STEEP:
        return Unusable("what steeped grain gives is not known well enough", "Give each its weight instead.")
    lines = grist_lines(batch.grains, journal.malts)
    if isinstance(lines, Unusable):
        return lines
    key, brewhouse = journal.brewery.brewhouse_of(batch.brewhouse)
    ways = usual_ways(journal, figures, key, batch.day)
    strength = wort.plato_from_gravity(gravity)
    guess = wort.mass(volume.value, strength) * strength / 100.0 / _ABOUT
    guessed = _with_grain(batch, [guess * line.weight for line in lines])
    known = figures_of(guessed, journal.brewery, journal.malts)
    aim = aim_like(guessed, known, brewhouse, (gravity, volume.value))
    if isinstance(aim, Unusable):
        return aim
    aim = _as_usual(aim, batch, known, ways)
    priors = expected_on(batch.day, key, aim.method, journal, balances)
    plan = scale_grist(aim, lines, priors)
    if isinstance(plan, Refusal):
        return plan
    return WeighedOut(_filled(batch, plan, ways), plan, ways, priors)


def _as_usual(aim: Aim, batch: Batch, known: BatchFigures, ways: Ways) -> Aim:
    """The aim with what the entry settles, and with the brewhouse's ways where it says nothing."""
    method = batch.lauter.method or ways.method
    mash, sparge = known.get("mash_liquor"), known.get("sparge_liquor")
    rinsed = sparge is not None and sparge.value > 0 and bool(batch.lauter.fillings)
    return replace(
        aim,
        method=method,
        rinsed=rinsed and method in WITHOUT_SPARGE,
        liquor_to_grist=ways.liquor_to_grist,
        boil=aim.boil if batch.boil.time else ways.boil / 60.0,
        mash_liquor=mash.value if mash else None,
        sparge_liquor=sparge.value if sparge is not None and rinsed else None,
    )


def _with_grain(batch: Batch, weights: list[float]) -> Batch:
    grains = tuple(
        replace(grain, weight=Measure(weight, "kilogram")) for grain, weight in zip(batch.grains, weights, strict=True)
    )
    return replace(batch, grains=grains)


def _filled(batch: Batch, plan: Plan, ways: Ways) -> Batch:
    """The batch with the weights, and with liquors, method and boil where the entry leaves them open."""
    weighed = _with_grain(batch, [line.weight for line in plan.lines])
    mash, lauter, boil = batch.mash, batch.lauter, batch.boil
    if mash.liquor is None:
        mash = replace(mash, liquor=Measure(plan.mash_liquor, "litre"))
    if lauter.liquor is None and (lauter.method or ways.method) not in WITHOUT_SPARGE:
        lauter = replace(lauter, liquor=Measure(plan.sparge_liquor, "litre"))
    if lauter.method is None:
        lauter = replace(lauter, method=ways.method)
    if boil.time is None:
        boil = replace(boil, time=Measure(ways.boil, "minute"))
    return replace(weighed, mash=mash, lauter=lauter, boil=boil)
