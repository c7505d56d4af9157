"""A piece that cannot be made goes on no bar and is counted nowhere; what fits is what the plan has. Counts by hand.

The saw swings 60 degrees to the feed side only, with a kerf of 2: a left end of 70 cannot be cut, nor one of -70.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Said
from tests.cli.test_nest_what_fits import ANGLE, TUBE, piece, placed, stock
from tests.job.test_bars_as_planned import ONE_WAY

Call = Callable[..., Said]

FEED = "[feed]\nstroke = 500\nshortest = 50\ncounts_kerf = true\n"
CANNOT = "left end: needs a swing of 70.00 degrees to the discharge side, where the arm goes to 0"
STEEP = piece("C", TUBE, 900, "left = 70\nright = 20\nquantity = 2")
FINE = piece("A", TUBE, 900, "quantity = 3")


def write(folder: Path, *tables: str, saw: str = ONE_WAY, head: str = "") -> str:
    (folder / "saw.toml").write_text(saw)
    (folder / "job.toml").write_text(f'[job]\nname = "Job"\nsaw = "saw.toml"\n{head}' + "".join(tables))
    return str(folder / "job.toml")


def test_nothing_of_it_is_on_a_bar(call: Call, tmp_path: Path) -> None:
    """Three of 900 square: four cuts, no swing; one bar of 6000."""
    job = write(tmp_path, stock(TUBE, 6000), FINE, STEEP)
    said = call("nest", job, "--anyway", "--json").json
    assert placed(call("nest", job, "--anyway", "--json")) == {"A": 3}
    assert said["left_out"] == {"C": 2}
    assert (said["cost"], said["swings"], said["rolls"]) == (6000, 0, 0)
    assert [len(bar["cuts"]) for bar in said["bars"]] == [4]


def test_nest_says_which_and_why(call: Call, tmp_path: Path) -> None:
    lines = call("nest", write(tmp_path, stock(TUBE, 6000), FINE, STEEP), "--anyway").out.splitlines()
    assert f"On no bar: 2 C (cannot be made: {CANNOT})" in lines
    (claim,) = [line for line in lines if "proved best" in line]
    assert "cut bar by bar, without 2 C, no plan below 6000: proved best" in claim


@pytest.mark.parametrize(
    ("bars", "fits", "left_out"),
    [
        (stock(TUBE, 6000), {"A": 3}, {"C": 2}),
        (stock(TUBE, 2000, "quantity = 1"), {"A": 2}, {"A": 1, "C": 2}),
    ],
    ids=["enough stock", "stock runs out"],
)
def test_what_fits_is_what_the_plan_has(
    call: Call, tmp_path: Path, bars: str, fits: dict[str, int], left_out: dict[str, int]
) -> None:
    """2000 takes 900 + 2 + 900 and no third. The steel of C would fit; it is not told of and not planned."""
    job = write(tmp_path, bars, FINE, STEEP)
    refused = call("nest", job)
    assert (refused.code, refused.out) == (1, "")
    assert refused.err.endswith(f"mitertool: what fits is {fits['A']} A, planned with --anyway\n")
    planned = call("nest", job, "--anyway", "--json")
    assert placed(planned) == fits
    assert planned.json["left_out"] == left_out


def test_where_every_piece_is_refused_there_are_no_bars(call: Call, tmp_path: Path) -> None:
    job = write(tmp_path, stock(TUBE, 6000), STEEP)
    assert call("nest", job).err.endswith("mitertool: no piece goes on a bar\n")
    said = call("nest", job, "--anyway")
    assert said.out.splitlines()[:2] == [
        "no bar is cut: no piece goes on one",
        f"On no bar: 2 C (cannot be made: {CANNOT})",
    ]
    assert call("nest", job, "--anyway", "--json").json["bars"] == []
    assert call("packet", job, "--anyway", "--out", str(tmp_path / "pk")).code == 0
    assert json.loads((tmp_path / "pk" / "plan.json").read_text())["bars"] == []


def test_the_packet_counts_and_keys_nothing_of_it(call: Call, tmp_path: Path) -> None:
    """Three pieces, and three kerfs of 2: that of the first cut lies before the raw end, for there is no trim."""
    job = write(tmp_path, stock(TUBE, 6000), FINE, STEEP, saw=ONE_WAY + FEED)
    assert call("packet", job, "--anyway", "--out", str(tmp_path / "pk")).code == 0
    plan = json.loads((tmp_path / "pk" / "plan.json").read_text())
    assert plan["left_out"] == {"C": 2}
    assert {one["mark"] for run in plan["runs"] for one in (*run["cuts"], *run["feed"])} == {"", "A"}
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(tmp_path / "pk" / "cut-sheet.pdf").pages]
    assert "On no bar: 2 C" in pages[0]
    assert CANNOT.removeprefix("left end: ") in pages[0]
    assert "1 bar, 4 cuts" in " ".join(pages)
    bars = " ".join(pages).partition("comes off")[2].partition("By tape")[0]
    assert "3 × A" in bars
    assert "C" not in bars


def test_page_one_says_that_it_cannot_be_cut_with_the_reason(call: Call, tmp_path: Path) -> None:
    job = write(tmp_path, stock(TUBE, 6000), FINE, STEEP)
    assert call("packet", job, "--anyway", "--out", str(tmp_path / "pk")).code == 0
    text = " ".join(" ".join(p.extract_text().split()) for p in PdfReader(tmp_path / "pk" / "cut-sheet.pdf").pages)
    assert "cannot be cut" in text
    assert "needs a swing of 70.00 degrees to the discharge side, where the arm goes to 0" in text


def test_a_piece_too_short_to_hold_is_on_no_bar(call: Call, tmp_path: Path) -> None:
    job = write(tmp_path, stock(TUBE, 6000), FINE, piece("SHIM", TUBE, 40), saw=ONE_WAY + FEED)
    assert call("nest", job, "--anyway", "--json").json["left_out"] == {"SHIM": 1}
    assert "On no bar: 1 SHIM (cannot be made: 40 mm long, too short to hold" in call("nest", job, "--anyway").out


def test_a_piece_whose_further_cut_cannot_be_made_is_on_no_bar(call: Call, tmp_path: Path) -> None:
    point = piece("POINT", "FLAT 60x10", 900, "right = [40, { miter = -70, meets = 20 }]")
    job = write(tmp_path, stock("FLAT 60x10", 6000), point, piece("A", "FLAT 60x10", 900))
    assert call("nest", job, "--anyway", "--json").json["left_out"] == {"POINT": 1}
    assert call("packet", job, "--anyway", "--out", str(tmp_path / "pk")).code == 0
    plan = json.loads((tmp_path / "pk" / "plan.json").read_text())
    assert (plan["further_cuts"], plan["further_swings"]) == ([], 0)


def test_a_section_of_which_nothing_can_be_made_buys_no_bar(call: Call, tmp_path: Path) -> None:
    """An angle that cannot be cut: no bar of it, one of tube."""
    job = write(tmp_path, stock(TUBE, 6000), stock(ANGLE, 6000), FINE, piece("B", ANGLE, 900, "left = 62"))
    said = call("nest", job, "--anyway", "--json").json
    assert [bar["section"] for bar in said["bars"]] == [TUBE]
    assert said["left_out"] == {"B": 1}


def test_other_ways_leave_it_out_too(call: Call, tmp_path: Path) -> None:
    job = write(tmp_path, stock(TUBE, 6000), FINE, STEEP)
    ways = call("nest", job, "--anyway", "--compare", "--json").json["alternatives"]
    assert {(way["cuts"], way["steel_mm"]) for way in ways} == {(4, 6000)}


def test_what_is_done_of_it_is_not_left_out(call: Call, tmp_path: Path) -> None:
    (tmp_path / "done.csv").write_text("what,name,quantity\npiece,C,1\npiece,A,1\n")
    job = write(tmp_path, stock(TUBE, 6000), FINE, STEEP)
    said = call("nest", job, "--anyway", "--done", str(tmp_path / "done.csv"), "--json")
    assert placed(said) == {"A": 2}
    assert said.json["left_out"] == {"C": 1}
