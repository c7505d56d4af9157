"""A piece shorter than the feed takes is a problem of the job; one as long as that is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import load, solve

ROOT = Path(__file__).resolve().parents[2]

JOB = """[job]
name = "Shims"
saw = "saw.toml"

[[piece]]
mark = "SHIM"
section = "FLAT 50x10"
length = {length}
"""


@pytest.mark.parametrize(("length", "problems"), [(5.9, 1), (6.0, 0)])
def test_a_piece_too_short_to_hold(tmp_path: Path, length: float, problems: int) -> None:
    saw = (ROOT / "gallery" / "saws" / "hinged.toml").read_text(encoding="utf-8")
    (tmp_path / "saw.toml").write_text(saw, encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB.format(length=length), encoding="utf-8")
    found = [text for text in solve(load(tmp_path / "job.toml")).problems if "too short to hold" in text]
    assert len(found) == problems
