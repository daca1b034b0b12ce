"""What a difference between two batches is made of: the malt, the mash, the run-off, the kettle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from journal.figures import Result
from journal.frozen import dataclass

#: The ways from the malt into the fermenter that a difference is followed along, by what is known of both batches: the finest first.
_WAYS = (
    (("mash", "conversion_efficiency"), ("run-off", "lauter_efficiency"), ("kettle", "transfer_efficiency")),
    (("mash and run-off", "mash_efficiency"), ("kettle", "transfer_efficiency")),
    (("brewing", "brewhouse_efficiency"),),
)
#: What must be known of both batches: what the malt offers, and what of it reaches the fermenter.
NEEDED = ("potential_extract", "grain_weight", "brewhouse_efficiency")
#: Steps that give the whole to this share follow one another; of two worts of one mash they don't.
_SAME = 1e-3
#: A difference beyond this many standard deviations is more than chance, at 90 %.
BEYOND = 1.645


@dataclass(frozen=True)
class StepPart:
    """What one step puts into a difference: a fraction of the malt's weight, with its standard deviation, ordinary scatter included."""

    step: str
    value: float
    sd: float

    @property
    def reach(self) -> tuple[float, float]:
        """Its 90 % interval."""
        return self.value - BEYOND * self.sd, self.value + BEYOND * self.sd

    @property
    def more_than_chance(self) -> bool:
        """Whether ordinary scatter and the readings' errors together hardly explain it."""
        return abs(self.value) > BEYOND * self.sd


@dataclass(frozen=True)
class MadeOf:
    """How much more of the malt's weight reached the second batch's fermenter as extract, a fraction; its parts add up to it."""

    difference: float
    parts: tuple[StepPart, ...]

    @property
    def by_size(self) -> list[StepPart]:
        """The steps, the largest first."""
        return sorted(self.parts, key=lambda part: -abs(part.value))


def made_of(
    first: Mapping[str, Result], second: Mapping[str, Result], sds: Mapping[str, float], sheet: float
) -> MadeOf | None:
    """What two batches' difference is made of, second less first; None where grist and efficiency are not known of both.

    What reaches the fermenter is the malt's weight times the steps' efficiencies; each step's part is the logarithm of its ratio,
    times the logarithmic mean of the two ends. Such parts add up to the difference whatever the order of the steps (B. W. Ang,
    Energy Policy 32 (2004) 1131). `sds` are those of the efficiencies' differences; `sheet` is the relative error, squared, that
    the two grists have in common.
    """
    if any(name not in found or found[name].value <= 0.0 for name in NEEDED for found in (first, second)):
        return None
    offered = [found["potential_extract"].value / found["grain_weight"].value for found in (first, second)]
    ends = [malt * found["brewhouse_efficiency"].value for malt, found in zip(offered, (first, second), strict=True)]
    mean = _logarithmic_mean(*ends)

    def parts() -> Iterator[StepPart]:
        own = [found["potential_extract"].sd / found["potential_extract"].value for found in (first, second)]
        common = min(sheet, own[0] * own[1])
        yield StepPart(
            "malt",
            mean * math.log(offered[1] / offered[0]),
            mean * math.sqrt(max(own[0] ** 2 + own[1] ** 2 - 2.0 * common, 0.0)),
        )
        for step, figure in _way(first, second):
            one, other = first[figure].value, second[figure].value
            # a point of the step's efficiency in points of the malt's weight
            slope = mean / _logarithmic_mean(one, other)
            yield StepPart(step, slope * (other - one), slope * sds[figure])

    return MadeOf(ends[1] - ends[0], tuple(parts()))


def _logarithmic_mean(one: float, other: float) -> float:
    """(other - one) / ln(other / one) of two positive numbers; their mean where they are all but the same."""
    if math.isclose(one, other, rel_tol=1e-6):
        return (one + other) / 2.0
    return (other - one) / math.log(other / one)


def _way(first: Mapping[str, Result], second: Mapping[str, Result]) -> tuple[tuple[str, str], ...]:
    """The finest way whose steps are known of both and make up the whole."""
    return next(way for way in _WAYS if all(_makes_up(way, found) for found in (first, second)))


def _makes_up(way: tuple[tuple[str, str], ...], found: Mapping[str, Result]) -> bool:
    figures = [figure for _, figure in way]
    if any(figure not in found or found[figure].value <= 0.0 for figure in figures):
        return False
    whole = math.prod(found[figure].value for figure in figures)
    return math.isclose(whole, found["brewhouse_efficiency"].value, rel_tol=_SAME)
