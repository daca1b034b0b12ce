"""Attenuation foreseen: against breweries whose truth is known, and against common practice where there is little else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from texts import batch_of, figures, journal_at

from journal.balance.foresee import Foreseen
from journal.figures import figures_of
from journal.history import balance_all, history_of
from journal.history.attenuation import (
    AttenuatedBrew,
    brew_of,
    expected_attenuation,
    explained_attenuations,
    has_ended,
)
from journal.reading import Malts
from journal.reading.relatives import Relatives


def brewery(rng: np.random.Generator, batches: int = 30, scatter: float | None = None) -> list[AttenuatedBrew]:
    """A brewery with its own level, slopes and yeasts, drawn about common practice; its truth is in no formula judged."""
    level, by_kelvin, by_share = rng.normal(0.75, 0.03), rng.normal(-0.010, 0.006), rng.normal(-0.30, 0.15)
    yeasts = {name: rng.normal(0.0, 0.03) for name in ("house", "lager", "saison")}
    spread = rng.uniform(0.012, 0.030) if scatter is None else scatter
    brews = []
    for _ in range(batches):
        temperature, sparse = rng.normal(66.5, 1.5), max(0.0, rng.normal(0.07, 0.06))
        yeast = str(rng.choice(list(yeasts), p=[0.6, 0.3, 0.1]))
        truth = level + by_kelvin * (temperature - 66.5) + by_share * sparse + yeasts[yeast]
        brews.append(AttenuatedBrew(temperature, sparse, yeast, truth + rng.normal(0.0, spread)))
    return brews


def eves(brews: list[AttenuatedBrew]) -> list[tuple[Foreseen, float]]:
    """What was foreseen of each on its eve, and what came."""
    return [(expected_attenuation(brew, brews[:at]), brew.attenuation or 0.0) for at, brew in enumerate(brews)]


@pytest.fixture(scope="module")
def back_test() -> list[tuple[Foreseen, float]]:
    rng = np.random.default_rng(11)
    return [eve for _ in range(60) for eve in eves(brewery(rng))]


@pytest.mark.parametrize(("fewest", "most"), [(5, 11), (12, 30)])
def test_nine_in_ten_lie_within_the_interval(back_test: list[tuple[Foreseen, float]], fewest: int, most: int) -> None:
    inside = [f.low <= came <= f.high for f, came in back_test if fewest <= f.batches <= most]
    assert len(inside) > 300
    assert 0.85 <= np.mean(inside) <= 0.95


def test_what_was_learnt_is_narrower_than_common_practice(back_test: list[tuple[Foreseen, float]]) -> None:
    learnt = np.mean([f.high - f.low for f, _ in back_test if f.batches >= 12])
    assert learnt < 0.5 * 2 * 1.645 * 0.06
    off = [abs(came - f.value) for f, came in back_test if f.batches >= 12]
    usual = [abs(came - 0.75) for f, came in back_test if f.batches >= 12]
    assert np.mean(off) < 0.7 * np.mean(usual)


@pytest.mark.parametrize("count", [0, 4])
def test_with_few_batches_it_is_common_practice(count: int) -> None:
    """0.75 with a standard deviation of 0.06; 90 % of a normal distribution lie within 1.645 of those."""
    brews = brewery(np.random.default_rng(1), count + 1)
    found = expected_attenuation(AttenuatedBrew(66.5, 0.0, "house", None), brews[:count])
    assert found.batches == 0
    assert (found.value, found.high - found.low) == pytest.approx((0.75, 2 * 1.645 * 0.06), abs=1e-3)


def test_the_mash_and_the_grist_move_it() -> None:
    """A brewery that loses two points to the K and four to a tenth of caramel malt, and never strays."""
    rng = np.random.default_rng(2)
    past = []
    for _ in range(40):
        temperature, sparse = rng.uniform(63, 70), rng.uniform(0, 0.3)
        past.append(AttenuatedBrew(temperature, sparse, "house", 0.78 - 0.02 * (temperature - 66) - 0.4 * sparse))
    for temperature, sparse, truth in [(64.0, 0.0, 0.82), (69.0, 0.0, 0.72), (66.0, 0.2, 0.70)]:
        assert expected_attenuation(AttenuatedBrew(temperature, sparse, "house", None), past).value == pytest.approx(
            truth, abs=0.005
        )


def test_a_yeast_that_was_never_used_makes_it_wider() -> None:
    past = brewery(np.random.default_rng(4), 30, scatter=0.015)
    known, unknown = (expected_attenuation(AttenuatedBrew(66.5, 0.05, yeast, None), past) for yeast in ("house", "new"))
    assert unknown.high - unknown.low > 1.3 * (known.high - known.low)
    assert unknown.sd > known.sd


def test_one_odd_batch_does_little() -> None:
    past = brewery(np.random.default_rng(5), 20, scatter=0.015)
    odd = [*past[:19], replace(past[19], attenuation=0.35)]
    brew = AttenuatedBrew(66.5, 0.05, "house", None)
    assert expected_attenuation(brew, odd).value == pytest.approx(expected_attenuation(brew, past).value, abs=0.02)


def test_batches_that_have_not_ended_teach_nothing() -> None:
    past = brewery(np.random.default_rng(6), 12)
    unended = [replace(brew, attenuation=None) for brew in past[:3]]
    brew = AttenuatedBrew(66.5, 0.05, "house", None)
    assert expected_attenuation(brew, [*past, *unended]) == expected_attenuation(brew, past)


WORT = "fermenter: {gravity: 1.050, pitched: 2026-04-11 18:00}\n"


@pytest.mark.parametrize(
    ("fields", "whether"),
    [
        ("readings: [{at: 2026-04-13, gravity: 1.020}]", False),
        ("readings: [{at: 2026-04-18, gravity: 1.012}, {at: 2026-04-19, gravity: 1.010}]", False),
        ("readings: [{at: 2026-04-18, gravity: 1.010}, {at: 2026-04-20, gravity: 1.010}]", True),
        ("readings: [{at: 2026-04-18, gravity: 1.010}]\npackage: {on: 2026-04-25}", True),
        ("readings: [{at: 2026-04-18, gravity: 1.010}]\npackage: {container: keg}", False),
    ],
)
def test_when_a_beer_has_ended(fields: str, whether: bool) -> None:
    batch, found = batch_of(WORT + fields), figures(WORT + fields)
    assert has_ended(batch, found) is whether
    assert (brew_of(batch, {batch.id: found}, Malts()).attenuation is not None) is whether


def test_a_batch_as_it_is_learnt_from() -> None:
    fields = (
        "grains: [{malt: pale malt, weight: 4.5 kg}, {malt: caramel malt, weight: 0.3 kg}, {malt: black malt, weight: 0.2 kg}]\n"
        "mash: {rests: [62 degC for 30 min, 68 degC for 60 min, 77 degC for 10 min]}\n"
        "fermenter: {yeast: House Ale, gravity: 1.050}\n"
    )
    batch = batch_of(fields)
    brew = brew_of(batch, {batch.id: figures(fields)}, Malts())
    # a mash-out aside, the mean of the rests by their time
    assert (brew.temperature, brew.sparse) == (pytest.approx(66.0), pytest.approx(0.1))
    assert (brew.yeast, brew.attenuation) == ("house ale", None)
    # a part that was taken from it later is of the same grist and yeast, unless it was given another
    part = replace(batch_of("fermenter: {volume: 3 L}"), batch="part", relatives=Relatives(whole=batch))
    taken = brew_of(part, {batch.id: figures(fields), part.id: figures("fermenter: {volume: 3 L}")}, Malts())
    assert (taken.sparse, taken.yeast) == (pytest.approx(0.1), "house ale")


def test_malt_extract_counts_beside_what_is_steeped_in() -> None:
    """300 g of caramel malt beside 1 kg of dried extract, which 1.25 kg of malt would give, is a fifth of it and no mash."""
    fields = (
        "grains: [{malt: caramel malt, weight: 300 g}]\n"
        "mash: {liquor: 3 L, rests: [68 degC for 30 min]}\n"
        "lauter: {method: steep}\n"
        "boil: {before: {additions: [{addition: dry malt extract, weight: 600 g}]},"
        " additions: [{addition: dry malt extract, weight: 400 g}]}\n"
    )
    batch, found = batch_of(fields), figures(fields)
    brew = brew_of(batch, {batch.id: found}, Malts())
    assert brew.temperature is None
    assert brew.sparse == pytest.approx(0.3 / (0.3 + 1.25), abs=0.01)
    fields = fields.replace(", weight: 400 g", "")
    batch, found = batch_of(fields), figures(fields)
    assert brew_of(batch, {batch.id: found}, Malts()).sparse is None, "an unknown weight is not nothing"


def entry(number: int, day: int, temperature: float, attenuation: float) -> str:
    """An entry with everything up to the package, of a brewery whose mash makes sense."""
    final = 12.39 * (1 - attenuation)
    return f"""---
batch: {number}
title: Brew {number}
brewed: 2026-{1 + day // 28:02d}-{1 + day % 28:02d}
grains: [{{malt: pale malt, weight: 5 kg}}]
mash: {{liquor: 15 L, first_wort: 1.076, rests: [{temperature:.2f} degC for 60 min]}}
lauter: {{method: batch sparge, liquor: 16 L}}
boil: {{before: {{volume: 25.5 L, gravity: 1.043}}, after: {{volume: 22.5 L, gravity: 1.049}}, time: 60 min}}
fermenter: {{volume: 21 L, gravity: 12.39 °P, yeast: house}}
package: {{on: 2026-12-24, gravity: {final:.3f} °P}}
---
"""


@pytest.fixture(scope="module")
def entries() -> list[str]:
    rng = np.random.default_rng(7)
    temperatures = rng.uniform(64.0, 69.0, 24)
    attenuations = 0.76 - 0.02 * (temperatures - 66.5) + rng.normal(0, 0.012, 24)
    return [entry(k + 1, 7 * k, t, a) for k, (t, a) in enumerate(zip(temperatures, attenuations, strict=True))]


def told(root: Path, texts: list[str]) -> tuple[dict[str, Foreseen], dict[str, object]]:
    journal, problems = journal_at(root, {f"{k:02d}.md": text for k, text in enumerate(texts)})
    assert [problem.message for problem in problems] == []
    found = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    balances = balance_all(journal, found)
    (story,) = history_of(journal, found, balances).brewhouses
    studied = {
        result.lever: result for s in story.studies if s.figure == "apparent_attenuation" for result in s.results
    }
    hits = {hit.figure: hit for hit in story.hits}
    foreseen = {batch: balance.foreseen["apparent_attenuation"] for batch, balance in balances.items()}
    return foreseen, {"mash_temperature": studied.get("mash_temperature"), "hits": hits.get("apparent_attenuation")}


@pytest.mark.long
def test_only_what_came_before_counts(entries: list[str], tmp_path: Path) -> None:
    (tmp_path / "all").mkdir()
    (tmp_path / "first").mkdir()
    whole, _ = told(tmp_path / "all", entries)
    part, _ = told(tmp_path / "first", entries[:10])
    assert {batch: whole[batch] for batch in part} == part
    assert [whole[str(number)].batches for number in (1, 5, 6, 7, 24)] == [0, 0, 5, 6, 23]


def test_two_brews_of_one_day_foretell_nothing_of_each_other(entries: list[str], tmp_path: Path) -> None:
    same_day = entries[5].replace("batch: 6", "batch: 61").replace("Brew 6", "Brew 61")
    foreseen, _ = told(tmp_path, [*entries[:6], same_day])
    assert foreseen["6"].batches == foreseen["61"].batches == 5


@pytest.mark.long
def test_the_levers_look_at_attenuation(entries: list[str], tmp_path: Path) -> None:
    """Two points to the K were put in."""
    foreseen, found = told(tmp_path, entries)
    lever = found["mash_temperature"]
    assert lever.verdict == "clear"  # type: ignore[attr-defined]
    assert lever.low <= -0.02 <= lever.high < 0  # type: ignore[attr-defined]
    hits = found["hits"]
    assert hits.of == sum(each.batches > 0 for each in foreseen.values())  # type: ignore[attr-defined]
    assert hits.right >= 0.75 * hits.of  # type: ignore[attr-defined]


def test_what_yeast_and_grist_explain_leaves_the_mash_alone() -> None:
    """A hungry yeast that was always mashed cool: the yeast is taken out, the mash's temperature is not."""
    slopes, hungry = [], []
    for seed in range(40):
        rng = np.random.default_rng(seed)
        warm = [*rng.normal(67.0, 0.8, 20), *rng.normal(64.0, 0.8, 6)]
        yeasts = ["house"] * 20 + ["hungry"] * 6
        truth = [0.75 + 0.12 * (y == "hungry") - 0.010 * (t - 66.5) for t, y in zip(warm, yeasts, strict=True)]
        brews = [
            AttenuatedBrew(t, 0.05, y, a + rng.normal(0.0, 0.015)) for t, y, a in zip(warm, yeasts, truth, strict=True)
        ]
        left = np.array([b.attenuation - e.value for b, e in zip(brews, explained_attenuations(brews), strict=True)])
        slopes.append(np.polyfit(warm, left, 1)[0])
        hungry.append(left[20:].mean() - left[:20].mean())
    # 0.030 of the difference is the mash's, 3 K cooler; without the yeast taken out it would be 0.15, and the slope -0.045
    assert np.mean(slopes) == pytest.approx(-0.010, abs=0.004)
    assert np.mean(hungry) == pytest.approx(0.030, abs=0.015)
