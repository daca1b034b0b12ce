"""The usual cautions: reminders with their sources, and no training; local codes and licensed practice come first."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Model
from journal.pages.words import corrosive
from journal.reading import Batch
from journal.reading.table import is_blank


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

#: In the order of the work. Sources are bodies whose texts are public; what everybody in the trade does is called common practice.
CAUTIONS = (
    Caution(
        "who-drinks",
        "Before the first brew: who drinks it, and the law",
        (
            "Find out what your country and town allow: how much a home may brew, at what age, and whether it may be sold or given away. In the United States federal law leaves an adult 100 gallons a year and a household 200; elsewhere it is something else.",
            "Taking ice out of beer concentrates alcohol, and in many countries that counts as distilling.",
            "Beer is not for minors, not in pregnancy, and not before driving or working with machines.",
            "Tell guests what is in it: barley and wheat (gluten), oats, lactose (milk), nuts, sulphite and some finings are allergens.",
            "Beer is no food for dogs, and neither are spent hops: they can kill one.",
        ),
        (
            "27 CFR 25.205 (home brewing)",
            "UK Chief Medical Officers’ low risk drinking guidelines, 2016",
            "Regulation (EU) No 1169/2011, Annex II (allergens)",
            "Common practice",
        ),
    ),
    Caution(
        "mill",
        "The mill, and lifting",
        (
            "Keep fingers, hair, sleeves and cords away from the rollers, and unplug a driven mill before freeing it.",
            "Mill where dust can go, and wear a mask: grain dust brings on asthma, and a cloud of it can burn.",
            "A full kettle weighs more than it looks, for a litre is a kilogram: move water by pump or jug, two people to a sack, and never lift what is hot.",
        ),
        ("HSE, guidance note EH66, grain dust", "HSE, INDG143, manual handling at work", "Common practice"),
    ),
    Caution(
        "gas",
        "Gas burners",
        (
            "A burner made for outdoors is lit outdoors only: never in a house, garage, tent or shed, not even with doors and windows open, for carbon monoxide gathers all the same and nobody smells it.",
            "Headache, dizziness, weakness, nausea or confusion near a burner: out into fresh air at once, everybody, and call for help.",
            "Have a carbon monoxide alarm wherever anything burns, go over hoses with soapy water and never with a flame, and leave fixed gas lines to a licensed fitter.",
            "Stand the burner level and clear of anything that burns, and know how to shut the cylinder.",
        ),
        ("U.S. Consumer Product Safety Commission, Carbon Monoxide Fact Sheet (466)", "Florida Department of Health, carbon monoxide, 2024"),
    ),
    Caution(
        "electricity",
        "Electricity near water",
        (
            "Heating elements and pumps in a wet room need ground-fault protection (GFCI, RCD), near sinks, outdoors and wherever the floor is damp.",
            "An element stays wholly under liquid while it is on; one that runs dry burns through, and may set fire to what is near.",
            "Never work on anything that is plugged in, and leave the wiring to a licensed electrician.",
        ),
        ("Oregon OSHA, topic page on ground-fault circuit interrupters", "Common practice"),
    ),
    Caution(
        "hot-liquor",
        "Hot liquor and wort",
        (
            "Wort clings and burns worse than water of the same heat.",
            "Wear long trousers over boots, gloves and eye protection where hot liquor is moved, and keep children and animals out.",
            "Carry nothing hot that a pump or a lower vessel could move instead.",
            "Cool a burn under cool running water for twenty minutes, without ice or ointment, and get medical help for any that is large, deep, or on face or hands.",
        ),
        (
            "Brewers Association, guidance on boil-overs, 2021",
            "Kent Fire and Rescue Service, first aid for burns and scalds",
            "Common practice",
        ),
    ),
    Caution(
        "boil-over",
        "Boil-over",
        (
            "Leave room above the wort, more than the foam seems to need, and stay with the kettle until the foam has fallen.",
            "Add hops a little at a time, with the heat turned down: each gives the boil a place to burst out.",
            "Turn the heat off before sugar or extract is stirred in, and on again when it is dissolved: on the bottom it scorches, and an element under it burns through.",
            "Keep a hose or a jug of cold water at hand, and know how to cut the heat without reaching over the kettle.",
        ),
        ("Brewers Association, guidance on boil-overs, 2021", "Common practice"),
    ),
    Caution(
        "acids",
        "Acids, alkalis and cleaners",
        (
            "Lactic acid 80 %, phosphoric acid 75 %, mixed acids sold for liquor (hydrochloric and sulphuric) and citric acid burn eyes and skin; caustic soda (lye, sodium hydroxide), slaked lime (calcium hydroxide) and washing soda do so as well, caustic faster than one can rinse.",
            "Add acid to water, and caustic to cold water, never the other way round; never mix the two, nor either with chlorine cleaners.",
            "Goggles and gloves, running water within reach, and the product’s own safety data sheet read before the first use.",
            "Caustic never on aluminium: it eats the metal and gives off hydrogen, which explodes.",
            "Never wash a vessel full of carbon dioxide with caustic while it is sealed, and never cool a sealed hot one: both suck it flat.",
            "In eyes or on skin: rinse with running water for twenty minutes, and get medical help.",
            "At work the air may hold 2 mg of sodium hydroxide in a cubic metre (OSHA); that is a limit for workplaces, not a safe level for a home.",
        ),
        (
            "OSHA, 29 CFR 1910.1000, Table Z-1",
            "ILO and WHO, International Chemical Safety Card 0360, sodium hydroxide",
            "The product’s safety data sheet",
            "Common practice",
        ),
    ),
    Caution(
        "carbon-dioxide",
        "Carbon dioxide, and dry ice",
        (
            "Fermentation makes it, it is heavier than air, and it gathers in cellars, chest freezers and vessels without a smell to warn of it.",
            "Air a room before going in, never put your head into a vessel, and never enter one to clean it: that needs training and a permit.",
            "A flame is no test: a candle still burns where the gas already harms. A meter with an alarm is one.",
            "Headache, quick breath, dizziness: out into fresh air, and nobody goes in after another without help.",
            "An airlock that hops, fruit or foam have blocked lets the pressure grow until lid or glass gives way: look at it daily, and use a wide hose while the beer is lively.",
            "Dry ice burns the skin, fills a room or a car with gas, and bursts whatever is closed over it.",
            "Tie down cylinders, and use a regulator and a relief valve made for the gas.",
            "Workplace limits differ by body and year: 5000 ppm over eight hours (HSE, EH40; OSHA), 15 000 ppm over fifteen minutes (HSE, EH40), 30 000 ppm over ten minutes (NIOSH, 1976).",
        ),
        (
            "HSE, EH40, workplace exposure limits",
            "NIOSH, criteria document on carbon dioxide, 1976",
            "OSHA, 29 CFR 1910.146, confined spaces",
            "WorkSafeBC, risk advisory on carbon dioxide in craft brewing",
            "Common practice",
        ),
    ),
    Caution(
        "glass",
        "Glass",
        (
            "A glass carboy breaks from heat, from a knock and from its own weight when it is wet: carry it dry, in a crate or harness, never by its neck, and put nothing hot into it.",
            "A hydrometer breaks in hot wort and rolls off tables; count the pieces, and throw away what they fell into.",
        ),
        ("Common practice",),
    ),
    Caution(
        "pressure",
        "Bottles under pressure",
        (
            "Package only when two readings three days apart agree, and where yeast and mash led to expect it to end: a stuck beer looks level too.",
            "Sugar left or added beyond what the beer needs can burst a bottle, and glass blinds: weigh it, and never more than the sum says.",
            "Use bottles made for pressure, without chips: no more than 3.5 volumes in those of unknown make and 4 in any.",
            "Keep the first ones in a closed box. A bottle that gushes or a swollen container is not to be opened or drunk: cover it, chill it, and handle it with eye and hand protection.",
        ),
        ("Common practice, as food authorities word recalls of over-pressured beer",),
    ),
    Caution(
        "kegs",
        "Kegs under pressure",
        (
            "Fill only vessels that say what pressure they are made for, keep below it, and never one without a relief valve; plastic ones age.",
            "A regulator made for the gas stands between cylinder and keg, set before the valve is opened.",
            "Let the pressure off by the relief valve before a lid or a fitting is loosened.",
        ),
        ("The makers’ instructions", "Common practice"),
    ),
)


def cautions_for(batch: Batch) -> tuple[tuple[str, str], ...]:
    """What an entry shows to be minded: the caution's anchor and the words that lead to it, in the order of the work."""
    package, additions = batch.package, [*batch.mash.additions, *batch.lauter.additions, *batch.boil.additions]
    found = []
    if any(corrosive(addition.addition or "") for addition in additions):
        found.append(("acids", "acids and alkalis"))
    if batch.ice_removed is not None:
        found.append(("who-drinks", "the law on taking out ice"))
    if batch.boil.additions:
        found.append(("boil-over", "heat off before sugar goes in"))
    if package.container in {"keg", "cask"} or package.pressure is not None or package.closed is not None:
        found.append(("kegs", "kegs under pressure"))
    elif package.container or not is_blank(package.priming) or package.carbonation is not None:
        found.append(("pressure", "bottles under pressure"))
    elif not is_blank(package):
        found += [("pressure", "bottles"), ("kegs", "and kegs under pressure")]
    return tuple(found)


def cautions_model(index: Index) -> CautionsModel:
    """Everything on the cautions page."""
    summary = "Heat, gas, acids, glass and pressure: the usual cautions in the order of the work, with their sources."
    return CautionsModel(frame=index.frame("Cautions", "cautions", summary), cautions=CAUTIONS)
