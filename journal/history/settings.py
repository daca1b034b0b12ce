"""What a brewer can vary, as one batch had it: the levers that the record is searched for."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from math import fsum
from typing import Any, NamedTuple

from journal.figures import BatchFigures
from journal.figures.grist import extract_of
from journal.figures.observe import GrainExtract
from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.wording import per_cents
from journal.reading import Batch, Brewery, Malts, MaltValues, resolve
from journal.reading.entry import STEEP
from journal.science.mash import GRAIN_DISPLACEMENT

Setting = float | str | bool


class Brewed(NamedTuple):
    """What a lever's setting is looked up in: a batch, its figures, and its `lot_shares`."""

    batch: Batch
    figures: BatchFigures
    lots: Mapping[str, float]


@dataclass(frozen=True)
class KnownLever:
    """One thing that a brewer can vary.

    `setting`: how it was set in a batch, None where that is not recorded. `label`: its name, where the words of its key don't
    say it. `asked_for`: whether a next brew may be asked to change it. The rest is of a number alone. `unit`: the unit it is
    kept in. `useful`: the smallest change that a brewer would make on purpose, in that unit (common practice). `sensible`:
    the lowest and the highest that a next brew may be asked to take, in `unit` (common practice). `share_of`: what it is a
    share of, in words. `no_way_to`: the figures that it can't reach, whatever the record seems to say: it is neither judged by
    them nor are they adjusted for it.
    """

    setting: Callable[[Brewed], Setting | None]
    unit: str = ""
    useful: float | None = None
    sensible: tuple[float, float] = (-math.inf, math.inf)
    label: str = ""
    share_of: str = ""
    asked_for: bool = True
    no_way_to: frozenset[str] = frozenset()

    @property
    def effect_unit(self) -> str:
        """The unit of an effect per unit of the lever; empty for words."""
        return _EFFECT_UNITS.get(self.unit, f"1/{self.unit}")


#: Units of an effect that are not `1/UNIT`.
_EFFECT_UNITS = {"": "", "1": "1", "ratio": "1", "°C": "1/K", "L/kg": "kg/L"}


def _written(path: str) -> Callable[[Brewed], Setting | None]:
    """A field of the entry, by its path."""

    def setting(brewed: Brewed) -> Setting | None:
        held: Any = brewed.batch
        for name in path.split("."):
            held = None if held is None else getattr(held, name)
        return held.value if isinstance(held, Measure) else held

    return setting


def _figure(name: str) -> Callable[[Brewed], Setting | None]:
    """A figure as recorded, by its name."""

    def setting(brewed: Brewed) -> Setting | None:
        result = brewed.figures.get(name)
        return result.value if result else None

    return setting


def _main_lot(brewed: Brewed) -> str | None:
    largest = max(brewed.lots, key=lambda lot: brewed.lots[lot], default=None)
    return largest if largest is not None and brewed.lots[largest] > 0.5 else None


#: Figures of the run-off alone, and those that are settled when it begins.
_OF_THE_RUN_OFF = frozenset({"lauter_efficiency"})
_OF_THE_MASH = frozenset({"conversion_efficiency", "apparent_attenuation"})

#: What a steep has no setting of: it is no mash.
_OF_A_MASH = frozenset({"mash_ph", "liquor_to_grist", "diastatic_power", "mash_temperature", "mash_time"})

#: The levers that every record is searched for, in the order in which they are told. A lever of the grist makes another beer,
#: nobody lets a run-off stand still on purpose, and a lot that is used up can't be brewed again: those are not asked for.
#: Enzymes make sugars and don't rinse a bed. Hulls bring no starch and no enzyme. How the bed is rinsed decides neither what the
#: mash dissolved before nor which sugars it made; how long that takes may, for the enzymes go on, and is a lever of its own.
LEVERS: dict[str, KnownLever] = {
    "crush": KnownLever(_written("crush"), "mm", useful=0.1, sensible=(0.6, 2.0), label="mill gap"),
    "mash_ph": KnownLever(_figure("mash_ph"), "pH", useful=0.1, sensible=(5.1, 5.8), label="mash pH"),
    "liquor_to_grist": KnownLever(_figure("liquor_to_grist"), "L/kg", useful=0.2, sensible=(2.0, 5.0)),
    "diastatic_power": KnownLever(
        _figure("diastatic_power"), "WK", useful=20.0, asked_for=False, no_way_to=_OF_THE_RUN_OFF
    ),
    "mash_temperature": KnownLever(_figure("mash_temperature"), "°C", useful=1.0, sensible=(60.0, 72.0)),
    "mash_time": KnownLever(_figure("mash_time"), "min", useful=10.0, sensible=(20.0, 150.0)),
    "hulls": KnownLever(
        _figure("hulls_share"), "1", useful=0.02, share_of="the grist", asked_for=False, no_way_to=_OF_THE_MASH
    ),
    "huskless": KnownLever(
        _figure("huskless_share"), "1", useful=0.02, share_of="the grist", asked_for=False, label="grain without husk"
    ),
    "mixing": KnownLever(_written("mash.mixing")),
    "stuck": KnownLever(_written("mash.stuck"), "min", useful=10.0, asked_for=False, label="stuck run-off"),
    "lauter_time": KnownLever(
        _written("lauter.time"), "min", useful=10.0, sensible=(10.0, 180.0), label="run-off time"
    ),
    "lauter_method": KnownLever(_written("lauter.method"), label="sparge method", no_way_to=_OF_THE_MASH),
    "malt_lot": KnownLever(_main_lot, asked_for=False),
}


def lever_of(name: str) -> KnownLever:
    """A lever by its name; the brewer's own names under `practice` have no more than their setting."""
    return LEVERS.get(name) or KnownLever(lambda brewed: brewed.batch.practice.get(name))


def lot_words(malts: Malts, named: str) -> str:
    """A lot as a brewer calls it: a malt's name and lot as malts.yaml has them; as it goes in the record where there is none."""
    malt = malts.by_key.get(named)
    if malt is None:
        return named
    return f"{malt.name or named}, lot {malt.lot}" if malt.lot else malt.name or named


def settings_for(figure: str, settings: Mapping[str, Setting]) -> dict[str, Setting]:
    """The settings of the levers that have a way to a figure."""
    return {name: setting for name, setting in settings.items() if figure not in lever_of(name).no_way_to}


def lot_name_of(values: MaltValues) -> str:
    """What a lot goes by in the record: its key in malts.yaml, or the kind or the name of what has no sheet."""
    return values.key or values.kind or values.name


def lot_shares(batch: Batch, malts: Malts) -> dict[str, float]:
    """Share of the grist's extract that each lot of malts.yaml, or each kind without a sheet, brings."""
    parts: dict[str, float] = {}
    for index, grain in enumerate(batch.grains):
        values = resolve(grain, f"grains[{index}]", malts)
        stated = values.extract or values.extract_as_is
        if stated is None or grain.weight is None:
            continue
        moisture = values.moisture.value if values.extract and values.moisture else None
        name = lot_name_of(values)
        parts[name] = parts.get(name, 0.0) + extract_of(GrainExtract(grain.weight.value, stated.value, moisture))
    whole = fsum(parts.values())
    return {name: part / whole for name, part in parts.items()} if whole > 0 else {}


def grist_words(batch: Batch, malts: Malts, least: float) -> str:
    """The grist by weight, the most first, lots of less than a share `least` left out; empty where a weight is missing."""
    weights: dict[str, float] = {}
    for index, grain in enumerate(batch.grains):
        if grain.weight is None:
            return ""
        name = lot_name_of(resolve(grain, f"grains[{index}]", malts))
        weights[name] = weights.get(name, 0.0) + grain.weight.value
    whole = fsum(weights.values())
    lots = sorted(weights, key=lambda name: (-weights[name], name))
    shares = per_cents([weights[name] / whole for name in lots])
    return "; ".join(
        f"{lot_words(malts, name)} {share}"
        for name, share in zip(lots, shares, strict=True)
        if weights[name] > least * whole
    )


def settings_of(batch: Batch, figures: BatchFigures, lots: Mapping[str, float]) -> dict[str, Setting]:
    """Every lever that the batch's entry records, by name; the brewer's own names under `practice` are levers too.

    `lots` are its `lot_shares`.
    """
    brewed = Brewed(batch, figures, lots)
    found = {name: lever.setting(brewed) for name, lever in LEVERS.items()} | dict(batch.practice)
    none = _OF_A_MASH if batch.lauter.method == STEEP else frozenset()
    return {name: value for name, value in found.items() if value is not None and name not in none}


def most_of(batch: Batch, figures: BatchFigures, brewery: Brewery) -> dict[str, float]:
    """By lever, the highest setting that the brew's vessels have room for with its grist: the mash has to go into its tun.

    A bag is mashed in the kettle, unless a mash tun is stated. Empty where no vessel's volume or no grist is known.
    """
    _, house = brewery.brewhouse_of(batch.brewhouse)
    tun = house.mash_tun.volume or (house.kettle.volume if batch.lauter.method == "bag" else None)
    grain = figures.get("grain_weight")
    if tun is None or not grain or grain.value <= 0.0:
        return {}
    return {"liquor_to_grist": tun.value / grain.value - GRAIN_DISPLACEMENT}
