"""Everything that a job file may say, read as it is meant.

Expected values are worked by hand: 1 in = 25.4 mm and 1 ft = 304.8 mm (international yard and pound agreement of
1959), areas of sharp outlines as sums of rectangles.
"""

from __future__ import annotations

import shutil
from math import atan, degrees, pi
from pathlib import Path

import pytest
from ezdxf.filemanagement import new as new_drawing

from mitertool.job import Job, load
from mitertool.nest import Allowance, Stock

SAW = """\
[saw]
name = "bench saw"
kind = "column"
kerf = 1.1
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "right"
grip = 70
"""

HEAD = '[job]\nname = "gate"\n'
PIECE = '[[piece]]\nmark = "A"\nsection = "RHS 80x40x3"\nlength = 1200\n'
STOCK = '[[stock]]\nsection = "RHS 80x40x3"\nlength = 6000\n'
FRAME = (
    '[[frame]]\nmark = "F"\nshape = "rectangle"\nsection = "RHS 80x40x3"\n'
    'width = 800\nheight = 600\nmeasured = "outside"\n'
)


def read(folder: Path, text: str, saw: str = SAW) -> Job:
    (folder / "saw.toml").write_text(saw, encoding="utf-8")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return load(folder / "job.toml")


def near(*values: float) -> object:
    return pytest.approx(values if len(values) > 1 else values[0], rel=1e-12, abs=1e-9)


def test_the_head_is_what_stands_on_every_page(tmp_path: Path) -> None:
    words = 'revision = 3\ndate = 2024-05-17\ncustomer = "A & B"\nunits = "in"\ntolerance = "ISO 13920-B"\n'
    head = read(tmp_path, f"format = 1\n{HEAD}{words}{PIECE}").head
    assert (head.name, head.revision, head.date, head.customer) == ("gate", "3", "2024-05-17", "A & B")
    assert (head.units, head.tolerance) == ("in", "ISO 13920-B")


def test_what_a_head_may_leave_out(tmp_path: Path) -> None:
    job = read(tmp_path, HEAD + PIECE)
    head = job.head
    assert (head.revision, head.date, head.customer, head.units, head.tolerance) == ("", "", "", "mm", "")
    assert (job.saw, job.saw_path, job.stock, job.allowance, job.frames) == (None, "", (), None, ())


@pytest.mark.parametrize(
    ("units", "length", "mm"),
    [
        ("mm", "1200", 1200),
        ("mm", '"1200"', 1200),
        ("mm", '"1.2 m"', 1200),
        ("mm", "'47-1/4\"'", 1200.15),
        ("in", "47.25", 1200.15),
        ("in", '"47 1/4"', 1200.15),
        ("in", '"1200 mm"', 1200),
        ("ft-in", "54.5", 1384.3),
        ("ft-in", '"54 1/2"', 1384.3),
        ("ft-in", '"4\'-6 1/2\\""', 1384.3),
        ("ft-in", '"4\' 6½"', 1384.3),
        ("ft-in", '"1384.3 mm"', 1384.3),
    ],
)
def test_lengths_are_in_the_units_of_the_job_or_carry_their_own(
    tmp_path: Path, units: str, length: str, mm: float
) -> None:
    text = f'{HEAD}units = "{units}"\n' + "".join(
        table.replace("1200", length).replace("6000", length).replace("800", length) for table in (PIECE, STOCK, FRAME)
    )
    job = read(tmp_path, text + f"[nest]\nkerf = {length}\n")
    frame_side, _, piece = job.pieces
    assert piece.piece.length == near(mm)
    assert frame_side.piece.long_point == near(mm)
    assert job.stock[0].length == near(mm)
    assert job.allowance is not None
    assert job.allowance.kerf == near(mm)


CUTS = [
    ("45", 45, 0),
    ("-22.5", -22.5, 0),
    ('"22 1/2"', 22.5, 0),
    ('"22°30\'"', 22.5, 0),
    ('"3:4"', degrees(atan(0.75)), 0),
    ('"60 from bar"', 30, 0),
    ('"60 corner"', 60, 0),
    ("{ miter = 30, bevel = 10 }", 30, 10),
    ('{ miter = "30°" }', 30, 0),
    ("{ bevel = -10 }", 0, -10),
    ('{ slope = "3:4" }', degrees(atan(0.75)), 0),
    ('{ slope = "150 mm:0.2 m", bevel = 5 }', degrees(atan(0.75)), 5),
    ('{ slope = "-3:4" }', -degrees(atan(0.75)), 0),
    ("{ from_bar = 60 }", 30, 0),
    ('{ from_bar = 60, long = "moving" }', 30, 0),
    ('{ from_bar = 60, long = "fixed" }', -30, 0),
    ("{ from_bar = 90 }", 0, 0),
    ("{ corner = 60 }", 60, 0),
    ("{ corner = 90, bevel = 5 }", 45, 5),
    ("{ corner = 180 }", 0, 0),
    ("{}", 0, 0),
]


@pytest.mark.parametrize(("text", "miter", "bevel"), CUTS)
@pytest.mark.parametrize("end", ["left", "right"])
def test_the_ways_to_give_a_cut(tmp_path: Path, end: str, text: str, miter: float, bevel: float) -> None:
    piece = read(tmp_path, f"{HEAD}{PIECE}{end} = {text}\n").pieces[0].piece
    cut, other = (piece.left, piece.right) if end == "left" else (piece.right, piece.left)
    assert (cut.miter, cut.bevel) == near(miter, bevel)
    assert (other.miter, other.bevel) == (0, 0)


LENGTHS = [
    # a tube 40 wide and 80 high, left 45, right bevel 45: L grows by 1 across and by 1 upward
    ("long-point", "fixed_bottom", 1200 - 120 + 2 * 6 * (1 - 2**-0.5)),
    ("centerline", "centerline", 1200),
    ("fixed-bottom", "fixed_bottom", 1200),
    ("fixed-top", "fixed_bottom", 1200 - 80),
    ("moving-bottom", "fixed_bottom", 1200 - 40),
    ("moving-top", "fixed_bottom", 1200 - 120),
]


@pytest.mark.parametrize(("at", "place", "expected"), LENGTHS)
def test_where_a_length_is_measured(tmp_path: Path, at: str, place: str, expected: float) -> None:
    """The long point of a corner rounded by 6 mm lies 6*(2 - sqrt 2) mm inside the corner of the box, in y + z."""
    text = f'{HEAD}{PIECE}at = "{at}"\nleft = 45\nright = {{ bevel = 45 }}\n'
    piece = read(tmp_path, text).pieces[0].piece
    assert piece.at == at
    assert getattr(piece if place == "centerline" else piece.edges, place) == near(expected)


def test_a_piece_says_how_many_and_how_it_lies(tmp_path: Path) -> None:
    words = 'grade = "S355"\nquantity = 4\nopposite = 2\nlay = 90\nout = "weld seam"\nturn = ["as-drawn", "rolled"]\n'
    order = read(tmp_path, f"{HEAD}{PIECE}{words}").pieces[0]
    assert (order.mark, order.grade, order.quantity, order.opposite) == ("A", "S355", 4, 2)
    assert (order.out, order.turn, order.marks) == ("weld seam", ("as-drawn", "rolled"), ("A", "A-OH"))
    assert (order.piece.section.width, order.piece.section.height) == near(80, 40)


def test_what_a_piece_may_leave_out(tmp_path: Path) -> None:
    order = read(tmp_path, HEAD + PIECE).pieces[0]
    assert (order.grade, order.quantity, order.opposite, order.out, order.turn) == ("", 1, 0, "", ())
    assert (order.piece.left.miter, order.piece.right.miter, order.piece.at) == (0, 0, "long-point")
    assert (order.piece.section.width, order.piece.section.height) == near(40, 80)


@pytest.mark.parametrize(
    ("grade", "kilograms"), [("S235JR", 6.28), ("S355", 6.28), ("1.4301", 6.32), ("EN AW-6060", 2.16)]
)
def test_a_grade_has_its_density(tmp_path: Path, grade: str, kilograms: float) -> None:
    """A flat 80 x 10 of 1 m at 7850 kg/m3 (EN 10025-1), 7900 (EN 10088-1) and 2700 (EN 1999-1-1), all from memory."""
    own = '[[section]]\nname = "strip"\nshape = "flat"\nwidth = 80\nheight = 10\n'
    piece = f'[[piece]]\nmark = "A"\nsection = "strip"\nlength = 1000\ngrade = "{grade}"\n'
    assert read(tmp_path, HEAD + own + piece).pieces[0].piece.mass == near(kilograms)


SECTIONS = [
    ("rect-tube", "width = 50, height = 30, wall = 2, outer_radius = 0, inner_radius = 0", 50, 30, 1500 - 46 * 26),
    ("rect-tube", "width = 50, height = 30, wall = 2", 50, 30, 1500 - 46 * 26 - (4 - pi) * (16 - 4)),
    ("round-tube", "diameter = 60, wall = 3", 60, 60, pi * (900 - 729)),
    ("round-bar", "diameter = 20", 20, 20, 100 * pi),
    ("flat", "width = 80, height = 10", 80, 10, 800),
    ("angle", "width = 50, height = 40, thickness = 5", 50, 40, 5 * 85),
    (
        "angle",
        "width = 50, height = 40, thickness = 5, root_radius = 6, toe_radius = 3",
        *(50, 40, 425 + (1 - pi / 4) * (36 - 2 * 9)),
    ),
    ("channel", "width = 50, height = 100, web = 5, flange = 8", 50, 100, 500 + 2 * 45 * 8),
    (
        "channel",
        "width = 50, height = 100, web = 6, flange = 8, taper = 8, flange_at = 'mid-overhang'",
        *(50, 100, 600 + 2 * 44 * 8),
    ),
    ("i-section", "width = 60, height = 100, web = 5, flange = 8", 60, 100, 2 * 480 + 84 * 5),
    (
        "i-section",
        "width = 60, height = 100, web = 5, flange = 8, root_radius = 7",
        *(60, 100, 1380 + (4 - pi) * 49),
    ),
    ("tee", "width = 60, height = 70, web = 6, flange = 8", 60, 70, 480 + 62 * 6),
]


@pytest.mark.parametrize(("shape", "dimensions", "width", "height", "area"), SECTIONS)
def test_sections_of_ones_own(
    tmp_path: Path, shape: str, dimensions: str, width: float, height: float, area: float
) -> None:
    own = f'[[section]]\nname = "own"\nshape = "{shape}"\n' + dimensions.replace(", ", "\n") + "\n"
    section = read(tmp_path, HEAD + own + PIECE.replace("RHS 80x40x3", "own")).pieces[0].piece.section
    assert section.name == "own"
    assert (section.width, section.height, section.area) == near(width, height, area)


def test_a_catalogue_size_as_measured(tmp_path: Path) -> None:
    """RHS 80x40x3 with a wall of 2.8 keeps its roundings of 6 and 3 mm (EN 10219-2: 2 and 1 times 3)."""
    own = '[[section]]\nname = "own"\nas_measured = "RHS 80x40x3"\nwall = 2.8\n'
    section = read(tmp_path, HEAD + own + PIECE.replace("RHS 80x40x3", "own")).pieces[0].piece.section
    assert (section.name, section.width, section.height) == ("own", near(40), near(80))
    assert section.area == near(40 * 80 - 34.4 * 74.4 - (4 - pi) * (36 - 9))


def test_a_section_out_of_a_drawing(tmp_path: Path) -> None:
    """A plate 50 x 20 with a hole of 10, drawn away from the origin; without a unit the job must give it."""
    document = new_drawing(units=0)
    space = document.modelspace()
    space.add_lwpolyline([(10, 10), (60, 10), (60, 30), (10, 30)], close=True, dxfattribs={"layer": "cut"})
    space.add_circle((35, 20), 5, dxfattribs={"layer": "cut"})
    space.add_line((0, 0), (5, 5), dxfattribs={"layer": "notes"})
    document.saveas(tmp_path / "plate.dxf")
    for unit, scale in (("mm", 1), ("in", 25.4)):
        own = f'[[section]]\nname = "own"\nshape = "dxf"\nfile = "plate.dxf"\nlayer = "cut"\nunits = "{unit}"\n'
        text = HEAD + own + PIECE.replace("RHS 80x40x3", "own")
        section = read(tmp_path, text).pieces[0].piece.section
        assert (section.width, section.height) == near(50 * scale, 20 * scale)
        assert section.area == near((1000 - 25 * pi) * scale**2)


@pytest.mark.parametrize(
    ("name", "lay", "width", "height"),
    [
        ("UPN 100", '"toes up"', 100, 50),
        ("UPN 100", '"Toes  down"', 100, 50),
        ("UPN 100", '"90°"', 100, 50),
        ("L 80x60x7", '"leg flat"', 60, 80),
        ("L 80x60x7", "-90", 80, 60),
    ],
)
def test_a_lay_in_degrees_or_words(tmp_path: Path, name: str, lay: str, width: float, height: float) -> None:
    section = read(tmp_path, f"{HEAD}{PIECE.replace('RHS 80x40x3', name)}lay = {lay}\n").pieces[0].piece.section
    assert (section.width, section.height) == near(width, height)


def test_an_angle_stands_on_its_toes_with_its_heel_up(tmp_path: Path) -> None:
    """Sharp legs of 50 and thickness 5, turned 225 degrees: 50 sqrt 2 wide, (50 + 5)/sqrt 2 high, and the centroid,
    (250*25 + 225*2.5)/475 from the back of either leg, sqrt 2 times that below the heel."""
    own = '[[section]]\nname = "own"\nshape = "angle"\nwidth = 50\nheight = 50\nthickness = 5\n'
    text = HEAD + own + PIECE.replace("RHS 80x40x3", "own") + 'lay = "heel up"\n'
    section = read(tmp_path, text).pieces[0].piece.section
    assert (section.width, section.height) == near(50 * 2**0.5, 55 / 2**0.5)
    assert section.centroid == near(50 / 2**0.5, 55 / 2**0.5 - 2**0.5 * 6812.5 / 475)


def test_a_section_of_ones_own_goes_before_the_catalogue(tmp_path: Path) -> None:
    own = '[[section]]\nname = "RHS 80x40x3"\nshape = "rect-tube"\nwidth = 40.4\nheight = 79.8\nwall = 2.9\n'
    job = read(tmp_path, HEAD + own + PIECE + STOCK + "[nest]\nkerf = 1\n")
    assert job.pieces[0].piece.section.width == near(40.4)
    assert job.stock[0].section == "RHS 80x40x3"


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [("RHS 80x40x3", 40, 80), ("RHS 40x80x3", 80, 40), ("rhs 80 x 40 x 3", 40, 80), ("L 80x60x7", 60, 80)],
)
def test_the_first_number_of_a_name_stands_up(tmp_path: Path, name: str, width: float, height: float) -> None:
    section = read(tmp_path, HEAD + PIECE.replace("RHS 80x40x3", name)).pieces[0].piece.section
    assert (section.width, section.height) == near(width, height)


def test_stock(tmp_path: Path) -> None:
    more = STOCK + 'grade = "S355"\nquantity = 3\ncost = 41.5\n'
    job = read(tmp_path, HEAD + PIECE + STOCK + more + "[nest]\nkerf = 1\n")
    assert job.stock == (Stock("RHS 80x40x3", 6000), Stock("RHS 80x40x3", 6000, "S355", 3, 41.5))
    assert (job.stock[0].price, job.stock[1].price) == (6000, 41.5)


@pytest.mark.parametrize(
    ("saw", "nest", "expected"),
    [
        ("", "kerf = 1.3", Allowance(1.3)),
        ("", "kerf = 1.3\ntrim = 10\ngrip = 80\nwedge_least = 4", Allowance(1.3, 10, 80, 4)),
        ("", "kerf = 0", Allowance(0)),
        ('saw = "saw.toml"\n', "", Allowance(1.1, 0, 70, 0, "right")),
        ('saw = "saw.toml"\n', "kerf = 1.3\ngrip = 0\ntrim = 5", Allowance(1.3, 5, 0, 0, "right")),
    ],
)
def test_the_job_goes_before_the_saw(tmp_path: Path, saw: str, nest: str, expected: Allowance) -> None:
    assert read(tmp_path, f"{HEAD}{saw}{PIECE}{STOCK}[nest]\n{nest}\n").allowance == expected


def test_the_saw_is_found_beside_the_job(tmp_path: Path) -> None:
    job = read(tmp_path, f'{HEAD}saw = "saw.toml"\n{PIECE}')
    assert job.saw is not None
    assert (job.saw.name, job.saw_path) == ("bench saw", "saw.toml")


FRAMES = [
    # measured, root gap, long points of the 40 wide tube's sides
    ("outside", 0, 800, 600),
    ("centerline", 0, 840, 640),
    ("inside", 0, 880, 680),
    ("outside", 2, 800 - 2 * 2**0.5, 600 - 2 * 2**0.5),
]


@pytest.mark.parametrize(("measured", "gap", "wide", "high"), FRAMES)
def test_a_rectangle(tmp_path: Path, measured: str, gap: float, wide: float, high: float) -> None:
    """Half of a root gap, square to a seam at 45 degrees, takes gap/2 * sqrt 2 off each end of each side."""
    text = HEAD + FRAME.replace("outside", measured) + f'root_gap = {gap}\nquantity = 3\ngrade = "S355"\n'
    job = read(tmp_path, text)
    (frame,) = job.frames
    assert (frame.quantity, frame.assembly.mark, frame.assembly.order) == (3, "F", ("F-1", "F-2", "F-1", "F-2"))
    assert [(order.mark, order.quantity, order.grade, order.frame) for order in job.pieces] == [
        ("F-1", 6, "S355", "F"),
        ("F-2", 6, "S355", "F"),
    ]
    assert [order.piece.long_point for order in job.pieces] == near(wide, high)
    assert {cut.miter for order in job.pieces for cut in (order.piece.left, order.piece.right)} == {45}


def test_a_rectangle_of_two_sections(tmp_path: Path) -> None:
    """Members 40 and 60 wide at 90 degrees: the narrow one's cut stands at atan(60/40) from square, 56.31 degrees."""
    text = HEAD + FRAME.replace('"RHS 80x40x3"', '["RHS 80x40x3", "RHS 100x60x4"]')
    wide, high = (order.piece for order in read(tmp_path, text).pieces)
    assert (wide.left.miter, wide.right.miter) == near(*[degrees(atan(60 / 40))] * 2)
    assert (high.left.miter, high.right.miter) == near(*[degrees(atan(40 / 60))] * 2)


def test_a_lay_turns_every_side(tmp_path: Path) -> None:
    job = read(tmp_path, HEAD + FRAME + "lay = 90\n")
    assert {(order.piece.section.width, order.piece.section.height) for order in job.pieces} == {(80, 40)}


ANGLES = [
    # heel, leg, where the standing or hanging leg is (the outside is the moving side), and where the flat one is
    ("out", "up", "moving", "bottom"),
    ("in", "up", "fixed", "bottom"),
    ("out", "down", "moving", "top"),
    ("in", "down", "fixed", "top"),
]


@pytest.mark.parametrize(("heel", "leg", "upright", "flat"), ANGLES)
def test_angle_lies_as_its_words_say(tmp_path: Path, heel: str, leg: str, upright: str, flat: str) -> None:
    """The centroid lies toward the heel: 14 mm from the backs of L 50x50x5 (EN 10056-1, from memory)."""
    text = HEAD + FRAME.replace("RHS 80x40x3", "L 50x50x5") + f'heel = "{heel}"\nleg = "{leg}"\n'
    order = read(tmp_path, text).pieces[0]
    y, z = order.piece.section.centroid
    assert y == pytest.approx(36 if upright == "moving" else 14, abs=0.5)
    assert z == pytest.approx(14 if flat == "bottom" else 36, abs=0.5)
    assert order.lies == f"heel {heel}, leg {leg}"


@pytest.mark.parametrize(
    ("toes", "width", "height", "web"),
    [("out", 50, 100, 0), ("in", 50, 100, 1), ("up", 100, 50, 0), ("down", 100, 50, 1)],
)
def test_channel_lies_as_its_word_says(tmp_path: Path, toes: str, width: float, height: float, web: int) -> None:
    """UPN 100 is 100 by 50 with its centroid 15.5 mm from the back of the web (DIN 1026-1, from memory)."""
    text = HEAD + FRAME.replace("RHS 80x40x3", "UPN 100") + f'toes = "{toes}"\n'
    section = read(tmp_path, text).pieces[0].piece.section
    across = section.centroid[0] if toes in ("out", "in") else section.centroid[1]
    assert (section.width, section.height) == near(width, height)
    assert across == pytest.approx(15.5 if web == 0 else 34.5, abs=0.5)


def test_the_digest_follows_every_file_that_was_read(tmp_path: Path) -> None:
    text = f'{HEAD}saw = "saw.toml"\n{PIECE}'
    first = read(tmp_path, text).digest
    again = tmp_path / "again"
    again.mkdir()
    for name in ("job.toml", "saw.toml"):
        shutil.copy(tmp_path / name, again)
    assert load(again / "job.toml").digest == first
    assert read(tmp_path, text, SAW.replace("1.1", "1.2")).digest != first
    assert read(tmp_path, text + "quantity = 2\n").digest != first
