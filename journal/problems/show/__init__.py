"""Problems as text for people, lines for editors, JSON and SARIF for programs, annotations for code hosts.

Each module has one function that takes problems and returns text; none of them prints.
"""

from journal.problems.show.annotations import as_annotations
from journal.problems.show.as_json import as_json, problem_record
from journal.problems.show.lines import as_lines
from journal.problems.show.printable import printable
from journal.problems.show.sarif import as_sarif
from journal.problems.show.text import as_text, count_in_words

__all__ = [
    "as_annotations",
    "as_json",
    "as_lines",
    "as_sarif",
    "as_text",
    "count_in_words",
    "printable",
    "problem_record",
]
