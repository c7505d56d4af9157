"""Second ends of blanks on paper: after the bars they belong to, against a stop, and no setting said to stay wrongly.

The gate's job with its way of working fixed; where a stop stands and what is cut when is held against the plan itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import atan, ceil, cos, degrees, radians, sin, tan
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.readings import comes_back
from mitertool.packet.pages.browser.after_part import second_ends_part
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT, SAWS
from tests.packet.rounding import length
from tests.packet.text_boxes import findings

GATE = ROOT / "gallery" / "boathouse-gate"


@pytest.fixture(scope="module", params=["by setting", "mixed"])
def solution(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Solution:
    folder: Path = tmp_path_factory.mktemp("gate")
    (folder / "saw.toml").write_bytes((GATE / "saw.toml").read_bytes())
    lines = [line for line in (GATE / "job.toml").read_text().splitlines() if not line.startswith("way =")]
    job = "\n".join(lines).replace("[nest]\n", f'[nest]\nway = "{request.param}"\n')
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return solve(load(folder / "job.toml"))


def test_every_second_end_has_its_stop_behind_its_bars(solution: Solution) -> None:
    said = [box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes()]
    assert solution.recuts
    for one in solution.recuts:
        begin = said.index(f"Bar {one.recut.after}")
        title = said.index("Second ends of blanks", begin)
        then = f"Bar {one.recut.after + 1}"
        end = said.index(then, begin) if then in said else len(said)
        rows = said[title:end]
        assert f"{one.recut.count} × {one.recut.mark}" in rows or one.recut.mark in rows
        assert one.stop
        assert length(one.stop.from_blade, "mm") in rows
        assert any(f"blank {length(one.recut.blank, 'mm')}" in row for row in rows)


def test_a_blank_is_told_as_a_blank(solution: Solution) -> None:
    said = " ".join(box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes())
    for mark in {one.recut.mark for one in solution.recuts}:
        assert f"blank of {mark}" in said


def test_the_pages_are_clean(solution: Solution) -> None:
    assert [wrong for sheet in cut_sheet(solution) for wrong in findings(sheet)] == []


def test_no_setting_stays_that_was_moved_for_a_second_end(solution: Solution) -> None:
    """Arm and blade walked through bars and second ends: where a row sets nothing they stand as it needs them."""
    stood: tuple[float, float] | None = None
    for bar in floor_of(solution).bars:
        rows = {number: row for row in bar.rows for number in row.numbers}
        for number in sorted(rows):
            needs = (rows[number].reading.degrees, rows[number].reading.tilt)
            if not rows[number].sets:
                assert stood == pytest.approx(needs)
            stood = needs
        for one in (one for one in solution.recuts if one.recut.after == bar.number):
            assert one.reach
            stood = (one.reach.scale, one.reach.tilt)


def test_every_mark_is_measured_once(solution: Solution) -> None:
    said = [box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes()]
    assert sum(word.startswith("first: ") for word in said) == len(solution.pieces)


def test_the_time_of_cutting_holds_second_ends_too(solution: Solution) -> None:
    told = floor_of(solution).totals.cutting
    runs, recuts = ([one.minutes or 0.0 for one in work] for work in (solution.runs, solution.recuts))
    assert min(recuts) > 0
    assert told == pytest.approx(sum(runs) + sum(recuts))


def test_what_the_job_says_of_a_mark_stands_once_where_it_is_finished(
    solution_of: Callable[[str], Solution],
) -> None:
    """Preparation of S1 and the note of S2, both cut as blanks."""
    said = [box.says for sheet in cut_sheet(solution_of("second ends")) for box in sheet.drawing.text_boxes()]
    title = said.index("Second ends of blanks")
    for words in ("30, land 2", "scribe the top"):
        assert said.count(words) == 1
        assert said.index(words) > title


def test_a_blade_that_a_bar_leaves_tilted_is_told_to_stand_upright(tmp_path: Path) -> None:
    """A tilt of 20 degrees before, then a cut without any; a blade that cannot tilt is told nothing."""
    reaches = []
    for name in ("tilting", "both ways"):
        (tmp_path / "saw.toml").write_text(SAWS[name], encoding="utf-8")
        reaches.append(mt.Saw.load(tmp_path / "saw.toml").reach(mt.section("RHS 80x40x3"), mt.Cut(45)))
    tilting, still = reaches
    assert [comes_back(reach, 20.0) for reach in (tilting, still)] == [True, False]
    assert [comes_back(tilting, before) for before in (0.0, None)] == [False, True]


def test_a_round_blank_with_a_square_end_may_lie_at_any_roll(tmp_path: Path) -> None:
    """Any roll about its axis leaves a round bar with a square end as it was; a slanted end it turns away.

    Nor may it lie so where the job says which side is to show.
    """
    for section, left, more, free in (
        ("CHS 48.3x3.2", 0, "", True),
        ("CHS 48.3x3.2", 30, "", False),
        ("CHS 48.3x3.2", 0, 'out = "the seam"\n', False),
        ("SHS 40x40x3", 0, "", False),
    ):
        table = f'[[piece]]\nmark = "A"\nsection = "{section}"\nlength = 700\nquantity = 4\nleft = {left}\nright = 45\n'
        nest = '[job]\nname = "J"\n[nest]\nway = "by setting"\nkerf = 2\n'
        stock = f'[[stock]]\nsection = "{section}"\nlength = 6000\n'
        (tmp_path / "job.toml").write_text(nest + table + more + stock, encoding="utf-8")
        solution = solve(load(tmp_path / "job.toml"))
        said = " ".join(box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes())
        told = re.findall(r"on the centerline, (?:laid (?:as drawn|rolled|end for end)|at any roll)", said)
        assert solution.recuts
        assert [one.endswith("at any roll") for one in told] == [free] * len(solution.recuts)


STAIR = """
[job]
name = "Stair"
units = "mm"
saw = "saw.toml"
[[stock]]
section = "SHS 40x40x3"
length = 6000
[nest]
way = "by setting"
[[frame]]
mark = "RAIL"
shape = "rail"
section = "SHS 40x40x3"
flights = [[3000, 2000], [1200, 0], [2000, 1300, 90]]
tops = "carried"
ends = "plumb"
"""


def test_second_ends_tell_what_is_set_for_them(tmp_path: Path) -> None:
    """The corner in plan is 45 each; its members are rolled by atan(1300 / 2000), 33.02, or by as much past a right
    angle: 40 with round corners of 6 is then 28 (cos + sin) + 12 wide. The swing axis lies 28 from the fixed jaw, the
    moving jaw is 72 deep and begins there, a guide half 11 thick, 4 are clear: back (w + 72 - 28) tan 45 + (11 + 4
    cos 45) / cos 45, the guides 93 + (w - 28) / cos 45 + 11 tan 45 + 4 / cos 45 apart, each told up to its tenth. Its
    flat side of 28 leans by the roll: its far end lies 6 + 28 sin - 6 cos above the bed."""
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "saws" / "hinged.toml").read_bytes())
    (tmp_path / "job.toml").write_text(STAIR, encoding="utf-8")
    solved = solve(load(tmp_path / "job.toml"))
    roll, swing = atan(1300 / 2000), radians(45)
    wide = 28 * (cos(roll) + sin(roll)) + 12
    jaw = (wide + 72 - 28) * tan(swing) + 11 / cos(swing) + 4
    guides = 93 + (wide - 28) / cos(swing) + 11 * tan(swing) + 4 / cos(swing)
    pack = 6 + 28 * sin(roll) - 6 * cos(roll)
    paper = " ".join(box.says for sheet in cut_sheet(solved) for box in sheet.drawing.text_boxes())
    after = paper[paper.index("Second ends of blanks") :]
    page = "".join(map(str, (second_ends_part(one, solved) for one in floor_of(solved).second_ends)))
    for told in (after, page):
        assert f"moving jaw {ceil(jaw * 10) / 10:g}" in told
        assert f"guides {ceil(guides * 10) / 10:g} apart" in told
        assert f"pack under it, {pack:.1f} high" in told
        assert "lift: teeth 1" in told
    assert f"for 135° it stands rolled {degrees(roll):.2f}°" in after
    assert f"then {wide:.1f} across the jaws" in after
