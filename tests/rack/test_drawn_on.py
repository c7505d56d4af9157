"""A job that draws on the rack: what it may have, what it takes and leaves, booked with its packet.

Expected lengths are hand arithmetic. A left-over of RHS 80x40x3 with an end of 45 degrees is 40 mm shorter where it is
whole. Two trapezoids of 1200 to the long point, 45 at both ends, 40 wide, lie turned against each other and share a
kerf: their centerlines are 1160 each, a kerf of 1.3 at 45 degrees takes 1.3 sqrt 2 of the bar, and the first cut
reaches 20 past its place to the raw end.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.drawing import Text
from mitertool.job import Solution, load, solve
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.packet import packet
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages import said
from mitertool.packet.pages.labels import cut_pieces
from mitertool.packet.pages.sheet.rack_block import rack_blocks
from mitertool.rack import RackBook
from mitertool.rack.values import RackBar, rack_bar
from mitertool.sections import section
from tests.cli.conftest import Said, call

__all__ = ["call"]

Call = Callable[..., Said]
TUBE = "RHS 80x40x3"
KERF, TRIM = 1.3, 5.0
JOB = """
[job]
name = "Week"
revision = "{revision}"
[[stock]]
section = "{tube}"
length = 3000
heat = "H1"
{graded}
[[piece]]
mark = "A1"
section = "{tube}"
{graded}
length = 1200
left = 45
right = 45
quantity = {quantity}
[nest]
kerf = 1.3
trim = 5
way = "bar by bar"
rack = "rack.sqlite"
{more}
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A folder with an empty rack."""
    with RackBook.opened(tmp_path / "rack.sqlite"):
        return tmp_path


def lie(shop: Path, *bars: RackBar) -> None:
    with RackBook.opened(shop / "rack.sqlite") as book, book.changing():
        book.add(bars)


def bar(length: float, left: float = 0, **more: Any) -> RackBar:
    return rack_bar(section(TUBE), length, Cut(left), Cut(), **more)


def job(shop: Path, quantity: int = 2, revision: str = "A", grade: str = "", more: str = "keep = 300") -> Path:
    path = shop / "job.toml"
    graded = f'grade = "{grade}"' if grade else ""
    path.write_text(JOB.format(quantity=quantity, revision=revision, tube=TUBE, graded=graded, more=more))
    return path


def solved(path: Path) -> Solution:
    return solve(load(path), effort=0.2)


def lying(shop: Path) -> list[RackBar]:
    with RackBook.opened(shop / "rack.sqlite") as book:
        return list(book.lying())


def test_a_job_draws_on_what_fits_before_new_steel(shop: Path) -> None:
    lie(shop, bar(1000), bar(2600, 45, heat="H77", place="bay 3"))
    solution = solved(job(shop))
    (one,) = solution.plan.bars if solution.plan else ()
    assert one.stock_length == pytest.approx(2560)
    (booked,) = solution.on_rack
    assert (booked.takes, booked.leaves) == (2, None)
    assert solution.heats(1) == ("H77",)
    (fetch,) = floor_of(solution).fetch
    assert (fetch.length, fetch.heats, said.fetch_told(fetch, "mm")[0]) == (
        2600,
        ("H77",),
        "off the rack: number 2, bay 3; tip to tip, 2560 mm whole",
    )


@pytest.mark.parametrize(("new", "told"), [('heat = "H1"', ("H1",)), ("", ())])
def test_new_steel_does_not_get_the_heat_of_a_left_over_as_long(shop: Path, new: str, told: tuple[str, ...]) -> None:
    """Two bars of 3000, one from the rack, fetched apart; where the heat of the other is not told it is left blank."""
    lie(shop, bar(3000, heat="H77"))
    path = job(shop, quantity=4)
    path.write_text(path.read_text().replace('heat = "H1"', new))
    solution = solved(path)
    assert [one.takes for one in solution.on_rack] == [1, 0]
    fetched = floor_of(solution).fetch
    assert [(fetch.count, fetch.heats) for fetch in fetched] == [(1, ("H77",)), (1, told)]
    assert [said.fetch_told(fetch, "mm")[0] for fetch in fetched] == ["off the rack: number 1", "new steel"]
    assert [one.heat for one in cut_pieces(solution)] == ["H77", "H77", *(told * 2 or ("", ""))]
    assert [one.leaves and one.leaves.heat for one in solution.on_rack] == ["H77", *(told or ("",))]


def test_what_is_left_is_measured_tip_to_tip(shop: Path) -> None:
    """From 3000: the first face is the trim, its kerf in it, and 20 behind the end; two kerfs lie past the pieces."""
    solution = solved(job(shop, more="keep = 300"))
    (booked,) = solution.on_rack
    along = KERF * sqrt(2)
    drop = 3000 - (TRIM + 20) - 2 * 1160 - 2 * along
    assert booked.leaves is not None
    assert booked.leaves.length == pytest.approx(drop + 20, abs=1e-6)
    assert booked.leaves.square == pytest.approx(drop - 20, abs=1e-6)
    assert abs(booked.leaves.left.miter) == pytest.approx(45)
    assert booked.leaves.heat == "H1"
    (nothing,) = solved(job(shop, more="keep = 700")).on_rack
    assert nothing.leaves is None


def test_grades_never_mix(shop: Path) -> None:
    lie(shop, bar(2600, grade="S235"), bar(2700, grade="s 355"))
    solution = solved(job(shop, grade="S355"))
    assert [one.takes for one in solution.on_rack] == [2]
    assert [one.takes for one in solved(job(shop)).on_rack] == [0]


def test_booked_with_its_packet_and_only_once(shop: Path, call: Call) -> None:
    lie(shop, bar(2600, 45), bar(2600, 45))
    path, out = str(job(shop, quantity=3)), str(shop / "out")
    for _ in range(2):
        assert call("packet", path, "--out", out, "--book").code == 0
        taken = [one.number for one in lying(shop) if one.taken]
        left = [one.came.called for one in lying(shop) if one.came]
        assert (taken, left) == ([1, 2], ["Week A"])


def test_what_one_job_booked_another_does_not_get(shop: Path, call: Call) -> None:
    lie(shop, bar(2600))
    assert call("packet", str(job(shop)), "--out", str(shop / "A"), "--book").code == 0
    other = solved(job(shop, revision="B"))
    assert [one.takes for one in other.on_rack] == [0]


def test_a_changed_plan_is_not_booked_over(shop: Path, call: Call) -> None:
    lie(shop, bar(2600))
    assert call("packet", str(job(shop)), "--out", str(shop / "one"), "--book").code == 0
    said = call("packet", str(job(shop, quantity=4)), "--out", str(shop / "two"), "--book")
    assert said.code == 2
    assert "it has booked another plan" in said.err
    assert not (shop / "two").exists()


def test_a_packet_that_is_not_written_books_nothing(shop: Path, call: Call) -> None:
    lie(shop, bar(2600))
    (shop / "out").mkdir()
    (shop / "out" / "mine.txt").write_text("mine")
    assert call("packet", str(job(shop)), "--out", str(shop / "out"), "--book").code == 2
    assert [one.taken for one in lying(shop)] == [None]


@pytest.mark.parametrize(("more", "tells"), [("", "keep"), ("keep = -1", "keep"), ("keep = 300\nkeeps = 1", "keeps")])
def test_what_goes_back_must_be_said(shop: Path, more: str, tells: str, call: Call) -> None:
    said = call("packet", str(job(shop, more=more)), "--out", str(shop / "out"), "--book")
    assert (said.code, tells in said.err) == (2, True)


def test_a_rack_that_is_not_there(shop: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    path = job(shop)
    path.write_text(path.read_text().replace("rack.sqlite", "rock.sqlite"))
    with pytest.raises(BadInput, match="no rack yet"):
        load(path)
    monkeypatch.setenv("MITERTOOL_RACK", str(shop / "none.sqlite"))
    path.write_text(path.read_text().replace('"rock.sqlite"', "true"))
    assert load(path).stock[0].length == 3000
    assert not (shop / "none.sqlite").exists()


def test_the_sheet_says_which_left_over_and_where(shop: Path) -> None:
    lie(shop, bar(2600, 45, heat="H77", place="bay 3"))
    drawn = [one for block in rack_blocks(solved(job(shop)), 180) for one in block.drawing.entities]
    texts = [one.says for one in drawn if isinstance(one, Text)]
    assert {"1", "2600", "H77", "bay 3"} <= set(texts)
    assert any("short point" in text for text in texts)
    assert rack_blocks(solved(job(shop, grade="S355")), 180) == []


def test_the_rest_draws_on_nothing_that_the_whole_has_booked(shop: Path, call: Call) -> None:
    """The whole took 2600 and would leave 640 or so of 3000; both may be cut up, or never come to be."""
    lie(shop, bar(2600))
    path = job(shop, quantity=4)
    assert call("packet", str(path), "--out", str(shop / "A"), "--book").code == 0
    assert [one.taken.called for one in lying(shop) if one.taken] == ["Week A"]
    lie(shop, bar(2700))
    (shop / "done.csv").write_text("what,name,quantity\npiece,A1,2\n")
    rest = load(path)
    rest = rest_of(rest, read_work(shop / "done.csv", rest))
    assert [one.length for one in (rest.rack.bars if rest.rack else ())] == [2700]
    arguments = ("packet", str(path), "--done", str(shop / "done.csv"), "--out", str(shop / "rest"), "--book")
    for _ in range(2):
        said = call(*arguments)
        assert (said.code, "Week A is still booked, with left-overs 1" in said.out) == (0, True)
        assert sorted(one.taken.called for one in lying(shop) if one.taken) == ["Week A", "Week A rest"]
    assert call("rack", "free", "Week", "--revision", "A", "--rack", str(shop / "rack.sqlite")).code == 0
    free = [(one.length, one.came.called if one.came else "") for one in lying(shop) if not one.taken]
    assert [whose for _, whose in free] == ["", "Week A rest"]
    assert free[0][0] == 2600


def test_what_was_told_as_cut_by_mistake_is_taken_back(shop: Path, call: Call) -> None:
    """As the answer says; then the packet may be written over as before."""
    lie(shop, bar(2600))
    path, out, rack = str(job(shop)), str(shop / "out"), ("--rack", str(shop / "rack.sqlite"))
    assert call("packet", path, "--out", out, "--book").code == 0
    before = lying(shop)
    said = call("rack", "free", "Week", "--revision", "A", "--cut", "1", *rack)
    undo = f"mitertool rack free Week --revision A --undo --rack {shop / 'rack.sqlite'}"
    assert f"told by mistake? {undo} takes it back" in said.out
    assert call("rack", "free", "Week", "--revision", "A", "--undo", "--cut", "1", *rack).code == 2
    said = call(*undo.split()[1:])
    assert said.out.startswith("Week A is booked as it was before it was closed: left-overs 1")
    assert lying(shop) == before
    assert call("packet", path, "--out", out, "--book").code == 0


@pytest.mark.parametrize("book", [("--book",), ()])
def test_what_is_cut_is_not_booked_or_written_over(shop: Path, call: Call, book: tuple[str, ...]) -> None:
    """The plan that was cut stays on paper; the next plan of the same job would draw on other bars."""
    lie(shop, bar(2600))
    path, out = str(job(shop)), str(shop / "out")
    assert call("packet", path, "--out", out, "--book").code == 0
    plan = (shop / "out" / "plan.json").read_bytes()
    assert call("rack", "free", "Week", "--revision", "A", "--cut", "1", "--rack", str(shop / "rack.sqlite")).code == 0
    before = lying(shop)
    said = call("packet", path, "--out", out, *book)
    assert (said.code, "its bars 1 are told as cut" in said.err, "--done" in said.err) == (2, True, True)
    assert ((shop / "out" / "plan.json").read_bytes(), lying(shop)) == (plan, before)


def test_a_booking_says_what_it_takes_and_leaves_and_what_closes_it(shop: Path, call: Call) -> None:
    """Of 3000 the plan leaves 671.3 tip to tip, as above."""
    lie(shop, bar(2600, heat="H77", place="bay 3"))
    said = call("packet", str(job(shop, quantity=4)), "--out", str(shop / "A"), "--book").out.splitlines()
    close = f"mitertool rack free Week --revision A --cut all --rack {shop / 'rack.sqlite'}"
    for line in (
        "booked for Week A",
        "bar 1 is number 1 off the rack: RHS 80x40x3 2600, bay 3, heat H77",
        "new steel: 1 of RHS 80x40x3 3000",
        "bar 2 will leave number 2 for the rack: RHS 80x40x3 671.3",
        f"when it is cut, all of it or some bars, name them in place of all: {close}",
    ):
        assert line in said, line
    again = call("packet", str(job(shop, quantity=4)), "--out", str(shop / "A"), "--book").out
    assert "it was booked so for Week A already" in again
    listed = call("rack", "list", "--rack", str(shop / "rack.sqlite")).out
    for part in ("expected from Week A", "1 left-over lies there, 2600 together", "1 more, 671.3", close):
        assert part in listed, part


def test_what_a_job_will_leave_another_does_not_get(shop: Path, call: Call) -> None:
    assert call("packet", str(job(shop)), "--out", str(shop / "A"), "--book").code == 0
    (expected,) = lying(shop)
    other = load(job(shop, revision="B"))
    assert (expected.expected, other.rack and other.rack.bars) == (True, ())
    rack = ("--rack", str(shop / "rack.sqlite"))
    said = call("rack", "book", "1", "--job", "Fence", *rack)
    assert "number 1 is not there yet: it is expected from Week A" in said.out


@pytest.mark.parametrize("length", ["631.6", "671", "630.9 mm"])
def test_what_lies_on_the_rack_is_not_counted_as_left_too(shop: Path, call: Call, length: str) -> None:
    """Of 3000 the booking put 631.3 whole, 671.3 tip to tip, on the rack; the page of the sheet tells of it too."""
    path = job(shop)
    assert call("packet", str(path), "--out", str(shop / "A"), "--book").code == 0
    rows = f"what,name,length,quantity\npiece,A1,,1\nlength left,{TUBE},{length},1\nlength left,{TUBE},500,2\n"
    (shop / "done.csv").write_text(rows)
    whole = load(path)
    rest = rest_of(whole, read_work(shop / "done.csv", whole))
    assert [(bar.length, bar.quantity) for bar in rest.stock] == [(3000, None), (500, 1), (500, 1)]


def rest_stock(shop: Path, quantity: int) -> list[tuple[float, int | None]]:
    whole = load(job(shop, quantity=quantity))
    rest = rest_of(whole, read_work(shop / "done.csv", whole))
    return [(round(one.length, 1), one.quantity) for one in rest.stock]


def cut_and_closed(shop: Path, call: Call) -> None:
    """The one bar of the whole is cut, in the done file and on the rack."""
    path, rack = str(job(shop)), ("--rack", str(shop / "rack.sqlite"))
    assert call("packet", path, "--out", str(shop / "A"), "--book").code == 0
    told = ("--of", str(shop / "A"), "--file", str(shop / "done.csv"))
    assert call("done", path, "--cut", "all", *told).code == 0
    assert call("rack", "free", "Week", "--revision", "A", "--cut", "all", *rack).code == 0


def test_a_left_over_that_was_cut_is_not_taken_for_another_as_long(shop: Path, call: Call) -> None:
    """Of two of 2600 one is cut: the other lies there for the rest, and 400 less than 631.3 is left of the one."""
    lie(shop, bar(2600), bar(2600))
    cut_and_closed(shop, call)
    assert rest_stock(shop, 4) == [(3000, None), (231.3, 1), (2600, 1)]


def test_a_left_over_as_long_as_a_bar_of_limited_stock_is_counted_once(shop: Path, call: Call) -> None:
    """Two of 2600 are bought and one lies on the rack, which is cut: both are there for the rest, and what is left."""
    lie(shop, bar(2600))
    text = job(shop).read_text().replace("length = 3000", "length = 2600\nquantity = 2")
    (shop / "job.toml").write_text(text)
    path, rack = str(shop / "job.toml"), ("--rack", str(shop / "rack.sqlite"))
    assert call("packet", path, "--out", str(shop / "A"), "--book").code == 0
    plan = json.loads((shop / "A" / "plan.json").read_text())
    page = (shop / "A" / "cut-sheet.html").read_text()
    assert (plan["off_rack"], page.count('data-off-rack="1"')) == (["1.1"], 1)
    told = ("--of", str(shop / "A"), "--file", str(shop / "done.csv"))
    assert call("done", path, "--cut", "all", *told).code == 0
    assert "bar used" not in (shop / "done.csv").read_text()
    assert call("rack", "free", "Week", "--revision", "A", "--cut", "all", *rack).code == 0
    (shop / "job.toml").write_text(text.replace("quantity = 2\n[nest]", "quantity = 4\n[nest]"))
    whole = load(shop / "job.toml")
    rest = rest_of(whole, read_work(shop / "done.csv", whole))
    assert [(round(one.length, 1), one.quantity) for one in rest.stock] == [(2600, 2), (231.3, 1)]


@pytest.mark.parametrize(
    ("whose", "there"),
    [((), [(631.3, 1)]), (("--job", "Week", "--revision", "A rest"), [(631.3, 1)]), (("--job", "Fence"), [])],
)
def test_what_a_bar_left_on_the_rack_is_there_once_whoever_has_it(
    shop: Path, call: Call, whose: tuple[str, ...], there: list[tuple[float, int | None]]
) -> None:
    """Of 3000 are left 631.3 whole: on the rack, in the done file; booked by the rest itself, or gone to a fence."""
    cut_and_closed(shop, call)
    if whose:
        assert call("rack", "book", "1", *whose, "--rack", str(shop / "rack.sqlite")).code == 0
    assert rest_stock(shop, 4) == [(3000, None), *there]


def test_a_left_over_that_is_gone_needs_no_row_of_stock(shop: Path, call: Call) -> None:
    lie(shop, bar(2600))
    path = job(shop)
    assert call("packet", str(path), "--out", str(shop / "A"), "--book").code == 0
    assert call("rack", "free", "Week", "--revision", "A", "--cut", "1", "--rack", str(shop / "rack.sqlite")).code == 0
    (shop / "done.csv").write_text(f"what,name,length,quantity\npiece,A1,,1\nbar used,{TUBE},2600,1\n")
    whole = load(path)
    rest = rest_of(whole, read_work(shop / "done.csv", whole))
    assert [bar.length for bar in rest.stock] == [3000]
    assert call("nest", str(path), "--done", str(shop / "done.csv")).code == 0


BOOKS = """
import sys
from mitertool.cli.main import run
sys.exit(run(sys.argv[1:]))
"""


def test_two_jobs_at_once_do_not_get_one_left_over(shop: Path) -> None:
    """Both planned with it before either booked: one books, the other is told."""
    lie(shop, bar(2600))
    names = ("A", "B")
    for name in names:
        (shop / name).mkdir()
        path = job(shop, revision=name)
        (shop / name / "job.toml").write_text(path.read_text().replace("rack.sqlite", "../rack.sqlite"))
    root = Path(__file__).resolve().parents[2]
    command = [sys.executable, "-c", BOOKS, "packet", "--book"]
    runs = [
        subprocess.Popen(
            [*command, str(shop / name / "job.toml"), "--out", str(shop / f"out-{name}")],
            cwd=root,
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
        )
        for name in names
    ]
    said = [one.communicate()[1] for one in runs]
    only = lying(shop)[0]
    assert only.taken is not None
    for name, one, words in zip(names, runs, said, strict=True):
        own = json.loads((shop / f"out-{name}" / "plan.json").read_text()) if one.returncode == 0 else None
        took = own is not None and own["bars"][0]["stock_length_mm"] == 2600
        assert took == (only.taken.revision == name)
        assert one.returncode == 0 or "has booked it" in words


@pytest.mark.parametrize(("keep", "goes"), [(631, "rack"), (632, "scrap")])
def test_what_is_left_is_told_tip_to_tip_and_goes_back_by_what_is_whole(shop: Path, keep: float, goes: str) -> None:
    """671.3 from tip to tip, as above, with 45 degrees across 40 mm: 631.3 of it are whole."""
    floor = floor_of(solved(job(shop, more=f"keep = {keep}")))
    assert [(round(rest.length, 1), said.goes_to(rest)) for rest in floor.left_overs] == [(671.3, goes)]


def test_the_number_of_what_is_left_is_known_before_it_is_cut(shop: Path, call: Call) -> None:
    """On the sheet, on the page and on the rack the same, however often it is booked; another job gets the next one."""
    lie(shop, bar(2600))
    path = job(shop, quantity=4)
    pages = []
    for _ in range(2):
        assert "number 2 for the rack" in call("packet", str(path), "--out", str(shop / "A"), "--book").out
        pages.append((shop / "A" / "cut-sheet.html").read_bytes())
    assert pages[0] == pages[1]
    assert b"rack 2" in pages[0]
    assert [one.number for one in lying(shop) if one.came] == [2]
    with RackBook.opened(shop / "rack.sqlite") as book, book.changing():
        assert book.add([bar(900)]) == (3,)


def test_numbers_that_another_run_gave_away_meanwhile_are_not_on_the_packet(
    shop: Path, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody puts a bar on the rack while the first packet is made: it is made anew with the next number, 3."""
    lie(shop, bar(2600))
    path, made = job(shop, quantity=4), packet.packet_files

    def between(*arguments: object) -> dict[str, bytes]:
        files = made(*arguments)  # type: ignore[arg-type]
        if len(lying(shop)) == 1:
            lie(shop, bar(900))
        return files

    monkeypatch.setattr(packet, "packet_files", between)
    assert "number 3 for the rack" in call("packet", str(path), "--out", str(shop / "A"), "--book").out
    assert b"rack 3" in (shop / "A" / "cut-sheet.html").read_bytes()
    assert [one.number for one in lying(shop) if one.came] == [3]


def test_a_packet_that_is_not_written_takes_no_numbers(shop: Path, call: Call) -> None:
    lie(shop, bar(2600))
    path = job(shop, quantity=4)
    (shop / "A").mkdir()
    (shop / "A" / "mine.txt").write_text("mine")
    assert call("packet", str(path), "--out", str(shop / "A"), "--book").code == 2
    with RackBook.opened(shop / "rack.sqlite") as book, book.changing():
        assert book.add([bar(900)]) == (2,)
