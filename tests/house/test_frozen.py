"""Frozen dataclasses that are made quickly are what the standard library makes."""

from __future__ import annotations

import dataclasses
import pickle
from copy import copy
from functools import cached_property

import pytest

from journal.frozen import dataclass


@dataclass(frozen=True)
class Cask:
    """As ours are: defaults, factories, and fields that are not compared or shown."""

    name: str
    litres: float = 20.0
    notes: dict[str, str] = dataclasses.field(default_factory=dict, hash=False)
    place: str = dataclasses.field(default="", repr=False, compare=False)

    @cached_property
    def gallons(self) -> float:
        """Worked out when it is asked for."""
        return self.litres / 4.54609


@dataclass(frozen=True, kw_only=True)
class Pin(Cask):
    """One that inherits."""

    tapped: bool


OF_THE_LIBRARY = dataclasses.make_dataclass(
    "Cask", [(f.name, f.type, f) for f in dataclasses.fields(Cask)], frozen=True, namespace={"__module__": __name__}
)


@pytest.mark.parametrize("one", [("a",), ("a", 20.0, {}, "cellar"), ("a", 5.0), ("b",), ("a", float("nan"))])
@pytest.mark.parametrize("other", [("a",), ("a", 5.0), ("b", 20.0), ("a", float("nan"))])
def test_equal_alike_and_shown_as_the_librarys(one: tuple[object, ...], other: tuple[object, ...]) -> None:
    ours, theirs = [Cask(*one), Cask(*other)], [OF_THE_LIBRARY(*one), OF_THE_LIBRARY(*other)]  # type: ignore[arg-type]
    assert (ours[0] == ours[1]) == (theirs[0] == theirs[1])
    assert [hash(each) for each in ours] == [hash(each) for each in theirs]
    assert [repr(each) for each in ours] == [repr(each) for each in theirs]


def test_another_class_with_the_same_values_is_another() -> None:
    assert Pin(name="a", tapped=True) != Cask("a")
    assert Pin(name="a", tapped=True) == Pin(name="a", tapped=True)
    assert Pin(name="a", tapped=True) != Pin(name="a", tapped=False)
    assert Cask("a") != "a"


def test_nothing_is_set_or_deleted_afterwards() -> None:
    cask = Cask("a")
    assert cask.gallons == pytest.approx(4.39938, rel=1e-5)
    for name in ("name", "place", "gallons", "new"):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(cask, name, 1)
    with pytest.raises(dataclasses.FrozenInstanceError):
        del cask.name  # type: ignore[misc]


def test_copied_replaced_and_kept_as_the_librarys() -> None:
    cask = Cask("a", 9.0)
    assert copy(cask) == cask == pickle.loads(pickle.dumps(cask))
    assert dataclasses.replace(cask, name="b") == Cask("b", 9.0)
    assert dataclasses.asdict(cask) == {"name": "a", "litres": 9.0, "notes": {}, "place": ""}


def test_what_is_to_be_changed_is_not_made_here() -> None:
    with pytest.raises(TypeError):
        dataclass(frozen=False)
