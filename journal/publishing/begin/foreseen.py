"""What a drafted entry, with its amounts as they are measured out, is expected to come to: the same as its sheet will say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from journal.balance import Balance
from journal.balance.balance import judge_batch
from journal.figures import figures_of
from journal.history.fold import expected_on
from journal.pages.record import Record
from journal.problems import Source
from journal.publishing.begin.yaml_lines import YamlLine, align_comments
from journal.reading import read_entry


def foreseen_of(
    lines: Iterable[YamlLine], record: Record, day: date, brewhouse: str, method: str
) -> Mapping[str, float]:
    """Volumes, L at 20 °C, and gravities, SG, by figure; none of what can't be foreseen, as of grain that is steeped."""
    journal = record.journal
    batch, _ = read_entry(Source("draft.md", align_comments(lines)), gallon=journal.brewery.own_gallon)
    if batch is None:
        return {}
    priors = expected_on(day, brewhouse, method, journal, record.balances)
    numbers = figures_of(batch, journal.brewery, journal.malts)
    judged = judge_batch(batch, numbers, journal.brewery, journal.malts, priors)
    balance = Balance(judged, priors, batch, numbers, journal.brewery, journal.malts)
    return {name: found.value for name, found in balance.foreseen.items()}
