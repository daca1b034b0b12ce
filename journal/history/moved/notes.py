"""What moved, as a note at the first batch of each move: said once, and not with every batch since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from journal.balance import Balance
from journal.figures import BatchFigures
from journal.history.moved.record import MovedRecord, moved_of
from journal.history.moved.words import checks_that_tell, consequence, move_sentence, said_words
from journal.measures.wording import METRIC
from journal.memory import FORGETFUL, Memory
from journal.problems import Problem
from journal.reading import Journal


def moved_by_brewhouse(
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    balances: Mapping[str, Balance],
    memory: Memory = FORGETFUL,
) -> dict[str, MovedRecord]:
    """What moved in each brewhouse, by its key."""
    return {key: moved_of(batches, balances, figures, journal, memory) for key, batches in journal.by_brewhouse.items()}


def moved_notes(journal: Journal, moved: Mapping[str, MovedRecord]) -> Iterator[Problem]:
    """A note for everything that moved, with the check that would settle it."""
    by_id = {batch.id: batch for batch in journal.batches}
    system = journal.brewery.units or METRIC
    for record in moved.values():
        for move in record.moves:
            batch = by_id[move.first_batch]
            said = f" {words}" if (words := said_words(move)) else ""
            message = f"{move_sentence(move, system)}.{said} {consequence(move)}"
            yield Problem("level-moved", message, " ".join(checks_that_tell(move)), batch.place("batch"))
