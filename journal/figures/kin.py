"""The numbers of a batch's relatives, every doubt named by the batch whose reading it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import fsum
from typing import Any

from journal.figures.as_read import Observed
from journal.figures.observe import Observer, observe
from journal.figures.resolve import Resolver
from journal.figures.uncertain import ErrorKind, Uncertain
from journal.reading import Batch
from journal.reading.called import of_batch
from journal.reading.entry import Package
from journal.reading.relatives import Relatives


@dataclass
class Kin:
    """Looks up readings and figures of the batches that one batch hangs together with."""

    o: Observer
    _resolvers: dict[str, Resolver] = field(default_factory=dict)

    def find(self, other: Batch, name: str) -> Observed:
        """A reading or figure of another batch as recorded, or what is missing for it there."""
        if other.id not in self._resolvers:
            # what two worts of one mash have between them is worked out from what each has by itself
            self._resolvers[other.id] = Resolver(observe(other, self.o.brewery, self.o.malts, alone=True))
        found = self._resolvers[other.id].find(name)
        wanting = tuple(of_batch(other.id, path) if _of_entry(path) else path for path in found.wanting)
        return replace(found, value=_renamed(found.value, other), wanting=wanting)


def _of_entry(path: str) -> bool:
    return " " not in path and not path.startswith(("brewhouses.", "brewery.", "malts.", "kinds.", "instruments."))


def _renamed(value: Any, other: Batch) -> Any:
    if isinstance(value, Uncertain):
        parts: dict[Any, float] = {}
        for of, part in value.parts.items():
            own = of.kind is not ErrorKind.MODEL and of.path in other.places
            new = of._replace(path=of_batch(other.id, of.path)) if own else of
            parts[new] = parts.get(new, 0.0) + part
        return Uncertain(value.value, parts)
    if isinstance(value, tuple):
        changed = [_renamed(part, other) for part in value]
        return value._make(changed) if hasattr(value, "_make") else tuple(changed)
    return value


def before_yeast(batch: Batch) -> Batch:
    """A batch as it is without relatives, and before anything of its fermentation was read."""
    nothing: dict[str, Any] = {"readings": (), "readings_log": None, "fermentation_log": None, "package": Package()}
    return replace(batch, relatives=Relatives(), **nothing)


def by_volume(parts: Mapping[str, tuple[Any, Any]]) -> float:
    """The mean of values by the volume of each; plain numbers."""
    return float(
        fsum(volume * value for volume, value in parts.values()) / fsum(volume for volume, _ in parts.values())
    )
