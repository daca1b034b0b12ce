"""Two weighed Munich brews of 1847 as entries, read by the whole chain: files, figures, balance.

Everything was weighed, in Bavarian pounds; an entry gives volumes, so the litres are worked out from the weights here. Not to be said
in an entry: the weight of the wet grains and of the upper dough with their dry samples (what the grain held is taken from them in
`test_sets`), a vat's weight day by day, the yeast and trub taken out by weight. The liquor was not printed, so nothing is known of the
mash; nor was the malt's extract, for no laboratory of the time had one: it is put in as a guess, with a ± that says so.
"""

from __future__ import annotations

import pytest
from published.sets import BAVARIAN_POUND, rows, spent_grain
from texts import journal_at

from journal.balance import Balance
from journal.figures import BatchFigures, figures_of
from journal.history.fold import balance_all
from journal.problems import Severity
from journal.science import wort

BREWS = ("6", "5")
#: % apparent, of brew 6 at the end of its vat's weighing; of brew 5 none is printed, and the same is taken.
FINAL = 5.54


def entry_of(row: dict[str, str]) -> str:
    """A brew as a brewer would write it down."""
    strength = float(row["extract_percent"])
    beer = float(row["beer"]) * BAVARIAN_POUND
    pitched = wort.volume(beer / (1 - 0.00192 * strength), strength)
    return f"""---
batch: {row["brew"]}
title: Summer beer of the Hofbräuhaus
brewed: {row["brewed"]}
grains:
  - {{malt: Munich kiln malt, weight: {float(row["malt"]) * BAVARIAN_POUND:.1f} kg, extract: 72 ± 4 %, moisture: 6 ± 2 %}}
boil: {{hops: [{{hop: dry hops, weight: {float(row["hops"]) * BAVARIAN_POUND:.1f} kg}}]}}
fermenter:
  volume: {pitched / 100:.2f} ± 0.3 hL
  gravity: {strength} ± 0.03 °P
  pitched: {row["brewed"]} 05:00
package: {{volume: {wort.volume(beer, FINAL) / 100:.2f} ± 0.1 hL, gravity: {FINAL} ± 0.05 °P}}
---

Steinheil weighed everything.
"""


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[BatchFigures, Balance]]:
    files = {f"{row['brew']}.md": entry_of(row) for row in rows("steinheil1847_brews") if row["brew"] in BREWS}
    journal, problems = journal_at(tmp_path_factory.mktemp("munich"), dict(files))
    assert [problem.message for problem in problems if problem.severity is not Severity.NOTE] == []
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    balances = balance_all(journal, figures)
    return {name: (figures[name], balances[name]) for name in BREWS}


@pytest.mark.parametrize("brew", BREWS)
def test_extract_into_the_fermenter(read: dict[str, tuple[BatchFigures, Balance]], brew: str) -> None:
    """50.2 and 49.4 % of the malt's weight, from the weight of the beer; the litres make no difference."""
    figures, _ = read[brew]
    into_wort = {"6": 0.5018, "5": 0.4943}[brew]
    assert figures["fermenter_extract"].value / figures["grain_weight"].value == pytest.approx(into_wort, rel=0.002)


@pytest.mark.parametrize("brew", BREWS)
def test_efficiency_by_a_guessed_malt(read: dict[str, tuple[BatchFigures, Balance]], brew: str) -> None:
    """What is left dry in the grains says what the malt could have given at most: the efficiency lies above what that leaves."""
    figures, _ = read[brew]
    row = next(row for row in rows("steinheil1847_brews") if row["brew"] == brew)
    most = (
        1 - 0.06 - spent_grain(row)[1] / float(row["malt"])
    )  # of the malt's weight, its moisture and residue taken off
    least = figures["fermenter_extract"].value / figures["grain_weight"].value / most
    efficiency = figures["brewhouse_efficiency"]
    assert 0.85 < least < 0.90
    assert 0.70 < efficiency.value < least  # a guess from today's malts promises more than these gave
    assert efficiency.sd > 0.04


@pytest.mark.parametrize("brew", BREWS)
def test_nothing_contradicts_itself(read: dict[str, tuple[BatchFigures, Balance]], brew: str) -> None:
    """Grain, wort and beer: too little to find a fault by, and none is found."""
    _, balance = read[brew]
    assert balance.verdict.status == "closes"
    assert not balance.verdict.suspects
    assert balance.slip is None


@pytest.mark.parametrize("brew", BREWS)
def test_the_beer(read: dict[str, tuple[BatchFigures, Balance]], brew: str) -> None:
    """53 % apparent attenuation, and the 2.6 % of alcohol by weight that Balling's relation has for it."""
    figures, _ = read[brew]
    assert figures["apparent_attenuation"].value == pytest.approx(0.533, abs=0.001)
    assert 0.0255 < figures["alcohol_by_weight"].value < 0.0270
    assert figures["packaged_share"].value == pytest.approx(1.0, abs=0.01)


def test_what_is_missing_is_named(read: dict[str, tuple[BatchFigures, Balance]]) -> None:
    """The liquor was not printed: the mash's efficiencies are absent, and say so."""
    figures, _ = read["6"]
    assert "mash_efficiency" not in figures.results
    assert "conversion_efficiency" not in figures.results
    assert "mash.liquor" in figures.wanting["absorption"]
