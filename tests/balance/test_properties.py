"""What has to hold of any balance, whatever the numbers."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from balance.simulated_brewery import VOLUMES, Instruments, brew, entry, read, some_brewery
from balance.trials import settings, strangers_priors
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st
from texts import batch_of

from journal.balance import BROKEN, CLOSES, STRAINED, TOO_FEW, Expectation, Priors, Verdict, balance_of
from journal.balance.equations import build_model
from journal.figures import figures_of
from journal.measures.wording import show
from journal.problems import Source
from journal.reading import Batch, Brewery, Malts, read_entry
from journal.reading.known_readings import IN_BALANCE

STATUSES = {CLOSES, STRAINED, BROKEN, TOO_FEW}
WIDE = strangers_priors()
OWN = Priors(
    conversion=Expectation(0.945, 0.015),
    water_held=Expectation(1.30, 0.06),
    dead_space=Expectation(0.5, 0.15),
    shortfall=Expectation(0.015, 0.01),
    boil_off=Expectation(3.3, 0.3),
    kettle_loss=Expectation(1.5, 0.25),
)
FULL = """
grains:
  - {malt: pale lot, weight: 4.50 kg, extract: 81 %, moisture: 4 %, source: certificate}
  - {malt: amber lot, weight: 0.50 kg, extract: 76 %, moisture: 4 %, source: typical}
mash: {liquor: 15.0 L, first_wort: 1.0800}
lauter: {method: batch sparge, liquor: 15.0 L}
boil:
  before: {volume: 24.4 L, gravity: 1.0520}
  top_up: 1.0 L
  additions: [{addition: dextrose, weight: 0.30 kg, extract_as_is: 91 %}]
  after: {volume: 22.3 L, gravity: 1.0608}
  time: 60 min
fermenter: {volume: 22.9 L, gravity: 1.0546, top_up: 2.2 L}
"""


def verdict_of(fields: str, priors: Priors = WIDE, brewery: Brewery | None = None) -> Verdict:
    batch = batch_of(fields)
    brewery = brewery or Brewery()
    return balance_of(batch, figures_of(batch, brewery, Malts()), brewery, Malts(), priors).verdict


def values(verdict: Verdict) -> dict[str, float]:
    return {reading.path: reading.balanced for reading in verdict.readings}


def simulated(seed: int) -> Batch:
    rng = np.random.default_rng(seed)
    habits = some_brewery(rng)
    truth = brew(habits, rng.normal(0, Instruments().sheet), rng)
    batch, problems = read_entry(Source("entry.md", entry(1, read(truth, Instruments(), rng), habits)))
    assert batch is not None
    assert not problems
    return batch


# the international gallon, pound and inch systems' exact definitions: 231 cubic inches, 0.45359237 kg, 4.54609 L
@pytest.mark.parametrize(("gallon", "litres"), [("gal", 3.785411784), ("imp gal", 4.54609), ("qt", 3.785411784 / 4)])
def test_other_units_leave_the_balance_as_it_is(gallon, litres):
    hot = FULL.replace("volume: 24.4 L,", "volume: 24.4 L at 65 degC,").replace(
        "volume: 22.3 L,", "volume: 22.3 L at 95 degC,"
    )
    other = re.sub(r"([\d.]+) L\b", lambda m: f"{float(m[1]) / litres!r} {gallon}", hot)
    other = re.sub(r"([\d.]+) kg\b", lambda m: f"{float(m[1]) / 0.45359237!r} lb", other)
    other = re.sub(r"([\d.]+) degC\b", lambda m: f"{float(m[1]) * 1.8 + 32!r} degF", other)
    assert not re.search(r" L\b| kg\b|degC", other)
    here, there = verdict_of(hot), verdict_of(other)
    assert here.status == CLOSES
    assert there.chi_square == pytest.approx(here.chi_square, rel=1e-7)
    assert values(there) == pytest.approx(values(here), rel=1e-9)


def test_readings_that_fit_exactly_are_left_as_they_are():
    rough = batch_of(FULL)
    model = build_model(rough, figures_of(rough, Brewery(), Malts()), OWN)
    assert model is not None
    fitting = dict(
        zip((e.path or e.expected for e in model.equations), model.predict(model.start).tolist(), strict=True)
    )
    exact = FULL
    for wrote, path in (
        ("first_wort: 1.0800", "mash.first_wort"),
        ("volume: 24.4 L", "boil.before.volume"),
        ("gravity: 1.0520", "boil.before.gravity"),
        ("volume: 22.3 L", "boil.after.volume"),
        ("gravity: 1.0608", "boil.after.gravity"),
        ("volume: 22.9 L", "fermenter.volume"),
        ("gravity: 1.0546", "fermenter.gravity"),
    ):
        field, _, unit = re.fullmatch(r"(\w+): ([\d.]+)( L)?", wrote).groups()
        exact = exact.replace(wrote, f"{field}: {fitting[path]!r}{unit or ''}")
    verdict = verdict_of(exact, OWN)
    assert verdict.chi_square == pytest.approx(0.0, abs=1e-12)
    assert verdict.status == CLOSES
    for reading in verdict.readings:
        assert reading.balanced == pytest.approx(reading.recorded, rel=1e-9)
        assert reading.measurement_test < 1e-4


@pytest.mark.parametrize(
    ("wrote", "path", "sds"),
    [
        ("15.0 L, first", "mash.liquor", (0.4, 0.2, 0.1, 0.02)),
        ("first_wort: 1.0800", "mash.first_wort", (0.002, 0.001, 0.0005, 0.0001)),
        ("volume: 24.4 L", "boil.before.volume", (0.5, 0.25, 0.1, 0.02)),
        ("gravity: 1.0520", "boil.before.gravity", (0.002, 0.001, 0.0005, 0.0001)),
        ("volume: 22.3 L", "boil.after.volume", (0.5, 0.25, 0.1, 0.02)),
        ("gravity: 1.0608", "boil.after.gravity", (0.002, 0.001, 0.0005, 0.0001)),
        ("volume: 22.9 L", "fermenter.volume", (0.5, 0.25, 0.1, 0.02)),
        ("top_up: 1.0 L", "boil.top_up", (0.4, 0.2, 0.1, 0.02)),
    ],
)
def test_the_surer_a_reading_the_nearer_the_balance_comes_to_it(wrote, path, sds):
    away = []
    for sd in sds:
        unit = " L" if " L" in wrote else ""
        stated = re.sub(r"([\d.]+)( L)?(?=$|,)", lambda m, sd=sd, unit=unit: f"{m[1]} ± {sd}{unit}", wrote, count=1)
        reading = next(r for r in verdict_of(FULL.replace(wrote, stated), OWN).readings if r.path == path)
        away.append(abs(reading.balanced - reading.recorded))
    assert away == sorted(away, reverse=True)
    assert away[-1] < 0.3 * away[0]


@hypothesis_settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 10_000), priors=st.sampled_from([WIDE, OWN]))
def test_nothing_is_known_less_well_after_the_balance(seed, priors):
    batch = simulated(seed)
    recorded = figures_of(batch, settings(), Malts())
    balance = balance_of(batch, recorded, settings(), Malts(), priors)
    figure_of = {reading.path: reading.figure for reading in IN_BALANCE}
    accused = {suspect.path for suspect in balance.verdict.suspects}
    for reading in balance.verdict.readings:
        # what a suspect should have shown is told by the rest alone
        if reading.path not in accused:
            assert 0 < reading.sd <= recorded[figure_of[reading.path]].sd * (1 + 1e-9), reading.path
        assert 0 <= reading.redundancy <= 1
    for name, result in balance.figures.items():
        assert result.sd <= recorded[name].sd * (1 + 1e-6), name


def test_a_reading_the_brewer_does_not_trust_has_no_say():
    leave_out = "trust: {boil.after.gravity: no}\n"
    here = verdict_of(FULL + leave_out)
    there = verdict_of(FULL.replace("gravity: 1.0608", "gravity: 1.0999") + leave_out)
    assert "boil.after.gravity" not in values(here)
    assert len(here.readings) == len(verdict_of(FULL).readings) - 1
    assert there == here
    assert verdict_of(FULL.replace("gravity: 1.0608", "gravity: 1.0999")).status == BROKEN


def test_a_kettle_volume_the_brewer_does_not_trust_has_no_say():
    leave_out = "trust: {boil.before.volume: no}\n"
    there = verdict_of(FULL.replace("volume: 24.4 L", "volume: 34.4 L") + leave_out)
    assert values(there) == pytest.approx(values(verdict_of(FULL + leave_out)), rel=1e-9)


def test_a_top_up_the_brewer_does_not_trust_has_no_say():
    leave_out = "trust: {boil.top_up: no}\n"
    there = verdict_of(FULL.replace("top_up: 1.0 L", "top_up: 1.6 L") + leave_out)
    assert values(there) == pytest.approx(values(verdict_of(FULL + leave_out)), rel=1e-6)


def test_to_trust_the_balance_leaves_nothing_out():
    assert verdict_of(FULL + "trust: {balance: yes}\n") == verdict_of(FULL)


GRAINS = "grains: [{malt: pale lot, weight: 5 kg, extract: 81 %, moisture: 4 %}]\n"


@pytest.mark.parametrize(
    "fields",
    [
        "style: bitter\n",
        GRAINS,
        GRAINS + "fermenter: {volume: 20 L, gravity: 1.052}\n",
        GRAINS + "fermenter: {gravity: 1.052}\n",
        "mash: {first_wort: 1.080}\nboil: {before: {gravity: 1.045}, after: {gravity: 1.052}}\nfermenter: {gravity: 1.052}\n",
        "boil: {before: {volume: 25 L}, after: {volume: 22 L}}\n",
        GRAINS + "mash: {liquor: 15 L}\n",
    ],
)
def test_where_nothing_speaks_twice_there_are_too_few_readings(fields):
    verdict = verdict_of(fields)
    assert verdict.status == TOO_FEW
    assert verdict.readings == ()
    assert verdict.suspects == ()


def test_two_gravities_of_one_wort_are_enough():
    fields = "boil: {after: {volume: 22 L, gravity: 1.052}}\nfermenter: {volume: 20.5 L, gravity: 1.0522}\n"
    assert verdict_of(fields).status == CLOSES
    assert verdict_of(fields.replace("1.0522", "1.0640")).status == BROKEN


@pytest.mark.parametrize("addition", ["{addition: a secret syrup, weight: 0.3 kg}", "{addition: dextrose}"])
def test_a_sugar_of_unknown_extract_is_never_taken_for_none(addition):
    batch = batch_of(FULL.replace("{addition: dextrose, weight: 0.30 kg, extract_as_is: 91 %}", addition))
    balance = balance_of(batch, figures_of(batch, Brewery(), Malts()), Brewery(), Malts(), WIDE)
    assert balance.verdict.status == TOO_FEW
    assert balance.figures == {}


#: Every field that may be missing: the text that goes, and what stands for it.
LEFT_OUT = [
    (r"grains:\n.*\n.*\n", ""),
    (r"  - \{malt: amber.*\n", ""),
    (r"extract: 81 %, ", "extract: 0 %, "),
    (r"liquor: 15.0 L, ", ""),
    (r", first_wort: 1.0800", ""),
    (r"mash: .*\n", ""),
    (r", liquor: 15.0 L", ""),
    (r"method: batch sparge, ", ""),
    (r"lauter: .*\n", ""),
    (r"volume: 24.4 L, ", ""),
    (r", gravity: 1.0520", ""),
    (r"  before: .*\n", ""),
    (r"  top_up: .*\n", ""),
    (r"  additions: .*\n", ""),
    (r"volume: 22.3 L, ", ""),
    (r", gravity: 1.0608", ""),
    (r"  after: .*\n", ""),
    (r"  time: .*\n", ""),
    (r"boil:\n(?:  .*\n)*", ""),
    (r"volume: 22.9 L, ", ""),
    (r"gravity: 1.0546, ", ""),
    (r", top_up: 2.2 L", ""),
    (r"fermenter: .*\n", ""),
    (r"batch sparge", "fly sparge"),
    (r"batch sparge, liquor: 15.0 L", "no sparge"),
    (r"batch sparge, liquor: 15.0 L", "bag"),
]


@pytest.mark.parametrize("priors", [WIDE, OWN], ids=["wide", "own"])
@pytest.mark.parametrize(("gone", "instead"), LEFT_OUT)
def test_whatever_is_left_out_there_is_a_verdict(gone, instead, priors):
    fields, count = re.subn(gone, instead, FULL, count=1)
    assert count == 1
    batch = batch_of(fields)
    balance = balance_of(batch, figures_of(batch, Brewery(), Malts()), Brewery(), Malts(), priors)
    assert balance.verdict.status in STATUSES
    assert all(np.isfinite([r.balanced, r.sd, r.measurement_test]).all() for r in balance.verdict.readings)
    assert all(np.isfinite([result.value, result.sd]).all() for result in balance.figures.values())


@hypothesis_settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_no_reading_however_absurd_stops_the_balance(data):
    fields = FULL
    for wrote in data.draw(st.lists(st.sampled_from(re.findall(r"[\d.]+ L|1\.0\d+", FULL)), max_size=4, unique=True)):
        volume = wrote.endswith("L")
        number = data.draw(st.floats(0.1, 500.0) if volume else st.floats(0.981, 1.199))
        fields = fields.replace(wrote, f"{number:.4f} L" if volume else f"{number:.4f}", 1)
    batch = batch_of(fields)
    priors = data.draw(st.sampled_from([WIDE, OWN, replace(WIDE, boil_off=Expectation(60.0, 5.0))]))
    balance = balance_of(batch, figures_of(batch, Brewery(), Malts()), Brewery(), Malts(), priors)
    assert balance.verdict.status in STATUSES
    assert all(np.isfinite([r.balanced, r.sd, r.measurement_test]).all() for r in balance.verdict.readings)
    assert all(str(show(result.value, result.sd, result.unit)) for result in balance.figures.values())


def test_every_volume_of_the_brew_is_balanced():
    assert set(VOLUMES) <= set(values(verdict_of(FULL)))


@pytest.mark.parametrize("priors", [WIDE, OWN], ids=["wide", "own"])
def test_the_balanced_figures_are_of_one_brew(priors):
    # mass is conserved between them, whatever the readings said: extract through the boil, water through boil and transfer
    batch = batch_of(FULL)
    recorded = figures_of(batch, Brewery(), Malts())
    balance = balance_of(batch, recorded, Brewery(), Malts(), priors)
    assert balance.solution is not None
    figures, found = balance.figures, balance.solution.fit
    added = figures["kettle_added_extract"].value
    assert figures["kettle_extract"].value + added == pytest.approx(figures["knockout_extract"].value, rel=1e-9)
    for name in ("boil_off", "kettle_loss"):
        index = balance.solution.row(expected=name)
        sd = float(found.slopes[index] @ found.covariance @ found.slopes[index]) ** 0.5
        # the figure counts the clock's minute in an hour of boil besides (common practice)
        sd = float(np.hypot(sd, found.predicted[index] / 60)) if name == "boil_off" else sd
        # volumes of wort and water don't quite add up, by some 0.1 %
        assert figures[name].value == pytest.approx(found.predicted[index], abs=0.01), name
        assert figures[name].sd == pytest.approx(sd, rel=0.02), name
