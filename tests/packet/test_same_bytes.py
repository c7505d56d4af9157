"""The same job gives the same bytes, whatever the order of hashes, the clock, the zone and the folder."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.packet.jobs import GALLERY, ROOT


def packet(name: str, work: Path, **environment: str) -> dict[str, bytes]:
    """Every file of a gallery job's packet, made by a process of its own that stands in `work`."""
    work.mkdir()
    job = ROOT / "gallery" / name / "job.toml"
    command = [sys.executable, "-m", "mitertool", "packet", str(job), "--out", "packet"]
    subprocess.run(command, cwd=work, env={**os.environ, "PYTHONPATH": str(ROOT), **environment}, check=True)
    files = (path for path in (work / "packet").rglob("*") if path.is_file())
    return {path.relative_to(work).as_posix(): path.read_bytes() for path in files}


@pytest.mark.parametrize("name", GALLERY)
def test_two_processes_write_the_same_bytes(name: str, tmp_path: Path) -> None:
    one = packet(name, tmp_path / "one", PYTHONHASHSEED="0", TZ="UTC", LC_ALL="C")
    other = packet(name, tmp_path / "another place", PYTHONHASHSEED="42", TZ="Asia/Kolkata", PYTHONUTF8="1")
    assert len(one) > 5
    assert list(one) == list(other) or set(one) == set(other)
    assert [name for name in one if one[name] != other[name]] == []
