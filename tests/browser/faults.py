"""What goes wrong on a page while a test has it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import ConsoleMessage, Error, Page, Request


@contextmanager
def no_faults(page: Page, own: tuple[str, ...]) -> Iterator[None]:
    """Meanwhile nothing on the page may complain, nor be asked for unless its address begins as one's `own` do."""
    faults = list[str]()

    def complained(message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            faults.append(message.text)

    def raised(error: Error) -> None:
        faults.append(str(error))

    def asked(request: Request) -> None:
        if not request.url.startswith(own):
            faults.append(request.url)

    page.on("console", complained)
    page.on("pageerror", raised)
    page.on("request", asked)
    yield
    page.remove_listener("console", complained)
    page.remove_listener("pageerror", raised)
    page.remove_listener("request", asked)
    assert faults == []
