"""Places by path, kept as numbers: what a dict of them says, in its order, wherever they come from."""

from __future__ import annotations

import pickle

from hypothesis import given
from hypothesis import strategies as st

from journal.problems import Span
from journal.reading.spans import Spans

PATHS = st.dictionaries(st.text(max_size=6), st.tuples(st.integers(0, 2**20), st.integers(0, 2**20)), max_size=12)


@given(PATHS, st.text(max_size=6))
def test_they_say_what_a_dict_of_them_says(plain: dict[str, tuple[int, int]], other: str) -> None:
    spans = {path: Span(*offsets) for path, offsets in plain.items()}
    kept = pickle.loads(pickle.dumps(Spans(spans)))
    for found in (Spans(spans), kept):
        assert list(found.items()) == list(spans.items())
        assert found == spans
        assert (other in found, found.get(other)) == (other in spans, spans.get(other))
        assert len(found) == len(spans)
        assert None not in found
