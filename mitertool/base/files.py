"""Whole files and whole folders: what is written appears complete or not at all."""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from mitertool.base.errors import BadInput

MANIFEST: Final = ".mitertool-packet.json"
"""Lists the files of a folder that mitertool wrote; a folder without it, or with more in it, is not replaced."""


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` to `path` so that the old file stays until the new one is complete.

    Raises `BadInput` where the folder does not exist or may not be written.
    """
    try:
        handle, beside = tempfile.mkstemp(prefix=f".{path.name[:40]}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(beside).chmod(0o666 & ~_umask())
            Path(beside).replace(path)
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise BadInput("output file", str(path), f"cannot be written: {error.strerror}") from error


def write_whole_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (relative name to content) as `folder`, built beside it and renamed into place.

    An existing folder is replaced only when mitertool wrote everything in it. Raises `BadInput` otherwise.
    """
    folder = folder.absolute()
    refuse_foreign_folder(folder)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        built = Path(tempfile.mkdtemp(prefix=f".{folder.name[:40]}.", dir=folder.parent))
        try:
            _fill(built, files)
            _swap(built, folder)
        finally:
            shutil.rmtree(built, ignore_errors=True)
    except OSError as error:
        raise BadInput("output folder", str(folder), f"cannot be written: {error.strerror}") from error


def refuse_foreign_folder(folder: Path) -> None:
    """Raise `BadInput` where `folder` exists and holds anything that mitertool did not write."""
    if not folder.exists() and not folder.is_symlink():
        return
    if not folder.is_dir() or folder.is_symlink():
        raise BadInput("output folder", str(folder), "it exists and is not a plain folder; name another")
    if Path.cwd().is_relative_to(folder.resolve()):
        raise BadInput("output folder", str(folder), "one stands in it; name another")
    present = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_symlink() or not p.is_dir()}
    foreign = sorted(present - _listed(folder))
    if foreign:
        raise BadInput("output folder", str(folder), f"it holds {foreign[0]}, not written here; name another")


def _listed(folder: Path) -> set[str]:
    try:
        manifest = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        return {MANIFEST, *manifest["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _fill(built: Path, files: Mapping[str, bytes]) -> None:
    manifest = json.dumps({"format": 1, "files": sorted(files)}, indent=1) + "\n"
    for name, content in {**files, MANIFEST: manifest.encode()}.items():
        path = built / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    built.chmod(0o777 & ~_umask())


def _swap(built: Path, folder: Path) -> None:
    """Rename `built` to `folder`; an old folder stands aside until that is done, and comes back where it fails."""
    if not folder.exists():
        built.rename(folder)
        return
    aside = Path(tempfile.mkdtemp(prefix=f".{folder.name[:40]}.", dir=folder.parent))
    try:
        folder.rename(aside / "old")
        try:
            built.rename(folder)
        except BaseException:
            (aside / "old").rename(folder)
            raise
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
