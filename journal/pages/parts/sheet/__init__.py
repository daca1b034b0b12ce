"""The working sheet of a planned brew: the order of the work, what to expect, what to do off target.

In: the `Index` and a planned batch with its plan. Out: the sheet's model, in words. Imports no template; the plan is worked out by
`history/plan`.
"""

from journal.pages.parts.sheet.whole import sheet

__all__ = ["sheet"]
