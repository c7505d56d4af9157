"""Page one and the blocks of bars, as the pages of solved jobs show them.

Expected words are what a shop looks for: what is fetched, what is proved, cautions; a control told to stop; a stop.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.frame.runs import HEAD, tube
from tests.frame.test_inside import filled
from tests.job.test_solve import BY_BAR, SAW, WITH_SAW, piece, solved, stock


def pages(solution: Solution) -> list[str]:
    """The words of each page, texts parted by line ends."""
    return ["\n".join(box.says for box in page.drawing.text_boxes()) for page in cut_sheet(solution)]


def run_together(texts: list[str]) -> str:
    return re.sub(r"\s+", " ", "\n".join(texts))


def test_the_first_page(solution_of: Callable[[str], Solution]) -> None:
    first = run_together(pages(solution_of("boathouse-gate"))[:1])
    assert "24 pieces of 6 marks" in first
    assert "ISO 13920-B, of the welded frame" in first
    assert "Fetch Section Grade Length Each Heat or certificate" in first
    proved = re.search(r"Prove with a protractor, the scale cannot hold the tolerance: ((?:\S+, ){3}\S+) ", first)
    assert proved
    assert set(proved[1].split(", ")) == {"PANEL-1", "PANEL-2", "LEAF-1", "LEAF-2"}
    assert "Motor off and locked out" in first


def test_the_side_of_a_reading_where_the_scale_reads_up_both_ways(solution_of: Callable[[str], Solution]) -> None:
    """The scale reads 1.25 too little toward the feed side: 30 to that side reads 28.75, 50 to the other 51.25.

    With the fixed jaw on the right bars come from the left, so a left end that is long at the moving side slants
    there toward the feed, one that is long at the fixed side toward the discharge.
    """
    said = "\n".join(pages(solution_of("points on a scale that reads up both ways")))
    assert re.search(r"^29°\n0\.2 div\. less\n28\.75°\nmoving side to\s+feed$", said, re.M)
    assert "arm 50° to discharge side" in run_together([said])
    assert re.search(r"^51°\n0\.2 div\.\s+more\n51\.25°$", said, re.M)


def test_the_feed_is_cautioned_only_where_there_is_one(solution_of: Callable[[str], Solution]) -> None:
    assert "Prove a program with the blade up" in run_together(pages(solution_of("boathouse-gate")))
    assert "Prove a program" not in run_together(pages(solution_of("keel-jig")))


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame", "keel-jig"])
def test_blanks_for_the_first_piece_of_every_mark(name: str, solution_of: Callable[[str], Solution]) -> None:
    """Once a mark, in the row of its cut: long and short; one length where both ends are parallel."""
    solution = solution_of(name)
    said = "\n".join(pages(solution))
    alike = sum(abs(one.piece.long_point - one.piece.short_point) < 1e-6 for one in solution.pieces)
    assert len(re.findall(r"^first: (both sides|length) .*, ends (parallel|square)$", said, re.M)) == alike
    assert len(re.findall(r"^first: long point ", said, re.M)) == len(solution.pieces) - alike
    assert len(re.findall(r"^short point ", said, re.M)) == len(solution.pieces) - alike


def test_what_the_scale_cannot_hold_is_proved(tmp_path: Path) -> None:
    """ISO 2768-f allows 10' on a leg of 120 to 400 mm: a division of half a degree is more, one of a tenth less."""
    text = WITH_SAW.replace("[job]\n", '[job]\ntolerance = "ISO 2768-f"\n')
    text += piece(section="FLAT 150x10") + stock("FLAT 150x10")
    for division, proved in (("0.5", True), ("0.1", False)):
        saw = SAW.replace("[scale]\n", f"[scale]\ndivision = {division}\n")
        said = run_together(pages(solved(tmp_path, text, saw)))
        assert ("prove with a protractor" in said) == ("Prove with a protractor" in said) == proved


FED = SAW + "[bed]\nswing_axis = 30\n[feed]\nstroke = 500\nshortest = 5\ncounts_kerf = true\nlines = 2\n"
ENDS = "left = 45\nright = 45\nquantity = 2"


def test_a_control_that_holds_few_lines_is_keyed_in_parts(tmp_path: Path) -> None:
    """A trim and two pieces, parted by a wedge as both are long at one side: four lines, where it holds two."""
    said = run_together(pages(solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock() + BY_BAR, FED)))
    assert " single " in said
    assert re.search(r"[34] program lines: key it in parts", said)


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("ends_with_zero = true", "end of program"),
        ("counts_trim = false", "the control does not count it"),
        ("counts_trim = true", "the control counts it as a piece"),
        ('caution = "Chip tray in before the cycle"', "Chip tray in before the cycle"),
    ],
)
def test_a_habit_of_one_control_is_told_only_where_the_saw_file_has_it(tmp_path: Path, key: str, words: str) -> None:
    def said(saw: str) -> str:
        return run_together(pages(solved(tmp_path, WITH_SAW + piece(more=ENDS) + stock(), saw)))

    assert words in said(FED + key + "\n")
    plain = said(FED)
    assert not any(other in plain for other in (words, "zero", "count it", "counts it", "end of program"))


def test_a_stop_for_every_piece_where_there_is_no_feed(tmp_path: Path) -> None:
    """Left and right 45, 1000 long: the stop touches the tip, 1000 from the blade, and is backed off.

    The blade stands toward the feed at the moving side for both ends: what lies behind it is longest at the fixed.
    """
    text = WITH_SAW + piece(more=ENDS) + stock()
    said = run_together(pages(solved(tmp_path, text, SAW + "[bed]\nswing_axis = 30\n")))
    assert "stop from the blade's discharge face" in said
    assert re.search(r"1000 (.*)?stop touches, measured there: tip at the fixed side", said)
    assert "back the stop off before clamping pressure" in said
    assert "length to key" not in said


def test_a_setting_that_stays_is_not_told_again(solution_of: Callable[[str], Solution]) -> None:
    """The two bars of the hatch's rim are cut alike: the second says so, and shows no vise and no plan again."""
    said = run_together(pages(solution_of("hatch-frame")))
    blocks = re.split(r"\bBar (\d) (?=[A-Z])", said)
    by_number = dict(zip(blocks[1::2], blocks[2::2], strict=True))
    (again,) = [number for number, block in by_number.items() if "set as bar" in block]
    told = re.search(r"L3x3x1/4, A36, 20'-0\", set as bar (\d)", by_number[again])
    assert told
    assert "wide, " in by_number[told[1]]
    assert "wide, " not in by_number[again].partition("comes off")[0]


def test_what_left_the_sheet_is_behind_detail(solution_of: Callable[[str], Solution]) -> None:
    """The lift in degrees and the least gap, which nobody sets, come with the pages of detail alone."""
    solution = solution_of("boathouse-gate")
    plain = run_together(pages(solution))
    told = run_together(
        ["\n".join(box.says for box in page.drawing.text_boxes()) for page in cut_sheet(solution, True)]
    )
    for words in ("lift the arm, at least", "least gap for the bar", "travel, first touch to through"):
        assert words not in plain
        assert words in told


def test_many_places_are_told_on_the_page_of_their_frame(tmp_path: Path) -> None:
    """Five uprights land on each rail, more than a row tells: it names the page on which their frame begins."""
    bars = {"bars": "uprights", "section": "P", "count": 5}
    text = filled("rectangle", bars, width=1100, height=900, measured="outside")
    (tmp_path / "job.toml").write_text("\n".join([HEAD, tube("T", 50), tube("P", 20), text]), encoding="utf-8")
    told = [page.split("\n") for page in pages(solve(load(tmp_path / "job.toml")))]
    (at,) = (number for number, says in enumerate(told, 1) if any(one.startswith("Frame F: ") for one in says))
    rows = [one for says in told for one in says if "marks along it" in one]
    assert rows
    assert set(rows) == {f"5 marks along it: page {at}"}
