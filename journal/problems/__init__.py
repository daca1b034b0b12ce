"""What is wrong, and where.

In: texts and offsets. Out: `Problem`s with a `Place`, and their renderings under `show`. Imports nothing of ours.
"""

from journal.problems.internal import INTERNAL, BatchFault, fault_in_words, internal_fault, naming
from journal.problems.nearest import did_you_mean, nearest
from journal.problems.problem import Problem, in_order, worst
from journal.problems.rules import RULES, Severity
from journal.problems.source import Place, Source, Span
from journal.problems.words import capital, in_words

__all__ = [
    "INTERNAL",
    "RULES",
    "BatchFault",
    "Place",
    "Problem",
    "Severity",
    "Source",
    "Span",
    "capital",
    "did_you_mean",
    "fault_in_words",
    "in_order",
    "in_words",
    "internal_fault",
    "naming",
    "nearest",
    "worst",
]
