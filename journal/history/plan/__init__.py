"""The next brew: planned from what the brewhouse did before, and corrected on the day.

In: an aim, a grist, and what is expected of the brewhouse as plain values (`Priors`); on the day, a planned `Batch` with its
figures as recorded, and a reading. Out: a `Plan` or the `Refusal` that says what would work; the strike temperature; a
`Correction` with its remedies, or a whole `CorrectionTable` of them. Numbers only: L at 20 °C, kg, SG 20/20, °C, minutes
of boil in remedies and hours in aims. Imports `balance`, `figures`, `measures`, `reading`, `science`; knows no page and
writes nothing.

A correction is advised where the *believed* original gravity, reading and plan each taken for what it is worth, lies more than
a point off; going by whether a reading lies outside its range left too much undone. A grist by shares is worked out with the
liquors that the entry leaves open (`by_shares`) and put into the record before anything is shown (`publishing/weighed_out.py`).
"""

from journal.history.plan.aim import STRONGEST, WEAKEST, Aim, Grist, GristLine, Plan
from journal.history.plan.correct import GRAVITY, VOLUME, Correction, Corrector, Range, correct
from journal.history.plan.forecast import KETTLE, KNOCKOUT, forecast_of, gravity_wanted, target_of
from journal.history.plan.remedy import BOIL, DILUTE, MALT_EXTRACT, SUCROSE, Remedy, round_remedy
from journal.history.plan.room import Refusal
from journal.history.plan.solve import make_plan, scale_grist
from journal.history.plan.strike import Strike, find_strike
from journal.history.plan.swap import Lot, swap
from journal.history.plan.table import CorrectionTable, correction_table

__all__ = [
    "BOIL",
    "DILUTE",
    "GRAVITY",
    "KETTLE",
    "KNOCKOUT",
    "MALT_EXTRACT",
    "STRONGEST",
    "SUCROSE",
    "VOLUME",
    "WEAKEST",
    "Aim",
    "Correction",
    "CorrectionTable",
    "Corrector",
    "Grist",
    "GristLine",
    "Lot",
    "Plan",
    "Range",
    "Refusal",
    "Remedy",
    "Strike",
    "correct",
    "correction_table",
    "find_strike",
    "forecast_of",
    "gravity_wanted",
    "make_plan",
    "round_remedy",
    "scale_grist",
    "swap",
    "target_of",
]
