"""What may move: instruments, lots of malt, and the brewing itself; each with its unit, the size it usually moves by, and how
often it does.
"""

from __future__ import annotations

from journal.frozen import dataclass

#: Kinds of causes: what an instrument shows, what a lot gives against its sheet, what the brewhouse does.
INSTRUMENT, LOT, BREWING = "instrument", "lot", "brewing"


@dataclass(frozen=True)
class KnownCause:
    """One thing that may move (common practice).

    `usual`: standard deviation of the size of a move, in `unit`; of a cause that goes by the size of the brew, a share of
    the full kettle. `often`: how often it happens against the others, 1 for most. `habit`: the name in `Priors` of what the
    brewhouse does by itself; `gains`: which way the share of the extract that reaches the fermenter goes as that grows, 1 or -1,
    0 for neither.
    """

    kind: str
    unit: str
    usual: float
    often: float = 1.0
    by_kettle: bool = False
    habit: str = ""
    gains: int = 0


HYDROMETER, REFRACTOMETER = "hydrometer", "refractometer"
KETTLE_MARKS, FERMENTER_MARKS = "kettle marks", "fermenter marks"
LIQUOR_MEASURE, MALT_SCALE, MALT_LOT = "liquor measure", "malt scale", "malt lot"

#: Every cause by its name. Sizes of instruments are what they show too much: SG, °Bx, or a share of the truth; a lot's is
#: what it gives less than its sheet, as a share of its weight; the brewing's own is its change.
CAUSES: dict[str, KnownCause] = {
    HYDROMETER: KnownCause(INSTRUMENT, "SG", 0.003),
    REFRACTOMETER: KnownCause(INSTRUMENT, "°Bx", 0.7),
    KETTLE_MARKS: KnownCause(INSTRUMENT, "1", 0.04),
    FERMENTER_MARKS: KnownCause(INSTRUMENT, "1", 0.04, often=0.4),
    LIQUOR_MEASURE: KnownCause(INSTRUMENT, "1", 0.04),
    MALT_SCALE: KnownCause(INSTRUMENT, "1", 0.03, often=1.5),
    MALT_LOT: KnownCause(LOT, "1", 0.03, often=4.0),
    "conversion": KnownCause(BREWING, "1", 0.03, often=4.0, habit="conversion", gains=1),
    "run-off": KnownCause(BREWING, "1", 0.03, often=0.25, habit="shortfall", gains=-1),
    "absorption": KnownCause(BREWING, "L/kg", 0.12, often=0.25, habit="water_held", gains=-1),
    "dead space": KnownCause(BREWING, "L", 0.03, often=0.15, by_kettle=True, habit="dead_space", gains=-1),
    "boil-off": KnownCause(BREWING, "L/h", 0.025, by_kettle=True, habit="boil_off"),
    "kettle loss": KnownCause(BREWING, "L", 0.03, often=0.4, by_kettle=True, habit="kettle_loss", gains=-1),
}
#: What a brewhouse does by itself, in the order of the work: names of `Priors`.
HABITS = tuple(cause.habit for cause in CAUSES.values() if cause.habit)
