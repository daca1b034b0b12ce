"""Which lines of some folders run: what shows a fuzzer that an input reaches somewhere new."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType, FrameType
from typing import Any


class Lines:
    """Lines of these folders' files that have never run yet, by code object; those that have are traced no more."""

    def __init__(self, *folders: Path) -> None:
        self._folders = tuple(f"{folder}/" for folder in folders)
        self._unseen: dict[CodeType, set[int]] = {}
        self.seen = 0

    @contextmanager
    def watched(self) -> Iterator[None]:
        """What runs in this context counts."""
        before = sys.gettrace()
        sys.settrace(self._called)
        try:
            yield
        finally:
            sys.settrace(before)

    def _called(self, frame: FrameType, _event: str, _argument: Any) -> Any:
        code = frame.f_code
        unseen = self._unseen.get(code)
        if unseen is None:
            ours = code.co_filename.startswith(self._folders)
            unseen = {line for _, _, line in code.co_lines() if line is not None} if ours else set()
            self._unseen[code] = unseen
        return self._ran if unseen else None

    def _ran(self, frame: FrameType, event: str, _argument: Any) -> Any:
        unseen = self._unseen[frame.f_code]
        if event == "line" and frame.f_lineno in unseen:
            unseen.remove(frame.f_lineno)
            self.seen += 1
        return self._ran
