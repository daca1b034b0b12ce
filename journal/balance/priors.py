"""What is expected of a brewery where nothing is recorded: common practice, wide; or the brewery's own past, passed in.

Each expectation is a mean and a standard deviation, and enters the balance like a reading that nobody wrote down. All
figures here are common practice for small all-grain systems, made wide enough for most of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from journal.reading.brewery import Brewhouse


@dataclass(frozen=True)
class Expectation:
    """Mean and standard deviation (k = 1), both in the unit of what is expected.

    `batches` it was learnt from, 0 for none.
    """

    mean: float
    sd: float
    batches: int = 0


@dataclass(frozen=True)
class Priors:
    """What a brewhouse does, as plain values.

    `conversion`: fraction; `water_held`: kg of water that a kg of grain keeps; `dead_space`: L; `shortfall`: what
    lautering stays behind the well-mixed bed, fraction of the dissolved extract; `boil_off`: L/h; `kettle_loss`: L.
    None for the two that go by the size of the brew, until something is known.
    """

    conversion: Expectation = Expectation(0.94, 0.03)
    water_held: Expectation = Expectation(1.25, 0.17)
    dead_space: Expectation = Expectation(0.5, 0.4)
    shortfall: Expectation = Expectation(0.015, 0.015)
    boil_off: Expectation | None = None
    kettle_loss: Expectation | None = None


#: Water held: four weighed brews of 1847 held 1.09 to 1.24 kg to the kg of malt (C. A. Steinheil, Dingler's Polytechnisches Journal
#: 105, 381); spent grain of 75 to 80 % water, 100 to 130 kg of it to 100 kg of grist, holds 0.8 to 1.0; small tuns whose brewers count
#: 0.8 to 1.1 L of absorption hold 1.2 to 1.5 (common practice). The expectation lies between the two, and reaches both.
#: By method, what differs: a bag is lifted and squeezed; a fly sparge is hardly ever a well-mixed bed.
_WATER_HELD = {"bag": Expectation(1.0, 0.2)}
_SHORTFALL = {
    "no sparge": Expectation(0.010, 0.015),
    "batch sparge": Expectation(0.015, 0.015),
    "fly sparge": Expectation(0.025, 0.03),
    "bag": Expectation(0.010, 0.02),
}
_UNKNOWN_METHOD = Expectation(0.02, 0.03)
#: Liquor in less wort out, by weight, is lower than the water really held: the extract adds volume, the grain brings
#: moisture.
ABSORPTION_TO_WATER_HELD = 0.42
#: Spread from batch to batch that is common practice: taken to be known within a factor of about one and a half.
_USUAL_SPREAD = {
    "conversion": 0.012,
    "water_held": 0.05,
    "dead_space": 0.1,
    "shortfall": 0.008,
    "boil_off": 0.2,
    "kettle_loss": 0.2,
}
#: Boil-off and kettle loss by the size of the brew: shares of the full kettle, an hour and once.
BOIL_OFF_SHARE = Expectation(0.13, 0.05)
KETTLE_LOSS_SHARE = Expectation(0.06, 0.04)


def usual_spread(name: str) -> float:
    """Spread from batch to batch of something expected, by the names of `Priors` (common practice)."""
    return _USUAL_SPREAD[name]


def _expect_stated(name: str, value: float, sd: float | None, vague: float) -> Expectation:
    """What a brewer states is a mean: a batch scatters about it besides; without a ± it is `vague`."""
    return Expectation(value, vague if sd is None else math.hypot(sd, usual_spread(name)))


def common_practice(brewhouse: Brewhouse, method: str) -> Priors:
    """What to expect of a brewhouse whose record says nothing yet: what its brewer states, else what is common.

    `method` is that of lautering, empty where nobody said.
    """
    priors = Priors(
        water_held=_WATER_HELD.get(method, Priors().water_held),
        shortfall=_SHORTFALL.get(method, _UNKNOWN_METHOD),
    )
    tun, kettle = brewhouse.mash_tun, brewhouse.kettle
    if tun.dead_space:
        stated = tun.dead_space
        priors = replace(
            priors, dead_space=_expect_stated("dead_space", stated.value, stated.sd, max(0.2, 0.2 * stated.value))
        )
    elif method == "bag":
        priors = replace(priors, dead_space=Expectation(0.0, 0.1))
    if kettle.loss:
        priors = replace(priors, kettle_loss=_expect_stated("kettle_loss", kettle.loss.value, kettle.loss.sd, 0.6))
    if brewhouse.boil_off:
        priors = replace(
            priors, boil_off=_expect_stated("boil_off", brewhouse.boil_off.value, brewhouse.boil_off.sd, 0.8)
        )
    if brewhouse.absorption:
        held = brewhouse.absorption.value + ABSORPTION_TO_WATER_HELD
        priors = replace(priors, water_held=_expect_stated("water_held", held, brewhouse.absorption.sd, 0.1))
    return priors


def by_size(usual: Priors, volume: float) -> Priors:
    """Expectations with those that go by the size of the brew, L, filled in where nothing is stated."""
    return replace(
        usual,
        boil_off=usual.boil_off or Expectation(BOIL_OFF_SHARE.mean * volume, BOIL_OFF_SHARE.sd * volume),
        kettle_loss=usual.kettle_loss or Expectation(KETTLE_LOSS_SHARE.mean * volume, KETTLE_LOSS_SHARE.sd * volume),
    )
