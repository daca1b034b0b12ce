"""Time in the ranges of the mash's enzymes."""

from __future__ import annotations

from journal.figures.catalogue import figure
from journal.figures.observe import RestStep
from journal.science import mash

GROUP = "Mash"
_RANGE = {enzyme.name: enzyme for enzyme in mash.ENZYMES}


def _minutes(rests: tuple[RestStep, ...], enzyme: str) -> float:
    return mash.minutes_in_range([tuple(rest) for rest in rests], _RANGE[enzyme].low, _RANGE[enzyme].high)


def _facts(enzyme: str) -> dict[str, str]:
    found = _RANGE[enzyme]
    formula = f"Σ time of the {{mash_rests}} from {found.low:g} to {found.high:g} °C"
    return {
        "unit": "min",
        "group": GROUP,
        "formula": formula,
        "source": f"{found.source}; authors differ by a few degrees",
    }


@figure(**_facts("beta_glucanase"))
def minutes_beta_glucanase(mash_rests: tuple[RestStep, ...]) -> float:
    """Time at rests where beta-glucanase works."""
    return _minutes(mash_rests, "beta_glucanase")


@figure(**_facts("protease"))
def minutes_protease(mash_rests: tuple[RestStep, ...]) -> float:
    """Time at rests where proteases work."""
    return _minutes(mash_rests, "protease")


@figure(**_facts("beta_amylase"))
def minutes_beta_amylase(mash_rests: tuple[RestStep, ...]) -> float:
    """Time at rests where beta-amylase works."""
    return _minutes(mash_rests, "beta_amylase")


@figure(**_facts("alpha_amylase"))
def minutes_alpha_amylase(mash_rests: tuple[RestStep, ...]) -> float:
    """Time at rests where alpha-amylase works."""
    return _minutes(mash_rests, "alpha_amylase")
