"""What the entries themselves say was done otherwise from a batch on: a gap of the mill, a time, a method."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from journal.history.moved.said import Told
from journal.history.settings import Setting, lever_of
from journal.history.words import lever_label, setting_text
from journal.measures.wording import METRIC

#: The causes that a lever bears on (common practice).
_BEARS_ON = {
    "crush": frozenset({"conversion", "run-off"}),
    "mash_ph": frozenset({"conversion"}),
    "mash_temperature": frozenset({"conversion"}),
    "mash_time": frozenset({"conversion"}),
    "mixing": frozenset({"conversion"}),
    "lauter_time": frozenset({"run-off"}),
    "lauter_method": frozenset({"run-off", "absorption", "dead space"}),
}
#: Batches on each side that a lever must have been at another setting.
_LASTS = 4


def _apart(lever: str, before: Sequence[Setting], after: Sequence[Setting]) -> bool:
    """Whether all settings of one side lie beyond all of the other, by as much as a brewer would change on purpose."""
    useful = lever_of(lever).useful
    if useful is None:
        return len(set(before)) == 1 == len(set(after)) and before[0] != after[0]
    earlier, later = [float(each) for each in before], [float(each) for each in after]
    gap = max(min(later) - max(earlier), min(earlier) - max(later))
    return gap >= useful * (1.0 - 1e-9)


def practice_changed(settings: Sequence[Mapping[str, Setting]], system: str = METRIC) -> Iterator[Told]:
    """Every lasting change of a lever, by the place of the first batch after it; `settings` of batches in order of date."""
    for lever, causes in _BEARS_ON.items():
        known = [(place, each[lever]) for place, each in enumerate(settings) if lever in each]
        for at in range(_LASTS, len(known) - _LASTS + 1):
            before = [setting for _, setting in known[at - _LASTS : at]]
            after = [setting for _, setting in known[at : at + _LASTS]]
            if _apart(lever, before, after):
                was, is_now = (setting_text(lever, setting, system) for setting in (before[-1], after[0]))
                yield Told(known[at][0], causes, f"{lever_label(lever)} {was} before, {is_now} since")
