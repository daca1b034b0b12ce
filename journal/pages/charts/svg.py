"""Pieces of drawings whose width goes by the page while their heights, texts, dots and lines keep their sizes.

Along a drawing places are shares of its width. Texts and marks stand there by per cent; lines and dots are paths of a plane
that is stretched to the width, a thousand units long and `FINE` units a pixel high, whose strokes the style sheet keeps
from being stretched. A dot is a stroke without length with a round end: a thousand of them are one element.
"""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import escape

#: A plane's length in its own units, and its units to a pixel of height.
LONG, FINE = 1000, 10
#: Half a diamond's height in pixels.
_HALF = 5


def along(share: float) -> int:
    """A share of the width in a plane's units."""
    return round(LONG * share)


def down(pixels: float) -> int:
    """Pixels from the top in a plane's units."""
    return round(FINE * pixels)


def percent(share: float) -> str:
    """A share as an attribute says it."""
    return f"{100 * share:.1f}".removesuffix(".0") + "%"


def path(kind: str, data: str) -> str:
    """A path of a plane; nothing where it has no data."""
    return f'<path class="{kind}" d="{data}"/>' if data else ""


def dots(places: Iterable[tuple[float, float]]) -> str:
    """A path's data for dots at shares of the width and pixels from the top."""
    return "".join(f"M{along(x)} {down(y)}h0" for x, y in places)


def uprights(lines: Iterable[tuple[float, float, float]]) -> str:
    """A path's data for upright lines: a share of the width, and pixels from the top of either end."""
    return "".join(f"M{along(x)} {down(top)}V{down(bottom)}" for x, top, bottom in lines)


def levels(lines: Iterable[tuple[float, float, float]]) -> str:
    """A path's data for level lines: pixels from the top, and shares of the width of either end."""
    return "".join(f"M{along(first)} {down(y)}H{along(last)}" for y, first, last in lines)


def box(first: float, last: float, top: float, bottom: float) -> str:
    """A path's data for a rectangle."""
    return f"M{along(first)} {down(top)}H{along(last)}V{down(bottom)}H{along(first)}z"


def plane(height: float, *paths: str, kind: str = "") -> str:
    """Paths on a plane that is as wide as the drawing, `height` pixels high; a drawing of its `kind` by itself is for the eye alone."""
    named = f'class="plane {kind}" aria-hidden="true"' if kind else 'class="plane"'
    return (
        f'<svg {named} viewBox="0 0 {LONG} {down(height)}" preserveAspectRatio="none" width="100%" height="{height:g}">'
        f"{''.join(paths)}</svg>"
    )


def text(kind: str, share: float, y: float, words: str) -> str:
    """Words at a place; the style sheet says by their kind on which side of it they stand."""
    return f'<text class="{kind}" x="{percent(share)}" y="{y:g}">{escape(words)}</text>'


def diamond(share: float, y: float, words: str = "", *, before: bool = False) -> str:
    """An open diamond with words beside it, after it or before it."""
    side, kind = (-_HALF - 3, "beside before") if before else (_HALF + 3, "beside")
    label = f'<text class="{kind}" x="{side}" y="4">{escape(words)}</text>' if words else ""
    return (
        f'<svg x="{percent(share)}" y="{y:g}" width="1" height="1" overflow="visible">'
        f'<path class="diamond" d="M0-{_HALF} {_HALF} 0 0 {_HALF}-{_HALF} 0z"/>{label}</svg>'
    )


def drawing(
    kind: str, title: str, height: float, *parts: str, name: str = "", summary: str = "", role: str = "img"
) -> str:
    """A whole drawing that says what it shows; `name` begins its ids, and is needed where there is a summary besides.

    Without a title it is for the eye alone.
    """
    if not title:
        return f'<svg class="{kind}" aria-hidden="true" width="100%" height="{height:g}">{"".join(parts)}</svg>'
    named = f' aria-labelledby="{name}-title {name}-desc"' if summary else ""
    title_id, desc = (
        (f' id="{name}-title"', f'<desc id="{name}-desc">{escape(summary)}</desc>') if summary else ("", "")
    )
    return (
        f'<svg class="{kind}" role="{role}"{named} width="100%" height="{height:g}">'
        f"<title{title_id}>{escape(title)}</title>{desc}{''.join(parts)}</svg>"
    )
