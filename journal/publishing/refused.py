"""Why something that was asked for was not done."""

from __future__ import annotations

from journal.frozen import dataclass


@dataclass(frozen=True)
class Refused:
    """Why nothing was done, in one line.

    `misused` where what was asked for can't be; False where the journal or the machine stands in the way.
    """

    why: str
    misused: bool = True


class RefusalError(Exception):
    """Carries a `Refused` from where the fault is found to the function that returns it."""

    def __init__(self, why: str, *, misused: bool = True) -> None:
        super().__init__(why)
        self.refused = Refused(why, misused)
