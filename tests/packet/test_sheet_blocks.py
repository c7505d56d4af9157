"""First page, first-piece lines, notes of frames and bars, as the pages of solved jobs show them.

Expected words are what a shop looks for: totals, cautions, buying list; what wants checking; blanks beside what is
cut by hand; a control told to stop.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.job import Solution
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.job.test_solve import SAW, WITH_SAW, piece, solved, stock


def pages(solution: Solution) -> list[str]:
    """The words of each page, texts parted by line ends."""
    return ["\n".join(box.says for box in page.drawing.text_boxes()) for page in cut_sheet(solution)]


def run_together(texts: list[str]) -> str:
    return re.sub(r"\s+", " ", "\n".join(texts))


def test_the_first_page(solution_of: Callable[[str], Solution]) -> None:
    first = run_together(pages(solution_of("boathouse-gate"))[:1])
    for words in ("24 pieces of 6 marks", "6 bars", "swings of the arm", "rolls of the bar", "36000 bought: pieces"):
        assert words in first
    assert "by the shop's own rates" in first
    assert "Before you start" in first
    assert "general tolerance of the welded frame" in first
    assert "Buy" in first


def test_the_side_of_a_reading_where_the_scale_reads_up_both_ways(solution_of: Callable[[str], Solution]) -> None:
    """The scale reads 1.25 too little toward the feed side: 30 to that side reads 28.75, 50 to the other 51.25.

    With the fixed jaw on the right bars come from the left, so a left end that is long at the moving side slants
    there toward the feed, one that is long at the fixed side toward the discharge.
    """
    said = pages(solution_of("points on a scale that reads up both ways"))
    table = next(page for page in said if "Left end\nRight end\n" in page)
    assert re.search(r"^P\n3\n.*\n28\.75°\nfeed\n51\.25°\ndischarge\n13\.25°\ndischarge$", table, re.M | re.S)
    card = next(run_together([page]) for page in said if "LEFT END, CUT 1" in page and "3 pieces" in page)
    assert re.search(
        r"28\.75° arm 30° to feed side setting \d+ CUT 2, on the piece: scale reads 51\.25° "
        r"arm 50° to discharge side setting \d+ mark back from cut 1: moving side",
        card,
    )


def test_no_time_is_invented(solution_of: Callable[[str], Solution]) -> None:
    assert "none is invented" in run_together(pages(solution_of("keel-jig"))[:1])


def test_the_feed_is_cautioned_only_where_there_is_one(solution_of: Callable[[str], Solution]) -> None:
    assert "prove a program with the blade up" in run_together(pages(solution_of("boathouse-gate")))
    assert "prove a program" not in run_together(pages(solution_of("keel-jig")))


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame", "keel-jig"])
def test_a_line_for_the_first_piece_of_every_mark(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    last = run_together(pages(solution)).partition("First piece long point")[2]
    assert all(solved_piece.mark in last for solved_piece in solution.pieces)


def test_what_wants_checking_is_marked(tmp_path: Path) -> None:
    """Half a degree is more than half of the 45' of a short leg; a scale of a hundredth of a degree is far below."""
    text = WITH_SAW.replace("[job]\n", '[job]\ntolerance = "ISO 13920-B"\n') + piece()
    for division, checked in (("0.5", True), ("0.01", False)):
        saw = SAW.replace("[scale]\n", f"[scale]\ndivision = {division}\n")
        said = run_together(pages(solved(tmp_path, text, saw)))
        assert bool(re.search(r"\bCHECK\b", said)) == checked


FED = SAW + "[bed]\nswing_axis = 30\n[feed]\nstroke = 500\nshortest = 5\ncounts_kerf = true\nlines = 2\n"
ENDS = "left = 45\nright = 45\nquantity = 2"


def test_a_bar_cut_by_hand_has_its_blanks_beside_it(tmp_path: Path) -> None:
    said = run_together(pages(solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock(), FED)))
    assert "hand" in said
    assert re.search(r"Parallel blanks first, one end recut: \d+ cuts, \d+ set-ups, [\d.]+ of steel; as listed:", said)
    assert "The control holds 2 lines" in said


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("ends_with_zero = true", "At the line of zeros this control stops"),
        ("counts_trim = false", "This control does not count the trim cut"),
        ("counts_trim = true", "This control counts the trim cut"),
        ('caution = "Chip tray in before the cycle"', "Chip tray in before the cycle"),
    ],
)
def test_a_habit_of_one_control_is_told_only_where_the_saw_file_has_it(tmp_path: Path, key: str, words: str) -> None:
    def said(saw: str) -> str:
        return run_together(pages(solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock(), saw)))

    assert words in said(FED + key + "\n")
    plain = said(FED)
    assert not any(other in plain for other in (words, "zero", "count the trim", "counts the trim", "end of program"))


def test_a_stop_for_every_piece_where_there_is_no_feed(tmp_path: Path) -> None:
    """Left and right 45, 1000 long: cut one after another, with the tip of each at the one side, then at the other."""
    text = WITH_SAW + piece(more=ENDS) + stock()
    said = run_together(pages(solved(tmp_path, text, SAW + "[bed]\nswing_axis = 30\n")))
    assert re.search(r"Stop from blade .* 1000 tip at the moving side 1 A", said)
    assert "Back the stop off when the bar is clamped" in said
    assert "Length to key" not in said


def test_settings_are_numbered_at_marks_and_bars(tmp_path: Path) -> None:
    said = run_together(pages(solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock(), FED)))
    assert "setting 1" in said
    assert "setting 2" in said
    assert re.search(r"1 \(\d+°\)", said)
