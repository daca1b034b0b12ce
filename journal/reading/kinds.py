"""Kinds of grain and sugar with typical values, for what a sheet or an entry does not state.

All of these are common practice: round figures such as maltsters' sheets and handbooks of the trade agree on within
their own spread, good to about 1.5 points of extract. They stand in until the brewer has the lot's own sheet.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """Typical values: extract fraction (dry basis, fine grind; or as is, for sugars), moisture fraction, WK, EBC.

    `huskless` grain brings no husk to the bed: naked, flaked or dehusked.
    """

    name: str
    moisture: float
    diastatic_power: float
    colour: float
    extract: float | None = None
    extract_as_is: float | None = None
    huskless: bool = False


def _grain(name: str, extract: float, moisture: float, power: float, colour: float, *, huskless: bool = False) -> Kind:
    return Kind(name, moisture / 100, power, colour, extract=extract / 100, huskless=huskless)


def _sugar(name: str, as_is: float, moisture: float, colour: float) -> Kind:
    return Kind(name, moisture / 100, 0.0, colour, extract_as_is=as_is / 100, huskless=True)


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        _grain("pale malt", 81.0, 4.0, 230.0, 5.5),
        _grain("pilsner malt", 81.0, 4.5, 280.0, 3.5),
        _grain("mild malt", 80.0, 4.0, 190.0, 8.0),
        _grain("vienna malt", 80.0, 4.5, 210.0, 8.0),
        _grain("munich malt", 80.0, 4.5, 150.0, 18.0),
        _grain("wheat malt", 84.0, 5.0, 280.0, 4.0, huskless=True),
        _grain("rye malt", 82.0, 5.0, 250.0, 6.0, huskless=True),
        _grain("oat malt", 61.0, 5.0, 80.0, 5.0),
        _grain("smoked malt", 80.0, 4.5, 230.0, 6.0),
        _grain("acid malt", 78.0, 5.5, 200.0, 5.0),
        _grain("amber malt", 76.0, 3.5, 20.0, 65.0),
        _grain("brown malt", 73.0, 3.0, 0.0, 150.0),
        _grain("caramel malt", 76.0, 5.0, 0.0, 120.0),
        _grain("chocolate malt", 72.0, 3.0, 0.0, 1000.0),
        _grain("black malt", 71.0, 3.0, 0.0, 1300.0),
        _grain("roasted barley", 71.0, 3.0, 0.0, 1300.0),
        _grain("flaked barley", 74.0, 9.0, 0.0, 4.0, huskless=True),
        _grain("flaked oats", 72.0, 9.0, 0.0, 3.0, huskless=True),
        _grain("flaked wheat", 79.0, 9.0, 0.0, 4.0, huskless=True),
        _grain("flaked rye", 77.0, 9.0, 0.0, 5.0, huskless=True),
        _grain("flaked maize", 86.0, 9.0, 0.0, 2.0, huskless=True),
        _grain("flaked rice", 88.0, 9.0, 0.0, 2.0, huskless=True),
        _grain("hulls", 0.0, 9.0, 0.0, 0.0),
        _sugar("sucrose", 100.0, 0.0, 0.0),
        _sugar("dextrose", 91.0, 9.0, 0.0),
        _sugar("malt extract, dry", 95.0, 4.0, 15.0),
        _sugar("malt extract, liquid", 80.0, 20.0, 15.0),
        _sugar("honey", 80.0, 18.0, 5.0),
    )
}

#: The kinds by what they are: what is mashed, and what brings its extract ready.
GRAINS = tuple(name for name, kind in KINDS.items() if kind.extract is not None)
SUGARS = tuple(name for name, kind in KINDS.items() if kind.extract_as_is is not None)
