"""The same job gives the same bytes, whatever the order of hashes, the zone, the language and the folder."""

from __future__ import annotations

import os
import subprocess
import sys
from itertools import product
from pathlib import Path

import pytest

from mitertool.job import load
from tests.packet.jobs import GALLERY, ROOT

CODE = """
import sys
from mitertool.cli.main import run
gallery, *names = sys.argv[1:]
sys.exit(max(run(["packet", f"{gallery}/{name}/job.toml", "--out", name]) for name in names))
"""

SETTINGS = (
    {"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "42", "TZ": "Asia/Kolkata", "PYTHONUTF8": "1"},
)


def _made(work: Path, settings: dict[str, str]) -> dict[str, bytes]:
    """Every file of every gallery packet, made by one process."""
    work.mkdir()
    command = [sys.executable, "-c", CODE, str(ROOT / "gallery"), *GALLERY]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **settings}
    subprocess.run(command, cwd=work, env=environment, check=True, capture_output=True)
    files = (path for path in work.rglob("*") if path.is_file())
    return {path.relative_to(work).as_posix(): path.read_bytes() for path in files}


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    one, other = (_made(tmp_path / f"{i}", settings) for i, settings in enumerate(SETTINGS))
    assert set(one) == set(other)
    kinds = {(Path(path).parts[0], Path(path).suffix) for path in one}
    assert kinds >= set(product(GALLERY, (".pdf", ".html", ".csv", ".json", ".dxf")))
    assert [path for path in one if one[path] != other[path]] == []


@pytest.mark.parametrize("name", GALLERY)
def test_a_job_that_is_read_again_is_the_same(name: str) -> None:
    path = ROOT / "gallery" / name / "job.toml"
    first = load(path)
    for _ in range(8):
        again = load(path)
        assert again.pieces == first.pieces
        assert again.frames == first.frames
