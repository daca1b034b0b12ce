"""A watched journal in a real browser: the page follows its entry, where the reader stands, and says what is wrong."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser.chromium import IN_A_BROWSER
from playwright.sync_api import Browser, Page

from journal.publishing.watch import Live, Server, keep_watch

pytestmark = IN_A_BROWSER

ENTRY = """---
batch: 1
title: Watched
brewed: 2026-01-03
grains: [{malt: pale malt, weight: 4.20 kg}]
mash: {liquor: 13.5 L, first_wort: 1.074}
lauter: {method: batch sparge, liquor: 15.0 L}
boil: {before: {volume: 24.5 L at 68 degC, gravity: 1.039}, after: {volume: 21.5 L at 95 degC, gravity: 1.045}, time: 60 min}
fermenter: {volume: 18.5 L, gravity: 1.045}
---

As it was.
"""


@pytest.fixture
def live(tmp_path: Path) -> Iterator[tuple[Path, Server]]:
    (tmp_path / "entries").mkdir()
    entry = tmp_path / "entries" / "01.md"
    entry.write_text(ENTRY, "utf-8")
    journal, stop, said = Live(tmp_path, tmp_path / "site"), threading.Event(), threading.Semaphore(0)
    server = Server(journal)
    server.begin()
    thread = threading.Thread(target=keep_watch, args=(journal, lambda _: said.release(), stop), daemon=True)
    thread.start()
    assert said.acquire(timeout=60)
    yield entry, server
    stop.set()
    server.end()
    thread.join(10)


def test_a_page_follows_its_entry_and_the_reader_stays_where_they_were(
    live: tuple[Path, Server], browser: Browser
) -> None:
    entry, server = live
    page: Page = browser.new_page(viewport={"width": 900, "height": 500})
    faults: list[str] = []
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"{server.address}batches/1.html")
    page.evaluate("scrollTo(0, 400)")
    entry.write_text(ENTRY.replace("As it was.", "As it is now."), "utf-8")
    page.get_by_text("As it is now.").wait_for(timeout=20_000)
    # the page's own rules for scripts forbid what `wait_for_function` does
    wanted = time.monotonic() + 5
    while page.evaluate("scrollY") != 400 and time.monotonic() < wanted:
        page.wait_for_timeout(50)
    assert page.evaluate("scrollY") == 400
    entry.write_text(ENTRY.replace("title:", "titel:"), "utf-8")
    troubles = page.locator("aside.troubles")
    troubles.wait_for(timeout=20_000)
    assert "entries/01.md:3" in troubles.inner_text()
    assert page.get_by_role("heading", name="Watched").count() == 1
    entry.write_text(ENTRY, "utf-8")
    troubles.wait_for(state="detached", timeout=20_000)
    page.get_by_text("As it was.").wait_for(timeout=20_000)
    page.close()
    assert faults == []
