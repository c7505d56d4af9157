"""A job that is not as it should be: one line that names the file, the table or mark, and the key."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.job import load, solve

GOOD = """\
format = 1

[job]
name = "gate"
revision = "2"
date = 2024-05-17
customer = "Smith"
units = "mm"
tolerance = "ISO 13920-B"

[[section]]
name = "my tube"
shape = "rect-tube"
width = 50
height = 30
wall = 3
outer_radius = 6

[[section]]
name = "my channel"
shape = "channel"
width = 50
height = 100
web = 5
flange = 8
taper = 8
flange_at = "half-width"

[[stock]]
section = "RHS 80x40x3"
length = 6000
grade = "S235"
quantity = 4
cost = 55.5

[[piece]]
mark = "A"
section = "RHS 80x40x3"
grade = "S235"
length = 1200
at = "long-point"
left = 45
right = { miter = 22.5, bevel = 10 }
quantity = 2
opposite = 1
lay = 0
out = "seam"
turn = ["as-drawn", "rolled"]

[[piece]]
mark = "B"
section = "L 50x50x5"
length = "3' 4\\""

[[frame]]
mark = "F"
shape = "rectangle"
section = "L 60x60x6"
heel = "out"
leg = "up"
grade = "S355"
quantity = 2
root_gap = 2
lay = 0
width = 800
height = 600
measured = "outside"

[[frame]]
mark = "C"
shape = "rectangle"
section = "UPN 100"
toes = "in"
width = 900
height = 700
measured = "inside"

[nest]
kerf = 1.3
trim = 10
grip = 80
wedge_least = 5
"""


def refusal(folder: Path, text: str) -> str:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        load(path)
    assert caught.value.exit_code == 2
    says = str(caught.value)
    assert "\n" not in says
    return says


def changed(old: str, new: str) -> str:
    """The good job with `old` replaced where it stands first; a line is given whole."""
    assert f"\n{old}\n" in GOOD, f"{old!r} must be in the job"
    return GOOD.replace(f"\n{old}\n", f"\n{new}\n", 1)


def test_the_good_job_is_read(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(GOOD, encoding="utf-8")
    job = load(tmp_path / "job.toml")
    assert [order.mark for order in job.pieces] == ["F-1", "F-2", "C-1", "C-2", "A", "B"]
    assert job.pieces[5].piece.length == pytest.approx(40 * 25.4, rel=1e-14)


UNKNOWN_KEYS = [
    ("[job]", "[job]\nunit = 1", "[job]: key, unknown key: found 'unit'; did you mean units"),
    ("[[stock]]", "[[stock]]\nlenght = 1", "[[stock]] 1: key, unknown key: found 'lenght'; did you mean length"),
    ('mark = "A"', 'mark = "A"\nlenght = 1', "[[piece]] A: key, unknown key: found 'lenght'; did you mean length"),
    ('mark = "A"', 'mark = "A"\nmitre = 1', "[[piece]] A: key, unknown key: found 'mitre'; "),
    ('mark = "F"', 'mark = "F"\nhight = 1', "[[frame]] F: key, unknown key: found 'hight'; did you mean height"),
    ('mark = "F"', 'mark = "F"\ndiameter = 1', "[[frame]] F: key, unknown key: found 'diameter'; "),
    ("wall = 3", "wal = 3", "[[section]] my tube: key, unknown key: found 'wal'; did you mean wall?"),
    ("wall = 3", "wall = 3\nweb = 2", "[[section]] my tube: key, unknown key: found 'web'; "),
    ("[nest]", "[nest]\nkerfs = 1", "[nest]: key, unknown key: found 'kerfs'; did you mean kerf?"),
    ("[nest]", "[nests]", "key, unknown key: found 'nests'; did you mean nest?"),
    ("left = 45", "left = { mitre = 45 }", "[[piece]] A: left, unknown key: found 'mitre'; did you mean miter?"),
]


@pytest.mark.parametrize(("old", "new", "says"), UNKNOWN_KEYS)
def test_an_unknown_key_is_refused_with_the_nearest(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert refusal(tmp_path, changed(old, new)).startswith(f"job.toml: {says}")


A, B, F, C = "[[piece]] A", "[[piece]] B", "[[frame]] F", "[[frame]] C"
COMMA, FINITE, NUMBER = (
    "write a decimal point, not a comma",
    "it must be a finite number",
    "it must be a number or text",
)
LESS_THAN_90 = "must be more than -90 and less than 90 degrees"
TEXT = "must be a text in quotes"

BAD_VALUES = [
    # table, line as it was, line as it is, key, what is allowed
    ("[job]", 'name = "gate"', "name = 5", "name", TEXT),
    ("[job]", 'name = "gate"', 'name = ""', "name", TEXT),
    ("[job]", 'revision = "2"', "revision = true", "revision", "must be a text, a number or a date"),
    ("[job]", "date = 2024-05-17", "date = [2024]", "date", "must be a text, a number or a date"),
    ("[job]", 'customer = "Smith"', "customer = {}", "customer", "must be a text, a number or a date"),
    ("[job]", 'units = "mm"', 'units = "cm"', "units", "write mm, in, ft-in, in/16, in/32 or ft-in/32"),
    ("[job]", 'units = "mm"', 'saw = ["x"]', "saw", TEXT),
    ("[job]", 'tolerance = "ISO 13920-B"', "tolerance = []", "tolerance", "must be a text, a number or a date"),
    ("[[section]] my tube", 'shape = "rect-tube"', 'shape = "tube"', "shape", "allowed: angle, channel"),
    ("[[section]] my tube", "wall = 3", "wall = 15", "wall", "must be less than half the smaller side, 15 mm"),
    ("[[section]] my tube", "wall = 3", "wall = 0", "wall", "it must be more than 0"),
    ("[[section]] my tube", "width = 50", "width = 1e5", "width", "at most 5000 mm"),
    ("[[section]] my tube", "outer_radius = 6", "outer_radius = 16", "outer radius", "must be from 0 to 15 mm here"),
    ("[[section]] my tube", "outer_radius = 6", "outer_radius = -1", "outer_radius", "it must be 0 or more"),
    ("[[section]] my channel", "taper = 8", 'taper = "8 %"', "taper", "write a number without a unit"),
    ("[[section]] my channel", "taper = 8", "taper = 60", "taper", "the flange must not run out before its toe"),
    (
        "[[section]] my channel",
        'flange_at = "half-width"',
        'flange_at = "toe"',
        *("flange_at", "allowed: half-width or mid-overhang"),
    ),
    ("[[stock]] 1", "length = 6000", "length = 0", "length", "it must be more than 0"),
    ("[[stock]] 1", "length = 6000", 'length = "6 000"', "length", "it cannot be read"),
    ("[[stock]] 1", "quantity = 4", "quantity = -1", "quantity", "write a whole number from 0"),
    ("[[stock]] 1", "quantity = 4", "quantity = 4.5", "quantity", "it must be whole"),
    ("[[stock]] 1", "cost = 55.5", "cost = -1", "cost", "must be 0 or more"),
    ("[[stock]] 1", "cost = 55.5", 'cost = "55,5"', "cost", COMMA),
    (A, "length = 1200", "length = -1200", "length", "it must be 0 or more"),
    (A, "length = 1200", 'length = "1,5"', "length", COMMA),
    (A, "length = 1200", 'length = "1,200"', "length", COMMA),
    (A, "length = 1200", 'length = "nan"', "length", FINITE),
    (A, "length = 1200", "length = nan", "length", FINITE),
    (A, "length = 1200", "length = inf", "length", FINITE),
    (A, "length = 1200", "length = 2e6", "length", "it must be at most 1000000 mm"),
    (A, "length = 1200", "length = true", "length", NUMBER),
    (A, "length = 1200", 'length = "1200 kg"', "length", "it cannot be read"),
    (A, 'at = "long-point"', 'at = "heel"', "at", "allowed: long-point, short-point, centerline, overall"),
    (A, "left = 45", "left = 90", "left", LESS_THAN_90),
    (A, "left = 45", 'left = "-90"', "left", LESS_THAN_90),
    (A, "left = 45", 'left = "90°"', "left", LESS_THAN_90),
    (A, "left = 45", "left = { miter = 90 }", "left", LESS_THAN_90),
    (A, "left = 45", "left = { bevel = 90 }", "left", LESS_THAN_90),
    (A, "left = 45", 'left = "22,5"', "left", COMMA),
    (A, "left = 45", 'left = "nan"', "left", FINITE),
    (A, "left = 45", "left = [true]", "left, cut 1", NUMBER),
    (A, "left = 45", "left = [45, true]", "left, cut 2", NUMBER),
    (A, "left = 45", "left = []", "left", "a cut, or a list of cuts"),
    (A, "left = 45", 'left = [45, "60 meets x"]', "left, cut 2, meets", "write a length in mm"),
    (A, "left = 45", "left = [45, { miter = -45, meets = [1, 2, 3] }]", "left, cut 2, meets", "or two: from the fixed"),
    (A, "left = 45", "left = [{ miter = 45, meets = 20 }, -45]", "left, cut 1", "miter, bevel, slope"),
    (A, "left = 45", "left = [45, { miter = -45, meets = 900 }]", "left, cut 2", "leaves no face on the steel"),
    (A, "left = 45", 'left = "1:0"', "left", "the run must be more than 0"),
    (A, "left = 45", "left = { slope = 0.5 }", "left slope", "write a slope as rise:run"),
    (A, "left = 45", "left = { from_bar = 0 }", "left from_bar", "more than 0 and at most 90 degrees"),
    (A, "left = 45", 'left = { from_bar = 60, long = "top" }', "left: long", "allowed: moving, fixed"),
    (A, "left = 45", 'left = { miter = 45, long = "fixed" }', "left", "long goes with from_bar"),
    (A, "left = 45", "left = { corner = 181 }", "left corner", "more than 0 and at most 180 degrees"),
    (A, "left = 45", "left = { miter = 45, corner = 90 }", "left", "give the cut one way only"),
    (A, "left = 45", 'left = { bevel = "10 mm" }', "left bevel", "it cannot be read"),
    (A, "quantity = 2", "quantity = 10001", "quantity", "write a whole number from 0 to 10000"),
    (A, "opposite = 1", 'opposite = "one"', "opposite", "it must be whole"),
    (A, "lay = 0", 'lay = "flat"', "lay", "RHS 80x40x3 has no such words, or give degrees such as 90"),
    (A, "lay = 0", 'lay = "9O"', "lay", "it cannot be read"),
    (B, 'section = "L 50x50x5"', 'section = "L 50x50x5"\nlay = "toes up"', "lay", "may lie leg flat, heel up"),
    (A, 'out = "seam"', "out = 1", "out", TEXT),
    (A, 'turn = ["as-drawn", "rolled"]', 'turn = "rolled"', "turn", "a list of poses among as-drawn, end-for-end"),
    (A, 'turn = ["as-drawn", "rolled"]', 'turn = ["upside down"]', "turn", "a list of poses among as-drawn"),
    (F, 'shape = "rectangle"', 'shape = "circle"', "shape", "allowed: rectangle"),
    (F, 'heel = "out"', 'heel = "up"', "heel", "must say how it lies: heel = out or in"),
    (F, 'leg = "up"', 'leg = "in"', "leg", "must say how it lies: leg = up or down"),
    (F, 'leg = "up"', 'leg = "up"\ntoes = "in"', "toes", "has no toes; leave the word out"),
    (F, "root_gap = 2", "root_gap = -1", "root_gap", "it must be 0 or more"),
    (F, "width = 800", "width = 0", "width", "it must be more than 0"),
    (F, 'measured = "outside"', 'measured = "out"', "measured", "allowed: outside, centerline, inside"),
    (C, 'toes = "in"', 'toes = "left"', "toes", "must say how it lies: toes = out or in or up or down"),
    (C, 'toes = "in"', 'toes = "in"\nheel = "out"', "heel", "has no heel; leave the word out"),
    (C, 'section = "UPN 100"', "section = []", "section", "must be a name in quotes, or a list of them"),
    (C, 'section = "UPN 100"', "section = [5]", "section", "must be a name in quotes, or a list of them"),
    ("[nest]", "kerf = 1.3", "kerf = -1.3", "kerf", "it must be 0 or more"),
    ("[nest]", "trim = 10", 'trim = "1,0"', "trim", COMMA),
    ("[nest]", "grip = 80", "grip = nan", "grip", FINITE),
    ("[nest]", "wedge_least = 5", "wedge_least = []", "wedge_least", NUMBER),
]


@pytest.mark.parametrize(("table", "old", "new", "key", "allowed"), BAD_VALUES)
def test_a_bad_value_is_refused_in_its_place(
    tmp_path: Path, table: str, old: str, new: str, key: str, allowed: str
) -> None:
    says = refusal(tmp_path, changed(old, new))
    assert says.startswith((f"job.toml: {table}: {key}: ", f"job.toml: {table}: {key}, ")), says
    assert "found " in says
    assert allowed in says


TEXT, LONG = ", a text in quotes", ", written like 1200 or 1200 mm"
NEEDED = [
    ("[job]", 'name = "gate"', "name", TEXT),
    ("[[section]] my tube", 'shape = "rect-tube"', "shape", "; allowed: angle, channel, flat, "),
    ("[[section]] my tube", "wall = 3", "wall", LONG),
    ("[[stock]] 1", 'section = "RHS 80x40x3"', "section", TEXT),
    ("[[stock]] 1", "length = 6000", "length", LONG),
    (A, "length = 1200", "length", LONG),
    (B, 'section = "L 50x50x5"', "section", TEXT),
    (F, 'section = "L 60x60x6"', "section", ""),
    (F, 'shape = "rectangle"', "shape", "; allowed: rectangle, "),
    (F, "width = 800", "width", ""),
    (F, "height = 600", "height", ""),
    (F, 'measured = "outside"', "measured", "; allowed: outside, "),
]


@pytest.mark.parametrize(("table", "line", "key", "allowed"), NEEDED)
def test_a_needed_key_is_asked_for_in_its_place(tmp_path: Path, table: str, line: str, key: str, allowed: str) -> None:
    says = refusal(tmp_path, changed(line, ""))
    assert says.startswith(f"job.toml: {table}: {key}: found 'nothing'; the key is needed here{allowed}")


@pytest.mark.parametrize("table", ["piece", "frame"])
def test_a_piece_without_a_mark_goes_by_its_number(tmp_path: Path, table: str) -> None:
    mark = {"piece": "A", "frame": "F"}[table]
    assert refusal(tmp_path, changed(f'mark = "{mark}"', "")) == (
        f"job.toml: [[{table}]] 1: mark: found 'nothing'; the key is needed here, a text in quotes"
    )


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('heel = "out"', f"{F}: heel: found 'nothing'; a frame of L 60x60x6 must say how it lies: heel = out or in"),
        ('leg = "up"', f"{F}: leg: found 'nothing'; a frame of L 60x60x6 must say how it lies: leg = up or down"),
        (
            'toes = "in"',
            f"{C}: toes: found 'nothing'; a frame of UPN 100 must say how it lies: toes = out or in or up or down",
        ),
    ],
)
def test_how_angle_and_channel_lie_is_asked_for_and_never_guessed(tmp_path: Path, line: str, says: str) -> None:
    assert refusal(tmp_path, changed(line, "")) == f"job.toml: {says}"


UNKNOWN_SECTIONS = [
    ("[[stock]] 1", 'section = "RHS 80x40x3"', "RHS 81x40x3", "the nearest names are ", "RHS 80x40x3"),
    (B, 'section = "L 50x50x5"', "L 51x50x5", "the nearest names are ", "L 50x50x5"),
    (F, 'section = "L 60x60x6"', "L 61x60x6", "the nearest names are ", "L 60x60x6"),
    (C, 'section = "UPN 100"', "UPN 101", "the nearest names are ", "UPN 100"),
    (B, 'section = "L 50x50x5"', "girder", "the families are ", "UPN"),
]


@pytest.mark.parametrize(("table", "line", "name", "hint", "nearest"), UNKNOWN_SECTIONS)
def test_an_unknown_section_is_refused_with_the_nearest(
    tmp_path: Path, table: str, line: str, name: str, hint: str, nearest: str
) -> None:
    says = refusal(tmp_path, changed(line, f'section = "{name}"'))
    assert says.startswith(f"job.toml: {table}: section: found '{name}'; {hint}"), says
    assert nearest in says


def test_cuts_that_cross_are_refused_with_the_length_that_would_do(tmp_path: Path) -> None:
    """A flat 80 wide, 45 at both ends: the short point is the long point less 160."""
    text = '[job]\nname = "x"\n[[section]]\nname = "f"\nshape = "flat"\nwidth = 80\nheight = 10\n'
    says = refusal(tmp_path, text + '[[piece]]\nmark = "A"\nsection = "f"\nlength = 100\nleft = 45\nright = 45\n')
    assert says == (
        "job.toml: [[piece]] A: length at long-point: found '100 mm'; the two cuts cross inside the section, "
        "60 mm past a pointed piece; allowed here: 160 mm or more"
    )


@pytest.mark.parametrize(
    ("old", "new", "cause"),
    [
        ("width = 800", "width = 100", "the two cuts cross inside the section"),
        ("root_gap = 2", "root_gap = 1500", "800 mm"),
    ],
)
def test_a_frame_that_leaves_no_piece_is_refused_by_its_mark(tmp_path: Path, old: str, new: str, cause: str) -> None:
    """Angle 60 wide, 45 degrees all round: a side of 100 outside is 20 short of a point."""
    says = refusal(tmp_path, changed(old, new))
    assert says.startswith("job.toml: [[frame]] F: ")
    assert cause in says


def test_a_turn_that_the_section_does_not_allow_is_refused(tmp_path: Path) -> None:
    says = refusal(
        tmp_path, changed('section = "L 50x50x5"', 'section = "L 50x50x5"\nturn = ["rolled", "end-for-end"]')
    )
    assert says == "job.toml: [[piece]] B: turn: found 'rolled, end-for-end'; the section allows as-drawn"


def test_a_mark_with_nothing_to_make_is_refused(tmp_path: Path) -> None:
    text = changed("quantity = 2", "quantity = 0").replace("opposite = 1", "opposite = 0")
    assert refusal(tmp_path, text) == (
        "job.toml: [[piece]] A: quantity: found 0; give at least 1 of the piece or of its opposite hand"
    )


@pytest.mark.parametrize(
    ("old", "new", "mark"),
    [
        ('mark = "B"', 'mark = "A"', "A"),
        ('mark = "C"', 'mark = "F"', "F-1"),
        ('mark = "B"', 'mark = "F-2"', "F-2"),
        ('mark = "B"', 'mark = "F"', "F"),
        ('mark = "B"', 'mark = "A-OH"', "A-OH"),
    ],
)
def test_two_of_one_mark_are_refused(tmp_path: Path, old: str, new: str, mark: str) -> None:
    assert refusal(tmp_path, changed(old, new)) == (
        f"job.toml: mark: found '{mark}'; another piece or frame has this mark; each needs its own"
    )


def test_a_mark_too_long_for_the_sheet_is_refused(tmp_path: Path) -> None:
    says = refusal(tmp_path, changed('mark = "A"', f'mark = "{"A" * 21}"'))
    assert says.endswith(f"mark: found '{'A' * 21}'; a mark has at most 20 characters")


def test_two_sections_of_one_name_are_refused(tmp_path: Path) -> None:
    assert refusal(tmp_path, changed('name = "my channel"', 'name = "my tube"')) == (
        "job.toml: [[section]] my tube: name: found 'my tube'; another section of this job has this name"
    )


def test_stock_without_a_kerf_is_refused(tmp_path: Path) -> None:
    assert refusal(tmp_path, changed("kerf = 1.3", "")) == (
        "job.toml: [nest]: kerf: found 'nothing'; a job with stock needs a kerf here or a saw file in [job]"
    )


def test_bad_nest_values_are_refused_without_stock_too(tmp_path: Path) -> None:
    head, _, rest = GOOD.partition("[[stock]]")
    text = head + rest[rest.index("[[piece]]") :]
    assert refusal(tmp_path, text.replace("trim = 10", 'trim = "much"')).startswith(
        "job.toml: [nest]: trim: found 'much'; it cannot be read"
    )


def test_a_job_without_pieces_is_refused(tmp_path: Path) -> None:
    assert refusal(tmp_path, '[job]\nname = "gate"\n') == (
        "job.toml: job: found 'no pieces'; give at least one [[piece]], [[list]] or [[frame]]"
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("format = 2", "job.toml: format: found 2; this program reads format 1"),
        ('format = "1"', "job.toml: format: found '1'; this program reads format 1"),
        ("format = true", "job.toml: format: found True; this program reads format 1"),
    ],
)
def test_a_newer_format_is_refused_with_both_numbers(tmp_path: Path, text: str, says: str) -> None:
    assert refusal(tmp_path, GOOD.replace("format = 1", text)) == says


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length = 1200", "length = 1,200"),
        ("length = 1200", "length = 1200 mm"),
        ("length = 1200", 'length = "1200'),
        ("left = 45", "length = 1200"),
    ],
)
def test_a_file_that_is_not_toml_is_refused_with_the_line(tmp_path: Path, old: str, new: str) -> None:
    says = refusal(tmp_path, changed(old, new))
    assert says.startswith(f"job.toml: line {GOOD.splitlines().index(old) + 1}: column ")
    assert f"found '{new}'; is not TOML: " in says and "a line is KEY = VALUE" in says


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("[nest]", "[[nest]]", "job.toml: nest: found [{"),
        ("[[stock]]", "[stock]", "job.toml: stock: found '[stock]'; must be tables, each headed [[stock]]"),
    ],
)
def test_a_table_of_the_wrong_kind_is_refused(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert refusal(tmp_path, changed(old, new)).startswith(says)


def test_a_bad_saw_file_is_named_with_the_job(tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_text('[saw]\nname = "x"\nkind = "chop"\n', encoding="utf-8")
    text = changed('units = "mm"', 'units = "mm"\nsaw = "saw.toml"')
    assert (
        refusal(tmp_path, text) == "job.toml: [job] saw: saw.toml: [saw]: kind: found 'chop'; allowed: hinged, column"
    )


def test_a_missing_saw_file_is_named_with_the_job(tmp_path: Path) -> None:
    says = refusal(tmp_path, changed('units = "mm"', 'units = "mm"\nsaw = "saw.toml"'))
    assert says.startswith("job.toml: ")
    assert says.endswith("saw.toml'; cannot be read: No such file or directory")


def test_a_job_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"^file: found '.*job\.toml'; cannot be read: No such file or directory$"):
        load(tmp_path / "job.toml")
    with pytest.raises(BadInput, match=r"cannot be read: Is a directory$"):
        load(tmp_path)


WEIRD = [
    *("5", "-5", "0", "0.5", "1e400", "-inf", "nan", "1e300", f"1{'0' * 60}", "true", "[]", "[1]", '["x"]', "[[1]]"),
    *("{}", "{ a = 1 }", "{ miter = {} }", "{ slope = [] }", "{ from_bar = 3, long = [] }", "2024-01-01", "12:00:00"),
    *('""', '" "', '"x"', '"nan"', '"1e999"', '"1/0"', '"½"', '"١"', '"\\u0000"', '"a\\nb"', f'"{"9" * 5000}"'),
]
TABLES = [table + "\n" for table in GOOD.split("\n\n")[1:]]
PLACES = [(i, j) for i, table in enumerate(TABLES) for j, line in enumerate(table.splitlines()) if " = " in line]
SMALL = (
    '[job]\nname = "x"\n',
    "[nest]\nkerf = 1\n",
    '[[section]]\nname = "f"\nshape = "flat"\nwidth = 80\nheight = 10\n'
    '[[piece]]\nmark = "P"\nsection = "f"\nlength = 300\n',
)
"""The least that a job must have besides the table under proof."""


def with_value(i: int, j: int, value: str) -> str:
    lines = TABLES[i].splitlines()
    lines[j] = f"{lines[j].split(' = ')[0]} = {value}"
    head = lines[0]
    return "\n".join([*lines, *(table for table in SMALL if not table.startswith(f"{head}\n"))])


@pytest.mark.parametrize(("i", "j"), PLACES, ids=lambda number: str(number))
def test_no_value_of_any_key_ends_in_anything_but_one_line(tmp_path: Path, i: int, j: int) -> None:
    path = tmp_path / "job.toml"
    refused = 0
    for value in WEIRD:
        path.write_text(with_value(i, j, value), encoding="utf-8")
        try:
            solve(load(path))
        except MitertoolError as error:
            refused += 1
            assert "\n" not in str(error)
            assert "job.toml" in str(error)
    assert refused > len(WEIRD) / 4, TABLES[i].splitlines()[j]
