"""Every file of a site into its output folder; what hangs on nothing new stays as it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from journal.build.kept import program_digest
from journal.build.output import Output
from journal.build.press import Press, set_page
from journal.build.understanding import Progress, not_collecting, silent, told
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.attachments import attachments_of
from journal.pages.contents import pages_of_batches, pages_of_broken, pages_of_record
from journal.pages.data import batches_csv, journal_json
from journal.pages.keys import page_keys, record_key
from journal.pages.make.index import Index
from journal.pages.record import Record
from journal.pages.render import Renderer
from journal.pages.search import search_files
from journal.pages.share import share_files
from journal.pages.template_faults import Fault
from journal.pages.template_faults import told as told_of
from journal.pages.themes import Theme, assets, theme_digest
from journal.problems import Problem


@not_collecting()
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
    """Put the site of a record; returned are the record, told where that was wanted, and what keeps the site from being whole:
    what is wrong in a brewer's templates, and files that could not be read.

    Pages in `held` stay whatever happened to them, if there are such. Not `whole`, only pages that hang on a batch are looked at,
    and everything else stays as the last build left it.
    """
    index, looks = Index(record), digest_of(program_digest(), theme_digest(theme))
    keys = page_keys(index)
    keyed = [replace(page, key=digest_of(looks, page.key)) for page in pages_of_batches(index, keys)]
    anew = [
        page
        for page in keyed
        if not (output.keep(page.path, page.key) or (page.path in held and output.hold(page.path)))
    ]
    renderer = Renderer(theme, memory)
    faults: list[Fault] = []
    unread: list[Problem] = []

    def put(name: str, content: bytes | Fault, key: str = "") -> None:
        if isinstance(content, Fault):
            faults.append(content)
        else:
            output.put(name, content, key)

    with Press(anew, renderer) as press:

        def take(*, wait: bool) -> None:
            for page, content in press.pages(wait=wait):
                progress("Setting pages", len(output.now), len(anew))
                put(page.path, content, page.key)

        key = digest_of(looks, record_key(index, keys))
        if whole:
            # while others set the pages of batches; what they are done with is taken now and then, lest they wait
            if not output.keep_all(key):
                record = told(record, progress, memory)
                for name, content in _of_the_whole(record, renderer, memory):
                    put(name, content, key)
                    take(wait=False)
            for page in pages_of_broken(Index(record)):
                if not (page.path in held and output.hold(page.path)):
                    put(page.path, set_page(renderer, page))
            unread = _put_beside(record, theme, output)
        take(wait=True)
    if not whole:
        output.hold_rest()
    return record, [*told_of(faults), *unread]


def _of_the_whole(record: Record, renderer: Renderer, memory: Memory) -> Iterator[tuple[str, bytes | Fault]]:
    """The files that hang on the record as a whole."""
    for page in pages_of_record(Index(record)):
        yield page.path, set_page(renderer, page)
    yield from search_files(record, memory).items()
    yield from share_files(record).items()
    yield "data/journal.json", journal_json(record).encode()
    yield "data/batches.csv", batches_csv(record).encode()


def _put_beside(record: Record, theme: Theme, output: Output) -> list[Problem]:
    """What is put every time: the theme's files, and those that entries show; returned is what of them can't be read."""
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
            output.put(attachment.path, content)
    return unread
