"""What an entry must be beyond its fields.

Names that something defines, dates in order, readings that can be trusted at all.
"""

from __future__ import annotations

from collections.abc import Iterator

from journal.measures import Gravity, Scale
from journal.problems import Place, Problem, did_you_mean, in_words
from journal.reading.after_pitching import check_after_pitching
from journal.reading.brewery import Brewery
from journal.reading.contradictions import find_contradictions
from journal.reading.entry import Batch
from journal.reading.known_readings import BY_PATH, VOLUME, read_at
from journal.reading.malts import Malts
from journal.reading.mixed_scales import find_mixed_scales
from journal.reading.table import walk
from journal.reading.times import check_times
from journal.reading.unknown_names import find_unknown_names
from journal.reading.vessel_dip import find_unknown_dips
from journal.reading.without_effect import find_without_effect

#: Above this the correction of a hydrometer is hardly to be trusted (common practice), degC.
HOT_SAMPLE = 50.0


def check_entry(batch: Batch, brewery: Brewery, malts: Malts) -> list[Problem]:
    """Every problem of one entry that its fields alone don't show."""
    return [
        *find_unknown_names(batch, malts),
        *find_unknown_dips(batch, brewery),
        *find_contradictions(batch, brewery),
        *_brewhouse(batch, brewery),
        *_hot_samples(batch),
        *find_mixed_scales(batch),
        *find_without_effect(batch),
        *check_times(batch),
        *check_after_pitching(batch),
        *_trust(batch),
    ]


#: Fields that say which batch it is, and nothing of it.
_HEAD = frozenset({"batch", "title", "brewed", "style", "brewhouse", "tags"})


def nothing_recorded(batch: Batch) -> Iterator[Problem]:
    """Said of an entry without a fault that states nothing but which batch it is; fields that are still blank are to be filled in."""
    if all(path.split(".")[0].split("[")[0] in _HEAD for path in batch.names):
        message = "this entry holds no reading, so nothing can be calculated of it"
        hint = "Add what was weighed and read, such as `grains` and `fermenter`; `wortbook fields` lists all there is."
        yield Problem("nothing-recorded", message, hint, batch.place("batch"))


def _brewhouse(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    known = brewery.brewhouses
    if batch.brewhouse is not None and batch.brewhouse not in known:
        hint = did_you_mean(batch.brewhouse, known, "Describe it under `brewhouses` in entries/brewery.yaml.")
        yield Problem(
            "brewhouse-unknown", f"no brewhouse is called “{batch.brewhouse}”", hint, batch.place("brewhouse")
        )
    elif batch.brewhouse is None and len(known) > 1 and "brewhouse" not in batch.names and not _has_it_from(batch):
        message = "`brewhouse` is missing, and brewery.yaml describes several"
        yield Problem("field-missing", message, f"Add brewhouse: {in_words(list(known), 'or')}.", batch.place("batch"))


def _has_it_from(batch: Batch) -> bool:
    """Whether it is brewed where the batch that it names was."""
    return bool(batch.part_of or batch.second_wort_of or batch.blend_of)


def gravities(batch: Batch) -> Iterator[tuple[str, Gravity]]:
    """Every gravity of an entry with its path, in the order of the work."""
    for path, value, _ in walk(batch):
        if isinstance(value, Gravity) and not path.startswith("target."):
            yield path, value


def _hot_samples(batch: Batch) -> Iterator[Problem]:
    for path, gravity in gravities(batch):
        if gravity.scale is Scale.HYDROMETER and gravity.at is not None and gravity.at > HOT_SAMPLE:
            message = f"`{path}: {batch.written(path)}` was read in a hot sample"
            hint = "Cool the next sample below 40 °C (104 °F); at this heat the correction is hardly to be trusted."
            yield Problem("sample-hot", message, hint, batch.place(path))


def _trust(batch: Batch) -> Iterator[Problem]:
    for path in batch.trust:
        if path == "balance" or path in batch.places:
            continue
        readings = [known for known in batch.places if known in BY_PATH or "[" in known]
        hint = did_you_mean(
            path, readings, f"Name a reading as the entry does, such as {read_at('kettle', VOLUME).path}."
        )
        place = Place(batch.source, batch.names[f"trust.{path}"], f"trust.{path}")
        yield Problem("reading-unknown", f"the entry has no reading `{path}`", hint, place)
