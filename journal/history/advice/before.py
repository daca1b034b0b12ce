"""Notes on what is settled before mashing in: crush, grist, instruments."""

from __future__ import annotations

from journal.history.advice.advice import COMMON, Advice, AdvisedBatch
from journal.reading.entry import STEEP

#: °Lintner. A grist below this may not convert on its own.
LEAST_POWER = 35.0
#: Shares of the grist.
MOST_WITHOUT_HUSK, FEW_HULLS = 0.20, 0.005
#: Days that a pH meter is trusted for.
CALIBRATED_FOR = 30


def finer_than_stuck(advised: AdvisedBatch) -> Advice | None:
    """A mill set finer than at a mash that stuck in the same brewhouse."""
    gap = advised.batch.crush
    if gap is None:
        return None
    key = advised.journal.brewhouse_key
    stuck = [
        (other.crush.value, other)
        for other in advised.earlier
        if other.crush and other.mash.stuck and other.mash.stuck.value > 0
        if key(other) == key(advised.batch) and other.crush.value > gap.value
    ]
    if not stuck:
        return None
    nearest, other = min(stuck, key=lambda found: found[0])
    return Advice(
        "finer-than-stuck",
        f"At {advised.shown(gap.value, 'mm')} the mill is set finer than at {advised.shown(nearest, 'mm')}, where batch {other.id} stuck.",
        "More flour and torn husks make a tighter bed; hulls, a slower start of the run-off or a wider gap help.",
        "this brewery's own record",
        "crush",
    )


def without_husk(advised: AdvisedBatch) -> Advice | None:
    """A grist with much grain that brings no husk, and no hulls; a bag needs none."""
    huskless, hulls = advised.value("huskless_share"), advised.value("hulls_share")
    if huskless is None or hulls is None or advised.batch.lauter.method == "bag":
        return None
    if huskless <= MOST_WITHOUT_HUSK or hulls > FEW_HULLS:
        return None
    return Advice(
        "without-husk",
        f"{advised.shown(huskless, '1')} of the grist brings no husk, and no hulls are with it.",
        "Above a fifth the bed is apt to set; some 2 to 5 % of hulls keep it open.",
        COMMON,
        "grains",
    )


def low_diastatic_power(advised: AdvisedBatch) -> Advice | None:
    """A grist under the least that the trade counts on; of grain that is only steeped no starch is to be converted."""
    power = advised.value("diastatic_power_lintner")
    if power is None or power >= LEAST_POWER or advised.batch.lauter.method == STEEP:
        return None
    return Advice(
        "low-diastatic-power",
        f"The grist has about {advised.shown(power, '°Lintner')}; 35 to 40 is what a mash is usually given.",
        "With fewer enzymes starch may be left over; a longer mash, an iodine test or more pale malt help.",
        "Oxford Companion to Beer (2011), “diastatic power”: as low as 35 °Lintner for malt that converts well",
        "grains",
    )


def meter_not_calibrated(advised: AdvisedBatch) -> Advice | None:
    """A pH read with a meter whose last known calibration is long past."""
    days = advised.journal.brewery.instruments.ph_meter.calibrated
    path = "mash.ph" if advised.batch.mash.ph else "lauter.ph" if advised.batch.lauter.ph else ""
    if not path or not days or advised.batch.brewed is None:
        return None
    # a list that begins after this brew says nothing of it
    since = min(((advised.batch.day - day).days for day in days if day <= advised.batch.day), default=0)
    if since <= CALIBRATED_FOR:
        return None
    return Advice(
        "meter-not-calibrated",
        f"The pH meter was last calibrated {since} days before.",
        "Electrodes drift by some hundredths in weeks; two buffers on brew day make the reading worth its digits.",
        COMMON,
        path,
    )


RULES = (finer_than_stuck, without_husk, low_diastatic_power, meter_not_calibrated)
