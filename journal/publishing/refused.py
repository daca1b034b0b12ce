"""Why something that was asked for was not done."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Refused:
    """Why nothing was done, in one line.

    `misused` where what was asked for can't be; False where the journal or the machine stands in the way.
    """

    why: str
    misused: bool = True
