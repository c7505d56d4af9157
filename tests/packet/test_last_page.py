"""The last page: left-overs with a place to write, counts, totals, names and days; its lettering on every paper."""

from __future__ import annotations

import re
from collections.abc import Callable

import attrs
import pytest

from mitertool.drawing import A4, LETTER, Drawing, Page
from mitertool.job import Solution
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.last_page import last_blocks
from mitertool.packet.paper.layout import Paper, pages
from mitertool.quantity import Units
from mitertool.words import speaking, words_of
from tests.packet.jobs import JOBS
from tests.packet.text_boxes import cut_short, findings


def drawn(solution: Solution, paper: tuple[float, float] = A4, units: Units | None = None) -> tuple[Page, ...]:
    """The last pages of a job, without head and foot, its lengths in other units where these are given."""
    if units:
        about = attrs.evolve(solution.job.head, units=units)
        solution = attrs.evolve(solution, job=attrs.evolve(solution.job, head=about))
    on = Paper(*paper)
    return pages(list(last_blocks(floor_of(solution), on.inner)), on, lambda *_: Drawing())


def said(solution: Solution) -> str:
    texts = (box.says for page in drawn(solution) for box in page.drawing.text_boxes())
    return re.sub(r"\s+", " ", " | ".join(texts))


@pytest.mark.parametrize(("paper", "units"), [(A4, "mm"), (LETTER, "ft-in"), (LETTER, "in")])
@pytest.mark.parametrize("name", JOBS)
def test_the_lettering(
    name: str, paper: tuple[float, float], units: Units, solution_of: Callable[[str], Solution]
) -> None:
    for page in drawn(solution_of(name), paper, units):
        assert findings(page) == []


def test_totals_that_are_too_wide_for_a_line_take_two(solution_of: Callable[[str], Solution]) -> None:
    """In German, with a cut on a parted piece, rolls and minutes: more than the 180 mm between the margins."""
    with speaking(words_of("de")):
        boxes = [box for page in drawn(solution_of("engine-shed")) for box in page.drawing.text_boxes()]
    assert list(cut_short(boxes)) == []
    assert any("1 Schnitt an einem getrennten Teil" in box.says for box in boxes)
    assert any(box.says.endswith("min") and "Umstellen" in box.says for box in boxes)


def test_every_bar_leaves_a_line_to_write_its_place_on(solution_of: Callable[[str], Solution]) -> None:
    """The first bar of the gate: four straps of 1060 with 45 degrees and -45, parallel cuts of 1.23 / cos 45 each.

    The first face stays 10 clear of the raw end at the nearest point of 45 degrees across 50 mm, so it crosses the
    centerline 10 + 25 from the end, its kerf before it; then four times length and kerf: 6000 - 35 - 4 * 1061.74 are
    left on the centerline, and 25 more to the tip.
    """
    kerf = 1.23 * 2**0.5
    rest = 6000 - (10 + 25) - 4 * (1060 + kerf) + 25
    text = said(solution_of("boathouse-gate"))
    assert "Left over, sides as first clamped | bar | count | section | tip to tip" in text
    assert "| tip to tip | from square, long at | heat | goes to" in text
    assert f" | 1 | FLAT 50x10, S235JR | {rest:.0f} | 45° fixed side" in text


def test_every_mark_is_counted_good_and_scrap(solution_of: Callable[[str], Solution]) -> None:
    text = said(solution_of("boathouse-gate"))
    for mark in ("LEAF-1", "LEAF-2", "PANEL-1", "PANEL-2", "STAY", "STRAP"):
        assert f"{mark} | 4 | _______ | _______" in text


def test_totals_and_signatures(solution_of: Callable[[str], Solution]) -> None:
    text = said(solution_of("boathouse-gate"))
    assert "24 pieces" in text
    assert "6 bars" in text
    assert text.endswith("cut by | date | checked by | date")


def test_without_stock_nothing_is_left_over(solution_of: Callable[[str], Solution]) -> None:
    assert "Left over" not in said(solution_of("no saw"))


def test_a_mark_that_is_not_cut_is_not_counted(solution_of: Callable[[str], Solution]) -> None:
    text = said(solution_of("not to be made"))
    assert "FINE | 1" in text
    assert "HOPELESS" not in text


def test_set_ups_are_told_as_those_after_the_first(solution_of: Callable[[str], Solution]) -> None:
    """Bar 1 of the hatch is cut with the blade tilted 15 degrees, all others upright: one change, and the first tilt
    is none of it."""
    assert "1 change of tilt after the first" in said(solution_of("hatch-frame")).replace(" | ", " ")
