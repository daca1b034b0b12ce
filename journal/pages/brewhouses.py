"""The brewhouses as the pages take them: each with its batches, and what its record says."""

from __future__ import annotations

from functools import cached_property

from journal.frozen import dataclass
from journal.history import BrewhouseStory
from journal.pages.index import Index
from journal.reading import Batch


@dataclass(frozen=True)
class BrewhouseView:
    """A brewhouse: its batches in order of brewing, and its story where the record tells one.

    `name` is empty where no brewhouse is named, or only one was ever brewed on.
    """

    name: str
    anchor: str
    batches: tuple[Batch, ...]
    story: BrewhouseStory | None

    @cached_property
    def by_id(self) -> dict[str, Batch]:
        """Its batches by their ids."""
        return {batch.id: batch for batch in self.batches}


def brewhouse_views(index: Index) -> list[BrewhouseView]:
    """Every brewhouse that was brewed on, the one with most batches first; one without batches where nothing is brewed."""
    by_key = index.record.journal.by_brewhouse
    stories = {story.record.key: story for story in index.record.history.brewhouses}
    keys = list(index.anchors) or [""]
    return [
        BrewhouseView(
            name=_name(index, key) if len(keys) > 1 else "",
            anchor=index.anchors.get(key, "brewhouse-1"),
            batches=tuple(by_key.get(key, ())),
            story=stories.get(key),
        )
        for key in keys
    ]


def _name(index: Index, key: str) -> str:
    _, brewhouse = index.record.journal.brewery.brewhouse_of(key or None)
    return brewhouse.name or key or "brewhouse not named"
