"""A changed entry put in place of the old one, whole or not at all."""

from __future__ import annotations

import codecs
import os
import tempfile
from difflib import SequenceMatcher
from pathlib import Path

from journal.problems import Source
from journal.publishing.refused import Refused
from journal.reading.files import decode


def write(path: Path, before: Source, text: str) -> Refused | None:
    """Write `text` where `before` stands; refused if the file is no longer what was read, or can't be written.

    Bytes that stay keep their line ends and their mark at the file's start; what is new takes the file's own line ends.
    """
    try:
        raw = path.read_bytes()
        now, _ = decode(before.name, raw)
        if now is None or now.text != before.text:
            return Refused(f"{before.name} has changed meanwhile; try again. Nothing was written.", misused=False)
        new = _bytes(raw, text)
        folder = path.resolve().parent
        handle, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=folder)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(new)
                file.flush()
                os.fsync(file.fileno())
            Path(beside).chmod(path.stat().st_mode & 0o777)
            Path(beside).replace(path.resolve())
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
    except OSError as error:
        return Refused(f"{before.name} can't be written: {error.strerror}. It is as it was.", misused=False)
    return None


def _bytes(raw: bytes, text: str) -> bytes:
    mark = codecs.BOM_UTF8 if raw.startswith(codecs.BOM_UTF8) else b""
    written = raw.removeprefix(mark).decode("utf-8")
    if "\r\n" not in written:
        return mark + text.encode("utf-8")
    ends = "\r\n" if written.count("\r\n") * 2 >= written.count("\n") else "\n"
    # each line that was there keeps its own end
    old = written.split("\n")
    lines = text.split("\n")
    kept = dict.fromkeys(range(len(lines)), ends.removesuffix("\n"))
    for block in SequenceMatcher(
        None, [line.removesuffix("\r") for line in old], lines, autojunk=False
    ).get_matching_blocks():
        for place in range(block.size):
            kept[block.b + place] = "\r" if old[block.a + place].endswith("\r") else ""
    kept[len(lines) - 1] = "\r" if old[-1].endswith("\r") else ""
    return mark + "\n".join(line + kept[place] for place, line in enumerate(lines)).encode("utf-8")
