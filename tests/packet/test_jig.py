"""The stops of a jig, on the fitter's page and in its drawing, as an outside reader of DXF finds them."""

from __future__ import annotations

import io
import json
import math
from functools import cache
from pathlib import Path

import ezdxf.filemanagement
import html5lib
from pypdf import PdfReader

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files

RECTANGLE = """\
[job]
name = "Jig"

[[section]]
name = "T"
shape = "rect-tube"
width = 50
height = 50
wall = 3

[[frame]]
mark = "F"
shape = "rectangle"
section = "T"
width = 1000
height = 800
measured = "outside"
inside = [{ bars = "rails", at = [350] }, { bars = "uprights", clear_most = 60 }]
"""

SLOPING = RECTANGLE.partition("[[frame]]")[0] + (
    '[[frame]]\nmark = "F"\nshape = "trapezoid"\nsection = "T"\nbottom = 1000\ntop = 400\nheight = 300\n'
    'measured = "outside"\n'
)

Line = tuple[tuple[float, float], tuple[float, float]]


def files(folder: Path, text: str) -> dict[str, bytes]:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return packet_files(solve(load(path)), Options())


@cache
def gate() -> dict[str, bytes]:
    """The packet of a double gate, made once for all that is asked of it."""
    job = Path(__file__).parents[1] / "job" / "orchard_gate.toml"
    return dict(packet_files(solve(load(job)), Options()))


def full_lines(content: bytes) -> set[Line]:
    """The lines of the layer of outlines, their ends in order, to a thousandth of a mm."""
    model = ezdxf.filemanagement.read(io.StringIO(content.decode("utf-8"), newline=None)).modelspace()
    lines = model.query('LINE[layer=="outline"]')
    return {ends(line.dxf.start.vec2, line.dxf.end.vec2) for line in lines}


def ends(*points: tuple[float, float]) -> Line:
    a, b = sorted((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in points)
    return a, b


def test_the_stops_of_a_rectangle(tmp_path: Path) -> None:
    """1000 by 800 of tube 50 with a rail whose middle lies 350 up inside: all by subtraction."""
    around = [((0, 0), (1000, 0)), ((1000, 0), (1000, 800)), ((0, 800), (1000, 800)), ((0, 0), (0, 800))]
    within = [((50, 50), (950, 50)), ((950, 50), (950, 750)), ((50, 750), (950, 750)), ((50, 50), (50, 750))]
    rail = [((50, y), (950, y)) for y in (375, 425)]
    made = files(tmp_path, RECTANGLE)
    assert full_lines(made["jigs/F.dxf"]) == {ends(*line) for line in (*around, *within, *rail)}


def test_the_lines_of_a_slant(tmp_path: Path) -> None:
    """A trapezoid of 1000 and 400 over 300: legs at 45; an inner side lies 50 off, its ends on the bisectors."""
    half = math.tan(math.radians(22.5))
    inner = [
        ((50 / half, 50), (1000 - 50 / half, 50)),
        ((50 / half, 50), (300 + 50 * half, 250)),
        ((300 + 50 * half, 250), (700 - 50 * half, 250)),
        ((700 - 50 * half, 250), (1000 - 50 / half, 50)),
    ]
    outer = [((0, 0), (1000, 0)), ((0, 0), (300, 300)), ((300, 300), (700, 300)), ((700, 300), (1000, 0))]
    made = files(tmp_path, SLOPING)
    assert full_lines(made["jigs/F.dxf"]) == {ends(*line) for line in (*outer, *inner)}
    sheet = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(made["cut-sheet.pdf"])).pages)
    rows = [line.split() for line in sheet.splitlines()]
    told = [word for row in rows for word in row]
    for figure in ("120.7", "879.3", "320.7", "679.3", "45°", "135°"):
        assert figure in told


def test_a_frame_that_is_not_set_out_has_no_jig(tmp_path: Path) -> None:
    alone = RECTANGLE.partition("[[frame]]")[0] + (
        '[[frame]]\nmark = "F"\nshape = "brace"\nsection = "T"\nrise = 300\nrun = 400\nends = "square"\n'
    )
    assert not [name for name in files(tmp_path, alone) if name.startswith("jigs/")]


def test_the_jig_of_a_double_gate_has_the_brace_at_its_angle() -> None:
    found = full_lines(gate()["jigs/LEAF.dxf"])
    assert len(found) == 2 * (7 + 2)
    slopes = [math.atan2(y1 - y0, x1 - x0) for (x0, y0), (x1, y1) in found]
    assert sum(math.isclose(math.degrees(slope), 39.735, abs_tol=0.01) for slope in slopes) == 2


def test_the_record_and_the_page_have_the_same_stops(tmp_path: Path) -> None:
    """The slanting legs of the trapezoid rise from (0, 0) to (300, 300) and back from (700, 300) to (1000, 0)."""
    made = files(tmp_path, SLOPING)
    (frame,) = json.loads(made["plan.json"])["assemblies"]
    found = {
        ends((one["x_mm"], one["y_mm"]), (one["to_x_mm"], one["to_y_mm"])): (one["side"], round(one["angle_deg"], 6))
        for one in frame["stops"]
    }
    assert set(found) == full_lines(made["jigs/F.dxf"])
    assert found[ends((0, 0), (300, 300))] == ("outer", 45)
    assert found[ends((700, 300), (1000, 0))] == ("outer", 135)
    page = html5lib.parse(made["cut-sheet.html"].decode(), namespaceHTMLElements=False)
    (told,) = (one for one in page.iter("details") if one.get("class") == "frame")
    rows = [[cell.text or "" for cell in row.iter("td")] for row in told.iter("tr")]
    assert ["", "inside", "120.7", "50", "320.7", "250", "45° right"] in rows


def test_the_page_folds_up_both_leaves_of_a_gate() -> None:
    page = html5lib.parse(gate()["cut-sheet.html"].decode(), namespaceHTMLElements=False)
    titles = [one.find("summary").text for one in page.iter("details") if one.get("class") == "frame"]
    assert titles == ["Frame LEAF: arch of chords", "Frame LEAF-OH: arch of chords, mirror image of LEAF"]
    told = " ".join(" ".join(page.itertext()).split())
    assert "LEAF-8, lower side" in told
    assert "LEAF-10 99.7 LEAF-11 255.7" in told
