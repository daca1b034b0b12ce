"""What a balance comes to beyond its verdict, held to brews without any error whose water and extract are known at every place."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from balance.brewed_exactly import OWN, USUAL, brewery_at, entry_fields, struck, written
from balance.simulated_brewery import (
    LIQUOR,
    Bed,
    Brew,
    Habits,
    Recipe,
    Weather,
    Wort,
    boiled,
    mash_and_run_off,
    readings,
    run_off,
)
from texts import batch_of, settings_at

from journal.balance import BROKEN, CLOSES, STRAINED, Balance, Expectation, Priors, common_practice
from journal.balance.equations import build_model
from journal.balance.own import OWN_FIGURES, own_estimates
from journal.balance.priors import BOIL_OFF_SHARE, KETTLE_LOSS_SHARE, by_size, usual_spread
from journal.balance.verdict import TOO_FEW, Verdict, p_value
from journal.balance.words import chance, sentence
from journal.figures import figures_of
from journal.reading import Batch, Brewery, Brewhouse, Malts
from journal.reading.known_readings import GRAVITY, read_at

RECIPE = Recipe(grain=5.0, mash_liquor=15.0, sparge_liquor=15.0)
#: Sugar that is all extract: no water comes with it.
SUGAR = "{{addition: sucrose, weight: {} kg, extract_as_is: 100 %}}"


@pytest.fixture(scope="module")
def brewery(tmp_path_factory: pytest.TempPathFactory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def brewed(habits: Habits = USUAL) -> Brew:
    """A brew that does just what is usual of a brewhouse."""
    luck = Weather(habits.conversion, habits.water_held, habits.shortfall, habits.boil_off, habits.kettle_loss)
    return mash_and_run_off(RECIPE, habits, 0.0, luck)


def entry_of(brew: Brew, knockout: Wort, fermenter: Wort | None = None, more: str = "") -> Batch:
    """The entry of a brew, read without error; `fermenter` where something joined the wort there."""
    shown = readings(brew, knockout)
    if fermenter is not None:
        shown |= readings(replace(brew, luck=replace(brew.luck, kettle_loss=0.0)), fermenter) | {
            path: shown[path] for path in shown if not path.startswith("fermenter")
        }
    return batch_of(entry_fields(written(shown) | {"lauter.method": "batch sparge"}, more))


def usual(brewery: Brewery, priors: Priors = OWN, habits: Habits = USUAL) -> Balance:
    brew = brewed(habits)
    return struck(entry_of(brew, boiled(brew.kettle, brew.luck, 60)), brewery, priors)


def surer(times: float) -> Priors:
    """What is usual, known as many times as well."""
    names = Priors.__dataclass_fields__
    return Priors(**{name: replace(getattr(OWN, name), sd=times * getattr(OWN, name).sd) for name in names})


# Water and extract on their way


def test_flows_are_the_waters_and_extracts_of_the_brew(brewery: Brewery) -> None:
    brew = brewed()
    knockout = boiled(brew.kettle, brew.luck, 60)
    flows = {flow.name: (flow.water, flow.extract) for flow in usual(brewery).flows}
    lost = USUAL.kettle_loss / knockout.volume
    water = brew.mash.water + RECIPE.sparge_liquor * LIQUOR
    truth = {
        "mash": (water, brew.potential),
        "spent grain": (water - brew.kettle.water, brew.potential - brew.kettle.extract),
        "kettle": (brew.kettle.water, brew.kettle.extract),
        "steam": (USUAL.boil_off * LIQUOR, 0.0),
        "knockout": (knockout.water, knockout.extract),
        "left in the kettle": (lost * knockout.water, lost * knockout.extract),
        "fermenter": ((1 - lost) * knockout.water, (1 - lost) * knockout.extract),
    }
    assert list(flows) == list(truth)
    for name, (litres, extract) in truth.items():
        assert flows[name][0] == pytest.approx(litres, abs=0.02), name
        assert flows[name][1] == pytest.approx(extract, abs=0.01), name


def test_figures_that_no_reconciled_reading_leads_to_are_as_worked_out_one_by_one(brewery: Brewery) -> None:
    brew, more = brewed(), "crush: 1.1 mm\nclock: ['09:00 mash in', '14:30 pitched']\n"
    batch = entry_of(brew, boiled(brew.kettle, brew.luck, 60), more=more)
    at_once, alone = struck(batch, brewery), struck(batch, brewery)
    assert len(at_once.figures) > 40
    assert {"crush", "brew_day", "grain_weight", "brewhouse_efficiency"} <= at_once.figures.keys()
    assert at_once.figures == {name: alone.figure(name) for name in at_once.recorded.results}


def test_without_a_mash_the_way_begins_in_the_kettle(brewery: Brewery) -> None:
    brew = brewed()
    batch = entry_of(brew, boiled(brew.kettle, brew.luck, 60), more="trust: {mash.liquor: no}")
    balance = struck(batch, brewery)
    assert [flow.name for flow in balance.flows][:2] == ["kettle", "steam"]
    # of the mash it has no word, and what was read there stands; of what follows it knows more than was read
    first_wort = read_at("first_wort", GRAVITY).figure
    assert balance.figures[first_wort].sd == pytest.approx(balance.recorded[first_wort].sd, rel=1e-6)
    assert balance.figures["kettle_volume"].sd < 0.95 * balance.recorded["kettle_volume"].sd
    assert usual(brewery).figures[first_wort].sd < 0.95 * balance.recorded[first_wort].sd


def test_sugar_in_the_mash_is_in_its_first_wort_and_is_not_converted(brewery: Brewery) -> None:
    brew = brewed()
    mash = Wort(brew.mash.water, brew.mash.extract + 0.4)
    bed = Bed(USUAL.water_held * RECIPE.grain, USUAL.dead_space)
    kettle = run_off(mash, (RECIPE.sparge_liquor * LIQUOR,), bed, USUAL.shortfall)
    sweet = replace(brew, mash=mash, kettle=kettle)
    text = entry_of(sweet, boiled(kettle, brew.luck, 60)).source.text
    text = text.replace("mash: {", f"mash: {{additions: [{SUGAR.format(0.4)}], ")
    balance = struck(batch_of(text.split("---\n")[1], head=""), brewery)
    assert balance.verdict.status == CLOSES
    assert balance.figures["conversion_efficiency"].value == pytest.approx(USUAL.conversion, abs=0.01)


def test_what_is_not_trusted_stays_left_out_where_a_grain_was_forgotten(brewery: Brewery) -> None:
    brew = brewed()
    shown = readings(brew, boiled(brew.kettle, brew.luck, 60))
    text = written(shown) | {"lauter.method": "batch sparge", "fermenter.volume": "31.00 L"}
    text["grains[0].weight"] = f"{RECIPE.grain:.3f} kg"
    slip = struck(batch_of(entry_fields(text, "trust: {fermenter.volume: no}")), brewery).slip
    assert slip is not None
    assert (slip.code, slip.path) == ("grain_left_out", "grains[1].weight")


def test_sugar_is_none_of_the_mashs_doing(brewery: Brewery) -> None:
    """0.4 kg dissolved before the kettle was read and 0.3 kg in the fermenter, all of it extract."""
    brew = brewed()
    sweet = replace(brew, kettle=Wort(brew.kettle.water, brew.kettle.extract + 0.4))
    knockout = boiled(sweet.kettle, brew.luck, 60)
    share = 1 - USUAL.kettle_loss / knockout.volume
    fermenter = Wort(share * knockout.water, share * knockout.extract + 0.3)
    batch = entry_of(sweet, knockout, fermenter)
    text = batch.source.text.replace("before: {", f"before: {{additions: [{SUGAR.format(0.4)}], ")
    text = text.replace("fermenter: {", f"fermenter: {{additions: [{SUGAR.format(0.3)}], ")
    balance = struck(batch_of(text.split("---\n")[1], head=""), brewery)
    assert balance.verdict.status == CLOSES
    assert balance.verdict.chi_square < 0.2
    into = brew.kettle.extract / brew.potential
    found = {name: result.value for name, result in balance.figures.items()}
    assert found["mash_efficiency"] == pytest.approx(into, abs=0.002)
    assert found["lauter_efficiency"] == pytest.approx(brew.kettle.extract / brew.mash.extract, abs=0.002)
    assert found["brewhouse_efficiency"] == pytest.approx(into * share, abs=0.002)
    assert balance.solution is not None
    own = own_estimates(balance.solution, OWN, found).values
    for name in ("mash_efficiency", "lauter_efficiency", "brewhouse_efficiency"):
        assert own[name].value == pytest.approx(found[name], abs=0.003)


# What one batch says by itself


def test_evidence_is_what_the_batch_says_whatever_was_expected(brewery: Brewery) -> None:
    others = {
        "conversion": Expectation(0.92, 0.04),
        "water_held": Expectation(1.2, 0.15),
        "boil_off": Expectation(3.0, 0.6),
        "kettle_loss": Expectation(1.2, 0.6),
    }
    for name in ("boil_off", "kettle_loss"):
        own = usual(brewery).evidence[name]
        other = usual(brewery, replace(OWN, **{name: others[name]})).evidence[name]
        assert own.value == pytest.approx(getattr(USUAL, name), abs=0.03)
        # the same readings, told by their own uncertainty
        assert other.value == pytest.approx(own.value, abs=0.05)
        assert other.sd == pytest.approx(own.sd, rel=0.05)
    found = usual(brewery, replace(OWN, **others)).evidence
    assert set(found) <= {*Priors.__dataclass_fields__}
    assert found["water_held"].value == pytest.approx(USUAL.water_held, abs=0.05)


def test_own_values_follow_the_readings_and_not_the_expectation(brewery: Brewery) -> None:
    brew = brewed()
    knockout = boiled(brew.kettle, brew.luck, 60)
    truth = {
        "conversion_efficiency": USUAL.conversion,
        "lauter_efficiency": brew.kettle.extract / brew.mash.extract,
        "mash_efficiency": brew.kettle.extract / brew.potential,
        "brewhouse_efficiency": brew.kettle.extract / brew.potential * (1 - USUAL.kettle_loss / knockout.volume),
        "boil_off": USUAL.boil_off,
    }
    biased = replace(OWN, conversion=Expectation(USUAL.conversion - 0.06, 0.015), boil_off=Expectation(2.3, 0.25))
    for priors in (OWN, biased):
        solution = usual(brewery, priors).solution
        assert solution is not None
        own = own_estimates(solution, OWN, truth)
        assert set(own.values) == set(truth)
        for name, value in truth.items():
            # one linear step from where a biased balance stood
            assert own.values[name].value == pytest.approx(value, abs=0.12 if name == "boil_off" else 0.006), name
    assert own.knockout_volume == pytest.approx(knockout.volume, abs=0.1)
    bed = Bed(USUAL.water_held * RECIPE.grain, USUAL.dead_space)
    even = run_off(brew.mash, (RECIPE.sparge_liquor * LIQUOR,), bed, 0.0)
    assert own.bed == pytest.approx(even.extract / brew.mash.extract, abs=0.001)


def test_own_uncertainties_are_those_of_a_balance_that_expects_nothing(brewery: Brewery) -> None:
    """Of the conversion where nothing is expected of that alone; of the rest where nothing is expected from the run-off on either."""
    solution = usual(brewery).solution
    assert solution is not None
    free = {
        name: replace(getattr(OWN, name), sd=5.0) for name in ("conversion", "shortfall", "boil_off", "kettle_loss")
    }
    of_conversion = usual(brewery, replace(OWN, conversion=free["conversion"])).solution
    of_all = usual(brewery, replace(OWN, **free)).solution
    own = own_estimates(solution, OWN, OWN_FIGURES).values
    for name, estimate in own.items():
        at = of_conversion if name == "conversion_efficiency" else of_all
        assert at is not None
        (slopes,) = at.slopes([name])
        assert estimate.sd == pytest.approx((slopes @ at.fit.covariance @ slopes) ** 0.5, rel=0.01), name


def test_of_what_was_not_read_a_batch_says_nothing_by_itself(brewery: Brewery) -> None:
    solution = usual(brewery).solution
    assert solution is not None
    assert set(own_estimates(solution, OWN, ()).values) == {"conversion_efficiency", "mash_efficiency"}


@pytest.mark.parametrize("name", ["boil_off", "kettle_loss", "water_held"])
def test_evidence_and_expectation_together_are_what_the_balance_came_to(name: str, brewery: Brewery) -> None:
    """Of normal distributions the inverse variances add up, and the means by them."""
    balance = usual(brewery)
    evidence, expected, solution = balance.evidence[name], getattr(OWN, name), balance.solution
    assert solution is not None
    at = solution.model.unknowns.index(name)
    variance, precisions = solution.fit.covariance[at, at], (evidence.sd**-2, expected.sd**-2)
    assert 1 / variance == pytest.approx(sum(precisions), rel=1e-6)
    mean = (precisions[0] * evidence.value + precisions[1] * expected.mean) / sum(precisions)
    assert solution.fit.state[at] == pytest.approx(mean, rel=1e-6)


@pytest.mark.parametrize(("times", "least"), [(1.0, False), (0.1, True)], ids=["vague", "sure"])
def test_an_interval_of_the_eve_is_for_the_value_that_will_be_shown(
    times: float, least: bool, brewery: Brewery
) -> None:
    """What is not known on the eve, less what is not known afterwards; at least three tenths of it."""
    balance = usual(brewery, surer(times))
    solution, at_least = balance.solution, []
    assert solution is not None
    for name, eve in balance.foreseen.items():
        (slopes,) = solution.slopes([name])
        after = (slopes @ solution.fit.covariance @ slopes) ** 0.5
        # Student's t with 24 degrees of freedom, any table: twenty batches and the four that common practice stands for
        spread = (eve.high - eve.value) / 1.7109
        assert spread == pytest.approx(max(eve.sd**2 - after**2, 0.09 * eve.sd**2) ** 0.5, rel=2e-3)
        at_least.append(eve.sd**2 - after**2 < 0.09 * eve.sd**2)
    assert any(at_least) == least


#: The path that a brew's size goes by where those before it were not read, with how much of a full kettle it is (common practice):
#: a boil drives off an eighth, a kettle keeps a little more, and four fifths of the liquor come out of the mash.
SIZES = {
    "boil.before.volume": 1.0,
    "boil.after.volume": 1.14,
    "fermenter.volume": 1.2,
}


@pytest.mark.parametrize("left_out", range(4))
def test_a_brew_is_as_large_as_its_kettle_or_what_follows_from_it(left_out: int, brewery: Brewery) -> None:
    brew = brewed()
    shown = readings(brew, boiled(brew.kettle, brew.luck, 60))
    text = written(shown) | {"lauter.method": "batch sparge"} | dict.fromkeys(list(SIZES)[:left_out], "")
    batch = batch_of(entry_fields(text))
    model = build_model(batch, figures_of(batch, brewery, Malts()), replace(OWN, boil_off=None, kettle_loss=None))
    assert model is not None
    sizes = [shown[path] * times for path, times in SIZES.items()]
    size = [*sizes, 0.82 * (shown["mash.liquor"] + shown["lauter.liquor"])][left_out]
    expected = {each.expected: (each.recorded, each.sd) for each in model.equations if each.expected}
    assert expected["boil_off"] == pytest.approx((0.13 * size, 0.05 * size), rel=1e-3)
    assert expected["kettle_loss"] == pytest.approx((0.06 * size, 0.04 * size), rel=1e-3)


# A brewhouse that does something otherwise


@pytest.mark.parametrize(
    ("name", "now", "words"),
    [
        ("water_held", 1.75, "the grain held"),
        ("shortfall", 0.08, "the run-off left"),
        ("boil_off", 5.6, "the boil drove off"),
        ("kettle_loss", 3.4, "the kettle kept"),
    ],
)
def test_a_brewhouse_that_does_one_thing_otherwise_has_changed(
    name: str, now: float, words: str, brewery: Brewery
) -> None:
    brew = brewed(replace(USUAL, **{name: now}))
    batch = entry_of(brew, boiled(brew.kettle, brew.luck, 60))
    balance = struck(batch, brewery, surer(0.5))
    changed = balance.verdict.changed
    assert changed is not None
    assert (balance.verdict.status, changed.expected) == (STRAINED, name)
    assert changed.needed == pytest.approx(now, abs=2 * changed.needed_sd)
    assert f"The readings agree if {words}" in sentence(balance, batch)
    assert balance.evidence


@pytest.mark.parametrize(("name", "now"), [("boil_off", 9.5), ("kettle_loss", 6.5), ("conversion", 0.60)])
def test_no_brewhouse_changes_beyond_what_is_common(name: str, now: float, brewery: Brewery) -> None:
    balance = usual(brewery, habits=replace(USUAL, **{name: now}))
    assert balance.verdict.changed is None
    assert balance.verdict.status == BROKEN


# What is expected where nothing is known

#: Mean and standard deviation, common practice of small all-grain systems: what the first batches of every journal lean on.
UNKNOWN = {
    "": {"conversion": (0.94, 0.03), "water_held": (1.25, 0.17), "dead_space": (0.5, 0.4), "shortfall": (0.02, 0.03)},
    "no sparge": {"shortfall": (0.010, 0.015), "water_held": (1.25, 0.17)},
    "batch sparge": {"shortfall": (0.015, 0.015), "dead_space": (0.5, 0.4)},
    "fly sparge": {"shortfall": (0.025, 0.03), "dead_space": (0.5, 0.4)},
    "bag": {"shortfall": (0.010, 0.02), "water_held": (1.0, 0.2), "dead_space": (0.0, 0.1)},
}
#: From batch to batch (common practice).
SPREAD = {
    "conversion": 0.012,
    "water_held": 0.05,
    "dead_space": 0.1,
    "shortfall": 0.008,
    "boil_off": 0.2,
    "kettle_loss": 0.2,
}


@pytest.mark.parametrize("method", UNKNOWN)
def test_what_is_common_is_expected_of_a_brewhouse_that_nobody_knows(method: str) -> None:
    priors = common_practice(Brewhouse(), method)
    for name, (mean, sd) in UNKNOWN[method].items():
        expected = getattr(priors, name)
        assert (expected.mean, expected.sd, expected.batches) == (mean, sd, 0), name
    assert priors.boil_off is None
    sized = by_size(priors, 20.0)
    # a boil of 25 L drives off 2 to 4.5 L an hour, and 1 to 2 L stay with the hops (common practice): shares of the kettle
    assert (sized.boil_off, sized.kettle_loss) == (Expectation(2.6, 1.0), Expectation(1.2, 0.8))
    assert (Expectation(0.13, 0.05), Expectation(0.06, 0.04)) == (BOIL_OFF_SHARE, KETTLE_LOSS_SHARE)


def test_spreads_from_batch_to_batch() -> None:
    assert {name: usual_spread(name) for name in SPREAD} == SPREAD


STATED = """
brewhouses:
  shed:
    mash_tun: {{dead_space: {} L}}
    kettle: {{loss: {} L}}
    boil_off: {} L/h
    absorption: {} L/kg
"""


def stated(root: Path, *values: str) -> Priors:
    brewery, _ = settings_at(root, STATED.format(*values))
    return common_practice(brewery.brewhouses["shed"], "batch sparge")


def test_what_a_brewer_states_is_a_mean_about_which_batches_scatter(tmp_path: Path) -> None:
    """Absorption is liquor less wort, by volume; the grain's moisture and the extract's own volume make it 0.42 less than water held."""
    sure = stated(tmp_path, "2.0 ± 0.3", "1.5 ± 0.4", "3.3 ± 0.3", "0.90 ± 0.12")
    for name, mean, sd in (
        ("dead_space", 2.0, 0.3),
        ("kettle_loss", 1.5, 0.4),
        ("boil_off", 3.3, 0.3),
        ("water_held", 0.90 + 0.42, 0.12),
    ):
        expected = getattr(sure, name)
        assert expected.mean == pytest.approx(mean)
        assert expected.sd == pytest.approx((sd**2 + SPREAD[name] ** 2) ** 0.5)


@pytest.mark.parametrize(("dead_space", "vague"), [("0.5", 0.2), ("2.0", 0.4)])
def test_what_is_stated_without_its_uncertainty_is_vague(dead_space: str, vague: float, tmp_path: Path) -> None:
    priors = stated(tmp_path, dead_space, "1.5", "3.3", "0.90")
    found = {name: getattr(priors, name).sd for name in ("dead_space", "kettle_loss", "boil_off", "water_held")}
    assert found == pytest.approx({"dead_space": vague, "kettle_loss": 0.6, "boil_off": 0.8, "water_held": 0.1})


def test_where_nothing_checks_anything_nothing_is_unlikely_and_nobody_suspected(brewery: Brewery) -> None:
    assert struck(batch_of("style: bitter"), brewery).verdict == Verdict(TOO_FEW, 0.0, 0, 1.0, (), (), 0, 0.0)


# In words


@pytest.mark.parametrize(("degrees", "chi_square"), [(1, 6.635), (2, 9.210), (10, 23.209)])
def test_the_chance_of_a_sum_of_squares(degrees: int, chi_square: float) -> None:
    """Upper 1 % points of chi-square, any table of it; where nothing is left over, nothing is unlikely."""
    assert p_value(chi_square, degrees) == pytest.approx(0.01, abs=2e-6)
    assert p_value(0.0, 0) == 1.0


@pytest.mark.parametrize(("p", "told"), [(0.0421, "p = 0.042"), (0.001, "p = 0.001"), (0.0009, "p below 0.001")])
def test_no_chance_is_told_as_none(p: float, told: str) -> None:
    assert chance(p) == told
