"""Which files a reader's browser only shows, and which it would run: a page that runs could read all of the journal."""

from __future__ import annotations

import posixpath
from functools import lru_cache
from pathlib import Path
from xml.parsers import expat

#: Files that browsers show, play or keep, by ending; of a drawing it depends on what is in it.
_PASSIVE = frozenset(
    f".{ending}"
    for ending in (
        *("png", "jpg", "jpeg", "gif", "webp", "avif", "heic", "tif", "tiff"),
        *("txt", "csv", "tsv", "log", "md", "json", "yaml", "yml", "toml", "gpx"),
        *("pdf", "rtf", "odt", "ods", "docx", "xlsx", "zip", "gz"),
        *("mp3", "m4a", "ogg", "opus", "wav", "flac", "mp4", "m4v", "webm", "mov"),
    )
)
_DRAWING = ".svg"
#: Elements of a drawing that run something, hold a page, or ask another file for what they show.
_RUN = frozenset(
    {"script", "foreignobject", "iframe", "object", "embed", "handler", "set", "animate", "animatetransform"}
)
#: Where in a drawing something is asked for: only a place in the drawing itself and a picture within may be.
_ASKED_FOR = frozenset({"href", "src"})
_WITHIN = ("#", "data:image/png", "data:image/jpeg", "data:image/gif", "data:image/webp")
#: A drawing larger than this is not looked through.
_LARGEST = 8 * 1024 * 1024


def is_passive(file: Path) -> bool:
    """Whether a browser that opens a file on its own only shows it."""
    ending = posixpath.splitext(file.name)[1].lower()
    if ending != _DRAWING:
        return ending in _PASSIVE
    try:
        found = file.stat()
    except (OSError, ValueError):
        return False
    return _is_passive_drawing(file, found.st_size, found.st_mtime_ns)


@lru_cache(maxsize=4096)
def _is_passive_drawing(file: Path, size: int, _when: int) -> bool:
    if size > _LARGEST:
        return False
    try:
        return _only_draws(file.read_bytes())
    except OSError:
        return False


def _only_draws(content: bytes) -> bool:
    """Whether an SVG document (W3C SVG 2) holds nothing that runs, and asks for nothing beside itself."""
    active: list[str] = []

    def look(name: str, attributes: dict[str, str]) -> None:
        if name.rpartition(":")[2].lower() in _RUN:
            active.append(name)
        for key, value in attributes.items():
            plain = key.rpartition(":")[2].lower()
            asked = "".join(value.split()).lower()
            if plain.startswith("on") or (plain in _ASKED_FOR and not asked.startswith(_WITHIN)):
                active.append(key)

    parser = expat.ParserCreate()
    parser.StartElementHandler = look
    # an entity may hide an element, a style sheet be asked of elsewhere
    parser.EntityDeclHandler = lambda *_: active.append("entity")
    parser.ProcessingInstructionHandler = lambda target, _data: active.append(target)
    try:
        parser.Parse(content, True)
    except (expat.ExpatError, ValueError, LookupError):
        return False
    return not active
