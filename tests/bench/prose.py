"""Some 300 words of brewing talk for an entry: paragraphs, links to earlier entries, a list, a table now and then."""

from __future__ import annotations

import re
from random import Random

WORDS_AN_ENTRY = 300

_SENTENCES = (
    "The {vessel} was {state} by {hour}, and the {thing} came {pace}.",
    "We stirred {count} times and let the bed lie for {count} minutes before the first wort ran.",
    "*{Thing} first*, said {who}, and the {vessel} waited.",
    "{who} read the hydrometer twice and wrote down the second reading.",
    "The {thing} smelt of {smell}, which {who} holds to be a good sign.",
    "It rained on the {vessel} until {hour}, so the lid stayed on.",
    "Nothing was spilt, apart from a cup of {thing} on the step.",
    "The run-off went {pace} at first and {pace} afterwards; we never had to stop it.",
    "With the finer gap the {thing} looked {state}, yet the husks were whole.",
    "{who} weighed the hops and left the bag open, so the shed smells of {smell}.",
    "At knockout the {vessel} held about what the plan said, give or take a jug.",
    "The thermometer was checked in melting ice and showed `0.2` too much.",
    "By {hour} the wort was {state} and the yeast was in.",
    "A skin of foam stood on the {vessel} the next morning and smelt of {smell}.",
    "We tasted the spent grain: hardly sweet, a little like {smell}.",
    "The sparge liquor was cooler than planned, because {who} took some for the tea.",
    "Next time the {thing} gets {count} minutes more and the {vessel} a better lid.",
    "The dipstick was read from both sides and the two agreed to a finger's breadth.",
    "There is a note on the wall from {who}: *close the tap before you fill the {vessel}*.",
    "The beer fell bright in {count} days & needed no help.",
    "{who} thinks the {thing} is too {state}; I think it is about right.",
    "The burner was slow to catch and the boil came {pace}, at {hour}.",
)
_SLOTS = {
    "vessel": ("kettle", "mash tun", "fermenter", "copper", "old milk churn"),
    "thing": ("first wort", "run-off", "foam", "mash", "sparge", "trub", "crush"),
    "state": ("clear", "cloudy", "ready", "warm", "dark", "pale", "thin", "even"),
    "pace": ("slowly", "briskly", "in fits", "as thick as a pencil", "without a word"),
    "hour": ("ten", "half past eleven", "noon", "two", "four", "dusk"),
    "count": ("three", "five", "eight", "twelve", "twenty"),
    "who": ("Wilmot", "Hesper", "Old Tansy", "the neighbour", "Corin"),
    "smell": ("hay", "toast", "honey", "wet slate", "apricots", "bread crust"),
}
_SLOT = re.compile(r"{(\w+)}")


def _sentence(rng: Random) -> str:
    def fill(slot: re.Match[str]) -> str:
        word = rng.choice(_SLOTS[slot[1].lower()])
        return word.capitalize() if slot[1][0].isupper() else word

    text = _SLOT.sub(fill, rng.choice(_SENTENCES))
    return text[0].upper() + text[1:]


def _list(rng: Random) -> str:
    return "\n".join(f"- {_sentence(rng)}" for _ in range(rng.randint(3, 5)))


def _table(rng: Random) -> str:
    hour, rows = 9, ["| hour | vessel | what was seen |", "| ---: | --- | --- |"]
    for _ in range(rng.randint(3, 6)):
        hour += 1
        vessel, state = rng.choice(_SLOTS["vessel"]), rng.choice(_SLOTS["state"])
        rows.append(f"| {hour}:{rng.randint(10, 59)} | {vessel} | {state} |")
    return "\n".join(rows)


def prose(rng: Random, number: int, links: list[tuple[str, str]]) -> str:
    """Markdown of about 300 words; `links` are the titles and paths of entries it looks back to."""
    blocks = [f"The same as [{title}]({path}), near enough. {_sentence(rng)}" for title, path in links]
    if number % 2:
        blocks.append(_list(rng))
    if number % 3 == 0:
        blocks.append(_table(rng))
    while len(" ".join(blocks).split()) < WORDS_AN_ENTRY:
        blocks.append("\n".join(_sentence(rng) for _ in range(rng.randint(3, 5))))
    rng.shuffle(blocks)
    return "\n\n".join([*blocks[:2], "## Afterwards", *blocks[2:]]) + "\n"
