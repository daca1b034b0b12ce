"""What every test is spared: traces in the home of whoever runs it."""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Generator, Iterator

import pytest
from hypothesis import settings
from long.templates import read_once
from reached import hold_to_share

# no test depends on a clock: machines are noisy
settings.register_profile("house", deadline=None)
settings.load_profile("house")


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What builds keep goes to a folder of the test run's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(autouse=True, scope="session")
def _templates_read_once() -> Iterator[None]:
    """Reading templates takes most of a small build."""
    with read_once():
        yield


def pytest_collection_finish() -> None:
    """Tests, libraries and what they loaded are there to stay: no search for circular garbage need go through them."""
    gc.freeze()


@pytest.fixture(autouse=True)
def _thawed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A command leaves what it made to the end of its process; a process of tests goes on."""
    freeze, frozen = gc.freeze, list[bool]()
    monkeypatch.setattr(gc, "freeze", lambda: (frozen.append(True), freeze()))
    yield
    if frozen:
        gc.unfreeze()


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of the cases of an `everyday` test those beyond its number are long."""
    cases = Counter[str]()
    for item in items:
        kept = item.get_closest_marker("everyday")
        if kept:
            name = item.nodeid.partition("[")[0]
            cases[name] += 1
            if cases[name] > kept.args[0]:
                item.add_marker("long")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, object, object]:
    """A property test whose examples hardly come to its assertion fails: see `reached.py`."""
    return (yield from hold_to_share(item))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Under `-rp`: how many examples of each property test came to an assertion."""
    if "p" not in str(terminalreporter.config.option.reportchars).lower():
        return
    for report in terminalreporter.getreports("passed"):
        for name, told in getattr(report, "user_properties", ()):
            if name.startswith("examples"):
                terminalreporter.write_line(f"{told} {name}: {report.nodeid}")
