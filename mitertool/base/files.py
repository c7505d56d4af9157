"""Whole files: what is written appears complete or not at all, and a file of another's is told from one's own."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from glob import escape
from pathlib import Path
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.stopping import undisturbed
from mitertool.words import phrase

_UNDER_WAY: Final = ".mitertool"
"""How the name ends under which a file stands, hidden beside its own, while it is written."""


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` to where `path` leads, so that the old file stays until the new one is complete.

    A file that stands there gives the new one its permissions; what a killed run left beside it is cleared. Raises
    `BadInput` where the folder does not exist or may not be written. A signal is heard when the file is written.
    """
    try:
        with undisturbed():
            _write(Path(os.path.realpath(path)), content)
    except OSError as error:
        raise BadInput(phrase("what.output-file"), str(path), phrase("refuse.unwritten", why=error.strerror)) from error


def _write(target: Path, content: bytes) -> None:
    _clear_killed(target)
    handle, name = tempfile.mkstemp(_UNDER_WAY, f".{target.name[:40]}.", target.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            lock(file.fileno())
            file.write(content)
            file.flush()
            beside.chmod(target.stat().st_mode & 0o7777 if target.is_file() else 0o666 & ~_umask())
            if sys.platform != "win32":  # there an open file cannot be renamed
                beside.replace(target)
        if sys.platform == "win32":
            beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def lock(handle: int) -> bool:
    """Hold an open file as long as its handle lives; False where another process holds it.

    Where the system or the disk has no locks every file counts as held: two runs at once are then not told apart.
    """
    if sys.platform == "win32":
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:  # a disk without locks
        return True
    return True


@contextmanager
def held(path: Path) -> Iterator[None]:
    """A file that is there, and this process's alone, as long as the block runs.

    Raises `BadInput` where another process holds it.
    """
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    if not (lock(handle) and _is_still(handle, path)):
        os.close(handle)
        raise BadInput(phrase("what.output"), str(path.parent), phrase("refuse.another-run"))
    try:
        yield
    finally:
        _let_go(handle, path)


def _let_go(handle: int, path: Path) -> None:
    """Take the name away while the file is still held; Windows takes it only once the file is closed."""
    if sys.platform != "win32":
        path.unlink(missing_ok=True)
    os.close(handle)
    if sys.platform == "win32":
        with suppress(OSError):
            path.unlink(missing_ok=True)


def _is_still(handle: int, path: Path) -> bool:
    """Whether the name leads to the open file: the one who held it before may have taken the name away."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


def _clear_killed(target: Path) -> None:
    """Take away files beside `target` that a killed run was writing; one that is being written is left alone."""
    for beside in target.parent.glob(f".{escape(target.name[:40])}.????????{_UNDER_WAY}"):
        with suppress(OSError):
            handle = os.open(beside, os.O_RDWR)
            try:
                if lock(handle):
                    beside.unlink()
            finally:
                os.close(handle)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
