"""Problems as text for people, lines for editors, JSON for programs.

Each module has one function that takes problems and returns text; none of them prints.
"""

from journal.problems.show.as_json import as_json, problem_record
from journal.problems.show.lines import as_lines
from journal.problems.show.text import as_text, count_in_words

__all__ = ["as_json", "as_lines", "as_text", "count_in_words", "problem_record"]
