"""A seam past the scale, by hand: which corners, and what each other way of making them comes to.

An isosceles triangle with 40 degrees at its top and a base of 1000: legs of 500 / sin 20 = 1461.90, miters of 70 at the
top and 55 below. Butted at the top, both are cut at 90 - 40 = 50, and the one that does not run through loses
50 / sin 40.
"""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.frame.alternatives import PastTheScale, past_the_scale
from mitertool.frame.assembly import Assembly
from mitertool.frame.in_plane import planar
from mitertool.frame.joints import Joint
from tests.frame.runs import HEAD, command, frame, tube

TUBE = mt.rect_tube(50, 50, 2, 0, 0)
SIN20, SIN40 = math.sin(math.radians(20)), math.sin(math.radians(40))
LEG, HEIGHT = 500 / SIN20, 500 / math.tan(math.radians(20))
POINTS = [0j, complex(500, HEIGHT), 1000 + 0j]

SAW = """\
[saw]
name = "made up"
kind = "hinged"
kerf = 1
invented = true
[scale]
square = 0
two_sided = true
feed_side_most = {feed}
discharge_side_most = {discharge}
[vise]
fixed_jaw = "left"
"""


def triangle(*kinds: str, gap: float = 0.0) -> Assembly:
    return planar("polygon", POINTS, [TUBE] * 3, "outside", [Joint(kind, gap) for kind in kinds], mark="F")


def past(most: float, *kinds: str, gap: float = 0.0) -> list[PastTheScale]:
    return list(past_the_scale(triangle(*kinds, gap=gap), most))


def test_the_sharp_corner_alone() -> None:
    (corner,) = past(60, "miter", "miter", "miter")
    assert (corner.first, corner.second, corner.most) == ("F-1", "F-2", 60)
    assert corner.miter == pytest.approx(70)
    assert corner.fixture == pytest.approx(10)


def test_every_corner_of_a_saw_that_swings_little() -> None:
    found = past(45, "miter", "miter", "miter")
    assert [(corner.first, corner.second) for corner in found] == [("F-1", "F-2"), ("F-2", "F-3"), ("F-3", "F-1")]
    assert [corner.miter for corner in found] == pytest.approx([70, 55, 55])


@pytest.mark.parametrize("most", [70, 75])
def test_what_the_scale_reaches_is_no_question(most: float) -> None:
    assert past(most, "miter", "miter", "miter") == []


def test_a_butted_corner_is_no_question() -> None:
    assert past(60, "first-through", "miter", "miter") == []


@pytest.mark.parametrize("gap", [0, 2])
def test_either_member_through(gap: float) -> None:
    """The other end keeps its miter of 55 and, with a gap, half of it over cos 55 back."""
    (corner,) = past(60, "miter", "miter", "miter", gap=gap)
    foot = gap / 2 / math.cos(math.radians(55))
    through, butted = LEG - foot, LEG - foot - (50 + gap) / SIN40
    assert [way.kind for way in corner.alternatives] == ["first-through", "second-through"]
    for way, lengths in zip(corner.alternatives, [(through, butted), (butted, through)], strict=True):
        assert (way.first, way.second) == ("F-1", "F-2")
        assert (way.first_piece.long_point, way.second_piece.long_point) == pytest.approx(lengths)
        assert way.miter == pytest.approx(50)
        assert (way.first_piece.left.miter, way.second_piece.right.miter) == pytest.approx((55, 55))


def test_a_way_that_leaves_no_piece_is_left_out() -> None:
    """Two of 20 at 40 degrees, the second 70 long, gap 10. Its inner edge is 70 - 20 tan 70 = 15.05 less the gap's
    share: mitered 5 / cos 70 = 14.62, butted 10 / sin 40 = 15.56. So it can only run through, and the first loses
    30 / sin 40.
    """
    points = [0j, 1000j, 1000j + cmath.rect(70, math.radians(-50))]
    knee = planar("polygon", points, [mt.flat(20, 20)] * 2, "outside", [Joint(gap=10)], closed=False, mark="F")
    (corner,) = past_the_scale(knee, 60)
    (way,) = corner.alternatives
    assert way.kind == "second-through"
    assert way.second_piece.long_point == pytest.approx(70)
    assert way.first_piece.long_point == pytest.approx(1000 - 30 / SIN40)


def text_of(folder: Path, saw: str | None, *options: str) -> str:
    head = HEAD
    if saw is not None:
        (folder / "saw.toml").write_text(saw, encoding="utf-8")
        head += 'saw = "saw.toml"\n'
    points = [[0, 0], [500, HEIGHT], [1000, 0]]
    job = "\n".join([head, tube("T", 50), frame("polygon", points=points, measured="outside")])
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return command("check", str(folder / "job.toml"), *options)[1]


def test_the_answer_without_a_saw(tmp_path: Path) -> None:
    """Past 60, where many scales end: the four lengths, the cut and the fixture in one sentence."""
    (says,) = [line for line in text_of(tmp_path, None).splitlines() if line.startswith("corner of")]
    butted = LEG - 50 / SIN40
    assert says == (
        "corner of F-1 and F-2 asks 70° from square, past 60°: "
        f"butt it with F-1 through (F-1 {LEG:.1f}, F-2 {butted:.1f} to the long point, cut 50° from square); "
        f"butt it with F-2 through (F-1 {butted:.1f}, F-2 {LEG:.1f} to the long point, cut 50° from square); "
        "or hold the bar 10° round in a fixture and swing 60°"
    )


def test_the_larger_swing_of_the_saw_counts(tmp_path: Path) -> None:
    assert "corner of" not in text_of(tmp_path, SAW.format(feed=70, discharge=0))
    says = text_of(tmp_path, SAW.format(feed=30, discharge=52))
    assert says.count("corner of") == 3
    assert "asks 70° from square, past 52°" in says


def test_a_flat_brace_is_told_the_ends_that_ask_less(tmp_path: Path) -> None:
    """From corner to corner of 1100 by 350 clear: atan(350 / 1100) = 17.65 from level, its second cut the rest of 90.
    One of 45 degrees is within the 60 that a saw without a file swings."""
    flat = "inside = [{ bars = 'brace', section = 'T' }]\n"
    keys = {"width": 1200, "height": 450, "measured": "outside"}
    path = tmp_path / "job.toml"
    path.write_text(HEAD + tube("T", 50) + frame("rectangle", **keys) + flat, encoding="utf-8")
    _, out, _ = command("check", str(path))
    lean = math.degrees(math.atan(350 / 1100))
    says = f'F-3 asks {90 - lean:.2f} degrees from square, past 60: with ends = "plumb" about {lean:.0f}; '
    assert says + 'with ends = "square" none, on gussets' in out
    path.write_text(HEAD + tube("T", 50) + frame("rectangle", **{**keys, "height": 1200}) + flat, encoding="utf-8")
    _, out, _ = command("check", str(path))
    assert "gussets" not in out


def test_a_flat_brace_that_the_saw_refuses_is_told_its_cure(tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_text(SAW.format(feed=50, discharge=50), encoding="utf-8")
    flat = "inside = [{ bars = 'brace', section = 'T' }]\n"
    path = tmp_path / "job.toml"
    sized = frame("rectangle", width=450, height=1200, measured="outside")
    path.write_text(HEAD.replace("[job]", "[job]\nsaw = 'saw.toml'") + tube("T", 50) + sized + flat, encoding="utf-8")
    code, _, err = command("packet", str(path), "--out", str(tmp_path / "packet"))
    assert code == 1
    assert 'past 50: with ends = "level" about 18;' in err
