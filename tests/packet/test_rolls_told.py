"""Every roll that a list tells is counted, on its bar, in the plan and on page 1; none is told that nobody can see.

By hand: a tube or a flat that has not been cut looks the same half a turn over, so that its first cut asks for no roll
whatever way round the plan lays it; an angle does not, nor any bar at another roll.
"""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.values import BarWork
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sheet.bar_rows import row_blocks
from mitertool.packet.pages.sheet.figures import tip_words
from mitertool.packet.pages.sheet.last_page import last_blocks
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT, SAWS, head, piece, stock

ONE_WAY = SAWS["one way"]
ANGLE = piece("L", "L 50x50x5", "500", "left = 30\nright = 45\nquantity = 4") + stock("L 50x50x5", "3 m")
TUBE = piece("T", "RHS 60x40x3", "500", "left = 30\nright = 45\nquantity = 4") + stock("RHS 60x40x3", "3 m")
BEVELED = piece("B", "RHS 60x40x3", "500", "right = { bevel = 20 }\nquantity = 3") + stock("RHS 60x40x3", "3 m")
JOBS = {"angle": ANGLE, "tube": TUBE, "bevel": BEVELED}
GALLERY = ("boathouse-gate", "hatch-frame", "ramp-rail", "slip-trolley")


@pytest.fixture(params=[*JOBS, *GALLERY])
def solution(request: pytest.FixtureRequest, tmp_path: Path) -> Solution:
    return made(request.param, tmp_path)


def made(name: str, folder: Path) -> Solution:
    if name in GALLERY:
        return solve(load(ROOT / "gallery" / name / "job.toml"))
    (folder / "saw.toml").write_text(ONE_WAY.replace('"right"', '"left"'), encoding="utf-8")
    (folder / "job.toml").write_text(head(saw="saw.toml") + JOBS[name], encoding="utf-8")
    return solve(load(folder / "job.toml"))


def rolls_on_paper(work: BarWork, solution: Solution) -> int:
    """The rolls that the rows of a bar tell, those that stand for several cuts as often."""
    told = 0
    blocks = row_blocks(work, solution.job.saw, "mm", 186)[1:]
    for row, block in zip(work.rows, blocks, strict=False):
        says = " ".join(part.says for part in block.drawing.entities if isinstance(part, Text))
        told += len(row.numbers) * bool(re.search(r"\bhalf\b.*\bturn\b|\broll (?:to|back)", says))
    return told


def test_every_roll_that_is_told_is_counted(solution: Solution) -> None:
    plan, floor = solution.plan, floor_of(solution)
    assert plan is not None
    assert [rolls_on_paper(work, solution) for work in floor.bars] == [run.bar.rolls for run in solution.runs]
    assert sum(run.bar.rolls * run.bar.count for run in solution.runs) == plan.rolls
    page = " ".join(
        part.says for block in last_blocks(floor, 186) for part in block.drawing.entities if isinstance(part, Text)
    )
    assert f"{plan.rolls} roll" in page or not plan.rolls


def test_no_first_roll_is_told_of_a_bar_that_looks_the_same(solution: Solution) -> None:
    for run in solution.runs:
        over = run.bar.section.lay(180)
        if run.bar.section.looks_like(over):
            assert run.cuts[0].rolled(None) != "half a turn", run.bar.pieces[0]


def test_an_angle_is_laid_in_rolled_and_the_roll_counts(tmp_path: Path) -> None:
    """The arm goes to the discharge side only and the trim cut of a left 30 there needs the bar half a turn over, or
    begins without: as many rolls are told as the bar changes its lie from as drawn."""
    solution = made("angle", tmp_path)
    for run in solution.runs:
        lies = [0.0, *(cut.roll % 360 for cut in run.bar.cuts)]
        assert run.bar.rolls == sum(a != b for a, b in pairwise(lies))


def test_the_set_ups_beside_the_blanks_are_those_of_the_plan() -> None:
    """What the other way takes is compared with what page 1 and plan.json count for the same bar."""
    seen = 0
    for run in made("boathouse-gate", Path()).runs:
        if run.blanks is not None and run.bar.count == 1:
            assert run.blanks.as_planned.set_ups == run.bar.swings + run.bar.tilts + run.bar.rolls
            seen += 1
    assert seen


def told_of_tips(way: str, to_the_side: int, folder: Path) -> list[str]:
    """What the rows of a round rail over a landing tell of the tip of the end that is cut."""
    nodes = f"[[0, 0, 0], [800, 0, 600], [1800, 0, 600], [1800, {to_the_side}, 600]]"
    frame = f'[[frame]]\nmark = "R"\nshape = "rail"\nsection = "CHS 42.4x3.2"\nnodes = {nodes}\n'
    text = head(saw="saw.toml").replace("bar by bar", way) + frame + stock("CHS 42.4x3.2", "6 m")
    (folder / "saw.toml").write_text((ROOT / "gallery/saws/hinged.toml").read_text(encoding="utf-8"), encoding="utf-8")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    floor = floor_of(solve(load(folder / "job.toml")))
    rows = [*(row for work in floor.bars for row in work.rows), *(one.row for one in floor.second_ends)]
    return [says for row in rows if row.turn and (says := tip_words(row.turn))]


@pytest.mark.parametrize("way", ["bar by bar", "by setting"])
@pytest.mark.parametrize(("to_the_side", "where"), [(900, "bottom"), (-900, "top")])
def test_a_round_bar_tells_where_the_tip_of_its_cut_end_goes(
    way: str, to_the_side: int, where: str, tmp_path: Path
) -> None:
    """Seen from its left end the tips of the level member lie a quarter apart, clockwise where it turns to the left.

    The arm swings to the feed side, so that the piece is longest at the moving side where it is parted. Clockwise from
    the tip in front to that one is then up from the bottom, and end for end it is the same.
    """
    assert set(told_of_tips(way, to_the_side, tmp_path)) == {f"the tip of its cut end then stands at the {where}"}


def test_where_a_bar_is_keyed_a_row_that_rolls_it_says_to_mark_it_round() -> None:
    """Rolled rows of the gate, whose saw has a feed, say so, each with its boxes: 4, 2 and 2, 4, 2 and 2 cuts. On the
    hatch's saw the stop finds the end again."""
    for name, counts in (("boathouse-gate", [4, 2, 2, 4, 2, 2]), ("hatch-frame", [])):
        solution = solve(load(ROOT / "gallery" / name / "job.toml"))
        says = [box.says for page in cut_sheet(solution)[1:] for box in page.drawing.text_boxes()]
        assert [int(word.split()[0]) for word in says if word.endswith("times: mark round, roll")] == counts
        assert packet_files(solution, Options())["cut-sheet.html"].decode().count("mark round") == len(counts)
