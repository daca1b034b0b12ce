"""What is kept from earlier builds changes nothing: an incremental build equals a clean one, byte for byte."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from balance.simulated_brewery import Habits
from history.told import TWO_HOUSES, texts, with_fields

from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.index import Index
from journal.pages.keys import page_keys
from journal.publishing import Broken, build
from journal.publishing.cache import FileCache, InProcessCache
from journal.publishing.output import MANIFEST
from journal.publishing.understanding import understand

PICTURE = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x40\0\0\0\x20\x08\x02\0\0\0\xfc\x18\xed\xa3\0\0\0\0IEND\xaeB`\x82"
WIDER = PICTURE.replace(b"\0\0\0\x40\0\0\0\x20", b"\0\0\0\x80\0\0\0\x20")
MALTS = "lot: {kind: pale malt, extract: 81 %, source: certificate}\n"


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    entries = tmp_path / "journal" / "entries"
    entries.mkdir(parents=True)
    houses = ["shed", "barn"]
    for number, text in enumerate(texts(9, Habits()), start=1):
        whole = with_fields(text, f"brewhouse: {houses[number % 2]}").replace("pale lot", "pale lot", 1)
        (entries / f"{number:02d}.md").write_text(
            f"{whole}\nProse of {number}, after [the last](0{number - 1}.md).\n", "utf-8"
        )
    (entries / "picture.png").write_bytes(PICTURE)
    (entries / "brewery.yaml").write_text(TWO_HOUSES, "utf-8")
    (entries / "malts.yaml").write_text(MALTS, "utf-8")
    return tmp_path / "journal"


def files(folder: Path) -> dict[str, bytes]:
    found = (path for path in folder.rglob("*") if path.is_file() and path.name != MANIFEST)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def _edited(entry: Path, change: Callable[[str], str]) -> None:
    entry.write_text(change(entry.read_text("utf-8")), "utf-8")


def edit(root: Path, chance: random.Random) -> str:
    """One change that a brewer might make; says which."""
    entries = sorted((root / "entries").glob("*.md"))
    entry = chance.choice(entries)
    kind = chance.choice(
        [
            *["prose", "reading", "title", "gone", "new", "broken", "mended", "picture", "malts", "brewery", "log"],
            *LINKS,
        ]
    )
    if kind == "prose":
        _edited(entry, lambda text: text + f"\nMore, {chance.random():.6f}. ![It](picture.png)\n")
    elif kind == "reading":
        _edited(entry, lambda text: text.replace("fermenter: {volume: 1", "fermenter: {volume: 2", 1))
    elif kind == "title":
        _edited(entry, lambda text: text.replace("title: Simulated", "title: Renamed", 1))
    elif kind == "gone" and len(entries) > 5:
        entry.unlink()
    elif kind == "new":
        number = chance.randrange(20, 90)
        text = texts(1, Habits(), seed=number)[0].replace("batch: 1\n", f"batch: {number}\n")
        (root / "entries" / f"{number}.md").write_text(text, "utf-8")
    elif kind == "broken":
        _edited(entry, lambda text: text.replace("grains:", "grians:", 1))
    elif kind == "mended":
        _edited(entry, lambda text: text.replace("grians:", "grains:", 1))
    elif kind == "picture":
        picture = root / "entries" / "picture.png"
        picture.write_bytes(WIDER if picture.read_bytes() == PICTURE else PICTURE)
    elif kind == "malts":
        (root / "entries" / "malts.yaml").write_text(MALTS.replace("81 %", f"{chance.randrange(78, 83)} %"), "utf-8")
    elif kind == "brewery":
        units = chance.choice(["metric", "us"])
        (root / "entries" / "brewery.yaml").write_text(f"units: {units}\n{TWO_HOUSES}", "utf-8")
    elif kind == "log":
        _edited(entry, lambda text: text.replace("mash: {liquor", "mash: {log: mash.csv, liquor", 1))
        (root / "entries" / "mash.csv").write_text(
            f"time (min),temperature (degC)\n0,66\n60,{chance.randrange(60, 70)}\n"
        )
    elif kind in LINKS:
        _link(root, kind, chance)
    return f"{kind} {entry.name}"


#: Links between entries, each with what such an entry holds beside it.
LINKS = {
    "part_of": "fermenter: {volume: 9 L, top_up: 0.5 L}\nreadings: [{at: 2026-12-20 10:00, gravity: 1.010}]\n",
    "second_wort_of": "lauter: {liquor: 9 L}\nboil: {before: {volume: 10 L, gravity: 1.020}}\n"
    "fermenter: {volume: 8 L, gravity: 1.024}\n",
    "joins": "brewed: 2026-12-19\nbrewhouse: shed\nfermenter: {volume: 8 L, gravity: 1.044}\n",
}


def _link(root: Path, kind: str, chance: random.Random, name: str = "linked") -> None:
    """An entry that names another one, which may not be there; it may have named a third before."""
    other = chance.randrange(1, 10)
    text = f"---\nbatch: {name}\ntitle: Linked {chance.random():.3f}\n{kind}: {other}\n{LINKS[kind]}---\n"
    (root / "entries" / f"{name}.md").write_text(text, "utf-8")


@pytest.mark.long
def test_what_rests_on_another_batch_is_made_anew_with_it(journal: Path, tmp_path: Path) -> None:
    for kind in LINKS:
        _link(journal, kind, random.Random(3), kind.replace("_", "-"))
    named = f"{random.Random(3).randrange(1, 10):02d}.md"
    pages = {kind: journal / "site" / "batches" / f"{kind.replace('_', '-')}.html" for kind in LINKS}
    before = dict.fromkeys(LINKS, "")
    for step in range(2):
        with FileCache(journal, tmp_path / "cache") as memory:
            assert build(journal, journal / "site", broken=Broken.SHOWN, memory=memory).published
        clean = tmp_path / f"clean-{step}"
        build(journal, clean, broken=Broken.SHOWN)
        assert files(journal / "site") == files(clean)
        now = {kind: page.read_text("utf-8") for kind, page in pages.items()}
        assert [kind for kind in LINKS if now[kind] == before[kind]] == []
        before = now
        _edited(journal / "entries" / named, _another_brew)


def _another_brew(text: str) -> str:
    return text.replace("title: Sim", "title: Dis").replace("gravity: 1.0", "gravity: 1.1", 1)


@pytest.mark.long
@pytest.mark.parametrize(("seed", "steps"), [(1, 7), (2, 4)])
def test_incremental_equals_clean_after_random_edits(seed: int, steps: int, journal: Path, tmp_path: Path) -> None:
    chance = random.Random(seed)
    done = []
    for step in range(steps):
        with FileCache(journal, tmp_path / "cache") as memory:
            assert build(journal, journal / "site", broken=Broken.SHOWN, memory=memory).published
        clean = tmp_path / f"clean-{step}"
        build(journal, clean, broken=Broken.SHOWN)
        assert files(journal / "site") == files(clean), done
        done.append(edit(journal, chance))


def test_a_word_more_in_an_early_entry_leaves_every_other_number_and_page(journal: Path) -> None:
    second = journal / "entries" / "02.md"

    def hangs_on() -> tuple[dict[str, str], dict[str, str]]:
        index = Index(understand(journal))
        return page_keys(index), {batch.id: batch.facts_digest for batch in index.batches}

    before, facts = hangs_on()
    _edited(second, lambda text: text + "\nTasted again at Easter.\n")
    after, same_facts = hangs_on()
    assert [batch for batch in before if before[batch] != after[batch]] == ["2"]
    assert same_facts == facts
    _edited(second, _another_brew)
    assert [batch for batch, key in hangs_on()[0].items() if key != after[batch]] == [str(n) for n in range(2, 10)]


def test_nothing_changed_makes_nothing_anew(journal: Path, tmp_path: Path) -> None:
    for first in (True, False):
        with FileCache(journal, tmp_path / "cache") as memory:
            outcome = build(journal, journal / "site", broken=Broken.SHOWN, memory=memory)
            assert (outcome.changed == frozenset()) is not first
            assert bool(memory._new) is first


def _other_tables(database: Path) -> None:
    database.unlink()
    with closing(sqlite3.connect(database)) as other:
        other.execute("create table kept (something text)")


def _changed(database: Path) -> None:
    content = database.read_bytes()
    assert b"a value of some length" in content
    database.write_bytes(content.replace(b"a value of some length", b"a value of same length"))


@pytest.mark.parametrize(
    "harm",
    [
        lambda file: file.write_bytes(b""),
        lambda file: file.write_bytes(b"no database at all, but a text of some length"),
        lambda file: file.write_bytes(bytes(range(256)) * 40),
        lambda file: file.write_bytes(file.read_bytes()[:5000]),
        lambda file: file.write_bytes(file.read_bytes()[:100] + b"garbage" * 2000),
        _other_tables,
        _changed,
    ],
    ids=["empty", "text", "garbage", "cut short", "garbage within", "other tables", "another value"],
)
def test_a_damaged_cache_is_as_good_as_none_and_is_replaced(harm: Callable[[Path], object], tmp_path: Path) -> None:
    def ask(value: str) -> str:
        with FileCache(tmp_path / "journal", tmp_path / "cache") as memory:
            return memory.recall("a", lambda: value)

    first = "a value of some length"
    assert [ask(first), ask("none")] == [first, first]
    (database,) = (tmp_path / "cache").glob("*.db")
    harm(database)
    assert [ask("made anew"), ask("none")] == ["made anew", "made anew"]


def test_what_nobody_asks_for_is_forgotten(tmp_path: Path) -> None:
    def ask(key: str, value: int) -> int:
        with FileCache(tmp_path / "journal", tmp_path / "cache") as memory:
            return memory.recall(key, lambda: value)

    assert [ask("old", 1), ask("old", 2)] == [1, 1]
    for number in range(10):
        ask(f"new {number}", number)
    assert ask("old", 3) == 3


def test_a_command_to_which_nothing_is_new_forgets_nothing(tmp_path: Path) -> None:
    def ask(key: str, value: int) -> int:
        with FileCache(tmp_path / "journal", tmp_path / "cache") as memory:
            return memory.recall(key, lambda: value)

    assert [ask("a part", 1), ask("a whole", 1)] == [1, 1]
    for _ in range(20):
        assert ask("a whole", 2) == 1
    assert ask("a part", 2) == 1


def test_a_cache_that_cant_be_written_is_done_without(tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file")
    with FileCache(tmp_path / "journal", tmp_path / "cache") as memory:
        assert memory.recall("a", lambda: 1) == 1


def test_in_mind_lives_a_round_longer_than_it_is_asked_for() -> None:
    memory = InProcessCache()
    assert memory.recall("a", lambda: 1) == 1
    memory.next_round()
    assert memory.recall("a", lambda: 2) == 1
    memory.next_round()
    memory.next_round()
    assert memory.recall("a", lambda: 3) == 3


def test_the_forgetful_memory_makes_everything_anew() -> None:
    memory: Memory = FORGETFUL
    assert [memory.recall("a", iter([value]).__next__) for value in (1, 2)] == [1, 2]


def test_texts_do_not_run_together_in_a_digest() -> None:
    assert digest_of("ab", "c") != digest_of("a", "bc")


@pytest.mark.long
def test_one_process_and_three_give_the_same_bytes_and_keep_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("journal.publishing.worker_pool._WORTH_SHARING", 4)
    root = tmp_path / "journal"
    (root / "entries").mkdir(parents=True)
    for number, text in enumerate(texts(12, Habits()), start=1):
        (root / "entries" / f"{number:02d}.md").write_text(text, "utf-8")
    for workers in (1, 3):
        monkeypatch.setattr("journal.publishing.worker_pool.processors", lambda workers=workers: workers)
        with FileCache(root, tmp_path / f"cache-{workers}") as memory:
            build(root, tmp_path / f"site-{workers}", memory=memory)
    assert files(tmp_path / "site-1") == files(tmp_path / "site-3")
    # what three processes kept serves one
    monkeypatch.setattr("journal.publishing.worker_pool.processors", lambda: 1)
    with FileCache(root, tmp_path / "cache-3") as memory:
        assert build(root, tmp_path / "site-3", memory=memory).changed == frozenset()
        assert not memory._new
