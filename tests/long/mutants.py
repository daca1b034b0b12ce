"""Spoilt entries, settings and logs on the whole way from their bytes to a page: nothing raises, every problem has its place.

One in `_PAGE` goes on to its balance and its page, one in `_SITE` to a whole site of several batches; the others end with their
figures. What fails is told with a reproducer; the fuzzer learns, so a mutant hangs on all that came before it.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from long.lines import Lines
from long.made_up import texts
from long.mutators import spoil, spoil_bytes, spoil_cells, spoil_quantities, spoil_structure
from long.reformatted import nodes_of, written_anyhow

from journal.figures.impossible import find_impossible
from journal.memory import FORGETFUL, Memory
from journal.pages.contents import pages_of_batches, pages_of_broken
from journal.pages.index import Index
from journal.pages.keys import page_keys
from journal.pages.render import Renderer
from journal.problems import INTERNAL, Problem, Severity, Source, internal_fault
from journal.problems.show import as_annotations, as_json, as_lines, as_sarif, as_text
from journal.publishing import Broken, build
from journal.publishing.cache.in_process import InProcessCache
from journal.publishing.parallel_renderer import render_page
from journal.publishing.understanding import figure_all, understand
from journal.reading import Batch, front_matter, read_entry, read_journal
from journal.reading.files import decode
from journal.reading.located_yaml import Mapping, read_yaml
from journal.reading.table import fields_of

DEFAULT = 20_000
PROJECT = Path(__file__).parents[2]
CASES = PROJECT / "tests" / "reading" / "cases"
SETTINGS = ("brewery.yaml", "malts.yaml")
#: One mutant in so many goes on to a page, and to a whole site.
_PAGE, _SITE = 5, 100
#: Whole entries around a mutant that goes to a site.
_NEIGHBOURS = 5
#: Seconds of processor time that one mutant may take, and those after which it is ended.
_SLOW, _HANG = 1.0, 20.0
_WAYS = {"bytes": 25, "structure": 20, "quantities": 20, "texts": 10, "guided": 15, "reformatted": 10}
_FILES = {"entry": 60, "brewery.yaml": 12, "malts.yaml": 13, "log": 15}


@dataclass(frozen=True)
class Home:
    """A folder of seeds: its entries, the settings they belong to, and what lies beside them."""

    entries: dict[str, bytes]
    beside: dict[str, bytes]

    @property
    def logged(self) -> list[tuple[str, str]]:
        """Entries with the logs they name."""
        logs = [name for name in self.beside if name.endswith(".csv")]
        return [(entry, log) for entry, text in self.entries.items() for log in logs if log.encode() in text]


@dataclass(frozen=True)
class Mutant:
    """What was spoilt, how, and the files of the journal that it makes."""

    way: str
    name: str
    files: dict[str, bytes]


@dataclass
class Found:
    """What came of the mutants so far."""

    made: Counter[str] = field(default_factory=Counter)
    came: Counter[str] = field(default_factory=Counter)
    failed: set[str] = field(default_factory=set)
    slowest: list[tuple[float, str]] = field(default_factory=list)


class Hung(BaseException):
    """A mutant took too long; no handler of the journal's may catch it."""


def homes() -> list[Home]:
    """The demo, and the cases of the reading tests."""
    made = []
    for entries, settings in ((PROJECT / "entries", PROJECT / "entries"), (CASES, CASES / "settings")):
        beside = {
            path.name: path.read_bytes()
            for path in sorted(entries.rglob("*"))
            if path.suffix in {".csv", ".png", ".svg"}
        }
        beside |= {name: (settings / name).read_bytes() for name in SETTINGS}
        made.append(Home({path.name: path.read_bytes() for path in sorted(entries.rglob("*.md"))}, beside))
    return made


def out_of_place(root: Path, problem: Problem) -> str | None:
    """What is wrong with where a problem stands: a file, a line, a column that is not there; None for one in its place."""
    for place in filter(None, (problem.place, problem.expected_by)):
        path = root / place.source.name
        if not path.is_file():
            return f"{problem.code}: no file {place.source.name}"
        text, shown = path.read_bytes().decode("utf-8", errors="replace").removeprefix("\ufeff"), place.source.text
        # a lone CR ends a line of a log, and is a sign like any other elsewhere
        text, lines = text.replace("\r\n", "\n"), shown.split("\n")
        if shown.replace("\r", "\n") != text.replace("\r", "\n") or not 0 <= place.span.start <= place.span.end <= len(
            text
        ):
            return f"{problem.code}: not of the file's text"
        if not (1 <= place.line <= len(lines) and 1 <= place.column <= len(lines[place.line - 1]) + 1):
            return f"{problem.code}: line {place.line}, column {place.column} is not there"
    return None if problem.place or os.path.lexists(root / problem.file) else f"{problem.code}: no place and no file"


def go_through(root: Path, depth: str, memory: Memory = FORGETFUL) -> list[Problem]:
    """Read a journal and go on as far as `depth` says; the problems that came of it. `memory` is of the mutants before."""
    if depth == "figures":
        journal, problems = read_journal(root)
        figures = figure_all(journal)
        for batch in journal.batches:
            problems += find_impossible(batch, journal.brewery, figures[batch.id])
        return problems
    if depth == "check":
        return list(understand(root, memory=memory).problems)
    if depth == "site":
        return list(build(root, root / "site", broken=Broken.SHOWN, memory=memory).problems)
    record = understand(root)
    index, renderer = Index(record), Renderer()
    faults = []
    for page in [*pages_of_batches(index, page_keys(index)), *pages_of_broken(index)]:
        content = render_page(renderer, page)
        if not isinstance(content, bytes):
            faults.append(internal_fault(f"the page {page.path}", str(content), file="entries"))
    return [*record.problems, *faults]


def values_of(batch: Batch) -> dict[str, object]:
    """What an entry says, wherever in its text it says it."""
    return {name: getattr(batch, name) for name in fields_of(Batch)}


def reformatted(content: bytes, chance: random.Random) -> tuple[bytes, str | None]:
    """An entry with its YAML written another way, and how that is read otherwise; the entry itself where it is not valid."""
    source, _ = decode("entries/x.md", content)
    batch, problems = read_entry(source) if source else (None, [])
    offsets = front_matter.split(source)[0] if source else None
    if source is None or batch is None or offsets is None or any(p.severity is Severity.ERROR for p in problems):
        return content, None
    start, end, _ = offsets
    root, _ = read_yaml(source, start, end)
    assert isinstance(root, Mapping)
    text = source.text[:start] + written_anyhow(nodes_of(root), chance, shuffle=True) + source.text[end:]
    again, told = read_entry(Source("entries/x.md", text))
    # signs that were left out are not written again
    codes, codes_again = (sorted(p.code for p in each if p.code != "text-direction") for each in (problems, told))
    if codes_again != codes:
        return text.encode(), f"reformatted: told {codes_again} instead of {codes}"
    if again is None or values_of(again) != values_of(batch):
        return text.encode(), "reformatted: other values"
    return text.encode(), None


class Maker:
    """Makes mutants; keeps those of the guided ones that reach a new line as seeds for more."""

    def __init__(self, many: int, seed: int) -> None:
        self.chance = random.Random(seed)
        self.homes = homes()
        self.plan = self.chance.choices(list(_WAYS), list(_WAYS.values()), k=many)
        self._texts = texts(self.plan.count("texts"), seed)
        self.grown: list[tuple[Home, str, bytes]] = []
        self.complaint: str | None = None

    def make(self, way: str) -> Mutant:
        """The next mutant."""
        chance, self.complaint = self.chance, None
        home = chance.choice(self.homes)
        kind = chance.choices(list(_FILES), list(_FILES.values()))[0]
        if way == "reformatted":
            kind = "entry"
        entry, log = chance.choice(home.logged)
        if kind != "log":
            entry = chance.choice(list(home.entries))
        name = {"entry": "x.md", "log": log}.get(kind, kind)
        old = home.entries[entry] if kind == "entry" else home.beside[name]
        if way == "guided" and self.grown and chance.random() < 0.7:
            home, name, old = chance.choice(self.grown)
            entry = chance.choice(home.logged)[0]
        files = home.beside | {"x.md": home.entries[entry]}
        return Mutant(way, name, files | {name: self._spoilt(old, name, way, home)})

    def _spoilt(self, old: bytes, name: str, way: str, home: Home) -> bytes:
        chance, others = self.chance, [*home.entries.values(), *home.beside.values()]
        if way == "reformatted":
            new, self.complaint = reformatted(old, chance)
            return new
        if way == "guided":
            return spoil(old, name, chance, others)
        if way == "bytes":
            return spoil_bytes(old, chance, others)
        if way == "texts":
            yaml, prose = next(self._texts, ("", ""))
            text = (
                f"---\n{yaml}\n---\n{prose}"
                if name.endswith(".md")
                else f"time (min),temperature (degC)\n{prose}"
                if name.endswith(".csv")
                else yaml
            )
            return text.encode(errors="replace")
        if name.endswith(".csv"):
            return spoil_cells(old, chance)
        spoil_yaml = spoil_structure if way == "structure" else spoil_quantities
        return spoil_yaml(old, chance, name.endswith(".md"))


def _complaint(root: Path, depth: str, lines: Lines | None, memory: Memory) -> tuple[str, str]:
    """How it went ("told", "silent"), and what must not be; empty for nothing."""
    try:
        # of this process's own time: a busy machine hangs nobody
        signal.setitimer(signal.ITIMER_VIRTUAL, _HANG)
        if lines:
            with lines.watched():
                problems = go_through(root, depth)
        else:
            problems = go_through(root, depth, memory)
        for show in (as_text, as_lines, as_json, as_annotations, as_sarif):
            show(problems).encode()
    except (Exception, Hung) as error:  # noqa: BLE001  # whatever it is, it is what is looked for
        ours = [frame for frame in traceback.extract_tb(error.__traceback__) if "/journal/" in frame.filename]
        where = f"{Path(ours[-1].filename).relative_to(PROJECT)}:{ours[-1].lineno}" if ours else "?"
        return "raised", f"{type(error).__name__} at {where}: {str(error)[:120]}"
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
    # what catches every fault keeps a journal alive, and is no excuse for one
    ours = next((problem.message for problem in problems if problem.code == INTERNAL), "")
    if ours:
        return "raised", ours
    misplaced = next(filter(None, (out_of_place(root, problem) for problem in problems)), None)
    return ("told" if problems else "silent"), misplaced or ""


def _put(root: Path, files: dict[str, bytes]) -> None:
    """A journal's files; a site that was made before stays, as it does for a brewer."""
    shutil.rmtree(root / "entries", ignore_errors=True)
    for name, content in files.items():
        (root / "entries" / name).parent.mkdir(parents=True, exist_ok=True)
        (root / "entries" / name).write_bytes(content)


def _hung(*_: object) -> None:
    raise Hung


def _depth(number: int) -> str:
    return "site" if number % _SITE == 7 else "page" if number % _PAGE == 0 else "figures"


def run_all(many: int, seed: int, keep: Path, found: Found, depth_of: Callable[[int], str] = _depth) -> Iterator[str]:
    """Make and try so many mutants; what fails, each fault once. Their journals are kept in a folder."""
    maker = Maker(many, seed)
    lines = Lines(PROJECT / "journal" / "reading", PROJECT / "journal" / "measures")
    before, memory = signal.signal(signal.SIGVTALRM, _hung), InProcessCache()
    with tempfile.TemporaryDirectory(prefix="wortbook-mutants-") as folder:
        root = Path(folder)
        for number, way in enumerate(maker.plan):
            depth = depth_of(number)
            mutant = maker.make(way)
            files = mutant.files
            if depth == "site":
                neighbours = list(maker.homes[0].entries.items())[10 : 10 + _NEIGHBOURS]
                files = {f"2025/{name}": content for name, content in neighbours} | files
            _put(root, files)
            reached, started = lines.seen, time.process_time()
            came, complaint = _complaint(root, depth, lines if way == "guided" and depth == "figures" else None, memory)
            if depth == "site":
                memory.next_round()
            found.slowest = sorted(
                [*found.slowest, (time.process_time() - started, f"{mutant.name} by {way}, {depth}")]
            )[-5:]
            if way == "guided" and lines.seen > reached:
                home = maker.homes[0] if b"Osier" in mutant.files["brewery.yaml"] else maker.homes[1]
                maker.grown.append((home, mutant.name, mutant.files[mutant.name]))
            found.made[f"{way} of {mutant.name if mutant.name in SETTINGS else mutant.name.rsplit('.', 1)[-1]}"] += 1
            found.came[f"{came}, to the {depth}"] += 1
            complaint = complaint or maker.complaint or ""
            if complaint and complaint not in found.failed:
                kept = keep / f"{seed}-{number}"
                shutil.copytree(root / "entries", kept / "entries")
                found.failed.add(complaint)
                yield f"FAILED {complaint} (mutant {number}, {mutant.name} by {way}, {depth}; the journal lies in {kept})"
            found.came["failed"] += bool(complaint)
    signal.signal(signal.SIGVTALRM, before)
    found.came["kept as seeds for reaching a new line"] = len(maker.grown)


def run(many: int, seed: int, depth_of: Callable[[int], str] = _depth) -> Iterator[str]:
    """How many mutants of each kind there were, what came of them, which were slowest, and what failed."""
    keep = Path(tempfile.mkdtemp(prefix="wortbook-failed-"))
    found = Found()
    yield from run_all(many, seed, keep, found, depth_of)
    for way in _WAYS:
        of_way = {name.removeprefix(f"{way} of "): count for name, count in found.made.items() if name.startswith(way)}
        yield f"{way}: {', '.join(f'{count} {name}' for name, count in sorted(of_way.items()))}"
    yield "; ".join(f"{name}: {count}" for name, count in sorted(found.came.items()))
    slow = sum(taken > _SLOW for taken, _ in found.slowest)
    yield f"slowest, of processor time: {'; '.join(f'{taken:.2f} s {what}' for taken, what in reversed(found.slowest))}"
    yield f"{slow or 'none'} of these over {_SLOW:g} s"
    if not found.failed:
        keep.rmdir()
