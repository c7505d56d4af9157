"""Which face of a hopper's plates is up: in the sketch, and on every bar by the places of its pieces.

By hand: the outside of a hopper that opens upward is wider than its inside: a
plate on a bar has its outside up where its top is the longer of its two faces.
"""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf.filemanagement
import pytest

from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sheet.bar_panel import panel_words
from tests.packet.jobs import head, piece, stock

FRAME = """
[[frame]]
mark = "H"
shape = "hopper"
section = "FLAT 150x6"
sides = 4
bottom = 180
top = 380
measured = "inside"
"""


@pytest.fixture(scope="module")
def solution(tmp_path_factory: pytest.TempPathFactory) -> Solution:
    path = tmp_path_factory.mktemp("hopper") / "job.toml"
    other = piece("P", "FLAT 60x10", "500") + stock("FLAT 60x10", "3 m")
    path.write_text(
        head().replace("[nest]", "[nest]\nkerf = 2") + FRAME + stock("FLAT 150x6", "6 m") + other, encoding="utf-8"
    )
    return solve(load(path))


def test_a_bar_tells_which_plates_lie_with_their_outside_up(solution: Solution) -> None:
    for run, work in zip(solution.runs, floor_of(solution).bars, strict=True):
        plates = "150x6" in work.section.name
        longer = [one.left.q + one.right.q > 0 for one in run.pieces] if plates else []
        assert list(work.outside) == longer
        says = " ".join(panel_words(work, "mm"))
        up, down = ([str(i) for i, top in enumerate(longer, 1) if top is way] for way in (True, False))
        if plates:
            assert len(longer) == 4
            assert f"pieces {', '.join(up)}; down on {', '.join(down)}" in says or not (up and down)
        assert ("hopper's outside" in says) == plates


def test_the_sketch_says_that_the_outside_is_up(solution: Solution) -> None:
    files = packet_files(solution, Options())
    for mark, told in (("H-1", True), ("P", False)):
        sketch = ezdxf.filemanagement.read(io.StringIO(files[f"sketches/{mark}.dxf"].decode("utf-8"), newline=None))
        says = [text.dxf.text for text in sketch.modelspace().query("TEXT")]
        assert ("outside of the hopper up" in says) == told
        assert any("face out: top" in one for one in says) == told
        assert not any("face out: moving side" in one for one in says)


def test_a_rail_has_no_face_that_is_measured(tmp_path: Path) -> None:
    rail = '\n[[frame]]\nmark = "R"\nshape = "rail"\nsection = "CHS 42.4x3.2"\nflights = [[1500, 1100], [700, 0]]\n'
    (tmp_path / "job.toml").write_text(head() + rail, encoding="utf-8")
    assert {solved.order.face_out for solved in solve(load(tmp_path / "job.toml")).pieces} == {""}
