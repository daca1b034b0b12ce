"""Pages set by several processes at once, while their maker is about something else."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import Self

from journal.pages.page import Page
from journal.pages.render import Renderer
from journal.pages.template_faults import PageFault, TemplateBroken, TemplateFault
from journal.problems import fault_in_words
from journal.publishing.worker_pool import WorkerPool, one_by_one, worth_sharing

#: A page's bytes, or what kept it from being made: something in a brewer's template, or a fault of ours.
Rendered = bytes | TemplateFault | PageFault


def render_page(renderer: Renderer, page: Page) -> Rendered:
    """The bytes of a page, or of a picture of what would stand on one, or what kept it from being made; raises nothing."""
    try:
        if page.draw:
            return page.draw(page.model)
        return renderer.render(page).encode(errors="replace")
    except TemplateBroken as broken:
        return broken.fault
    except Exception as error:  # noqa: BLE001  # it costs one page, and is told
        return PageFault(page.path, fault_in_words(error))


def _as_set(content: Rendered) -> Rendered:
    return content


class ParallelRenderer:
    """Begins to set its pages when it is entered, where there are enough of them; else each when it is asked for."""

    def __init__(self, pages: Sequence[Page], renderer: Renderer) -> None:
        self._pages, self._renderer = pages, renderer
        self._tasks: list[Callable[[], Rendered]] = [partial(render_page, renderer, page) for page in pages]
        self._taken = 0
        self._workers: WorkerPool[Rendered] | None = None

    def __enter__(self) -> Self:
        if worth_sharing(len(self._pages)):
            self._set_one_of_each()
            self._workers = WorkerPool(self._tasks)
        return self

    def _set_one_of_each(self) -> None:
        """Set the first page of each template here that is not kept: compiled before there are several processes, it is compiled once."""
        firsts = {page.template: place for place, page in reversed([*enumerate(self._pages)])}
        for place in (place for name, place in firsts.items() if name and not self._renderer.has_kept(name)):
            content = self._tasks[place]()
            self._tasks[place] = partial(_as_set, content)

    def pages(self, *, wait: bool) -> Iterator[tuple[Page, Rendered]]:
        """Each page with its bytes, as far as it was not taken before; without `wait` only those that are set already."""
        if self._workers:
            for lot in self._workers.done(wait=wait):
                yield from self._taking(lot)
        elif wait:
            yield from self._taking(one_by_one(self._tasks[self._taken :]))

    def _taking(self, contents: Iterable[Rendered]) -> Iterator[tuple[Page, Rendered]]:
        for content in contents:
            self._taken += 1
            yield self._pages[self._taken - 1], content

    def __exit__(self, *_: object) -> None:
        if self._workers:
            self._workers.end()
