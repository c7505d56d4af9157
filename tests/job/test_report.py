"""What a job comes to: lengths and money by hand arithmetic, and the line of several packets together.

A bar of 6000, a kerf of 2, a trim of 10 with its kerf in it, two square pieces of 1000: 4 for the kerfs behind them,
and 6000 - 10 - 2000 - 4 = 3986 left over.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs
import pytest

from mitertool.job import Solution, load, solve
from mitertool.job.done import read_work
from mitertool.job.report import Report, report_of
from mitertool.job.rest import rest_of
from mitertool.rack import RackBar, RackBook
from tests.cli.conftest import Said, call

__all__ = ["call"]

Call = Callable[..., Said]
JOB = """
[job]
name = "{name}"
{saw}
[[stock]]
section = "RHS 80x40x3"
length = 6000
{price}
[[piece]]
mark = "A"
section = "RHS 80x40x3"
length = 1000
quantity = 2
[nest]
kerf = 2
trim = 10
rack = "rack.sqlite"
keep = {keep}
"""
SAW = """
[saw]
name = "a saw"
units = "mm"
kind = "column"
kerf = 2
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[arm]
cant = 0
below_bed = 10
lift_highest = 300
[bed]
swing_axis = 100
width = 400
height = 300
[vise]
fixed_jaw = "left"
[blade]
area_rate = 1321.6
[cost]
swing_minutes = 2
roll_minutes = 3
load_minutes = 5
recut_minutes = 1
rate = 60
currency = "EUR"
"""
"""The tube has 660.8 mm2 to the standard; three cuts of it at 1321.6 mm2/min take a minute and a half."""


def job(folder: Path, name: str = "Gate", price: str = "", keep: float = 300, saw: bool = False) -> Path:
    with RackBook.opened(folder / "rack.sqlite"):
        path = folder / f"{name}.toml"
    (folder / "saw.toml").write_text(SAW)
    path.write_text(JOB.format(name=name, price=price, keep=keep, saw='saw = "saw.toml"' if saw else ""))
    return path


def solved(path: Path) -> Solution:
    return solve(load(path), effort=0.1)


def test_steel_goes_into_pieces_kerf_what_is_kept_and_scrap(tmp_path: Path) -> None:
    found = report_of(solved(job(tmp_path)))
    assert (found.bought, found.from_rack, found.pieces, found.kerf) == pytest.approx((6000, 0, 2000, 4))
    assert (found.kept, found.scrap, found.spoiled) == pytest.approx((3986, 10, 0))
    assert (found.steel_cost, found.cuts_cost, found.price) == (None, None, None)


def test_what_is_too_short_to_keep_is_scrap(tmp_path: Path) -> None:
    found = report_of(solved(job(tmp_path, keep=3990)))
    assert (found.kept, found.scrap) == pytest.approx((0, 3996))


def test_left_overs_are_not_bought(tmp_path: Path) -> None:
    path = job(tmp_path)
    with RackBook.opened(tmp_path / "rack.sqlite") as book, book.changing():
        book.add([RackBar("RHS 80x40x3", 2500, 2500)])
    found = report_of(solved(path))
    assert (found.bought, found.from_rack, found.kept) == pytest.approx((0, 2500, 2500 - 10 - 2004))


def closes(found: Report) -> bool:
    """Whether what came in went out."""
    came = found.bought + found.from_rack + found.cut_before
    return came == pytest.approx(found.pieces + found.kerf + found.kept + found.scrap + found.spoiled)


def test_spoiled_pieces_are_counted_by_what_was_drawn(tmp_path: Path) -> None:
    whole = load(job(tmp_path))
    (tmp_path / "done.csv").write_text("what,name,quantity\npiece,A,1\nspoiled,A,1\n")
    rest = rest_of(whole, read_work(tmp_path / "done.csv", whole))
    found = report_of(solve(rest, effort=0.1))
    assert (found.pieces, found.spoiled, found.cut_before) == pytest.approx((1000, 1000, 1000))
    assert closes(found)


def recut_rest(folder: Path, keep: float = 300) -> Solution:
    """A piece of A too many, 1000, went wrong and is 900 long yet; B wants one of 500, C one of 350."""
    path = job(folder, keep=keep)
    more = '[[piece]]\nmark = "{}"\nsection = "RHS 80x40x3"\nlength = {}\n'
    path.write_text(path.read_text() + more.format("B", 500) + more.format("C", 350))
    (folder / "done.csv").write_text("what,name,length,quantity\npiece,A,,2\nspoiled,A,900,1\n")
    whole = load(path)
    return solve(rest_of(whole, read_work(folder / "done.csv", whole), recut=True), effort=0.1)


def test_of_a_spoiled_piece_only_what_becomes_nothing_is_spoiled(tmp_path: Path) -> None:
    """Drawn 1000, of which 100 are gone. 900 is 500, a kerf of 2, and 398; C takes 350 of that, 10 and a kerf of 2."""
    solution = recut_rest(tmp_path)
    found = report_of(solution)
    assert (found.cut_before, found.spoiled, found.from_rack, found.bought) == pytest.approx((1000, 100, 0, 0))
    assert (found.pieces, found.kerf, found.kept, found.scrap) == pytest.approx((850, 4, 0, 46))
    assert [one.recut for one in solution.sources if not one.new] == ["R1"]


def test_an_off_cut_that_no_bar_takes_goes_to_the_rack_or_is_scrap(tmp_path: Path) -> None:
    """Without C the 398 lie on the rack where 300 are kept, and are scrap where 400 are."""
    for keep, kept in ((300, [398.0]), (400, [])):
        solution = recut_rest(tmp_path, keep)
        text = solution.job.path.read_text()
        solution.job.path.write_text(text[: text.index('[[piece]]\nmark = "C"')])
        whole = load(solution.job.path)
        rest = solve(rest_of(whole, read_work(tmp_path / "done.csv", whole), recut=True), effort=0.1)
        assert [one.leaves.square for one in rest.on_rack if one.number < 0 and one.leaves] == pytest.approx(kept)
        found = report_of(rest)
        assert (found.kept, found.bought) == pytest.approx((sum(kept), 0))
        assert closes(found)


def test_a_job_and_its_rest_count_once(tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """A piece alone leaves the plan as it was. The bar of Gate told by its number counts whole, 3986 of it kept.

    A third piece comes of these: 10, 1000, a kerf of 2, and 2974 that are kept in the end.
    """
    monkeypatch.chdir(tmp_path)
    path = str(job(tmp_path))
    assert call("packet", path).code == 0
    assert call("done", path, "--good", "A=1").code == 0
    assert call("packet", path, "--done", "done.csv").code == 0
    said = call("report", "Gate", "Gate-rest").out.splitlines()
    assert said[3].split()[:7] == ["together", "6000", "0", "2000", "4", "3986", "10"]
    assert said[4].startswith("Gate, the rest is not added")
    assert call("done", path, "--undo").code == 0
    assert call("done", path, "--cut", "1", "--spoiled", "A=1").code == 0
    assert call("done", path, "--undo").code == 0
    text = Path(path).read_text().replace("quantity = 2", "quantity = 3")
    Path(path).write_text(text)
    assert call("done", path, "--cut", "1", "--of", "Gate").code == 0
    assert call("packet", path, "--done", "done.csv").code == 0
    said = call("report", "Gate", "Gate-rest").out.splitlines()
    assert said[2].split()[3:6] == ["0", "0", "3986"]
    assert said[3].split()[:8] == ["together", "6000", "0", "0", "3000", "6", "2974", "20"]
    assert "by the bars that were cut of it: 1" in said[4]


def test_a_recut_and_a_bought_bar_count_once_in_the_sum(
    tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two bars were bought for five pieces of 2000; one is cut, of which one piece is spoiled, 1950 yet, and two good.

    That becomes the new mark B of 1500, the other bar lies on the rack and gives the other pieces: bought stays 12000.
    """
    monkeypatch.chdir(tmp_path)
    path = job(tmp_path, price="cost = 50", saw=True)
    path.write_text(path.read_text().replace("length = 1000\nquantity = 2", "length = 1990\nquantity = 5"))
    assert call("packet", str(path), "--book").code == 0
    (full, other) = sorted(
        range(1, 3), key=lambda n: -len(json.loads(Path("Gate/plan.json").read_text())["bars"][n - 1]["pieces"])
    )
    assert call("done", str(path), "--cut", str(full), "--spoiled", "A=1@1950", "--of", "Gate").code == 0
    assert call("rack", "free", "Gate", "--cut", str(full), "--bought", str(other), "--rack", "rack.sqlite").code == 0
    path.write_text(path.read_text() + '[[piece]]\nmark = "B"\nsection = "RHS 80x40x3"\nlength = 1500\n')
    assert call("packet", str(path), "--done", "done.csv", "--recut").code == 0
    said = call("report", "Gate", "Gate-rest").out.splitlines()
    head, rest, total = (said[i].split() for i in (0, 2, 3))
    assert head[:6] == ["job", "bought", "from", "rack", "cut", "before"]
    assert rest[:6] == ["Gate,", "the", "rest", "6000", "0", "1990"]
    bought, rack, before, pieces, kerf, kept, scrap, spoiled = map(float, total[1:9])
    assert (bought, rack, before, pieces, spoiled) == (12000, 0, 0, 5 * 1990 + 1500, 40)
    assert bought == pytest.approx(pieces + kerf + kept + scrap + spoiled, abs=0.2)
    assert total[9] == "100.00"


def test_a_job_and_its_rest_have_a_price_together(tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bar 1 costs 50, 1.5 for three cuts and 5 for a load; the third piece of what is left of it 1 and 5 more."""
    monkeypatch.chdir(tmp_path)
    path = job(tmp_path, price="cost = 50", saw=True)
    assert call("packet", str(path)).code == 0
    path.write_text(path.read_text().replace("quantity = 2", "quantity = 3"))
    assert call("done", str(path), "--cut", "1", "--of", "Gate").code == 0
    assert call("packet", str(path), "--done", "done.csv").code == 0
    said = call("report", "Gate", "Gate-rest").out.splitlines()
    assert said[3].split()[9:] == ["50.00", "2.50", "10.00", "62.50", "EUR"]


def test_steel_cuts_and_set_ups_make_the_price(tmp_path: Path) -> None:
    """A bar for 50; three cuts take 1.5 minutes of 60 an hour; one bar is loaded in 5 minutes, nothing is swung."""
    found = report_of(solved(job(tmp_path, price="cost = 50", saw=True)))
    assert found.steel_cost == pytest.approx(50)
    assert found.cuts_cost == pytest.approx(1.5, rel=1e-3)
    assert found.set_up_cost == pytest.approx(5)
    assert found.price == pytest.approx(56.5, rel=1e-3)
    assert found.currency == "EUR"


@pytest.mark.parametrize("way", ["bar by bar", "by setting"])
def test_what_is_set_up_is_parted_to_the_bars_that_it_is_set_up_for(way: str) -> None:
    """A stair of three bars with 18 blanks, by setting and bar by bar: the shares are all that the plan tells."""
    gate = Path(__file__).resolve().parents[2] / "gallery" / "boathouse-gate"
    stair = load(gate / "stair.toml")
    solution = solve(attrs.evolve(stair, way=way), effort=0.2)
    found, plan = report_of(solution), solution.plan
    assert plan is not None
    assert bool(plan.recuts) == (way == "by setting")
    for key in ("steel_cost", "cuts_cost", "set_up_cost"):
        shares = [getattr(one, key) for one in found.bars for _ in range(one.copies)]
        assert sum(shares) == pytest.approx(getattr(found, key), rel=1e-9)
    rates = solution.job.saw.cost if solution.job.saw else None
    assert rates is not None
    told = (rates.swing_minutes, rates.roll_minutes, rates.load_minutes, rates.recut_minutes)
    counts = (plan.swings, plan.rolls, plan.loads, plan.recut_count)
    minutes = sum(count * (each or 0.0) for count, each in zip(counts, told, strict=True))
    assert found.set_up_cost == pytest.approx(minutes / 60 * (rates.rate or 0.0))
    assert found.price == pytest.approx(plan.shop_cost)


def test_a_line_a_packet_and_their_sum(tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("Gate", "Fence"):
        assert call("packet", str(job(tmp_path, name, "cost = 50", saw=True))).code == 0
    said = call("report", "Gate", "Fence")
    rows = [line.split() for line in said.out.splitlines()]
    assert [row[:7] for row in rows[1:]] == [
        ["Gate", "6000", "0", "2000", "4", "3986", "10"],
        ["Fence", "6000", "0", "2000", "4", "3986", "10"],
        ["together", "12000", "0", "4000", "8", "7972", "20"],
    ]
    assert rows[-1][-2:] == ["113.00", "EUR"]
    told: list[dict[str, Any]] = call("report", "Gate", "--json").json["jobs"]
    assert told[0] == {**told[0], **json.loads((tmp_path / "Gate" / "plan.json").read_text())["report"]}


@pytest.mark.parametrize("content", ["", "{}", '{"job": "x", "revision": "", "part": "whole"}', "[1]", "[" * 100_000])
def test_what_is_no_packet_is_told(tmp_path: Path, call: Call, content: str) -> None:
    (tmp_path / "plan.json").write_text(content)
    said = call("report", str(tmp_path))
    assert (said.code, said.err.count("\n")) == (2, 1)


def test_a_left_over_of_the_job_s_own_counts_once(tmp_path: Path, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """Booked and cut: 3986 go on the rack, of which the rest takes them back: bought 6000, from the rack nothing."""
    monkeypatch.chdir(tmp_path)
    path = job(tmp_path)
    assert call("packet", str(path), "--book").code == 0
    assert call("done", str(path), "--cut", "1", "--of", "Gate").code == 0
    assert call("rack", "free", "Gate", "--cut", "1", "--rack", "rack.sqlite").code == 0
    path.write_text(path.read_text().replace("quantity = 2", "quantity = 3"))
    assert call("packet", str(path), "--done", "done.csv", "--book").code == 0
    said = call("report", "Gate", "Gate-rest").out.splitlines()
    assert said[2].split()[3:6] == ["0", "0", "3986"]
    assert said[3].split()[:9] == ["together", "6000", "0", "0", "3000", "6", "2974", "20", "0"]
    assert sum(
        one["length_mm"] for one in call("rack", "list", "--rack", "rack.sqlite", "--json").json["left_overs"]
    ) == (pytest.approx(3986 + 2974))
