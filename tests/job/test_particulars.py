"""What paper carries besides: drawing, heat, note, prep and process of job, stock, piece and frame, and which holds."""

from __future__ import annotations

import json
from pathlib import Path

from mitertool.job import Job, load, solve
from mitertool.job.particulars import Particulars
from mitertool.packet.records import of_plan_file, of_solution

JOB = """
[job]
name = "gate"
drawing = "TH-104/2"
heat = 7731
note = "leave the dock free"
prep = "prep 30, land 2"
process = "deburr"
[nest]
kerf = 1.2
[[stock]]
section = "RHS 80x40x3"
length = 6000
quantity = 1
heat = "A 88121"
[[stock]]
section = "RHS 80x40x3"
length = 6000
note = "the rusty ones last"
[[piece]]
mark = "OWN"
section = "RHS 80x40x3"
length = 900
drawing = "TH-104/3"
heat = "B 5"
note = "seam down"
prep = "none"
process = "mark with paint"
[[piece]]
mark = "SILENT"
section = "RHS 80x40x3"
length = 800
[[frame]]
mark = "F"
shape = "rectangle"
section = "RHS 80x40x3"
width = 700
height = 500
measured = "outside"
note = "flush at the front"
prep = "prep 45"
"""
OF_JOB = Particulars("TH-104/2", "7731", "leave the dock free", "prep 30, land 2", "deburr")
OWN = Particulars("TH-104/3", "B 5", "seam down", "none", "mark with paint")


def read(folder: Path) -> Job:
    path = folder / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return load(path)


def test_what_each_table_says(tmp_path: Path) -> None:
    job = read(tmp_path)
    of_frame, _, own, silent = job.pieces
    assert job.head.particulars == OF_JOB
    assert (own.particulars, silent.particulars) == (OWN, Particulars())
    assert job.frames[0].particulars == Particulars(note="flush at the front", prep="prep 45")
    assert of_frame.particulars == Particulars(prep="prep 45")
    assert [said for _, said in job.on_stock] == [Particulars(heat="A 88121"), Particulars(note="the rusty ones last")]


def test_what_a_piece_leaves_out_the_job_says(tmp_path: Path) -> None:
    job = read(tmp_path)
    of_frame, _, own, silent = job.pieces
    assert job.of_piece(own) == OWN
    assert job.of_piece(silent) == Particulars("TH-104/2", "7731", "", "prep 30, land 2", "deburr")
    assert job.of_piece(of_frame) == Particulars("TH-104/2", "7731", "", "prep 45", "deburr")


def test_equal_bars_of_two_heats_have_both(tmp_path: Path) -> None:
    """A plan does not tell them apart: the floor writes down which was taken."""
    solution = solve(read(tmp_path))
    assert solution.plan is not None
    found = {tuple(said.heat for said in solution.job.of_bar(bar)) for bar in solution.plan.bars}
    assert found == {("A 88121", "7731")}


def test_records_tell_them_where_they_belong(tmp_path: Path) -> None:
    solution = solve(read(tmp_path))
    for record in (of_solution(solution), json.loads(json.dumps(of_plan_file(solution)))):
        assert record["particulars"]["drawing"] == "TH-104/2"
        assert [row["heat"] for row in record["stock"]] == ["A 88121", ""]
        assert [row["quantity"] for row in record["stock"]] == [1, None]
        told = {piece["mark"]: (piece["heat"], piece["note"], piece["process"]) for piece in record["pieces"]}
        assert told["OWN"] == ("B 5", "seam down", "mark with paint")
        assert told["SILENT"] == ("", "", "")
        assert record["assemblies"][0]["note"] == "flush at the front"
