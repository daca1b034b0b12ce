"""Planned batches as text: what the tests of the plan read, foresee and correct."""

from __future__ import annotations

from texts import batch_of

from journal.balance import Expectation, Priors
from journal.figures import BatchFigures, figures_of
from journal.history.plan import Aim, Grist, Plan
from journal.reading import Batch, Brewery, Malts

#: A pale malt: 81 % dry, 4 % moisture.
PALE = Grist(0.81 * 0.96, 0.04)
#: A brewhouse known from twenty batches.
KNOWN = Priors(
    conversion=Expectation(0.93, 0.015, 20),
    water_held=Expectation(1.25, 0.05, 20),
    dead_space=Expectation(0.6, 0.15, 20),
    shortfall=Expectation(0.012, 0.008, 20),
    boil_off=Expectation(3.4, 0.25, 20),
    kettle_loss=Expectation(1.3, 0.2, 20),
)


def entry_of(plan: Plan, aim: Aim, more: str = "", before: str = "", after: str = "") -> Batch:
    """The batch of a planned entry; `before` and `after` are what was read in the kettle."""
    sparge = f", liquor: {plan.sparge_liquor:.4f} L" if aim.sparges else ""
    additions = ""
    if aim.sugar:
        weight = aim.sugar + aim.kettle_water
        share = 100 * aim.sugar / weight
        additions = f"\n  additions: [{{addition: some sugar, weight: {weight:.5f} kg, extract_as_is: {share:.6f} %}}]"
    fermenter = f"\nfermenter: {{top_up: {aim.fermenter_water / 0.998203:.5f} L}}" if aim.fermenter_water else ""
    return batch_of(
        f"""
grains: [{{malt: lot, weight: {plan.grain:.5f} kg, extract: 81.0 %, moisture: 4.0 ± 0.1 %, source: certificate}}]
mash: {{liquor: {plan.mash_liquor:.4f} L}}
lauter: {{method: {aim.method}{sparge}}}
boil:
  time: {aim.boil * 60:.1f} min{additions}
  before: {{{before}}}
  after: {{{after}}}{fermenter}
{more}
""".replace("  before: {}\n", "").replace("  after: {}", "")
    )


def figures(batch: Batch) -> BatchFigures:
    return figures_of(batch, Brewery(), Malts())
