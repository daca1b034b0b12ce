"""The verdict in words."""

import pytest
from texts import batch_of

from journal.balance.words import name_reading
from journal.reading.known_readings import IN_BALANCE


@pytest.mark.parametrize("path", [reading.path for reading in IN_BALANCE])
def test_every_reading_that_may_be_doubted_is_called_by_words(path: str) -> None:
    words = name_reading(path, batch_of("mash: {liquor: 14.0 L}"))
    assert path not in words
    assert "nothing" not in words
    assert words.startswith(("the ", "what "))
    assert ("14.0 L" in words) == (path == "mash.liquor")
