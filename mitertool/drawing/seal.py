"""The seal of a drawing in a file: by it the program knows again what it wrote itself, byte for byte.

A digest of everything else in the file, in a place where a reader of the format passes it over: a comment (group 999)
at the head of a DXF file, a comment behind a PDF or SVG, a text chunk of a PNG before its end.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Final
from zlib import crc32

_FOUND: Final = re.compile(rb"mitertool ([0-9a-f]{64})")
_LAST_CHUNK: Final = 12
"""Bytes of the chunk IEND, which ends a PNG: its length of 0, its name and its check."""


def _png_chunk(says: bytes) -> bytes:
    body = b"tEXtSoftware\0" + says
    return (len(body) - 4).to_bytes(4, "big") + body + crc32(body).to_bytes(4, "big")


_AS: Final[Mapping[str, Callable[[bytes], bytes]]] = {
    ".dxf": lambda says: b"999\n" + says + b"\n",
    ".pdf": lambda says: b"%" + says + b"\n",
    ".svg": lambda says: b"<!-- " + says + b" -->\n",
    ".png": _png_chunk,
}
"""The seal as it stands in a file of each ending."""


def sealed(content: bytes, ending: str) -> bytes:
    """The content of a drawing with its seal; `ending` is that of the file's name, small, with its point."""
    seal = _AS[ending](b"mitertool " + sha256(content).hexdigest().encode())
    if ending == ".dxf":
        return seal + content
    cut = len(content) - _LAST_CHUNK if ending == ".png" else len(content)
    return content[:cut] + seal + content[cut:]


def is_sealed(path: Path) -> bool:
    """Whether the file is a drawing that this program wrote, and nobody has changed since. Raises `OSError`."""
    content, ending = path.read_bytes(), path.suffix.lower()
    found = _FOUND.search(content)
    if found is None or ending not in _AS:
        return False
    rest = content.replace(_AS[ending](found.group()), b"", 1)
    return sha256(rest).hexdigest().encode() == found[1]
