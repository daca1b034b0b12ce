"""A value as bytes, with a sum that shows damage: bytes that are not those that were written are never unpickled."""

from __future__ import annotations

import pickle
import zlib

_CHECK = 4


def seal(value: object) -> bytes:
    """A value as bytes."""
    content = pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
    return zlib.crc32(content).to_bytes(_CHECK, "big") + content


def unseal(content: object) -> object:
    """The value; None where the bytes are not those that were written: they might unpickle to another value, or to anything."""
    if not isinstance(content, bytes) or zlib.crc32(content[_CHECK:]).to_bytes(_CHECK, "big") != content[:_CHECK]:
        return None
    try:
        return pickle.loads(content[_CHECK:])  # noqa: S301  # the user's own file, see `folder.py`
    except Exception:  # noqa: BLE001  # what a pickle needs may be there no longer
        return None
