import re
from pathlib import Path

import pytest
from bench.generate import generate

from journal.problems import Severity
from journal.publishing import understand
from journal.reading import Batch, read_journal

COUNT = 12
CASES = Path(__file__).parents[1] / "reading" / "cases"


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def field_names(batches: list[Batch]) -> set[str]:
    """Paths without their indexes; what a brewer names freely counts by its group."""
    paths = {re.sub(r"\[\d+\]", "", path) for batch in batches for path in batch.places}
    return {path.split(".")[0] if path.startswith(("practice", "trust")) else path for path in paths}


def test_generated_journal_has_no_problem(tmp_path: Path) -> None:
    generate(COUNT, tmp_path)
    record = understand(tmp_path)
    assert [problem.message for problem in record.problems if problem.severity is not Severity.NOTE] == []
    assert [batch.id for batch in record.batches] == [str(number) for number in range(1, COUNT + 1)]


@pytest.mark.long
def test_every_batch_has_its_efficiencies_near_what_a_small_brewery_gets(tmp_path: Path) -> None:
    generate(COUNT, tmp_path)
    for figures in understand(tmp_path).figures.values():
        # common practice: 60 to 95 % of the laboratory's extract reaches a small kettle
        assert 0.60 < figures["mash_efficiency"].value < 0.95
        assert 0.88 < figures["conversion_efficiency"].value < 1.0
        assert 0.03 < figures["alcohol_by_volume"].value < 0.08


def test_generated_entries_use_every_field_that_the_complete_case_uses(tmp_path: Path) -> None:
    complete = tmp_path / "complete" / "entries"
    complete.mkdir(parents=True)
    (complete / "47.md").write_bytes((CASES / "complete.md").read_bytes())
    generate(COUNT, tmp_path / "generated")
    names = [field_names(read_journal(tmp_path / name)[0].batches) for name in ("complete", "generated")]
    assert names[0] - names[1] == set()


def test_same_seed_gives_the_same_bytes_and_another_seed_others(tmp_path: Path) -> None:
    for name, seed in (("first", 5), ("again", 5), ("other", 6)):
        generate(COUNT, tmp_path / name, seed)
    first, again, other = (bytes_of(tmp_path / name) for name in ("first", "again", "other"))
    assert first == again
    assert first.keys() == other.keys()
    assert all(first[name] != other[name] for name in first if name.endswith(".md"))


def test_longer_journal_begins_with_the_shorter_one(tmp_path: Path) -> None:
    generate(4, tmp_path / "short")
    generate(COUNT, tmp_path / "long")
    short, long = bytes_of(tmp_path / "short"), bytes_of(tmp_path / "long")
    assert {name: long[name] for name in short} == short
