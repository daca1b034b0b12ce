"""Pictures of entries: how large each is, so that a page keeps its place while it loads, and copies that a phone can bear."""

from __future__ import annotations

import io
import posixpath
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from journal.frozen import dataclass
from journal.pages.paths import href

#: Widths of smaller copies, pixels: a phone's page, and a page of text on a fine screen.
WIDTHS = (480, 960)
#: A copy is made of pictures that are so many times wider than it, and so good, by JPEG's and WebP's scale.
_WORTH, _QUALITY = 1.25, 82
#: Pictures that are made of pixels and of one frame as a rule.
_COPIED = frozenset({".jpg", ".jpeg", ".png", ".webp"})

#: The Exif tag that says how the camera was held, and from which value on it lay on its side (CIPA DC-008, 4.6.4).
_ORIENTATION, _ON_ITS_SIDE = 0x0112, 5
#: What browsers show; a file that calls itself so and is another is none.
_FORMATS = ("PNG", "JPEG", "GIF", "WEBP", "AVIF")
#: Pixels of a side, at most: what says more is no picture.
_LONGEST_SIDE = 100_000
_SVG_ROOT = re.compile(rb"<svg\b[^>]*>", re.DOTALL)


def _svg_size(path: Path) -> tuple[int, int] | None:
    with path.open("rb") as file:
        root = _SVG_ROOT.search(file.read(4096))
    if root is None:
        return None
    sides = [re.search(rb"\s%s=[\"'](\d+(?:\.\d+)?)(?:px)?[\"']" % name, root[0]) for name in (b"width", b"height")]
    if all(sides):
        return _sane(*(float(side[1]) for side in sides if side))
    box = re.search(rb"\sviewBox=[\"']\s*\S+\s+\S+\s+(\d+(?:\.\d+)?)\s+(\d+(?:\.\d+)?)\s*[\"']", root[0])
    return _sane(float(box[1]), float(box[2])) if box else None


def _sane(width: float, height: float) -> tuple[int, int] | None:
    """Two sides as whole pixels; None where no screen could have them."""
    return (round(width), round(height)) if max(width, height) <= _LONGEST_SIDE else None


@contextmanager
def _unwarned(how: Literal["ignore", "error"]) -> Iterator[None]:
    """What a decoder warns of is not for a brewer's terminal."""
    with warnings.catch_warnings():
        warnings.simplefilter(how)
        yield


def picture_size(path: Path) -> tuple[int, int] | None:
    """Width and height in pixels, None where they can't be told."""
    if path.suffix.lower() == ".svg":
        return _svg_size(path)
    # only journals with pictures need it
    from PIL import Image  # noqa: PLC0415

    try:
        with _unwarned("ignore"), Image.open(path, formats=_FORMATS) as picture:
            # a camera held upright says so, and browsers turn the picture
            turned = picture.getexif().get(_ORIENTATION, 1) >= _ON_ITS_SIDE
            return picture.size[::-1] if turned else picture.size
    except Exception:  # noqa: BLE001  # what decoders raise for broken files has no common kind
        return None


@dataclass(frozen=True)
class SizedPicture:
    """A picture of the site and smaller copies of it: its path from the site's root, its size in pixels where that is known.

    `copies` are paths with their widths, the smallest first; none where it is no larger than a page shows it.
    """

    path: str
    words: str
    width: int = 0
    height: int = 0
    copies: tuple[tuple[str, int], ...] = ()

    def srcset(self, up: str) -> str:
        """Every copy with its width, as an `img` lists them; `up` leads to the site's root. Empty without copies."""
        whole = [*self.copies, (self.path, self.width)] if self.copies else []
        return ", ".join(f"{up}{href(path)} {width}w" for path, width in whole)


def copy_widths(file: Path) -> tuple[int, ...]:
    """How wide the smaller copies of a picture are, in pixels; none of a drawing, nor of one that is small already."""
    size = picture_size(file) if file.suffix.lower() in _COPIED else None
    return tuple(width for width in WIDTHS if size and size[0] >= _WORTH * width)


def copy_path(path: str, width: int) -> str:
    """Where the copy of a picture lies that is so wide: `files/label-480w.png`."""
    stem, suffix = posixpath.splitext(path)
    return f"{stem}-{width}w{suffix}"


def sized_picture(file: Path, path: str, words: str) -> SizedPicture:
    """A file of the journal as a picture of the site at `path`."""
    width, height = picture_size(file) or (0, 0)
    return SizedPicture(path, words, width, height, tuple((copy_path(path, each), each) for each in copy_widths(file)))


def smaller(content: bytes, width: int) -> bytes:
    """A picture's bytes at a width, in its own format, turned as its camera was held; itself where it can't be read or is no wider."""
    from PIL import Image, ImageOps  # noqa: PLC0415  # only journals with pictures need it

    try:
        # a picture of a hundred million pixels is not opened for a copy
        with _unwarned("error"), Image.open(io.BytesIO(content), formats=_FORMATS) as picture:
            upright = ImageOps.exif_transpose(picture)
            if upright.width <= width:
                return content
            made = upright.resize(
                (width, max(1, round(upright.height * width / upright.width))), Image.Resampling.LANCZOS
            )
            out = io.BytesIO()
            made.save(out, picture.format, optimize=True, quality=_QUALITY)
            return out.getvalue()
    except Exception:  # noqa: BLE001  # what decoders raise for broken files has no common kind
        return content
