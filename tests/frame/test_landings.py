"""Running dimensions along the pieces of a frame, and holes of a piece: by hand, and where paper tells them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import ezdxf
import pytest

import mitertool as mt
from mitertool.drawing import CENTER, Drawing, Line, Text
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.marked import landed_rows
from mitertool.packet.pages.labels import label_pages
from mitertool.packet.pages.sketch.two_views import views
from mitertool.piece.marks import PieceMark
from tests.frame.runs import HEAD, by_mark, checked, frame, refusal, table, tube
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


@pytest.mark.parametrize(("across", "up"), [(800, 600), (600, 800)])
def test_braces_that_are_lapped(tmp_path: Path, across: float, up: float) -> None:
    """Diagonals of 1000 cross in the middle, at twice the angle of one. Edges 20 off both middles cross 20 cot a + 20 /
    sin a before it, a half of the angle between: 20 / tan(a / 2), and 20 tan(a / 2) of the other two. Each side of a
    pointed end begins in it, 20 cot d or 20 tan d from the corner, whichever side is met."""
    keys = {"inside_width": across, "inside_height": up, "crossing": "lapped"}
    record = checked(tmp_path, B, frame("cross", "B", **keys))
    leans = math.atan2(up, across)
    begins = {"fixed": 20 / math.tan(leans), "moving": 20 * math.tan(leans)}
    near = 500 - 20 / math.tan(leans), 500 - 20 * math.tan(leans)
    found = places(record, "F-1")
    assert [(side, what) for side, _, _, what in found] == [("fixed", "F-1"), ("moving", "F-1")]
    assert {round(at + begins[side], 6) for side, _, at, _ in found} <= {round(one, 6) for one in near}


def test_stiles_are_alike(tmp_path: Path) -> None:
    """Both stiles of a ladder are of one mark: rungs 300 apart from 200 up, lower edges 10 lower, on plates of 10,
    are 180, 480 and 780 from the foot of either, though one runs down; a rail of a rectangle likewise."""
    sizes = {"width": 500, "height": 1000, "pitch": 300, "first": 200}
    record = checked(tmp_path, T, P, frame("ladder", ["T", "P"], **sizes, cap=10))
    assert by_mark(record)["F-1"]["long_point_mm"] == 980
    assert places(record, "F-1") == [("fixed", "left", at, "F-2") for at in (180, 480, 780)]
    assert by_mark(record)["F-1"]["worked"] == ["both ends: plate F-CAP1, 50 mm by 50 mm, 10 mm thick"]
    (plate,) = (note for note in record["assemblies"][0]["notes"] if "CAP1" in note)
    assert plate.startswith("plate F-CAP1: 4 a frame, 50 mm by 50 mm, 10 mm thick, on the open ends of F-1")
    record = checked(tmp_path, T, P, filled("rectangle", {"bars": "rails", "section": "P", "at": [300]}, **SIZES))
    assert places(record, "F-2") == [("fixed", "left", 290, "F-3")]


def test_rows_begin_low_or_left(tmp_path: Path) -> None:
    """A rail 300 up and an upright 200 from the left of a frame of 50: 290 up both posts, 190 from the left below and
    above; on the rail the upright above it, and the table names the corners so."""
    bars = ({"bars": "rails", "section": "P", "at": [300]}, {"bars": "uprights", "section": "P", "at": [200]})
    path = tmp_path / "job.toml"
    path.write_text("\n".join([HEAD, T, P, filled("rectangle", *bars, **SIZES)]), encoding="utf-8")
    order = solve(load(path)).frames[0]
    rail, *uprights = (bar.mark for bar in order.assembly.inside)
    low, high = uprights
    assert landed_rows(order.assembly, order.out, "mm") == [
        ("F-1, corners 2 to 3", [(high, "190")]),
        ("F-2, corners 4 to 3", [(rail, "290")]),
        ("F-1, corners 1 to 4", [(low, "190")]),
        ("F-2, corners 1 to 2", [(rail, "290")]),
        (f"{rail}, lower side", [(low, "190")]),
        (f"{rail}, upper side", [(high, "190")]),
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
    assert "marks, top on its middle line, from the left end: 40 hole" in texts
    assert "marks, moving side, from the right end: 60 hole" in texts
    assert "top from L 40 hole; moving side from R 60 hole" in " ".join(
        said(page.drawing for page in label_pages(solution))
    )


def test_holes_stand_on_the_sketch_where_a_tape_finds_them() -> None:
    """A piece 40 wide, 1000 long on its moving side, ends of 45 and 30 that lean in. Where its fixed side begins at
    0 the moving one does at -40, the middles of top and bottom at -20; they end at 960, 960 - 40 tan 30 on the fixed
    side, 960 - 20 tan 30 in the middle. The opposite hand has the lean of the right end at its left."""
    piece = mt.Piece(mt.section("RHS 80x40x3"), 1000, mt.Cut(45), mt.Cut(30))
    told = [(100, "left", "fixed"), (150, "right", "moving"), (200, "right", "top"), (300, "left", "bottom")]
    marks = [PieceMark(at, end, side) for at, end, side in told]
    lean = math.tan(math.radians(30))
    above, front = (crosses(view) for view in views(piece, 1.0, "mm", marks))
    assert above == [pytest.approx(one) for one in [(100, 0), (960 - 150, 40)]]
    assert front == [pytest.approx(one) for one in [(-20 + 300, 0), (960 - 20 * lean - 200, 80)]]
    hand, end = [one.mirrored for one in marks], 960 - 40 * lean
    above, front = (crosses(view) for view in views(piece.opposite_hand(), 1.0, "mm", hand))
    assert above == [pytest.approx(one) for one in [(-40 * lean + 150, 40), (end - 100, 0)]]
    assert front == [pytest.approx(one) for one in [(-20 * lean + 200, 80), (end + 20 - 300, 0)]]


def crosses(view: Drawing) -> list[tuple[float, float]]:
    """The middles of the upright strokes of crosses, from the left."""
    lines = [part for part in view.entities if isinstance(part, Line) and part.layer == CENTER]
    return sorted((one.a[0], (one.a[1] + one.b[1]) / 2) for one in lines if one.a[0] == one.b[0])


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
    assert "F-1, corners 2 to 3" in says
    assert [says.count(figure) for figure in ("490", "745")] == [2, 2]


def test_both_ends_of_a_slanted_foot(tmp_path: Path) -> None:
    """A brace of 40 from corner to corner of 900 by 675 clear: its tip lies in the corner, its edges 20 off the middle
    line come to the post 20 / cos up and to the rail 20 / sin along; the angle of 3 to 4 has 0.8 and 0.6. The far end
    is measured from the other corner: 675 - 25 and 900 - 33.333."""
    sizes = {"width": 1000, "height": 775, "measured": "outside"}
    path = tmp_path / "job.toml"
    path.write_text("\n".join([HEAD, T, B, filled("rectangle", {"bars": "brace", "section": "B"}, **sizes)]))
    order = solve(load(path)).frames[0]
    found = dict(landed_rows(order.assembly, order.out, "mm"))
    assert found["F-2, corners 1 to 2"] == [("F-3", "0 to 25")]
    assert found["F-1, corners 1 to 4"] == [("F-3", "0 to 33.3")]
    assert found["F-2, corners 4 to 3"] == [("F-3", "650 to 675")]
    assert found["F-1, corners 2 to 3"] == [("F-3", "866.7 to 900")]
