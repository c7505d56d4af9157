"""Whole files: what was there stays until the new is complete, and nothing is left lying about."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole


def content(folder: Path) -> dict[str, bytes]:
    """Every file under `folder`."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


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


# --- where it goes, and what killed runs leave


def test_a_file_is_written_where_a_link_leads_with_its_permissions(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "a.txt").write_bytes(b"old")
    (tmp_path / "real" / "a.txt").chmod(0o604)
    (tmp_path / "a.txt").symlink_to("real/a.txt")
    write_whole(tmp_path / "a.txt", b"new")
    assert (tmp_path / "a.txt").is_symlink()
    assert (tmp_path / "real" / "a.txt").read_bytes() == b"new"
    assert (tmp_path / "real" / "a.txt").stat().st_mode & 0o777 == 0o604


KILLED = """
import os, signal, sys
from pathlib import Path
from mitertool.base.files import write_whole
sys.addaudithook(lambda event, _: event == "os.chmod" and os.kill(os.getpid(), {signal}))
write_whole(Path(sys.argv[1]), b"new")
"""


def other_run(path: Path, stop: str) -> subprocess.Popen[bytes]:
    """A process of its own that writes `path` and is stopped by `stop` just before the file gets its name."""
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
    return subprocess.Popen([sys.executable, "-c", KILLED.format(signal=stop), str(path)], env=environment)


def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"old")
    killed = other_run(tmp_path / "a.txt", "signal.SIGKILL")
    assert killed.wait() == -signal.SIGKILL
    assert (tmp_path / "a.txt").read_bytes() == b"old"
    assert len([*tmp_path.iterdir()]) == 2
    write_whole(tmp_path / "a.txt", b"next")
    assert content(tmp_path) == {"a.txt": b"next"}


def test_what_another_run_is_writing_is_left_to_it(tmp_path: Path) -> None:
    other = other_run(tmp_path / "a.txt", "signal.SIGSTOP")
    os.waitid(os.P_PID, other.pid, os.WSTOPPED | os.WNOWAIT)
    write_whole(tmp_path / "a.txt", b"mine")
    os.kill(other.pid, signal.SIGCONT)
    assert other.wait() == 0
    assert content(tmp_path) == {"a.txt": b"new"}
