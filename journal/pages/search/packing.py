"""Lists of words and of places, packed into little text."""

from __future__ import annotations

from collections.abc import Iterable

#: Sixty-four signs that need no escape in a script.
SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
_BITS = 5
_MORE = 1 << _BITS


def _packed(number: int) -> str:
    """A natural number, five bits a sign, the lowest first; the sixth bit says that more follow."""
    signs = ""
    while number >= _MORE:
        signs += SIGNS[number % _MORE + _MORE]
        number //= _MORE
    return signs + SIGNS[number]


_SMALL = tuple(_packed(number) for number in range(_MORE * _MORE))


def pack_places(places: Iterable[int]) -> str:
    """Rising numbers from 0 on as the steps from one to the next."""
    signs, last = [], -1
    for place in places:
        step = place - last - 1
        signs.append(_SMALL[step] if step < len(_SMALL) else _packed(step))
        last = place
    return "".join(signs)


def pack_words(words: Iterable[str]) -> list[str]:
    """Sorted words, each as a sign for how many letters it shares with the one before, and the rest."""
    packed, before = [], ""
    for word in words:
        most = min(len(word), len(before), len(SIGNS) - 1)
        shared = next((n for n in range(most) if word[n] != before[n]), most)
        packed.append(SIGNS[shared] + word[shared:])
        before = word
    return packed
