"""The saw file: every key it may hold, and every refusal with file, table and key in one line."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.saw import Scale
from mitertool.saw.file.explain import explain
from mitertool.saw.file.machine import Bed, Blade, Cost, Cutting, Feed, Guides, HandlingLimits, Obstacle, Tilt
from mitertool.saw.file.measured import MADE_OF

KEPT_FROM = "FLAT 60x10, 500 long-point, 0 and 45: long 500, short 440.5"

FULL = """\
format = 1

[saw]
name = "bench saw"
units = "mm"
kind = "hinged"
kerf = 1.3
invented = true

[scale]
square = 90
positive = "discharge-side"
two_sided = false
feed_side_most = 60
discharge_side_most = "45 1/2"
division = 0.5
offset = -0.25
offset_date = 2024-05-17
offset_from = "FLAT 60x10, 500 long-point, 0 and 45: long 500, short 440.5"

[tilt]
lowest = 0
highest = "45°"

[arm]
hinge_u = -300
hinge_z = 60
below_bed = 5
lift_highest = 50
stop_u = 300

[bed]
swing_axis = 40
width = 300
height = 250
blade_offset = 0

[guides]
fixed_u = -60
opening_least = 80
opening_most = 400
half_thickness = 12
clearance = 10

[vise]
fixed_jaw = "right"
approach = 5
grip = 80

[[obstacle]]
name = "rear jaw"
side = "feed"
stands = "moving-jaw"
depth = 40
edge = 30
height = 90
adjustable = true

[feed]
stroke = 500
shortest = 10
longest = 9999
counts_kerf = true
lines = 20
dead_length = 60
decimals = 2
counts_trim = false
ends_with_zero = true
caution = "rear roller off"

[blade]
teeth_per_inch = 4
area_rate = 3000
descent = 60

[cost]
swing_minutes = 2
roll_minutes = 1
rate = 60
currency = "EUR"
tilt_minutes = 3
load_minutes = 4
recut_minutes = 0.5

[handling]
roll_most = 90
turn_most = 45

[[cutting]]
grade = "S235"
wall_from = 2
wall_to = 6
speed = "70 m/min"
feed = "half open"
coolant = "emulsion"
vise_pressure = "30 bar"
"""

LEAST = """\
[saw]
name = "bench saw"
kind = "column"
kerf = 1.3
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 0
[vise]
fixed_jaw = "left"
"""


def load(folder: Path, text: str) -> mt.Saw:
    path = folder / "saw.toml"
    path.write_text(text, encoding="utf-8")
    return mt.Saw.load(path)


def refusal(folder: Path, text: str) -> str:
    with pytest.raises(BadInput) as caught:
        load(folder, text)
    says = str(caught.value)
    assert "\n" not in says
    assert caught.value.exit_code == 2
    return says


def changed(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, f"{old!r} must stand once in the file"
    return text.replace(old, new)


def test_every_key_is_read(tmp_path: Path) -> None:
    assert load(tmp_path, FULL) == mt.Saw(
        name="bench saw",
        kind="hinged",
        kerf=1.3,
        scale=Scale(90, "discharge-side", False, 60, 45.5, 0.5, -0.25, "2024-05-17", (KEPT_FROM,)),
        tilt=Tilt(0, 45),
        fixed_jaw="right",
        grip=80,
        invented=True,
        arm=HingedArm(below_bed=5, lift_highest=50, hinge_u=-300, hinge_z=60, stop_u=300),
        bed=Bed(40, 300, 250, 0),
        guides=Guides(-60, 80, 400, 12, 10),
        approach=5,
        obstacles=(Obstacle("rear jaw", "feed", "moving-jaw", 40, 30, 90, True),),
        feed=Feed(500, 10, 9999, True, 20, 60, 2, False, True, "rear roller off"),
        blade=Blade(6.35, 3000, 60),
        cost=Cost(2, 1, 60, "EUR", 3, 4, 0.5),
        handling=HandlingLimits(90, 45),
        cutting=(Cutting("S235", 2, 6, "70 m/min", "half open", "emulsion", "30 bar"),),
    )


def test_what_may_be_left_out(tmp_path: Path) -> None:
    assert load(tmp_path, LEAST) == mt.Saw(
        name="bench saw",
        kind="column",
        kerf=1.3,
        scale=Scale(0, "feed-side", False, 60, 0),
        tilt=None,
        fixed_jaw="left",
        grip=0,
        invented=False,
    )


@pytest.mark.parametrize(("units", "kerf", "grip"), [("in", "1/16", "3 1/4"), ("ft-in", "1/16", '3 1/4\\"')])
def test_bare_lengths_are_in_the_units_of_the_file(tmp_path: Path, units: str, kerf: str, grip: str) -> None:
    """1/16 in = 1.5875 mm and 3 1/4 in = 82.55 mm, from 1 in = 25.4 mm; a length with its own unit keeps it."""
    text = changed(LEAST, "kerf = 1.3", f'units = "{units}"\nkerf = "{kerf}"') + f'grip = "{grip}"\n'
    saw = load(tmp_path, text)
    assert (saw.kerf, saw.grip) == pytest.approx((1.5875, 82.55), rel=1e-14)
    assert load(tmp_path, changed(text, f'"{kerf}"', '"1.3 mm"')).kerf == 1.3


def test_a_two_sided_scale_needs_no_word_for_the_side_it_grows_to(tmp_path: Path) -> None:
    text = changed(LEAST, 'positive = "feed-side"', "two_sided = true")
    assert load(tmp_path, text).scale == Scale(0, "feed-side", True, 60, 0)


UNKNOWN = [
    ("[saw]", "knd = 1", "saw.toml: [saw]: key, unknown key: found 'knd'; did you mean kind"),
    ("[scale]", "two_side = true", "saw.toml: [scale]: key, unknown key: found 'two_side'; did you mean two_sided"),
    ("[tilt]", "low = 1", "saw.toml: [tilt]: key, unknown key: found 'low'; did you mean lowest"),
    ("[arm]", "hinge = 1", "saw.toml: [arm]: key, unknown key: found 'hinge'; did you mean hinge_"),
    ("[bed]", "swingaxis = 1", "saw.toml: [bed]: key, unknown key: found 'swingaxis'; did you mean swing_axis"),
    ("[guides]", "fixed = 1", "saw.toml: [guides]: key, unknown key: found 'fixed'; did you mean fixed_y or fixed_u"),
    (
        "[vise]",
        "jaw_fixed = 1",
        "saw.toml: [vise]: key, unknown key: found 'jaw_fixed'; did you mean fixed_jaw? "
        "The keys are fixed_jaw, approach, grip",
    ),
    (
        "[[obstacle]]",
        "colour = 1",
        "saw.toml: [[obstacle]] rear jaw: key, unknown key: found 'colour'; "
        "the keys are name, side, slot, stands, depth, edge, height, adjustable",
    ),
    ("[feed]", "stroke_mm = 1", "saw.toml: [feed]: key, unknown key: found 'stroke_mm'; did you mean stroke"),
    ("[blade]", "tpi = 4", "saw.toml: [blade]: key, unknown key: found 'tpi'; "),
    ("[cost]", "rates = 1", "saw.toml: [cost]: key, unknown key: found 'rates'; did you mean rate"),
]


@pytest.mark.parametrize(("table", "line", "says"), UNKNOWN)
def test_an_unknown_key_is_refused_with_the_nearest(tmp_path: Path, table: str, line: str, says: str) -> None:
    assert refusal(tmp_path, changed(FULL, f"{table}\n", f"{table}\n{line}\n")).startswith(says)


def test_an_unknown_table_is_refused_with_the_nearest(tmp_path: Path) -> None:
    says = refusal(tmp_path, FULL + "[obstacles]\n")
    assert says.startswith("saw.toml: key, unknown key: found 'obstacles'; did you mean obstacle")


BAD_VALUES = [
    ("[saw]", "name", '"bench saw"', "5", "must be a text in quotes"),
    ("[saw]", "name", '"bench saw"', '" "', "must be a text in quotes"),
    ("[saw]", "units", '"mm"', '"cm"', "write mm, in, ft-in, in/16, in/32 or ft-in/32"),
    ("[saw]", "units", '"mm"', "[]", "write mm, in, ft-in, in/16, in/32 or ft-in/32"),
    ("[saw]", "kind", '"hinged"', '"hinge"', "allowed: hinged, column"),
    ("[saw]", "kerf", "1.3", "0", "it must be more than 0"),
    ("[saw]", "kerf", "1.3", "-1.3", "it must be more than 0"),
    ("[saw]", "kerf", "1.3", '"1,3"', "write a decimal point, not a comma"),
    ("[saw]", "kerf", "1.3", "nan", "it must be a finite number"),
    ("[saw]", "kerf", "1.3", "true", "it must be a number or text"),
    ("[saw]", "kerf", "1.3", "[1.3]", "it must be a number or text"),
    ("[saw]", "invented", "true", '"yes"', "must be true or false"),
    ("[saw]", "invented", "true", "1", "must be true or false"),
    ("[scale]", "square", "90", "45", "the reading at a square cut is 0 or 90"),
    ("[scale]", "square", "90", '"square"', "it cannot be read"),
    ("[scale]", "positive", '"discharge-side"', '"feed"', "allowed: feed-side, discharge-side"),
    ("[scale]", "two_sided", "false", "0", "must be true or false"),
    ("[scale]", "two_sided", "false", "true", "a two-sided scale reads 0 at square"),
    ("[scale]", "feed_side_most", "60", "90", "allowed: 0 (none) to less than 90 degrees from square"),
    ("[scale]", "feed_side_most", "60", "-1", "allowed: 0 (none) to less than 90 degrees from square"),
    ("[scale]", "feed_side_most", "60", "inf", "it must be a finite number"),
    ("[scale]", "discharge_side_most", '"45 1/2"', '"45 3/2"', "the fraction after a whole number must be less"),
    ("[scale]", "discharge_side_most", '"45 1/2"', "100", "allowed: 0 (none) to less than 90 degrees from square"),
    ("[scale]", "division", "0.5", "0", "allowed: 0.001 to 15 degrees"),
    ("[scale]", "division", "0.5", "16", "allowed: 0.001 to 15 degrees"),
    ("[scale]", "offset", "-0.25", "5.5", "allowed: -5 to 5 degrees"),
    ("[scale]", "offset", "-0.25", '"x"', "it cannot be read"),
    ("[scale]", "offset_date", "2024-05-17", "[1]", "must be a date"),
    ("[scale]", "offset_date", "2024-05-17", "true", "must be a date"),
    ("[tilt]", "lowest", "0", '"low"', "it cannot be read"),
    ("[tilt]", "highest", '"45°"', "{}", "it must be a number or text"),
    ("[vise]", "fixed_jaw", '"right"', '"rear"', "allowed: left, right"),
    ("[vise]", "grip", "80", "-1", "it must be 0 or more"),
    ("[vise]", "grip", "80", '"80 kg"', "it cannot be read"),
    ("[vise]", "approach", "5", "-1", "it must be 0 or more"),
    ("[arm]", "hinge_u", "-300", "0", "the hinge must stand further from the swing axis"),
    ("[arm]", "hinge_u", "-300", "-65", "the hinge must stand further from the swing axis"),
    ("[arm]", "hinge_z", "60", "nan", "it must be a finite number"),
    ("[arm]", "below_bed", "5", "-5", "it must be 0 or more"),
    ("[arm]", "lift_highest", "50", "0", "allowed: more than 0, less than 90 degrees"),
    ("[arm]", "lift_highest", "50", "90", "allowed: more than 0, less than 90 degrees"),
    ("[arm]", "stop_u", "300", "[]", "it must be a number or text"),
    ("[bed]", "swing_axis", "40", '"x"', "it cannot be read"),
    ("[bed]", "width", "300", "0", "it must be more than 0"),
    ("[bed]", "height", "250", "-250", "it must be more than 0"),
    ("[bed]", "blade_offset", "0", "inf", "it must be a finite number"),
    ("[guides]", "fixed_u", "-60", "-49.9", "it stands in the way of every bar: at most -50 mm"),
    ("[guides]", "fixed_u", "-60", "-300", "it stands behind the hinge: more than -300 mm"),
    ("[guides]", "opening_least", "80", "-1", "it must be 0 or more"),
    ("[guides]", "opening_most", "400", "79", "must be opening_least, 80 mm, or more"),
    ("[guides]", "half_thickness", "12", "-1", "it must be 0 or more"),
    ("[guides]", "clearance", "10", "-1", "it must be 0 or more"),
    ("[[obstacle]] rear jaw", "side", '"feed"', '"back"', "allowed: feed, discharge"),
    ("[[obstacle]] rear jaw", "stands", '"moving-jaw"', '"jaw"', "allowed: moving-jaw, fixed-jaw, across"),
    ("[[obstacle]] rear jaw", "depth", "40", "0", "it must be more than 0"),
    ("[[obstacle]] rear jaw", "edge", "30", "-1", "it must be 0 or more"),
    ("[[obstacle]] rear jaw", "height", "90", "0", "it must be more than 0"),
    ("[[obstacle]] rear jaw", "adjustable", "true", '"no"', "must be true or false"),
    ("[feed]", "stroke", "500", "0", "it must be more than 0"),
    ("[feed]", "shortest", "10", "-1", "it must be 0 or more"),
    ("[feed]", "longest", "9999", "9", "must be shortest, 10 mm, or more"),
    ("[feed]", "counts_kerf", "true", "1", "must be true or false"),
    ("[feed]", "lines", "20", "0", "write a whole number from 1"),
    ("[feed]", "lines", "20", "2.5", "it must be whole"),
    ("[feed]", "dead_length", "60", "-1", "it must be 0 or more"),
    ("[feed]", "decimals", "2", "-1", "write a whole number from 0"),
    ("[feed]", "decimals", "2", "5", "write a whole number from 0 to 4"),
    ("[feed]", "counts_trim", "false", "0", "must be true or false"),
    ("[feed]", "ends_with_zero", "true", '"yes"', "must be true or false"),
    ("[feed]", "caution", '"rear roller off"', "7", "must be a text in quotes"),
    ("[blade]", "teeth_per_inch", "4", "0", "must be more than 0"),
    ("[blade]", "teeth_per_inch", "4", "400", "teeth must be 0.1 to 100 mm apart"),
    ("[blade]", "area_rate", "3000", "0", "must be more than 0"),
    ("[blade]", "descent", "60", "-1", "must be more than 0"),
    ("[cost]", "swing_minutes", "2", "-2", "must be 0 or more"),
    ("[cost]", "roll_minutes", "1", '"a minute"', "it cannot be read"),
    ("[cost]", "rate", "60", "-60", "must be 0 or more"),
    ("[cost]", "currency", '"EUR"', "5", "must be a text in quotes"),
    ("[[cutting]] 1", "grade", '"S235"', "235", "must be a text in quotes"),
    ("[[cutting]] 1", "wall_from", "2", "-1", "it must be 0 or more"),
    ("[[cutting]] 1", "wall_to", "6", "1", "must be wall_from, 2 mm, or more"),
    ("[[cutting]] 1", "speed", '"70 m/min"', "70", "must be a text in quotes"),
]


@pytest.mark.parametrize(("table", "key", "good", "bad", "allowed"), BAD_VALUES)
def test_a_bad_value_is_refused_in_its_place(
    tmp_path: Path, table: str, key: str, good: str, bad: str, allowed: str
) -> None:
    says = refusal(tmp_path, changed(FULL, f"\n{key} = {good}\n", f"\n{key} = {bad}\n"))
    assert says.startswith(f"saw.toml: {table}: {key}: found "), says
    assert allowed in says


def test_a_guide_that_an_axis_puts_in_the_way_names_both(tmp_path: Path) -> None:
    """400 from the axis to the jaw and 10 of clearance: the guide, that stands at -60, was not touched."""
    says = refusal(tmp_path, changed(FULL, "\nswing_axis = 40\n", "\nswing_axis = 400\n"))
    assert says.startswith("saw.toml: [guides]: fixed_u: found '-60 mm'")
    assert "at most -410 mm, where swing_axis puts the face of the fixed jaw" in says


@pytest.mark.parametrize(
    ("lowest", "highest", "says"),
    [
        ("5", "45", "lowest: found 5"),
        ("-90", "0", "lowest: found -90"),
        ("-45", "-5", "highest: found -5"),
        ("0", "90", "highest: found 90"),
    ],
)
def test_a_tilt_holds_upright(tmp_path: Path, lowest: str, highest: str, says: str) -> None:
    text = changed(changed(FULL, "lowest = 0\n", f"lowest = {lowest}\n"), '"45°"', highest)
    assert refusal(tmp_path, text) == f"saw.toml: [tilt]: {says}.0; must hold 0 and stay within 90 degrees"


NEEDED = [
    ("[saw]", 'name = "bench saw"', "name", ", a text in quotes"),
    ("[saw]", 'kind = "column"', "kind", "; allowed: hinged, column"),
    ("[saw]", "kerf = 1.3", "kerf", ", written like 1200 or 1200 mm"),
    ("[scale]", "square = 0", "square", ""),
    ("[scale]", 'positive = "feed-side"', "positive", ""),
    ("[scale]", "\nfeed_side_most = 60", "feed_side_most", ", written like 22.5 or 22 1/2"),
    ("[scale]", "discharge_side_most = 0", "discharge_side_most", ", written like 22.5 or 22 1/2"),
    ("[vise]", 'fixed_jaw = "left"', "fixed_jaw", "; allowed: left, right"),
]


@pytest.mark.parametrize(("table", "line", "key", "allowed"), NEEDED)
def test_a_needed_key_is_asked_for_in_its_place(tmp_path: Path, table: str, line: str, key: str, allowed: str) -> None:
    assert refusal(tmp_path, changed(LEAST, line, "")) == (
        f"saw.toml: {table}: {key}: found 'nothing'; the key is needed here{allowed}"
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "scale = 5\n" + LEAST.replace("[scale]", "[bed]"),
            "saw.toml: scale: found 5; must be a table, written [scale]",
        ),
        ("obstacle = 5\n" + LEAST, "saw.toml: obstacle: found 5; must be tables, each headed [[obstacle]]"),
        (
            LEAST + "[obstacle]\nname = 'post'\n",
            "saw.toml: obstacle: found '[obstacle]'; must be tables, each headed [[obstacle]]",
        ),
        ("format = 2\n" + LEAST, "saw.toml: format: found 2; this program reads format 1"),
        ("format = 0\n" + LEAST, "saw.toml: format: found 0; this program reads format 1"),
        ("format = '1'\n" + LEAST, "saw.toml: format: found '1'; this program reads format 1"),
    ],
)
def test_a_file_of_the_wrong_make_is_refused(tmp_path: Path, text: str, says: str) -> None:
    assert refusal(tmp_path, text) == says


def test_a_file_that_is_not_toml_is_refused_with_the_line(tmp_path: Path) -> None:
    says = refusal(tmp_path, changed(LEAST, "kerf = 1.3", "kerf = 1,3"))
    assert says.startswith("saw.toml: line 4: column 9: found 'kerf = 1,3'; is not TOML: ")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        mt.Saw.load(tmp_path / "saw.toml")
    assert "saw.toml" in str(caught.value)
    assert str(caught.value).endswith("cannot be read: No such file or directory")


def test_a_file_that_is_not_utf_8_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_bytes(LEAST.replace("bench", "b\xe4nk").encode("latin-1"))
    with pytest.raises(BadInput, match=r"saw.toml: line 2: found 'name = .b.nk saw.'; is not UTF-8 text"):
        mt.Saw.load(path)


def test_a_key_of_the_other_kind_of_saw_is_refused(tmp_path: Path) -> None:
    says = refusal(tmp_path, changed(FULL, "stop_u = 300\n", "stop_u = 300\ncant = 2\n"))
    assert says == 'saw.toml: [arm]: cant: found 2; a saw of kind = "hinged" has no such key'
    says = refusal(tmp_path, LEAST + "[arm]\nhinge_u = -300\n")
    assert says == 'saw.toml: [arm]: hinge_u: found -300; a saw of kind = "column" has no such key'


def test_teeth_are_given_one_way(tmp_path: Path) -> None:
    """4 teeth in an inch of 25.4 mm stand 6.35 mm apart."""
    says = refusal(tmp_path, changed(FULL, "teeth_per_inch = 4\n", "teeth_per_inch = 4\npitch = 6.35\n"))
    assert says == "saw.toml: [blade]: pitch: found 'teeth_per_inch beside it'; give one of the two"
    blade = load(tmp_path, LEAST + "[blade]\npitch = 6.35\n").blade
    assert blade.pitch == 6.35
    assert blade.teeth_per_inch == pytest.approx(4)
    assert load(tmp_path, LEAST).blade.teeth_per_inch is None


def test_a_column_and_what_its_arm_may_leave_out(tmp_path: Path) -> None:
    assert load(tmp_path, LEAST + "[arm]\n").arm == Column()
    assert load(tmp_path, LEAST + "[arm]\ncant = 3\nbelow_bed = 8\nlift_highest = 400\n").arm == Column(8, 400, cant=3)
    assert "allowed: -45 to 45 degrees" in refusal(tmp_path, LEAST + "[arm]\ncant = 46\n")
    says = refusal(tmp_path, LEAST + "[arm]\nbelow_bed = 8\nlift_highest = 8\n")
    assert (
        says == "saw.toml: [arm]: lift_highest: found '8 mm'; the blade must lift out of the bed: more than below_bed"
    )


def test_two_obstacles_of_one_name_are_refused(tmp_path: Path) -> None:
    block = '[[obstacle]]\nname = "post"\nside = "feed"\nstands = "across"\ndepth = 90\nedge = 30\n'
    assert len(load(tmp_path, LEAST + block).obstacles) == 1
    says = refusal(tmp_path, LEAST + block + block)
    assert says == "saw.toml: [[obstacle]] post: name: found 'post'; two obstacles need two names"


def test_an_obstacle_in_the_square_cut_is_refused(tmp_path: Path) -> None:
    """Half of the kerf of 1.3 mm is 0.65 mm."""
    block = '[[obstacle]]\nname = "post"\nside = "feed"\nstands = "across"\ndepth = 90\nedge = {}\n'
    says = refusal(tmp_path, LEAST + block.format(0.64))
    assert says.startswith("saw.toml: [[obstacle]] post: edge: found '0.64 mm'; a square cut would saw it")
    assert load(tmp_path, LEAST + block.format(0.65)).obstacles[0].edge == 0.65
    assert load(tmp_path, LEAST + block.format(0) + "adjustable = true\n").obstacles[0].adjustable


def test_lengths_of_every_table_are_in_the_units_of_the_file(tmp_path: Path) -> None:
    """The same file in inches: every bare length is 25.4 times as many mm; angles and rates stay as they are."""
    saw = load(tmp_path, changed(FULL, 'units = "mm"', 'units = "in"'))
    assert saw.arm == HingedArm(below_bed=127, lift_highest=50, hinge_u=-7620, hinge_z=1524, stop_u=7620)
    assert saw.bed == Bed(1016, 7620, 6350, 0)
    assert saw.guides == Guides(-1524, 2032, 10160, pytest.approx(304.8), 254)
    assert saw.obstacles[0] == Obstacle("rear jaw", "feed", "moving-jaw", 1016, 762, 2286, True)
    assert saw.feed is not None
    assert (saw.feed.stroke, saw.feed.shortest, saw.feed.dead_length) == (12700, 254, 1524)
    assert (saw.blade.area_rate, saw.blade.descent) == (3000, 60)
    assert (saw.cutting[0].wall_from, saw.cutting[0].wall_to) == (50.8, pytest.approx(152.4))


def test_the_shops_own_table_is_found_by_grade_and_wall(tmp_path: Path) -> None:
    saw = load(tmp_path, FULL + '[[cutting]]\nwall_from = 6\nspeed = "50 m/min"\n')
    assert [row.speed for row in saw.shop_table("S235", 3)] == ["70 m/min"]
    assert [row.speed for row in saw.shop_table("s235", 6)] == ["70 m/min", "50 m/min"]
    assert [row.speed for row in saw.shop_table("S355", 8)] == ["50 m/min"]
    assert saw.shop_table("S355", 3) == ()


def test_every_key_is_explained_beside_what_the_file_says(tmp_path: Path) -> None:
    load(tmp_path, FULL)
    rows = explain(tmp_path / "saw.toml")
    keys = [(row.table, row.key) for row in rows]
    assert len(keys) == len(set(keys))
    tables = {name: rest for name, rest in tomllib.loads(FULL).items() if name != "format"}
    given = {(name, key) for name, rest in tables.items() for key in (rest[0] if isinstance(rest, list) else rest)}
    assert given <= set(keys)
    second = {(table, key) for (table, _), keys in MADE_OF.items() for key in keys} | {("obstacle", "slot")}
    assert set(keys) - given == {("arm", "cant"), ("blade", "pitch"), *second}
    assert all(row.says.endswith(".") and row.says.count(". ") == 0 for row in rows)
    found = {(row.table, row.key): row.found for row in rows}
    assert found["saw", "kerf"] == ("1.3",)
    assert found["saw", "invented"] == ("true",)
    assert found["scale", "offset_date"] == ("2024-05-17",)
    assert found["arm", "cant"] == ("",)
    assert found["obstacle", "edge"] == ("30",)


def test_a_file_that_is_refused_is_not_explained(tmp_path: Path) -> None:
    refusal(tmp_path, changed(FULL, "kerf = 1.3", "kerf = 0"))
    with pytest.raises(BadInput, match="kerf"):
        explain(tmp_path / "saw.toml")


GALLERY = sorted((Path(__file__).parents[2] / "gallery").rglob("*saw*/*.toml")) + sorted(
    (Path(__file__).parents[2] / "gallery").glob("*/saw.toml")
)


@pytest.mark.parametrize("path", GALLERY, ids=lambda path: "/".join(path.parts[-2:]))
def test_the_shipped_saws_load_and_say_that_they_are_invented(path: Path) -> None:
    assert mt.Saw.load(path).invented
    assert "invented" in path.read_text(encoding="utf-8").splitlines()[0]


def test_the_two_full_examples() -> None:
    """One of each kind, one swinging one way only, one with the fixed jaw on the right; every table is in them."""
    saws = {path.stem: mt.Saw.load(path) for path in GALLERY if path.parent.name == "saws"}
    assert (saws["hinged"].kind, saws["hinged"].scale.discharge_side_most) == ("hinged", 0)
    assert (saws["column"].kind, saws["column"].fixed_jaw) == ("column", "right")
    for saw in saws.values():
        assert None not in (saw.arm, saw.guides, saw.feed, saw.bed.swing_axis, saw.approach, saw.blade.pitch)
        assert saw.obstacles
        assert saw.reach(mt.rect_tube(40, 80, 3), mt.Cut(22.5), "left").ok
