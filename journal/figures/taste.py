"""Colour and bitterness, as far as recipes foretell them."""

from __future__ import annotations

from math import fsum

from journal.figures.catalogue import figure
from journal.figures.hopping import IN_MASH, ISOMERISED, HopCharge
from journal.figures.observe import Weighted
from journal.science import colour as colours
from journal.science import hops, malt

GROUP = "Colour and bitterness"


def _thinned(kettle: float, top_up: float, fermenter: float | None) -> float:
    """L that all the wort of the kettle would have made, had it been thinned as what went into the fermenter was."""
    if top_up <= 0.0:
        return kettle
    if fermenter is None or fermenter <= top_up:
        return kettle + top_up
    return kettle * fermenter / (fermenter - top_up)


@figure(
    unit="EBC",
    group=GROUP,
    formula="1.97 × 1.4922 × MCU^0.6859, MCU = 8.3454 × Σ weight × °L of {grain_colours} and {added_colours} / {knockout_volume},"
    " thinned as {fermenter_top_up} thins {fermenter_volume}; or / {fermenter_volume}",
    source="D. A. Morey's fit; malt EBC to °L by (EBC + 1.2) / 2.65, common practice",
    either=(("knockout_volume",), ("fermenter_volume",)),
    model_share=0.10,
    metric=True,
)
def colour(
    grain_colours: tuple[Weighted, ...],
    added_colours: tuple[Weighted, ...],
    knockout_volume: float | None = None,
    fermenter_volume: float | None = None,
    fermenter_top_up: float = 0.0,
) -> float | None:
    """Colour of the beer calculated from the grist; no better than 10 %."""
    volume = fermenter_volume
    if knockout_volume is not None:
        volume = _thinned(knockout_volume, fermenter_top_up, fermenter_volume)
    if volume is None:
        return None
    return colours.beer_colour(
        fsum(
            grain.weight * max(malt.lovibond_from_ebc(grain.value), 0.0)
            for grain in (*grain_colours, *added_colours)
            if grain.value > 0
        ),
        volume,
    )


def _utilisation(hop: HopCharge, gravity: float, stood: float) -> float:
    """The share of a hop's alpha that ends as bitterness, after so many minutes of boil in its stand's place."""
    if hop.way == ISOMERISED:
        return 1.0
    if hop.way == IN_MASH:
        return hops.mash_hop_utilisation(gravity)
    return hops.tinseth_utilisation(gravity, hop.boiled + stood)


@figure(
    unit="IBU",
    group=GROUP,
    formula="Σ weight × alpha × utilisation of {hot_hops} / {knockout_volume}, at the mean of {kettle_gravity} and {knockout_gravity},"
    " thinned as {fermenter_top_up} thins {fermenter_volume}",
    source="G. Tinseth's utilisation; stands and slow cooling by M. G. Malowicki & T. H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434;"
    " mash hops by T. Justus, MBAA TQ 55(3) (2018); ± 20 % at best, common practice",
    model_share=0.20,
    metric=True,
)
def bitterness(
    hot_hops: tuple[HopCharge, ...],
    kettle_gravity: float,
    knockout_gravity: float,
    knockout_volume: float,
    fermenter_volume: float | None = None,
    fermenter_top_up: float = 0.0,
) -> float:
    """Iso-alpha acids of the beer, mg/L, as they are calculated from the hops."""
    gravity = (kettle_gravity + knockout_gravity) / 2
    volume = _thinned(knockout_volume, fermenter_top_up, fermenter_volume)
    return fsum(
        hops.bitterness(hop.weight, hop.alpha, _utilisation(hop, gravity, hop.stood), volume) for hop in hot_hops
    )


@figure(
    unit="IBU",
    group=GROUP,
    formula="Σ weight × alpha × what the utilisation of {hot_hops} rises by after knockout / {knockout_volume},"
    " at the mean of {kettle_gravity} and {knockout_gravity}, thinned as {fermenter_top_up} thins {fermenter_volume}",
    source="M. G. Malowicki & T. H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434, as minutes of boil in the stand's place",
    model_share=0.20,
    given=("hot_stand",),
    metric=True,
)
def stand_bitterness(
    hot_hops: tuple[HopCharge, ...],
    kettle_gravity: float,
    knockout_gravity: float,
    knockout_volume: float,
    fermenter_volume: float | None = None,
    fermenter_top_up: float = 0.0,
) -> float:
    """The part of the bitterness that came after knockout."""
    gravity = (kettle_gravity + knockout_gravity) / 2
    volume = _thinned(knockout_volume, fermenter_top_up, fermenter_volume)

    def rise(hop: HopCharge) -> float:
        return _utilisation(hop, gravity, hop.stood) - _utilisation(hop, gravity, 0.0)

    return fsum(hops.bitterness(hop.weight, hop.alpha, rise(hop), volume) for hop in hot_hops)


@figure(
    unit="L",
    group=GROUP,
    formula="7.5 L/kg × Σ {dry_hop_weights}",
    source="Totally Natural Solutions (2019), quoted in a trade article: 7 to 8 L/kg of pellets",
    model_share=hops.BEER_KEPT_SD / hops.BEER_KEPT,
    metric=True,
)
def beer_in_hops(dry_hop_weights: tuple[float, ...]) -> float:
    """Beer that the dry hops keep."""
    return hops.beer_kept(fsum(dry_hop_weights))
