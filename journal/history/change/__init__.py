"""Change or chance: whether a series of batches shows more than scatter, and what kind of change it was.

In: plain numbers in order of date, with the standard deviation of each where it is known. Out: chart limits, run
signals, steps, drifts. Imports nothing else of ours.
"""

from journal.history.change.chart import ControlLimits, individuals_chart
from journal.history.change.describe import describe_change
from journal.history.change.drift import Drift, find_drift
from journal.history.change.runs import Signal, run_signals
from journal.history.change.steps import LevelStep, find_steps, limits_after

__all__ = [
    "ControlLimits",
    "Drift",
    "LevelStep",
    "Signal",
    "describe_change",
    "find_drift",
    "find_steps",
    "individuals_chart",
    "limits_after",
    "run_signals",
]
