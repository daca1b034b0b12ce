"""What a brew would have come to, as text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from journal.figures import CATALOGUE
from journal.history.what_if.answer import UNKNOWN, ChangedField, OutcomeChange, WhatIf
from journal.measures.wording import METRIC, decimals_of, plain, show, signed, unit_for


def what_if_text(found: WhatIf, system: str = METRIC) -> str:
    """The whole answer: what is otherwise and what that rests on, then every result as it was and would be."""
    return "\n".join(_lines(found, system))


def _lines(found: WhatIf, system: str) -> Iterator[str]:
    yield f"batch {found.batch}, as brewed and with"
    for change in found.changes:
        yield from _change(change)
    yield ""
    yield f"  {'':<24}{'as brewed':<18}{'with that':<18}{'difference, 90 % range':<36}rests on"
    for outcome in found.outcomes:
        yield _outcome(CATALOGUE[outcome.figure].label, outcome, system)
    yield _outcome("malt for the same beer", found.malt, system)
    minutes = f"{signed(plain(found.minutes, 0))} min" if abs(found.minutes) >= 0.5 else "none"
    yield f"  {'minutes more':<24}{minutes}"
    if not found.known:
        yield ""
        yield "What is not known from your record is left out of these numbers."


def _change(change: ChangedField) -> Iterator[str]:
    yield f"  {change.path}: {change.before or 'not written'} → {change.after}"
    for words, rests_on, why in change.rests_on:
        yield f"    {words}: {rests_on} ({why})"


def _outcome(label: str, outcome: OutcomeChange, system: str) -> str:
    reach = (outcome.high - outcome.low) / 2.0
    numbers = [show(value, outcome.sd or reach, outcome.unit, system) for value in (outcome.before, outcome.after)]
    # what was weighed out for certain is shown to the digit that its difference is known to
    shown = [str(number if outcome.sd else number._replace(sd="")) for number in numbers]
    how = unit_for(outcome.unit, system)
    difference, low, high = (how.convert_difference(each) for each in (outcome.difference, outcome.low, outcome.high))
    # a range that is hardly any is of one number
    decimals = min(decimals_of((high - low) / 2.0), how.decimals + 1) if high > low else how.decimals
    # an end that is not zero is not shown as zero: the verdict hangs on that
    decimals += low * high > 0.0 and min(abs(low), abs(high)) < 0.5 * 10.0**-decimals
    texts = [signed(plain(each, decimals)) for each in (difference, low, high)]
    if outcome.rests_on in ((), (UNKNOWN,)):
        told = "not known" if outcome.rests_on else "none"
    elif texts[1] == texts[2]:
        told = f"{texts[0]} {how.of_difference}".rstrip()
    else:
        told = f"{texts[0]} {how.of_difference} ".rstrip() + f" ({texts[1]} to {texts[2]})"
    bases = ", ".join(basis for basis in outcome.rests_on if basis != UNKNOWN or len(outcome.rests_on) > 1)
    return f"  {label:<24}{shown[0]:<18}{shown[1]:<18}{told:<36}{bases}".rstrip()
