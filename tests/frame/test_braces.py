"""Braces by hand: corner to corner of a rectangle, by rise and run, as a knee; and by laying their corners into place.

The hand-worked ones lie at the slope 3:4 of the triangle 3, 4, 5, where a level cut is atan 4/3 = 53.13 and a plumb cut
atan 3/4 = 36.87 from square. The moving side is the upper one.
"""

from __future__ import annotations

import cmath
import json
import math
from pathlib import Path
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.frame.runs import checked, command, frame, refusal, table, tube
from tests.laws.reassembly import Bar, Placed
from tests.often import times

TUBE = tube("T", 60)
LEVEL, PLUMB = math.degrees(math.atan2(4, 3)), math.degrees(math.atan2(3, 4))

Found = tuple[float, float, float, float]


def brace(folder: Path, **keys: object) -> Found:
    """Left miter, upper and lower edge, right miter."""
    return of_record(checked(folder, TUBE, frame("brace", **keys)))


def of_record(record: dict[str, Any]) -> Found:
    (piece,) = record["pieces"]
    assert (piece["mark"], piece["quantity"], record["assemblies"][0]["order"]) == ("F-1", 1, ["F-1"])
    assert record["assemblies"][0]["closure"]["gap_mm"] <= 1e-6
    edges = piece["edges_mm"]
    return piece["left"]["miter_deg"], edges["moving_bottom"], edges["fixed_bottom"], piece["right"]["miter_deg"]


@pytest.mark.parametrize(
    ("width", "height", "ends", "expected"),
    [
        # on both rails: the upper edge runs through the lower corner, the lower one 60 beside it through the upper
        (800 + 36, 600 - 48, ["level", "level"], (LEVEL, 552 / 0.6, 552 / 0.6, -LEVEL)),
        (800 - 36, 600 + 48, ["plumb", "plumb"], (-PLUMB, 764 / 0.8, 764 / 0.8, PLUMB)),
        # from the rail to the post: the upper edge is the diagonal; the ends take 60 (4/3 + 3/4) from the lower one
        (800, 600, ["level", "plumb"], (LEVEL, 1000, 1000 - 125, PLUMB)),
        (800, 600, ["plumb", "level"], (-PLUMB, 1000 - 125, 1000, -LEVEL)),
    ],
)
def test_corner_to_corner(tmp_path: Path, width: float, height: float, ends: list[str], expected: Found) -> None:
    """Edges through (0, 0) and (800 + 60 * 0.6, 600 - 60 * 0.8) are 60 apart and 1000 long at 3:4."""
    assert brace(tmp_path, inside_width=width, inside_height=height, ends=ends) == pytest.approx(expected, abs=1e-9)


def test_one_word_for_both_ends(tmp_path: Path) -> None:
    expected = (LEVEL, 920, 920, -LEVEL)
    assert brace(tmp_path, inside_width=836, inside_height=552, ends="level") == pytest.approx(expected, abs=1e-9)


def laid(width: float, found: Found, lower: str) -> list[complex]:
    """The corners of a brace laid at the angle that its lower end asks for, the corner that touches at 0: lower left,
    lower right, upper right, upper left."""
    bar = Bar(width, found[1], found[0], found[3])
    assert bar.inner_right.real == pytest.approx(found[2], abs=1e-9)
    angle = 90 - found[0] if lower == "level" else -found[0]
    turn = cmath.rect(1, math.radians(angle))
    touching = bar.outer_left if lower == "level" else bar.inner_left
    return Placed(bar, turn, -turn * touching).corners


def check_fits(corners: list[complex], width: float, height: float, lower: str, upper: str) -> None:
    """All of it inside the rectangle; each end flat on its rail or post, with a corner in the corner."""
    for point in corners:
        assert -1e-9 <= point.real <= width + 1e-9
        assert -1e-9 <= point.imag <= height + 1e-9
    lower_left, lower_right, upper_right, upper_left = corners
    for point in (lower_left, upper_left):
        assert (point.imag if lower == "level" else point.real) == pytest.approx(0, abs=1e-9)
    for point in (lower_right, upper_right):
        across = point.imag - height if upper == "level" else point.real - width
        assert across == pytest.approx(0, abs=1e-9)
    far = complex(width, height)
    assert min(abs(lower_left), abs(upper_left)) <= 1e-9
    assert min(abs(lower_right - far), abs(upper_right - far)) <= 1e-9


@settings(
    deadline=None, max_examples=times(15), derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.floats(10, 120),
    st.floats(300, 3000),
    st.floats(300, 3000),
    st.sampled_from(["level", "plumb"]),
    st.sampled_from(["level", "plumb"]),
)
def test_a_brace_lies_in_its_rectangle(
    tmp_path: Path, wide: float, width: float, height: float, lower: str, upper: str
) -> None:
    shape = {"inside_width": width, "inside_height": height, "ends": [lower, upper]}
    found = of_record(checked(tmp_path, tube("T", wide), frame("brace", **shape)))
    check_fits(laid(wide, found, lower), width, height, lower, upper)


def test_the_diagonal_is_not_the_angle(tmp_path: Path) -> None:
    """Cut on the rails at the diagonal's angle, the brace would stick out by its width square to it."""
    found = brace(tmp_path, inside_width=836, inside_height=552, ends="level")
    diagonal = math.degrees(math.atan2(552, 836))
    wrong = (90 - diagonal, found[1], found[2], diagonal - 90)
    corners = laid(60, wrong, "level")
    with pytest.raises(AssertionError):
        check_fits(corners, 836, 552, "level", "level")


def test_cut_twice_to_a_point(tmp_path: Path) -> None:
    """As long as the diagonal from tip to tip. At the lower tip the rail is 30 cot a = 40 from the centerline on the
    lower side and the post 30 tan a = 22.5 on the upper one, at the upper tip the other way round: both edges 937.5.
    The bar is parted with the flatter cut of the two, the plumb one.
    """
    record = checked(tmp_path, TUBE, frame("brace", inside_width=800, inside_height=600, ends="point"))
    assert of_record(record) == pytest.approx((-PLUMB, 937.5, 937.5, PLUMB))
    (piece,) = record["pieces"]
    assert piece["overall_mm"] == pytest.approx(1000)
    (left,), (right,) = piece["left_further"], piece["right_further"]
    assert (left["miter_deg"], right["miter_deg"]) == pytest.approx((LEVEL, -LEVEL))
    assert (*left["meets_mm"], *right["meets_mm"]) == pytest.approx((30, 30, 30, 30))


@settings(
    deadline=None, max_examples=times(15), derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.floats(10, 120), st.floats(400, 3000), st.floats(400, 3000))
def test_a_pointed_brace_is_its_strip_inside_the_rectangle(
    tmp_path: Path, wide: float, width: float, height: float
) -> None:
    """A flat 10 thick: the strip about the diagonal, clipped by the rectangle by a general library, is its plan."""
    shape = {"inside_width": width, "inside_height": height, "ends": "point"}
    section = table("section", name="T", shape="flat", width=wide, height=10)
    (piece,) = checked(tmp_path, section, frame("brace", **shape))["pieces"]
    along = complex(width, height) / abs(complex(width, height))
    beside, far = 1j * along * wide / 2, 1e4 * along
    strip = shapely.Polygon([(c.real, c.imag) for c in (beside + far, beside - far, -beside - far, -beside + far)])
    plan = strip.intersection(shapely.box(0, 0, width, height))
    assert piece["volume_mm3"] == pytest.approx(10 * plan.area, rel=1e-9)
    upper, lower = (
        shapely.LineString([((c - far).real, (c - far).imag), ((c + far).real, (c + far).imag)])
        .intersection(shapely.box(0, 0, width, height))
        .length
        for c in (beside, -beside)
    )
    edges = piece["edges_mm"]
    assert (edges["moving_top"], edges["fixed_bottom"]) == pytest.approx((upper, lower))


SWINGS_60 = (
    '[saw]\nname = "bench saw"\nkind = "column"\nkerf = 1.1\n[scale]\nsquare = 0\npositive = "feed-side"\n'
    'two_sided = true\nfeed_side_most = 60\ndischarge_side_most = 60\n[vise]\nfixed_jaw = "left"\n'
)


def test_a_point_past_the_scale_is_refused(tmp_path: Path) -> None:
    """Over 1400 by 500 the brace rises 19.65 degrees and is cut level at 70.35: past a saw that swings 60."""
    (tmp_path / "saw.toml").write_text(SWINGS_60, encoding="utf-8")
    head = '[job]\nname = "frames"\nsaw = "saw.toml"\n'
    text = "\n".join([head, TUBE, frame("brace", inside_width=1400, inside_height=500, ends="point")])
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    code, out, _ = command("check", str(tmp_path / "job.toml"), "--json")
    record = json.loads(out)
    reach = record["pieces"][0]["reach"]
    assert code == 1
    assert (reach["left"]["ok"], reach["right"]["ok"]) == (True, True)
    for end in ("left_further", "right_further"):
        (further,) = reach[end]
        (reason,) = further["reasons"]
        assert (reason["code"], reason["have"]) == ("swing", 60)
        assert reason["need"] == pytest.approx(math.degrees(math.atan2(1400, 500)))
    assert len(record["problems"]) >= 2
    options = ("--inside-width", "1400", "--inside-height", "500", "--ends", "point")
    code, out, _ = command("frame", "brace", "--section", "SHS 50x50x3", *options, "--saw", str(tmp_path / "saw.toml"))
    assert code == 1
    assert "cannot be made: F-1, left end, cut 2: needs a swing of 70.35" in out


@pytest.mark.parametrize(
    ("ends", "left", "right"),
    [
        (["level", "level"], LEVEL, -LEVEL),
        (["plumb", "plumb"], -PLUMB, PLUMB),
        (["level", "plumb"], LEVEL, PLUMB),
        (["plumb", "level"], -PLUMB, -LEVEL),
        (["square", "plumb"], 0, PLUMB),
        (["level", "square"], LEVEL, 0),
        (["square", "square"], 0, 0),
    ],
)
def test_rise_and_run(tmp_path: Path, ends: list[str], left: float, right: float) -> None:
    """300 up over 400 is 500 on the centerline, whatever its ends; the edges lie 30 to either side of it."""
    found = brace(tmp_path, rise=300, run=400, ends=ends)
    aside = 30 * (math.tan(math.radians(left)) + math.tan(math.radians(right)))
    assert found == pytest.approx((left, 500 + aside, 500 - aside, right), abs=1e-9)


def test_a_knee(tmp_path: Path) -> None:
    """400 along the beam and 300 down the post: the long edge is 500, cut level on the beam and plumb on the post."""
    assert brace(tmp_path, legs=[400, 300]) == pytest.approx((LEVEL, 500, 375, PLUMB), abs=1e-9)


def test_a_knee_at_45(tmp_path: Path) -> None:
    root = math.sqrt(2)
    assert brace(tmp_path, legs=[400, 400]) == pytest.approx((45, 400 * root, 400 * root - 120, 45), abs=1e-9)


def test_the_command_gives_the_same(tmp_path: Path) -> None:
    """By itself and as a job: one answer."""
    sizes = {"inside_width": 700, "inside_height": 1100}
    options = [word for key, value in sizes.items() for word in (f"--{key.replace('_', '-')}", str(value))]
    code, out, err = command("frame", "brace", "--section", "RHS 80x40x3", *options, "--ends", "level plumb", "--json")
    assert (code, err) == (0, "")
    record = checked(tmp_path, frame("brace", "RHS 80x40x3", ends=["level", "plumb"], **sizes))
    assert json.loads(out)["pieces"] == record["pieces"]


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        (
            {"inside_width": 40, "inside_height": 30, "ends": "level"},
            "brace: found '60 mm wide'; is wider than the 50 mm between the corners",
        ),
        (
            {"inside_width": 30, "inside_height": 80, "ends": "level"},
            "brace: found '60 mm wide'; does not fit in 30 mm x 80 mm",
        ),
        (
            {"inside_width": 80, "inside_height": 60, "ends": ["level", "plumb"]},
            "brace: found '60 mm wide'; its two cuts cross: it does not fit",
        ),
        (
            {"inside_width": 80, "inside_height": 30, "ends": "point"},
            "brace: found '60 mm wide'; its two points run into each other",
        ),
        (
            {"legs": [40, 30]},
            "length at moving-bottom: found '50 mm'; the two cuts cross inside the section, 75 mm past a",
        ),
        (
            {"inside_width": 800, "inside_height": 600, "ends": ["point", "level"]},
            "ends: found 'point and level'; lower and upper end, each of: level, plumb, both point",
        ),
        ({"inside_width": 800, "inside_height": 600, "ends": ["square", "level"]}, "ends: found 'square and level'; "),
        ({"rise": 300, "run": 400, "ends": ["point", "point"]}, "ends: found 'point and point'; lower and upper end"),
        ({"rise": 300, "run": 400, "ends": ["level"]}, "ends: found 'level'; lower and upper end"),
        ({"rise": 300, "run": 400}, "ends: found 'nothing'; the key is needed here"),
        ({"rise": 300, "run": 400, "ends": 5}, "ends: found 5; must be a word, or two: lower and upper end"),
        ({"rise": 0, "run": 400, "ends": "level"}, "rise: found 0; it must be more than 0; "),
        ({"rise": 300, "run": -400, "ends": "level"}, "run: found -400; it must be more than 0; "),
        ({"rise": 300, "ends": "level"}, "run: found 'nothing'; the key is needed here"),
        ({"legs": [400]}, "legs: found '1 lengths'; give two: along the beam, down the post"),
        ({"ends": "level"}, "brace: found '0 ways'; give inside_width and inside_height, or rise and run, or legs"),
        ({"legs": [400, 300], "rise": 300}, "brace: found '2 ways'; give inside_width and inside_height, or rise and"),
    ],
    ids=str,
)
def test_no_brace(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    """80 by 60 has a diagonal of 100: ends of 60 (4/3 + 3/4) = 125 cross."""
    assert refusal(tmp_path, TUBE, frame("brace", **keys)).startswith(f"[[frame]] F: {says}")


def opens(folder: Path, **keys: object) -> float:
    (assembly,) = checked(folder, TUBE, frame("brace", **keys))["assemblies"]
    return float(assembly["closure"]["rounded_gap_mm"])


def test_what_rounding_leaves_of_faces(tmp_path: Path) -> None:
    """500 is whole, but 53.13 is cut 53.25 and 36.87 is cut 36.75: laid at 36.87, a level face of 60 then stands off by
    60 (tan 53.25 - 4/3) sin 36.87 at its far corner, a plumb one by 60 (3/4 - tan 36.75) cos 36.87."""
    level = 60 * (math.tan(math.radians(53.25)) - 4 / 3) * 0.6
    plumb = 60 * (3 / 4 - math.tan(math.radians(36.75))) * 0.8
    assert opens(tmp_path, legs=[400, 300]) == pytest.approx(max(level, plumb))
    assert opens(tmp_path, rise=300, run=400, ends="level") == pytest.approx(level)
    assert opens(tmp_path, rise=300, run=400, ends=["square", "plumb"]) >= plumb - 1e-9
    assert opens(tmp_path, rise=300, run=400, ends="square") == pytest.approx(0, abs=1e-9)


def test_what_rounding_leaves_of_a_point(tmp_path: Path) -> None:
    """The diagonal of 801 by 600.2 is 1000.92, on the tape 1001; its faces, 53.156 cut 53.25 and 36.844 cut 36.75,
    stand off their sides over half the width of 60."""
    slope = math.atan2(600.2, 801)
    level = 30 * (math.tan(math.radians(53.25)) - 1 / math.tan(slope)) * math.sin(slope)
    plumb = 30 * (math.tan(slope) - math.tan(math.radians(36.75))) * math.cos(slope)
    expected = max(1001 - math.hypot(801, 600.2), level, plumb)
    assert opens(tmp_path, inside_width=801, inside_height=600.2, ends="point") == pytest.approx(expected)
