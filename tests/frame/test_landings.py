"""Running dimensions along the pieces of a frame, and holes of a piece: by hand, and where paper tells them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from mitertool.drawing import Drawing, Text
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.labels import label_pages
from tests.frame.runs import HEAD, by_mark, checked, refusal, table, tube
from tests.frame.test_inside import filled

T, B, P = tube("T", 50), tube("B", 40), tube("P", 20)
HOLES = 'holes = [{ at = 40, side = "top" }, { at = 60, from = "right", side = "moving" }]'
SIZES = {"width": 1100, "height": 900, "measured": "outside"}


def places(record: dict[str, Any], mark: str) -> list[tuple[str, str, float, str]]:
    found = by_mark(record)[mark]["places"]
    return [(one["side"], one["end"], round(one["at_mm"], 6), one["what"]) for one in found]


def said(drawings: Iterable[Drawing]) -> Iterator[str]:
    yield from (one.says for drawing in drawings for one in drawing.entities if isinstance(one, Text))


def test_uprights_along_the_rails(tmp_path: Path) -> None:
    """Clear 1000, three bars of 20, gaps of 235: 235, 490, 745 from the inner corner, the same on both rails."""
    record = checked(tmp_path, T, P, filled("rectangle", {"bars": "uprights", "section": "P", "count": 3}, **SIZES))
    assert places(record, "F-1") == [("fixed", "left", at, "F-3") for at in (235, 490, 745)]
    assert places(record, "F-2") == []


def test_uprights_along_a_brace(tmp_path: Path) -> None:
    """A brace of 40 at 45 degrees, an upright from 235 to 255: on the lower edge x lies at x sqrt 2 - 20 along the
    middle, on the upper one at x sqrt 2 + 20, and either edge begins 20 along it, on a side of the corner."""
    bars = ({"bars": "brace", "section": "B"}, {"bars": "uprights", "section": "P", "at": [245]})
    record = checked(tmp_path, T, B, P, filled("rectangle", *bars, width=900, height=900, measured="outside"))
    brace = next(mark for mark, piece in by_mark(record).items() if piece["section"] == "B")
    found = places(record, brace)
    assert [(side, at) for side, _, at, _ in found] == [
        ("fixed", pytest.approx(235 * math.sqrt(2) - 40)),
        ("moving", pytest.approx(235 * math.sqrt(2))),
    ]


def test_holes_of_a_piece(tmp_path: Path) -> None:
    """As the job has them, on the opposite hand from the other end; told in words, drawn as crosses on the sketch."""
    text = table("piece", mark="A", section="T", length=300, left=30, opposite=1) + HOLES
    record = checked(tmp_path, T, text)
    assert places(record, "A") == [("top", "left", 40, ""), ("moving", "right", 60, "")]
    solution = solve(load(tmp_path / "job.toml"))
    other = next(piece for piece in solution.pieces if piece.hand == "opposite")
    assert [(one.at, one.end) for one in other.places] == [(40, "right"), (60, "left")]
    files = packet_files(solution, Options())
    drawing = tmp_path / "a.dxf"
    drawing.write_bytes(files["sketches/A.dxf"])
    texts = " ".join(one.dxf.text for one in ezdxf.readfile(drawing).modelspace() if one.dxftype() == "TEXT")
    assert "marks, top, from the left end: 40 hole" in texts
    assert "marks, moving side, from the right end: 60 hole" in texts
    assert "marks, top" in " ".join(said(page.drawing for page in label_pages(solution)))


@pytest.mark.parametrize(
    ("hole", "says"),
    [
        ('{ at = 301, side = "top" }', "holes: found '301 mm'; at most "),
        ('{ at = 40, side = "front" }', "side: found 'front'"),
        ('{ at = 40, side = "top", from = "middle" }', "from: found 'middle'"),
        ("{ at = 40 }", "hole 1: side: found 'nothing'"),
        ("40", "tables of holes, such as { at = 100"),
    ],
)
def test_no_hole(tmp_path: Path, hole: str, says: str) -> None:
    text = table("piece", mark="A", section="T", length=300) + f"holes = [{hole}]\n"
    assert says in refusal(tmp_path, T, text)


def test_the_fitter_reads_them(tmp_path: Path) -> None:
    """On the frame's page every landing stands in its row, by corners."""
    text = "\n".join([HEAD, T, P, filled("rectangle", {"bars": "uprights", "section": "P", "count": 3}, **SIZES)])
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    solution = solve(load(tmp_path / "job.toml"))
    says = list(said(block.drawing for block in frame_blocks(solution, 186)))
    assert "F-1, corner 2 to 3" in says
    assert [says.count(figure) for figure in ("490", "745")] == [2, 2]
