"""Which words no text that a user meets has: those that were replaced, and American spellings."""

from __future__ import annotations

import html
import re

#: What was replaced, as a pattern, and what stands in its place.
REPLACED = {
    r"wanting": "missing",
    r"nought": "zero",
    r"reckon\w*": "calculated",
    r"levers?": "factor",
    r"strain(s|ed)?": "adjusted by",
    r"bears?": "takes; for a warning: flagged",
    r"believed?": "best estimate",
    r"got": "measured",
    r"unless told|(?:if|where) not given|unasked": "default",
    r"wants|(?:is|are) wanted": "must be, needs",
    r"begun": "written",
    r"leaves|leaf": "sheets",
    r"an own theme": "your own theme",
    r"(?:is|are|be) told": "said, known, separated",
    r"look at the (?:beer|mash)|looks at": "reading",
    r"first runnings": "first wort",
    r"lautering": "run-off",
    r"lauter (?:method|time)": "sparge method, run-off time",
    r"taxman": "duty returns",
    r"would tell": "needs",
    r"from memory": "a source, or common practice",
}
#: Where such a word has another use that stays, and which. The text of the phrase counts, in any capitals.
ALLOWED = {
    "yeast strain": "a strain of yeast",
    "yeast.strain": "the name of a field",
    "{strain,": "the name of a field",
    "strain of yeast": "a strain of yeast",
    "leaf gelatine": "its name in shops",
    "leaf gelatin": "its name in shops",
    "bay leaf": "a spice",
    "bay leaves": "a spice",
    "lime leaves": "a spice",
    "tea leaves": "a spice",
    "leaf hops": "hops in whole cones",
    "leaves more": "to leave",
    "leaves body": "to leave",
    "leaves less": "to leave",
    "leaves {} more": "to leave",
    "leaves {} less": "to leave",
    "leaves an adult": "to leave",
    "leaves open": "to leave",
    "leaves to the other": "to leave",
    "leaves the": "to leave",
    "leaves with the grain": "to leave",
    "leaves of the": "to leave",
    "leaves behind": "to leave",
    "leaves you": "to leave",
    "also called first runnings": "the glossary says the other name once",
    "also called lautering": "the glossary says the other name once",
    "(lautering": "the glossary says the other name once",
    "`wanting`": "the name of a theme's block",
    "figures, wanting": "the name of a theme's block",
}
#: Spelt as in America, and not part of CSS, HTML or a key of a data file.
AMERICAN = re.compile(
    r"\b(?:colors?|colored|gr[a]y|centers?|centered|flavors?|flavored|favorites?|neighbors?|behaviors?|labors?|honors?|vapors?|odors?"
    r"|liters?|milliliters?|kilometers?|fibers?|aluminum|catalogs?|analyz\w+|organiz\w+|recogniz\w+|sanitiz\w+|normaliz\w+|minimiz\w+"
    r"|maximiz\w+|summariz\w+|labeled|labeling|modeled|modeling|canceled|traveled|mold[sy]?|plow|skeptic\w*|sulfuric|defense)\b",
    re.IGNORECASE,
)
#: What is American and stays.
AMERICAN_ALLOWED = {
    "flavoring": "a name that brewers buy it by, among the kinds",
    "sulfuric acid": "the name of a kind of acid, a key of entries",
    "yeast energizer": "a name that brewers buy it by, among the kinds",
    "non-iodised": "British already",
}
_OLD = re.compile(rf"(?<![\w-])(?:{'|'.join(REPLACED)})(?![\w-])", re.IGNORECASE)
_FINE = re.compile("|".join(map(re.escape, (*ALLOWED, *AMERICAN_ALLOWED))), re.IGNORECASE)


def faults(text: str) -> list[str]:
    """The replaced and the American words of a text, each with its surroundings."""
    text = _FINE.sub("…", " ".join(html.unescape(text).split()))
    return [text[max(0, f.start() - 40) : f.end() + 30] for pattern in (_OLD, AMERICAN) for f in pattern.finditer(text)]


def text_of_page(page: str) -> str:
    """What a reader meets: no tags, no scripts, and none of the brewer's own words."""
    for own in (
        r"<(script|style)\b.*?</\1>",
        r"<section class=\"part diary-part\".*?</section>",
        r"<(q|code)\b.*?</\1>",
    ):
        page = re.sub(own, " ", page, flags=re.DOTALL)
    return re.sub(r"<[^>]+>", " ", page)
