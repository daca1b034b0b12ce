"""A page before it is rendered, and a file that goes with the pages."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Model


@dataclass(frozen=True)
class Page:
    """One page of the site: `path` from the site's root, the template that lays it out, and all that it shows.

    The model is frozen and holds plain values only, so that equal models of equal templates give equal bytes.
    """

    path: str
    template: str
    model: Model


@dataclass(frozen=True)
class Attachment:
    """A file that an entry shows or links to: `source` from the journal's root, `path` from the site's root."""

    source: str
    path: str
