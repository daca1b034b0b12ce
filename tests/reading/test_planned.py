"""A batch is planned when nothing is measured from the first wort onward and no yeast was pitched."""

import pytest
from texts import batch_of


@pytest.mark.parametrize(
    "fields",
    [
        "",
        "target: {gravity: 1.050, volume: 20 L}",
        "grains: [{malt: pale malt, weight: 4 kg}]\ncrush: 1.1 mm",
        "mash: {liquor: 14 L, strike: 72 degC, ph: 5.4, rests: [66 degC for 60 min]}",
        "lauter: {method: batch sparge, liquor: 15 L, liquor_temperature: 77 degC}",
        "boil: {time: 60 min, top_up: 0 L, hops: [{hop: East Field Goldings, weight: 30 g}]}",
        "fermenter: {yeast: house ale strain, top_up: 0 L}",
        # a form filled in beforehand, its readings still blank
        "mash: {first_wort: }\nboil: {before: {volume: , gravity: }, after: {volume: , gravity: }}\nreadings: []",
        "package: {on: , volume: }\nfermenter: {pitched: }",
        "package: {carbonation: 2.4 volumes, container: keg, priming: {addition: sucrose}}",
    ],
)
def test_planned(fields: str) -> None:
    assert batch_of(fields).planned


@pytest.mark.parametrize(
    "fields",
    [
        "mash: {first_wort: 1.077}",
        "lauter: {last_runnings: 1.020}",
        "boil: {before: {volume: 25 L}}",
        "boil: {before: {gravity: 1.044}}",
        "boil: {after: {volume: 22 L}}",
        "boil: {after: {gravity: 1.050}}",
        "fermenter: {volume: 20 L}",
        "fermenter: {gravity: 1.050}",
        "fermenter: {pitched: 2026-04-11 17:30}",
        "readings: [{at: 2026-04-13 20:00, gravity: 1.022}]",
        "readings_log: 31-fermentation.csv",
        "package: {volume: 18.9 L}",
        "package: {on: 2026-04-27}",
    ],
)
def test_brewed(fields: str) -> None:
    assert not batch_of(fields).planned
