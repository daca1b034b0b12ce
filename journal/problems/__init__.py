"""What is wrong, and where.

In: texts and offsets. Out: `Problem`s with a `Place`, and their renderings under `show`. Imports nothing of ours.
"""

from journal.problems.problem import Problem, in_order, worst
from journal.problems.rules import RULES, Rule, Severity
from journal.problems.source import Place, Source, Span

__all__ = ["RULES", "Place", "Problem", "Rule", "Severity", "Source", "Span", "in_order", "worst"]
