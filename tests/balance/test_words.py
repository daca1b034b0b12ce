"""The verdict in words."""

import pytest
from texts import batch_of

from journal.balance.equations import READINGS
from journal.balance.words import called


@pytest.mark.parametrize("path", [reading.path for reading in READINGS])
def test_every_reading_that_may_be_doubted_is_called_by_words(path: str) -> None:
    words = called(path, batch_of("mash: {liquor: 14.0 L}"))
    assert path not in words
    assert words.startswith("the ")
    assert ("14.0 L" in words) == (path == "mash.liquor")
