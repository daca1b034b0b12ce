"""What the head of a column says: which field its cells hold, in which unit, and how their dates and decimals are written."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from journal.frozen import dataclass
from journal.measures import Fault, MeasureKind, read_gravity, read_measure
from journal.measures.units import TEMPERATURE, WEIGHT
from journal.problems import in_words, nearest
from journal.publishing.table.field_path import PROSE, FieldPath, find_field, known_fields
from journal.reading.table import DIARY_WORDS
from journal.reading.values import AnyOf, Day, GravityText, Moment, Quantity, VesselVolume

#: What a map or a head says of numbers written `25,5`.
DECIMAL_COMMA = "decimal comma"
#: Parts of a written date, and what each matches.
_DATE_PARTS = {
    "YYYY": r"(?P<year>\d{4})",
    "YY": r"(?P<short>\d{2})",
    "DD": r"(?P<day>\d{1,2})",
    "MM": r"(?P<month>\d{1,2})",
    "hh": r"(?P<hour>\d{1,2})",
    "mm": r"(?P<minute>\d{2})",
}
#: Behind the path of a reading: the temperature that it was read at, and its uncertainty.
_QUALIFIERS = (" at", " ±")
#: Faults of `1 UNIT` that are the unit's and not the number's.
_NOT_ITS_UNIT = frozenset({"unit-unknown", "unit-wrong-kind", "number-unreadable"})


@dataclass(frozen=True)
class Column:
    """One column that is understood.

    `place` counts from 0. `field` is where its cells go; of a malt's column, the weight of the grain that `malt` names.
    `unit` is put behind a bare number, empty for none; `dates` the form of its dates, empty for the journal's own;
    `qualifies` is ` at` or ` ±` where its cells belong to another column's reading.
    """

    place: int
    head: str
    field: FieldPath
    unit: str = ""
    dates: str = ""
    comma: bool = False
    malt: str = ""
    qualifies: str = ""

    @property
    def meaning(self) -> str:
        """What it is taken for, in words."""
        what = f"weight of {self.malt} in the grist" if self.malt else f"{self.field.text}{self.qualifies}"
        unit = f" in {self.unit}" if self.unit else ""
        dates = f", written {self.dates}" if self.dates else ""
        return f"{what}{unit}{dates}{', with a decimal comma' if self.comma else ''}"

    @cached_property
    def date_form(self) -> re.Pattern[str]:
        """What matches a date of this column."""
        form = re.escape(self.dates).replace(r"\ ", r"\s+")
        for part, pattern in _DATE_PARTS.items():
            form = form.replace(part, pattern, 1)
        return re.compile(form)


@dataclass(frozen=True)
class LeftAlone:
    """A column that is not taken in, and why; `fatal` where the head is wrong rather than of another world."""

    place: int
    head: str
    why: str
    fatal: bool = False


def read_map(text: str) -> tuple[dict[str, str], list[str]]:
    """What a map says, `HEAD = PATH, UNIT` a line: each head's meaning, and what is wrong with other lines.

    Empty lines and those that begin with # say nothing; `HEAD =` leaves a column alone.
    """
    meanings: dict[str, str] = {}
    wrong = []
    for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        head, equals, meaning = line.rpartition("=")
        head = " ".join(head.split())
        if not equals or not head:
            wrong.append(
                f"line {number} of the map is “{line.strip()}”. Write HEAD = FIELD, UNIT; such as Batch size = fermenter.volume, L."
            )
        elif head in meanings:
            wrong.append(f"line {number} of the map says once more what “{head}” is. Keep one.")
        else:
            meanings[head] = meaning.strip()
    return meanings, wrong


def read_heads(heads: Sequence[str], meanings: Mapping[str, str]) -> list[Column | LeftAlone]:
    """What each column holds, by its own head or by what a map says of that; two for one field are refused."""
    taken: dict[object, str] = {}
    found: list[Column | LeftAlone] = []
    for place, written in enumerate(heads):
        head = " ".join(written.split())
        if head in meanings:
            path, _, about = meanings[head].partition(",")
            column = (
                _read(place, head, path.strip(), about) if path.strip() else LeftAlone(place, head, "as the map says")
            )
        elif head:
            path, about = _in_brackets(head)
            column = _read(place, head, path, about)
        else:
            column = LeftAlone(place, head, "it has no head")
        if isinstance(column, Column):
            goes_to = (column.field.parts, column.malt, column.qualifies)
            if goes_to in taken:
                column = LeftAlone(place, head, f"it means the same as “{taken[goes_to]}”; leave one out", fatal=True)
            else:
                taken[goes_to] = head
        found.append(column)
    return found


def _in_brackets(head: str) -> tuple[str, str]:
    """A head as the path and what stands in the brackets at its end."""
    whole = find_field(head)
    if whole is not None and whole.parts[0] == "practice":
        # a practice has no unit, so brackets are of its name
        return head, ""
    split = re.fullmatch(r"(.*\S)\s*\(([^()]*)\)", head)
    return (split[1], split[2]) if split else (head, "")


def _read(place: int, head: str, path: str, about: str) -> Column | LeftAlone:
    words = [word.strip() for word in about.split(",") if word.strip()]
    comma = DECIMAL_COMMA in words
    unit = ", ".join(word for word in words if word != DECIMAL_COMMA)
    malt = re.fullmatch(r"grains\s+(\S.*)", path)
    if malt:
        column = Column(place, head, FieldPath(("grains",), Quantity(WEIGHT)), unit, comma=comma, malt=malt[1])
        return _unit_checked(column, (WEIGHT,))
    qualifies = next((words for words in _QUALIFIERS if path.endswith(words)), "")
    field = find_field(path.removesuffix(qualifies))
    if field is None:
        near = PROSE if path.lower() in DIARY_WORDS else nearest(path, known_fields())
        return LeftAlone(place, head, f"no field is called `{path}`" + (f"; did you mean `{near}`?" if near else ""))
    return _checked(Column(place, head, field, unit, comma=comma, qualifies=qualifies))


def _checked(column: Column) -> Column | LeftAlone:
    """The column, if what stands in its brackets suits its field."""
    value = column.field.value
    if column.qualifies == " at":
        return _unit_checked(column, (TEMPERATURE,))
    if isinstance(value, Day | Moment) and column.unit:
        return _dates_checked(replace(column, unit="", dates=column.unit))
    if isinstance(value, GravityText):
        return _gravity_checked(column)
    if isinstance(value, Quantity | AnyOf):
        return _unit_checked(column, value.kinds if isinstance(value, AnyOf | VesselVolume) else (value.kind,))
    if column.unit:
        why = f"`{column.field.text}` has no unit; leave “({column.unit})” out of its head"
        return LeftAlone(column.place, column.head, why, fatal=True)
    return column


def _unit_checked(column: Column, kinds: Sequence[MeasureKind]) -> Column | LeftAlone:
    tried = [read_measure(f"1 {column.unit}", kind) for kind in kinds if column.unit]
    faults = [fault for fault in tried if isinstance(fault, Fault) and fault.code in _NOT_ITS_UNIT]
    if faults and len(faults) == len(tried):
        called = in_words([kind.called for kind in kinds], "or")
        why = f"“{column.unit}” is no unit of {called}. {faults[0].hint}"
        return LeftAlone(column.place, column.head, why, fatal=True)
    return column


def _gravity_checked(column: Column) -> Column | LeftAlone:
    if column.unit in {"", "SG"}:
        return replace(column, unit="")
    if isinstance(read_gravity(f"10 {column.unit}"), Fault):
        why = f"“{column.unit}” is no scale of gravity. Write SG, °P or °Bx"
        return LeftAlone(column.place, column.head, why, fatal=True)
    return column


def _dates_checked(column: Column) -> Column | LeftAlone:
    known = [part for part in _DATE_PARTS if part in column.dates]
    if not {"DD", "MM"} <= set(known) or not {"YYYY", "YY"} & set(known):
        why = f"“({column.dates})” is no form of dates. Write it with DD, MM and YYYY, such as (DD.MM.YYYY)"
        return LeftAlone(column.place, column.head, why, fatal=True)
    return column
