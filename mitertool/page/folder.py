"""The folder that the page shows: its jobs and saw files, and no file that lies anywhere else; knows base."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from attrs import frozen

from mitertool.base.errors import BadInput
from mitertool.base.folders import MANIFEST
from mitertool.words import phrase

Kind = Literal["job", "saw", "profile", ""]

Written = tuple[Path, int, int]
"""A file with when it was written, ns, and how long it is, bytes."""

DRAWN: Final = ".dxf"
"""Ending of a drawing's name."""

LARGEST: Final = 10_000_000
"""Bytes of a file that the page reads or takes."""

_DEEPEST: Final = 3
"""Folders below the one that is shown; deeper ones are packets and archives."""

_MOST: Final = 500
"""Files of a kind that are listed."""

_KEPT: Final = 2048
"""Files whose kind is kept, each by its path and by when and how it was last written."""

_TABLES: Final[Mapping[Kind, tuple[str, ...]]] = {
    "job": ("job", "piece", "frame"),
    "saw": ("saw",),
    "profile": ("family",),
}
"""Tables and keys, any of which tells what a file is; the first kind goes before the others."""


@frozen
class Folder:
    """A folder, with all links followed: nothing that lies outside of it is read or named."""

    root: Path

    @classmethod
    def of(cls, path: Path) -> Folder:
        """The folder of a path. Raises `BadInput` where there is none."""
        if not path.is_dir():
            raise BadInput(phrase("what.folder"), str(path), phrase("refuse.folder-missing"))
        return cls(path.resolve())

    def file(self, name: str) -> Path:
        """The file of a name told from the folder. Raises `BadInput` for one outside of it, and where there is none."""
        allowed = phrase("refuse.outside-folder")
        if "\0" in name or "\\" in name or Path(name).is_absolute() or ".." in Path(name).parts:
            raise BadInput(phrase("what.file"), name, allowed)
        found = (self.root / name).resolve()
        if not found.is_relative_to(self.root):
            raise BadInput(phrase("what.file"), name, allowed)
        if not _is_file(found):
            raise BadInput(phrase("what.file"), name, phrase("refuse.not-in-folder"))
        return found

    def files(self, kind: Kind) -> tuple[str, ...]:
        """The names of all files of a kind, told from the folder, in the order of the alphabet."""
        found = sorted(name for name in self._ending(".toml") if _kind(*written(self.root / name)) == kind)
        return tuple(found[:_MOST])

    def drawings(self) -> tuple[str, ...]:
        """The names of all drawings but those of a packet, in the same way."""
        return tuple(sorted(self._ending(DRAWN))[:_MOST])

    def _ending(self, ending: str) -> Iterator[str]:
        """The files of an ending that lie in the folder itself or not far down, in no packet, and link to nowhere."""
        for folder, below, names in os.walk(self.root):
            here = Path(folder).relative_to(self.root)
            deep = len(here.parts) < _DEEPEST and MANIFEST not in names
            below[:] = sorted(one for one in below if deep and not one.startswith("."))
            for name in names if MANIFEST not in names else ():
                path = Path(folder) / name
                if name.lower().endswith(ending) and path.resolve().is_relative_to(self.root) and path.is_file():
                    yield (here / name).as_posix()


def written(path: Path) -> Written:
    """A file with when it was written and how long it is, by which it is known to be the same."""
    said = path.stat()
    return path, said.st_mtime_ns, said.st_size


def _is_file(path: Path) -> bool:
    """Whether a file is there; no name that the system does not take leads to one."""
    try:
        return path.is_file()
    except OSError:
        return False


@lru_cache(maxsize=_KEPT)
def _kind(path: Path, _written_at: int, size: int) -> Kind:
    """What a TOML file is by its tables; "" where it is neither or cannot be read."""
    if size > LARGEST:
        return ""
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        return _by_name(path)
    return next((kind for kind, known in _TABLES.items() if any(one in tables for one in known)), "")


def _by_name(path: Path) -> Kind:
    """What a broken file is by its name, so that it is listed and its error can be read."""
    return "job" if path.stem.startswith("job") else "saw" if path.stem.startswith("saw") else ""
