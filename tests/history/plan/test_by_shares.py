"""A grist by shares weighed out: the weights by hand, what the entry settles, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from texts import batch_of, brewery_of

from journal.balance import Balance
from journal.balance.foresee import foresee
from journal.figures import BatchFigures, figures_of
from journal.history.plan import Refusal
from journal.history.plan.by_shares import WeighedOut, weigh_out
from journal.history.plan.from_batch import Unusable
from journal.reading import Batch, Journal, Malts

BREWERY = brewery_of("""
brewhouses:
  shed:
    mash_tun: {volume: 30 L, dead_space: 0.5 ± 0.1 L}
    kettle: {volume: 40 L, loss: 1.0 ± 0.1 L}
    boil_off: 3.0 ± 0.1 L/h
    absorption: 0.9 ± 0.05 L/kg
""")
FIELDS = """
target: {{gravity: 1.048, volume: 20 L}}
grains:
  - {{malt: first, share: 90 %, extract_as_is: 78 %, moisture: 4 %}}
  - {{malt: second, share: 10 %, extract_as_is: 70 %, moisture: 4 %}}
{more}
"""


def planned(more: str = "lauter: {method: batch sparge}\nboil: {time: 60 min}") -> Batch:
    return batch_of(FIELDS.format(more=more))


def out(batch: Batch) -> WeighedOut | Refusal | Unusable:
    none: dict[str, BatchFigures] = {}
    balances: dict[str, Balance] = {}
    return weigh_out(batch, Journal(Path(), BREWERY, Malts(), ()), none, balances)


def weights(found: WeighedOut) -> list[float]:
    return [grain.weight.value for grain in found.batch.grains if grain.weight]


def test_the_weights_bring_the_extract_that_the_target_wants() -> None:
    found = out(planned())
    assert isinstance(found, WeighedOut)
    first, second = weights(found)
    assert first / (first + second) == pytest.approx(0.90)
    # by hand: 1.048 is 11.91 °P (ASBC table), 1.0461 kg/L at 20 °C (ICUMSA SPS-4); of 21 L at knockout, the litre of loss with it,
    # 21 × 1.0461 × 0.1191 = 2.616 kg must be in the kettle; a kilogram of this grist offers 0.9 × 0.78 + 0.1 × 0.70 = 0.772 kg
    needed = 21.0 * 1.0461 * 0.1191
    efficiency = found.plan.mash_efficiency
    assert first + second == pytest.approx(needed / (0.772 * efficiency), rel=2e-3)
    # of a batch sparge between a perfect run-off and what no sparge would leave (common practice)
    assert 0.75 < efficiency < 0.90


def test_what_is_weighed_out_is_foreseen_at_the_target() -> None:
    found = out(planned())
    assert isinstance(found, WeighedOut)
    eve = foresee(found.batch, figures_of(found.batch, BREWERY, Malts()), found.priors)
    assert eve["original_gravity"].value == pytest.approx(1.048, abs=5e-5)
    assert eve["fermenter_volume"].value == pytest.approx(20.0, abs=0.02)


@pytest.mark.parametrize("sparge", ["", ", liquor: 14 L"], ids=["mash liquor settled", "all liquor settled"])
def test_liquor_that_the_entry_settles_stays(sparge: str) -> None:
    found = out(planned(f"mash: {{liquor: 15 L}}\nlauter: {{method: batch sparge{sparge}}}\nboil: {{time: 60 min}}"))
    assert isinstance(found, WeighedOut)
    assert found.batch.mash.liquor is not None
    assert found.batch.mash.liquor.value == 15.0
    assert found.plan.mash_liquor == pytest.approx(15.0)
    eve = foresee(found.batch, figures_of(found.batch, BREWERY, Malts()), found.priors)
    assert eve["original_gravity"].value == pytest.approx(1.048, abs=5e-5)
    if sparge:
        assert found.batch.lauter.fillings[0].value == 14.0


def test_sugar_in_the_full_kettle_takes_grain_from_the_grist() -> None:
    sweet = out(
        planned(
            "lauter: {method: batch sparge}\n"
            "boil: {time: 60 min, before: {additions: [{addition: sucrose, weight: 0.4 kg}]}}"
        )
    )
    assert isinstance(sweet, WeighedOut)
    # by hand, as above: 0.4 kg of sucrose are 0.4 kg of the 2.616 kg of extract in the kettle, and of the grist's are the rest
    needed = 21.0 * 1.0461 * 0.1191 - 0.4
    assert sum(weights(sweet)) == pytest.approx(needed / (0.772 * sweet.plan.mash_efficiency), rel=2e-3)


@pytest.mark.parametrize(
    ("batch", "says"),
    [
        (replace(planned(), target=batch_of("").target), "needs a target"),
        (batch_of("target: {gravity: 1.040, volume: 39 L}\ngrains: [{malt: pale malt, share: 100 %}]"), "kettle"),
        (planned("lauter: {method: steep}"), "steeped"),
    ],
)
def test_what_cannot_be_weighed_out_is_told(batch: Batch, says: str) -> None:
    found = out(batch)
    assert not isinstance(found, WeighedOut)
    assert says in (found.why() if isinstance(found, Refusal) else found.why)
