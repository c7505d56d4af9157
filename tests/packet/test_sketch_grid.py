"""All marks in one drawing: each as in its own file, moved; none reaches into another, and they keep their order."""

from __future__ import annotations

import io
import itertools
from collections.abc import Callable, Iterator
from typing import Any

import ezdxf.filemanagement
import pytest

from mitertool.drawing import dxf
from mitertool.job import Solution
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sketch.sketch import in_rows, lettering_scale, mark_sketch, paper_sketch
from tests.packet.jobs import GALLERY

JOBS = (*GALLERY, "fractions", "tiny, huge, short", "parallel and pointed", "beveled, no saw", "other scripts")
MOVED = 1e-6
"""mm. Coordinates of a file have nine decimals, and a sum of two is rounded once more."""

Box = tuple[float, float, float, float]


def boxes_of(solution: Solution) -> list[Box]:
    """Where each sketch stands in the drawing of all."""
    scales = [lettering_scale(piece) for piece in solution.pieces]
    own = [mark_sketch(piece, solution.job.head).bounds() for piece in solution.pieces]
    places = in_rows(own, scales)
    return [(x0 + x, y0 + y, x1 + x, y1 + y) for (x0, y0, x1, y1), (x, y) in zip(own, places, strict=True)]


@pytest.mark.parametrize("name", JOBS)
def test_no_sketch_reaches_into_another(name: str, solution_of: Callable[[str], Solution]) -> None:
    """The lettering of each is held apart in its own file; so it is here, for their boxes are apart, 40 mm of paper."""
    solution = solution_of(name)
    scales = [lettering_scale(piece) for piece in solution.pieces]
    for (a, k), (b, m) in itertools.combinations(zip(boxes_of(solution), scales, strict=True), 2):
        apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
        assert apart >= 40 * min(k, m) - MOVED


@pytest.mark.parametrize("name", JOBS)
def test_marks_stand_in_their_order_row_by_row(name: str, solution_of: Callable[[str], Solution]) -> None:
    boxes = boxes_of(solution_of(name))
    tops = list(dict.fromkeys(round(box[3], 6) for box in boxes))
    assert tops == sorted(tops, reverse=True)
    assert tops[0] == 0
    for top in tops:
        lefts = [box[0] for box in boxes if round(box[3], 6) == top]
        assert lefts == sorted(lefts)
        assert lefts[0] == pytest.approx(0, abs=MOVED)


def test_sketches_in_rows_by_hand() -> None:
    """Four of 60 by 10 with 40 between: rooms of 100 by 50, rows of 1.3 sqrt(4 x 100 x 50) = 184: one, then the next.
    Of 20 by 60, rooms of 60 by 100: rows of 1.3 sqrt(4 x 60 x 100) = 201 take three."""
    flat, upright = (0.0, -10.0, 60.0, 0.0), (5.0, 0.0, 25.0, 60.0)
    assert list(in_rows([flat] * 4, [1] * 4)) == [(0, 0), (0, -50), (0, -100), (0, -150)]
    assert list(in_rows([upright] * 4, [1] * 4)) == [(-5, -60), (55, -60), (115, -60), (-5, -160)]


def entities(content: bytes) -> Iterator[Any]:
    """The lines, texts and dimensions of a file, as they stand in it."""
    text = io.StringIO(content.decode("utf-8"), newline=None)
    space = ezdxf.filemanagement.read(text).modelspace()
    return (entity for entity in space if entity.dxftype() in ("LINE", "TEXT", "DIMENSION"))


def told(entity: Any) -> tuple[str, str, str]:
    return entity.dxftype(), entity.dxf.layer, "" if entity.dxftype() == "LINE" else entity.dxf.get("text", "")


def place(entity: Any) -> Any:
    return {"LINE": "start", "TEXT": "insert", "DIMENSION": "defpoint"}[entity.dxftype()]


@pytest.mark.parametrize("name", ["boathouse-gate", "tiny, huge, short"])
def test_each_stands_as_in_its_own_file(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    files = packet_files(solution, Options())
    together = entities(files["sketches/all.dxf"])
    own = [one for one in files if one.startswith("sketches/") and one != "sketches/all.dxf"]
    for file in own:
        shifts = []
        for here in entities(files[file]):
            there = next(together)
            assert told(here) == told(there)
            shifts.append(there.dxf.get(place(here)) - here.dxf.get(place(here)))
        assert len(shifts) > 50
        assert all(abs((shift - shifts[0]).magnitude) < MOVED for shift in shifts)
    assert next(together, None) is None


def test_a_job_without_pieces_gives_an_empty_drawing() -> None:
    assert list(in_rows([], [])) == []
    assert list(entities(dxf.write_models([]))) == []


def test_lettering_grows_with_the_piece_and_shrinks_with_it(solution_of: Callable[[str], Solution]) -> None:
    """A print of the whole sketch stays between a postcard and A3: 420 by 297 mm, and its margins."""
    for piece in solution_of("tiny, huge, short").pieces:
        x0, y0, x1, y1 = paper_sketch(piece, solution_of("no saw").job.head).bounds()
        assert 148 < max(x1 - x0, y1 - y0) < 420 - 2 * 10, piece.mark
