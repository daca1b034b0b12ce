"""A slip of the pen or the hand that would explain a broken balance, and when one is named.

Each says what should have stood in the entry. One is named only where it brings the suspect to what the rest needs, beats
plain error by far, and beats every other slip: in likelihoods, at least e² to one.
"""

from __future__ import annotations

from dataclasses import dataclass

#: A slip has to come within this many standard deviations of what is needed.
FITS_WITHIN = 2.0
#: Half the difference of two squares at which one explanation is e² times as likely as the other.
CLEARLY = 4.0


@dataclass(frozen=True)
class Slip:
    """A slip by its code and the path of what is wrong.

    `meant` is what should have stood there: L at 20 °C, SG 20/20, or kg of a grain. `away` is how far that is from what the
    rest needs, in standard deviations. `words` say what happened.
    """

    code: str
    path: str
    meant: float
    away: float
    words: str
