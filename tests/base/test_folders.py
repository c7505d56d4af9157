"""Whole folders: what was there stays until the new is complete, nothing is lost or left lying about, also by kills."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from mitertool.base import folders
from mitertool.base.errors import BadInput
from mitertool.base.folders import MANIFEST, finish_killed, refuse_foreign_folder, write_whole_folder
from tests.kills.disk import no_room

ROOT = Path(__file__).resolve().parents[2]
OLD = {"sheet.pdf": b"old sheet", "sketches/A.dxf": b"old sketch"}
NEW = {"sheet.pdf": b"new sheet", "tables/pieces.csv": b"new table"}
FAILURES = (OSError(28, "No space left on device"), KeyboardInterrupt())


def no_exchange(_one: Path, _other: Path) -> bool:
    """A system that cannot swap two names in one step."""
    return False


@pytest.fixture(params=["in one step", "in two steps"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """How the folders change places: as the system can, and as on one that cannot swap names."""
    if request.param == "in two steps":
        monkeypatch.setattr(folders, "exchange", no_exchange)
    return str(request.param)


def content(folder: Path) -> dict[str, bytes]:
    """Every file under `folder`, the manifest left out."""
    files = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    files.pop(MANIFEST, None)
    return files


def names(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


def fail_to_move(monkeypatch: pytest.MonkeyPatch, method: str, error: BaseException, call: int = 1) -> None:
    """Make `Path.method`, on its `call`-th use, raise `error`; every other use works."""
    works, calls = getattr(Path, method), iter(range(1, 100))

    def once(self: Path, *given: Any, **named: Any) -> Any:
        if next(calls) == call:
            raise error
        return works(self, *given, **named)

    monkeypatch.setattr(Path, method, once)


# --- writing and replacing


def test_a_folder_is_written_with_all_folders_above_it(tmp_path: Path) -> None:
    folder = tmp_path / "jobs" / "gate" / "packet"
    write_whole_folder(folder, NEW)
    assert content(folder) == NEW
    # The sums by `printf 'new sheet' | sha256sum` and `printf 'new table' | sha256sum`.
    assert json.loads((folder / MANIFEST).read_text()) == {
        "format": 2,
        "files": {
            "sheet.pdf": "298f7b5fc953ea0800c42fbcdf996b573c7aeca543a584279cd1de2a6fd4dea3",
            "tables/pieces.csv": "3f08665436827340dc8fd6315d2fd36e687f028ba04cbfc6a2c82353a8ed45e5",
        },
    }
    assert names(folder.parent) == ["packet"]


@pytest.mark.usefixtures("way")
def test_a_folder_written_here_is_replaced_whole(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW
    assert names(tmp_path) == ["packet"]


@pytest.mark.usefixtures("way")
def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "packet").mkdir()
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW
    assert names(tmp_path) == ["packet"]


@pytest.mark.usefixtures("way")
@pytest.mark.parametrize("said", ["pk/../pk", "pk/./../pk/", "pk/sketches/../../pk"])
def test_a_folder_named_by_a_way_through_itself_is_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    write_whole_folder(Path("pk"), OLD)
    write_whole_folder(Path(said), NEW)
    assert content(tmp_path / "pk") == NEW
    assert names(tmp_path) == ["pk"]


def test_a_folder_whose_listed_files_were_taken_out_is_still_ours(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    (tmp_path / "packet" / "sketches" / "A.dxf").unlink()
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == NEW


def test_a_written_folder_may_be_read_as_the_shop_s_other_folders(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        write_whole_folder(tmp_path / "packet", NEW)
    finally:
        os.umask(mask)
    assert (tmp_path / "packet").stat().st_mode & 0o777 == 0o750  # 0777 less the mask
    assert (tmp_path / "packet" / "sheet.pdf").stat().st_mode & 0o777 == 0o640  # 0666 less the mask


def test_a_written_folder_may_be_moved_and_copied_and_is_still_ours(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    shutil.copytree(tmp_path / "packet", tmp_path / "copy")
    write_whole_folder(tmp_path / "copy", NEW)
    assert content(tmp_path / "copy") == NEW
    assert content(tmp_path / "packet") == OLD


# --- what is not ours


@pytest.mark.parametrize("foreign", ["notes.txt", "sketches/notes.txt", "sketches/deep/er/B.dxf", ".hidden"])
def test_a_folder_with_a_foreign_file_is_refused_and_nothing_lost(tmp_path: Path, foreign: str) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / foreign).parent.mkdir(parents=True, exist_ok=True)
    (folder / foreign).write_bytes(b"mine")
    with pytest.raises(BadInput, match="not written here") as refusal:
        write_whole_folder(folder, NEW)
    assert foreign.split("/B")[0].removesuffix("/er") in str(refusal.value)
    assert content(folder) == {**OLD, foreign: b"mine"}
    assert names(tmp_path) == ["packet"]


@pytest.mark.usefixtures("way")
@pytest.mark.parametrize("check", [lambda f: write_whole_folder(f, NEW), refuse_foreign_folder])
@pytest.mark.parametrize("name", OLD)
@pytest.mark.parametrize("text", [b"mine", b""])
def test_a_file_that_the_user_changed_is_the_user_s(
    tmp_path: Path, check: Callable[[Path], None], name: str, text: bytes
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / name).write_bytes(text)
    with pytest.raises(BadInput, match=f"it holds {name}, changed since it was written here; name another, or move"):
        check(folder)
    assert content(folder) == {**OLD, name: text}
    assert names(tmp_path) == ["packet"]
    (folder / name).rename(tmp_path / "mine")
    write_whole_folder(folder, NEW)
    assert content(folder) == NEW


@pytest.mark.usefixtures("way")
def test_a_file_changed_while_the_new_folder_is_written_stays_where_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    works = folders._fill

    def filled(new: Path, files: dict[str, bytes]) -> None:
        works(new, files)
        (folder / "sheet.pdf").write_bytes(b"mine")

    monkeypatch.setattr(folders, "_fill", filled)
    with pytest.raises(BadInput, match="changed since it was written"):
        write_whole_folder(folder, NEW)
    assert content(folder) == {**OLD, "sheet.pdf": b"mine"}
    assert names(tmp_path) == ["packet"]


@pytest.mark.usefixtures("way")
def test_a_list_of_names_alone_is_read_by_names(tmp_path: Path) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / MANIFEST).write_text(json.dumps({"format": 1, "files": sorted(OLD)}))
    (folder / "sheet.pdf").write_bytes(b"another sheet")
    write_whole_folder(folder, NEW)
    assert content(folder) == NEW


def test_a_folder_with_a_foreign_empty_folder_is_refused(tmp_path: Path) -> None:
    write_whole_folder(tmp_path / "packet", OLD)
    (tmp_path / "packet" / "photos").mkdir()
    with pytest.raises(BadInput, match="photos, not written here"):
        write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path / "packet") == OLD
    assert (tmp_path / "packet" / "photos").is_dir()


@pytest.mark.parametrize("check", [lambda f: write_whole_folder(f, NEW), refuse_foreign_folder])
def test_a_folder_with_a_folder_that_cannot_be_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, check: Callable[[Path], None]
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / "sketches" / "notes.txt").write_bytes(b"mine")
    works = os.scandir

    def locked(path: Any = ".") -> Any:
        if Path(path).name == "sketches":
            raise PermissionError(13, "Permission denied", str(path))
        return works(path)

    monkeypatch.setattr(os, "scandir", locked)
    with pytest.raises(BadInput, match="Permission denied"):
        check(folder)
    monkeypatch.undo()
    assert content(folder) == {**OLD, "sketches/notes.txt": b"mine"}
    assert names(tmp_path) == ["packet"]


def test_a_folder_with_a_foreign_link_to_a_folder_is_refused(tmp_path: Path) -> None:
    folder, elsewhere = tmp_path / "packet", tmp_path / "elsewhere"
    write_whole_folder(folder, OLD)
    elsewhere.mkdir()
    (folder / "drawings").symlink_to(elsewhere, target_is_directory=True)
    with pytest.raises(BadInput, match="drawings"):
        write_whole_folder(folder, NEW)
    assert (folder / "drawings").is_symlink()


@pytest.mark.usefixtures("way")
def test_what_comes_in_while_the_new_folder_is_written_stays_where_it_was_put(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    works = folders._fill

    def filled(new: Path, files: dict[str, bytes]) -> None:
        works(new, files)
        (folder / "notes.txt").write_bytes(b"mine")

    monkeypatch.setattr(folders, "_fill", filled)
    with pytest.raises(BadInput, match="it holds notes"):
        write_whole_folder(folder, NEW)
    assert content(folder) == {**OLD, "notes.txt": b"mine"}
    assert names(tmp_path) == ["packet"]


@pytest.mark.parametrize(
    "manifest",
    [
        "",
        "{",
        "[]",
        "null",
        '{"format": 1}',
        '{"files": null}',
        '{"files": [{}]}',
        '{"files": 3}',
        '{"files": {"sheet.pdf": 3}}',
        b"\xff\xfe",
    ],
)
def test_a_folder_with_a_broken_manifest_is_not_ours(tmp_path: Path, manifest: str | bytes) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    (folder / MANIFEST).write_bytes(manifest if isinstance(manifest, bytes) else manifest.encode())
    with pytest.raises(BadInput, match="not written here"):
        write_whole_folder(folder, NEW)
    assert content(folder) == OLD


@pytest.mark.usefixtures("way")
def test_a_manifest_that_names_files_outside_takes_none_of_them(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_bytes(b"mine")
    write_whole_folder(tmp_path / "packet", OLD)
    forged = {"format": 1, "files": [*OLD, "../mine.txt", "../../mine.txt", str(tmp_path / "mine.txt")]}
    (tmp_path / "packet" / MANIFEST).write_text(json.dumps(forged))
    write_whole_folder(tmp_path / "packet", NEW)
    assert content(tmp_path) == {
        "mine.txt": b"mine",
        **{f"packet/{name}": text for name, text in NEW.items()},
        f"packet/{MANIFEST}": (tmp_path / "packet" / MANIFEST).read_bytes(),
    }


@pytest.mark.parametrize("kind", ["link to a folder", "link to nothing", "link to itself", "file"])
def test_what_is_no_plain_folder_is_refused(tmp_path: Path, kind: str) -> None:
    out, target = tmp_path / "packet", tmp_path / "target"
    if kind == "file":
        out.write_bytes(b"mine")
    else:
        out.symlink_to(out if kind == "link to itself" else target, target_is_directory=True)
    if kind == "link to a folder":
        write_whole_folder(target, OLD)
    before = names(tmp_path)
    with pytest.raises(BadInput, match="not a plain folder"):
        write_whole_folder(out, NEW)
    assert names(tmp_path) == before
    assert out.is_symlink() or out.read_bytes() == b"mine"
    if kind == "link to a folder":
        assert content(target) == OLD


@pytest.mark.parametrize("way", ["a file", "a link to itself"])
def test_a_folder_below_what_is_no_folder_is_refused(tmp_path: Path, way: str) -> None:
    if way == "a file":
        (tmp_path / way).write_bytes(b"mine")
    else:
        (tmp_path / way).symlink_to(way)
    with pytest.raises(BadInput, match="cannot be read or written: Not a directory"):
        write_whole_folder(tmp_path / way / "packet", NEW)
    assert names(tmp_path) == [way]


def test_a_name_that_no_folder_may_have_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="cannot be read or written: File name too long"):
        write_whole_folder(tmp_path / ("a" * 300), NEW)
    assert names(tmp_path) == []


def test_a_folder_that_may_not_be_written_in_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Faked: who runs the tests may be allowed everything."""
    fail_to_move(monkeypatch, "mkdir", PermissionError(13, "Permission denied"))
    with pytest.raises(BadInput, match="cannot be read or written: Permission denied"):
        write_whole_folder(tmp_path / "packet", NEW)
    assert names(tmp_path) == []


@pytest.mark.parametrize("before", [OLD, {}], ids=["a packet stands there", "nothing stands there"])
@pytest.mark.parametrize("most", [0, 150, 300])
def test_a_disk_that_is_full_leaves_what_was_there(tmp_path: Path, before: dict[str, bytes], most: int) -> None:
    """The system refuses every byte past the first `most` of a file; the list of the files has 200."""
    folder = tmp_path / "packet"
    if before:
        write_whole_folder(folder, before)
    with no_room(most), pytest.raises(BadInput, match="cannot be read or written: File too large"):
        write_whole_folder(folder, {**NEW, "large.pdf": bytes(1000)})
    assert names(tmp_path) == (["packet"] if before else [])
    assert not before or content(folder) == before


@pytest.mark.usefixtures("way")
def test_on_another_disk_all_is_done_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is built lies beside the folder: no rename goes from one disk to another."""
    there = tmp_path / "there"
    there.mkdir()
    monkeypatch.chdir(tmp_path)
    works = os.rename

    def on_one_disk(one: Path, other: Path) -> None:
        if not all(Path(path).resolve().is_relative_to(there) for path in (one, other)):
            raise OSError(18, "Invalid cross-device link")
        works(one, other)

    monkeypatch.setattr(os, "rename", on_one_disk)
    for files in (OLD, NEW):
        write_whole_folder(there / "packet", files)
        assert content(there / "packet") == files
    assert (names(there), names(tmp_path)) == (["packet"], ["there"])


@pytest.mark.parametrize("said", ["", "..", "../..", "/"])
def test_the_folder_one_stands_in_is_refused_and_stays_empty(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: str
) -> None:
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    with pytest.raises(BadInput):
        write_whole_folder(Path(said), NEW)
    assert [*tmp_path.rglob("*")] == [tmp_path / "here"]


# --- what fails half way


@pytest.mark.parametrize("error", FAILURES, ids=repr)
@pytest.mark.parametrize("call", [1, 2], ids=["old folder aside", "new folder in place"])
def test_the_old_folder_is_whole_where_a_move_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, call: int
) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    monkeypatch.setattr(folders, "exchange", no_exchange)
    fail_to_move(monkeypatch, "rename", error, call)
    with pytest.raises(BadInput if isinstance(error, OSError) else type(error)):
        write_whole_folder(folder, NEW)
    monkeypatch.undo()
    assert content(folder) == OLD
    assert names(tmp_path) == ["packet"]
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
    assert names(tmp_path) == ["packet"]


def test_a_new_folder_that_fails_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(TypeError):
        write_whole_folder(tmp_path / "packet", {"a.txt": b"good", "b.txt": "no bytes"})  # type: ignore[dict-item]
    assert names(tmp_path) == []


# --- runs that are killed, and two at once

_CHILD = """
import os, signal, sys
step, way, folder = int(sys.argv[1]), sys.argv[2], sys.argv[3]
from pathlib import Path

from mitertool.base import folders
works = folders.exchange
def step_seen(*_):
    global step
    step -= 1
    if step == 0:
        os.kill(os.getpid(), {signal})
WATCHED = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "open")
def watch(event, arguments):
    if event in WATCHED and ".mitertool" in str(arguments[0]):
        step_seen()
def exchange(one, other):
    step_seen()
    done = works(one, other) if way == "in one step" else False
    step_seen()
    return done
folders.exchange = exchange
sys.addaudithook(watch)
folders.write_whole_folder(Path(folder), {files!r})
"""


def run_to(step: int, way: str, folder: Path, stop: str = "signal.SIGKILL") -> subprocess.Popen[bytes]:
    """A process of its own that writes NEW as `folder` and is stopped by `stop` before its `step`-th step on disk."""
    code = _CHILD.format(signal=stop, files=NEW)
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", code, str(step), way, str(folder)]
    return subprocess.Popen(command, env=environment, stderr=subprocess.PIPE)


@pytest.mark.parametrize("before", [OLD, {}], ids=["a packet stands there", "nothing stands there"])
@pytest.mark.parametrize("way", ["in one step", "in two steps"])
def test_a_run_killed_at_any_step_loses_nothing_and_the_next_one_leaves_nothing(
    tmp_path: Path, way: str, before: dict[str, bytes]
) -> None:
    kills = 0
    for step in range(1, 100):
        folder = tmp_path / str(step) / "packet"
        folder.parent.mkdir()
        if before:
            write_whole_folder(folder, before)
        ended = run_to(step, way, folder)
        _, said = ended.communicate()
        assert ended.returncode in (0, -signal.SIGKILL), said
        stood = content(folder) if folder.exists() else {}
        finish_killed(folder)
        found = content(folder) if folder.exists() else {}
        assert found in (before, NEW), step  # whole, one or the other
        assert stood in ({}, found), step
        assert stood or not before or way == "in two steps", step  # a swap leaves no moment without a packet
        assert names(folder.parent) == (["packet"] if found else []), step
        write_whole_folder(folder, NEW)
        assert (content(folder), names(folder.parent)) == (NEW, ["packet"]), step
        if ended.returncode == 0:
            break
        kills += 1
    assert 10 < kills < 99


def test_a_run_that_follows_a_killed_one_clears_what_it_left(tmp_path: Path) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    killed = run_to(6, "in one step", folder)
    killed.communicate()
    assert killed.returncode == -signal.SIGKILL
    assert len(names(tmp_path)) == 2
    write_whole_folder(folder, NEW)
    assert (content(folder), names(tmp_path)) == (NEW, ["packet"])


def test_two_runs_at_once_do_not_meet(tmp_path: Path) -> None:
    folder = tmp_path / "packet"
    write_whole_folder(folder, OLD)
    other = run_to(6, "in one step", folder, stop="signal.SIGSTOP")
    os.waitid(os.P_PID, other.pid, os.WSTOPPED | os.WNOWAIT)
    for do in (lambda: write_whole_folder(folder, NEW), lambda: finish_killed(folder)):
        with pytest.raises(BadInput, match="another run"):
            do()
    assert content(folder) == OLD
    os.kill(other.pid, signal.SIGCONT)
    other.communicate()
    assert other.returncode == 0
    assert (content(folder), names(tmp_path)) == (NEW, ["packet"])


def test_nothing_to_finish_touches_nothing(tmp_path: Path) -> None:
    finish_killed(tmp_path / "packet")
    assert names(tmp_path) == []
    write_whole_folder(tmp_path / "packet", OLD)
    finish_killed(tmp_path / "packet")
    assert (content(tmp_path / "packet"), names(tmp_path)) == (OLD, ["packet"])
