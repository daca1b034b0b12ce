"""What the record says of each brewhouse, with its course, beside what its brewer states in brewery.yaml."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice

from journal.balance import Balance
from journal.balance.priors import usual_spread
from journal.frozen import dataclass
from journal.history.fold import evidence_course, method_of
from journal.history.learn import FEWEST_TO_LEARN, LOOK_BACK, Level, level
from journal.history.moved.record import NOTHING_MOVED, MovedRecord
from journal.measures import Measure
from journal.measures.wording import METRIC, show
from journal.numerics import Estimate
from journal.problems import Place, Problem, Span
from journal.reading import Batch, Brewery, Brewhouse, Journal

#: A stated value is spoken of from this many batches on, and beyond this many standard errors.
DISAGREES_FROM = 8
DISAGREES_BEYOND = 3.0


@dataclass(frozen=True)
class LearntValue:
    """One thing learnt of a brewhouse: its level and spread, each batch's word on it, and what brewery.yaml states.

    The level is that of the latest LOOK_BACK batches, as the next balance expects it; the course is of all of them.
    `name` as in `Priors`, or `absorption`; `method` where it goes by the lautering method; units as the figures have them.
    """

    name: str
    unit: str
    method: str
    level: Level
    course: tuple[tuple[str, Estimate], ...]
    stated: Measure | None
    stated_at: str

    @property
    def disagrees(self) -> bool:
        """Whether the record contradicts the stated value for good."""
        if self.stated is None or self.level.batches < DISAGREES_FROM:
            return False
        away = abs(self.level.mean - self.stated.value)
        return away > DISAGREES_BEYOND * max(self.level.error, self.stated.sd or 0.0)


@dataclass(frozen=True)
class BrewhouseRecord:
    """A brewhouse as its record has it."""

    key: str
    brewhouse: Brewhouse
    batches: tuple[str, ...]
    learnt: tuple[LearntValue, ...]


_BY_BREWHOUSE = (("boil_off", "L/h"), ("kettle_loss", "L"), ("conversion", "1"), ("dead_space", "L"))
_BY_METHOD = (("water_held", "kg/kg"), ("shortfall", "1"))


def _absorption(batches: Iterable[Batch], balances: Mapping[str, Balance]) -> Iterator[tuple[str, Estimate]]:
    for batch in batches:
        found = balances[batch.id].figure("absorption")
        if found and found.sd > 0:
            yield batch.id, Estimate(found.value, found.sd)


def _latest_absorption(batches: list[Batch], balances: Mapping[str, Balance]) -> list[tuple[str, Estimate]]:
    """As many as a level goes by."""
    return [*islice(_absorption(reversed(batches), balances), LOOK_BACK)][::-1]


def _learn(
    key: str, brewhouse: Brewhouse, batches: list[Batch], balances: Mapping[str, Balance], stated_only: bool
) -> Iterator[LearntValue]:
    stated = {
        "boil_off": (brewhouse.boil_off, f"brewhouses.{key}.boil_off"),
        "kettle_loss": (brewhouse.kettle.loss, f"brewhouses.{key}.kettle.loss"),
        "absorption": (brewhouse.absorption, f"brewhouses.{key}.absorption"),
        "dead_space": (
            brewhouse.mash_tun.dead_space,
            f"brewhouses.{key}.mash_tun.dead_space",
        ),
    }
    rows = [(name, unit, "", evidence_course(batches, balances, name, None)) for name, unit in _BY_BREWHOUSE]
    # the one thing learnt of reconciled figures, which are not worked out for nothing
    if not stated_only:
        rows.append(("absorption", "L/kg", "", [*_absorption(batches, balances)]))
    elif brewhouse.absorption:
        rows.append(("absorption", "L/kg", "", _latest_absorption(batches, balances)))
    for method in dict.fromkeys(method_of(batch) for batch in batches):
        rows += [(name, unit, method, evidence_course(batches, balances, name, method)) for name, unit in _BY_METHOD]
    for name, unit, method, course in rows:
        if len(course) >= FEWEST_TO_LEARN:
            spread = usual_spread("water_held" if name == "absorption" else name)
            value, where = stated.get(name, (None, ""))
            found = level((evidence for _, evidence in course[-LOOK_BACK:]), spread)
            yield LearntValue(name, unit, method, found, tuple(course), value, where)


def brewhouse_records(
    journal: Journal, balances: Mapping[str, Balance], *, stated_only: bool = False
) -> list[BrewhouseRecord]:
    """Every brewhouse that batches were brewed on, in order of its first batch.

    `stated_only` leaves out what takes time to learn and nothing stated could be held against.
    """
    records = []
    for key, batches in journal.by_brewhouse.items():
        brewhouse = journal.brewery.brewhouses.get(key, Brewhouse())
        learnt = tuple(_learn(key, brewhouse, batches, balances, stated_only))
        records.append(BrewhouseRecord(key, brewhouse, tuple(batch.id for batch in batches), learnt))
    return records


def disagreements(
    records: list[BrewhouseRecord], brewery: Brewery, moved: Mapping[str, MovedRecord] | None = None
) -> list[Problem]:
    """A note for every stated value that the record contradicts, by brewhouse nothing that an instrument that `moved` may do."""
    moved = moved or {}
    system = brewery.units or METRIC
    return [
        Problem(
            "record-disagrees",
            _disagreement(learnt, system),
            "Change the value, or take it out.",
            _place(brewery, learnt),
        )
        for record in records
        for learnt in record.learnt
        if learnt.disagrees and not moved.get(record.key, NOTHING_MOVED).doubts(learnt.name)
    ]


def _disagreement(learnt: LearntValue, system: str) -> str:
    stated = show(learnt.stated.value if learnt.stated else 0.0, 0.0, learnt.unit, system)
    found = show(learnt.level.mean, learnt.level.error, learnt.unit, system)
    name = learnt.name.replace("_", " ")
    return f"you state {name} as {stated}; your last {learnt.level.batches} batches say {found}"


def _place(brewery: Brewery, learnt: LearntValue) -> Place | None:
    if brewery.source is None:
        return None
    return Place(brewery.source, brewery.places.get(learnt.stated_at, Span(0, 1)), learnt.stated_at)
