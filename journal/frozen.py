"""The standard library's frozen dataclasses, made in a third of the time. Imports nothing of ours.

Those compile six methods for each class, and a command that sets pages makes 440 of them. Here `__init__` is compiled alone, and the
other five are the same functions for every class. To a type checker both are one and the same. A value is made a third slower: `figures`
and `balance`, which make them by the ten thousand, keep to the standard library's.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from functools import cache
from operator import attrgetter
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any, TypeVar

__all__ = ["dataclass"]

T = TypeVar("T")


def _all_of(names: Sequence[str]) -> Callable[[object], tuple[Any, ...]]:
    """What has the values of several attributes, as a tuple."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda of: tuple(getattr(of, name) for name in names)


@cache
def _compared(kind: Any) -> Callable[[object], tuple[Any, ...]]:
    return _all_of([field.name for field in dataclasses.fields(kind) if field.compare])


@cache
def _hashed(kind: Any) -> Callable[[object], tuple[Any, ...]]:
    return _all_of([f.name for f in dataclasses.fields(kind) if (f.compare if f.hash is None else f.hash)])


def _equal(self: Any, other: Any) -> Any:
    if other.__class__ is not self.__class__:
        return NotImplemented
    values = _compared(self.__class__)
    return values(self) == values(other)


def _hash(self: Any) -> int:
    return hash(_hashed(self.__class__)(self))


@recursive_repr()
def _shown(self: Any) -> str:
    values = (f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self) if field.repr)
    return f"{self.__class__.__qualname__}({', '.join(values)})"


def _set_once(self: Any, name: str, value: object) -> None:
    """What `__init__` sets, and nothing afterwards."""
    values = self.__dict__
    if name in values or name not in self.__dataclass_fields__:
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")
    values[name] = value


def _keep(self: object, name: str) -> None:
    del self
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


_METHODS: dict[str, Callable[..., Any]] = {
    "__eq__": _equal,
    "__hash__": _hash,
    "__repr__": _shown,
    "__setattr__": _set_once,
    "__delattr__": _keep,
}

if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(*, frozen: bool, kw_only: bool = False) -> Callable[[type[T]], type[T]]:
        """A class as `dataclasses.dataclass` makes it; it must be `frozen`."""
        if not frozen:
            raise TypeError("what is to be changed is the standard library's to make")

        def make(kind: type[T]) -> type[T]:
            for name, method in _METHODS.items():
                if kind.__dict__.get(name) is None:
                    setattr(kind, name, method)
            return dataclasses.dataclass(eq=False, repr=False, kw_only=kw_only)(kind)

        return make
