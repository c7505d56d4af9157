"""The table of pieces: parallel ends are told from mirrored ones, and a bar that is rolled for a cut says so.

A positive miter puts the long point on the moving side at either end: +45 and +45 have
both on one side, +45 and -45 are parallel.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan, degrees, radians, tan
from pathlib import Path

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

ONE_WAY = """\
[saw]
name = "one-way saw"
kind = "hinged"
kerf = 2
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 0
[vise]
fixed_jaw = "left"
"""


BOTH_WAYS = """\
[saw]
name = "two-way saw"
kind = "hinged"
kerf = 2
[scale]
square = 0
two_sided = true
offset = -1.25
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "left"
"""


def last_column(out: str) -> list[str]:
    """What stands below the words `long points`, row by row."""
    head, *rows = out.splitlines()
    at = head.index("long points")
    return [row[at:].strip() for row in rows]


def test_a_brace_is_told_from_a_trapezoid(call: Call) -> None:
    """A brace between two level rails has parallel ends, a side of a picture frame mirrored ones."""
    brace = call("frame", "brace", "--section", "SHS 50x50x3", "--rise", "600", "--run", "600", "--ends", "level")
    frame = call(
        "frame", "rectangle", "--section", "SHS 50x50x3", "--width", "900", "--height", "900", "--measured", "outside"
    )
    for said, says in ((brace, "opposite sides"), (frame, "same side")):
        row = said.out.splitlines()[1]
        assert row.count("45°") == 2
        assert last_column(said.out)[0] == says


def ends(folder: Path, left: str, right: str, saw: str = "") -> str:
    (folder / "saw.toml").write_text(ONE_WAY, encoding="utf-8")
    head = f'[job]\nname = "ends"\n{saw}[[piece]]\nmark = "A"\nsection = "SHS 50x50x3"\nlength = 1000\n'
    (folder / "job.toml").write_text(f"{head}left = {left}\nright = {right}\n", encoding="utf-8")
    return str(folder / "job.toml")


@pytest.mark.parametrize(
    ("left", "right", "says"),
    [
        ("45", "45", "same side"),
        ("-30", "-45", "same side"),
        ("45", "-45", "opposite sides"),
        ("-10", "20", "opposite sides"),
        ("0", "45", "-"),
        ("0", "0", "-"),
        ("{ bevel = 10 }", "{ bevel = 20 }", "same side"),
        ("{ bevel = 10 }", "{ bevel = -10 }", "opposite sides"),
        ("45", "{ bevel = 45 }", "90° round"),
        ("45", "{ miter = 30, bevel = 20 }", "{compound}"),
    ],
)
def test_where_the_long_points_lie(call: Call, tmp_path: Path, left: str, right: str, says: str) -> None:
    """Round: the angle of the slopes, tan(bevel)/cos(miter) up for tan(miter) across."""
    up = tan(radians(20)) / (0.75**0.5)
    compound = f"{degrees(atan(up / tan(radians(30)))):.2f}° round"
    said = call("check", ends(tmp_path, left, right))
    assert last_column(said.out) == [says.format(compound=compound)]


def test_a_bar_that_is_rolled_for_a_cut_says_so(call: Call, tmp_path: Path) -> None:
    """The arm swings to the feed side only: a right +45 reads 135, a left +45 is the other hand and is rolled over."""
    said = call("check", ends(tmp_path, "45", "45", 'saw = "saw.toml"\n'))
    row = said.out.splitlines()[1]
    assert "135°, rolled half a turn  135°  " in row


def test_a_bevel_says_so_without_a_saw(call: Call, tmp_path: Path) -> None:
    said = call("check", ends(tmp_path, "{ miter = 45, bevel = 10 }", "0"))
    assert "45°, bevel 10°  0°  " in said.out


def test_every_way_has_a_line_and_its_side(call: Call, tmp_path: Path) -> None:
    """A tube square across and beveled on a saw that tilts both ways: its bars are cut in more ways than one.

    With the fixed jaw on the left bars come from the right, so what is long at the moving side of a left end swings to
    the discharge side. The scale reads 1.25 too little toward the feed: 30 to the discharge reads 31.25, 50 to the
    feed side 48.75.
    """
    job = ends(tmp_path, "{ miter = 0, bevel = 30 }", "12\nquantity = 5", 'saw = "saw.toml"\n')
    (tmp_path / "saw.toml").write_text(f"{BOTH_WAYS}[tilt]\nlowest = -45\nhighest = 45\n", encoding="utf-8")
    with Path(job).open("a", encoding="utf-8") as file:
        file.write('[[stock]]\nsection = "SHS 50x50x3"\nlength = 6000\n')
        file.write('[[piece]]\nmark = "P"\nsection = "SHS 50x50x3"\nlength = 400\nleft = [30, -50]\nright = 12\n')
        file.write('[nest]\nway = "bar by bar"\n')
    head, *rows = call("check", job).out.splitlines()
    left, right = (slice(head.index(a), head.index(b)) for a, b in (("left", "right"), ("right", "long points")))
    pointed = next(i for i, row in enumerate(rows) if row.startswith("P"))
    ways = [row[left].strip() for row in rows[:pointed]]
    assert len(ways) == len(set(ways)) > 1
    assert [way[:3] == "or " for way in ways] == [False, *[True] * (len(ways) - 1)]
    assert all(way.removeprefix("or ").startswith("1.25° discharge, ") and way.count("tilt") == 1 for way in ways)
    assert {row[right].strip() for row in rows[:pointed]} <= {
        "10.75° feed",
        "or 13.25° discharge, rolled half a turn",
        "",
    }
    assert [row[left].strip() for row in rows[pointed : pointed + 2]] == ["31.25° discharge", "+ 48.75° feed"]
