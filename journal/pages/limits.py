"""A brewer's templates get so much time and so much paper: a cloned theme must not keep a machine busy for ever.

Time is the processor's, so that a busy machine makes no difference. It is measured where the system can interrupt a process, and only in
its main thread; elsewhere a template that never ends is ended by whoever waits for it.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

from jinja2.sandbox import ImmutableSandboxedEnvironment

#: Seconds for one page, and characters: the longest of a journal of ten thousand batches has a third of that.
SECONDS, LONGEST = 20.0, 256 * 1024 * 1024
#: A text made by multiplication, and a number made by a power, have at most so many characters and bits.
_LARGEST_PRODUCT, _LARGEST_POWER = 1_000_000, 10_000


class TooMuchError(Exception):
    """A template takes more than it is given; the text says of what."""


@contextmanager
def limited_time(seconds: float = SECONDS) -> Iterator[None]:
    """Ends what happens within after so many seconds of work. Raises TooMuchError."""
    if not hasattr(signal, "setitimer") or threading.current_thread() is not threading.main_thread():
        yield
        return

    def end(_signal: int, _frame: FrameType | None) -> None:
        raise TooMuchError(f"it does not end within {seconds:.0f} s of work")

    before = signal.signal(signal.SIGPROF, end)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def limited_text(parts: Iterable[str]) -> str:
    """Parts of a text as one. Raises TooMuchError."""
    kept, length = [], 0
    for part in parts:
        length += len(part)
        if length > LONGEST:
            raise TooMuchError(f"it sets more than {LONGEST // 1024 // 1024} MiB for one page")
        kept.append(part)
    return "".join(kept)


class LimitedSandbox(ImmutableSandboxedEnvironment):
    """The sandbox of a brewer's templates; what a short expression could make endless is refused there too."""

    intercepted_binops = frozenset({"*", "**"})

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """A product or a power, if it is of a size that a page could want."""
        if operator == "*":
            _check_product(left, right)
            _check_product(right, left)
        elif isinstance(left, int) and isinstance(right, int) and left.bit_length() * max(right, 0) > _LARGEST_POWER:
            raise TooMuchError("its power is too large a number")
        return super().call_binop(context, operator, left, right)


def _check_product(text: Any, times: Any) -> None:
    if isinstance(times, int) and isinstance(text, str | bytes | list | tuple) and len(text) * times > _LARGEST_PRODUCT:
        raise TooMuchError(f"its product is longer than {_LARGEST_PRODUCT}")
