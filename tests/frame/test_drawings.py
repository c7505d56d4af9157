"""Frames out of DXF drawings: whatever way the lines are drawn, the frame is the same; what is no frame is named with
its place. The drawings are written with ezdxf."""

from __future__ import annotations

import io
import itertools
import json
import math
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random
from typing import Any

import ezdxf
import pytest
from pypdf import PdfReader

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from tests.frame.runs import around, checked, command, frame, refusal, tube

TUBE = tube("T", 50)
MM, INCH, METRE, NO_UNIT = 4, 1, 6, 0

Point = tuple[float, float]
Draw = Callable[[Any], object]

CORNERS: list[Point] = [(0, 0), (0, 600), (900, 600), (1300, 0)]
"""Clockwise: a post, a top, a raking side and a bottom. The raking side rises 3 in 2, 721.11 long."""
RAKE = 200 * math.sqrt(13)
LENGTHS = sorted([600, 900, RAKE, 1300])


def drawn(folder: Path, draw: Draw, unit: int = MM, name: str = "frame.dxf") -> None:
    document = ezdxf.new()  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = unit
    draw(document.modelspace())
    document.saveas(folder / name)


def lines(points: Sequence[Point], **attributes: object) -> Draw:
    """Separate lines from point to point."""

    def draw(space: Any) -> None:
        for a, b in itertools.pairwise(points):
            space.add_line(a, b, dxfattribs=attributes)

    return draw


def both(*draws: Draw) -> Draw:
    return lambda space: [draw(space) for draw in draws]


def ring(points: Sequence[Point]) -> list[Point]:
    return [*points, points[0]]


def lengths(folder: Path, draw: Draw, unit: int = MM, **keys: object) -> list[float]:
    """Outer edges of the frame that a drawing makes, shortest first."""
    drawn(folder, draw, unit)
    record = checked(folder, TUBE, frame("drawing", **{"file": "frame.dxf", "line": "outside", **keys}))
    assert record["assemblies"][0]["closure"]["gap_mm"] <= 1e-6
    return sorted(piece["edges_mm"]["moving_bottom"] for piece in around(record))


def refused(folder: Path, draw: Draw, unit: int = MM, **keys: object) -> str:
    drawn(folder, draw, unit)
    says = refusal(folder, TUBE, frame("drawing", **{"file": "frame.dxf", "line": "outside", **keys}))
    begin = "[[frame]] F: "
    assert says.startswith(begin)
    return says.removeprefix(begin).removeprefix("frame.dxf: ")


SHUFFLED = [
    ((900, 600), (0, 600)),
    ((0, 0), (1300, 0)),
    ((0, 0), (0, 600)),
    ((1300, 0), (900, 600)),
]
WAYS: dict[str, Draw] = {
    "clockwise lines": lines(ring(CORNERS)),
    "counter-clockwise lines": lines(ring(CORNERS)[::-1]),
    "lines as they come": both(*(lines(pair) for pair in SHUFFLED)),
    "closed polyline": lambda space: space.add_lwpolyline(CORNERS, close=True),
    "polyline back to its beginning": lambda space: space.add_lwpolyline(ring(CORNERS)),
    "polyline of the old kind": lambda space: space.add_polyline2d(CORNERS[::-1], close=True),
    "polyline in space": lambda space: space.add_polyline3d(CORNERS, close=True),
    "polyline and a line": both(lambda space: space.add_lwpolyline(CORNERS), lines([CORNERS[-1], CORNERS[0]])),
    "away from the origin": lines([(x - 7000, y + 90000) for x, y in ring(CORNERS)]),
    "mirrored": lambda space: space.add_lwpolyline(CORNERS, close=True, dxfattribs={"extrusion": (0, 0, -1)}),
    "a doubled point": lambda space: space.add_lwpolyline([*CORNERS, (1300, 0.001)], close=True),
    "with a dot where lines meet": both(lines(ring(CORNERS)), lines([(0, 0), (0.1, 0.1)])),
}


@pytest.mark.parametrize("way", WAYS)
def test_the_way_it_is_drawn(tmp_path: Path, way: str) -> None:
    assert lengths(tmp_path, WAYS[way]) == pytest.approx(LENGTHS, abs=1e-2 if "doubled" in way else 1e-6)


@pytest.mark.parametrize("seed", range(3))
def test_any_ring_however_it_is_drawn(tmp_path: Path, seed: int) -> None:
    """Corners by lot on a circle; lines in any order and direction: every side is as long outside as it is drawn."""
    lot = Random(seed)
    count = lot.randint(3, 7)
    turns = [2 * math.pi * (i + lot.uniform(0, 0.4)) / count for i in range(count)]
    corners = [(round(1500 * math.cos(turn), 3), round(1500 * math.sin(turn), 3)) for turn in turns]
    sides = [pair if lot.random() < 0.5 else pair[::-1] for pair in itertools.pairwise(ring(corners))]
    lot.shuffle(sides)
    assert lengths(tmp_path, both(*map(lines, sides))) == pytest.approx(sorted(itertools.starmap(math.dist, sides)))


def test_a_frame_in_a_block(tmp_path: Path) -> None:
    """Inserted twice its size and turned: the frame is twice as large."""
    document = ezdxf.new()  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = MM
    lines(ring(CORNERS))(document.blocks.new("FRAME"))
    scale = {"xscale": 2, "yscale": 2, "rotation": 30}
    document.modelspace().add_blockref("FRAME", (100, 200), dxfattribs=scale)
    document.saveas(tmp_path / "frame.dxf")
    record = checked(tmp_path, TUBE, frame("drawing", file="frame.dxf", line="outside"))
    found = sorted(piece["edges_mm"]["moving_bottom"] for piece in around(record))
    assert found == pytest.approx([2 * length for length in LENGTHS])


@pytest.mark.parametrize(
    ("unit", "mm", "words"),
    [(INCH, 25.4, {}), (METRE, 1000, {}), (NO_UNIT, 25.4, {"units": "in"}), (NO_UNIT, 1, {"units": "mm"})],
)
def test_units(tmp_path: Path, unit: int, mm: float, words: dict[str, str]) -> None:
    """Those of the file; beside it only where the file states none."""
    small = [(x / mm, y / mm) for x, y in ring(CORNERS)]
    assert lengths(tmp_path, lines(small), unit, **words) == pytest.approx(LENGTHS)


HEADERS: dict[int, tuple[str, float]] = {
    1: ("inches", 25.4),
    2: ("feet", 304.8),
    3: ("miles", 63360 * 25.4),
    4: ("millimetres", 1),
    5: ("centimetres", 10),
    6: ("metres", 1000),
    7: ("kilometres", 1e6),
    8: ("microinches", 25.4e-6),
    9: ("mils", 25.4e-3),
    10: ("yards", 36 * 25.4),
    13: ("microns", 1e-3),
    14: ("decimetres", 100),
    15: ("decametres", 1e4),
    16: ("hectometres", 1e5),
    21: ("US survey feet", 12e5 / 3937),
    22: ("US survey inches", 1e5 / 3937),
    23: ("US survey yards", 36e5 / 3937),
    24: ("US survey miles", 5280 * 12e5 / 3937),
}
"""The codes of the header variable $INSUNITS in the published DXF reference, with their lengths in mm: an inch is 25.4
mm, and a US survey foot is 1200/3937 m (Mendenhall order of 1893)."""

NOT_OF_STEEL = {
    11: "angstroms",
    12: "nanometres",
    17: "gigametres",
    18: "astronomical units",
    19: "light years",
    20: "parsecs",
}
"""The other codes of that list."""


@pytest.mark.parametrize("unit", HEADERS)
def test_every_unit_of_the_header(tmp_path: Path, unit: int) -> None:
    _, mm = HEADERS[unit]
    assert lengths(tmp_path, lines([(x / mm, y / mm) for x, y in ring(CORNERS)]), unit) == pytest.approx(LENGTHS)


@pytest.mark.parametrize("unit", NOT_OF_STEEL)
def test_a_unit_that_no_steel_is_drawn_in_is_refused_by_its_name(tmp_path: Path, unit: int) -> None:
    says = refused(tmp_path, lines(ring(CORNERS)), unit)
    assert says.startswith(
        f"DXF units: found '{NOT_OF_STEEL[unit]}, as the header of frame.dxf says'; allowed: inches, "
    )


@pytest.mark.parametrize("beside", [{}, {"units": "mm"}])
def test_a_unit_that_is_none(tmp_path: Path, beside: dict[str, str]) -> None:
    assert refused(tmp_path, lines(ring(CORNERS)), 77, **beside).startswith(
        "DXF units, $INSUNITS: found 77; the header"
    )


@pytest.mark.parametrize("unit", HEADERS)
@pytest.mark.parametrize("word", ["mm", "in"])
def test_a_word_beside_the_drawing_must_not_gainsay_its_header(tmp_path: Path, unit: int, word: str) -> None:
    name, mm = HEADERS[unit]
    small = lines([(x / mm, y / mm) for x, y in ring(CORNERS)])
    if (word, unit) in (("mm", MM), ("in", INCH)):
        assert lengths(tmp_path, small, unit, units=word) == pytest.approx(LENGTHS)
    else:
        says = refused(tmp_path, small, unit, units=word)
        assert says.startswith(f"DXF units: found '{word}'; the header of frame.dxf says {name}; leave the word out, ")


@pytest.mark.parametrize(
    ("job", "unit", "beside", "says"),
    [
        ("mm", INCH, {}, "frame.dxf is drawn in inches by its header, and read so, beside other sizes in mm"),
        ("in", METRE, {}, "frame.dxf is drawn in metres by its header, and read so, beside other sizes in inches"),
        ("ft-in", MM, {}, "frame.dxf is drawn in millimetres by its header, and read so, beside other sizes in inches"),
        ("mm", INCH, {"units": "in"}, None),
        ("in", MM, {"units": "mm"}, None),
        ("mm", METRE, {}, None),
        ("ft-in", INCH, {}, None),
        ("in", NO_UNIT, {"units": "mm"}, None),
    ],
)
def test_a_drawing_in_other_units_than_the_job_is_told(
    tmp_path: Path, job: str, unit: int, beside: dict[str, str], says: str | None
) -> None:
    far = 1e4 if unit == INCH else 1e6
    drawn(tmp_path, lines([(x * far, y * far) for x, y in ring(CORNERS)]), unit)
    asked = frame("drawing", "SHS 50x50x3", file="frame.dxf", line="outside", **beside)
    record = checked(tmp_path, asked, head=f'[job]\nname = "frames"\nunits = "{job}"\n')
    assert record["assemblies"][0]["notes"] == ([says] if says else [])


@pytest.mark.parametrize(("job", "unit", "says"), [("in", MM, "millimetres"), ("mm", INCH, "inches"), ("mm", MM, "")])
@pytest.mark.parametrize("beside", [False, True], ids=["nothing beside it", "the unit beside it"])
def test_a_section_drawn_in_other_units_than_the_job_is_told(
    tmp_path: Path, job: str, unit: int, says: str, beside: bool
) -> None:
    """A bar of 40 x 10 or of 2" x 1/2": the note stands in the record, beside the table and on the first page."""
    wide, high = (40, 10) if unit == MM else (2, 0.5)
    around_it: list[Point] = [(0, 0), (wide, 0), (wide, high), (0, high)]
    drawn(tmp_path, lines(ring(around_it)), unit)
    word = f'units = "{"mm" if unit == MM else "in"}"\n' if beside else ""
    own = f'[[section]]\nname = "own"\nshape = "dxf"\nfile = "frame.dxf"\n{word}'
    head = f'format = 1\n[job]\nname = "bars"\nunits = "{job}"\n'
    path = tmp_path / "job.toml"
    path.write_text(f'{head}{own}[[piece]]\nmark = "A"\nsection = "own"\nlength = 50\n', encoding="utf-8")
    beside_sizes = "mm" if job == "mm" else "inches"
    note = f"frame.dxf is drawn in {says} by its header, and read so, beside other sizes in {beside_sizes}"
    told = bool(says) and not beside
    assert json.loads(command("check", str(path), "--json")[1])["notes"] == ([note] if told else [])
    assert (note in command("check", str(path))[1].splitlines()) is told
    sheet = packet_files(solve(load(path)), Options())["cut-sheet.pdf"]
    first = " ".join(PdfReader(io.BytesIO(sheet)).pages[0].extract_text().split())
    assert (note in first) is told


@pytest.mark.parametrize(("option", "mm"), [("mm", 1), ("in", 25.4)])
def test_the_command_takes_the_unit_of_a_drawing_that_states_none(tmp_path: Path, option: str, mm: float) -> None:
    drawn(tmp_path, lines(ring(CORNERS)), NO_UNIT)
    call = ("frame", "drawing", "--section", "SHS 50x50x3", "--file", str(tmp_path / "frame.dxf"), "--line", "outside")
    assert command(*call)[0] == 2
    code, out, _ = command(*call, "--drawing-units", option, "--json")
    found = sorted(piece["edges_mm"]["moving_bottom"] for piece in around(json.loads(out)))
    assert (code, found) == (0, pytest.approx([length * mm for length in LENGTHS]))


HIGH: list[tuple[float, float, float]] = [(0, 0, 0), (0, 800, 600), (1000, 800, 600), (1000, 0, 0)]
"""Sides of 1000 all round, two of which rise 600 over 800 and look 800 long from above."""


@pytest.mark.parametrize(
    "draw",
    [
        lambda space: space.add_polyline3d(HIGH, close=True),
        lambda space: [space.add_line(a, b) for a, b in itertools.pairwise([*HIGH, HIGH[0]])],
        both(lines([(0, 0), (0, 800)]), lambda space: space.add_line((0, 800, 600), (1000, 800, 600))),
    ],
    ids=["polyline", "lines", "line higher up"],
)
def test_a_drawing_that_slopes_is_refused_with_the_place(tmp_path: Path, draw: Draw) -> None:
    says = refused(tmp_path, draw)
    high, low = re.findall(r"([\d.]+) mm high at \(([\d., ]+)\) mm", says)
    assert high in (("600.000", "0.000, 800.000"), ("600.000", "1000.000, 800.000"))
    assert low in (("0.000", "0.000, 0.000"), ("0.000", "1000.000, 0.000"))
    assert says.endswith("all of it must lie at one height; draw it in its own plane")


def test_a_drawing_all_at_one_height_is_read(tmp_path: Path) -> None:
    high = [(*point, 250.0) for point in CORNERS]
    assert lengths(tmp_path, lambda space: space.add_polyline3d(high, close=True)) == pytest.approx(LENGTHS)


def test_the_height_of_another_layer_does_not_count(tmp_path: Path) -> None:
    def note(space: Any) -> None:
        space.add_line((0, 0, 0), (5, 5, 900), dxfattribs={"layer": "NOTES"})

    assert lengths(tmp_path, both(lines(ring(CORNERS)), note), layer="0") == pytest.approx(LENGTHS)


@pytest.mark.parametrize(("line", "out"), [("outside", 0), ("centerline", 25), ("inside", 50)])
def test_the_line_that_is_drawn(tmp_path: Path, line: str, out: float) -> None:
    """A side moved out by d grows at either end by d tan m, m being the miter there: 45 at the post, half of 90 - atan
    2/3 more and less at the raking side."""
    tilt = math.atan2(2, 3)
    square, blunt, sharp = 1.0, math.tan((math.pi / 2 - tilt) / 2), math.tan((math.pi / 2 + tilt) / 2)
    ends = {600: 2 * square, 900: square + blunt, RAKE: blunt + sharp, 1300: square + sharp}
    expected = sorted(length + out * grows for length, grows in ends.items())
    assert lengths(tmp_path, lines(ring(CORNERS)), line=line) == pytest.approx(expected)


@pytest.mark.parametrize("gap", [(0.3, 0.0), (0.0, -0.4), (0.2, 0.3)], ids=["short of it", "past it", "beside it"])
def test_ends_that_nearly_meet(tmp_path: Path, gap: Point) -> None:
    """Ends within half a millimetre meet where nothing else is said; the corner is in the middle of them."""
    end = (gap[0], gap[1])
    found = lengths(tmp_path, lines([*ring(CORNERS)[:-1], end]))
    middle = complex(*end) / 2
    expected = [abs(600j - middle), 900, RAKE, abs(1300 - middle)]
    assert found == pytest.approx(sorted(expected))


def test_the_node_of_the_job(tmp_path: Path) -> None:
    apart = lines([*CORNERS, (3, 0)])
    assert refused(tmp_path, apart).startswith("drawing: found '(0.000, 0.000) mm'; the frame is open there")
    assert lengths(tmp_path, apart, node=4) == pytest.approx(LENGTHS, abs=2)


def test_a_layer(tmp_path: Path) -> None:
    """What lies on other layers does not count; without a layer all of it does."""
    mixed = both(lines(ring(CORNERS), layer="FRAME"), lambda space: space.add_circle((300, 300), 20))
    assert lengths(tmp_path, mixed, layer="FRAME") == pytest.approx(LENGTHS)
    assert refused(tmp_path, mixed) == (
        "drawing: found 'CIRCLE at (300.000, 300.000) mm'; members of a frame are straight lines"
    )
    assert refused(tmp_path, mixed, layer="OTHER").startswith("drawing: found '0 closed outlines'; a frame has one")


def test_words_and_dimensions_beside_the_lines_do_not_count(tmp_path: Path) -> None:
    def words(space: Any) -> None:
        space.add_text("gate")
        space.add_point((5, 5))

    assert lengths(tmp_path, both(lines(ring(CORNERS)), words)) == pytest.approx(LENGTHS)


@pytest.mark.parametrize("way", ["clockwise lines", "counter-clockwise lines", "lines as they come", "mirrored"])
def test_each_side_its_section(tmp_path: Path, way: str) -> None:
    """However it is drawn, from the lowest corner, the leftmost of these, counter-clockwise: the bottom, the raking
    side, the top and the post; mirrored, the bottom, the post, the top and the raking side."""
    names = ["A", "B", "C", "D"]
    tubes = [tube(name, 30 + 10 * i) for i, name in enumerate(names)]
    drawn(tmp_path, WAYS[way])
    record = checked(tmp_path, *tubes, frame("drawing", names, file="frame.dxf", line="outside"))
    found = {piece["section"]: piece["edges_mm"]["moving_bottom"] for piece in record["pieces"]}
    order = [1300, 600, 900, RAKE] if way == "mirrored" else [1300, RAKE, 900, 600]
    assert found == pytest.approx(dict(zip(names, order, strict=True)))


def test_butted_with_a_gap(tmp_path: Path) -> None:
    """A square of 500, butted all round the same way, gap 2: each side loses 52 at one end."""
    square = lines(ring([(0, 0), (0, 500), (500, 500), (500, 0)]))
    assert lengths(tmp_path, square, corners="butt", root_gap=2) == pytest.approx([448] * 4)


LOOSE = "the frame is open there; every end must meet exactly one other"
BRANCH = "3 lines meet there; every end must meet exactly one other"
STRAIGHT = "members of a frame are straight lines"
NOT_ONE = "a frame has one; put each on a layer of its own"
BULGED = [(0, 0, 0), (0, 600, 0), (900, 600, 1), (900, 0, 0)]


@pytest.mark.parametrize(
    ("draw", "says"),
    [
        (lines(CORNERS), f"drawing: found '(0.000, 0.000) mm'; {LOOSE}"),
        (both(lines(ring(CORNERS)), lines([(500, 0), (500, 300)])), f"drawing: found '(500.000, 0.000) mm'; {LOOSE}"),
        (
            both(lines(ring(CORNERS)), lines([(900, 600), (700, 0)])),
            f"drawing: found '(900.000, 600.000) mm'; {BRANCH}",
        ),
        (both(lines(ring(CORNERS)), lines(CORNERS[:2])), f"drawing: found '(0.000, 0.000) mm'; {BRANCH}"),
        (
            lines(ring([(0, 0), (0, 600), (900, 0), (900, 600)])),
            " crossing at (450 mm, 300 mm)'; members must not cross",
        ),
        (
            both(lines(ring(CORNERS)), lines([(x + 2000, y) for x, y in ring(CORNERS)])),
            f"found '2 closed outlines'; {NOT_ONE}",
        ),
        (lambda space: None, f"drawing: found '0 closed outlines'; {NOT_ONE}"),
        (
            lambda space: space.add_lwpolyline(BULGED, format="xyb", close=True),
            f"drawing: found 'ARC at (900.000, 300.000) mm'; {STRAIGHT}",
        ),
        (
            both(lines(ring(CORNERS)), lambda space: space.add_ellipse((10, 20), (30, 0), 0.5)),
            f"drawing: found 'ELLIPSE at (10.000, 20.000) mm'; {STRAIGHT}",
        ),
        (
            both(lines(ring(CORNERS)), lambda space: space.add_spline([(10, 20), (30, 0), (50, 20)])),
            f"drawing: found 'SPLINE at (10.000, 20.000) mm'; {STRAIGHT}",
        ),
        (
            both(lines(ring(CORNERS)), lambda space: space.add_open_spline([(10, 20), (30, 0), (50, 20)], degree=2)),
            f"drawing: found 'SPLINE at (10.000, 20.000) mm'; {STRAIGHT}",
        ),
        (lines(ring([(0, 0), (0, 300), *CORNERS[1:]])), ": corner angle: found 180.0; "),
    ],
    ids=[
        *("open", "loose tail", "branch", "line twice", "crossing", "two", "none"),
        *("bulge", "ellipse", "spline through points", "spline", "straight on"),
    ],
)
def test_no_frame(tmp_path: Path, draw: Draw, says: str) -> None:
    assert says in refused(tmp_path, draw)


def test_places_are_in_mm(tmp_path: Path) -> None:
    open_end = [(x / 25.4, y / 25.4) for x, y in [*CORNERS, (300, 0)]]
    assert "(300.000, 0.000) mm" in refused(tmp_path, lines(open_end[::-1]), INCH)


def test_no_unit(tmp_path: Path) -> None:
    assert refused(tmp_path, lines(ring(CORNERS)), NO_UNIT) == (
        "DXF units: found 'frame.dxf'; the file states no unit; say units = mm or in beside it"
    )


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "cannot be read: No such file or directory"),
        (b"hello\n", "is not DXF"),
        (b"\0\1\2\3", "is not DXF"),
        (b"", "is not DXF"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\nten\n", "is not DXF"),
    ],
    ids=["missing", "words", "bytes", "empty", "broken off"],
)
def test_no_drawing(tmp_path: Path, content: bytes | None, says: str) -> None:
    if content is not None:
        (tmp_path / "frame.dxf").write_bytes(content)
    found = refusal(tmp_path, TUBE, frame("drawing", file="frame.dxf", line="outside"))
    assert found.startswith("[[frame]] F: DXF file: found '")
    assert "frame.dxf'; " in found
    assert says in found


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"line": "middle"}, "line: found 'middle'; allowed: outside, centerline, inside"),
        ({"line": "over heels"}, "measured: found 'over heels'; for T as it lies: outside, centerline, inside"),
        ({"line": None}, "line: found 'nothing'; the key is needed here"),
        ({"file": None}, "file: found 'nothing'; the key is needed here"),
        ({"node": 0}, "node: found 0; it must be more than 0"),
        ({"units": "ft"}, "units: found 'ft'; allowed: mm, in"),
    ],
    ids=str,
)
def test_words(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    assert refused(tmp_path, lines(ring(CORNERS)), **keys).startswith(says)  # type: ignore[arg-type]
