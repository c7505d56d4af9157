"""Labels: a piece each in the order of cutting, with bar and heat, on the shop's own sheets where it names one."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.drawing import Page
from mitertool.job import Solution, load, solve
from mitertool.job.done import read_work
from mitertool.packet.pages import labels
from mitertool.packet.pages.labels import CutPiece, cut_pieces, label_pages
from tests.packet.text_boxes import LEAST, cut_short, overlaps, too_small

JOB = """
[job]
name = "gate"
units = "mm"
[nest]
kerf = 2
[[stock]]
section = "FLAT 50x10"
length = 1000
heat = "A 88121"
[[stock]]
section = "FLAT 60x20"
length = 2000
[[piece]]
mark = "LONG"
section = "FLAT 50x10"
length = 700
quantity = 2
[[piece]]
mark = "SHORT"
section = "FLAT 50x10"
length = 200
quantity = 2
[[piece]]
mark = "OWN"
section = "FLAT 60x20"
length = 300
heat = "B 5"
[[piece]]
mark = "BARE"
section = "FLAT 60x20"
length = 300
[[piece]]
mark = "TOO LONG"
section = "FLAT 60x20"
length = 9000
"""

OWN = "[labels]\npaper = {paper}\nwidth = {width}\nheight = {height}\ncolumns = {columns}\nrows = {rows}\n"


def solution(folder: Path, more: str = "", done: str = "") -> Solution:
    path = folder / "job.toml"
    path.write_text(JOB + more, encoding="utf-8")
    job = load(path)
    (folder / "done.csv").write_text(f"what,name,length,quantity,grade\n{done}\n", encoding="utf-8")
    return solve(job, read_work(folder / "done.csv", job).done if done else None)


def texts(pages: Sequence[Page]) -> str:
    return " | ".join(box.says for page in pages for box in page.drawing.text_boxes())


def test_labels_stand_in_the_order_of_cutting(tmp_path: Path) -> None:
    """Two bars of 1000 take 700 and 200 each, so bar after bar; the job has both long ones first."""
    solved = solution(tmp_path)
    cut = [(one.solved.mark, one.number, one.bar) for one in cut_pieces(solved)]
    assert solved.plan is not None
    flat = [one for one in cut if one[0] in ("LONG", "SHORT")]
    assert sorted(flat[:2]) == [("LONG", 1, flat[0][2]), ("SHORT", 1, flat[0][2])]
    assert sorted(flat[2:]) == [("LONG", 2, flat[0][2]), ("SHORT", 2, flat[0][2])]


def test_heat_of_the_bar_or_of_the_piece_or_a_line_to_write_it_on(tmp_path: Path) -> None:
    heats = {one.solved.mark: one.heat for one in cut_pieces(solution(tmp_path))}
    assert heats == {"LONG": "A 88121", "SHORT": "A 88121", "OWN": "B 5", "BARE": ""}
    said = texts(label_pages(solution(tmp_path)))
    assert re.search(r"bar \d, heat A 88121", said)
    assert re.search(r"bar \d, heat _+", said)


@pytest.mark.parametrize("sheet", ["letter-30", "a4-24"])
def test_every_label_names_its_job_and_revision(tmp_path: Path, sheet: str) -> None:
    """Six pieces on bars; on a low label at the right of a line that leaves room, in whole or with a short word."""
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace('name = "gate"', 'name = "Orchard gate"\nrevision = "A"'), encoding="utf-8")
    (page,) = label_pages(solve(load(path)), sheet)
    boxes = list(page.drawing.text_boxes())
    named = [box for box in boxes if box.says in ("Orchard gate, revision A", "Orchard gate, rev. A")]
    assert len(named) == 6
    assert [*overlaps(boxes)] == []


def test_two_heats_of_one_bar_leave_a_line(tmp_path: Path) -> None:
    """The plan does not say from which row of stock a bar is taken."""
    more = '[[stock]]\nsection = "FLAT 50x10"\nlength = 1000\nheat = "C 9"\n'
    heats = {one.solved.mark: one.heat for one in cut_pieces(solution(tmp_path, more))}
    assert heats["LONG"] == ""


def test_what_is_done_has_its_labels_already(tmp_path: Path) -> None:
    cut = [(one.solved.mark, one.number) for one in cut_pieces(solution(tmp_path, done="piece,LONG,,1,"))]
    assert ("LONG", 2) in cut
    assert ("LONG", 1) not in cut


def test_what_is_on_no_bar_has_no_label(tmp_path: Path) -> None:
    assert "TOO LONG" not in texts(label_pages(solution(tmp_path)))


def test_refused_marks_have_no_label(solution_of: Callable[[str], Solution]) -> None:
    said = texts(label_pages(solution_of("many not to be made")))
    assert "HOPELESS" not in said
    assert "0 labels" in said


@pytest.mark.parametrize(
    ("paper", "width", "height", "columns", "rows"),
    [("a4", 63.5, 38.1, 3, 7), ("letter", '"1.75 in"', '"1 in"', 4, 10), ("a4", 40, 25, 4, 11)],
)
def test_own_labels(tmp_path: Path, paper: str, width: object, height: object, columns: int, rows: int) -> None:
    table = OWN.format(paper=f'"{paper}"', width=width, height=height, columns=columns, rows=rows)
    solved = solution(tmp_path, table + "top = 10\nleft = 4\ngap_across = 1.5\n")
    (page,) = label_pages(solved)
    wide = 25.4 * 1.75 if paper == "letter" else width
    lefts = sorted(
        {round(min(x for x, _ in box.corners), 1) for box in page.drawing.text_boxes() if box.height > LEAST}
    )
    assert lefts[0] == pytest.approx(4 + 3, abs=0.06)
    assert any(abs(left - (4 + 3 + float(wide) + 1.5)) < 0.06 for left in lefts)  # type: ignore[arg-type]
    boxes = page.drawing.text_boxes()
    assert [*overlaps(boxes), *too_small(boxes, LEAST)] == []


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ((70, 20, 3, 8), "height: found '20 mm'; a label has at least 25 mm"),
        ((30, 30, 3, 8), "width: found '30 mm'; a label has at least 40 mm"),
        ((70, 37, 4, 8), "columns: found '4 of them take 280 mm'; the paper has 210 mm"),
        ((70, 37, 3, 9), "rows: found '9 of them take 333 mm'; the paper has 297 mm"),
    ],
)
def test_labels_that_no_paper_has(tmp_path: Path, sizes: tuple[int, ...], words: str) -> None:
    width, height, columns, rows = sizes
    table = OWN.format(paper='"a4"', width=width, height=height, columns=columns, rows=rows)
    with pytest.raises(BadInput) as refused:
        solution(tmp_path, table)
    assert words in str(refused.value)


def test_a_named_sheet_goes_before_the_jobs_own(tmp_path: Path) -> None:
    solved = solution(tmp_path, OWN.format(paper='"a4"', width=63.5, height=38.1, columns=3, rows=7))
    assert (next(label_pages(solved, "letter-30")).width, next(label_pages(solved)).width) == (215.9, 210.0)


def test_bars_cut_at_once_give_a_label_a_piece(tmp_path: Path) -> None:
    """Three tubes side by side make six pieces in two cuts; two angles boxed make one of either hand a cut."""
    text = """
[job]
name = "rows"
[nest]
kerf = 2
[[stock]]
section = "SHS 40x40x3"
length = 6000
heat = "D 3"
[[stock]]
section = "L 50x50x5"
length = 6000
[[piece]]
mark = "A"
section = "SHS 40x40x3"
length = 500
quantity = 6
side_by_side = 3
[[piece]]
mark = "B"
section = "L 50x50x5"
length = 500
left = 45
right = -45
quantity = 2
opposite = 2
boxed = true
"""
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    labels = list(cut_pieces(solve(load(tmp_path / "job.toml"))))
    assert {one.heat for one in labels if one.solved.mark == "A"} == {"D 3"}
    cut = [(one.solved.mark, one.number) for one in labels]
    assert sorted(one for one in cut if one[0] == "A") == [("A", n) for n in range(1, 7)]
    assert [one for one in cut if one[0] != "A"] == [("B", 1), ("B-OH", 1), ("B", 2), ("B-OH", 2)]


@pytest.mark.parametrize("codes", [False, True])
@pytest.mark.parametrize(
    ("sheet", "says"),
    [("a4-14", "marks, fixed side, from the left end: 190 F-3"), ("letter-30", "4 marks"), ("a4-24", "190 F-3")],
)
def test_marks_stand_on_a_label_whole_or_as_a_number(tmp_path: Path, sheet: str, says: str, codes: bool) -> None:
    """A post of 50 with a rail of 20 at 200 from the clear corner has it from 190 on; high labels have room for that.
    The rail has two uprights on either side, which a low label only counts."""
    path = tmp_path / "gate.toml"
    path.write_text(GATE, encoding="utf-8")
    boxes = [box for page in label_pages(solve(load(path)), sheet, codes) for box in page.drawing.text_boxes()]
    assert says in " | ".join(box.says for box in boxes)
    assert [*cut_short(boxes), *overlaps(boxes), *too_small(boxes, LEAST)] == []


GATE = """
[job]
name = "gate"
units = "mm"
[[frame]]
mark = "F"
shape = "rectangle"
section = "SHS 50x50x3"
width = 1000
height = 900
measured = "outside"
inside = [
  { bars = "rails", section = "SHS 20x20x2", at = [200] },
  { bars = "uprights", section = "SHS 20x20x2", count = 2 },
]
"""


def test_what_labels_of_a_mark_have_in_common_is_composed_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second of a mark differs from the first in its number; LONG and SHORT come in turn, off the same two bars."""
    composed: list[str] = []
    lines = labels._lines

    def counted(one: CutPiece, *more: Any) -> Any:
        composed.append(one.solved.mark)
        return lines(one, *more)

    monkeypatch.setattr(labels, "_lines", counted)
    said = texts(label_pages(solution(tmp_path)))
    assert sorted(composed) == ["BARE", "LONG", "OWN", "SHORT"]
    assert [said.count(number) for number in ("1 of 2", "2 of 2", "1 of 1")] == [2, 2, 2]


def test_sheets_of_labels_are_made_one_by_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a million labels at once would take more than a gigabyte. Two on a sheet, and the first is the job's."""
    made: list[CutPiece] = []
    label = labels._label

    def counted(one: CutPiece, *more: Any) -> Any:
        made.append(one)
        return label(one, *more)

    monkeypatch.setattr(labels, "_label", counted)
    table = OWN.format(paper='"a4"', width=63.5, height=100, columns=1, rows=2)
    pages = label_pages(solution(tmp_path, table))
    assert made == []
    next(pages)
    assert len(made) == 1
    assert len(list(pages)) == 5
