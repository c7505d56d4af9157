"""The saws of the folder, each read once as long as its file stays; knows folder and saw."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Final

from mitertool.page.folder import Folder, written
from mitertool.saw import Saw

_KEPT: Final = 32
"""Saws that are kept, each by its file and by when and how long it was last written."""


def saw_of(folder: Folder, name: str) -> Saw | None:
    """The saw of a file of the folder; None for "". Raises `BadInput` for a file of elsewhere or a bad one."""
    return _read(*written(folder.file(name))) if name else None


@lru_cache(maxsize=_KEPT)
def _read(path: Path, _written_at: int, _size: int) -> Saw:
    return Saw.load(path)
