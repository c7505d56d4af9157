"""Whole files and whole folders: what was there stays until the new is complete, and nothing is left lying about."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.base.files import MANIFEST, write_whole, write_whole_folder

OLD = {"sheet.pdf": b"old sheet", "sketches/A.dxf": b"old sketch"}
NEW = {"sheet.pdf": b"new sheet", "tables/pieces.csv": b"new table"}


def content(folder: Path) -> dict[str, bytes]:
    """Every file under `folder`, the manifest left out."""
    files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    files.pop(MANIFEST, None)
    return files


def fail_to_move(monkeypatch: pytest.MonkeyPatch, method: str, error: BaseException, call: int = 1) -> None:
    """Make `Path.method`, on its `call`-th use, raise `error`; every other use works."""
    works, calls = getattr(Path, method), iter(range(1, 100))

    def once(self: Path, target: Any) -> Any:
        if next(calls) == call:
            raise error
        return works(self, target)

    monkeypatch.setattr(Path, method, once)


FAILURES = (OSError(28, "No space left on device"), KeyboardInterrupt())


# --- one file


def test_a_file_is_written_and_written_over(tmp_path: Path) -> None:
    for text in (b"first", b"second and longer", b""):
        write_whole(tmp_path / "a.txt", text)
        assert content(tmp_path) == {"a.txt": text}


def test_a_written_file_may_be_read_as_the_shop_s_other_files(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        write_whole(tmp_path / "a.txt", b"text")
    finally:
        os.umask(mask)
    assert (tmp_path / "a.txt").stat().st_mode & 0o777 == 0o640  # 0666 less the mask


@pytest.mark.parametrize("error", FAILURES, ids=repr)
def test_the_old_file_stays_where_the_new_one_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException
) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    fail_to_move(monkeypatch, "replace", error)
    with pytest.raises(BadInput if isinstance(error, OSError) else type(error)):
        write_whole(tmp_path / "a.txt", b"new")
    assert content(tmp_path) == {"a.txt": b"old"}


def test_the_old_file_stays_where_the_content_is_no_bytes(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    with pytest.raises(TypeError):
        write_whole(tmp_path / "a.txt", "text")  # type: ignore[arg-type]
    assert content(tmp_path) == {"a.txt": b"old"}


@pytest.mark.parametrize("where", ["missing/a.txt", "a folder", "a file/a.txt"])
def test_a_file_that_cannot_stand_there_is_refused(tmp_path: Path, where: str) -> None:
    (tmp_path / "a folder").mkdir()
    (tmp_path / "a file").write_bytes(b"old")
    with pytest.raises(BadInput, match="cannot be written"):
        write_whole(tmp_path / where, b"new")
    assert content(tmp_path) == {"a file": b"old"}
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a file", "a folder"]


# --- a folder


def test_a_folder_is_written_with_all_folders_above_it(tmp_path: Path) -> None:
    folder = tmp_path / "jobs" / "gate" / "packet"
    write_whole_folder(folder, NEW)
    assert content(folder) == NEW
    assert json.loads((folder / MANIFEST).read_text()) == {"format": 1, "files": sorted(NEW)}
    assert [p.name for p in folder.parent.iterdir()] == ["packet"]


def test_a_folder_written_here_is_replaced_whole(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "packet").mkdir()
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW


def test_a_folder_whose_listed_files_were_taken_out_is_still_ours(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    (tmp_path / "packet" / "sheet.pdf").unlink()
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW


@pytest.mark.parametrize("foreign", ["notes.txt", "sketches/notes.txt", "sketches/deep/er/B.dxf", ".hidden"])
def test_a_folder_with_a_foreign_file_is_refused_and_nothing_lost(tmp_path: Path, foreign: str) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / foreign).parent.mkdir(parents=True, exist_ok=True)
    (folder / foreign).write_bytes(b"mine")
    with pytest.raises(BadInput, match="not written here") as refusal:
        write_whole_folder(folder, NEW)
    assert foreign in str(refusal.value)
    assert content(folder) == {**OLD, foreign: b"mine"}
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_a_folder_with_a_foreign_link_to_a_folder_is_refused(tmp_path: Path) -> None:
    folder, elsewhere = tmp_path / "packet", tmp_path / "elsewhere"
    write_whole_folder(folder, OLD)
    elsewhere.mkdir()
    (folder / "drawings").symlink_to(elsewhere, target_is_directory=True)
    with pytest.raises(BadInput, match="drawings"):
        write_whole_folder(folder, NEW)
    assert (folder / "drawings").is_symlink()


@pytest.mark.parametrize(
    "manifest",
    ["", "{", "[]", "null", '{"format": 1}', '{"files": null}', '{"files": [{}]}', '{"files": 3}', b"\xff\xfe"],
)
def test_a_folder_with_a_broken_manifest_is_not_ours(tmp_path: Path, manifest: str | bytes) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / MANIFEST).write_bytes(manifest if isinstance(manifest, bytes) else manifest.encode())
    with pytest.raises(BadInput, match="not written here"):
        write_whole_folder(folder, NEW)
    assert content(folder) == OLD


@pytest.mark.parametrize("kind", ["link to a folder", "link to nothing", "file"])
def test_what_is_no_plain_folder_is_refused(tmp_path: Path, kind: str) -> None:
    out, target = tmp_path / "packet", tmp_path / "target"
    if kind == "file":
        out.write_bytes(b"mine")
    else:
        out.symlink_to(target, target_is_directory=True)
    if kind == "link to a folder":
        write_whole_folder(target, OLD)
    before = sorted(p.name for p in tmp_path.iterdir())
    with pytest.raises(BadInput, match="not a plain folder"):
        write_whole_folder(out, NEW)
    assert sorted(p.name for p in tmp_path.iterdir()) == before
    assert out.is_symlink() or out.read_bytes() == b"mine"
    if kind == "link to a folder":
        assert content(target) == OLD


@pytest.mark.parametrize("error", FAILURES, ids=repr)
@pytest.mark.parametrize("call", [1, 2], ids=["old folder aside", "new folder in place"])
def test_the_old_folder_is_whole_where_a_move_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, call: int
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    fail_to_move(monkeypatch, "rename", error, call)
    with pytest.raises(BadInput if isinstance(error, OSError) else type(error)):
        write_whole_folder(folder, NEW)
    monkeypatch.undo()
    assert content(folder) == OLD
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]
    write_whole_folder(folder, NEW)
    assert content(folder) == NEW


@pytest.mark.parametrize("error", FAILURES, ids=repr)
@pytest.mark.parametrize("call", [1, 2, 3])
def test_the_old_folder_is_whole_where_a_file_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, call: int
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    fail_to_move(monkeypatch, "write_bytes", error, call)
    with pytest.raises(BadInput if isinstance(error, OSError) else type(error)):
        write_whole_folder(folder, NEW)
    monkeypatch.undo()
    assert content(folder) == OLD
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_a_new_folder_that_fails_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(TypeError):
        write_whole_folder(tmp_path / "packet", {"a.txt": b"good", "b.txt": "no bytes"})  # type: ignore[dict-item]
    assert list(tmp_path.iterdir()) == []


def test_a_folder_below_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a file").write_bytes(b"mine")
    with pytest.raises(BadInput, match="cannot be written"):
        write_whole_folder(tmp_path / "a file" / "packet", NEW)
    assert content(tmp_path) == {"a file": b"mine"}


def test_the_folder_one_stands_in_is_refused_and_stays_empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(BadInput):
        write_whole_folder(Path(), NEW)
    assert list(tmp_path.iterdir()) == []


def test_a_written_folder_may_be_moved_and_copied_and_is_still_ours(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    shutil.copytree(tmp_path / "packet", tmp_path / "copy")
    write_whole_folder(tmp_path / "copy", NEW)
    assert content(tmp_path / "copy") == NEW
    assert content(tmp_path / "packet") == OLD
