"""Where members cross is told in the units of the reader. By hand: the diagonals of a square of 10 in meet at 5 in,
5 in."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.cli.main import run

ACROSS = "mitertool: {}members: found 'sides 1 and 3 crossing at (5\", 5\")'; members must not cross\n"
SHAPE = ["frame", "polygon", "--section", "SHS 50x50x3", "--measured", "inside"]


@pytest.mark.parametrize("units", ["in", "ft-in"])
def test_of_a_command(units: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*SHAPE, "--points", "0,0 10,10 10,0 0,10", "--units", units]) == 2
    assert capsys.readouterr().err == ACROSS.format("")


def test_of_a_job(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "J"\nunits = "in"\n[[frame]]\nmark = "F"\nshape = "polygon"\nsection = "SHS 50x50x3"\n'
        'measured = "inside"\npoints = [[0, 0], [10, 10], [10, 0], [0, 10]]\n'
    )
    assert run(["check", str(tmp_path / "job.toml")]) == 2
    assert capsys.readouterr().err == ACROSS.format("job.toml: [[frame]] F: ")
