"""The page on how an entry is written: told from the table that reads it."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest
from pages.seen import WHOLE, one_batch, page_at, seen_at

from journal.measures import units
from journal.measures.units import KINDS, MeasureKind
from journal.pages.site.fields import FieldFile, FieldRow, FieldsModel
from journal.reading.schema import TABLES, field_lines


def model_of(root: Path) -> FieldsModel:
    model = page_at(one_batch(root, WHOLE), "fields.html").model
    assert isinstance(model, FieldsModel)
    return model


def rows(file: FieldFile) -> list[FieldRow]:
    return list(chain.from_iterable([*([group.head] if group.head else []), *group.fields] for group in file.groups))


@pytest.mark.parametrize("file", TABLES)
def test_every_field_is_told_once(file: str, tmp_path: Path) -> None:
    told = next(found for found in model_of(tmp_path).files if found.anchor == file)
    assert sorted(row.path for row in rows(told)) == sorted(line.path for line in field_lines(file))


def test_every_field_has_a_place_of_its_own_to_lead_to(tmp_path: Path) -> None:
    record = one_batch(tmp_path, WHOLE)
    places = [row.anchor for file in model_of(tmp_path).files for row in rows(file)]
    assert len(places) == len(set(places))
    seen = seen_at(record, "fields.html")
    ids = [attributes["id"] for _, attributes in seen.elements if "id" in attributes]
    assert set(places) <= set(ids)
    assert len(ids) == len(set(ids))


def test_what_is_required_and_what_one_of_a_few_words_says_so(tmp_path: Path) -> None:
    entry_file = model_of(tmp_path).files[0]
    by_path = {row.path: row for row in rows(entry_file)}
    assert by_path["batch"].required
    assert not by_path["style"].required
    assert by_path["lauter.method"].written == "`no sparge | batch sparge | fly sparge | bag | steep`"


def test_every_kind_with_a_unit_is_told_with_all_its_spellings(tmp_path: Path) -> None:
    told = {row.kind: set(row.spellings) for row in model_of(tmp_path).units}
    known = [kind for kind in vars(units).values() if isinstance(kind, MeasureKind) and any(kind.written)]
    assert told == {kind.name: set(filter(None, kind.written)) for kind in known}
    # a kind with other bounds, for another use, is the same kind
    assert len(KINDS) == len({kind.name for kind in known})
