"""The jobs of a folder as the page works with them: read within the folder, known by their content; knows job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from attrs import frozen

from mitertool.base.errors import BadInput, BadRows, MitertoolError
from mitertool.base.files import write_whole
from mitertool.job import Job, load
from mitertool.page.folder import LARGEST, Folder
from mitertool.quantity.tables import decoded, read_toml
from mitertool.quantity.toml_place import TextLine, line_of
from mitertool.words import phrase

_NAMING: Final = ("section", "list", "frame")
"""Tables of a job that may name a file."""


@frozen
class TextFile:
    """A file of the folder as it was read: its name told from the folder, its place, its text, and its version."""

    name: str
    path: Path
    text: str
    version: str

    @classmethod
    def of(cls, folder: Folder, name: str) -> TextFile:
        """A file of the folder. Raises `BadInput` for one outside of it, and for what is no text."""
        path = folder.file(name)
        if path.stat().st_size > LARGEST:
            raise BadInput(phrase("what.file"), name, phrase("refuse.larger-file", most=LARGEST // 1_000_000))
        content = path.read_bytes()
        return cls(name, path, decoded(name, content), version_of(content))

    def written(self, text: str, version: str) -> None:
        """Write another text in its place. Raises `BadInput` where the file is not of the `version` that was opened."""
        if version_of(self.path.read_bytes()) != version:
            raise ChangedError(phrase("what.file"), self.name, phrase("refuse.changed-meanwhile"))
        write_whole(self.path, text.encode())


class ChangedError(BadInput):
    """A file that was changed since it was opened."""


@frozen
class Wrong:
    """What is wrong with a file, and the line of it where that stands."""

    says: str
    line: TextLine | None = None


def version_of(content: bytes) -> str:
    """By what a file is known to be the same."""
    return sha256(content).hexdigest()[:16]


def as_typed(text: str) -> str:
    """A text as a browser sends it, its lines ended as in a file of ours."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def job_of(folder: Folder, file: TextFile, text: str | None = None) -> Job:
    """The job of a file, or of a `text` that is to stand there. Raises what `load` does.

    A saw, a drawing or a list that lies outside of the folder is refused.
    """
    content = (file.text if text is None else text).encode()
    top = read_toml(file.path, content).values
    named_inside(folder, file, top)
    _rack_inside(folder, file, top)
    return load(file.path, content, lambda named: named and _inside(folder, file, "saw", named))


def named_inside(
    folder: Folder, file: TextFile, top: Mapping[str, Any], naming: Sequence[str] = _NAMING
) -> tuple[Path, ...]:
    """The files that tables of a job name. Raises `BadInput` for one outside of the folder."""
    tables = [one for key in naming for one in _tables(top.get(key)) if isinstance(one.get("file"), str)]
    return tuple(_inside(folder, file, "file", file.path.parent / one["file"]) for one in tables)


def _rack_inside(folder: Folder, file: TextFile, top: Mapping[str, Any]) -> None:
    rack = top["nest"].get("rack") if isinstance(top.get("nest"), dict) else None
    if isinstance(rack, str):
        _inside(folder, file, "rack", file.path.parent / rack)


def _tables(found: object) -> list[dict[str, Any]]:
    return [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []


def _inside(folder: Folder, file: TextFile, what: str, path: Path) -> Path:
    if not path.resolve().is_relative_to(folder.root):
        raise BadInput(what, str(path), phrase("refuse.outside-folder"), (file.path.name,))
    return path


def wrongs(text: str, error: MitertoolError) -> tuple[Wrong, ...]:
    """What is told of an error, each with its line of the text."""
    if isinstance(error, BadRows):
        return tuple(Wrong(line) for line in error.lines)
    if isinstance(error, BadInput):
        return (Wrong(str(error), line_of(text, error)),)
    return tuple(Wrong(line) for line in error.lines)
