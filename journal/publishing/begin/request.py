"""What a brewer asks for, as typed."""

from __future__ import annotations

from datetime import date

from journal.frozen import dataclass


@dataclass(frozen=True)
class Request:
    """The words of the command; empty or None for what was not given.

    `gravity` and `volume` are as an entry would have them; `grist` is malts with their shares, with commas between;
    `swaps` are `OLD=NEW`; `today` is the day it is asked on.
    """

    today: date
    title: str = ""
    like: str = ""
    gravity: str = ""
    volume: str = ""
    on: str = ""
    brewhouse: str = ""
    swaps: tuple[str, ...] = ()
    grain_temperature: str = ""
    grist: str = ""
