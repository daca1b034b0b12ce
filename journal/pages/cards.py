"""A card of each batch to show others: the beer and its numbers as a drawing, and as the picture that sharing asks for."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from functools import cache, partial
from importlib.util import find_spec
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, NamedTuple

from journal.frozen import dataclass
from journal.pages.beer import beer_of
from journal.pages.index import Index
from journal.pages.lead import in_short
from journal.pages.model import Model
from journal.pages.page import Page
from journal.pages.parts.beer import beer_facts, beer_words
from journal.pages.paths import card_path
from journal.pages.themes import Theme, assets
from journal.pages.view import view_of
from journal.pages.words import day
from journal.reading import Batch

if TYPE_CHECKING:
    from PIL import ImageFont

#: The size that sharing asks for at the least, pixels (Open Graph's readers show 1.91 to 1), and the margin.
WIDTH, HEIGHT, _MARGIN = 600, 315, 32
#: Shades between paper and ink that letters are drawn with; sixteen fit half a byte.
_SHADES, _BITS = 16, 4
#: Letters that fit on a line of the last sentence.
_LETTERS = 58
_COLOUR = re.compile(r"--(paper|ink): (#[0-9a-f]{6});")


class Colours(NamedTuple):
    """What a card is drawn in: `#rrggbb` each."""

    paper: str
    ink: str


@dataclass(frozen=True, kw_only=True)
class Card(Model):
    """All that a card says: the brewery, the batch, the beer in a line, what was tasted, and what became of the extract."""

    brewery: str
    number: str
    title: str
    under: str
    beer: str
    tasted: str
    told: str
    colours: Colours


def colours_of(theme: Theme) -> Colours:
    """The light colours of a theme, a brewer's own over those of its look."""
    found = {"paper": "#ffffff", "ink": "#000000"}
    sheets = [content for name, content in assets(theme).items() if name.endswith("look.css") or "/own-" in name]
    for sheet in sheets:
        light = sheet.decode(errors="replace").partition("@media")[0]
        found |= dict(_COLOUR.findall(light))
    return Colours(**found)


def _plain(text: str) -> str:
    """Text without what may not stand in XML (1.0, 2.2), and nothing draws: control characters and halves of letters."""
    return "".join(c for c in text if c >= " " and not "\ud800" <= c <= "\udfff" and c not in "\ufffe\uffff")


def card_model(index: Index, batch: Batch, colours: Colours) -> Card:
    """The card of one batch."""
    view = view_of(index, batch)
    beer = beer_of(index.record, batch)
    said = beer.tasting.words if beer.tasting else ""
    return Card(
        frame=index.frame(f"{batch.id} {batch.title or ''}", "batches"),
        brewery=_plain(index.brewery),
        number=batch.id,
        title=_plain(batch.title or ""),
        under=_plain(" · ".join(part for part in (batch.style or "", day(batch.day).text) if part)),
        beer=beer_words(beer_facts(view, beer), "   "),
        tasted=_plain(" ".join(part for part in (beer.score_text, f"“{said}”" if said else "") if part)),
        told=_plain(in_short(view)),
        colours=colours,
    )


@cache
def _font_file() -> Path | None:
    """DejaVu Sans, which matplotlib brings along: it has the arrow, and the letters of most of Europe's languages."""
    package = find_spec("matplotlib")
    file = Path(package.origin).parent / "mpl-data/fonts/ttf/DejaVuSans.ttf" if package and package.origin else None
    return file if file and file.is_file() else None


@cache
def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    from PIL import ImageFont  # noqa: PLC0415  # only a journal with an address needs it

    file = _font_file()
    # no script that runs from right to left or joins its letters is drawn better by the slower engine than by this one here
    return (
        ImageFont.truetype(file, size, layout_engine=ImageFont.Layout.BASIC) if file else ImageFont.load_default(size)
    )


def _fitting(text: str, size: int, room: float) -> tuple[str, ImageFont.FreeTypeFont | ImageFont.ImageFont]:
    """A text with the largest of a few sizes at which it fits; cut where it fits none."""
    for smaller in (size, round(size * 0.75), round(size * 0.6)):
        font = _font(smaller)
        # no letter is wider than its size
        if len(text) * smaller <= room or font.getlength(text) <= room:
            return text, font
    while text and font.getlength(f"{text}…") > room:
        text = text[:-1]
    return f"{text.rstrip()}…", font


def card_png(card: Model) -> bytes:
    """The card as a PNG, 600 by 315 pixels, in sixteen shades from paper to ink."""
    from PIL import Image, ImageDraw  # noqa: PLC0415  # see above

    if not isinstance(card, Card):
        raise TypeError(card)
    picture = Image.new("L", (WIDTH, HEIGHT), 0)
    draw = ImageDraw.Draw(picture)
    lines = [
        (card.brewery, 18, 28, 150),
        (f"{card.number}  {card.title}", 42, 68, 255),
        (card.under, 18, 126, 150),
        (card.beer, 24, 164, 255),
        (card.tasted, 18, 204, 255),
        *((line, 17, 248 + 22 * place, 190) for place, line in enumerate(wrap(card.told, _LETTERS)[:2])),
    ]
    draw.line((_MARGIN, 58, WIDTH - _MARGIN, 58), 110)
    for text, size, top, shade in lines:
        if text:
            fitting, font = _fitting(text, size, WIDTH - 2 * _MARGIN)
            draw.text((_MARGIN, top), fitting, shade, font)
    shades = picture.point([value * _SHADES // 256 for value in range(256)])
    shades.putpalette(_palette(card.colours))
    out = io.BytesIO()
    shades.save(out, "PNG", bits=_BITS, compress_level=1)
    return out.getvalue()


def _palette(colours: Colours) -> list[int]:
    """The shades from paper to ink, three numbers each."""
    paper, ink = ([int(colour[place : place + 2], 16) for place in (1, 3, 5)] for colour in colours)
    return [
        round(low + (high - low) * shade / (_SHADES - 1))
        for shade in range(_SHADES)
        for low, high in zip(paper, ink, strict=True)
    ]


def cards_of(index: Index, keys: Mapping[str, str], theme: Theme) -> list[Page]:
    """The card of every batch that was brewed, as a drawing, and where the journal has an address as a picture too."""
    colours, pages = colours_of(theme), []
    for batch in index.brewed:
        make = partial(card_model, index, batch, colours)
        pages.append(Page(card_path(batch.id, "svg"), "parts/card.svg.j2", make, keys[batch.id]))
        if index.address:
            pages.append(Page(card_path(batch.id, "png"), "", make, keys[batch.id], card_png))
    return pages
