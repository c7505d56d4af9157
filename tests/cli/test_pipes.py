"""`-`: a job from standard input, a drawing to standard output."""

from __future__ import annotations

import io
import shutil
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Said

GATE = ROOT / "gallery" / "boathouse-gate"
Call = Callable[..., Said]


@pytest.fixture
def piped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder, stood in, with the job's saw; the job itself comes through the pipe."""
    shutil.copy(GATE / "saw.toml", tmp_path / "saw.toml")
    monkeypatch.chdir(tmp_path)
    content = io.BytesIO((GATE / "job.toml").read_bytes())
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(content, encoding="ascii"))
    return tmp_path


def test_a_job_is_read_from_standard_input(call: Call, piped: Path, gate: str) -> None:
    assert call("check", "-", "--json") == call("check", gate, "--json")


def test_a_packet_of_it_is_that_of_the_file(call: Call, piped: Path, gate: str) -> None:
    assert call("packet", "-", "--out", "piped").code == call("packet", gate, "--out", "read").code == 0
    for name in ("plan.json", "pieces.csv", "cut-sheet.pdf", "sketches/all.dxf"):
        assert (piped / "piped" / name).read_bytes() == (piped / "read" / name).read_bytes()


def test_a_fault_in_it_names_standard_input(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"[job]\nname = 3\n")))
    said = call("check", "-")
    assert (said.code, said.out) == (2, "")
    assert "standard input: [job]: name: found 3" in said.err


def test_a_closed_input_is_bad_input(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", None)
    said = call("check", "-")
    assert (said.code, said.out) == (2, "")
    assert "standard input is closed" in said.err


DRAWN = {
    "section": ("section", "L 50x50x5"),
    "lays": ("section", "L 50x50x5", "--lays"),
    "piece": ("piece", "RHS 80x40x3", "--length", "400", "--left", "30"),
    "cut": ("cut", "RHS 80x40x3", "--saw", str(GATE / "saw.toml")),
    "frame": ("frame", "polygon", "--section", "SHS 40x40x3", "--sides", "6", "--side", "300", "--measured", "outside"),
    "saw": ("saw", "draw", str(GATE / "saw.toml")),
}


@pytest.mark.parametrize("name", DRAWN)
def test_a_drawing_goes_to_standard_output_and_the_words_beside_it(
    name: str, call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    printed, written = call(*DRAWN[name], "--sketch", "-"), call(*DRAWN[name], "--sketch", "it.svg")
    assert (printed.code, written.code, written.err) == (0, 0, "")
    assert printed.err.strip() == written.out.replace("it.svg\n", "").strip()
    assert printed.out.isascii()
    in_file = ET.canonicalize((tmp_path / "it.svg").read_text(encoding="utf-8"), with_comments=False)
    assert ET.canonicalize(printed.out) == in_file
    assert [path.name for path in tmp_path.iterdir()] == ["it.svg"]


@pytest.mark.parametrize("name", DRAWN)
def test_standard_output_takes_one_answer(name: str, call: Call) -> None:
    said = call(*DRAWN[name], "--sketch", "-", "--json")
    assert (said.code, said.out) == (2, "")
    assert "standard output takes one answer" in said.err
