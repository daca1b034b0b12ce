"""What every test is spared: traces in the home of whoever runs it."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest
from hypothesis import settings

# no test depends on a clock: machines are noisy
settings.register_profile("house", deadline=None)
settings.load_profile("house")


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What builds keep goes to a folder of the test run's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(autouse=True)
def _thawed() -> Iterator[None]:
    """A command leaves what it made to the end of its process; a process of tests goes on."""
    yield
    gc.unfreeze()
