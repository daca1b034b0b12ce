"""Fields that count for something in one place and for nothing where they were written.

Hops and additions have the same fields wherever they go in, and when they went in is said by another one in each place.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from journal.problems import Problem
from journal.reading.entry import Addition, Batch, Hop
from journal.reading.table import lines_of

_DRY = "Dry hops stand in `fermenter.hops`."
_KETTLE = f"What counts in the kettle is how long they boiled, such as boiled: 60 min. {_DRY}"
_BEER = "What counts in the beer are the days, `on` and `off`. Hops that boiled stand in `boil.hops`, those of a hot stand in `stand.hops`."
_MASH = f"No time counts in the mash. Hops of the kettle stand in `boil.hops`. {_DRY}"
_STAND = f"What counts in the stand is how long they were in it, such as stood: 20 min. {_DRY}"
#: By group, which of the times of a hop count there, and what to write.
_HOPS = {
    "mash": (frozenset(), _MASH),
    "boil": (frozenset({"boiled", "with_first_wort"}), _KETTLE),
    "stand": (frozenset({"stood"}), _STAND),
    "fermenter": (frozenset({"on", "off"}), _BEER),
    "package": (frozenset({"on", "off"}), _BEER),
}
#: Those that are no day; `off` is one, but for that of hops which come out at knockout.
_TIMES = ("boiled", "with_first_wort", "stood", "on", "off")


def find_without_effect(batch: Batch) -> Iterator[Problem]:
    """Every field of a hop or an addition that nothing reads in the place where it stands, as notes."""
    for path, hop in lines_of(batch, Hop):
        group = path.partition(".")[0]
        counts, instead = _HOPS[group]
        for name in _TIMES:
            value = getattr(hop, name)
            stated = isinstance(value, datetime) if name == "off" else value not in (None, False)
            if stated and name not in counts:
                yield _idle(batch, f"{path}.{name}", f"of hops in the {_called(group)}", instead)
    for path, addition in lines_of(batch, Addition):
        group = path.rpartition(".")[0]
        if addition.on is not None and group not in {"fermenter", "package"}:
            instead = "What joined the beer on a day stands in `fermenter.additions`."
            yield _idle(batch, f"{path}.on", f"of an addition to the {_called(group)}", instead)


def _called(group: str) -> str:
    return {"boil": "kettle", "boil.before": "kettle", "fermenter": "fermenter"}.get(group, group)


def _idle(batch: Batch, path: str, of_what: str, instead: str) -> Problem:
    message = f"nothing uses `{path.rpartition('.')[2]}` {of_what}"
    return Problem("field-without-effect", message, instead, batch.place(path))
