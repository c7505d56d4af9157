"""The table of formulas: each stands here once, with its words; tests hold the engine against every row.

Sources: plane trigonometry; the corner as the pitch cones of bevel gears at any shaft angle (Machinery's Handbook,
from memory); regular polygons as in any engineering handbook.
"""

from __future__ import annotations

from typing import Any, Final

import sympy
from sympy import asin, atan, ceiling, cos, sin, sqrt, tan

from mitertool.working.formula import RIGHT, Formula, Quantity

MITER = Quantity("m", "miter, from square", "deg")
BEVEL = Quantity("b", "bevel, from square", "deg")
P = Quantity("p", "rise of the cut across the bed", "")
Q = Quantity("q", "rise of the cut above the bed", "")
STRETCH = Quantity("k", "stretch of the cut", "")
AREA = Quantity("A", "section area", "mm2")
KERF = Quantity("c", "kerf, square to the blade")
WIDTH = Quantity("W", "width of the section as it lies")
HEIGHT = Quantity("H", "height of the section as it lies")
P_SUM = Quantity("P", "rises of both cuts across the bed, added", "")
Q_SUM = Quantity("Q", "rises of both cuts above the bed, added", "")
LEFT_P, RIGHT_P = Quantity("pl", "rise of the left cut", ""), Quantity("pr", "rise of the right cut", "")
MOVING = Quantity("M", "length of the edge at the bottom of the moving side")
LENGTH_0 = Quantity("s", "length of the edge at the bottom of the fixed side")
WIDTH_A, WIDTH_B = Quantity("Wa", "width of the first member"), Quantity("Wb", "width of the second member")
ANGLE = Quantity("S", "angle between the members, inside the corner", "deg")
SEAM_A = Quantity("d", "angle between the seam and the first member", "deg")
GAP = Quantity("g", "root gap, square to the seam")
OUTER = Quantity("E", "outer edge from corner to corner")
BACK_L, BACK_R = Quantity("ul", "taken off at the left end"), Quantity("ur", "taken off at the right end")
SIDES = Quantity("n", "number of sides", "")
IN_WIDTH, IN_HEIGHT = Quantity("X", "inside width"), Quantity("Y", "inside height")
DIAGONAL = Quantity("R", "diagonal of the opening")
SLOPE = Quantity("d", "angle of the diagonal to the level", "deg")
OFFSET = Quantity("o", "how far apart the edges run that meet the corners")
LIES = Quantity("a", "angle of the brace to the level", "deg")
LOW = Quantity("yl", "where the lower end meets its corner, across the brace")
HIGH = Quantity("yh", "where the upper end meets its corner, across the brace")
RISE, RUN = Quantity("v", "rise"), Quantity("h", "run")
OPENING, CLEAR_MOST = Quantity("O", "opening between the posts"), Quantity("G", "greatest clear gap")
OVER = Quantity("t", "by which the gaps together may be over, so that one that comes out even counts")
COUNT = Quantity("n", "number of uprights", "")
CENTROID_Y, CENTROID_Z = Quantity("y", "centroid across the bed"), Quantity("z", "centroid above the bed")


def _formula(key: str, says: str, result: Quantity, expression: Any, *given: Quantity) -> Formula:
    return Formula(key, says, result, expression, given)


def _s(quantity: Quantity) -> sympy.Symbol:
    return quantity.name


_ROWS: Final = (
    _formula("miter-rise", "Rise of the cut across the bed", P, tan(_s(MITER)), MITER),
    _formula("bevel-rise", "Rise of the cut above the bed", Q, tan(_s(BEVEL)) / cos(_s(MITER)), BEVEL, MITER),
    _formula("stretch", "How much longer along the bar", STRETCH, sqrt(1 + _s(P) ** 2 + _s(Q) ** 2), P, Q),
    _formula(
        *("face-area", "Area of the cut face", Quantity("F", "face area", "mm2"), _s(AREA) * _s(STRETCH)),
        *(AREA, STRETCH),
    ),
    _formula(
        *("kerf-along", "Kerf along the bar", Quantity("K", "kerf along the bar"), _s(KERF) * _s(STRETCH)),
        *(KERF, STRETCH),
    ),
    _formula("rise-sum", "Rises of both cuts across the bed", P_SUM, _s(LEFT_P) + _s(RIGHT_P), LEFT_P, RIGHT_P),
    _formula(
        *("fixed-edge", "Fixed-side edge from the moving-side edge", LENGTH_0, _s(MOVING) - _s(P_SUM) * _s(WIDTH)),
        *(MOVING, P_SUM, WIDTH),
    ),
    _formula(
        *("moving-edge", "Moving-side edge from the fixed-side edge", MOVING, _s(LENGTH_0) + _s(P_SUM) * _s(WIDTH)),
        *(LENGTH_0, P_SUM, WIDTH),
    ),
    _formula(
        *("centerline", "Length on the centerline", Quantity("C", "centerline")),
        _s(LENGTH_0) + _s(P_SUM) * _s(WIDTH) / 2 + _s(Q_SUM) * _s(HEIGHT) / 2,
        *(LENGTH_0, P_SUM, WIDTH, Q_SUM, HEIGHT),
    ),
    _formula(
        *("volume", "Volume: the area times the length at the centroid", Quantity("V", "volume", "mm3")),
        _s(AREA) * (_s(LENGTH_0) + _s(P_SUM) * _s(CENTROID_Y) + _s(Q_SUM) * _s(CENTROID_Z)),
        *(AREA, LENGTH_0, P_SUM, CENTROID_Y, Q_SUM, CENTROID_Z),
    ),
    _formula(
        *("seam-angle", "Angle between the seam and the first member", SEAM_A),
        RIGHT - atan((_s(WIDTH_B) + _s(WIDTH_A) * cos(_s(ANGLE))) / (_s(WIDTH_A) * sin(_s(ANGLE)))),
        *(WIDTH_A, WIDTH_B, ANGLE),
    ),
    _formula(
        "miter-first",
        "Miter of the first member",
        Quantity("ma", "miter of the first member", "deg"),
        RIGHT - _s(SEAM_A),
        SEAM_A,
    ),
    _formula(
        *("miter-second", "Miter of the second member", Quantity("mb", "miter of the second member", "deg")),
        RIGHT - (_s(ANGLE) - _s(SEAM_A)),
        *(ANGLE, SEAM_A),
    ),
    _formula("seam", "Length of the seam", Quantity("J", "seam"), _s(WIDTH_A) / sin(_s(SEAM_A)), WIDTH_A, SEAM_A),
    _formula(
        *("set-back", "Taken off for the root gap, half from each member", Quantity("u", "taken off along the bar")),
        _s(GAP) / 2 / cos(_s(MITER)),
        *(GAP, MITER),
    ),
    _formula(
        *("side-length", "Length of the outer edge of a piece", MOVING, _s(OUTER) - _s(BACK_L) - _s(BACK_R)),
        *(OUTER, BACK_L, BACK_R),
    ),
    _formula(
        *("regular-miter", "Miter of a regular polygon's corners", MITER, 2 * RIGHT / _s(SIDES), SIDES),
    ),
    _formula(
        *("side-from-flats", "Side from the width across flats", Quantity("a", "side")),
        _s(Quantity("F", "")) * tan(2 * RIGHT / _s(SIDES)),
        *(Quantity("F", "width across flats"), SIDES),
    ),
    _formula(
        *("side-from-corners", "Side from the width across corners", Quantity("a", "side")),
        _s(Quantity("D", "")) * sin(2 * RIGHT / _s(SIDES)),
        *(Quantity("D", "width across corners"), SIDES),
    ),
    _formula(
        *("diagonal", "Diagonal of the opening", DIAGONAL, sqrt(_s(IN_WIDTH) ** 2 + _s(IN_HEIGHT) ** 2)),
        *(IN_WIDTH, IN_HEIGHT),
    ),
    _formula("diagonal-angle", "Angle of the diagonal", SLOPE, atan(_s(IN_HEIGHT) / _s(IN_WIDTH)), IN_HEIGHT, IN_WIDTH),
    _formula(
        *("brace-angle", "Angle of the brace, an edge of which runs through each corner", LIES),
        _s(SLOPE) + asin(_s(OFFSET) / _s(DIAGONAL)),
        *(SLOPE, OFFSET, DIAGONAL),
    ),
    _formula("slope-angle", "Angle from rise and run", LIES, atan(_s(RISE) / _s(RUN)), RISE, RUN),
    _formula(
        "slope-length",
        "Length from rise and run",
        Quantity("L", "length"),
        sqrt(_s(RISE) ** 2 + _s(RUN) ** 2),
        RISE,
        RUN,
    ),
    _formula(
        *("level-miter", "Miter of an end cut level", MITER, RIGHT - _s(LIES), LIES),
    ),
    _formula("plumb-miter", "Miter of an end cut plumb", MITER, _s(LIES), LIES),
    _formula(
        *("brace-length", "Along the brace from corner to corner", Quantity("L", "length along the brace")),
        _s(DIAGONAL) * cos(_s(LIES) - _s(SLOPE)),
        *(DIAGONAL, SLOPE, LIES),
    ),
    _formula(
        *("brace-edge", "Lower edge of the brace from the length along it", LENGTH_0),
        _s(Quantity("L", "")) - _s(LEFT_P) * _s(LOW) - _s(RIGHT_P) * _s(HIGH),
        *(Quantity("L", "length along the brace"), LEFT_P, LOW, RIGHT_P, HIGH),
    ),
    _formula(
        *("butted", "Taken off a butted member for the one that runs through", Quantity("u", "taken off")),
        (_s(WIDTH) + _s(GAP)) / sin(_s(ANGLE)),
        *(WIDTH, GAP, ANGLE),
    ),
    _formula(
        *("uprights", "Number of uprights", COUNT),
        ceiling((_s(OPENING) - _s(CLEAR_MOST) - _s(OVER)) / (_s(CLEAR_MOST) + _s(WIDTH))),
        *(OPENING, CLEAR_MOST, OVER, WIDTH),
    ),
    _formula(
        *("clear-gap", "Clear gap between uprights", Quantity("e", "clear gap")),
        (_s(OPENING) - _s(COUNT) * _s(WIDTH)) / (_s(COUNT) + 1),
        *(OPENING, COUNT, WIDTH),
    ),
)

TABLE: Final[dict[str, Formula]] = {formula.key: formula for formula in _ROWS}
"""Every formula by its key."""
