"""The strip of a bar: every cut has its number and every piece its name, led to where it belongs.

Expected by hand from plan and drawing: a number stands within three millimetres of the upper end of its cut, as one of
a pair over the point where two slants meet does, or a line leads from the one to the other; numbers stand in the order
in which the cuts lie in the bar, so that no two lines cross; a name that is not within its piece hangs by lines from a
bracket as wide as its pieces.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from mitertool.drawing import OUTLINE, THIN, Drawing, Line, Point, Text
from mitertool.job import Solution, load, solve
from mitertool.job.runs import Run
from mitertool.nest import Placed
from mitertool.packet.floor.rows import ends_of
from mitertool.packet.pages.sheet.bar_strip import strip_block
from tests.packet.jobs import GALLERY, head, piece

WIDTH, NEAR = 186.0, 1e-6
CLOSE = head().replace("[nest]\n", "[nest]\nkerf = 1.3\n") + "".join(
    piece(f"P{i}", "FLAT 50x10", str(150 + 7 * i), f"left = {5 * i}\nright = {40 - 5 * i}\nquantity = {1 + i % 3}")
    for i in range(8)
)


def strip(run: Run, longest: float) -> Drawing:
    return strip_block(run.bar, run.saw, WIDTH, longest).drawing


def cuts(drawing: Drawing) -> list[Line]:
    return [part for part in drawing.entities if isinstance(part, Line) and part.layer == OUTLINE]


def thin(drawing: Drawing) -> list[Line]:
    return [part for part in drawing.entities if isinstance(part, Line) and part.layer == THIN]


def texts(drawing: Drawing) -> Iterator[Text]:
    return (part for part in drawing.entities if isinstance(part, Text))


def led(lines: list[Line], at: Point) -> Point:
    """Where a line that begins or ends near under or over a text leads to, as long as another goes on from there."""
    found = next((line for line in lines if math.dist(line.b, at) < NEAR), None)
    return led(lines, found.a) if found else at


def middle_of(line: Line) -> float:
    return (line.a[0] + line.b[0]) / 2


def highest(line: Line) -> Point:
    return max(line.a, line.b, key=lambda point: point[1])


@pytest.mark.parametrize("name", GALLERY)
def test_every_number_is_led_to_its_cut(name: str, solution_of: Callable[[str], Solution]) -> None:
    for run in solution_of(name).runs:
        drawing = strip(run, run.bar.stock_length)
        ends = dict(enumerate(map(highest, cuts(drawing)), 1))
        numbers = {int(text.says): text for text in texts(drawing) if text.says.isdecimal()}
        assert numbers.keys() == ends.keys()
        for number, (x, y) in ends.items():
            at = numbers[number].at
            leads = [line for line in thin(drawing) if line.a == (x, y) and abs(line.b[0] - at[0]) < NEAR]
            assert leads or abs(at[0] - x) <= 3.0
        bodies = sorted(ends, key=lambda number: middle_of(cuts(drawing)[number - 1]))
        assert bodies == sorted(ends, key=lambda number: numbers[number].at[0])
        assert bodies == sorted(ends, key=lambda number: ends[number][0])


def close(folder: Path) -> Solution:
    stocked = CLOSE + '[[stock]]\nsection = "FLAT 50x10"\nlength = 6000\n'
    (folder / "job.toml").write_text(stocked, encoding="utf-8")
    return solve(load(folder / "job.toml"))


@pytest.mark.parametrize("name", ["lantern-house", "keel-jig", "engine-shed", ""])
def test_every_name_hangs_from_its_pieces(name: str, solution_of: Callable[[str], Solution], tmp_path: Path) -> None:
    solution = solution_of(name) if name else close(tmp_path)
    for run in solution.runs:
        drawing = strip(run, 6000.0)
        lows = [min(line.a, line.b, key=lambda point: point[1])[1] for line in cuts(drawing)]
        names = [text for text in texts(drawing) if not text.says.isdecimal()]
        assert {text.says.split(" × ")[-1] for text in names} == {placed.mark for placed in run.bar.pieces}
        lines = thin(drawing)
        brackets = [line for line in lines if abs(line.a[1] - line.b[1]) < NEAR]
        for text in (text for text in names if text.at[1] < lows[0]):
            over = max(line.b[1] for line in lines if abs(line.b[0] - text.at[0]) < NEAR and line.b[1] > text.at[1])
            x, _ = led(lines, (text.at[0], over))
            (bracket,) = [one for one in brackets if x == pytest.approx((one.a[0] + one.b[0]) / 2)]
            *many, mark = text.says.split(" × ")
            under = [placed for placed, at in middles(run, drawing) if bracket.a[0] < at < bracket.b[0]]
            assert [placed.mark for placed in under] == [mark] * int(*many or ["1"])


def middles(run: Run, drawing: Drawing) -> Iterator[tuple[Placed, float]]:
    """Each piece with the middle between its two cuts as they are drawn."""
    of = dict(zip(run.bar.cuts, cuts(drawing), strict=True))
    for placed, ends in zip(run.bar.pieces, ends_of(run.bar), strict=True):
        yield placed, sum(of[end].a[0] + of[end].b[0] for end in ends) / 4
