"""How much grain and liquor a target wants, at what this brewhouse can be expected to give for that very grist.

Efficiency falls as the grist grows, so the grain is solved for, not divided by a fixed percentage. The water goes
backwards: from the fermenter to knockout (what the kettle keeps), to the full kettle (what the boil drives off), to the
liquor (what the bed keeps). The extract goes forwards through the same model that judges the batch once it is brewed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import fsum

from journal.balance.equations import KETTLE_TO_LIQUOR
from journal.balance.priors import Priors, by_size
from journal.balance.vessels import DEAD_SPACE_WATER, WATER, BrewState, Facts, Vessel, vessels
from journal.history.plan.aim import STRONGEST, WEAKEST, Aim, Grist, GristLine, Plan
from journal.history.plan.room import (
    NO_LIQUOR,
    OUT_OF_RANGE,
    SUGAR,
    THICKEST,
    TOO_STRONG,
    TOO_THICK,
    Obstacle,
    Refusal,
    crowding,
    refuse,
)
from journal.numerics.roots import highest_between, root_between
from journal.science import wort

#: The size has settled when it moves by less, L.
_SETTLED = 1e-7
_MOST_STEPS = 60
#: More grain than so many times what a perfect run-off would take is never planned.
_MOST_GRAIN = 20.0
#: Of the grain that would hold all of a mash, the share with which a little still runs off.
_RUNS_OFF = 0.999


class PlanSolver:
    """One aim at fixed expectations, those that go by the size of the brew filled in."""

    def __init__(self, aim: Aim, grist: Grist, priors: Priors) -> None:
        self.aim, self.grist, self.priors = aim, grist, priors
        self.boil_off = priors.boil_off.mean if priors.boil_off else 0.0
        self.loss = priors.kettle_loss.mean if priors.kettle_loss else 0.0
        self.kettle = self._full_kettle()

    def _full_kettle(self) -> Vessel:
        """What the full kettle must hold, from the fermenter backwards."""
        aim, strength = self.aim, wort.plato_from_gravity(self.aim.gravity)
        mass = wort.mass(aim.volume, strength)
        passed = Vessel(mass * (1 - strength / 100) - aim.fermenter_water, mass * strength / 100 - aim.fermenter_sugar)
        # what stays in the kettle is of the same strength as what passes
        grown = 1.0 + self.loss / passed.volume
        evaporated = self.boil_off * aim.boil * WATER
        return Vessel(passed.water * grown - aim.kettle_water + evaporated, passed.extract * grown - aim.sugar)

    def _water_kept(self, grain: float) -> float:
        """kg of water that the grain and the dead space keep, less what the grain brings."""
        held = self.priors.water_held.mean - self.grist.moisture
        return held * grain + self.priors.dead_space.mean * DEAD_SPACE_WATER

    def liquors(self, grain: float) -> tuple[float, float]:
        """Mash and sparge liquor, L: as settled, else those that fill the kettle with the water it needs."""
        if self.aim.settled is not None:
            return self.aim.settled
        total = (self.kettle.water - self.aim.mash_water - self.aim.early_water + self._water_kept(grain)) / WATER
        wanted = self.aim.liquor_to_grist * grain if self.aim.mash_liquor is None else self.aim.mash_liquor
        mash = min(wanted, total) if self.aim.sparges else total
        return mash, total - mash

    def brewed(self, grain: float) -> tuple[dict[str, float], BrewState]:
        """The batch that so much grain makes, by the model that will judge it."""
        mash, sparge = self.liquors(grain)
        unknowns = {name: getattr(self.priors, name).mean for name in ("water_held", "dead_space", "shortfall")}
        unknowns |= {
            "potential_extract": grain * self.grist.extract,
            "conversion": self.priors.conversion.mean,
            "mash_liquor": mash,
            "sparge_liquor": sparge,
            "boil_off": self.boil_off,
            "kettle_loss": self.loss,
            "top_up": 0.0,
            "fermenter_top_up": 0.0,
            "kettle_sugar": self.aim.sugar,
            "fermenter_sugar": self.aim.fermenter_sugar,
            "mash_sugar": self.aim.mash_sugar,
            "early_sugar": self.aim.early_sugar,
        }
        facts = Facts(
            grain * self.grist.extract,
            grain,
            grain * self.grist.moisture,
            self.aim.run_offs,
            self.aim.boil,
            self.aim.kettle_water,
            self.aim.fermenter_water,
            self.aim.mash_water,
            self.aim.early_water,
        )
        return unknowns, vessels(unknowns, facts)

    def extract(self, grain: float) -> float:
        """kg of extract that reaches the kettle; none where no first wort runs off."""
        mash, _ = self.liquors(grain)
        if mash * WATER <= self._water_kept(grain):
            return 0.0
        return self.brewed(grain)[1].kettle.extract

    def most_grain(self) -> float:
        """kg of grain at which a sparge comes to nothing, or a mash is too thick; capped where neither comes."""
        cap = _MOST_GRAIN * self.kettle.extract / self.grist.extract
        dead, settled = self._water_kept(0.0), self.aim.mash_liquor
        if self.aim.sparges and settled is not None:
            held = self._water_kept(1.0) - dead
            return min(settled / THICKEST, _RUNS_OFF * (settled * WATER - dead) / held, cap)
        thickness = self.aim.liquor_to_grist if self.aim.sparges else THICKEST
        each = thickness * WATER - self._water_kept(1.0) + dead
        return min((self.kettle.water + dead) / each, cap) if each > 0 else cap

    def grain(self) -> float | Obstacle:
        """kg of grain that the target takes."""
        needed = self.kettle.extract
        from_grain = needed - self.aim.mash_sugar - self.aim.early_sugar
        dissolving = self.grist.extract * self.priors.conversion.mean
        if from_grain <= 0 or self.kettle.water - self.aim.mash_water - self.aim.early_water <= 0:
            return Obstacle(SUGAR)
        if dissolving <= 0:
            return Obstacle(TOO_STRONG)
        if self.aim.sparges and self.aim.liquor_to_grist * WATER <= self._water_kept(1.0) - self._water_kept(0.0):
            return Obstacle(TOO_THICK)
        # a little below what a perfect run-off would take, lest a shortfall learnt below 0 go past it
        least, most = 0.9 * from_grain / dissolving, self.most_grain()
        if least >= most:
            return Obstacle(TOO_STRONG)
        if self.extract(most) < needed:
            best = highest_between(self.extract, least, most, within=1e-5)
            if self.extract(best) < needed:
                return Obstacle(NO_LIQUOR if self.aim.sparges and best > 0.98 * most else TOO_STRONG)
            most = best
        return root_between(lambda grain: self.extract(grain) - needed, least, most, within=1e-9)

    def grain_for_liquor(self) -> float | Obstacle:
        """kg of grain that bring settled liquors to the gravity, whatever volume that makes."""
        mash, sparge = self.liquors(0.0)
        held, dead = self._water_kept(1.0) - self._water_kept(0.0), self._water_kept(0.0)
        most = min(_RUNS_OFF * ((mash + sparge) * WATER - dead) / held, mash / THICKEST)

        def short(grain: float) -> float:
            return self.aim.gravity - self.brewed(grain)[1].fermenter.gravity

        if most <= 0 or short(most) > 0:
            return Obstacle(NO_LIQUOR if self.aim.sparges else TOO_STRONG)
        least = most * 1e-3
        return Obstacle(SUGAR) if short(least) < 0 else root_between(short, least, most, within=1e-9)

    def plan(self, grain: float) -> Plan:
        """What so much grain comes to."""
        unknowns, state = self.brewed(grain)
        return Plan(
            grain=grain,
            mash_liquor=unknowns["mash_liquor"],
            sparge_liquor=unknowns["sparge_liquor"],
            first_wort=wort.gravity_from_plato(state.first_wort),
            kettle=state.kettle,
            knockout=state.knockout,
            boil_off=self.boil_off,
            kettle_loss=self.loss,
            conversion=unknowns["conversion"],
            lauter_efficiency=(state.kettle.extract - state.early) / state.dissolved,
        )


def _solve(aim: Aim, grist: Grist, priors: Priors) -> Plan | Obstacle:
    """The plan, whatever the vessels hold; what goes by the size of the brew is brought into line with its liquor."""
    if not (WEAKEST <= aim.gravity <= STRONGEST and aim.volume > 0):
        return Obstacle(OUT_OF_RANGE)
    size = 1.25 * aim.volume
    for _ in range(_MOST_STEPS):
        solver = PlanSolver(aim, grist, by_size(priors, size))
        grain = solver.grain() if aim.settled is None else solver.grain_for_liquor()
        if isinstance(grain, Obstacle):
            return grain
        plan = solver.plan(grain)
        before, size = size, KETTLE_TO_LIQUOR * plan.total_liquor
        if abs(size - before) < _SETTLED:
            break
    return plan


def _fit_in(aim: Aim, grist: Grist, priors: Priors) -> Plan | Obstacle:
    plan = _solve(aim, grist, priors)
    return (crowding(plan, aim) or plan) if isinstance(plan, Plan) else plan


def make_plan(aim: Aim, grist: Grist, priors: Priors) -> Plan | Refusal:
    """Grain and liquor for a target, or why it can't be brewed so and the nearest that can.

    A batch brewed as planned is foreseen at the target, with the same expectations. Source: mass balance, the run-off of
    a well-mixed bed.
    """
    plan = _fit_in(aim, grist, priors)
    if isinstance(plan, Plan):
        return plan
    return refuse(aim, plan, lambda other: isinstance(_fit_in(other, grist, priors), Plan))


def scale_grist(aim: Aim, lines: Sequence[GristLine], priors: Priors) -> Plan | Refusal:
    """As `make_plan` from a known grist: `Plan.lines` are its lines in the same proportions, scaled to the target."""
    plan = make_plan(aim, Grist.of(lines), priors)
    if isinstance(plan, Refusal):
        return plan
    times = plan.grain / fsum(line.weight for line in lines)
    return replace(plan, lines=tuple(line._replace(weight=line.weight * times) for line in lines))
