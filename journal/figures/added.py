"""What went in beside the grist: the extract it brings, where it joins, and the colour it has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from math import fsum
from typing import Any, NamedTuple

from journal.figures.as_read import Observed
from journal.figures.grist import extract_of
from journal.figures.instruments import COLOUR_SHARE
from journal.figures.observe import Called, GrainExtract, Observer, all_of, observe_extract, observes, weigh
from journal.figures.propagate import nominal, propagate
from journal.measures import Measure
from journal.measures.units import VOLUME
from journal.reading import Batch, resolve
from journal.reading.entry import STEEP, Addition
from journal.reading.table import written_at


class JoinedLate(NamedTuple):
    """Something that joined the fermenting beer: all that it weighs, and the extract it brings, kg."""

    weight: Any
    brings: Any


#: Of the batch's extract: what nobody knows the extract of, and weighs no more, counts as anything from nothing to all of it.
UNKNOWN_SHARE = 0.01
#: kg in a litre of the densest thing that is poured in, a syrup or honey (common practice).
_DENSEST = 1.45
#: Standard deviation of a number that may be anything from 0 to 1, from the half.
_ANYTHING = 3.0**-0.5 / 2.0
#: Groups whose additions are in the full kettle when it is read.
_EARLY = ("mash", "lauter", "boil.before")


def joins_late(batch: Batch, addition: Addition) -> bool:
    """Whether something joined the fermenting beer: on a later day than the yeast, or at a later hour."""
    pitched = batch.fermenter.pitched or datetime.combine(batch.day, datetime.min.time())
    if addition.on is None:
        return False
    timed = (addition.on.hour, addition.on.minute) != (0, 0) and batch.fermenter.pitched is not None
    return addition.on.date() > pitched.date() or (timed and addition.on > pitched)


def _additions(batch: Batch, group: str) -> Iterator[tuple[str, Addition]]:
    held = written_at(batch, f"{group}.additions")
    yield from ((f"{group}.additions[{index}]", addition) for index, addition in enumerate(held))


def _poured(addition: Addition) -> Measure | None:
    """The volume of it, L, where it is poured."""
    amount = addition.amount
    return amount if amount is not None and amount.unit in VOLUME.written.values() else None


class Added:
    """A batch's additions as they are looked at: what each brings, in kg of extract and of weight."""

    def __init__(self, o: Observer) -> None:
        self.o = o
        self.batch = o.batch
        every = [line for group in (*_EARLY, "boil", "stand", "fermenter") for line in _additions(o.batch, group)]
        self.whole = fsum(self._plain(line, f"{path}") for path, line in every) + self._grist()

    def _grist(self) -> float:
        """kg of extract that the grist could give, as far as it is known."""
        return fsum(
            grain.weight.value * self._share(grain, f"grains[{index}]")
            for index, grain in enumerate(self.batch.grains)
            if grain.weight
        )

    def _share(self, line: Any, path: str) -> float:
        values = resolve(line, path, self.o.malts)
        dry = 1.0 - (values.moisture.value if values.moisture else 0.0)
        if values.extract_as_is is not None:
            return values.extract_as_is.value
        return values.extract.value * dry if values.extract else 0.0

    def _plain(self, addition: Addition, path: str) -> float:
        return addition.weighed.value * self._share(addition, path) if addition.weighed else 0.0

    def weight(self, addition: Addition, path: str) -> Observed:
        """Its weight, kg."""
        # of what is poured or counted it is the weight that is missing
        return self.o.weight(addition.weighed, f"{path}.{addition.weight_field if addition.weighed else 'weight'}")

    def extract(self, addition: Addition, path: str) -> Observed:
        """Its weight and extract; of what nobody knows anything from none to all of it, if that is little."""
        values = resolve(addition, path, self.o.malts)
        if not values.has_extract:
            return self._unknown(addition, path)
        stated = values.extract_as_is or values.extract
        if stated is not None and stated.value == 0.0:
            return Observed(GrainExtract(0.0, 0.0, None))
        return observe_extract(self.o, values, self.weight(addition, path), path)

    def _unknown(self, addition: Addition, path: str) -> Observed:
        poured = _poured(addition)
        most = addition.weighed.value if addition.weighed else poured.value * _DENSEST if poured else None
        if most is None or most > UNKNOWN_SHARE * self.whole:
            return Observed(wanting=(f"{path}.extract",))
        return Observed(GrainExtract(most, self.o.once(f"{path}.extract_as_is", 0.5, _ANYTHING), None))

    def mass(self, addition: Addition, path: str) -> Observed:
        """All that it weighs, kg, its water and fibre included; what brings no extract is no part of the wort."""
        found = self.extract(addition, path)
        brings = found.value is None or found.value.weight != 0.0
        return self.weight(addition, path) if brings else Observed(0.0)

    def extracts(self, lines: Iterable[tuple[str, Addition]]) -> Observed:
        """Weight and extract of each of some lines."""
        return all_of([self.extract(line, path) for path, line in lines])

    def masses(self, lines: Iterable[tuple[str, Addition]]) -> Observed:
        """kg of each of some lines."""
        return all_of([self.mass(line, path) for path, line in lines])

    def colours(self, lines: Iterable[tuple[str, Addition]]) -> Observed:
        """Weight and colour of each line that has any, as far as that is known."""
        found = []
        for path, line in lines:
            values = resolve(line, path, self.o.malts)
            if values.colour is not None and values.colour.value > 0:
                found.append(weigh(self.o, self.weight(line, path), values.colour, path, COLOUR_SHARE, True))
        return all_of(found)


def _late(o: Observer, added: Added, late: list[tuple[str, Addition]]) -> Observed:
    if o.batch.ice_removed is not None:
        # what stays behind is stronger than what fermented, by nobody knows how much
        return Observed(wanting=("a beer that no ice was taken from",))
    if late and o.batch.fermenter.volume is None:
        return Observed(wanting=("fermenter.volume",))
    parts = [all_of([added.mass(line, path), added.extract(line, path)]) for path, line in late]
    return all_of(parts, lambda found: tuple(JoinedLate(mass, _kg(extract)) for mass, extract in found))


def _kg(line: GrainExtract) -> Any:
    """kg of extract in a line."""
    return propagate(extract_of, {"grain": line})


@observes(
    mash_additions=Called("what was added in the mash"),
    kettle_early_additions=Called("what the full kettle held beside the grist's wort"),
    early_addition_weights=Called("weight of what was added before the full kettle was read", "kg"),
    boil_additions=Called("the kettle's sugars"),
    boil_addition_weights=Called("weight of the kettle's sugars", "kg"),
    fermenter_additions=Called("the fermenter's sugars"),
    late_additions=Called("what joined during fermentation"),
    added_colours=Called("what was added"),
    mashed=Called("whether there was a mash"),
)
def observe_additions(o: Observer) -> dict[str, Observed]:
    """Every addition that a figure may take, by the name of the figure's parameter."""
    added = Added(o)
    by_group = {group: list(_additions(o.batch, group)) for group in (*_EARLY, "boil", "stand", "fermenter", "package")}
    late = [(path, line) for path, line in by_group["fermenter"] if joins_late(o.batch, line)]
    before = [*by_group["stand"], *(line for line in by_group["fermenter"] if line not in late)]
    early = [line for group in _EARLY for line in by_group[group]]
    steeped = o.batch.lauter.method == STEEP
    return {
        "mash_additions": added.extracts(by_group["mash"]),
        "kettle_early_additions": added.extracts([*by_group["lauter"], *by_group["boil.before"]]),
        "early_addition_weights": added.masses(early),
        "boil_additions": added.extracts(by_group["boil"]),
        "boil_addition_weights": added.masses(by_group["boil"]),
        "fermenter_additions": added.extracts(before),
        "late_additions": _late(o, added, late),
        "added_colours": added.colours([*early, *by_group["boil"], *before, *late]),
        "mashed": Observed(wanting=("a mash (these grains were steeped)",)) if steeped else Observed(1.0),
    }


def water_in(added: Iterable[Any], extract: float) -> float:
    """kg of water that came with additions of these weights, kg, and this extract, kg."""
    return max(fsum(nominal(weight) for weight in added) - extract, 0.0)
