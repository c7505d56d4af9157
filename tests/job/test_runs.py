"""Bars as the saw works them off: feed or stops, blanks beside what is cut by hand, time, and problems with their cure.

Times follow from the saw file's rates: a cut takes its area over the area rate, or its travel over the descent where
that is slower.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import load, solve
from tests.job.test_solve import BY_BAR, HEAD, SAW, WITH_SAW, piece, solved, stock

GALLERY = Path(__file__).resolve().parents[2] / "gallery"

FEED = "[feed]\nstroke = 500\nshortest = 5\ncounts_kerf = true\n"
AXIS = "[bed]\nswing_axis = 30\n"
RATES = "[arm]\nbelow_bed = 5\nlift_highest = 400\n[blade]\narea_rate = 1000\n"
ENDS = "left = 45\nright = 45\nquantity = 2"


def test_a_saw_with_a_feed_has_a_list_and_one_without_has_stops(tmp_path: Path) -> None:
    text = WITH_SAW + piece(more=ENDS) + stock()
    (fed,) = solved(tmp_path, text, SAW + AXIS + FEED).runs
    assert fed.feed is not None
    assert fed.stops == ()
    (stopped,) = solved(tmp_path, text, SAW + AXIS).runs
    assert stopped.feed is None
    assert [stop.mark for stop in stopped.stops] == ["A", "A"]
    (blind,) = solved(tmp_path, HEAD + piece(more=ENDS) + stock() + "[nest]\nkerf = 2\n").runs
    assert (blind.cuts, blind.feed, blind.stops) == ((), None, ())


def test_the_stop_of_a_card_is_that_of_its_bar(tmp_path: Path) -> None:
    """Left square, right 45, laid only end for end: its slant leads (slope 1, so its tip is at the fixed side) and the
    square end parts it. 1000 to the long point: that is the line on which the stop is measured."""
    saw, turned = SAW + AXIS, 'left = 0\nright = 45\nturn = ["end-for-end"]'
    solution = solved(tmp_path, WITH_SAW + piece(more=turned) + stock(), saw)
    (card,) = solution.pieces
    ((stop,),) = (run.stops for run in solution.runs)
    assert card.stop is not None
    for one in (card.stop, stop):
        assert (one.from_blade, one.y) == pytest.approx((1000, 0), abs=1e-9)
        assert one.touches == "tip at the fixed side"


def test_blanks_are_costed_only_where_the_cycle_cannot_make_the_bar(tmp_path: Path) -> None:
    saw = SAW + AXIS + FEED
    (by_hand,) = solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock() + BY_BAR, saw).runs
    assert by_hand.blanks is not None
    assert by_hand.blanks.blanks.cuts > by_hand.blanks.as_planned.cuts
    (alone,) = solved(tmp_path, WITH_SAW + piece(more="quantity = 2") + stock(), saw).runs
    assert alone.blanks is None


def test_the_time_of_a_bar_is_that_of_its_cuts(tmp_path: Path) -> None:
    """Flats of 60 x 10 cut square: 600 mm2 at 1000 mm2/min is 0.6 min; three pieces of a bar take four cuts."""
    saw = SAW.replace('"hinged"', '"column"') + AXIS + RATES
    text = WITH_SAW + piece(section="FLAT 60x10", more="quantity = 3") + stock("FLAT 60x10")
    (run,) = solved(tmp_path, text, saw).runs
    assert run.minutes == pytest.approx(4 * 0.6)


def test_no_rates_no_time(tmp_path: Path) -> None:
    (run,) = solved(tmp_path, WITH_SAW + piece() + stock()).runs
    assert run.minutes is None


def test_the_lays_that_work_stand_beside_what_cannot_be_cut(tmp_path: Path) -> None:
    """A bar of 120 x 40 lying flat is too wide for a vise of 100, and stands in it on edge."""
    saw = SAW + "[bed]\nwidth = 100\nheight = 300\nswing_axis = 30\n"
    flat = piece(section="RHS 40x120x4") + '[[section]]\nname = "RHS 40x120x4"\nshape = "rect-tube"\n'
    solution = solved(tmp_path, WITH_SAW + flat + "width = 120\nheight = 40\nwall = 4\n", saw)
    assert all(problem.startswith("A, ") for problem in solution.problems)
    assert any("lays that work: rolled a quarter" in problem for problem in solution.problems)
    none = solved(tmp_path, WITH_SAW + piece(section="SHS 120x120x5"), saw)
    assert any("no lay in which it lies safely" in problem for problem in none.problems)


def test_a_gallery_bar_without_a_feed_has_a_stop_for_every_piece() -> None:
    solution = solve(load(GALLERY / "slip-trolley" / "job.toml"))
    assert solution.runs
    for run in solution.runs:
        listed = run.stops if run.feed is None else [line for line in run.feed.lines if line.counted]
        assert listed
