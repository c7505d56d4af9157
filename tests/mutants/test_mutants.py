"""Spoiled files and arguments end in an answer or in a line that says what is wrong, soon and with little memory.

A short run of seeds that stay the same; the long one is `python -m tests.mutants.hunt FIRST COUNT`. Below it stand
inputs that once ended otherwise.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.cli.main import run
from tests.mutants.hunt import SMALL, STRAKE, hunt
from tests.often import times


@pytest.mark.parametrize("first", range(0, times(100), 50))
def test_spoiled_inputs_end_in_a_line(first: int, tmp_path: Path) -> None:
    assert hunt(range(first, first + 50), tmp_path) == []


BROKEN = {
    "a header without its pairs": (b"$ACADVER\n", b""),
    "no end of a section": (b"ENDSEC", b"ENDSEX"),
    "a number without end": (b"\n10\n", b"\n10\ninf\n"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_a_broken_drawing_is_told(
    fault: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    text, (old, new) = STRAKE.read_bytes(), BROKEN[fault]
    assert old in text
    (tmp_path / "strake.dxf").write_bytes(text.replace(old, new, 1))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "job.toml").write_bytes((SMALL / "own.toml").read_bytes())
    assert run(["check", "job.toml"]) == 2
    line = capsys.readouterr().err
    assert "strake.dxf" in line and "fault" not in line


def test_an_argument_with_a_nul_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["saw", "check", "a\0b"]) == 2
    assert capsys.readouterr().err == "mitertool: argument 3: found 'a b'; must have no character of code 0\n"


def test_a_size_that_is_none_is_told_by_its_key(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A side of 1e-308 mm has no direction: its square is 0."""
    text = (SMALL / "space.toml").read_text()
    assert "bottom = [300, 200]" in text
    (tmp_path / "job.toml").write_text(text.replace("bottom = [300, 200]", "bottom = [300, 1e-308]"))
    (tmp_path / "saw.toml").write_bytes((SMALL / "saw.toml").read_bytes())
    monkeypatch.chdir(tmp_path)
    assert run(["check", "job.toml"]) == 2
    assert "job.toml: [[frame]] CHUTE: bottom: found 1e-308; it must be more than 0" in capsys.readouterr().err
