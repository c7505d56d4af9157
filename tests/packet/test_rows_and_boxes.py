"""Bars that are cut at once on paper and page: how they are named, what comes off, what is fetched and left."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, tan

import pytest

from mitertool.job import Solution
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.browser.page import cut_sheet_page
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.words import speaking, words_of


def said(solution: Solution) -> list[str]:
    return [box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes()]


@pytest.mark.parametrize(
    ("language", "row", "box"),
    [("en", "3 x RHS 80x40x3", "2 x L 65x50x5 boxed"), ("de", "3 x RHS 80x40x3", "2 x L 65x50x5 als Kasten")],
)
def test_they_are_named_in_the_language_of_the_reader(
    language: str, row: str, box: str, solution_of: Callable[[str], Solution]
) -> None:
    solution = solution_of("rows and boxes")
    with speaking(words_of(language)):
        paper, page = said(solution), cut_sheet_page(solution).decode()
    for name in (row, box):
        assert any(words.startswith(f"{name}, 6000") for words in paper)
        assert f"<strong>{name}</strong>" in page
    assert language == "en" or not any("boxed" in words for words in (*paper, page))


def test_what_comes_off_by_hand(solution_of: Callable[[str], Solution]) -> None:
    """Four cuts of three abreast are twelve; four boxes, four of either hand; two of a mark without hands are four."""
    words = said(solution_of("rows and boxes"))
    assert {"12 × R1", "4 × R2 + 4 × R2-OH", "4 × R3"} <= set(words)


def test_what_is_fetched_and_left_is_counted_in_single_bars(solution_of: Callable[[str], Solution]) -> None:
    """A box 55 wide begins at its tip; four pieces and four kerfs; a leg of 50 has its middle 2.5 beside the box's.

    What is left is told tip to tip, half of the leg more than along its middle.
    """
    floor = floor_of(solution_of("rows and boxes"))
    assert [(one.section, one.count) for one in floor.fetch] == [("L 65x50x5", 2), ("UPN 100", 2), ("RHS 80x40x3", 3)]
    assert [(one.section.name, one.count) for one in floor.left_overs] == [
        (one.section, one.count) for one in floor.fetch
    ]
    assert floor.totals.bars == 7
    used = 27.5 * tan(radians(30)) + 4 * 640 + 4 * 1.3 / cos(radians(30))
    assert floor.left_overs[0].length == pytest.approx(6000 - used + (25 - 2.5) * tan(radians(30)))
