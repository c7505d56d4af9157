"""A week of an invented shop by commands alone: a list in, its packet, some cut, a revision, the rest off the rack.

What must be there at every step is counted by hand from the list; the rack is asked what it holds.
"""

from __future__ import annotations

import csv
import json
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from mitertool.base.folders import MANIFEST
from mitertool.job import load
from mitertool.job.done import read_work
from mitertool.packet.records.earlier import earlier
from tests.cli.conftest import Said

Call = Callable[..., Said]

LIST_A = """Order 4711;;;;;;
Pos;Profil;Menge;Tip to tip (mm);Angle L;Angle R;Remarks
A1;RHS 80x40x3;4;1.200,5;45;45;galvanised
A2;RHS 80x40x3;3;840,0;90;45;
A3;SHS 50x50x3;2;600,0;90;90;
"""
LIST_B = """Pos;Profil;Menge;Tip to tip (mm);Angle L;Angle R;Remarks
A1;RHS 80x40x3;4;1.150,0;45;45;galvanised
A2;RHS 80x40x3;4;840,0;90;45;
A4;RHS 80x40x3;1;700,0;45;45;
"""
JOB = """
[job]
name = "Week"
revision = "{revision}"
[[list]]
file = "{file}"
angles = "from bar"
[[stock]]
section = "RHS 80x40x3"
length = 6000
[[stock]]
section = "SHS 50x50x3"
length = 6000
[nest]
kerf = 1.3
trim = 5
rack = true
keep = 300
"""
FEWER_THAN = 15


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("MITERTOOL_RACK", str(tmp_path / "rack.sqlite"))
    monkeypatch.chdir(tmp_path)
    for revision, text in (("A", LIST_A), ("B", LIST_B)):
        (tmp_path / f"parts-{revision}.csv").write_text(text, "utf-8")
        (tmp_path / f"job-{revision}.toml").write_text(JOB.format(revision=revision, file=f"parts-{revision}.csv"))
    return tmp_path


def wanted(folder: Path) -> dict[str, int]:
    with (folder / "pieces.csv").open(newline="", encoding="utf-8") as file:
        return {row["mark"]: int(row["quantity"]) for row in csv.DictReader(file)}


def on_bars(folder: Path) -> dict[str, int]:
    counts: dict[str, int] = {}
    for bar in json.loads((folder / "plan.json").read_text("utf-8"))["bars"]:
        for piece in bar["pieces"]:
            counts[piece["mark"]] = counts.get(piece["mark"], 0) + bar["count"]
    return counts


def new_bar(folder: Path) -> int:
    """The number on the sheet of the first bar of RHS that is no left-over."""
    bars = json.loads((folder / "plan.json").read_text("utf-8"))["bars"]
    return 1 + next(
        i for i, bar in enumerate(bars) if (bar["section"], bar["stock_length_mm"]) == ("RHS 80x40x3", 6000)
    )


def whole(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.name != MANIFEST}


def test_the_week(shop: Path, call: Call) -> None:
    steps = 0

    def step(*arguments: str) -> Said:
        nonlocal steps
        steps += 1
        said = call(*arguments)
        assert (said.code, said.err) == (0, ""), (arguments, said.err)
        return said

    def rack() -> dict[int, dict[str, object]]:
        return {one["number"]: one for one in call("rack", "list", "--json").json["left_overs"]}

    step("rack", "add", "RHS 80x40x3", "2600", "--heat", "H77", "--place", "bay 3", "--quantity", "2")
    echo = step("check", "parts-A.csv", "--angles", "from bar")
    assert "1.200,5" in echo.out
    step("packet", "job-A.toml", "--book")
    first = whole(shop / "Week-A")
    assert wanted(shop / "Week-A") == on_bars(shop / "Week-A") == {"A1": 4, "A2": 3, "A3": 2}
    booked_by_a = rack()

    # three ticks and one spoiled, cut from the bar of new steel
    step("done", "job-A.toml", "--good", "A1=2", "--good", "A2=1", "--spoiled", "A1=1@1100")
    step("packet", "job-A.toml", "--done", "done.csv")
    assert wanted(shop / "Week-A-rest") == {"A1": 2, "A2": 2, "A3": 2}

    # revision B: A1 shorter, one A2 more, A4 new, A3 gone; what was booked and not cut is given back
    step("rack", "free", "Week", "--revision", "A", "--cut", str(new_bar(shop / "Week-A")))
    given_back = rack()
    assert given_back[1]["booked"] is None
    assert all(one in booked_by_a for one in given_back)
    told = step("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv", "--recut", "--book")
    for words in ("A1: long point 1200.5 to 1150", "A2: pieces 3 to 4", "A4: NEW", "A3: GONE", "1 A2: KEEP"):
        assert words in told.out
    assert "2 A1: RECUT to A1" in told.out
    assert "1 A1, spoiled: RECUT to A2" in told.out

    # 4 A1 less 2 recut, 4 A2 less one kept and one of the spoiled piece, 1 A4
    rest = shop / "Week-B-rest"
    assert wanted(rest) == on_bars(rest) == {"A1": 2, "A2": 2, "A4": 1}
    assert whole(shop / "Week-A") == first

    step("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv", "--recut", "--book")
    lying = rack()
    used = [bar["stock_length_mm"] for bar in json.loads((rest / "plan.json").read_text("utf-8"))["bars"]]
    taken = sorted(one["whole_mm"] for one in lying.values() if one["booked"])
    assert taken == sorted(length for length in used if length != 6000)
    assert taken == [2600, 2600]
    step("rack", "export", "--out", "rack.csv")
    assert steps < FEWER_THAN


ROWS_A: list[list[str | float]] = [
    ["Pos", "Profil", "Menge", "Länge über alles (mm)", "Winkel L", "Winkel R", "Bemerkung"],
    ["A1", "RHS 80x40x3", 4, 1200.5, 45, 45, "galvanised"],
    ["A2", "RHS 80x40x3", 3, 840, 90, 45, ""],
    ["A3", "SHS 50x50x3", 2, 600, 90, 90, ""],
]
MIDDLE = {"A1": 1150.0 - 40, "A2": 840.0 - 20, "A4": 700.0 - 40}
"""Revision B by hand: the pieces of RHS are 40 wide, so that an end of 45 degrees is 20 short of its tip there."""

SLANTED = {-45.0: 20.0, 45.0: 20.0, 0.0: 0.0}
"""What the middle of a left-over is shorter than its tip, at either end."""


def steel(call: Call) -> float:
    """What lies on the rack, along its middle; all of it is RHS here, which is 40 wide, or square."""
    found = call("rack", "list", "--json").json["left_overs"]
    ends = [SLANTED[round(one[end]["miter_deg"], 6)] for one in found for end in ("left", "right")]
    return float(sum(one["length_mm"] for one in found if not one["expected"]) - sum(ends))


def test_the_week_from_a_workbook_to_the_last_bar_loses_no_steel(shop: Path, call: Call) -> None:
    """Bars told by number, one spoiled, revision B, all of it cut: what the rack and the mill gave is accounted for.

    By hand: the pieces of B, the tubes of A that B wants no more, and what the report calls kerf and scrap.
    """
    write_workbook(shop / "parts-A.xlsx")
    job = shop / "job-A.toml"
    job.write_text(job.read_text().replace("parts-A.csv", "parts-A.xlsx"), "utf-8")
    steps: list[tuple[str, ...]] = [
        ("rack", "add", "RHS 80x40x3", "2600", "--quantity", "2"),
        ("rack", "add", "RHS 80x40x3", "1500", "--left", "45"),
        ("packet", "job-A.toml", "--book"),
        ("done", "job-A.toml", "--cut", "1", "--good", "A3=2"),
    ]
    for step in steps:
        assert call(*step).code == 0, step
    before = 2 * 2600 + 1500 - 20
    first = plan_of(shop / "Week-A")["bars"][0]
    made = Counter(one["mark"] for one in first["pieces"]) if not blanks_on(shop / "Week-A", 1) else Counter[str]()
    closing = ("rack", "free", "Week", "--revision", "A", "--cut", "1")
    rest = ("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv", "--recut", "--book")
    for step in (closing, rest, ("done", "job-B.toml", "--cut", "all", "--of", "Week-B-rest")):
        assert call(*step).code == 0, step
    assert "nothing is left to cut" in call("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv").out
    assert call("rack", "free", "Week", "--revision", "B rest", "--cut", "all").code == 0
    assert len(steps) + 5 < FEWER_THAN
    bought = [bar["count"] for bar in plan_of(shop / "Week-B-rest")["bars"] if bar["stock_length_mm"] == 6000]
    bought_before = first["count"] * (first["stock_length_mm"] == 6000)
    whole, last = call("report", "Week-A", "Week-B-rest", "--json").json["jobs"]
    cut = [bar for bar in whole["bars"] if bar["number"] == 1]
    lost = last["kerf_mm"] + last["scrap_mm"] + sum((bar["kerf_mm"] + bar["scrap_mm"]) * bar["copies"] for bar in cut)
    wanted = {"A1": 4, "A2": 4, "A4": 1}
    pieces = sum(many * MIDDLE[mark] for mark, many in wanted.items())
    assert made.keys() <= {"A1", "A2"}
    assert before + 6000 * (sum(bought) + bought_before) - steel(call) == pytest.approx(pieces + lost, abs=0.5)


def write_workbook(path: Path) -> None:
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Teile")
    for i, row in enumerate(ROWS_A):
        sheet.write_row(i + 2, 0, row)
    book.close()


def test_a_packet_of_another_job_revision_or_part_stays_whole(shop: Path, call: Call) -> None:
    assert call("packet", "job-A.toml", "--out", "out").code == 0
    before = whole(shop / "out")
    (shop / "done.csv").write_text("what,name,quantity\npiece,A1,2\n")
    for arguments in (("job-B.toml",), ("job-A.toml", "--done", "done.csv")):
        said = call("packet", *arguments, "--out", "out")
        assert said.code == 2
        assert "it holds the packet of Week A" in said.err
    assert whole(shop / "out") == before
    assert call("packet", "job-A.toml", "--out", "out").code == 0


def test_what_is_no_earlier_packet_of_this_job(shop: Path, call: Call) -> None:
    (shop / "empty").mkdir()
    other = (shop / "job-A.toml").read_text().replace('"Week"', '"Other"')
    (shop / "other.toml").write_text(other)
    (shop / "done.csv").write_text("what,name,quantity\npiece,A1,2\n")
    assert call("packet", "other.toml").code == 0
    assert call("packet", "job-A.toml", "--done", "done.csv").code == 0
    for folder, tells in (("empty", "no packet"), ("Other-A", "another job"), ("Week-A-rest", "rest of a job")):
        said = call("packet", "job-B.toml", "--after", folder)
        assert (said.code, tells in said.err) == (2, True), said.err


def test_nothing_is_written_where_nothing_is_left(shop: Path, call: Call) -> None:
    assert call("done", "job-A.toml", "--good", "A1=4", "--good", "A2=3", "--good", "A3=2").code == 0
    said = call("packet", "job-A.toml", "--done", "done.csv")
    assert (said.code, "nothing is left to cut" in said.out) == (0, True)
    assert not (shop / "Week-A-rest").exists()


@pytest.mark.parametrize(
    "arguments",
    [(), ("--good", "A1"), ("--good", "A1=5"), ("--good", "X=1"), ("--spoiled", "A1=1@x"), ("--used", "RHS 80x40x3")],
)
def test_what_cannot_have_been_done_is_not_written_down(shop: Path, call: Call, arguments: tuple[str, ...]) -> None:
    assert call("done", "job-A.toml", "--good", "A1=1").code == 0
    before = (shop / "done.csv").read_bytes()
    said = call("done", "job-A.toml", *arguments)
    assert (said.code, said.err.count("\n")) == (2, 1)
    assert (shop / "done.csv").read_bytes() == before
    (shop / "other.toml").write_text((shop / "job-A.toml").read_text().replace('"Week"', '"Other"'))
    assert call("done", "other.toml", "--good", "A1=1").code == 2
    assert (shop / "done.csv").read_bytes() == before


def test_bars_are_told_by_the_numbers_on_the_sheet(shop: Path, call: Call) -> None:
    """Every bar once is every piece once; what stands in plan.json counts, and the last entry can be taken back."""
    job = shop / "job-A.toml"
    job.write_text(job.read_text() + 'way = "bar by bar"\n')
    assert call("packet", "job-A.toml", "--book").code == 0
    bars = json.loads((shop / "Week-A" / "plan.json").read_text("utf-8"))["bars"]
    said = call("done", "job-A.toml", "--cut", "1")
    first: dict[str, int] = {}
    for piece in bars[0]["pieces"]:
        first[piece["mark"]] = first.get(piece["mark"], 0) + bars[0]["count"]
    assert call("done", "job-A.toml", "--cut", "1").code == 2
    assert "mitertool rack free Week --revision A --cut 1" in said.out
    rest = ",".join(str(number) for number in range(2, len(bars) + 1))
    assert call("done", "job-A.toml", "--cut", rest, "--of", "Week-A").code == 0
    assert call("done", "job-A.toml", "--undo", "--json").json["good"] == first
    assert call("done", "job-A.toml", "--cut", rest, "--json").json["good"] == {"A1": 4, "A2": 3, "A3": 2}
    said = call("packet", "job-A.toml", "--done", "done.csv")
    assert "nothing is left to cut" in said.out
    for wrong in (("--cut", "99"), ("--cut", "1", "--of", "parts-A.csv")):
        assert call("done", "job-A.toml", *wrong).code == 2


def test_a_spoiled_piece_is_one_of_those_that_its_bar_was_told_to_give(shop: Path, call: Call) -> None:
    """By number bars count all their pieces as good; counted one by one, good and spoiled ones are told apart."""
    job = shop / "job-A.toml"
    job.write_text(job.read_text() + 'way = "bar by bar"\n')
    assert call("packet", "job-A.toml").code == 0
    assert call("done", "job-A.toml", "--cut", "all", "--spoiled", "A3=1", "--json").json["good"]["A3"] == 1
    assert call("done", "job-A.toml", "--spoiled", "A2=1@700", "--json").json["good"] == {"A1": 4, "A2": 2, "A3": 1}
    assert call("packet", "job-A.toml", "--done", "done.csv").code == 0
    assert on_bars(shop / "Week-A-rest") == {"A2": 1, "A3": 1}
    assert call("done", "job-A.toml", "--undo", "--json").json["good"] == {"A1": 4, "A2": 3, "A3": 1}
    told = call("done", "job-A.toml", "--good", "A1=2", "--spoiled", "A1=1", "--file", "other.csv", "--json")
    assert told.json["good"] == {"A1": 2}


WANTED = {"A1": 4, "A2": 3, "A3": 2}


def blanks_first(shop: Path) -> None:
    """The pieces of RHS as blanks, of which their second ends are cut when all bars are."""
    job = shop / "job-A.toml"
    job.write_text(job.read_text() + 'way = "by setting"\n')


def plan_of(folder: Path) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((folder / "plan.json").read_text("utf-8"))
    return read


def blanks_on(folder: Path, bar: int) -> Counter[str]:
    return Counter(piece["mark"] for piece in plan_of(folder)["bars"][bar - 1]["pieces"] if piece["recut"])


def second_ends(folder: Path) -> dict[str, tuple[str, int]]:
    """What the sheet calls the second ends of each mark, and how many they are."""
    return {one["mark"]: (f"E{i}", one["count"]) for i, one in enumerate(plan_of(folder)["recuts"], 1)}


def test_blanks_are_pieces_when_their_second_ends_are_cut(shop: Path, call: Call) -> None:
    blanks_first(shop)
    assert call("packet", "job-A.toml").code == 0
    gave, named = blanks_on(shop / "Week-A", 1), second_ends(shop / "Week-A")
    said = call("done", "job-A.toml", "--cut", "1.1")
    told = ", ".join(f"{many} {mark}" for mark, many in gave.items())
    ends = ",".join(name for mark, (name, _) in named.items() if mark in gave)
    assert (
        f"bar 1.1 gave blanks of {told}: good pieces when their second ends are cut and told, --cut {ends}" in said.out
    )
    assert "good so far 0" in said.out
    other = next(name for mark, (name, count) in named.items() if gave[mark] < count)
    said = call("done", "job-A.toml", "--cut", other)
    assert (said.code, "tell first which bars are cut" in said.err) == (2, True)
    mark, many = gave.popitem()
    assert call("done", "job-A.toml", "--good", f"{mark}={many - 1}", "--spoiled", f"{mark}=1@700").code == 0
    assert call("done", "job-A.toml", "--good", f"{mark}=1").code == 0  # no blank: cut from something else
    assert call("done", "job-A.toml", "--cut", "all", "--json").json["good"] == WANTED


def test_blanks_that_are_there_get_their_second_end_in_the_rest(shop: Path, call: Call) -> None:
    """What bar 1.1 gave as blanks is on no bar of the rest, and is its first work."""
    blanks_first(shop)
    assert call("packet", "job-A.toml").code == 0
    gave, rest = blanks_on(shop / "Week-A", 1), shop / "Week-A-rest"
    assert call("done", "job-A.toml", "--cut", "1.1").code == 0
    said = call("packet", "job-A.toml", "--done", "done.csv")
    for mark, many in gave.items():
        assert f"{many} {mark}, blank: cut the SECOND END: no bar is cut for it; its left end stays" in said.out
    assert Counter(on_bars(rest)) == Counter(WANTED) - gave
    again = plan_of(rest)["recut_pieces"]
    assert {one["becomes"]: one["count"] for one in again} == gave
    first = again[0]
    told = call("done", "job-A.toml", "--cut", first["number"], "--of", "Week-A-rest", "--json").json["good"]
    assert told == {first["becomes"]: first["count"]}
    assert call("packet", "job-A.toml", "--done", "done.csv").code == 0
    assert Counter(on_bars(rest)) == Counter(WANTED) - gave
    assert call("done", "job-A.toml", "--cut", "all", "--of", "Week-A-rest", "--json").json["good"] == WANTED
    assert "nothing is left to cut" in call("packet", "job-A.toml", "--done", "done.csv").out


def test_a_rest_of_second_ends_alone_has_a_packet(shop: Path, call: Call) -> None:
    blanks_first(shop)
    assert call("packet", "job-A.toml").code == 0
    numbers = ",".join(str(i) for i in range(1, len(plan_of(shop / "Week-A")["bars"]) + 1))
    assert call("done", "job-A.toml", "--cut", numbers).code == 0
    said = call("packet", "job-A.toml", "--done", "done.csv")
    assert (said.code, "nothing is left" in said.out) == (0, False)
    assert plan_of(shop / "Week-A-rest")["bars"] == []
    assert (shop / "Week-A-rest" / "cut-sheet.pdf").exists()
    assert call("done", "job-A.toml", "--cut", "all", "--of", "Week-A-rest", "--json").json["good"] == WANTED


def test_what_is_left_of_a_bar_is_cut_once(shop: Path, call: Call) -> None:
    """Without a rack what a bar left is told in the file, and gone when a bar of the rest was made of it.

    A1 and A2 come of one bar each; the rest, with more of them, draws on what these left. Steel by hand: what every
    rest may draw on is what all before it left and did not use.
    """
    for revision, quantity in (("A", 4), ("B", 5)):
        job = shop / f"job-{revision}.toml"
        job.write_text(job.read_text().replace("rack = true\nkeep = 300\n", 'way = "bar by bar"\n'))
        text = LIST_A.replace("A1;RHS 80x40x3;4", f"A1;RHS 80x40x3;{quantity}")
        (shop / f"parts-{revision}.csv").write_text(text, "utf-8")
    assert call("packet", "job-A.toml").code == 0
    assert call("done", "job-A.toml", "--cut", "all").code == 0
    rest = ("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv")
    assert call(*rest).code == 0
    (bar,) = plan_of(shop / "Week-B-rest")["bars"]
    left = {round(one["left_whole_mm"], 1) for one in plan_of(shop / "Week-A")["bars"]}
    assert any(abs(bar["stock_length_mm"] - one) <= 0.1 for one in left)
    assert call("done", "job-B.toml", "--cut", "1", "--of", "Week-B-rest").code == 0
    job = load(shop / "job-B.toml")
    whole = earlier(shop / "Week-A", job, "--after")
    lengths = [one.length for one in read_work(shop / "done.csv", job, [whole]).left]
    assert not any(abs(one - bar["stock_length_mm"]) <= 1 for one in lengths)
    assert any(abs(one - bar["left_whole_mm"]) <= 0.1 for one in lengths)
    assert len(lengths) == len(left)


def test_what_a_page_wrote_is_added_whole_or_not_at_all(shop: Path, call: Call) -> None:
    """Its bars are told once; rows of another job or of more than is asked change nothing."""
    assert call("done", "job-A.toml", "--good", "A1=1").code == 0
    page = "what,name,length,quantity,grade\njob,{},,1,\nrevision,A,,1,\npiece,A1,,{},\nbar cut,1.1 x,,1,\n"
    (shop / "page.csv").write_text(page.format("Week", 2))
    assert call("done", "job-A.toml", "--add", "page.csv", "--json").json["good"] == {"A1": 3}
    before = (shop / "done.csv").read_bytes()
    for job, many in (("Week", 2), ("Other", 1), ("Week", 1)):
        (shop / "page.csv").write_text(page.format(job, many))
        assert call("done", "job-A.toml", "--add", "page.csv").code == 2
        assert (shop / "done.csv").read_bytes() == before
    assert call("done", "job-A.toml", "--undo", "--json").json["good"] == {"A1": 1}


def test_entries_are_taken_back_one_by_one(shop: Path, call: Call) -> None:
    """Rows that were typed are an entry each; what was written at once goes at once."""
    (shop / "done.csv").write_text("what,name,quantity\npiece,A1,1\npiece,A1,1\n")
    assert call("done", "job-A.toml", "--good", "A2=1", "--spoiled", "A1=1@900").code == 0
    for good in ({"A1": 2}, {"A1": 1}, {}):
        assert call("done", "job-A.toml", "--undo", "--json").json["good"] == good
    said = call("done", "job-A.toml", "--undo")
    assert (said.code, "nothing stands in it" in said.err) == (2, True)


def test_a_second_rest_of_a_revision_counts_on_in_the_same_file(shop: Path, call: Call) -> None:
    """Of A three pieces are cut, then of B's rest its first bar, then all of it: each rest is what is left by hand."""
    assert call("packet", "job-A.toml").code == 0
    assert call("done", "job-A.toml", "--good", "A2=3").code == 0
    rest = ("packet", "job-B.toml", "--after", "Week-A", "--done", "done.csv")
    assert call(*rest).code == 0
    assert wanted(shop / "Week-B-rest") == {"A1": 4, "A2": 1, "A4": 1}
    assert call("done", "job-B.toml", "--good", "A1=1").code == 0
    assert call(*rest).code == 0
    assert wanted(shop / "Week-B-rest") == {"A1": 3, "A2": 1, "A4": 1}
    assert call("done", "job-B.toml", "--cut", "all", "--of", "Week-B-rest").code == 0
    assert "nothing is left to cut" in call(*rest).out
    said = call("packet", "job-B.toml", "--done", "done.csv")
    assert (said.code, "--after" in said.err, "revision" in said.err) == (2, True, True)
    said = call("done", "job-B.toml", "--good", "A1=1", "--of", "Week-A-rest")
    assert (said.code, "--of: found" in said.err) == (2, True)


def test_a_third_revision_comes_after_both(shop: Path, call: Call) -> None:
    """A2 of A and of B are one piece; C wants four of them, two are cut of either revision."""
    text = (shop / "job-B.toml").read_text().replace('revision = "B"', 'revision = "C"')
    (shop / "job-C.toml").write_text(text)
    for revision in "AB":
        assert call("packet", f"job-{revision}.toml").code == 0
        assert call("done", f"job-{revision}.toml", "--good", "A2=2").code == 0
    said = call("packet", "job-C.toml", "--after", "Week-A", "--after", "Week-B", "--done", "done.csv")
    assert said.out.count("2 A2: KEEP") == 2
    assert wanted(shop / "Week-C-rest") == {"A1": 4, "A4": 1}
