"""Batches that name other batches: what they take from those, and what is said of a link that can't be."""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import codes, journal_at

from journal.problems import Problem, Severity
from journal.reading import Batch, Journal

HOUSES = "brewhouses: {shed: {name: Shed}, loft: {name: Loft}}\n"
WHOLE = (
    "batch: 14\ntitle: Two Brothers\nbrewed: 2025-09-13\nbrewhouse: shed\ngrains: [{malt: pale malt, weight: 4 kg}]\n"
)
PART = "batch: 14-b\ntitle: The Younger\npart_of: 14\n"


def journal(root: Path, **entries: str) -> tuple[Journal, list[Problem]]:
    files: dict[str, str | bytes] = {f"{name}.md": f"---\n{text}---\n" for name, text in entries.items()}
    found, problems = journal_at(root, {"brewery.yaml": HOUSES, **files})
    # the entries are as short as can be
    return found, [problem for problem in problems if problem.code != "nothing-recorded"]


def by_id(found: Journal) -> dict[str, Batch]:
    return {batch.id: batch for batch in found.batches}


def test_a_part_has_the_day_and_the_brewhouse_of_its_batch(tmp_path: Path) -> None:
    found, problems = journal(tmp_path, a=WHOLE, b=PART)
    assert problems == []
    part, whole = by_id(found)["14-b"], by_id(found)["14"]
    assert (part.brewed, part.brewhouse) == (whole.brewed, "shed")
    assert part.relatives.whole == whole
    assert whole.relatives.parts == (part,) or [each.id for each in whole.relatives.parts] == ["14-b"]
    assert not part.brewed_here
    assert whole.brewed_here


def test_what_a_batch_rests_on_is_in_its_digest(tmp_path: Path) -> None:
    other = "batch: 15\ntitle: Alone\nbrewed: 2025-09-20\nbrewhouse: shed\n"
    first, _ = journal(tmp_path, a=WHOLE, b=PART, c=other)
    second, _ = journal(tmp_path, a=WHOLE + "style: bitter\n", b=PART, c=other)
    before, after = by_id(first), by_id(second)
    assert before["14-b"].digest != after["14-b"].digest
    assert before["15"].digest == after["15"].digest
    third, _ = journal(tmp_path, b=PART + "tags: [dry]\n")
    assert by_id(third)["14"].digest != after["14"].digest


def test_a_second_wort_may_be_boiled_elsewhere_and_another_day(tmp_path: Path) -> None:
    found, problems = journal(
        tmp_path, a=WHOLE, b="batch: 15\ntitle: Small\nbrewed: 2025-09-14\nbrewhouse: loft\nsecond_wort_of: 14\n"
    )
    assert problems == []
    small, strong = by_id(found)["15"], by_id(found)["14"]
    assert small.relatives.first == strong
    assert [each.id for each in strong.relatives.seconds] == ["15"]
    assert small.shares_mash
    assert strong.shares_mash


def test_a_blend_has_the_latest_day_of_what_it_was_blended_of(tmp_path: Path) -> None:
    later = "batch: 17\ntitle: Later\nbrewed: 2025-10-02\nbrewhouse: loft\n"
    blend = "batch: 18\ntitle: Both\nblend_of: {14: 12 L, 17: 6 L}\n"
    found, problems = journal(tmp_path, a=WHOLE, b=later, c=blend)
    assert problems == []
    both = by_id(found)["18"]
    assert str(both.brewed) == "2025-10-02"
    assert [each.id for each in both.relatives.blended] == ["14", "17"]
    assert [round(litres.value, 9) for litres in both.blend_of.values()] == [12.0, 6.0]


def test_a_brew_that_joins_is_known_to_its_host(tmp_path: Path) -> None:
    guest = "batch: 15\ntitle: Guest\nbrewed: 2025-09-14\nbrewhouse: shed\njoins: 14\n"
    found, problems = journal(tmp_path, a=WHOLE, b=guest)
    assert problems == []
    assert [each.id for each in by_id(found)["14"].relatives.guests] == ["15"]
    host = by_id(found)["15"].relatives.host
    assert host is not None
    assert host.id == "14"


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ({"b": PART.replace("of: 14", "of: 41")}, {"batch-unknown": "`part_of` names batch 41, which isn't there"}),
        ({"b": PART.replace("of: 14", "of: 14-b")}, {"links-in-ring": "batch 14-b names itself in `part_of`"}),
        (
            {"b": PART + "brewhouse: loft\n"},
            {"links-disagree": "the part was brewed in loft, and batch 14 was brewed in shed"},
        ),
        (
            {"b": PART + "brewed: 2025-09-14\n"},
            {"links-disagree": "the part was brewed on 2025-09-14, and batch 14 was brewed on 2025-09-13"},
        ),
        (
            {"b": PART + "grains: [{malt: pale malt, weight: 4 kg}]\n"},
            {"fields-contradict": "`grains` belongs to the brew day, and the entry is a part of 14"},
        ),
        (
            {"b": PART + "joins: 14\n"},
            {"fields-contradict": "the entry is at once `part_of` and `joins`"},
        ),
        (
            {"b": "batch: 16\ntitle: Alone\nbrewed: 2025-10-01\nbrewhouse: shed\ntaken: 2025-10-02\n"},
            {"fields-contradict": "`taken` is the day of a part, and this is none"},
        ),
        (
            {"b": "batch: 18\ntitle: Both\nblend_of: {14: 12 L, 17: 6 L}\n"},
            {"batch-unknown": "`blend_of` names batch 17, which isn't there"},
        ),
        (
            {"b": PART + "readings: [{at: 2025-09-12 10:00, gravity: 1.020}]\n"},
            {"dates-disorder": "`readings[0].at` is 2025-09-12, before the day of brewing"},
        ),
    ],
)
def test_a_link_that_cannot_be(entries: dict[str, str], said: dict[str, str], tmp_path: Path) -> None:
    _, problems = journal(tmp_path, a=WHOLE, **entries)
    assert {problem.code: problem.message for problem in problems} == said
    assert all(problem.hint.endswith((".", "?")) for problem in problems)
    assert {problem.file_name for problem in problems} == {"entries/b.md"}


def test_a_ring_is_told_in_each_of_its_entries(tmp_path: Path) -> None:
    ring = {
        "a": "batch: 1\ntitle: One\nbrewed: 2025-01-01\nbrewhouse: shed\njoins: 2\n",
        "b": "batch: 2\ntitle: Two\nblend_of: {3: 5 L}\n",
        "c": "batch: 3\ntitle: Three\npart_of: 1\n",
        "d": "batch: 4\ntitle: Four\npart_of: 3\n",
    }
    found, problems = journal(tmp_path, **ring)
    assert codes(problems) == ["links-in-ring"] * 3 + ["linked-batch-broken"]
    assert "batch 1 is made of itself, by way of 2 and 3" in problems[0].message
    assert problems[0].expected_by is not None
    assert problems[0].expected_by.source.name == "entries/c.md"
    assert found.batches == []


def test_what_rests_on_a_broken_entry_is_broken_and_says_where(tmp_path: Path) -> None:
    _, problems = journal(tmp_path, a=WHOLE + "stile: bitter\n", b=PART)
    errors = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert codes(errors) == ["unknown-field", "linked-batch-broken"]
    assert errors[1].expected_by == errors[0].place
