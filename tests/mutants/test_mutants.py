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


OUT_OF_ALL_MEASURE = {
    "a price": ("job.toml", "cost = 31.5", "cost = 1e308", "[[stock]] 1: cost: found 1e+308; it must be at most 1e+12"),
    "minutes": (
        "saw.toml",
        "swing_minutes = 2.5",
        "swing_minutes = 1e308",
        "swing_minutes: found 1e+308; it must be at",
    ),
    "a rate": ("saw.toml", "rate = 54", 'rate = "1e13"', "rate: found '1e13'; it must be at most 1e+12"),
    "a slow blade": (
        "saw.toml",
        "area_rate = 2150",
        "area_rate = 1e-308",
        "area_rate: found 1e-308; it must be at least",
    ),
    "a fast one": ("saw.toml", "descent = 85", "descent = 1e308", "descent: found 1e+308; it must be at most 1e+12"),
}


@pytest.mark.parametrize("what", OUT_OF_ALL_MEASURE)
def test_a_number_out_of_all_measure_is_told_by_its_key(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sums and products of them are no numbers of a double any more: 1e308 + 1e308 is infinite."""
    file, old, new, told = OUT_OF_ALL_MEASURE[what]
    for name in ("job.toml", "saw.toml"):
        text = (SMALL / name).read_text()
        (tmp_path / name).write_text(text.replace(old, new, 1) if name == file else text)
    monkeypatch.chdir(tmp_path)
    assert run(["nest", "job.toml", "--json"]) == 2
    assert told in capsys.readouterr().err


NEARLY_0 = {
    "a side of a hopper": (
        "space.toml",
        "bottom = [300, 200]",
        "bottom = [300, 1e-308]",
        "CHUTE: bottom: found 1e-308",
    ),
    "a lip": ("shapes.toml", "lip = 18", "lip = 1e-308", "lip: found 1e-308"),
    "a division": ("saw.toml", "division = 0.5", "division = 1e-308", "[scale]: division: found 1e-308"),
}


@pytest.mark.parametrize("what", NEARLY_0)
def test_a_size_that_is_none_is_told_by_its_key(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The square of 1e-308 is 0: no direction, and no count of divisions."""
    file, old, new, told = NEARLY_0[what]
    text = (SMALL / file).read_text()
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new, 1))
    if file == "space.toml":
        (tmp_path / "saw.toml").write_bytes((SMALL / "saw.toml").read_bytes())
    monkeypatch.chdir(tmp_path)
    assert run(["saw", "check", file] if file == "saw.toml" else ["check", file]) == 2
    assert told in capsys.readouterr().err
