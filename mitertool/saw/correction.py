"""A correction kept in a saw file, its comments and order kept; knows the file and the scale."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.quantity.tables import read_toml
from mitertool.saw.saw import Saw

_DECIMALS: Final = 3
"""A thousandth of a degree is far below what any protractor shows."""


def keep_offset(path: str | Path, offset: float, day: date) -> Saw:
    """Write `offset` (degrees) and its day into [scale] of a saw file, whole or not at all; the saw as it reads now.

    Raises `BadInput` where the file is no saw file or would be none with that offset.
    """
    import tomlkit

    file = Path(path)
    Saw.load(file)
    text = file.read_text(encoding="utf-8-sig")
    document = tomlkit.parse(text)
    scale = document["scale"]
    if not isinstance(scale, dict):
        raise BadInput("scale", "something else", "must be a table, written [scale]", (file.name,))
    scale["offset"] = round(offset, _DECIMALS) + 0.0
    scale["offset_date"] = day
    changed = Saw.read(attrs.evolve(read_toml(file), values=document.unwrap()))
    write_whole(file, tomlkit.dumps(document).encode())
    return changed
