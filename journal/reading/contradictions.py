"""What an entry states twice, or against itself."""

from __future__ import annotations

from collections.abc import Iterator

from journal.measures import Measure
from journal.measures.units import is_depth
from journal.problems import Place, Problem, did_you_mean, in_words
from journal.reading.brewery import Brewery
from journal.reading.entry import Addition, Batch, LabValues
from journal.reading.table import lines_of

#: How far the shares of mixed waters, or of a grist, may miss the whole: what rounding leaves (common practice).
MISSING = 0.005


def find_contradictions(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    """Every statement that another one of the entry or of the settings does not allow."""
    for path, sheet in lines_of(batch, LabValues):
        yield from contradiction(sheet, batch.place(f"{path}.extract_as_is"), batch.place(f"{path}.extract"))
    for path, addition in lines_of(batch, Addition):
        if addition.amount is not None and addition.weight is not None:
            place, other = batch.place(f"{path}.amount"), batch.place(f"{path}.weight")
            message = "how much of it went in is stated twice, as `amount` and as `weight`"
            yield Problem("fields-contradict", message, "Keep one of them.", place, expected_by=other)
    yield from _grist(batch)
    yield from _infusions(batch)
    yield from _pressure(batch)
    yield from _waters(batch, brewery)
    yield from _vessel(batch, brewery)


def contradiction(sheet: LabValues, here: Place, other: Place) -> Iterator[Problem]:
    """A malt's extract stated both on dry basis and as is."""
    if sheet.extract is not None and sheet.extract_as_is is not None:
        message = "the extract is stated twice, on dry basis and as is"
        yield Problem("fields-contradict", message, "Keep the one that the sheet states.", here, expected_by=other)


def _grist(batch: Batch) -> Iterator[Problem]:
    """A grist by shares that are not all there, or don't make up the whole; or half of it by weight."""
    lines = list(enumerate(batch.grains))
    shared = [(n, grain.share) for n, grain in lines if grain.share is not None]
    by_share = [n for n, grain in lines if grain.share is not None and grain.weight is None]
    by_weight = [n for n, grain in lines if grain.share is None and grain.weight is not None]
    if by_share and by_weight:
        message = f"{_named(batch, by_share[0])} is given by its share, {_named(batch, by_weight[0])} by its weight"
        hint = "Give every malt its weight, or every malt its share of the grist; then the weights are calculated."
        place, other = batch.place(f"grains[{by_share[0]}].share"), batch.place(f"grains[{by_weight[0]}].weight")
        yield Problem("fields-contradict", message, hint, place, expected_by=other)
        return
    without = [n for n, grain in lines if grain.share is None and grain.weight is None]
    if by_share and without:
        message = f"{_named(batch, without[0])} has neither share nor weight in a grist by shares"
        hint = "Give it its share, such as share: 5 %; all shares together must come to 100 %."
        yield Problem("shares-not-whole", message, hint, batch.place(f"grains[{without[0]}].malt"))
    elif len(shared) == len(lines) and lines and abs(_whole(shared) - 1.0) > MISSING + 1e-9:
        message = f"the shares of the grist come to {100 * _whole(shared):.4g} %"
        yield Problem("shares-not-whole", message, "They must come to 100 %.", batch.place("grains[0].share"))


def _whole(shares: list[tuple[int, Measure]]) -> float:
    return sum(share.value for _, share in shares)


def _named(batch: Batch, place: int) -> str:
    return batch.grains[place].malt or "a malt without a name"


def _infusions(batch: Batch) -> Iterator[Problem]:
    poured = [
        (n, rest.infusion.value)
        for n, rest in enumerate(batch.mash.rests)
        if rest.infusion is not None and not is_depth(rest.infusion.unit)
    ]
    liquor = batch.mash.liquor
    if liquor is not None and not is_depth(liquor.unit) and sum(litres for _, litres in poured) > liquor.value * 1.02:
        path = f"mash.rests[{poured[-1][0]}].infusion"
        message = "the infusions of the rests come to more than all the mash liquor"
        hint = "`mash.liquor` is all that was with the grain at the end: strike liquor and infusions together."
        yield Problem("fields-contradict", message, hint, batch.place(path), expected_by=batch.place("mash.liquor"))


def _pressure(batch: Batch) -> Iterator[Problem]:
    pressure, rated = batch.package.pressure, batch.package.rated
    if pressure is not None and rated is not None and pressure.value > rated.value:
        message = "the pressure is above what the container is made for"
        hint = "Let it down, and keep a relief valve on it. A container over its rating can burst."
        place, other = batch.place("package.pressure"), batch.place("package.rated")
        yield Problem("pressure-over-rating", message, hint, place, expected_by=other)


def _vessel(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    named = batch.fermenter.vessel
    if named is not None and brewery.fermenters and named not in brewery.fermenters:
        hint = did_you_mean(named, list(brewery.fermenters), "List it under `fermenters` in entries/brewery.yaml.")
        message = f"brewery.yaml lists no fermenter called “{named}”"
        yield Problem("vessel-unknown", message, hint, batch.place("fermenter.vessel"))


def _waters(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    known = list(brewery.waters)
    for index, source in enumerate(batch.water.sources):
        if source.name is not None and source.name not in brewery.waters:
            hint = did_you_mean(source.name, known, "Describe it under `waters` in entries/brewery.yaml.")
            place = batch.place(f"water.sources[{index}].name")
            yield Problem("water-unknown", f"no water is called “{source.name}”", hint, place)
    shares = [source.share.value for source in batch.water.sources if source.share is not None]
    if shares and len(shares) == len(batch.water.sources) and abs(sum(shares) - 1.0) > MISSING + 1e-9:
        message = (
            f"the shares of {in_words([s.name or '' for s in batch.water.sources])} come to {100 * sum(shares):.4g} %"
        )
        yield Problem("shares-not-whole", message, "They must come to 100 %.", batch.place("water.sources"))
