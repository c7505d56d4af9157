"""All marks in one drawing: no text on another or struck by a line, whatever their sizes, and marks kept apart."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import pytest

from mitertool.job import Solution
from mitertool.packet.pages.sketch.sketch import all_sketches, common_scale, lettering_scale, mark_sketch
from mitertool.packet.words import origin
from tests.packet.jobs import GALLERY
from tests.packet.text_boxes import LEAST_SETTING, cut_short, overlaps, struck, too_small

JOBS = (*GALLERY, "fractions", "tiny, huge, short", "parallel and pointed", "beveled, no saw", "other scripts")


@pytest.mark.parametrize("name", JOBS)
def test_the_lettering_of_all_marks_together(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    together = all_sketches(solution.pieces, solution.job.head, origin(solution.job))
    on_paper = together.scaled(1 / common_scale(solution.pieces))
    boxes = on_paper.text_boxes()
    assert len(boxes) >= 20 * len(solution.pieces)
    assert [*overlaps(boxes), *too_small(boxes, LEAST_SETTING), *struck(on_paper), *cut_short(boxes)] == []


def test_marks_stand_in_their_order_row_by_row(solution_of: Callable[[str], Solution]) -> None:
    # Seven marks stand in rows of three, three and one.
    solution = solution_of("tiny, huge, short")
    marks = [piece.mark for piece in solution.pieces]
    assert len(marks) == 7
    boxes = all_sketches(solution.pieces, solution.job.head).text_boxes()
    corners = {box.says: box.corners[0] for box in boxes if box.says in marks}
    assert list(corners) == marks
    rows = [[corners[mark] for mark in marks[i : i + 3]] for i in range(0, 7, 3)]
    for row in rows:
        assert sorted(x for x, _ in row) == [x for x, _ in row]
    for upper, lower in itertools.pairwise(rows):
        assert min(y for _, y in upper) > max(y for _, y in lower)


def test_a_job_without_pieces_gives_an_empty_drawing(solution_of: Callable[[str], Solution]) -> None:
    assert all_sketches((), solution_of("no saw").job.head).entities == ()
    assert common_scale(()) == 1


def test_lettering_grows_with_the_piece_and_shrinks_with_it(solution_of: Callable[[str], Solution]) -> None:
    """A print of the whole sketch stays between a postcard and A3: 420 by 297 mm, and its margins."""
    for piece in solution_of("tiny, huge, short").pieces:
        x0, y0, x1, y1 = mark_sketch(piece, solution_of("no saw").job.head).scaled(1 / lettering_scale(piece)).bounds()
        assert 148 < max(x1 - x0, y1 - y0) < 420 - 2 * 10, piece.mark
