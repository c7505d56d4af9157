"""Pieces that are cut already and become others: how each is set, where its stop stands, its label and its row.

RHS 80x40x3 lies 40 wide; a miter of 45 degrees there takes 40 off one side. Expected lengths are hand arithmetic.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from math import sqrt, tan
from pathlib import Path

import pytest

from mitertool.cut import Cut
from mitertool.job import Solution, load, solve
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.packet.floor.made import floor_of
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.labels import cut_pieces
from mitertool.packet.pages.rest_said import how
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.cli.conftest import Said, call
from tests.packet.text_boxes import findings

__all__ = ["call"]

Call = Callable[..., Said]
ROOT = Path(__file__).resolve().parents[2]
JOB = """
[job]
name = "Week"
saw = "saw.toml"
[[stock]]
section = "RHS 80x40x3"
length = 6000
[[piece]]
mark = "LONG"
section = "RHS 80x40x3"
length = 1700
left = 30
right = 30
quantity = 2
[[piece]]
mark = "SHORT"
section = "RHS 80x40x3"
length = 1150
left = 45
right = 45
quantity = 4
[nest]
kerf = 2
"""
RADIANS = 3.141592653589793 / 180


@pytest.fixture
def week(tmp_path: Path) -> Path:
    (tmp_path / "saw.toml").write_text((ROOT / "gallery" / "saws" / "hinged.toml").read_text("utf-8"), "utf-8")
    (tmp_path / "job.toml").write_text(JOB)
    return tmp_path


def rest(folder: Path, *rows: str) -> Solution:
    (folder / "done.csv").write_text("\n".join(["what,name,length,quantity", *rows]))
    whole = load(folder / "job.toml")
    return solve(rest_of(whole, read_work(folder / "done.csv", whole), recut=True), effort=0.1)


def test_an_end_that_stays_stands_at_the_stop(week: Path) -> None:
    """Two of SHORT, 1170 long yet: 20 come off one end; its longest line, 1150, is what the stop holds."""
    (one,) = rest(week, "spoiled,SHORT,1170,2").again
    (step,) = one.steps
    assert (one.called, one.offer.count, one.solved.mark, one.solved.quantity) == ("R1", 2, "SHORT", 2)
    assert step.recut.blank == pytest.approx(1130)
    assert step.recut.length == pytest.approx(1110)
    assert step.stop is not None
    assert step.stop.from_blade == pytest.approx(1150)
    assert abs(step.reach.swing if step.reach else 0.0) == pytest.approx(45)
    assert one.off_cuts == ()


def test_two_ends_are_cut_one_after_the_other(week: Path) -> None:
    """LONG, 1500 at its longest, ends of 30: first one end at 45, its other end as it was; then that.

    After the first the longest line has half of what either slope takes beside the centerline, 20 tan 30 and 20.
    """
    (one,) = rest(week, "spoiled,LONG,1500,1").again
    first, last = one.steps
    beside = 20 * tan(30 * RADIANS) + 20
    assert first.recut.blank == pytest.approx(1500 - 40 * tan(30 * RADIANS))
    assert first.stop is not None
    assert first.stop.from_blade == pytest.approx(first.recut.length + beside)
    assert last.recut.blank == pytest.approx(first.recut.length)
    assert last.stop is not None
    assert (last.stop.from_blade, last.recut.length) == pytest.approx((1150, 1110))


UNLIKE = JOB.replace("left = 30\nright = 30", "left = 30\nright = 5").replace(
    "left = 45\nright = 45", "left = 0\nright = 20"
)


def test_the_last_of_two_ends_is_that_of_a_piece_turned_end_for_end(week: Path) -> None:
    """LONG, 1170 at its longest, ends of 30 and 5; SHORT is 1150, ends of 0 and 20.

    A square end inside that of 30 asks for 40 tan 30, more than the 20 there are; turned end for end SHORT has 40
    (tan 30 - tan 20) and 40 tan 5 to lose, 12, and two kerfs. Its square end is cut first, at the old right end.
    """
    (week / "job.toml").write_text(UNLIKE)
    (one,) = rest(week, "spoiled,LONG,1170,1").again
    first, last = one.steps
    assert abs(first.reach.swing if first.reach else 90.0) == pytest.approx(0)
    assert (last.recut.end, abs(last.reach.swing if last.reach else 90.0)) == ("right", pytest.approx(20))
    assert last.recut.blank == pytest.approx(first.recut.length)
    assert last.recut.length == pytest.approx(1150 - 20 * tan(20 * RADIANS))


def test_what_comes_off_lies_between_a_kerf_and_the_old_end(week: Path) -> None:
    """One end stays: 1500 less 1150 is an off-cut, parallel ends of 45, a kerf of 2 sqrt 2 along the bar."""
    (one,) = rest(week, "spoiled,SHORT,1140,1", "piece,SHORT,,1", "spoiled,LONG,1500,1").again
    off = sorted(bar.square for bar in one.off_cuts)
    (left, right) = one.offer.how.off if one.offer.how else (0.0, 0.0)
    assert one.offer.mark == "LONG"
    cl = max(left, right) - 2 * sqrt(2)
    assert off == pytest.approx([cl - 20 - 20 * tan(30 * RADIANS)])
    assert {abs(bar.left.miter) for bar in one.off_cuts} | {abs(bar.right.miter) for bar in one.off_cuts} == {30, 45}
    assert one.off_cuts[0].left != Cut()


def test_sheet_labels_and_tables_have_them(week: Path) -> None:
    """Two of four are recut, two come off a bar: the labels count 1 to 4, the tables have a row of either."""
    solution = rest(week, "spoiled,SHORT,1170,2")
    short = [one for one in cut_pieces(solution) if one.solved.mark == "SHORT"]
    assert [(one.again, one.number, one.of) for one in short] == [("R1", 1, 4), ("R1", 2, 4), ("", 3, 4), ("", 4, 4)]
    files = packet_files(solution, Options())
    rows = [row for row in csv.DictReader(io.StringIO(files["pieces.csv"].decode())) if row["mark"] == "SHORT"]
    assert [(row["quantity"], row["recut"], row["recut_of"]) for row in rows] == [("2", "R1", "SHORT"), ("2", "", "")]
    (told,) = json.loads(files["plan.json"])["recut_pieces"]
    assert (told["number"], told["count"], told["left_mm"], told["becomes"]) == ("R1", 2, 1170, "SHORT")
    assert told["cuts"][0]["stop"]["from_blade_mm"] == pytest.approx(1150)
    page = files["cut-sheet.html"].decode()
    assert "R1: 2 SHORT, spoiled, 1170 mm left, become SHORT" in page
    (row,) = floor_of(solution).recut_pieces
    assert row.row.stop is not None
    for sheet in cut_sheet(solution):
        assert findings(sheet) == []


def test_a_recut_is_told_as_done_by_its_number(week: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is a good piece then, and the spoiled one is gone: nothing is recut again, and two are left to cut."""
    monkeypatch.chdir(week)
    assert call("done", "job.toml", "--good", "LONG=2", "--spoiled", "SHORT=2@1170").code == 0
    step = ("packet", "job.toml", "--done", "done.csv", "--recut")
    assert "2 SHORT, spoiled: RECUT to SHORT" in call(*step).out
    said = call("done", "job.toml", "--cut", "R1", "--of", "Week-rest", "--json")
    assert said.json["good"] == {"LONG": 2, "SHORT": 2}
    said = call(*step)
    assert "RECUT" not in said.out
    assert "2 SHORT: KEEP" in said.out
    assert call("done", "job.toml", "--cut", "all", "--of", "Week-rest", "--json").json["good"]["SHORT"] == 4
    assert call("done", "job.toml", "--cut", "R9", "--of", "Week-rest").code == 2


ANGLES = """
[job]
name = "Week"
saw = "saw.toml"
[[stock]]
section = "{section}"
length = 6000
[[piece]]
mark = "LONG"
section = "{section}"
length = 1700
left = {first}
quantity = 1
opposite = 1
[[piece]]
mark = "SHORT"
section = "{section}"
length = 900
left = {second}
right = {second}
quantity = 3
[nest]
kerf = 2
"""


@pytest.mark.parametrize("section", ["L 50x50x5", "L 80x60x7", "UPN 80", "RHS 80x40x3", "FLAT 60x10"])
@pytest.mark.parametrize(
    ("first", "second"), [(0, 45), (45, 45), (30, -45), (45, 70), ("{ miter = 0, bevel = 30 }", 0)]
)
def test_what_counts_as_recut_can_be_cut(week: Path, section: str, first: object, second: int) -> None:
    """A saw that swings one way, to 57: whatever the section and hand, the piece is made by recut or by a bar, once."""
    (week / "job.toml").write_text(ANGLES.format(section=section, first=first, second=second))
    solution = rest(week, "spoiled,LONG,1500,1", "spoiled,LONG,1400,1")
    assert all(step.reach and step.reach.ok for one in solution.again for step in one.steps)
    recut = sum(one.offer.count for one in solution.again)
    assert solution.plan is not None
    on_bars = sum(bar.count * [one.mark for one in bar.pieces].count("SHORT") for bar in solution.plan.bars)
    assert on_bars + recut + dict(solution.plan.left_out).get("SHORT", 0) == 3
    assert recut == (0 if second == 70 else 2)


def test_the_end_is_cut_anew_that_the_vise_can_hold_the_piece_for(week: Path) -> None:
    """Either end of an angle of 940, both at 45, may be the one that stays where it becomes one of 900.

    It does not look the same end for end, left ends lead, and 40 are too few to hold while the right end is cut.
    """
    (week / "job.toml").write_text(
        ANGLES.format(section="L 50x50x5", first=45, second=45).replace("45\nquan", "45\nright = 45\nquan", 1)
    )
    (week / "saw.toml").write_text(
        (week / "saw.toml").read_text().replace("discharge_side_most = 0", "discharge_side_most = 57")
    )
    (one,) = rest(week, "spoiled,LONG,940,1").again
    assert [step.recut.end for step in one.steps] == ["left"]


def test_an_angle_is_recut_packed_where_only_so_the_saw_makes_it(week: Path) -> None:
    """The right end of LONG stays, the left one is cut with the arm on its one side: heel up, which must be packed."""
    (week / "job.toml").write_text(ANGLES.format(section="L 50x50x5", first=30, second=45))
    (one,) = rest(week, "piece,LONG,,1", "piece,LONG-OH,,1", "piece,SHORT,,2", "spoiled,LONG,1500,1").again
    assert [step.recut.angles.roll for step in one.steps if step.recut.end == "left"] == [180]
    page = packet_files(rest(week, "spoiled,LONG,1500,1"), Options())["cut-sheet.html"].decode()
    assert "pack under it" in page


def test_what_the_saw_cannot_recut_is_scrap_and_the_page_says_why(week: Path) -> None:
    (week / "job.toml").write_text(ANGLES.format(section="RHS 80x40x3", first=0, second=70))
    solution = rest(week, "spoiled,LONG,1500,1")
    assert solution.job.rest is not None
    (offer,) = solution.job.rest.offers
    assert offer.fate == "scrap"
    said = how(offer, "mm")
    assert said.startswith("long enough for SHORT, but the saw cannot cut it so: right end: ")
    assert "57" in said


@pytest.mark.parametrize(("stock", "said"), [("heat = '4711'", ()), ("", ("--heat", "4711"))])
def test_a_recut_keeps_its_heat(
    week: Path, call: Call, monkeypatch: pytest.MonkeyPatch, stock: str, said: tuple[str, ...]
) -> None:
    """Of the bar that the packet knows the heat of, or of what was read off the steel: label, sheet and off-cut."""
    monkeypatch.chdir(week)
    (week / "job.toml").write_text(JOB.replace("length = 6000", f"length = 6000\n{stock}"))
    assert call("packet", "job.toml").code == 0
    bars = json.loads((week / "Week" / "plan.json").read_text())["bars"]
    number = 1 + next(i for i, bar in enumerate(bars) if any(one["mark"] == "LONG" for one in bar["pieces"]))
    assert call("done", "job.toml", "--cut", f"{number}", *said).code == 0
    assert call("done", "job.toml", "--spoiled", "LONG=1@1600").code == 0
    whole = load(week / "job.toml")
    solution = solve(rest_of(whole, read_work(week / "done.csv", whole), recut=True), effort=0.1)
    (one,) = solution.again
    assert one.offer.heats == ("4711",)
    assert [bar.heat for bar in one.off_cuts] == ["4711"]
    assert [piece.heat for piece in cut_pieces(solution) if piece.again] == ["4711"]
    files = packet_files(solution, Options())
    assert json.loads(files["plan.json"])["heats"]["R1"] == "4711"
    assert "heat 4711" in files["cut-sheet.html"].decode()


def test_a_heat_that_is_not_certain_is_not_told(week: Path) -> None:
    """One of LONG is of a heat that was told, the other is not: either may be the spoiled one."""
    (week / "done.csv").write_text("what,name,length,quantity,heat\npiece,LONG,,1,4711\nspoiled,LONG,1500,1,\n")
    whole = load(week / "job.toml")
    solution = solve(rest_of(whole, read_work(week / "done.csv", whole), recut=True), effort=0.1)
    assert [one.offer.heats for one in solution.again] == [()]
