"""A planned batch's page by itself, for tests that write on its working sheet; and the hands that write."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pages.seen import page_at
from playwright.sync_api import Page

from journal.pages import Record, Renderer
from journal.pages.themes import Theme, assets
from journal.publishing import understand


def page_alone(root: Path, number: str, theme: str = "notebook") -> tuple[Record, Path]:
    """The record of a journal, and the page of one of its planned batches, written with all that it loads."""
    record = understand(root)
    look = Theme(theme)
    address = root / "site" / "batches" / f"{number}.html"
    address.parent.mkdir(parents=True, exist_ok=True)
    address.write_text(Renderer(look).render(page_at(record, f"batches/{number}.html")))
    for name, content in assets(look).items():
        path = root / "site" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return record, address


def write(page: Page, box: str, text: str) -> None:
    """Write into a box, and go on to the next."""
    field = page.locator(f'[data-box="{box}"] input')
    field.fill(text)
    field.blur()


def said_of(page: Page, box: str) -> str:
    """What the sheet says of a box."""
    return page.locator(f'.task:has([data-box="{box}"]) .said').inner_text()


#: What the page answers to readings written as in an entry: every line of it, in the order of `wortbook correct`.
ANSWER = """readings => {
  const data = JSON.parse(document.getElementById("sheet-data").textContent);
  const numbers = SheetNumbers(data), read = SheetQuantity(data), { answer } = SheetAnswer(data, numbers);
  return readings.map(([place, gravity, volume]) => {
    const found = answer(place, gravity && read(gravity, "gravity"), volume && read(volume, "volume"));
    return [...found.read, ...found.advice];
  });
}"""


def answers(page: Page, readings: Sequence[tuple[str, str, str]]) -> list[list[str]]:
    """What the page answers at a place to a gravity and a volume as an entry has them, empty for what was not read."""
    found: list[list[str]] = page.evaluate(ANSWER, [list(reading) for reading in readings])
    return found
