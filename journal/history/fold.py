"""The fold over the record in order of date: each batch is balanced with what the earlier ones taught, then teaches."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from journal.balance import Balance, Evidence, Priors, common_practice, strike
from journal.figures import BatchFigures
from journal.history.attenuation import FIGURE, Brew, brew_of, expected_attenuation
from journal.history.learn import LOOK_BACK, learn
from journal.memory import FORGETFUL, Memory, digest_of
from journal.reading import Batch, Journal

#: What depends on how the grain was rinsed; the rest belongs to the brewhouse whatever the method.
BY_METHOD = frozenset({"water_held", "shortfall"})
#: How far back batches are looked for: those of one method may lie far apart.
_FAR_BACK = 4 * LOOK_BACK


@dataclass
class EvidenceByMethod:
    """What the batches of one brewhouse have said so far, in order of date, each with its lautering method."""

    said: list[tuple[str, Mapping[str, Evidence]]] = field(default_factory=list)

    def for_method(self, method: str) -> list[dict[str, Evidence]]:
        """The latest evidence that counts for a batch lautered by a method."""
        return [
            {name: value for name, value in evidence.items() if name not in BY_METHOD or how == method}
            for how, evidence in self.said[-_FAR_BACK:]
        ]


def expected_of(batch: Batch, journal: Journal, record: EvidenceByMethod) -> Priors:
    """What to expect of a batch's brewhouse on the eve of brewing."""
    _, brewhouse = journal.brewery.brewhouse_of(batch.brewhouse)
    method = method_of(batch)
    return learn(common_practice(brewhouse, method), record.for_method(method or ""))


def method_of(batch: Batch) -> str | None:
    """How the grain was rinsed."""
    return batch.lauter.method if batch.lauter else None


def balance_all(
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    progress: Callable[[int, int], None] = lambda done, total: None,
    memory: Memory = FORGETFUL,
) -> dict[str, Balance]:
    """Every batch's balance by id; a broken one teaches nothing, unless its brewer says `trust: {balance: yes}`."""
    records: dict[str, EvidenceByMethod] = defaultdict(EvidenceByMethod)
    brews: dict[str, list[tuple[date, Brew]]] = defaultdict(list)
    balances: dict[str, Balance] = {}
    batches = journal.batches
    for done, batch in enumerate(batches):
        progress(done, len(batches))
        key, _ = journal.brewery.brewhouse_of(batch.brewhouse)
        balance = _struck(batch, figures[batch.id], journal, expected_of(batch, journal, records[key]), memory)
        brew = brew_of(batch, figures[batch.id], journal.malts)
        eve = [earlier for day, earlier in brews[key][-_FAR_BACK:] if day < batch.day]
        foreseen = balance.foreseen | {FIGURE: expected_attenuation(brew, eve)}
        balances[batch.id] = replace(balance, foreseen=foreseen)
        brews[key].append((batch.day, brew))
        if balance.evidence:
            records[key].said.append((method_of(batch) or "", balance.evidence))
    return balances


def _struck(batch: Batch, figures: BatchFigures, journal: Journal, priors: Priors, memory: Memory) -> Balance:
    """One balance; it hangs on the batch and on what was expected, and on nothing else."""
    key = digest_of("balance", batch.digest, repr(priors))
    return memory.recall(key, lambda: strike(batch, figures, journal.brewery, journal.malts, priors))
