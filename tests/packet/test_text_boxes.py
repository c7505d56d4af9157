"""Lettering of cut sheets and sketches: nothing overlaps, runs out, is struck by a line, cut short or too small.

Every check is first held against a page that is wrong on purpose and one that is only just right.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from mitertool.drawing import FILL, OUTLINE, THIN, Dimension, Drawing, Entity, Line, Page, Polygon, Text, text_width
from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.labels import SHEETS, label_pages
from mitertool.packet.pages.sheet.bar_block import bar_blocks
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.pages.sheet.sizes import NOTE, ROW, SET
from mitertool.packet.pages.sketch.sketch import lettering_scale, mark_sketch
from mitertool.words import speaking, words_of
from tests.packet.jobs import GALLERY, JOBS, head, piece
from tests.packet.text_boxes import LEAST, LEAST_SETTING, cut_short, findings, overlaps, shared, struck, too_small

FREE_TEXT = ("long words", "other scripts")
"""Jobs with names and words that no column holds: these may be cut short, marks and figures may not."""

INNER = 186.0
"""mm between the margins of A4, 210 - 2 x 12."""


def page(*entities: Entity) -> Page:
    return Page(210, 297, Drawing(entities))


# --- the checks bite

HEIGHT = 4.0
DEEP = HEIGHT / 0.718 * 0.207
"""Depth of a descender: Descender -207, CapHeight 718, Helvetica.afm."""


def below(gap: float, turn: float = 0.0) -> tuple[Text, Text]:
    """Two texts in lines `gap` mm apart from box to box, the second under the first."""
    down = math.radians(turn - 90)
    step = HEIGHT + DEEP + gap
    at = (100.0, 150.0)
    return (
        Text(at, "one line", HEIGHT, turn=turn),
        Text((at[0] + step * math.cos(down), at[1] + step * math.sin(down)), "the next", HEIGHT, turn=turn),
    )


@pytest.mark.parametrize("turn", [0, 30, 45, 90, 217.5])
def test_texts_on_each_other_are_found(turn: float) -> None:
    assert findings(page(*below(-0.06, turn))) == ["'one line' overlaps 'the next'"]
    assert findings(page(*below(-0.04, turn))) == []
    assert findings(page(*below(1, turn))) == []


def test_texts_side_by_side_are_apart_by_their_width() -> None:
    width = text_width("left", HEIGHT)
    for gap, expected in ((-0.06, ["'left' overlaps 'right'"]), (-0.04, []), (2.0, [])):
        texts = Text((50, 50), "left", HEIGHT), Text((50 + width + gap, 50), "right", HEIGHT)
        assert findings(page(*texts)) == expected


def test_a_text_inside_another_is_found() -> None:
    assert findings(page(Text((50, 50), "around it all", 20), Text((60, 55), "in", 3)))


def test_a_tilted_text_is_judged_by_its_own_box_not_by_the_box_around_it() -> None:
    tilted, under = Text((50, 50), "tilted across", HEIGHT, turn=45), Text((62, 51), "under it", HEIGHT)
    xs, ys = zip(*Drawing([tilted]).text_boxes()[0].corners, strict=True)
    assert min(xs) < 62 < max(xs)
    assert min(ys) < 51 < max(ys)
    assert findings(page(tilted, under)) == []
    assert findings(page(tilted, Text((55, 55), "under it", HEIGHT))) == ["'tilted across' overlaps 'under it'"]


def test_the_text_of_a_dimension_counts() -> None:
    dimension = Dimension((50, 50), (150, 50), 10, "1234.5", 3.5)
    assert list(overlaps(page(dimension, Text((98, 62), "over it", 3.5)).drawing.text_boxes()))


def test_texts_in_the_margin_are_found() -> None:
    wide = text_width("edge", HEIGHT)
    high = 297 - 12 - HEIGHT
    for at, inside in (
        ((12.0, 150.0), True),
        ((11.9, 150.0), False),
        ((198 - wide, 150.0), True),
        ((198.1 - wide, 150.0), False),
        ((50.0, high), True),
        ((50.0, high + 0.1), False),
        ((50.0, 11 + DEEP), True),
        ((50.0, 10.9 + DEEP), False),
    ):
        assert findings(page(Text(at, "edge", HEIGHT))) == ([] if inside else ["'edge' runs out of the page"])


def test_a_strip_on_a_rule_is_found() -> None:
    for gap, expected in ((0.0, ["a strip 180 long lies on a rule"]), (0.5, [])):
        strip = Polygon([(12, 100), (192, 100), (192, 105), (12, 105)], THIN)
        assert findings(page(strip, Line((12, 100 - gap), (198, 100 - gap), OUTLINE))) == expected


def test_small_lettering_is_found() -> None:
    assert findings(page(Text((50, 50), "small", 2.49))) == ["'small' is 2.49 mm high"]
    assert findings(page(Text((50, 50), "small", 2.5))) == []
    boxes = page(Text((50, 50), "135°", 3.49), Text((50, 80), "45°", 3.5)).drawing.text_boxes()
    assert list(too_small(boxes, LEAST_SETTING)) == ["'135°' is 3.49 mm high"]


@pytest.mark.parametrize("turn", [0, 30, 90])
def test_a_line_through_a_text_is_found(turn: float) -> None:
    x, y = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    text = Text((100, 150), "struck", HEIGHT, turn=turn)

    def along(above: float) -> Line:
        corner = (100 - above * y, 150 + above * x)
        return Line((corner[0] - 9 * x, corner[1] - 9 * y), (corner[0] + 60 * x, corner[1] + 60 * y), THIN)

    assert findings(page(text, along(2))) == ["'struck' is struck by a line of the layer thin"]
    assert findings(page(text, along(HEIGHT + 0.1))) == []
    assert findings(page(text, along(-DEEP - 0.1))) == []


def test_the_side_of_a_polygon_through_a_text_is_found() -> None:
    text = Text((100, 150), "struck", HEIGHT)
    around = [(90.0, 140.0), (130.0, 140.0), (130.0, 165.0), (90.0, 165.0)]
    assert findings(page(Polygon(around, OUTLINE, 0.9), text)) == []
    assert findings(page(Polygon(around, FILL, 0.9), text)) == []
    through = [(x - 25, y) for x, y in around]
    assert findings(page(Polygon(through, OUTLINE, 0.9), text)) == ["'struck' is struck by a line of the layer outline"]


def test_a_text_cut_short_is_found() -> None:
    boxes = page(Text((50, 50), "19'-11 15/1…", 3), Text((50, 80), "whole", 3)).drawing.text_boxes()
    assert list(cut_short(boxes)) == ['"19\'-11 15/1…" is cut short']


def test_how_far_two_squares_share() -> None:
    square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    assert shared(square, [(x + 1.5, y) for x, y in square]) == pytest.approx(0.5)
    assert shared(square, [(x + 3, y + 3) for x, y in square]) == pytest.approx(-1)
    # Bounding boxes that share a corner of 0.5 by 0.5, while the diamond's lower left side stays clear of (2, 2):
    # its line x + y = 4.5 is 0.5 / sqrt(2) away.
    diamond = [(2.5, 2.0), (4.0, 2.0), (4.0, 4.0), (1.5, 3.0)]
    assert shared(square, diamond) == pytest.approx(-0.5 / math.sqrt(2))


# --- the cut sheet and the sketches


@pytest.fixture(scope="module")
def sheets_of(solution_of: Callable[[str], Solution]) -> Callable[[str], tuple[Page, ...]]:
    """The pages of a job's cut sheet, drawn once."""
    return cache(lambda name: cut_sheet(solution_of(name)))


@pytest.mark.parametrize("name", JOBS)
def test_the_lettering_of_every_page(name: str, sheets_of: Callable[[str], tuple[Page, ...]]) -> None:
    sheets = sheets_of(name)
    assert all(len(sheet.drawing.text_boxes()) > 5 for sheet in sheets)
    assert [f"page {n}: {wrong}" for n, sheet in enumerate(sheets, 1) for wrong in findings(sheet)] == []


@pytest.mark.parametrize("name", [name for name in JOBS if name not in FREE_TEXT])
def test_nothing_on_a_page_is_cut_short(name: str, sheets_of: Callable[[str], tuple[Page, ...]]) -> None:
    sheets = sheets_of(name)
    assert [wrong for sheet in sheets for wrong in cut_short(sheet.drawing.text_boxes())] == []


@pytest.mark.parametrize("name", [name for name in JOBS if name not in FREE_TEXT])
def test_the_lettering_in_another_language(name: str, solution_of: Callable[[str], Solution]) -> None:
    """German words are longer; both papers, with a feed, with a stop and without a saw."""
    with speaking(words_of("de")):
        sheets = cut_sheet(solution_of(name))
    wrong = [fault for sheet in sheets for fault in (*findings(sheet), *cut_short(sheet.drawing.text_boxes()))]
    assert wrong == []


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame", "beveled, bar rolled", "beveled, blade tilted"])
def test_the_pages_of_detail(name: str, solution_of: Callable[[str], Solution]) -> None:
    sheets = cut_sheet(solution_of(name), detail=True)
    assert [f"page {n}: {wrong}" for n, sheet in enumerate(sheets, 1) for wrong in findings(sheet)] == []


@pytest.mark.parametrize("name", JOBS)
def test_a_mark_stands_whole_where_it_comes_off(name: str, solution_of: Callable[[str], Solution]) -> None:
    floor = floor_of(solution_of(name))
    for work in floor.bars:
        blocks = bar_blocks(work, floor, INNER)
        letters = "".join(box.says for block in blocks for box in block.drawing.text_boxes()).replace(" ", "")
        assert all(row.mark.replace(" ", "") in letters for row in work.rows)


@pytest.mark.parametrize("name", JOBS)
def test_what_is_set_or_keyed_is_large_enough(name: str, solution_of: Callable[[str], Solution]) -> None:
    """20 points, bold, for every reading of a row, and no note of the sheet below 11 but where a name is too long."""
    floor = floor_of(solution_of(name))
    for work in floor.bars:
        boxes = [box for block in bar_blocks(work, floor, INNER) for box in block.drawing.text_boxes()]
        figures = [box for box in boxes if re.fullmatch(r"-?[0-9.]+\u00b0", box.says) and box.height > NOTE + 0.1]
        told = sum((row.sets or row.stays > 0) and row.reading.ok for row in work.rows)
        assert len(figures) == told
        assert list(too_small(figures, SET)) == []


@pytest.mark.parametrize("name", [name for name in GALLERY if name != "hatch-frame"])
def test_what_is_keyed_is_the_largest_of_its_row(name: str, solution_of: Callable[[str], Solution]) -> None:
    """28 points where there is room: in mm there is, up to lengths of four figures and a tenth.

    Where the end stands that is brought by hand for a trim or a scrap is set at 20, bold: at 28 it reads as a stop, or
    as a length to key.
    """
    floor = floor_of(solution_of(name))
    if floor.saw is None or floor.head.units != "mm":
        return
    for work in floor.bars:
        boxes = [box for block in bar_blocks(work, floor, INNER) for box in block.drawing.text_boxes()]
        keyed = [box for box in boxes if box.height > SET + 0.5]
        told = [row for row in work.rows if row.key is not None or row.stop or row.end_past]
        moved = [row for row in told if row.end_past]
        assert len(keyed) == len(told) - len(moved)
        lengths = [box for box in boxes if re.fullmatch(r"[0-9.]+", box.says) and box.height > ROW + 0.5]
        assert [box.height for box in lengths if box not in keyed] == pytest.approx([SET] * len(moved))


@pytest.mark.parametrize("name", JOBS)
def test_the_lettering_of_every_sketch(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    for solved in solution.pieces:
        on_paper = mark_sketch(solved, solution.job.head).scaled(1 / lettering_scale(solved))
        boxes = on_paper.text_boxes()
        assert len(boxes) >= 6
        assert [*overlaps(boxes), *too_small(boxes, LEAST_SETTING), *struck(on_paper), *cut_short(boxes)] == []


LABELED = ("boathouse-gate", "hatch-frame", "fractions", "beveled, no saw", "not to be made", "long words")


@pytest.mark.parametrize("codes", [False, True], ids=["plain", "codes"])
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", LABELED)
def test_the_lettering_of_the_labels(
    name: str, sheet: str, codes: bool, solution_of: Callable[[str], Solution]
) -> None:
    solution = solution_of(name)
    for labels in label_pages(solution, sheet, codes):
        boxes = labels.drawing.text_boxes()
        assert [*overlaps(boxes), *too_small(boxes, LEAST)] == []
        figures = [box for box in boxes if not box.says.startswith(solution.job.head.name[:8])]
        assert list(cut_short(figures)) == [] or name in FREE_TEXT


@pytest.mark.parametrize(
    ("section", "length", "lines"),
    [
        ("PIPE 2 SCH 40", "33", {"PIPE 2 SCH 40"}),
        ("HSS1-1/2x1-1/2x1/8", "40", {"HSS1-1/2x1-1/2x1/8"}),
        ("HSS1-1/2x1-1/2x1/8", "400 13/16", {"HSS1-1/2x", "1-1/2x1/8"}),
    ],
)
def test_a_long_name_of_a_section_stands_whole_in_its_row(
    tmp_path: Path, section: str, length: str, lines: set[str]
) -> None:
    """It takes the room that a short long point leaves it; beside a long one it is broken between two of its sizes."""
    path = tmp_path / "job.toml"
    path.write_text(head("Long names", "ft-in") + piece("A", section, length), encoding="utf-8")
    boxes = cut_sheet(solve(load(path)))[0].drawing.text_boxes()
    assert [*cut_short(boxes)] == []
    (title,) = [box for box in boxes if box.says == "Section"]
    assert {box.says for box in boxes if abs(box.corners[0][0] - title.corners[0][0]) < 0.5} - {"Section"} == lines
