"""The first page of a rest and of bars off the rack: every mark, what becomes of pieces, and lettering that fits."""

from __future__ import annotations

import re
from pathlib import Path

import attrs
import pytest

from mitertool.cut import Cut
from mitertool.drawing import Text
from mitertool.job import Solution, load, solve
from mitertool.job.before import OldMark, OldPacket
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.packet.pages.sheet.rack_block import rack_blocks
from mitertool.packet.pages.sheet.rest_block import rest_blocks
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.paper.layout import Block
from mitertool.rack import RackBar, RackBook
from tests.packet.text_boxes import cut_short, findings

LONG_MARK = "WWWWMMMM-WWWWMMMM-20"
JOB = """
[job]
name = "Week"
revision = "{revision}"
units = "{units}"
[[stock]]
section = "RHS 80x40x3"
length = "6 m"
{pieces}
[nest]
kerf = "2 mm"
rack = "rack.sqlite"
"""
PIECE = '[[piece]]\nmark = "{}"\nsection = "RHS 80x40x3"\nlength = "{} mm"\nleft = {}\nquantity = 4\n'


@pytest.fixture(params=["mm", "ft-in"])
def rest(request: pytest.FixtureRequest, tmp_path: Path) -> Solution:
    """Revision B of four marks, one as long as a mark may be, some of A cut, on a left-over with a slanted end."""
    with RackBook.opened(tmp_path / "rack.sqlite") as book, book.changing():
        bar = RackBar(
            "RHS 80x40x3", 9000, 8960, heat="H77 0815 4711", left=Cut(45), place="bay 3, upper shelf at the back"
        )
        book.add([bar])
    jobs = []
    for revision, lengths in (("A", (1200, 1000, 800)), ("B", (1150, 1000, 810))):
        marks = (LONG_MARK, "same", "long")
        pieces = "".join(PIECE.format(mark, length, 45) for mark, length in zip(marks, lengths, strict=True))
        extra = PIECE.format("gone" if revision == "A" else "new", 500, 30)
        path = tmp_path / f"{revision}.toml"
        path.write_text(JOB.format(revision=revision, units=request.param, pieces=pieces + extra))
        jobs.append(load(path))
    old, new = jobs
    marks = ((order, mark, n) for order in old.pieces for mark, n in order.counts)
    before = OldPacket("A", tuple(OldMark(mark, n, o.piece.section.name, o.grade, o.piece) for o, mark, n in marks))
    rows = [
        f"piece,{LONG_MARK},,2",
        "piece,same,,3",
        "piece,gone,,1",
        f"spoiled,{LONG_MARK},1100 mm,1",
        "spoiled,long,,1",
    ]
    (tmp_path / "done.csv").write_text("\n".join(["what,name,length,quantity", *rows]))
    return solve(rest_of(new, read_work(tmp_path / "done.csv", new, [before]), [before]), effort=0.1)


def words(blocks: list[Block]) -> str:
    return " ".join(one.says for block in blocks for one in block.drawing.entities if isinstance(one, Text))


def test_every_mark_and_every_cut_piece_is_told(rest: Solution) -> None:
    told = words(list(rest_blocks(rest, 186)))
    for one in (
        "Revision B after A",
        "same",
        "unchanged",
        "CHANGED",
        "NEW",
        "GONE",
        "KEEP",
        "SCRAP",
        "can be RECUT to",
    ):
        assert one in told, one
    assert "spoiled" in told
    taken = words(rack_blocks(rest, 186))
    assert "H77" in taken
    assert "short point of its leading end" in taken.replace("  ", " ")


def test_page_one_says_where_that_stands(rest: Solution) -> None:
    """On the page that it names stand the changes; of the marks four, two, four and four pieces five are there."""
    sheets = [" ".join(box.says for box in sheet.drawing.text_boxes()) for sheet in cut_sheet(rest)]
    (page,) = re.findall(r"What changed since revision A,.*?cut already: page (\d+)", re.sub(r"\s+", " ", sheets[0]))
    assert "Revision B after A" in sheets[int(page) - 1]
    taken = solve(attrs.evolve(rest.job, rest=attrs.evolve(rest.job.rest, taken=True)), effort=0.1)
    sheets = [" ".join(box.says for box in sheet.drawing.text_boxes()) for sheet in cut_sheet(taken)]
    (page,) = re.findall(r"recut first: page (\d+)", sheets[0])
    assert "Recut first: RHS 80x40x3" in sheets[int(page) - 1]


def test_what_is_kept_is_counted_beside_what_is_cut(rest: Solution) -> None:
    """Three of "same" stay, and what is gone is as long as what is new; the other 12 of 16 are cut."""
    told = re.sub(r"\s+", " ", " ".join(box.says for page in cut_sheet(rest) for box in page.drawing.text_boxes()))
    assert "Cut already and kept: 3 same, 1 new" in told
    assert "with 0 recut and 4 kept 16" in told


def test_the_lettering_fits(rest: Solution) -> None:
    for sheet in cut_sheet(rest):
        assert findings(sheet) == []
    blocks = [*rest_blocks(rest, 186), *rack_blocks(rest, 186)]
    assert [wrong for block in blocks for wrong in cut_short(block.drawing.text_boxes())] == []


def test_every_page_says_that_it_is_the_rest(rest: Solution) -> None:
    for sheet in cut_sheet(rest):
        assert "the rest of the job" in " ".join(one.says for one in sheet.drawing.entities if isinstance(one, Text))


def test_a_whole_job_has_no_such_block(rest: Solution) -> None:
    whole = solve(load(rest.job.path), effort=0.1)
    assert list(rest_blocks(whole, 186)) == []
