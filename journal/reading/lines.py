"""Lines of an entry's lists: grains, additions, hops. Each may stand wherever such a thing can go in."""

from __future__ import annotations

from datetime import datetime

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import COLOUR, DIASTATIC_POWER, SHARE, TIME, WEIGHT
from journal.reading.forms import Off, OffForm
from journal.reading.kinds import ADDITIONS, GRAINS
from journal.reading.sheet_values import ExtractShare
from journal.reading.table import entry_field
from journal.reading.values import AMOUNT, Choice, Moment, Quantity, Text, YesNo

#: How good a malt's numbers are, best first.
SOURCES = ("certificate", "datasheet", "typical", "guess")
HOP_FORMS = ("cones", "pellets", "extract", "isomerised")
_WEIGHTS = frozenset({"kilogram", "gram", "milligram", "pound", "ounce"})


@dataclass(frozen=True, kw_only=True)
class LabValues:
    """What is stated of a malt or sugar: its laboratory values."""

    extract: Measure | None = entry_field(ExtractShare(), "fine-grind extract, dry basis, as the maltster states it")
    extract_as_is: Measure | None = entry_field(
        ExtractShare(SHARE.such_as("78.0 %")), "extract of the malt or sugar as weighed"
    )
    moisture: Measure | None = entry_field(Quantity(SHARE.such_as("4.0 %"), zero=True), "moisture")
    diastatic_power: Measure | None = entry_field(
        Quantity(DIASTATIC_POWER), "diastatic power, in WK (Windisch–Kolbach) or °Lintner"
    )
    colour: Measure | None = entry_field(Quantity(COLOUR), "colour, EBC or °L")
    source: str | None = entry_field(Choice(SOURCES), "how good these numbers are")


@dataclass(frozen=True, kw_only=True)
class Grain(LabValues):
    """One line of the grist."""

    malt: str | None = entry_field(
        Text(known=GRAINS), "a key of malts.yaml, a kind, or any name with its values given here", required=True
    )
    weight: Measure | None = entry_field(Quantity(WEIGHT), "weight as milled")
    share: Measure | None = entry_field(
        Quantity(SHARE.such_as("88 %"), zero=True),
        "share of the grist's weight, of a planned brew whose weights are to be calculated; a weight beside it counts",
    )


@dataclass(frozen=True, kw_only=True)
class Addition(LabValues):
    """Whatever goes in beside malt, hops and yeast: sugars, fruit, salts, acids, finings, spices."""

    addition: str | None = entry_field(
        Text(known=ADDITIONS),
        "what was added, an acid with its strength: a key of malts.yaml, a kind, or any name",
        required=True,
    )
    weight: Measure | None = entry_field(Quantity(WEIGHT.such_as("250 g")), "weight added")
    amount: Measure | None = entry_field(
        AMOUNT, "how much, in place of `weight`: a weight, a volume or a count", shown="g"
    )
    boiled: Measure | None = entry_field(Quantity(TIME, zero=True), "how long it boiled")
    on: datetime | None = entry_field(
        Moment(), "when it went in; of the fermenter's, after pitching it joins the fermenting beer"
    )

    @property
    def weighed(self) -> Measure | None:
        """Its weight, kg, however that is stated; None where it is poured or counted, or not stated."""
        if self.weight is not None:
            return self.weight
        return self.amount if self.amount is not None and self.amount.unit in _WEIGHTS else None

    @property
    def weight_field(self) -> str:
        """The field that its weight stands in."""
        return "amount" if self.weight is None and self.amount is not None else "weight"


@dataclass(frozen=True)
class Hop:
    """One addition of hops."""

    hop: str | None = entry_field(Text(), "variety, or a key of malts.yaml", required=True)
    weight: Measure | None = entry_field(Quantity(WEIGHT.such_as("30 g")), "weight", shown="g")
    alpha: Measure | None = entry_field(Quantity(SHARE.such_as("5.5 %")), "alpha acid")
    form: str | None = entry_field(Choice(HOP_FORMS), "what it was bought as")
    boiled: Measure | None = entry_field(Quantity(TIME, zero=True), "how long it boiled")
    with_first_wort: bool | None = entry_field(YesNo(), "whether it went into the kettle with the first wort")
    stood: Measure | None = entry_field(
        Quantity(TIME.such_as("20 min"), zero=True), "how long it was in the stand, where that is not all of it"
    )
    on: datetime | None = entry_field(Moment(), "when it went into the beer")
    off: Off | None = entry_field(OffForm(), "when it came out: a date, or `knockout` of the kettle's")


def name_of_line(line: object) -> str:
    """What a line of a list is of: its malt, its hop, what was added, the water; empty where it names nothing."""
    return next((getattr(line, name) or "" for name in ("malt", "addition", "hop", "name") if hasattr(line, name)), "")
