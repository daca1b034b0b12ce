"""Every file of a site put into its output folder; what depends on nothing new stays as it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from hashlib import sha256

from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.attachments import attachments_of
from journal.pages.cards import cards_of
from journal.pages.contents import pages_of_batches, pages_of_broken, pages_of_record
from journal.pages.data import batches_csv, journal_json
from journal.pages.index import Index
from journal.pages.keys import page_keys, record_key
from journal.pages.page import Page
from journal.pages.pictures import smaller
from journal.pages.record import Record
from journal.pages.render import Renderer
from journal.pages.search import search_files
from journal.pages.share import share_files
from journal.pages.template_faults import Fault, problems_of
from journal.pages.themes import Theme, assets, theme_digest
from journal.problems import Problem
from journal.publishing.cache import program_digest
from journal.publishing.output import Output
from journal.publishing.parallel_renderer import ParallelRenderer, render_page
from journal.publishing.understanding import Progress, silent, with_history
from journal.publishing.worker_pool import one_by_one


class _SiteWriter:
    """Puts what is set into the output folder, and collects what kept a page from being set."""

    def __init__(self, output: Output, held: frozenset[str]) -> None:
        self.output, self.held = output, held
        self.faults: list[Fault] = []

    def put(self, name: str, content: bytes | Fault, key: str = "") -> None:
        if isinstance(content, Fault):
            self.faults.append(content)
        else:
            self.output.put(name, content, key)

    def leaves(self, page: Page) -> bool:
        """Whether the last build's page stays as it is: made for the same key, or to be held whatever happened to it."""
        return self.output.keep(page.path, page.key) or (page.path in self.held and self.output.hold(page.path))


def put_site(
    record: Record,
    theme: Theme,
    output: Output,
    progress: Progress = silent,
    memory: Memory = FORGETFUL,
    *,
    held: frozenset[str] = frozenset(),
    whole: bool = True,
) -> tuple[Record, list[Problem]]:
    """Put the site of a record; returned are the record, with its history if that had to be made, and what keeps the site
    from being whole: what is wrong in a brewer's templates, and files that could not be read.

    Pages in `held` stay as the last build left them, if it made them. If not `whole`, only pages that depend on single
    batches are looked at, and everything else stays. Raises OSError where the machine fails.
    """
    index, looks = Index(record), digest_of(program_digest(), theme_digest(theme))
    keys = page_keys(index)
    pages = [
        replace(page, key=digest_of(looks, page.key))
        for page in (*pages_of_batches(index, keys), *cards_of(index, keys, theme))
    ]
    site = _SiteWriter(output, held)
    to_set = [page for page in pages if not site.leaves(page)]
    renderer = Renderer(theme, memory)
    unread: list[Problem] = []
    with ParallelRenderer(to_set, renderer) as renderings:

        def put_set(*, wait: bool) -> None:
            for page, content in renderings.pages(wait=wait):
                progress("Setting pages", len(output.now), len(to_set))
                site.put(page.path, content, page.key)

        key = digest_of(looks, record_key(index, keys))
        if whole and not output.keep_all(key):
            record = with_history(record, progress, memory)
            for name, content in _files_of_record(record, renderer, memory):
                site.put(name, content, key)
                # the workers wait once too many of their pages lie there untaken
                put_set(wait=False)
        put_set(wait=True)
    if whole:
        for page in pages_of_broken(index):
            if not site.leaves(page):
                site.put(page.path, render_page(renderer, page))
        unread = _put_theme_and_attachments(record, theme, output, memory)
    else:
        output.hold_rest()
    return record, [*problems_of(site.faults), *unread]


def _files_of_record(record: Record, renderer: Renderer, memory: Memory) -> Iterator[tuple[str, bytes | Fault]]:
    """The files that depend on the record as a whole, by name."""
    pages = pages_of_record(Index(record))
    yield from zip(
        [page.path for page in pages], one_by_one([partial(render_page, renderer, page) for page in pages]), strict=True
    )
    yield from search_files(record, memory).items()
    yield from share_files(record).items()
    yield "data/journal.json", journal_json(record).encode()
    yield "data/batches.csv", batches_csv(record).encode()


def _put_theme_and_attachments(record: Record, theme: Theme, output: Output, memory: Memory) -> list[Problem]:
    """The theme's files and those that entries show: small or copied, so they are put every time.

    Returned is what of them can't be read.
    """
    for name, content in assets(theme).items():
        output.put(name, content)
    unread = []
    for attachment in attachments_of(record):
        try:
            content = (record.journal.root / attachment.source).read_bytes()
        except OSError as error:
            words = f"{attachment.source} is shown by an entry and can't be read: {error.strerror}"
            hint = "Check its permissions; if it was moved while the site was made, build again."
            unread.append(Problem("file-unreadable", words, hint, file=attachment.source))
        else:
            output.put(attachment.path, _as_shown(content, attachment.width, memory))
    return unread


def _as_shown(content: bytes, width: int, memory: Memory) -> bytes:
    """A file's bytes; of a smaller copy of a picture what it comes to, which takes as long as a page."""
    if not width:
        return content
    return memory.recall(digest_of("picture", sha256(content).hexdigest(), str(width)), lambda: smaller(content, width))
