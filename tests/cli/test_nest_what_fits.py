"""`nest` where not everything fits, where part is done, and where steel costs nothing; counts by hand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Said

Call = Callable[..., Said]

TUBE, ANGLE = "SHS 40x40x3", "L 50x50x5"


def write(folder: Path, *tables: str, kerf: float = 2) -> str:
    (folder / "job.toml").write_text(f'[job]\nname = "Job"\n[nest]\nkerf = {kerf}\n' + "".join(tables))
    return str(folder / "job.toml")


def stock(section: str, length: float, more: str = "") -> str:
    return f'[[stock]]\nsection = "{section}"\nlength = {length}\n{more}\n'


def piece(mark: str, section: str, length: float, more: str = "") -> str:
    return f'[[piece]]\nmark = "{mark}"\nsection = "{section}"\nlength = {length}\n{more}\n'


def placed(said: Said) -> dict[str, int]:
    """Pieces on bars by mark."""
    found: dict[str, int] = {}
    for bar in said.json["bars"]:
        for one in bar["pieces"]:
            found[one["mark"]] = found.get(one["mark"], 0) + bar["count"]
    return found


@pytest.fixture
def mixed(tmp_path: Path) -> str:
    """Two bars hold two A each (2500 + 2 + 2500 of 6000, a third does not fit); LONG and B fit no bar."""
    return write(
        tmp_path,
        stock(TUBE, 6000, "quantity = 2"),
        piece("LONG", TUBE, 6001),
        piece("A", TUBE, 2500, "quantity = 7"),
        piece("B", ANGLE, 100, "quantity = 2"),
        piece("C", TUBE, 900, "quantity = 2"),
    )


def test_what_fits_is_told_and_nothing_planned(call: Call, mixed: str, tmp_path: Path) -> None:
    before = sorted(tmp_path.rglob("*"))
    for command in (("nest", mixed), ("nest", mixed, "--json"), ("packet", mixed, "--out", str(tmp_path / "pk"))):
        said = call(*command)
        assert (said.code, said.out) == (1, "")
        _, *reasons = said.err.splitlines()
        for words in ("LONG: ", "A: 3 more", "B: no stock"):
            assert [one for one in reasons if words in one], words
        assert reasons[-1] == "mitertool: what fits is 4 A and 2 C, planned with --anyway"
    assert sorted(tmp_path.rglob("*")) == before


def test_what_fits_is_planned_anyway(call: Call, mixed: str) -> None:
    said = call("nest", mixed, "--anyway", "--json")
    assert (said.code, said.err) == (0, "")
    assert placed(said) == {"A": 4, "C": 2}
    assert said.json["left_out"] == {"LONG": 1, "A": 3, "B": 2}
    assert (said.json["cost"], said.json["lower_bound"], said.json["proved"]) == (12000, 12000, True)
    assert len(said.json["problems"]) == 3


def test_the_claim_names_what_was_left_out(call: Call, mixed: str) -> None:
    lines = call("nest", mixed, "--anyway").out.splitlines()
    (claim,) = [line for line in lines if "proved best" in line]
    assert "cut bar by bar, without 1 LONG and 3 A and 2 B, no plan below 12000: proved best" in claim
    assert len([line for line in lines if line.startswith("cannot be made: ")]) == 3


def test_the_sheet_is_written_anyway_with_the_bars_of_what_fits(call: Call, mixed: str, tmp_path: Path) -> None:
    assert call("packet", mixed, "--anyway", "--out", str(tmp_path / "pk")).code == 0
    first = " ".join(PdfReader(tmp_path / "pk" / "cut-sheet.pdf").pages[0].extract_text().split())
    assert all(f"On no bar: {count}" in first for count in ("1 LONG", "3 A", "2 B"))
    assert f"2 {TUBE} 6000" in first


def test_the_claim_names_marks_that_may_not_be_turned(call: Call, tmp_path: Path) -> None:
    job = write(
        tmp_path,
        stock("RHS 80x40x3", 6000),
        piece("UP", "RHS 80x40x3", 900, 'turn = ["as-drawn"]\nleft = 30'),
        piece("FLAT", "RHS 40x80x3", 900),
    )
    said = call("nest", job).out
    assert "so cut, from as little steel, no plan below 1." in said  # UP alone has two cuts that are not parallel
    assert "cut bar by bar or by setting, laid only as allowed: UP, no plan" in said


def test_other_ways_are_compared_for_what_fits(call: Call, mixed: str) -> None:
    said = call("nest", mixed, "--anyway", "--compare", "--json")
    assert said.code == 0
    chosen, *others = said.json["alternatives"]
    assert (chosen["name"], chosen["steel_mm"], chosen["cuts"]) == ("chosen", 12000, 8)
    assert {one["steel_mm"] for one in others} == {12000}


LONGER = {
    "than the only bar": [stock(TUBE, 6000)],
    "than the bars that are there": [stock(TUBE, 6000), stock(TUBE, 7000, "quantity = 0")],
    "than a bar that costs nothing": [stock(TUBE, 6000, "cost = 0")],
    "than a limited bar": [stock(TUBE, 6000, "quantity = 3")],
    "by its kerf": [stock(TUBE, 6501)],
}


@pytest.mark.parametrize("name", LONGER)
@pytest.mark.parametrize("command", ["check", "nest"])
def test_a_piece_longer_than_every_bar_ends_in_1_with_the_reason(
    call: Call, tmp_path: Path, name: str, command: str
) -> None:
    said = call(command, write(tmp_path, *LONGER[name], piece("LONG", TUBE, 6500), piece("A", TUBE, 100)))
    assert said.code == 1
    assert "LONG: " in said.out + said.err


# --- part of it is done


@pytest.fixture
def half_done(tmp_path: Path) -> tuple[str, str]:
    """Five of 1000; two are cut of the first bar, of which 3994 is left: the other three need 3006 of it."""
    (tmp_path / "done.csv").write_text(
        "what,name,length,quantity,grade\npiece,A,,2,\nbar used,SHS 40 x 40 x 3,6000,1,\n"
        "length left,shs40x40x3,3994,1,\n"
    )
    return write(tmp_path, stock(TUBE, 6000), piece("A", TUBE, 1000, "quantity = 5")), str(tmp_path / "done.csv")


def test_an_offcut_that_is_enough_is_used_and_nothing_bought(call: Call, half_done: tuple[str, str]) -> None:
    job, done = half_done
    said = call("nest", job, "--done", done, "--json")
    assert (said.code, said.json["cost"], said.json["lower_bound"], said.json["proved"]) == (0, 0, 0, True)
    assert [(bar["stock_length_mm"], bar["count"]) for bar in said.json["bars"]] == [(3994, 1)]
    assert placed(said) == {"A": 3}


def test_other_ways_leave_out_what_is_done_too(call: Call, half_done: tuple[str, str]) -> None:
    job, done = half_done
    ways = call("nest", job, "--done", done, "--compare", "--json").json["alternatives"]
    assert [(way["steel_mm"], way["cost"], way["cuts"]) for way in ways] == [(3994, 0, 4)] * 4


def test_nothing_left_to_do_is_said(call: Call, tmp_path: Path) -> None:
    job = write(tmp_path, stock(TUBE, 6000), piece("A", TUBE, 1000, "quantity = 5"))
    (tmp_path / "done.csv").write_text("what,name,quantity\npiece,A,5\n")
    said = call("nest", job, "--done", str(tmp_path / "done.csv"))
    assert (said.code, said.out) == (0, "no bar is cut: nothing is left to do\n")
    compared = call("nest", job, "--done", str(tmp_path / "done.csv"), "--compare", "--json")
    assert compared.code == 0
    assert {way["cuts"] for way in compared.json["alternatives"]} == {0}


@pytest.mark.parametrize("more", ["cost = 0", "cost = 0\nquantity = 9"])
def test_stock_that_costs_nothing_is_planned(call: Call, tmp_path: Path, more: str) -> None:
    said = call("nest", write(tmp_path, stock(TUBE, 6000, more), piece("A", TUBE, 2500, "quantity = 3\nleft = 45")))
    assert said.code == 0
    assert "cost 0; cut bar by bar or by setting, no plan below 0: proved best" in said.out
