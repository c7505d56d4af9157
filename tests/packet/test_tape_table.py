"""On which side of its tape mark the blade takes the kerf of each cut, as picture and word show it, by plan.json.

Seen from the leading end, where the arrow stands, a trailing end of a piece has its kerf past the mark and a leading
end before it; which cut is which is read off the plan: the first leads, and one behind a cut that is not shared.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from mitertool.drawing import Drawing, Line, Polygon
from mitertool.job import Solution
from mitertool.packet.pages.sheet.sheet import cut_sheet

SIGN = 9.0
"""Paper mm before its word in which the picture stands."""


def middle(points: list[tuple[float, float]]) -> tuple[float, float]:
    xs, ys = zip(*points, strict=True)
    return sum(xs) / len(xs), sum(ys) / len(ys)


def signs(drawing: Drawing) -> Iterator[tuple[str, bool, bool]]:
    """Of each row its word, whether the mark is between grey and arrow, and whether the arrow is at the left."""
    parts = list(drawing.primitives())
    for box in drawing.text_boxes():
        if box.says in ("beyond", "before"):
            x, y = box.corners[0]
            near = [one for one in parts if isinstance(one, Polygon) and _within(middle(list(one.points)), x, y)]
            (arrow,) = [middle(list(one.points)) for one in near if len(one.points) == 3]
            (kerf,) = [middle(list(one.points)) for one in near if len(one.points) == 4]
            lines = [one for one in parts if isinstance(one, Line) and abs(one.a[0] - one.b[0]) < 1e-9]
            (mark,) = [one.a[0] for one in lines if _within(middle([one.a, one.b]), x, y)]
            yield box.says, (kerf[0] - mark) * (arrow[0] - mark) < 0, arrow[0] < mark


def _within(point: tuple[float, float], x: float, y: float) -> bool:
    return x - SIGN < point[0] < x and abs(point[1] - y - 1.4) < 2.0


def leads(solution: Solution) -> Iterator[bool]:
    """Of each cut, bar by bar, whether it is the leading end of a piece alone."""
    for run in solution.runs:
        begins = True
        for at, cut in enumerate(run.bar.cuts):
            yield begins
            begins = not begins and not cut.shared and at + 1 < len(run.bar.cuts)


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame", "lantern-house", "ramp-rail"])
def test_the_kerf_lies_on_its_side_of_each_mark(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    shown = [one for page in cut_sheet(solution) for one in signs(page.drawing)]
    wanted = [("before" if lead else "beyond", not lead) for lead in leads(solution)]
    assert sorted((word, past) for word, past, _ in shown) == sorted(wanted)
    assert {left for *_, left in shown} == {name in ("boathouse-gate", "lantern-house")}
