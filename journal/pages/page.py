"""A page before it is rendered, and a file that goes with the pages."""

from __future__ import annotations

from collections.abc import Callable

from journal.frozen import dataclass
from journal.pages.model import Model


@dataclass(frozen=True)
class Page:
    """One page of the site: `path` from the site's root, the template that lays it out, and what makes its model.

    The model is frozen and holds plain values only, so that equal models of equal templates give equal bytes. It is made when
    it is asked for: a thousand of them at once would fill the memory. `key` is a digest of everything the model hangs on,
    empty for a page that hangs on the whole record. `draw` makes a picture of the model where no template lays it out.
    """

    path: str
    template: str
    make: Callable[[], Model]
    key: str = ""
    draw: Callable[[Model], bytes] | None = None

    @property
    def model(self) -> Model:
        """All that the page shows."""
        return self.make()


@dataclass(frozen=True)
class Attachment:
    """A file that an entry shows or links to: `source` from the journal's root, `path` from the site's root.

    `width` is that of a smaller copy of a picture, pixels; 0 for the file as it is.
    """

    source: str
    path: str
    width: int = 0
