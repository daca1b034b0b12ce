"""Every file of a site put into its output folder; what depends on nothing new stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from functools import partial
from hashlib import sha256
from itertools import chain

from journal.frozen import dataclass
from journal.history.story import history_key
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.attachments import attachments_of
from journal.pages.cards import cards_of
from journal.pages.contents import pages_of_batches, pages_of_broken, pages_of_record, pages_of_settings
from journal.pages.data import batches_csv, journal_json
from journal.pages.index import Index
from journal.pages.keys import page_keys, record_key, settings_key
from journal.pages.page import Page
from journal.pages.paths import FEED, TRENDS_PAGE
from journal.pages.pictures import smaller
from journal.pages.record import Record
from journal.pages.render import Renderer
from journal.pages.search import search_files
from journal.pages.share import share_files
from journal.pages.site.broken import unmade_model
from journal.pages.site.trends import control_charts, may_have_charts
from journal.pages.template_faults import PageFault, TemplateFault, problems_of
from journal.pages.themes import Theme, assets, theme_digest
from journal.problems import Problem, fault_in_words, internal_fault
from journal.publishing.cache import program_digest
from journal.publishing.output import Output
from journal.publishing.parallel_renderer import ParallelRenderer, Rendered, render_page
from journal.publishing.progress import Progress, show_no_progress
from journal.publishing.understanding import with_history
from journal.reading.files import ENTRIES


@dataclass(frozen=True)
class SiteMade:
    """What became of a site: its record, with the history if that had to be made; what forbids to publish it (something in
    a brewer's templates, a file that could not be read); and the faults of the program that cost single pages.
    """

    record: Record
    obstacles: tuple[Problem, ...]
    faults: tuple[Problem, ...]


class _SiteWriter:
    """Puts what is set into the output folder, and collects what kept a page from being set."""

    def __init__(self, output: Output, held: frozenset[str], index: Index, renderer: Renderer) -> None:
        self.output, self.held, self.renderer = output, held, renderer
        self.of_templates: list[TemplateFault] = []
        self.ours: list[Problem] = []
        self._index = index
        self._entries = {path: file for file, path in index.paths.items()}

    def put(self, name: str, content: Rendered, key: str = "") -> None:
        if isinstance(content, TemplateFault):
            self.of_templates.append(content)
        elif isinstance(content, PageFault):
            self._put_fault(name, content)
        else:
            self.output.put(name, content, key)

    def _put_fault(self, name: str, fault: PageFault) -> None:
        """A page that says so in the place of one that can't be made; it bears no key, so that the next build tries again."""
        problem = internal_fault(f"the page {name}", fault.why, file=self._entries.get(name, ENTRIES))
        self.ours.append(problem)
        if name.endswith(".html"):
            page = Page(name, "broken.html.j2", partial(unmade_model, self._index, name, problem))
            instead = render_page(self.renderer, page)
            if isinstance(instead, bytes):
                self.output.put(name, instead)

    def leaves(self, page: Page) -> bool:
        """Whether the last build's page stays as it is: made for the same key, or to be held whatever happened to it."""
        return self.output.keep(page.path, page.key) or (page.path in self.held and self.output.hold(page.path))


def put_site(
    record: Record,
    theme: Theme,
    output: Output,
    progress: Progress = show_no_progress,
    memory: Memory = FORGETFUL,
    *,
    held: frozenset[str] = frozenset(),
    whole: bool = True,
) -> SiteMade:
    """Put the site of a record.

    Pages in `held` stay as the last build left them, if it made them. If not `whole`, only pages that depend on single
    batches are looked at, and everything else stays. Raises OSError where the machine fails.
    """
    index, looks = Index(record), digest_of(program_digest(), theme_digest(theme))
    keys = {batch: digest_of(looks, key) for batch, key in page_keys(index).items()}
    pages = (
        *pages_of_batches(index, keys),
        *cards_of(index, keys, theme),
        *pages_of_settings(index, digest_of(looks, settings_key(index))),
    )
    renderer = Renderer(theme, memory)
    site = _SiteWriter(output, held, index, renderer)
    to_set = _by_batch(page for page in pages if not site.leaves(page))
    unread: list[Problem] = []
    record_in = digest_of(looks, record_key(index, keys))
    tells = whole and not output.keep_all(record_in)
    if whole and to_set:
        _reconcile(record)
    with ParallelRenderer(to_set, renderer) as renderings:

        def put_set(*, wait: bool) -> None:
            for page, content in renderings.pages(wait=wait):
                progress("Setting pages", len(output.now), len(to_set))
                site.put(page.path, content, page.key)

        if tells:
            before = len(site.ours)
            _get_ready(record, renderer, memory)
            record = _with_history(record, site, progress, memory)
            for name, content in _files_of_record(record, renderer, keys, memory):
                site.put(name, content, record_in)
                # the workers wait once too many of their pages lie there untaken
                put_set(wait=False)
            if len(site.ours) > before:
                output.forget_key(record_in)
        put_set(wait=True)
    if whole:
        for page in pages_of_broken(index):
            if not site.leaves(page):
                site.put(page.path, render_page(renderer, page))
        unread = _put_theme_and_attachments(record, theme, output, memory)
    else:
        output.hold_rest()
    return SiteMade(record, (*problems_of(site.of_templates), *unread), tuple(site.ours))


def _by_batch(pages: Iterable[Page]) -> list[Page]:
    """The pages of a batch, which bear one key, one after the other: what they share is looked up once."""
    batches: dict[str, list[Page]] = {}
    for page in pages:
        batches.setdefault(page.key, []).append(page)
    return list(chain(*batches.values()))


def _reconcile(record: Record) -> None:
    """Have every batch's reconciled figures at hand: workers find them where they are born, and the record asks for them too."""
    for balance in record.balances.values():
        with suppress(Exception):  # whoever sets the page is told
            _ = balance.figures


def _get_ready(record: Record, renderer: Renderer, memory: Memory) -> None:
    """Where the history must be worked out, which takes long: have what its charts are drawn with made ready meanwhile."""
    if may_have_charts(record.journal) and not memory.has(history_key(record.journal)):
        renderer.get_ready_for_charts()


def _with_history(record: Record, site: _SiteWriter, progress: Progress, memory: Memory) -> Record:
    """The record with its history; with none where a fault of ours keeps that from being told."""
    try:
        return with_history(record, progress, memory)
    except Exception as error:  # noqa: BLE001  # the batches' own pages don't hang on it
        site.ours.append(internal_fault("what the record says", fault_in_words(error), file=ENTRIES))
        return record


def _files_of_record(
    record: Record, renderer: Renderer, keys: Mapping[str, str], memory: Memory
) -> Iterator[tuple[str, Rendered]]:
    """The files that depend on the record as a whole, by name; `keys` as `page_keys` has them."""
    index = Index(record)
    with suppress(Exception):  # whoever sets the page is told
        renderer.begin_charts(control_charts(index))
    pages = pages_of_record(index)
    # charts come to this process
    here = [page for page in pages if page.path == TRENDS_PAGE]
    others = [page for page in pages if page.path != TRENDS_PAGE]
    with ParallelRenderer(others, renderer) as renderings:
        yield from _made("search", lambda: search_files(record, memory))
        yield from _made(FEED, lambda: share_files(record))
        yield from _made(
            "data/journal.json", lambda: {"data/journal.json": journal_json(record, keys, memory).encode()}
        )
        yield from _made("data/batches.csv", lambda: {"data/batches.csv": batches_csv(record).encode()})
        yield from ((page.path, render_page(renderer, page)) for page in here)
        yield from ((page.path, content) for page, content in renderings.pages(wait=True))


def _made(what: str, make: Callable[[], dict[str, bytes]]) -> Iterator[tuple[str, Rendered]]:
    try:
        yield from make().items()
    except Exception as error:  # noqa: BLE001  # the pages don't hang on it
        yield what, PageFault(what, fault_in_words(error))


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
