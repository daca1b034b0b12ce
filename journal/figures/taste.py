"""Colour and bitterness, as far as recipes foretell them."""

from __future__ import annotations

from journal.figures.catalogue import figure
from journal.figures.observe import HopCharge, Weighted
from journal.science import colour as colours
from journal.science import hops, malt

GROUP = "Colour and bitterness"


@figure(
    unit="EBC",
    group=GROUP,
    formula="1.97 × 1.4922 × MCU^0.6859, MCU = 8.3454 × Σ weight × °L of {grain_colours} and {added_colours} / {knockout_volume},"
    " or / {fermenter_volume}",
    source="D. A. Morey's fit; malt EBC to °L by (EBC + 1.2) / 2.65, common practice",
    either=(("knockout_volume",), ("fermenter_volume",)),
    model_share=0.10,
)
def colour(
    grain_colours: tuple[Weighted, ...],
    added_colours: tuple[Weighted, ...],
    knockout_volume: float | None = None,
    fermenter_volume: float | None = None,
) -> float | None:
    """Colour of the beer reckoned from the grist; no better than 10 %."""
    volume = knockout_volume if knockout_volume is not None else fermenter_volume
    if volume is None:
        return None
    return colours.beer_colour(
        sum(
            grain.weight * max(malt.lovibond_from_ebc(grain.value), 0.0)
            for grain in (*grain_colours, *added_colours)
            if grain.value > 0
        ),
        volume,
    )


@figure(
    unit="IBU",
    group=GROUP,
    formula="Σ weight × alpha × utilisation of {boil_hops} / {knockout_volume}, at the mean of {kettle_gravity} and {knockout_gravity}",
    source="G. Tinseth's utilisation; ± 20 % at best, common practice",
    model_share=0.20,
)
def bitterness(
    boil_hops: tuple[HopCharge, ...], kettle_gravity: float, knockout_gravity: float, knockout_volume: float
) -> float:
    """Iso-alpha acids, mg/L, reckoned from the hops."""
    gravity = (kettle_gravity + knockout_gravity) / 2
    return sum(
        hops.bitterness(hop.weight, hop.alpha, hops.tinseth_utilisation(gravity, hop.boiled), knockout_volume)
        for hop in boil_hops
    )
