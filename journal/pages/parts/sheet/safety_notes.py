"""The cautions that a working sheet repeats where the work is: one sentence each of those on their own page."""

from __future__ import annotations

from journal.pages.model import Link
from journal.pages.parts.sheet.model import SafetyNote
from journal.pages.paths import CAUTIONS_PAGE
from journal.pages.site.cautions import CAUTIONS

#: By anchor, which sentence of a caution is for the one with wet hands.
_SENTENCE = {
    "hot-liquor": 1,
    "boil-over": 1,
    "acids": 2,
    "carbon-dioxide": 0,
    "gas": 0,
    "electricity": 0,
}


def safety_note(anchor: str) -> SafetyNote:
    """A caution by its anchor on the page of cautions."""
    caution = next(each for each in CAUTIONS if each.anchor == anchor)
    return SafetyNote(Link(caution.words, f"{CAUTIONS_PAGE}#{anchor}"), caution.sentences[_SENTENCE[anchor]])


def heating() -> tuple[SafetyNote, ...]:
    """The cautions of the stage in which water is first heated."""
    return safety_note("hot-liquor"), safety_note("gas"), safety_note("electricity")
