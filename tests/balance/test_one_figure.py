"""One reconciled figure by itself is that of all of them, and what joins the wort joins its water."""

from __future__ import annotations

from dataclasses import replace

import pytest
from balance.brewed_exactly import batch_with, brewery_at, struck
from balance.test_verdict import lying

from journal.balance.vessels import Facts, vessels
from journal.figures import CATALOGUE
from journal.reading import Brewery

#: A brew in round numbers: kg of extract and grain, L and kg of water, h.
UNKNOWNS = {
    "potential_extract": 4.0,
    "conversion": 0.95,
    "mash_liquor": 15.0,
    "sparge_liquor": 12.0,
    "water_held": 1.0,
    "dead_space": 0.5,
    "shortfall": 0.0,
    "boil_off": 3.0,
    "kettle_loss": 1.0,
    "top_up": 0.0,
    "fermenter_top_up": 0.0,
    "kettle_sugar": 0.0,
    "fermenter_sugar": 0.0,
}
FACTS = Facts(
    sheet=4.0, grain=5.0, moisture=0.2, run_offs=1, hours=1.0, kettle_sugar_water=0.0, fermenter_sugar_water=0.0
)


@pytest.fixture(scope="module")
def brewery(tmp_path_factory: pytest.TempPathFactory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def test_a_figure_asked_for_alone_is_that_of_all(brewery: Brewery) -> None:
    balance = struck(batch_with({}), brewery)
    assert balance.holds
    alone = {name: balance.figure(name) for name in CATALOGUE}
    assert "figures" not in vars(balance), "all would have been worked out"
    known = {name: (found.value, found.sd) for name, found in alone.items() if found}
    together = {name: (found.value, found.sd) for name, found in balance.figures.items()}
    assert known.keys() == together.keys() >= {"mash_efficiency", "fermenter_extract"}
    for name, found in known.items():
        assert found == pytest.approx(together[name], rel=1e-9, abs=1e-12), name
    # once they are there the one is looked up
    assert balance.figure("mash_efficiency") is balance.figures["mash_efficiency"]


def test_a_broken_balance_has_no_figure_of_its_own(brewery: Brewery) -> None:
    balance = struck(lying("boil.before.volume", 26.6), brewery)
    assert not balance.holds
    assert balance.figure("mash_efficiency") is None
    assert balance.figures == {}


def test_water_that_came_with_sugars_joins_where_they_did() -> None:
    """Every kilogram of it is in the kettle, or in the fermenter, and thins nothing before."""
    plain = vessels(UNKNOWNS, FACTS)
    for name, stations in (
        ("mash_sugar_water", ("kettle", "knockout", "fermenter")),
        ("early_sugar_water", ("kettle", "knockout", "fermenter")),
        ("kettle_sugar_water", ("knockout", "fermenter")),
        ("fermenter_sugar_water", ("fermenter",)),
    ):
        joined = vessels(UNKNOWNS, replace(FACTS, **{name: 1.0}))
        for station in ("kettle", "knockout"):
            more = getattr(joined, station).water - getattr(plain, station).water
            assert more == pytest.approx(1.0 if station in stations else 0.0, abs=1e-12), (name, station)
            assert getattr(joined, station).extract == pytest.approx(getattr(plain, station).extract), name
        assert (joined.first_wort < plain.first_wort) == (name == "mash_sugar_water")
        assert joined.fermenter.strength < plain.fermenter.strength
