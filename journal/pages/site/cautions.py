"""The usual cautions: reminders with their sources, and no training; local codes and licensed practice come first."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.index import Index
from journal.pages.model import Model


@dataclass(frozen=True)
class Caution:
    """One hazard: what to mind, sentence by sentence, and where that is published."""

    anchor: str
    words: str
    sentences: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CautionsModel(Model):
    """The usual cautions."""

    cautions: tuple[Caution, ...]

CAUTIONS = (
    Caution(
        "hot-liquor",
        "Hot liquor and wort",
        (
            "Wort clings and burns worse than water of the same heat.",
            "Wear long trousers over boots, gloves and eye protection where hot liquor is moved, and keep children and animals out.",
            "Carry nothing hot that a pump or a lower vessel could move instead.",
            "Cool a burn under running water at once, and seek medical help for any that is large, deep, or on face or hands.",
        ),
        ("Brewers Association, guidance on boil-overs, 2021", "Common practice"),
    ),
    Caution(
        "boil-over",
        "Boil-over",
        (
            "Leave room above the wort, more than the foam seems to need, and stay with the kettle until the foam has fallen.",
            "Add hops and sugar a little at a time, with the heat turned down: each gives the boil a place to burst out.",
            "Keep a hose or a jug of cold water at hand, and know how to cut the heat without reaching over the kettle.",
        ),
        ("Brewers Association, guidance on boil-overs, 2021",),
    ),
    Caution(
        "acids",
        "Acids and caustic",
        (
            "Lactic and phosphoric acid as sold burn eyes and skin; caustic does so faster than one can rinse.",
            "Add acid to water, and caustic to cold water, never the other way round; never mix the two, nor either with chlorine cleaners.",
            "Goggles and gloves, running water within reach, and the product’s own safety data sheet read before the first use.",
            "At work the air may hold 2 mg of sodium hydroxide in a cubic metre (OSHA); that is a limit for workplaces, not a safe level for a home.",
        ),
        ("OSHA, 29 CFR 1910.1000, Table Z-1", "For acids: the product’s safety data sheet"),
    ),
    Caution(
        "carbon-dioxide",
        "Carbon dioxide",
        (
            "Fermentation makes it, it is heavier than air, and it gathers in cellars, chest freezers and vessels without a smell to warn of it.",
            "Air a room before going in, never put your head into a vessel, and never enter one to clean it: that needs training and a permit.",
            "Tie down cylinders, and use a regulator and a relief valve made for the gas.",
            "Workplace limits differ by body and year: 5000 ppm over eight hours (HSE, EH40; OSHA), 15 000 ppm over fifteen minutes (HSE, EH40), 30 000 ppm over ten minutes (NIOSH, 1976).",
        ),
        (
            "HSE, EH40, workplace exposure limits",
            "NIOSH, criteria document on carbon dioxide, 1976",
            "OSHA, 29 CFR 1910.146, confined spaces",
            "WorkSafeBC, risk advisory on carbon dioxide in craft brewing",
        ),
    ),
    Caution(
        "pressure",
        "Bottles and kegs under pressure",
        (
            "Package only when two readings some days apart agree; sugar left or added beyond what the beer needs can burst a bottle.",
            "Use bottles made for pressure, without chips, and a keg’s relief valve before its lid.",
            "A bottle that gushes or a swollen container is not to be opened or drunk: cover it, chill it, and handle it with eye and hand protection.",
        ),
        ("Common practice, as food authorities word recalls of over-pressured beer",),
    ),
    Caution(
        "gas",
        "Gas burners indoors",
        (
            "A burner made for outdoors is never used in a house, garage, tent or shed with its door closed: it makes carbon monoxide, which nobody smells.",
            "Have a carbon monoxide alarm where anything burns, go over hoses with soapy water, and leave fixed gas lines to a licensed fitter.",
        ),
        ("U.S. Consumer Product Safety Commission, Carbon Monoxide Information Center",),
    ),
    Caution(
        "electricity",
        "Electricity near water",
        (
            "Heating elements and pumps in a wet room need ground-fault protection (GFCI, RCD), near sinks, outdoors and wherever the floor is damp.",
            "Never fire an element that is not covered, never work on one that is plugged in, and leave the wiring to a licensed electrician.",
        ),
        ("Oregon OSHA, topic page on ground-fault circuit interrupters",),
    ),
)
def cautions_model(index: Index) -> CautionsModel:
    """Everything on the cautions page."""
    summary = "Hot wort, acids, gas and pressure: the usual cautions, with their sources."
    return CautionsModel(frame=index.frame("Cautions", "cautions", summary), cautions=CAUTIONS)
