"""The one that writes.

In: a journal's folder. Out: the site in its output folder, and an `Outcome` that says what was written and what is
wrong. Everything else only takes values and returns values.
"""

from journal.build.route import Outcome, Progress, build, understand

__all__ = ["Outcome", "Progress", "build", "understand"]
