"""What is known of one thing that moved in a brewhouse's record."""

from __future__ import annotations

import math

from journal.frozen import dataclass
from journal.history.moved.causes import BREWING, CAUSES
from journal.history.moved.said import InstrumentCheck

#: A cause that holds this share of the evidence is what it was.
SURE = 0.95
#: As long as instruments and lots hold more of the evidence than this, no gain is claimed.
CLAIMED_AT_MOST = 0.005
#: Standard uncertainties between what a check shows and what the record says that make one of them wrong; how many of them a
#: 90 % interval is wide.
_DENIED, _IN_INTERVAL = 3.0, 3.29


@dataclass(frozen=True)
class PossibleCause:
    """One explanation: `cause` by its name, `of` the lot where it is one, else empty.

    `size` with its 90 % interval `low` to `high`, in `unit`: what an instrument shows too much over the truth, SG, °Bx or a
    fraction; what a lot gives less than its sheet, points of extract over 100; the brewing's own change. `weight`: its
    share of the evidence. `first_batch` to `last_batch` (None: to this day) is where it would hold.
    """

    cause: str
    of: str
    size: float
    low: float
    high: float
    unit: str
    weight: float
    first_batch: str
    last_batch: str | None

    @property
    def kind(self) -> str:
        """Instrument, lot or brewing."""
        return CAUSES[self.cause].kind


@dataclass(frozen=True)
class Move:
    """One move of the record's level: what may explain it, the likeliest first, together at least 0.95 of the evidence.

    `elsewhere`: the share of the evidence that instruments and lots hold, whether they are listed or not. `checks`: what checks
    in brewery.yaml showed since of its causes; `told`: what the brewer says happened at its date.
    """

    causes: tuple[PossibleCause, ...]
    elsewhere: float = 0.0
    checks: tuple[InstrumentCheck, ...] = ()
    told: str = ""

    @property
    def checked(self) -> frozenset[str]:
        """Causes that a check was made of since."""
        return frozenset(check.cause for check in self.checks)

    @property
    def denied(self) -> frozenset[str]:
        """Causes whose latest check shows another size, beyond three standard uncertainties of the two together."""
        latest = {check.cause: check for check in self.checks}
        return frozenset(
            cause.cause
            for cause in self.causes
            if (check := latest.get(cause.cause))
            and abs(check.off - cause.size) > _DENIED * math.hypot(check.sd, (cause.high - cause.low) / _IN_INTERVAL)
        )

    @property
    def likeliest(self) -> PossibleCause:
        """What explains it best."""
        return self.causes[0]

    @property
    def first_batch(self) -> str:
        """The first batch after the move, as the likeliest cause has it."""
        return self.likeliest.first_batch

    @property
    def last_batch(self) -> str | None:
        """The last batch of it; None while it holds."""
        return self.likeliest.last_batch

    @property
    def sure(self) -> bool:
        """Whether one cause holds nearly all of the evidence."""
        return self.likeliest.weight >= SURE

    @property
    def brewing(self) -> bool:
        """Whether nothing but the brewing itself explains it: neither an instrument nor a lot may."""
        return all(cause.kind == BREWING for cause in self.causes)

    @property
    def claims(self) -> bool:
        """Whether a gain may be claimed of it: nothing but the brewing itself explains it, for as good as certain."""
        return self.brewing and self.elsewhere <= CLAIMED_AT_MOST

    @property
    def corrects(self) -> bool:
        """Whether readings of it are surely wrong, by an instrument or a lot's sheet, and can be corrected."""
        return self.sure and self.likeliest.kind != BREWING and self.likeliest.cause not in self.denied
