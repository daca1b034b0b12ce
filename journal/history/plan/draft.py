"""The next brew drafted: an earlier batch scaled to a target, or a grist by shares; what each number rests on kept beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import fsum

from journal.balance import Balance, Priors
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.fold import expected_on
from journal.history.plan.aim import Aim, Grist, Plan
from journal.history.plan.forecast import target_of
from journal.history.plan.from_batch import Unusable, aim_like, as_is, grist_lines, of_extract_alone
from journal.history.plan.in_proportion import scale_steep
from journal.history.plan.room import Refusal
from journal.history.plan.solve import scale_grist
from journal.history.plan.strike import Strike, cold_litres, find_strike
from journal.history.plan.swap import Lot, swap
from journal.history.plan.ways import Ways, usual_ways
from journal.measures import Measure
from journal.reading import Batch, Brewhouse, Journal
from journal.reading.entry import STEEP, WITHOUT_SPARGE, Grain, Mash
from journal.science import heat, wort

#: What a first brew is planned with, of that alone (common practice).
FIRST_MALT, _WHOLE = "pale malt", Measure(1.0, "percent")


@dataclass(frozen=True)
class NextBrew:
    """What the next brew is to be: `gravity` SG, `volume` L at 20 °C, None for what the batch it is like was after.

    `brewhouse` is its key; `swaps` are lots to be replaced, old and new; `grain_temperature` °C, None where nobody said. `grist`
    are lines with shares, empty for that of the batch it is like.
    """

    day: date
    brewhouse: str
    gravity: float | None = None
    volume: float | None = None
    swaps: tuple[tuple[str, str], ...] = ()
    grain_temperature: float | None = None
    grist: tuple[Grain, ...] = ()


@dataclass(frozen=True)
class Charge:
    """One line of the grist: its place in the batch it is taken from, what goes in, kg, and what was in before, None for nothing.

    `share` is that of a grist by shares, a fraction; `instead_of` is the malt it replaces; `gave` what the two lots gave over their
    sheets, old and new, where the record says.
    """

    place: int
    malt: str
    weight: float
    before: float | None
    share: float | None = None
    instead_of: str = ""
    gave: tuple[float, float] | None = None


@dataclass(frozen=True)
class Multiples:
    """By how much things of the batch before are multiplied: what goes by the volume in the fermenter, by the mash liquor, by the
    sparge, by the room that the mash takes, by the extract.
    """

    volume: float
    liquor: float
    sparge: float
    mash: float
    extract: float


@dataclass(frozen=True)
class Draft:
    """The next brew: aim and plan, grist, and by how much what was measured out before is to be scaled.

    `like` is None for a brew like no other, whose `ways` are the brewhouse's. `learnt` is how many batches of the brewhouse the
    expectation rests on; `later` is from the day of the batch before to its own.
    """

    like: Batch | None
    aim: Aim
    plan: Plan
    grains: tuple[Charge, ...]
    strike: Strike | None
    mash_temperature: float
    grain_temperature: float | None
    times: Multiples
    learnt: int
    ways: Ways
    later: timedelta


@dataclass(frozen=True)
class RecordSoFar:
    """What a draft is made from: the batches so far, and in `gave` what each lot gave over its sheet, as a fraction of its extract."""

    journal: Journal
    figures: Mapping[str, BatchFigures]
    balances: Mapping[str, Balance]
    gave: Mapping[str, float]

    def priors(self, wish: NextBrew, method: str) -> Priors:
        """What the brewhouse is expected to do on the eve of a day."""
        return expected_on(wish.day, wish.brewhouse, method, self.journal, self.balances)


def draft(like: Batch | None, wish: NextBrew, past: RecordSoFar) -> Draft | Refusal | Unusable:
    """The next brew like an earlier batch, None for one like no other; why not, where it can't be."""
    grains: Sequence[Grain] = wish.grist or (like.grains if like else (Grain(malt=FIRST_MALT, share=_WHOLE),))
    whose = f"batch {like.id}" if like and not wish.grist else ""
    lines = _not_in_the_grist(wish, grains) or (
        []
        if like and not wish.grist and of_extract_alone(like, past.figures[like.id])
        else grist_lines(grains, past.journal.malts, whose)
    )
    if isinstance(lines, Unusable):
        return lines
    base = _base(like, past)
    gravity, volume = wish.gravity or base[0], wish.volume or base[1]
    if gravity is None or volume is None:
        return Unusable(
            f"batch {like.id} has neither a target nor a gravity and volume in the fermenter"
            if like
            else "a target has a gravity and a volume, and one of them is missing",
            "Give --gravity and --volume.",
        )
    scaling = _Scaling.of(base, gravity, volume)
    ways = usual_ways(past.journal, past.figures, wish.brewhouse, wish.day)
    aim = _aim(like, wish, past, scaling, (gravity, volume), ways)
    if isinstance(aim, Unusable):
        return aim
    priors = past.priors(wish, aim.method)
    plan = (
        scale_steep(aim, lines, priors, scaling.extract, _steeped(like, past, scaling))
        if aim.method == STEEP and not wish.grist
        else scale_grist(aim, lines, priors)
    )
    if isinstance(plan, Refusal):
        return plan
    charges = _charges(grains, plan, wish, past)
    if isinstance(charges, Unusable):
        return charges
    mash = like.mash if like else Mash()
    rest = mash.rests[0].temperature if mash.rests else None
    at = rest.value if rest else ways.mash
    weight = fsum(charge.weight for charge in charges)
    times = _times(like, past, scaling, plan)
    poured = plan.mash_liquor - times.liquor * fsum(cold_litres(r.infusion) for r in mash.rests if r.infusion)
    return Draft(
        like,
        aim,
        plan,
        charges,
        find_strike(at, weight, poured, Grist.of(plan.lines).moisture, wish.grain_temperature)
        if lines and poured > 0
        else None,
        at,
        wish.grain_temperature,
        times,
        priors.conversion.batches,
        ways,
        wish.day - like.day if like else timedelta(0),
    )


def _steeped(like: Batch | None, past: RecordSoFar, scaling: _Scaling) -> float | None:
    """L of liquor to steep in, as before; None where nobody said."""
    found = past.figures[like.id].get("mash_liquor") if like else None
    return None if found is None else found.value * scaling.volume


def _times(like: Batch | None, past: RecordSoFar, scaling: _Scaling, plan: Plan) -> Multiples:
    """By how much what the batch before was made with is multiplied."""
    by = Multiples(scaling.volume, scaling.volume, scaling.volume, scaling.volume, scaling.extract)
    if like is None:
        return by
    figures = past.figures[like.id]
    mash, sparge, grain = (figures.get(name) for name in ("mash_liquor", "sparge_liquor", "grain_weight"))
    if mash is not None and mash.value > 0:
        by = replace(by, liquor=plan.mash_liquor / mash.value)
    if sparge is not None and sparge.value > 0:
        by = replace(by, sparge=plan.sparge_liquor / sparge.value)
    if mash is not None and grain is not None:
        before, after = ((mash.value, grain.value), (plan.mash_liquor, plan.grain))
        by = replace(by, mash=heat.mash_volume(after[1], after[0]) / heat.mash_volume(before[1], before[0]))
    return by


def _base(like: Batch | None, past: RecordSoFar) -> tuple[float | None, float | None]:
    """Gravity and volume that a batch was after, else what it came to."""
    if like is None:
        return None, None
    figures, wanted = past.figures[like.id], like.target
    aimed = (target_of(like), wanted.volume.value if wanted.volume else None)
    got = tuple(
        found.value if (found := figures.get(name)) else None for name in ("original_gravity", "fermenter_volume")
    )
    # what was steeped is repeated in proportion to what came of it; what was mashed is planned for what it was after
    first, second = (got, aimed) if like.lauter.method == STEEP else (aimed, got)
    return first[0] or second[0], first[1] or second[1]


@dataclass(frozen=True)
class _Scaling:
    """Times of an earlier batch: its volume, its extract."""

    volume: float
    extract: float

    @classmethod
    def of(cls, base: tuple[float | None, float | None], gravity: float, volume: float) -> _Scaling:
        """From what a batch was after to what the next one is; what is not known stays as it was."""
        by_volume = volume / base[1] if base[1] else 1.0
        if base[0] is None or base[0] <= 1.0:
            return cls(by_volume, by_volume)
        before, after = (wort.plato_from_gravity(g) for g in (base[0], gravity))
        return cls(by_volume, by_volume * wort.mass(1.0, after) * after / (wort.mass(1.0, before) * before))


def _aim(
    like: Batch | None,
    wish: NextBrew,
    past: RecordSoFar,
    scaling: _Scaling,
    target: tuple[float, float],
    ways: Ways,
) -> Aim | Unusable:
    brewhouse = past.journal.brewery.brewhouses.get(wish.brewhouse, Brewhouse())
    if like is None:
        tun, kettle = brewhouse.mash_tun.volume, brewhouse.kettle.volume
        return Aim(
            target[0],
            target[1],
            ways.liquor_to_grist,
            ways.boil / 60.0,
            method=ways.method,
            mash_tun=tun.value if tun else None,
            kettle=kettle.value if kettle else None,
        )
    figures = past.figures[like.id]
    aim = aim_like(like, figures, brewhouse, target, (scaling.volume, scaling.extract))
    if isinstance(aim, Unusable):
        return aim
    if not wish.grist and of_extract_alone(like, figures):
        # what nothing is mashed for goes in proportion, as what is steeped
        return replace(aim, method=STEEP)
    rinse = figures.get("sparge_liquor")
    return replace(aim, rinsed=aim.method in WITHOUT_SPARGE and rinse is not None and rinse.value > 0)


def _not_in_the_grist(wish: NextBrew, grains: Sequence[Grain]) -> Unusable | None:
    have = [grain.malt or "" for grain in grains]
    for old, _ in wish.swaps:
        if old not in have:
            return Unusable(f"{old} is not in the grist", f"It has {', '.join(dict.fromkeys(have))}.")
    return None


def _charges(grains: Sequence[Grain], plan: Plan, wish: NextBrew, past: RecordSoFar) -> tuple[Charge, ...] | Unusable:
    found = list(_charge(grains, plan, wish, past))
    refused = next((charge for charge in found if isinstance(charge, Unusable)), None)
    return refused or tuple(charge for charge in found if isinstance(charge, Charge))


def _charge(grains: Sequence[Grain], plan: Plan, wish: NextBrew, past: RecordSoFar) -> Iterator[Charge | Unusable]:
    swaps = dict(wish.swaps)
    for place, (grain, line) in enumerate(zip(grains, plan.lines, strict=True)):
        name, before = grain.malt or "", grain.weight.value if grain.weight else None
        share = grain.share.value if grain.share and wish.grist else None
        new = swaps.get(name)
        if new is None:
            yield Charge(-1 if wish.grist else place, name, line.weight, before, share)
            continue
        known = as_is(Grain(malt=new), f"grains[{place}]", past.journal.malts)
        if known is None:
            yield Unusable(f"the extract of {new} is not known", "Put it into malts.yaml, or use the name of a kind.")
            continue
        gave = (past.gave.get(name, 0.0), past.gave.get(new, 0.0))
        try:
            (weight,) = swap((line.weight,), Lot(line.extract, 1 + gave[0]), Lot(known[0], 1 + gave[1]))
        except ValueError:
            yield Unusable(f"{name} can't be replaced by {new} weight for weight of extract", "One of them has none.")
            continue
        yield Charge(place, new, weight, before, share, name, gave if any(gave) else None)
