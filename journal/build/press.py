"""Pages set by several processes at once, where the system can hand them the record without copying it."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterator, Sequence

from journal.pages import Page, Renderer
from journal.pages.template_faults import Fault, TemplateBroken

#: Fewer pages than this are set before another process has started.
_WORTH_SHARING = 32
#: Pages handed over at a time.
_AT_A_TIME = 4


class _Job:
    """What a forked process finds in the memory it was born with."""

    renderer: Renderer
    pages: Sequence[Page] = ()


def _bytes_of(page: Page, renderer: Renderer) -> bytes | Fault:
    try:
        return renderer.render(page).encode(errors="replace")
    except TemplateBroken as broken:
        return broken.fault


def _set(place: int) -> bytes | Fault:
    return _bytes_of(_Job.pages[place], _Job.renderer)


def set_pages(
    pages: Sequence[Page],
    renderer: Renderer,
    done: Callable[[int], None] = lambda count: None,
    workers: int | None = None,
) -> Iterator[tuple[Page, bytes | Fault]]:
    """Every page with its bytes, or with what is wrong in a brewer's template.

    There are `workers` processes, as many as there are processors if not said. Pages that hang on the whole record are set
    here, for what they remember is remembered here; the others meanwhile by the workers.
    """
    workers = workers if workers is not None else os.cpu_count() or 1
    shared = [page for page in pages if page.key]
    forks = "fork" in multiprocessing.get_all_start_methods()
    if workers < 2 or not forks or len(shared) < _WORTH_SHARING:
        for place, page in enumerate(pages):
            done(place)
            yield page, _bytes_of(page, renderer)
        return
    _Job.renderer, _Job.pages = renderer, shared
    try:
        with multiprocessing.get_context("fork").Pool(workers) as pool:
            set_elsewhere = pool.imap(_set, range(len(shared)), _AT_A_TIME)
            for page in pages:
                if not page.key:
                    yield page, _bytes_of(page, renderer)
            for place, content in enumerate(set_elsewhere):
                done(place)
                yield shared[place], content
    finally:
        _Job.pages = ()
