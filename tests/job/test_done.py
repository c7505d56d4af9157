"""done.csv: what is named in any legal way is taken out of the plan; what is not understood is told with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.job import load
from mitertool.job.done import read_work
from mitertool.job.model import Job
from mitertool.nest import Done, Stock

HEAD = "what,name,length,quantity,grade\n"
STOCK = '[[stock]]\nsection = "{}"\nlength = "{}"\n{}\n'
PIECE = '[[piece]]\nmark = "{}"\nsection = "{}"\nlength = "{}"\n{}\n'


def job(folder: Path, *tables: str, units: str = "mm") -> Job:
    path = folder / "job.toml"
    path.write_text(f'[job]\nname = "Job"\nunits = "{units}"\n[nest]\nkerf = 2\n' + "".join(tables), encoding="utf-8")
    return load(path)


def done(folder: Path, of: Job, *rows: str, head: str = HEAD) -> Done:
    (folder / "done.csv").write_text(head + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return read_work(folder / "done.csv", of).done


def tubes(folder: Path) -> Job:
    """One section of one grade, drawn lying on its side."""
    return job(
        folder,
        PIECE.format("A", "RHS 40x80x3", 900, 'quantity = 5\nopposite = 2\ngrade = "S235JRH"\nleft = 45'),
        STOCK.format("RHS 80x40x3", "6 m", 'grade = "S235JRH"\nquantity = 3'),
    )


def angles(folder: Path) -> Job:
    """A section of two grades, one of no grade, and one of the job's own."""
    return job(
        folder,
        '[[section]]\nname = "STRAKE"\nshape = "flat"\nwidth = 60\nheight = 8\n',
        PIECE.format("A", "L 50x50x5", 900, 'grade = "S235JR"\nleft = 30\nopposite = 3'),
        PIECE.format("B", "L 50x50x5", 900, 'grade = "S355J2"'),
        PIECE.format("C", "SHS 40x40x3", 900, "quantity = 4"),
        PIECE.format("D", "STRAKE", 900, ""),
        STOCK.format("SHS 40x40x3", 6000, "quantity = 2"),
    )


@pytest.mark.parametrize(
    "name",
    [
        *("RHS 80x40x3", "RHS 40x80x3", "rhs80X40x3", "RHS  80 x 40 x 3", "RHS 80×40×3", "RHS 40 x 80 x 3 EN 10219"),
        *("RHS 80x40x3 EN 10219-2", "EN 10219 RHS 80x40x3", "80x40x3 RHS"),
    ],
)
@pytest.mark.parametrize("grade", ["S235JRH", "", " s235jrh ", "S235 JRH"])
def test_a_section_in_any_legal_form_is_the_job_s(tmp_path: Path, name: str, grade: str) -> None:
    found = done(tmp_path, tubes(tmp_path), f"length left,{name},2500,1,{grade}", f"bar used,{name},6 m,2,{grade}")
    assert found.left == (Stock("RHS 80x40x3", 2500, "S235JRH", 1, 0.0),)
    assert found.used == (Stock("RHS 80x40x3", 6000, "S235JRH", 2),)


def test_a_section_to_another_standard_is_not_the_job_s(tmp_path: Path) -> None:
    """RHS 80x40x4 is rolled cold to EN 10219 and finished hot to EN 10210, with other radii."""
    work = job(tmp_path, PIECE.format("A", "RHS 80x40x4 EN 10210", 900, ""))
    assert done(tmp_path, work, "length left,RHS 40x80x4 EN 10210,900,1,").left[0].length == 900
    with pytest.raises(BadInput, match=r"line 2: name: .*EN 10210"):
        done(tmp_path, work, "length left,RHS 80x40x4 EN 10219,900,1,")


def test_a_section_of_the_job_s_own_goes_by_its_name(tmp_path: Path) -> None:
    assert done(tmp_path, angles(tmp_path), "length left,STRAKE,400,2,").left == (Stock("STRAKE", 400, "", 2, 0.0),)


def test_a_table_without_lengths_and_grades_is_enough_for_pieces(tmp_path: Path) -> None:
    found = done(tmp_path, angles(tmp_path), "piece,A,1", ",,", "piece,A-OH,2", head="what,name,quantity\n")
    assert found.good == {"A": 1, "A-OH": 2}


def test_blanks_that_became_good_pieces_are_blanks_no_more(tmp_path: Path) -> None:
    """Told as second ends, or as more good pieces than there is room for beside them: four C are asked."""
    work = angles(tmp_path)

    def blanks(*rows: str) -> int:
        (tmp_path / "done.csv").write_text(HEAD + "".join(f"{row}\n" for row in rows), encoding="utf-8")
        return read_work(tmp_path / "done.csv", work).of("").blanks_of("C")

    assert blanks("left later,C,950,3,") == 3
    assert blanks("left later,C,950,3,", "second end,C,950.4,2,", "piece,C,,2,") == 1
    assert blanks("left later,C,950,3,", "piece,C,,2,") == 2


def test_a_bar_made_of_a_length_left_is_gone(tmp_path: Path) -> None:
    """Two of 2500 are left, one is used, of which 900 are left: bars bought stay as they are."""
    rows = ("bar used,SHS 40x40x3,6000,1,", "length left,SHS 40x40x3,2500,2,")
    found = done(tmp_path, angles(tmp_path), *rows, "bar used,SHS 40x40x3,2500.4,1,", "length left,SHS 40x40x3,900,1,")
    assert [(one.length, one.quantity) for one in found.used] == [(6000, 1)]
    assert [(one.length, one.quantity) for one in found.left] == [(2500, 1), (900, 1)]


def test_feet_and_inches_of_one_length_are_one_bar(tmp_path: Path) -> None:
    """24 feet are 288 inches, exactly, by the foot of 12 inches; in mm they differ by rounding."""
    work = job(
        tmp_path,
        PIECE.format("A", "HSS4x2x3/16", 30, ""),
        STOCK.format("HSS4x2x3/16", 288, "quantity = 2"),
        units="in",
    )
    (used,) = done(tmp_path, work, "bar used,HSS 4 x 2 x 3/16,24',1,").used
    assert (used.section, used.length) == (work.stock[0].section, work.stock[0].length)


REFUSED = {
    "unknown section": ("length left,RHS 80x40x3.1,2500,1,", ("line 2", "RHS 80x40x3.1", "nearest")),
    "not in the job": ("length left,UPN 100,2500,1,", ("line 2", "UPN 100", "L 50x50x5, SHS 40x40x3, STRAKE")),
    "grade of two": ("length left,L 50x50x5,2500,1,", ("line 2", "grade", "S235JR and S355J2", "which")),
    "grade of neither": ("length left,L 50x50x5,2500,1,S275", ("line 2", "S275", "S235JR and S355J2")),
    "grade of none": ("length left,SHS 40x40x3,2500,1,S275", ("line 2", "S275", "no grade")),
    "unknown mark": ("piece,CC,,1,", ("line 2", "CC", "nearest", "C")),
    "opposite that is the same piece": ("piece,C-OH,,1,", ("line 2", "C-OH")),
    "too many good": ("piece,C,,3,\npiece,C,,2,", ("line 3", "found 5", "0 to 4")),
    "unknown what": ("bars used,SHS 40x40x3,6000,1,", ("line 2", "bars used", "bar used")),
    "bar of another length": ("bar used,SHS 40x40x3,6500,1,", ("line 2", "stock")),
    "bar without a length": ("bar used,SHS 40x40x3,,1,", ("line 2", "length")),
    "negative left-over": ("length left,SHS 40x40x3,-5,1,", ("line 2", "more than 0")),
    "longer than any bar": ("length left,SHS 40x40x3,24001,1,", ("line 2", "24001", "at most 24000 mm")),
    "blanks without a length": ("left later,C,,1,", ("line 2", "how long")),
    "more blanks than asked": ("piece,C,,2,\nright later,C,950,3,", ("line 3", "found 5", "0 to 4")),
    "second ends of no blanks": ("left later,C,950,2,\nsecond end,C,,3,", ("line 3", "only 2")),
    "second ends of others": ("left later,C,950,2,\nsecond end,C,920,1,", ("line 3", "only 0")),
    "bar begun and cut": ("bar begun,1.1 x,,1,\nbar cut,1.1 x,,1,", ("line 3", "begun")),
    "not so many good": ("piece,C,,1,\nnot good,C,,2,", ("line 3", "not so many")),
    "count": ("piece,C,,many,", ("line 2", "quantity", "many")),
    "more cells than columns": ("piece,C,,1,,S235", ("line 2", "cells")),
    "line after an empty one": (",,,,\n\npiece,X,,1,", ("line 4", "X")),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_not_understood_is_told_with_its_line(tmp_path: Path, name: str) -> None:
    rows, words = REFUSED[name]
    with pytest.raises(BadInput) as refusal:
        done(tmp_path, angles(tmp_path), rows)
    assert [word for word in (*words, "done.csv") if word not in str(refusal.value)] == []


HEADS = {"": "what", "what;name;length;quantity;grade\n": "commas", "what,name,lenght,quantity\n": "lenght"}


@pytest.mark.parametrize("head", HEADS)
def test_a_heading_that_is_not_understood_is_told(tmp_path: Path, head: str) -> None:
    with pytest.raises(BadInput, match="line 1") as refusal:
        done(tmp_path, tubes(tmp_path), head=head)
    assert HEADS[head] in str(refusal.value)
