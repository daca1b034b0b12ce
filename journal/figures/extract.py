"""Where the extract went: from the grist's potential to the fermenter, and the efficiency of each step."""

from __future__ import annotations

from math import fsum

from journal.figures.as_read import VolumeReading
from journal.figures.catalogue import figure
from journal.figures.corrected import litres
from journal.figures.grist import extract_of
from journal.figures.observe import GrainExtract
from journal.science import mash, mixing, water, wort

ACCOUNT = "Extract account"
CHAIN = "Efficiencies"
_IN_WORT = "extract = V₂₀·ρ(P)·P/100: ρ by ICUMSA SPS-4, P by the ASBC table's cubic"


def _in_wort(volume: float, gravity: float) -> float:
    return wort.extract(volume, wort.plato_from_gravity(gravity))


@figure(
    unit="kg",
    group=ACCOUNT,
    formula="(mass of {mash_liquor} + {grain_moisture}) × P / (100 − P) − {mash_added_extract}, P of {first_wort_gravity}",
    source="mass balance of the mash, as in the Congress mash (EBC Analytica 4.5.1)",
    given=("mashed",),
)
def dissolved_extract(
    mash_liquor: float,
    grain_moisture: float,
    first_wort_gravity: float,
    mash_added_extract: float,
) -> float:
    """Extract that the mash dissolved of the grist, from the strength of the first wort."""
    water_mass = mash_liquor * water.density(20.0) + grain_moisture
    return mash.dissolved_extract(water_mass, wort.plato_from_gravity(first_wort_gravity)) - mash_added_extract


@figure(unit="kg", group=ACCOUNT, formula="Σ weight × extract as is, over {mash_additions}", source="definition")
def mash_added_extract(mash_additions: tuple[GrainExtract, ...]) -> float:
    """Extract of what was added in the mash."""
    return fsum(extract_of(sugar) for sugar in mash_additions)


@figure(
    unit="kg", group=ACCOUNT, formula="Σ weight × extract as is, over {kettle_early_additions}", source="definition"
)
def kettle_early_extract(kettle_early_additions: tuple[GrainExtract, ...]) -> float:
    """Extract of what joined between the mash and the full kettle's reading."""
    return fsum(extract_of(sugar) for sugar in kettle_early_additions)


@figure(unit="kg", group=ACCOUNT, formula="{mash_added_extract} + {kettle_early_extract}", source="definition")
def early_extract(mash_added_extract: float, kettle_early_extract: float) -> float:
    """Extract in the full kettle as read that isn't the grist's."""
    return mash_added_extract + kettle_early_extract


@figure(unit="kg", group=ACCOUNT, formula="extract in {kettle_volume} at {kettle_gravity}", source=_IN_WORT)
def kettle_extract(kettle_volume: float, kettle_gravity: float) -> float:
    """Extract in the full kettle, before the boil."""
    return _in_wort(kettle_volume, kettle_gravity)


@figure(unit="kg", group=ACCOUNT, formula="Σ weight × extract as is, over {boil_additions}", source="definition")
def kettle_added_extract(boil_additions: tuple[GrainExtract, ...]) -> float:
    """Extract of sugars added to the kettle."""
    return fsum(extract_of(sugar) for sugar in boil_additions)


@figure(unit="kg", group=ACCOUNT, formula="Σ weight × extract as is, over {fermenter_additions}", source="definition")
def fermenter_added_extract(fermenter_additions: tuple[GrainExtract, ...]) -> float:
    """Extract of sugars that joined after the boil."""
    return fsum(extract_of(sugar) for sugar in fermenter_additions)


@figure(unit="kg", group=ACCOUNT, formula="{kettle_added_extract} + {fermenter_added_extract}", source="definition")
def added_extract(kettle_added_extract: float, fermenter_added_extract: float) -> float:
    """Extract that joined after the full kettle was read and did not come from the grist."""
    return kettle_added_extract + fermenter_added_extract


@figure(unit="kg", group=ACCOUNT, formula="extract in {knockout_volume} at {knockout_gravity}", source=_IN_WORT)
def knockout_extract(knockout_volume: float, knockout_gravity: float) -> float:
    """Extract at knockout, everything still in the kettle."""
    return _in_wort(knockout_volume, knockout_gravity)


@figure(unit="kg", group=ACCOUNT, formula="extract in {fermenter_volume} at {original_gravity}", source=_IN_WORT)
def fermenter_extract(fermenter_volume: float, original_gravity: float) -> float:
    """Extract in the fermenter, additions included."""
    return _in_wort(fermenter_volume, original_gravity)


@figure(unit="kg", group=ACCOUNT, formula="Σ {part_worts} × {original_extract} / 100", source="mass balance")
def parts_extract(part_worts: tuple[float, ...], original_extract: float) -> float:
    """Extract of the wort that went into the batch's parts."""
    return fsum(part_worts) * original_extract / 100.0


@figure(unit="kg", group=ACCOUNT, formula="Σ extract in {joined_worts}", source="mass balance")
def joined_extract(joined_worts: tuple[mixing.Poured, ...]) -> float:
    """Extract of other brews that went into the same fermenter."""
    return fsum(wort.extract(each.volume, each.plato) for each in joined_worts)


@figure(unit="kg", group=ACCOUNT, formula="{potential_extract} − {dissolved_extract}", source="definition")
def undissolved_extract(potential_extract: float, dissolved_extract: float) -> float:
    """Extract that the mash did not dissolve."""
    return potential_extract - dissolved_extract


@figure(
    unit="kg", group=ACCOUNT, formula="{dissolved_extract} − ({kettle_extract} − {early_extract})", source="definition"
)
def unlautered_extract(dissolved_extract: float, kettle_extract: float, early_extract: float) -> float:
    """Dissolved extract that did not reach the kettle: with the spent grain and in the dead space."""
    return dissolved_extract - (kettle_extract - early_extract)


@figure(
    unit="kg",
    group=ACCOUNT,
    formula="extract in {dead_space} of wort as strong as the {wort_left_strength} left with the grain",
    source=_IN_WORT,
)
def dead_space_extract(dead_space: VolumeReading, wort_left_strength: float) -> float:
    """Extract in the wort under the false bottom and in hoses."""
    return wort.extract(litres(dead_space), wort_left_strength)


@figure(unit="kg", group=ACCOUNT, formula="{unlautered_extract} − {dead_space_extract}", source="definition")
def spent_grain_extract(unlautered_extract: float, dead_space_extract: float) -> float:
    """Dissolved extract left in the wort that the spent grain holds."""
    return unlautered_extract - dead_space_extract


@figure(
    unit="kg", group=ACCOUNT, formula="{potential_extract} − ({kettle_extract} − {early_extract})", source="definition"
)
def mash_tun_loss(potential_extract: float, kettle_extract: float, early_extract: float) -> float:
    """Extract that did not reach the kettle, dissolved or not."""
    return potential_extract - (kettle_extract - early_extract)


@figure(
    unit="kg",
    group=ACCOUNT,
    formula="{knockout_extract} − {kettle_extract} − {kettle_added_extract}",
    source="the boil drives off water and no extract",
)
def boil_gain(knockout_extract: float, kettle_extract: float, kettle_added_extract: float) -> float:
    """Extract that the two kettle readings disagree by: nothing, but for the readings' errors."""
    return knockout_extract - kettle_extract - kettle_added_extract


@figure(
    unit="kg",
    group=ACCOUNT,
    formula="{knockout_extract} − ({fermenter_extract} − {fermenter_added_extract})",
    source="definition",
)
def kettle_left_extract(knockout_extract: float, fermenter_extract: float, fermenter_added_extract: float) -> float:
    """Extract left in the kettle with hops and trub."""
    return knockout_extract - (fermenter_extract - fermenter_added_extract)


@figure(unit="1", group=CHAIN, formula="{dissolved_extract} / {potential_extract}", source="definition")
def conversion_efficiency(dissolved_extract: float, potential_extract: float) -> float:
    """How much of what the grist could give the mash dissolved."""
    return dissolved_extract / potential_extract


@figure(
    unit="1", group=CHAIN, formula="({kettle_extract} − {early_extract}) / {dissolved_extract}", source="definition"
)
def lauter_efficiency(kettle_extract: float, dissolved_extract: float, early_extract: float) -> float:
    """How much of what was dissolved reached the kettle."""
    return (kettle_extract - early_extract) / dissolved_extract


@figure(
    unit="1",
    group=CHAIN,
    formula="({kettle_extract} − {early_extract}) / {potential_extract}",
    source="definition",
    given=("mashed",),
)
def mash_efficiency(
    kettle_extract: float,
    potential_extract: float,
    early_extract: float,
) -> float:
    """How much of what the grist could give reached the kettle."""
    return (kettle_extract - early_extract) / potential_extract


@figure(
    unit="1",
    group=CHAIN,
    formula="({fermenter_extract} − {fermenter_added_extract}) / {knockout_extract}, or / ({kettle_extract} + {kettle_added_extract})",
    source="definition",
    either=(("knockout_extract",), ("kettle_extract", "kettle_added_extract")),
)
def transfer_efficiency(
    fermenter_extract: float,
    fermenter_added_extract: float,
    knockout_extract: float | None = None,
    kettle_extract: float | None = None,
    kettle_added_extract: float | None = None,
) -> float | None:
    """How much of the kettle's extract reached the fermenter.

    Without a knockout reading, of the full kettle's and its additions.
    """
    in_kettle = knockout_extract
    if in_kettle is None and kettle_extract is not None and kettle_added_extract is not None:
        in_kettle = kettle_extract + kettle_added_extract
    return None if in_kettle is None else (fermenter_extract - fermenter_added_extract) / in_kettle


@figure(
    unit="1",
    group=CHAIN,
    formula="({fermenter_extract} − ({early_extract} + {kettle_added_extract}) × {transfer_efficiency} − {fermenter_added_extract})"
    " / {potential_extract}",
    source="definition",
    given=("mashed",),
)
def brewhouse_efficiency(
    fermenter_extract: float,
    kettle_added_extract: float,
    fermenter_added_extract: float,
    potential_extract: float,
    early_extract: float,
    transfer_efficiency: float | None = None,
) -> float:
    """How much of what the grist could give reached the fermenter; sugars are not credited to the malt.

    With a sugar in the kettle and no kettle reading, its transfer counts as complete.
    """
    transfer = 1.0 if transfer_efficiency is None else transfer_efficiency
    return (
        fermenter_extract - (early_extract + kettle_added_extract) * transfer - fermenter_added_extract
    ) / potential_extract


@figure(
    unit="1",
    group=CHAIN,
    formula="({knockout_extract} − {early_extract} − {kettle_added_extract}) / {grain_weight}",
    source="the trade's brewhouse yield (Sudhausausbeute), on the weight of malt as is",
    given=("mashed",),
)
def brewhouse_yield(
    knockout_extract: float, kettle_added_extract: float, early_extract: float, grain_weight: float
) -> float:
    """Extract at knockout by weight of grain."""
    return (knockout_extract - early_extract - kettle_added_extract) / grain_weight
