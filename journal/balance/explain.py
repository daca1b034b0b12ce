"""The balance of a batch as plain text: what it says, every reading recorded and balanced, the suspects."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from journal.balance.balance import Balance
from journal.balance.verdict import BROKEN, TOO_FEW
from journal.balance.words import BLIND_SPOTS, amount, chance, name_reading, sentence, show_reading
from journal.measures.wording import METRIC, plain
from journal.reading import Batch

_WIDTH = 100


def _lines(text: str, indent: str = "  ") -> str:
    return fill(text, _WIDTH, initial_indent=indent, subsequent_indent=indent)


def explain_balance(balance: Balance, batch: Batch, system: str = METRIC) -> str:
    """The whole balance of one batch."""
    verdict = balance.verdict
    lines = [f"balance of batch {batch.id}: {verdict.status}", _lines(sentence(balance, batch, system))]
    if verdict.status != TOO_FEW:
        lines += list(_numbers(balance, batch, system))
    lines.append(_lines(BLIND_SPOTS))
    return "\n".join(lines)


def _numbers(balance: Balance, batch: Batch, system: str) -> Iterator[str]:
    verdict = balance.verdict
    yield (
        f"  sum of squares {plain(verdict.chi_square, 1)} with {verdict.degrees_of_freedom} degrees of freedom: "
        f"{chance(verdict.p_value)}; below 0.010 the balance is broken"
    )
    yield f"  adjusted by more than {plain(verdict.measurement_test_limit, 1)} would be out of the ordinary\n"
    yield f"  {'reading':<24} {'as written':<24} {'recorded':>9} {'balanced':>20} {'adjusted by':>12}"
    for reading in verdict.readings:
        balanced = amount(reading.path, reading.balanced, reading.sd, system)
        # to as many decimals as the balanced one
        shown = show_reading(reading.path, reading.recorded, reading.sd, system)
        recorded = f"{shown.value} {shown.unit}".strip()
        written = batch.written(reading.path)
        written = written if len(written) <= 24 else ""
        yield f"  {reading.path:<24} {written:<24} {recorded:>9} {balanced:>20} {plain(reading.adjusted, 1):>12}"
    if verdict.status == BROKEN:
        yield "\n  suspects, likeliest first"
        for suspect in verdict.suspects:
            needed = amount(suspect.path, suspect.needed, suspect.needed_sd, system)
            left = plain(suspect.chi_square, 1)
            yield f"    {suspect.path:<24} {name_reading(suspect.path, batch)}: {needed} would leave a sum of squares of {left}"
    yield ""
