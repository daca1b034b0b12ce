"""The next brew drafted: an earlier batch scaled to a target, or a plain first grist; what each number rests on kept beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import fsum

from journal.balance import Balance, Priors, common_practice
from journal.figures import BatchFigures
from journal.history.fold import EvidenceByMethod
from journal.history.learn import learn
from journal.history.plan.aim import Aim, Grist, GristLine, Plan
from journal.history.plan.forecast import target_of
from journal.history.plan.room import Refusal
from journal.history.plan.solve import scale_grist
from journal.history.plan.strike import Strike, strike
from journal.history.plan.swap import Lot, swap
from journal.reading import Batch, Brewhouse, Journal, resolve
from journal.reading.entry import Addition, Boil, Fermenter, Grain, Lauter, Mash
from journal.science import wort

#: What a brew is planned by where nothing is known (common practice): L/kg, min of boil, degC, a grist and its moisture.
LIQUOR_TO_GRIST, BOIL, MASH, FIRST_MALT, MOISTURE = 3.0, 60.0, 66.5, "pale malt", 0.04
FIRST_METHOD = "batch sparge"


@dataclass(frozen=True)
class NextBrew:
    """What the next brew is to be: `gravity` SG, `volume` L at 20 °C, None for what the batch it is like was after.

    `brewhouse` is its key; `swaps` are lots to be replaced, old and new; `grain_temperature` °C, None where nobody said.
    """

    day: date
    brewhouse: str
    gravity: float | None = None
    volume: float | None = None
    swaps: tuple[tuple[str, str], ...] = ()
    grain_temperature: float | None = None


@dataclass(frozen=True)
class Unusable:
    """Why nothing can be drafted, and what would help, each a sentence."""

    why: str
    hint: str


@dataclass(frozen=True)
class Charge:
    """One line of the grist: its place in the batch it is taken from, what goes in, kg, and what was in before.

    `instead_of` is the malt it replaces; `gave` what the two lots gave over their sheets, old and new, where the record says.
    """

    place: int
    malt: str
    weight: float
    before: float
    instead_of: str = ""
    gave: tuple[float, float] | None = None


@dataclass(frozen=True)
class Draft:
    """The next brew: aim and plan, grist, and by how much what was measured out before is to be scaled.

    `like` is None for a first grist. `by_volume`, `by_liquor`, `by_extract`: times, of what went by the batch's size, by its
    mash, by its extract. `learnt` is how many batches of the brewhouse the expectation rests on.
    """

    like: Batch | None
    aim: Aim
    plan: Plan
    grains: tuple[Charge, ...]
    strike: Strike | None
    mash_temperature: float
    grain_temperature: float | None
    by_volume: float
    by_liquor: float
    by_extract: float
    learnt: int


@dataclass(frozen=True)
class RecordSoFar:
    """What a draft is made from: the batches so far, and in `gave` what each lot gave over its sheet, as a fraction of its extract."""

    journal: Journal
    figures: Mapping[str, BatchFigures]
    balances: Mapping[str, Balance]
    gave: Mapping[str, float]

    def priors(self, wish: NextBrew, method: str) -> Priors:
        """What the brewhouse is expected to do on the eve of a day."""
        here = self.journal.by_brewhouse.get(wish.brewhouse, [])
        said = EvidenceByMethod.of((batch for batch in here if batch.day <= wish.day), self.balances)
        brewhouse = self.journal.brewery.brewhouses.get(wish.brewhouse, Brewhouse())
        return learn(common_practice(brewhouse, method), said.for_method(method))


def draft(like: Batch | None, wish: NextBrew, past: RecordSoFar) -> Draft | Refusal | Unusable:
    """The next brew like an earlier batch, None for a first grist; why not, where it can't be."""
    grains: Sequence[Grain] = like.grains if like else (Grain(malt=FIRST_MALT),)
    lines = _lines(grains, like, past)
    if isinstance(lines, Unusable):
        return lines
    base = _base(like, past)
    gravity, volume = wish.gravity or base[0], wish.volume or base[1]
    if gravity is None or volume is None:
        return Unusable(
            f"batch {like.id} has neither a target nor a gravity and volume in the fermenter"
            if like
            else "no target is given",
            "Give --gravity and --volume.",
        )
    missing = _not_in_the_grist(wish, grains)
    if missing:
        return missing
    scaling = _Scaling.of(base, gravity, volume)
    aim = _aim(like, wish, past, scaling, (gravity, volume))
    priors = past.priors(wish, aim.method)
    plan = scale_grist(aim, lines, priors)
    if isinstance(plan, Refusal):
        return plan
    charges = _charges(grains, plan, wish, past)
    if isinstance(charges, Unusable):
        return charges
    mash = like.mash if like else Mash()
    rest = mash.rests[0].temperature if mash.rests else None
    at = rest.value if rest else MASH
    weight = fsum(charge.weight for charge in charges)
    moisture = Grist.of(plan.lines).moisture
    before = past.figures[like.id].get("mash_liquor") if like else None
    return Draft(
        like,
        aim,
        plan,
        charges,
        strike(at, weight, plan.mash_liquor, moisture, wish.grain_temperature),
        at,
        wish.grain_temperature,
        scaling.volume,
        plan.mash_liquor / before.value if before and before.value > 0 else scaling.volume,
        scaling.extract,
        priors.conversion.batches,
    )


def _as_is(line: Grain | Addition, path: str, past: RecordSoFar) -> tuple[float, float] | None:
    """Extract as is and moisture, fractions; None where the extract is not known."""
    values = resolve(line, path, past.journal.malts)
    moisture = values.moisture.value if values.moisture else MOISTURE
    if values.extract_as_is is not None:
        return values.extract_as_is.value, moisture
    return None if values.extract is None else (values.extract.value * (1 - moisture), moisture)


def _lines(grains: Sequence[Grain], like: Batch | None, past: RecordSoFar) -> list[GristLine] | Unusable:
    if like is not None and not grains:
        return Unusable(f"batch {like.id} has no grain", "Choose a batch whose entry says what was mashed.")
    lines = []
    for place, grain in enumerate(grains):
        known = _as_is(grain, f"grains[{place}]", past)
        weight = grain.weight.value if grain.weight else None if like else 1.0
        if weight is None or known is None:
            wanting = "weight" if weight is None else "extract"
            return Unusable(
                f"the {wanting} of {grain.malt} in batch {like.id if like else ''} is not known",
                f"Write its {wanting} into that entry first.",
            )
        lines.append(GristLine(weight, *known))
    return lines


def _base(like: Batch | None, past: RecordSoFar) -> tuple[float | None, float | None]:
    """Gravity and volume that a batch was after, else what it came to."""
    if like is None:
        return None, None
    figures, wanted = past.figures[like.id], like.target
    gravity, volume = target_of(like), wanted.volume.value if wanted.volume else None
    got = [figures.get(name) for name in ("original_gravity", "fermenter_volume")]
    return gravity or (got[0].value if got[0] else None), volume or (got[1].value if got[1] else None)


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


def _sugars(sugars: Sequence[Addition], group: str, past: RecordSoFar, times: float) -> tuple[float, float]:
    """kg of extract and of water that sugars bring, scaled."""
    extract = water = 0.0
    for place, sugar in enumerate(sugars):
        known = _as_is(sugar, f"{group}.additions[{place}]", past)
        if known and sugar.weight:
            extract += sugar.weight.value * known[0] * times
            water += sugar.weight.value * (1 - known[0]) * times
    return extract, water


def _aim(like: Batch | None, wish: NextBrew, past: RecordSoFar, scaling: _Scaling, target: tuple[float, float]) -> Aim:
    brewhouse = past.journal.brewery.brewhouses.get(wish.brewhouse, Brewhouse())
    lauter, boil, fermenter = Lauter(), Boil(), Fermenter()
    if like is not None:
        lauter, boil, fermenter = like.lauter, like.boil, like.fermenter
    thickness = past.figures[like.id].get("liquor_to_grist") if like else None
    in_kettle = _sugars(boil.additions, "boil", past, scaling.extract)
    in_fermenter = _sugars(fermenter.additions, "fermenter", past, scaling.extract)
    added = [past.figures[like.id].get(name) if like else None for name in ("kettle_top_up", "fermenter_top_up")]
    top_ups = [water.value * scaling.volume if water else 0.0 for water in added]
    tun, kettle = brewhouse.mash_tun, brewhouse.kettle
    return Aim(
        gravity=target[0],
        volume=target[1],
        liquor_to_grist=thickness.value if thickness else LIQUOR_TO_GRIST,
        boil=(boil.time.value if boil.time else BOIL) / 60.0,
        sugar=in_kettle[0],
        method=lauter.method or FIRST_METHOD,
        mash_tun=tun.volume.value if tun.volume else None,
        kettle=kettle.volume.value if kettle.volume else None,
        kettle_water=in_kettle[1] + top_ups[0] * wort.density(0.0),
        fermenter_sugar=in_fermenter[0],
        fermenter_water=in_fermenter[1] + top_ups[1] * wort.density(0.0),
    )


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
        name, before = grain.malt or "", grain.weight.value if grain.weight else 0.0
        new = swaps.get(name)
        if new is None:
            yield Charge(place, name, line.weight, before)
            continue
        known = _as_is(Grain(malt=new), f"grains[{place}]", past)
        if known is None:
            yield Unusable(f"the extract of {new} is not known", "Put it into malts.yaml, or use the name of a kind.")
            continue
        gave = (past.gave.get(name, 0.0), past.gave.get(new, 0.0))
        try:
            (weight,) = swap((line.weight,), Lot(line.extract, 1 + gave[0]), Lot(known[0], 1 + gave[1]))
        except ValueError:
            yield Unusable(f"{name} can't be replaced by {new} weight for weight of extract", "One of them has none.")
            continue
        yield Charge(place, new, weight, before, name, gave if any(gave) else None)
