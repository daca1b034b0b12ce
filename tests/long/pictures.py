"""Spoilt pictures: none raises, and none takes long, whether it is measured, looked through or made smaller."""

from __future__ import annotations

import io
import random
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from long.mutators import spoil_bytes
from PIL import Image

from journal.pages.pictures import copy_widths, picture_size, smaller
from journal.reading.passive import is_passive
from journal.reading.prose import _begins_as_a_picture

DEFAULT = 20_000
#: Seconds of processor time that one may take.
_SLOW = 2.0
_DRAWINGS = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>',
    '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 12.5 8e1"><style>a{}</style></svg>',
    f'<svg width="{"9" * 400}" height="{"1" * 400}px" viewBox="0 0 {"8" * 500} 1"/>',
)


def _seeds() -> dict[str, list[bytes]]:
    """Small pictures of each kind, of several modes; one is wide enough to be made smaller."""
    made: dict[str, list[bytes]] = {".svg": [text.encode() for text in _DRAWINGS]}
    drawn = Image.linear_gradient("L")
    for ending, form in ((".png", "PNG"), (".jpg", "JPEG"), (".gif", "GIF"), (".webp", "WEBP"), (".avif", "AVIF")):
        for mode, size in (("L", (16, 9)), ("RGB", (640, 24)), ("P", (16, 9)), ("RGBA", (620, 9))):
            out = io.BytesIO()
            try:
                drawn.resize(size).convert(mode).save(out, form, exif=Image.Exif().tobytes())
            except (OSError, TypeError):
                continue  # a mode that the format has not
            made.setdefault(ending, []).append(out.getvalue())
    return made


def _go_through(file: Path, content: bytes) -> str:
    size = picture_size(file)
    shown = is_passive(file) and _begins_as_a_picture(file)
    # most are too narrow for a copy; a half of their width has them read through all the same
    for width in copy_widths(file) or (max(1, size[0] // 2) if size else 1,):
        smaller(content, width)
    return f"{'with' if size else 'without'} a size, {'' if shown else 'not '}shown"


def run(many: int, seed: int) -> Iterator[str]:
    """What came of them, the slowest, and what failed."""
    chance, came, failed, slowest = random.Random(seed), Counter[str](), Counter[str](), (0.0, "")
    seeds = _seeds()
    others = [content for each in seeds.values() for content in each]
    with tempfile.TemporaryDirectory(prefix="wortbook-pictures-") as folder:
        for number in range(many):
            ending = chance.choice(list(seeds))
            content = spoil_bytes(chance.choice(seeds[ending]), chance, others)
            file = Path(folder) / f"picture{ending if chance.random() < 0.9 else chance.choice(list(seeds))}"
            file.write_bytes(content)
            started = time.process_time()
            try:
                came[_go_through(file, content)] += 1
            except Exception as error:  # noqa: BLE001  # whatever it is, it is what is looked for
                at = traceback.extract_tb(error.__traceback__)[-1]
                failed[f"{type(error).__name__} at {at.filename}:{at.lineno}"] += 1
            slowest = max(slowest, (time.process_time() - started, f"{ending}, number {number}"))
    for what, count in failed.items():
        yield f"FAILED {what}, {count} times"
    yield f"{many} pictures: {'; '.join(f'{name} {count}' for name, count in sorted(came.items()))}; failed {failed.total()}"
    yield f"slowest {slowest[0]:.2f} s ({slowest[1]}){'; TOO SLOW' if slowest[0] > _SLOW else ''}"
