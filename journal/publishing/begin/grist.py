"""A grist as it is typed: malts with their shares, with commas between."""

from __future__ import annotations

import re
from collections.abc import Iterator

from journal.measures import Fault, Measure, read_measure
from journal.measures.units import SHARE
from journal.problems import did_you_mean
from journal.publishing.refused import RefusalError
from journal.reading import Malts
from journal.reading.contradictions import MISSING
from journal.reading.entry import Grain
from journal.reading.kinds import KINDS, ingredient_named

#: A malt and its share; a comma before the next, for a malt's own name may hold one.
_LINE = re.compile(r"\s*(.+?)[:\s]\s*(\d[\d.]*\s*%)\s*(?:,|;|$)")


def read_grist(text: str, malts: Malts) -> tuple[Grain, ...]:
    """The lines of a grist such as `pale malt 93 %, caramel malt 7 %`; raises RefusalError for what is no grist."""
    lines = tuple(_lines(text))
    whole = sum(share.value for _, share in lines)
    for name, _ in lines:
        if name not in malts.by_key and ingredient_named(name) is None:
            hint = did_you_mean(
                name,
                {*malts.by_key, *KINDS},
                "Put it into malts.yaml, or name a kind; `wortbook fields malt` lists those.",
            )
            raise RefusalError(f"--grist: nothing is known of {name}. {hint}")
    if abs(whole - 1.0) > MISSING + 1e-9:
        raise RefusalError(f"--grist: the shares come to {100 * whole:.4g} %. They must come to 100 %.")
    return tuple(Grain(malt=name, share=share) for name, share in lines)


def _lines(text: str) -> Iterator[tuple[str, Measure]]:
    done = 0
    while text[done:].strip():
        found = _LINE.match(text, done)
        share = read_measure(found[2], SHARE) if found else None
        if found is None or share is None or isinstance(share, Fault):
            rest = text[done:].strip()
            raise RefusalError(
                f"--grist: “{rest}” is no malt with its share. Write it like this: 'pale malt 93 %, caramel malt 7 %'."
            )
        yield found[1].strip(), share
        done = found.end()
