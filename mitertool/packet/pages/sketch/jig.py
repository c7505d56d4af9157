"""A jig drawn at 1:1: the lines of its stops from the first corner, which is (0, 0), mm of steel; knows words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import copysign
from typing import Final

from mitertool.base.totals import summed_points
from mitertool.drawing import CENTER, HIDDEN, OUTLINE, Drawing, Line, Text
from mitertool.frame import Assembly
from mitertool.frame.setting_out import SettingOut
from mitertool.frame.stops import stop_lines
from mitertool.geometry.near import low_and_size
from mitertool.packet.cautions import short
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_PAPER: Final = 250.0
_LETTERS: Final = 3.0
_TITLE: Final = 4.5
_CROSS: Final = 10.0
"""mm of paper: what the frame takes when the whole is printed on one sheet, and its lettering there."""


_ASIDE: Final = 3.0
_OVER: Final = 5.5
"""mm on paper from a corner to its lettering, aside and up or down."""


def jig_scale(assembly: Assembly) -> float:
    """How much larger than on paper the lettering stands in the model."""
    _, size = low_and_size(point for outline in assembly.outlines for point in outline)
    return max(size.real, size.imag) / _PAPER


def jig_sketch(assembly: Assembly, out: SettingOut, units: Units, title: str) -> Drawing:
    """Stops as full lines, ends of pieces and what has no stops dashed, corners with their numbers and places."""
    k = jig_scale(assembly)
    lines = stop_lines(assembly, out)
    stops = [Line(_at(line.first), _at(line.second), OUTLINE) for line in lines]
    stopped = {line.host for line in lines}
    ends = [line for host in range(len(assembly.every)) for line in _dashed(assembly, out, host, host in stopped)]
    return Drawing([*stops, *ends, *_datum(k), *_corners(out, k, units), *_marks(assembly, out, k), *_title(title, k)])


def _at(point: complex) -> tuple[float, float]:
    return point.real, point.imag


def _dashed(assembly: Assembly, out: SettingOut, host: int, stopped: bool) -> Iterator[Line]:
    """The ends of a piece with stops; of another its whole outline."""
    corners = [point - out.origin for point in assembly.outlines[host]]
    sides = {frozenset(pair) for pair in _long(assembly, out, host)} if stopped else set()
    for a, b in pairwise([*corners, corners[0]]):
        if frozenset((a, b)) not in sides:
            yield Line(_at(a), _at(b), HIDDEN)


def _long(assembly: Assembly, out: SettingOut, host: int) -> tuple[tuple[complex, complex], tuple[complex, complex]]:
    inner_start, outer_start, outer_end, inner_end = (point - out.origin for point in assembly.edges[host])
    return (inner_start, inner_end), (outer_start, outer_end)


def _datum(k: float) -> Iterator[Line]:
    reach = _CROSS * k
    yield Line((-reach, 0.0), (reach, 0.0), CENTER)
    yield Line((0.0, -reach), (0.0, reach), CENTER)


def _corners(out: SettingOut, k: float, units: Units) -> Iterator[Text]:
    """The number of each corner and its place, away from the middle of the frame and clear of a line that is level."""
    middle = summed_points(corner.at for corner in out.corners) / len(out.corners)
    for corner in out.corners:
        away = corner.at - middle
        aside = corner.at + k * complex(copysign(_ASIDE, away.real), copysign(_OVER, away.imag))
        right, up = (show_length(mm, units) for mm in (corner.at.real, corner.at.imag))
        says = phrase("jig.corner", number=corner.number, right=right, up=up)
        yield Text(_at(aside), says, _LETTERS, "left" if away.real > 0 else "right", "middle")


def _marks(assembly: Assembly, out: SettingOut, k: float) -> Iterator[Text]:
    """The mark of each piece with stops inside its lines, along them."""
    for line in stop_lines(assembly, out):
        if line.side == "outer":
            at = summed_points(point - out.origin for point in assembly.edges[line.host]) / 4
            size = min(_LETTERS, 0.6 * _narrow(assembly, line.host) / k)
            yield Text(
                _at(at),
                assembly.every[line.host],
                size,
                "center",
                "middle",
                line.angle if line.angle <= 90 else line.angle - 180,
            )


def _narrow(assembly: Assembly, host: int) -> float:
    """How wide a piece lies, mm."""
    inner_start, outer_start, outer_end, _ = assembly.edges[host]
    along = outer_end - outer_start
    return abs(((inner_start - outer_start) / along).imag) * abs(along)


def _title(title: str, k: float) -> Iterator[Text]:
    for i, says in enumerate((title, phrase("jig.says"), short())):
        yield Text((0.0, -(25.0 + 7.0 * i) * k), says, _LETTERS if i else _TITLE, bold=i == 0)
