"""Loggers' files: comma-separated values, read into courses of temperature and gravity.

In: the text of one CSV file. Out: a `Log` of plain arrays, and the problems with their places in that file. A log with an
error is not half believed: it gives no values at all.
"""

from journal.reading.logs.log import Log
from journal.reading.logs.read import read_log
from journal.reading.logs.thin import thin

__all__ = ["Log", "read_log", "thin"]
