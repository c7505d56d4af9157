"""What is well asked but cannot be made ends in 1, with every reason; the figures of the answer stay."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]


@pytest.fixture
def job(tmp_path: Path, one_way: str) -> str:
    """Two cuts past the arm's 60 degrees, one to the side where it does not swing, and a piece longer than any bar."""
    (tmp_path / "saw.toml").write_bytes(Path(one_way).read_bytes())
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "Too much"\nsaw = "saw.toml"\n'
        '[[stock]]\nsection = "L 60x60x6"\nlength = 6000\n[[stock]]\nsection = "SHS 40x40x3"\nlength = 6000\n'
        '[[piece]]\nmark = "STEEP"\nsection = "SHS 40x40x3"\nlength = 900\nleft = 70\nright = 65\n'
        '[[piece]]\nmark = "ASKEW"\nsection = "L 60x60x6"\nlength = 900\nleft = 62\n'
        '[[piece]]\nmark = "LONG"\nsection = "SHS 40x40x3"\nlength = 6001\n'
        '[[piece]]\nmark = "FINE"\nsection = "SHS 40x40x3"\nlength = 300\n'
    )
    return str(tmp_path / "job.toml")


REASONS = (
    ("STEEP", "left end", "70"),
    ("STEEP", "right end", "65"),
    ("ASKEW", "left end", "62"),
    ("LONG", "bar", "6000"),
)


def listed(lines: list[str]) -> None:
    """Whether every reason stands in a line, and the piece that can be made in none."""
    for words in REASONS:
        assert [line for line in lines if all(word in line for word in words)], words
    assert not [line for line in lines if "FINE" in line]


def test_check_lists_every_reason(call: Call, job: str) -> None:
    said = call("check", job)
    assert (said.code, said.err) == (1, "")
    listed([line for line in said.out.splitlines() if line.startswith("cannot be made: ")])
    assert "FINE" in said.out


def test_check_lists_every_reason_in_json(call: Call, job: str) -> None:
    said = call("check", job, "--json")
    assert (said.code, said.err) == (1, "")
    listed(said.json["problems"])
    reasons = {
        (piece["mark"], end): [reason["code"] for reason in piece["reach"][end]["reasons"]]
        for piece in said.json["pieces"]
        for end in ("left", "right")
    }
    assert reasons["STEEP", "left"] == reasons["STEEP", "right"] == reasons["ASKEW", "left"] == ["swing"]
    assert reasons["FINE", "left"] == reasons["LONG", "right"] == []


def test_packet_lists_every_reason_a_line_each_below_how_many(call: Call, job: str, tmp_path: Path) -> None:
    before = sorted(tmp_path.rglob("*"))
    said = call("packet", job, "--out", str(tmp_path / "packet"))
    assert (said.code, said.out) == (1, "")
    first, *reasons, fits = said.err.splitlines()
    assert first == "mitertool: 3 marks cannot be made as asked"
    listed(reasons)
    assert fits == "mitertool: what fits is 1 FINE, planned with --anyway"
    assert sorted(tmp_path.rglob("*")) == before


def test_marks_that_are_refused_for_the_same_share_a_line(call: Call, one_way: str, tmp_path: Path) -> None:
    """The arm swings to 60: two left ends of 65 are one line, below how many marks it is."""
    (tmp_path / "saw.toml").write_bytes(Path(one_way).read_bytes())
    piece = '[[piece]]\nmark = "{}"\nsection = "SHS 40x40x3"\nlength = 900\nleft = -65\n'
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "Same"\nsaw = "saw.toml"\n' + piece.format("A") + piece.format("B")
    )
    first, *lines = call("packet", str(tmp_path / "job.toml"), "--out", str(tmp_path / "packet")).err.splitlines()
    assert first == "mitertool: 2 marks cannot be made as asked"
    (swing,) = [line for line in lines if "needs a swing of 65.00 degrees" in line]
    assert swing.startswith("mitertool: A, B, left end: ")
    assert not [line for line in lines if line.startswith(("mitertool: A, left", "mitertool: B, left"))]


def test_a_cut_past_the_scale(call: Call, one_way: str) -> None:
    said = call("cut", "SHS 40x40x3", "--miter", "65", "--saw", one_way)
    assert (said.code, said.err) == (1, "")
    assert "cannot be cut" in said.out
    assert "65.00" in said.out
    assert "to 60" in said.out
    answer = call("cut", "SHS 40x40x3", "--miter", "65", "--saw", one_way, "--json")
    assert answer.code == 1
    (reason,) = answer.json["reach"]["reasons"]
    assert (answer.json["reach"]["ok"], reason["code"], reason["have"], reason["need"]) == (False, "swing", 60, 65)


def test_a_piece_past_the_scale_at_both_ends(call: Call, one_way: str) -> None:
    bad = ("piece", "L 60x60x6", "--length", "900", "--left", "30", "--right", "65", "--saw", one_way)
    said = call(*bad)
    assert (said.code, said.err) == (1, "")
    reasons = [line for line in said.out.splitlines() if line.startswith("cannot be cut")]
    assert ["needs a swing" in line for line in reasons] == [True, False, True, False]
    assert ["no lay in which it lies safely" in line for line in reasons] == [False, True, False, True]
    assert call(*bad, "--json").json["reach"]["right"]["ok"] is False
