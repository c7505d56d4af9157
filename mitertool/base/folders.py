"""Whole folders: one takes the place of another in one step, and what mitertool did not write is never moved.

A folder is built beside the old one, in a hidden folder of a fixed name that is the journal of the work: `new` is being
written or, once the two have changed places, is the old one; `old` stands aside where the system cannot swap two names
in one step. A run that was killed leaves it there, and the next one to the same place finishes what it finds.
"""

from __future__ import annotations

import errno
import json
import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.files import held
from mitertool.base.stopping import undisturbed
from mitertool.words import phrase

MANIFEST: Final = ".mitertool-packet.json"
"""Lists the files of a folder that mitertool wrote, each with its SHA-256.

A folder without the list, with more in it than is listed, or with a file that differs from what was written, is not
replaced. A list of format 1 has names alone.
"""

_NEW: Final = "new"
_OLD: Final = "old"
_LOCK: Final = "lock"


def write_whole_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (relative name to content) as `folder`, built beside it and put in its place in one step.

    An existing folder is replaced only when mitertool wrote everything in it. Raises `BadInput` otherwise.
    A signal is heard when the folder stands.
    """
    with _told(folder), undisturbed():
        target = _place(folder)
        _make_way(target.parent)
        with _at_work(target) as journal:
            _refuse_foreign(target)
            _fill(journal / _NEW, files)
            _put(journal, target)


def _make_way(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError as error:
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder)) from error


def refuse_foreign_folder(folder: Path) -> None:
    """Raise `BadInput` where `folder` exists and holds anything that mitertool did not write."""
    with _told(folder):
        _refuse_foreign(_place(folder))


def made_files(folder: Path) -> tuple[str, ...]:
    """The files of a folder that mitertool wrote and nobody changed since, by their names in it; none of any other."""
    listed = {name: total for name, total in _listed(folder).items() if name != MANIFEST}
    return tuple(sorted(name for name, total in listed.items() if _is_so(folder, name, total)))


def _is_so(folder: Path, name: str, total: str) -> bool:
    path = folder / name
    within = path.resolve().is_relative_to(folder.resolve())
    return within and path.is_file() and not path.is_symlink() and total in ("", _sum(path.read_bytes()))


def finish_killed(folder: Path) -> None:
    """Finish what a killed run left undone: the folder stands again under its name, and nothing lies beside it.

    Does nothing where no run was killed. Raises `BadInput` where another run is writing the folder.
    """
    with _told(folder):
        target = _place(folder)
        if _journal(target).is_dir():
            with undisturbed(), _at_work(target):
                pass


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise _refused(folder, "refuse.unusable", why=error.strerror) from error


def _place(folder: Path) -> Path:
    """The folder by its one true path: `a/../a` must not lead through what is being moved."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise _refused(folder, "refuse.no-folder")
    target = Path(os.path.realpath(folder))
    if Path.cwd().is_relative_to(target):
        raise _refused(folder, "refuse.in-folder")
    return target


def _journal(target: Path) -> Path:
    whole = sha256(os.fsencode(target.name)).hexdigest()[:8]
    return target.with_name(f".{target.name[:40]}.{whole}.mitertool")


@contextmanager
def _at_work(target: Path) -> Iterator[Path]:
    """The journal of a folder, this run's alone, with everything finished before and after."""
    journal = _journal(target)
    journal.mkdir(mode=0o700, exist_ok=True)
    try:
        with held(journal / _LOCK):
            try:
                _finish(journal, target)
                yield journal
            finally:
                _finish(journal, target)
    finally:
        with suppress(OSError):  # another run may be at work in it
            journal.rmdir()


def _finish(journal: Path, target: Path) -> None:
    """Take back the old folder where nothing stands in its place; clear what is left."""
    old = journal / _OLD
    if old.exists() and not os.path.lexists(target):
        old.rename(target)
    for left in (old, journal / _NEW):
        if left.is_dir():
            _clear(left)


def _refuse_foreign(folder: Path) -> None:
    against = next(_strangers(folder), None) if folder.exists() else None
    if against is not None:
        why, name = against
        raise _refused(folder, why, name=name)


def _refused(folder: Path, code: str, **parts: object) -> BadInput:
    return BadInput(phrase("what.output-folder"), str(folder), phrase(code, **parts))


def _strangers(folder: Path) -> Iterator[tuple[str, str]]:
    """What stands in `folder` that mitertool did not write so, and why not; folders without a file of ours too."""
    files = _listed(folder)
    folders = {above.as_posix() for name in files for above in Path(name).parents}
    for path, is_folder in _walked(folder):
        name = path.relative_to(folder).as_posix()
        if name not in (folders if is_folder else files) or path.is_symlink():
            yield "refuse.stranger", name
        elif not is_folder and files[name] not in ("", _sum(path.read_bytes())):
            yield "refuse.changed", name


def _walked(folder: Path) -> Iterator[tuple[Path, bool]]:
    """Everything below `folder` in the order of names, each with whether it is a folder. Raises `OSError`."""
    for path in sorted(Path(entry) for entry in os.scandir(folder)):
        is_folder = path.is_dir() and not path.is_symlink()
        yield path, is_folder
        if is_folder:
            yield from _walked(path)


def _listed(folder: Path) -> dict[str, str]:
    """The files of the list and the list itself, each with its sum; "" where no sum is listed."""
    try:
        files = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return {}
    if isinstance(files, list) and all(isinstance(name, str) for name in files):
        files = dict.fromkeys(files, "")
    known = isinstance(files, dict) and all(isinstance(one, str) for one in files.values())
    return {**files, MANIFEST: ""} if known else {}


def _sum(content: bytes) -> str:
    return sha256(content).hexdigest()


def _fill(new: Path, files: Mapping[str, bytes]) -> None:
    """The list comes first: whatever a killed run leaves behind is known by it."""
    new.mkdir()
    sums = {name: _sum(content) for name, content in sorted(files.items())}
    manifest = json.dumps({"format": 2, "files": sums}, indent=1) + "\n"
    for name, content in {MANIFEST: manifest.encode(), **files}.items():
        path = new / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _put(journal: Path, target: Path) -> None:
    """Put the new folder in its place. Anything foreign that came in meanwhile stays where it was, with the old one."""
    new, old = journal / _NEW, journal / _OLD
    if not target.exists():
        new.rename(target)
    elif exchange(new, target):
        try:
            _refuse_foreign(new)
        except BadInput:
            exchange(new, target)
            raise
    else:
        target.rename(old)
        _refuse_foreign(old)
        new.rename(target)


def exchange(one: Path, other: Path) -> bool:
    """Let two names change places in one step; False where the system or the disk has no such step.

    renameat2 with RENAME_EXCHANGE (2), as in the Linux man page rename(2).
    """
    if not sys.platform.startswith("linux"):
        return False
    import ctypes

    try:
        step = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    here = -100  # AT_FDCWD
    if step(here, os.fsencode(one), here, os.fsencode(other), 2) == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP):
        return False
    raise OSError(code, os.strerror(code), str(other))


def _clear(folder: Path) -> None:
    """Take away what mitertool wrote in `folder`, its list last; what is not listed stays, and the folder with it."""
    ours = _listed(folder).keys() - {MANIFEST}
    for path, is_folder in reversed([*_walked(folder)]):
        if is_folder:
            with suppress(OSError):  # it holds what is not on the list
                path.rmdir()
        elif path.relative_to(folder).as_posix() in ours:
            path.unlink()
    if {path.name for path, _ in _walked(folder)} <= {MANIFEST}:
        (folder / MANIFEST).unlink(missing_ok=True)
        folder.rmdir()
