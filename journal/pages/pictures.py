"""How large a picture is, so that a page keeps its place while it loads."""

from __future__ import annotations

import re
from pathlib import Path

_SVG_ROOT = re.compile(rb"<svg\b[^>]*>", re.DOTALL)


def _svg_size(path: Path) -> tuple[int, int] | None:
    with path.open("rb") as file:
        root = _SVG_ROOT.search(file.read(4096))
    if root is None:
        return None
    sides = [re.search(rb"\s%s=[\"'](\d+(?:\.\d+)?)(?:px)?[\"']" % name, root[0]) for name in (b"width", b"height")]
    if all(sides):
        width, height = (float(side[1]) for side in sides if side)
        return round(width), round(height)
    box = re.search(rb"\sviewBox=[\"']\s*\S+\s+\S+\s+(\d+(?:\.\d+)?)\s+(\d+(?:\.\d+)?)\s*[\"']", root[0])
    return (round(float(box[1])), round(float(box[2]))) if box else None


def picture_size(path: Path) -> tuple[int, int] | None:
    """Width and height in pixels, None where they can't be told."""
    if path.suffix.lower() == ".svg":
        return _svg_size(path)
    # only journals with pictures need it
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415

    try:
        with Image.open(path) as picture:
            return picture.size
    except (OSError, UnidentifiedImageError, ValueError, Image.DecompressionBombError):
        return None
