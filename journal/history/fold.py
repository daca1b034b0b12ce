"""The fold over the record in order of date: each batch is balanced with what the earlier ones taught, then teaches."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from journal.balance import Balance, Priors, common_practice
from journal.balance.balance import KEPT_PARTS, judge_batch
from journal.balance.foresee import Foreseen
from journal.figures import BatchFigures
from journal.history.attenuation import FIGURE, AttenuatedBrew, brew_of, expected_attenuation
from journal.history.learn import LOOK_BACK, learn
from journal.memory import FORGETFUL, LazyMapping, Memory, digest_of
from journal.numerics import Estimate
from journal.problems import naming
from journal.reading import Batch, Brewhouse, Journal

#: What depends on how the grain was rinsed; the rest belongs to the brewhouse whatever the method.
BY_METHOD = frozenset({"water_held", "shortfall"})
#: How far back batches are looked for: those of one method may lie far apart.
_FAR_BACK = 4 * LOOK_BACK


@dataclass
class EvidenceByMethod:
    """What the batches of one brewhouse have said so far, in order of date, each with its lautering method."""

    said: list[tuple[str, Mapping[str, Estimate]]] = field(default_factory=list)

    def hear(self, batch: Batch, balance: Balance) -> None:
        """One more batch; one whose balance says nothing takes no other's place."""
        if balance.evidence:
            self.said.append((method_of(batch), balance.evidence))

    @classmethod
    def of(cls, batches: Iterable[Batch], balances: Mapping[str, Balance]) -> EvidenceByMethod:
        """What the batches of one brewhouse, in order of date, say by their balances."""
        record = cls()
        for batch in batches:
            record.hear(batch, balances[batch.id])
        return record

    def for_method(self, method: str) -> list[Mapping[str, Estimate]]:
        """The latest evidence that counts for a batch lautered by a method."""
        return [
            evidence if how == method else {name: value for name, value in evidence.items() if name not in BY_METHOD}
            for how, evidence in self.said[-_FAR_BACK:]
        ]


def expected_of(batch: Batch, journal: Journal, record: EvidenceByMethod) -> Priors:
    """What to expect of a batch's brewhouse on the eve of brewing."""
    _, brewhouse = journal.brewery.brewhouse_of(batch.brewhouse)
    method = method_of(batch)
    return learn(common_practice(brewhouse, method), record.for_method(method))


def expected_on(day: date, brewhouse: str, method: str, journal: Journal, balances: Mapping[str, Balance]) -> Priors:
    """What to expect of a brewhouse, by its key, on the eve of a day, of a brew whose grain is rinsed by a method."""
    here = journal.by_brewhouse.get(brewhouse, [])
    said = EvidenceByMethod.of((batch for batch in here if batch.day <= day), balances)
    stated = journal.brewery.brewhouses.get(brewhouse, Brewhouse())
    return learn(common_practice(stated, method), said.for_method(method))


def method_of(batch: Batch) -> str:
    """How the grain was rinsed; empty where it is not written down."""
    return batch.lauter.method or ""


def evidence_course(
    batches: Iterable[Batch], balances: Mapping[str, Balance], name: str, method: str | None = None
) -> list[tuple[str, Estimate]]:
    """What each batch's balance says of one thing, by batch id in their order; of one lautering method only, if that is named."""
    return [
        (batch.id, balances[batch.id].evidence[name])
        for batch in batches
        if name in balances[batch.id].evidence and (method is None or method_of(batch) == method)
    ]


def digests_before(batches: Sequence[Batch]) -> list[str]:
    """For each batch a digest of all before it, and one of all of them at the end."""
    digests = [digest_of("")]
    for batch in batches:
        digests.append(digest_of(digests[-1], batch.id, batch.facts_digest))
    return digests


@dataclass(frozen=True)
class _Expectations:
    """What was to be expected of a batch on the eve of brewing: of its brewhouse, and of how far it would ferment."""

    priors: Priors
    attenuation: Foreseen
    #: Of the priors, which are asked for with every batch and hardly ever come out anew.
    digest: str


class _Fold:
    """The record as far as it has been gone through; whoever recalls what was expected of a batch need not go through what came before."""

    def __init__(self, journal: Journal, figures: Mapping[str, BatchFigures], memory: Memory) -> None:
        self.journal, self.figures, self.memory = journal, figures, memory
        self.batches = journal.batches
        self.balances: LazyMapping[Balance] = LazyMapping()
        self._records: dict[str, EvidenceByMethod] = defaultdict(EvidenceByMethod)
        self._brews: dict[str, list[tuple[date, AttenuatedBrew]]] = defaultdict(list)
        self._brew: dict[str, AttenuatedBrew] = {}
        self._through = 0

    def step(self, place: int, before: str) -> None:
        """One more batch; `before` is a digest of all that came before it."""
        batch = self.batches[place]
        expected = self.memory.recall(
            digest_of("expectations", before, batch.facts_digest), lambda: self._expectations(place)
        )
        # a balance hangs on the batch and on what was expected, and on nothing else
        key = digest_of("balance", batch.facts_digest, expected.digest)
        for each in (key, *(_part(key, name) for name in KEPT_PARTS)):
            self.memory.keep(each)
        self.balances.add(batch.id, lambda: self._balance(batch, expected, key))

    def _expectations(self, place: int) -> _Expectations:
        for earlier in self.batches[self._through : place]:
            self._teach(earlier)
        self._through = place
        batch = self.batches[place]
        key = self.journal.brewhouse_key(batch)
        earlier_brews = [earlier for day, earlier in self._brews[key][-_FAR_BACK:] if day < batch.day]
        priors = expected_of(batch, self.journal, self._records[key])
        attenuation = expected_attenuation(self._brew_of(batch), earlier_brews)
        return _Expectations(priors, attenuation, digest_of(repr(priors)))

    def _teach(self, batch: Batch) -> None:
        """A broken one teaches nothing, unless its brewer says `trust: {balance: yes}`."""
        key = self.journal.brewhouse_key(batch)
        self._brews[key].append((batch.day, self._brew_of(batch)))
        self._records[key].hear(batch, self.balances[batch.id])

    def _brew_of(self, batch: Batch) -> AttenuatedBrew:
        """Asked for on the eve of brewing, and once more when it teaches."""
        if batch.id not in self._brew:
            self._brew[batch.id] = brew_of(batch, self.figures, self.journal.malts)
        return self._brew[batch.id]

    def _balance(self, batch: Batch, expected: _Expectations, key: str) -> Balance:
        journal, figures = self.journal, self.figures[batch.id]
        with naming(batch.id):
            judgement = self.memory.recall(
                key, lambda: judge_batch(batch, figures, journal.brewery, journal.malts, expected.priors)
            )
        return Balance(
            judgement,
            expected.priors,
            batch,
            figures,
            journal.brewery,
            journal.malts,
            {FIGURE: expected.attenuation},
            lambda name, make: self.memory.recall(_part(key, name), make),
        )


def _part(key: str, name: str) -> str:
    """The key of what follows from a balance that is kept under a `key`."""
    return digest_of(key, name)


def balance_all(
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    progress: Callable[[int, int], None] = lambda done, total: None,
    memory: Memory = FORGETFUL,
) -> Mapping[str, Balance]:
    """Every batch's balance by id, in order of date."""
    fold = _Fold(journal, figures, memory)
    for place, before in enumerate(digests_before(fold.batches)[:-1]):
        progress(place, len(fold.batches))
        with naming(fold.batches[place].id):
            fold.step(place, before)
    return fold.balances
