"""Steeped grain and malt extract planned like an earlier brew: nothing is converted, so all that brings extract goes in proportion."""

from __future__ import annotations

from collections.abc import Sequence

from journal.balance.priors import Priors, by_size
from journal.balance.vessels import WATER, Vessel
from journal.history.plan.aim import Aim, Grist, GristLine, Plan
from journal.history.plan.room import Refusal, crowding
from journal.history.plan.solve import PlanSolver

#: About how much larger the full kettle is than what reaches the fermenter (common practice).
_KETTLE = 1.25


def scale_steep(
    aim: Aim, lines: Sequence[GristLine], priors: Priors, by_extract: float, liquor: float | None
) -> Plan | Refusal:
    """The plan with every line of the grist multiplied; the kettle is filled to what the boil and the fermenter want.

    `lines` is empty where nothing is steeped and all comes from extract. `liquor`, L at 20 °C, is what is steeped in, None for all
    that the kettle takes.

    What the grist and the extract gave before is taken to be given again, in proportion; `aim` has the additions so multiplied.
    Source: mass balance of water; extract in proportion.
    """
    scaled = tuple(line._replace(weight=line.weight * by_extract) for line in lines)
    solver = PlanSolver(aim, Grist.of(scaled) if scaled else Grist(0.0, 0.0), by_size(priors, _KETTLE * aim.volume))
    grain = sum(line.weight for line in scaled)
    needed, _ = solver.liquors(grain)
    full = solver.kettle if scaled else Vessel(solver.kettle.water, aim.early_sugar)
    evaporated = solver.boil_off * aim.boil * WATER
    plan = Plan(
        grain=grain,
        mash_liquor=needed if liquor is None else min(liquor, needed),
        sparge_liquor=0.0,
        first_wort=1.0,
        kettle=full,
        knockout=Vessel(full.water + aim.kettle_water - evaporated, full.extract + aim.sugar),
        boil_off=solver.boil_off,
        kettle_loss=solver.loss,
        conversion=1.0,
        lauter_efficiency=1.0,
        lines=scaled,
    )
    obstacle = crowding(plan, aim)
    # a smaller brew fits, and which one the brewer sees at once from the two volumes
    return plan if obstacle is None else Refusal(obstacle.code, aim, obstacle.needed, obstacle.room, None, None, None)
