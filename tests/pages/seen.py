"""Small journals made into pages, and what a reader's browser would see of a page."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

from texts import entry, journal_at

from journal.figures import figures_of
from journal.figures.impossible import find_impossible
from journal.history import History
from journal.pages import Page, Record, Renderer, pages_of
from journal.pages.paths import accounts_path, batch_path
from journal.pages.site.accounts import AccountsModel
from journal.pages.site.batch import BatchModel
from journal.problems import in_order

BREWERY = """
name: Lock Cottage
brewhouses:
  shed: {name: The shed, mash_tun: {dead_space: 0.6 L}}
"""
MALTS = """
meadow-pale:
  name: Meadow pale
  maltster: Sluice Maltings
  lot: "7"
  kind: pale malt
  extract: 81.5 %
  moisture: 4.0 %
  colour: 5.5 EBC
  source: certificate
"""
WHOLE = """
brewhouse: shed
style: bitter
tags: [cask]
grains:
  - {malt: meadow-pale, weight: 4.20 kg}
  - {malt: amber malt, weight: 9 oz}
mash:
  liquor: 14.0 L
  rests: [66.5 degC for 60 min]
  ph: 5.36 at 21 degC
  first_wort: 1.077
  additions: [{addition: lactic acid 80 %, amount: 3 mL}]
lauter: {method: batch sparge, liquor: 15.5 L, last_runnings: 1.020}
boil:
  before: {volume: 25.0 L at 65 degC, gravity: 1.044}
  after: {volume: 22.3 L at 95 degC, gravity: 1.050}
  time: 60 min
  hops: [{hop: East Field, weight: 30 g, alpha: 5.5 %, boiled: 60 min}]
fermenter: {volume: 20.1 L, gravity: 1.051, yeast: house, pitched: 2026-04-11 17:30}
readings: [{at: 2026-04-18 20:00, gravity: 1.011, temperature: 19 degC}]
package: {on: 2026-04-27, volume: 18.9 L, gravity: 1.011}
practice: {run_off: slow}
"""
PLANNED = """
brewhouse: shed
target: {gravity: 1.046, volume: 19 L}
grains: [{malt: pale malt, weight: 4 kg}]
mash: {liquor: 13 L}
"""
LITTLE = """
brewhouse: shed
grains: [{malt: meadow-pale, weight: 4.20 kg}]
fermenter: {volume: 20.0 L, gravity: 1.046}
"""


def head(batch: str, title: str = "Lantern Bitter", brewed: str = "2026-04-11") -> str:
    """The three fields that every entry has."""
    return f"batch: {batch}\ntitle: {title}\nbrewed: {brewed}\n"


def record_at(root: Path, files: dict[str, str | bytes], brewery: str = BREWERY) -> Record:
    """What is known of a journal with these files under entries/."""
    journal, problems = journal_at(root, {"brewery.yaml": brewery, "malts.yaml": MALTS, **files})
    figures = {batch.id: figures_of(batch, journal.brewery, journal.malts) for batch in journal.batches}
    for batch in journal.batches:
        problems = [*problems, *find_impossible(batch, journal.brewery, figures[batch.id])]
    return Record(journal, figures, tuple(in_order(problems)), {}, History(()))


def one_batch(root: Path, fields: str = WHOLE, prose: str = "", more: dict[str, str | bytes] | None = None) -> Record:
    """A journal with one batch, number 31."""
    return record_at(root, {"31.md": entry(fields, prose), **(more or {})})


def page_at(record: Record, path: str, today: date | None = None) -> Page:
    """One page of a journal."""
    return next(page for page in pages_of(record, today) if page.path == path)


def batch_of(record: Record, batch: str = "31") -> BatchModel:
    """What a batch's page shows."""
    model = page_at(record, batch_path(batch)).model
    assert isinstance(model, BatchModel)
    return model


def accounts_of(record: Record, batch: str = "31") -> AccountsModel:
    """What the page of a batch's accounts shows."""
    model = page_at(record, accounts_path(batch)).model
    assert isinstance(model, AccountsModel)
    return model


@dataclass
class Seen(HTMLParser):
    """A page as its elements: each tag with its attributes, every id, and all text."""

    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    hrefs: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        self.elements.append((tag, attributes))
        self.ids += [attributes["id"]] if "id" in attributes else []
        self.hrefs += [attributes["href"]] if "href" in attributes else []

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def all(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.elements if name == tag]

    @property
    def scripts(self) -> list[dict[str, str]]:
        """What a browser runs; JSON that a script reads is none of it."""
        return [attributes for attributes in self.all("script") if attributes.get("type") != "application/json"]

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split())


def see(html: str) -> Seen:
    seen = Seen()
    seen.feed(html)
    return seen


def seen_at(record: Record, path: str, today: date | None = None) -> Seen:
    """One page of a journal as seen."""
    return see(Renderer().render(page_at(record, path, today)))


def site_of(record: Record) -> dict[str, Seen]:
    """Every page of a journal as seen, by path."""
    renderer = Renderer()
    return {page.path: see(renderer.render(page)) for page in pages_of(record)}
