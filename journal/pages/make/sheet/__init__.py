"""The working sheet of a planned brew: the order of the work, what to expect, what to do off target."""

from journal.pages.make.sheet.whole import sheet

__all__ = ["sheet"]
