"""A batch's hops: what each brings in mash, kettle and stand, what the dry ones weigh."""

from __future__ import annotations

from typing import Any, NamedTuple

from journal.figures.as_read import Observed
from journal.figures.instruments import ALPHA_SHARE
from journal.figures.observe import Called, Observer, all_of, observes
from journal.figures.propagate import propagate
from journal.measures import Measure
from journal.reading.entry import Hop
from journal.reading.forms import KNOCKOUT
from journal.science import isomerisation

#: °C that wort comes off the boil with.
_BOILING = 100.0
IN_MASH, ISOMERISED = "in the mash", "isomerised"


class HopCharge(NamedTuple):
    """kg, alpha fraction, min boiled; `stood` min at 100 °C that stand and slow cooling are worth; `way` where it is another one."""

    weight: Any
    alpha: Any
    boiled: Any
    stood: Any = 0.0
    way: str = ""


def _alpha(measure: Measure) -> float:
    return measure.sd if measure.sd is not None else ALPHA_SHARE * measure.value


class _Hopping:
    """The way of a batch's hops from the mash to the fermenter."""

    def __init__(self, o: Observer) -> None:
        self.o, self.batch = o, o.batch

    def holds(self, stood: float | None = None) -> list[isomerisation.Hold]:
        """What a hop goes through after knockout: so many min of the stand, all of it unless stated, then the cooling."""
        stand, cooling = self.batch.stand, self.batch.cooling
        way: list[isomerisation.Hold] = []
        hot = _BOILING
        if stand.temperature is not None and stand.time is not None:
            hot = stand.temperature.value
            way.append((hot, stand.time.value if stood is None else min(stood, stand.time.value)))
        elif stood is not None and stand.temperature is not None:
            hot = stand.temperature.value
            way.append((hot, stood))
        if cooling.time is not None and cooling.to is not None and cooling.to.value < hot:
            around = min(isomerisation.SURROUNDINGS, cooling.to.value - 1.0)
            way += isomerisation.cooling(hot, cooling.to.value, cooling.time.value, around)
        return way

    def stood(self, stood: float | None = None) -> Any:
        """min at 100 °C that it is worth; the rates below the boil are one error for all hops."""
        minutes = isomerisation.boil_minutes(self.holds(stood)) if self.holds(stood) else 0.0
        if minutes == 0.0:
            return 0.0
        sure = self.o.once("stand", 1.0, isomerisation.MINUTES_SD)
        return propagate(lambda sure: minutes * sure, {"sure": sure})

    def charge(self, hop: Hop, path: str, boiled: Observed, stood: Any, way: str = "") -> Observed:
        """One hop."""
        parts = [
            self.o.hop_weight(hop.weight, f"{path}.weight"),
            self.alpha(hop, path),
            boiled,
        ]
        form = ISOMERISED if hop.form == "isomerised" else way
        return all_of(parts, lambda found: HopCharge(found[0], found[1], found[2], stood, form))

    def alpha(self, hop: Hop, path: str) -> Observed:
        """Its alpha acid: what stands in the entry, or else on the hop's sheet, whose error all its charges share."""
        sheet = self.o.malts.by_key.get(hop.hop or "")
        if hop.alpha is None and sheet is not None and sheet.alpha is not None:
            return self.o.measure(sheet.alpha, f"malts.{hop.hop}.alpha", _alpha)
        return self.o.measure(hop.alpha, f"{path}.alpha", _alpha)

    def boiled(self, hop: Hop, path: str) -> Observed:
        """How long a kettle hop boiled: with the first wort as long as the kettle, if it does not say."""
        if hop.boiled is None and hop.with_first_wort:
            return self.o.clock(self.batch.boil.time, "boil.time")
        return self.o.clock(hop.boiled, f"{path}.boiled")

    def charges(self) -> list[Observed]:
        """Every hop that makes the wort bitter, in the order of the work."""
        found = [
            self.charge(hop, f"mash.hops[{n}]", Observed(0.0), 0.0, IN_MASH)
            for n, hop in enumerate(self.batch.mash.hops)
        ]
        for n, hop in enumerate(self.batch.boil.hops):
            path = f"boil.hops[{n}]"
            stays = 0.0 if hop.off == KNOCKOUT else self.stood()
            found.append(self.charge(hop, path, self.boiled(hop, path), stays))
        for n, hop in enumerate(self.batch.stand.hops):
            worth = self.stood(hop.stood.value if hop.stood else None)
            found.append(self.charge(hop, f"stand.hops[{n}]", Observed(0.0), worth))
        return found


@observes(
    hot_hops=Called("the hops"),
    hot_stand=Called("a stand or slow cooling"),
    dry_hop_weights=Called("the dry hops", "g"),
)
def observe_hops(o: Observer) -> dict[str, Observed]:
    """Every reading of hops that a figure may take, by the name of the figure's parameter."""
    hopping, batch = _Hopping(o), o.batch
    charges = hopping.charges()
    dry = [
        o.hop_weight(hop.weight, f"{group}.hops[{n}].weight")
        for group, hops in (("fermenter", batch.fermenter.hops), ("package", batch.package.hops))
        for n, hop in enumerate(hops)
    ]
    return {
        "hot_hops": all_of(charges) if charges else Observed(wanting=("boil.hops",)),
        "hot_stand": Observed(1.0) if hopping.holds() else Observed(wanting=("stand.time",)),
        "dry_hop_weights": all_of(dry) if dry else Observed(wanting=("fermenter.hops",)),
    }
