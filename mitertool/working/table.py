"""The table of formulas: each stands here once, its words in the table of words; tests hold the engine against all.

Sources: plane trigonometry; the corner as the pitch cones of bevel gears at any shaft angle (Machinery's Handbook,
from memory); regular polygons as in any engineering handbook; hoppers as in Compound-Angle Joinery (D. L. Snyder and
W. Gottesman, 2014); bends as in the pipe-stress handbooks.
"""

from __future__ import annotations

from typing import Any, Final

import sympy
from sympy import acos, asin, atan, ceiling, cos, sin, sqrt, tan

from mitertool.working.formula import RIGHT, Formula, Quantity

MITER = Quantity("m", "miter-from-square", "deg")
BEVEL = Quantity("b", "bevel-from-square", "deg")
P = Quantity("p", "rise-cut-across-bed", "")
Q = Quantity("q", "rise-cut-above-bed", "")
STRETCH = Quantity("k", "stretch-cut", "")
AREA = Quantity("A", "section-area", "mm2")
KERF = Quantity("c", "kerf-square-blade")
WIDTH = Quantity("W", "width-section-as-it-lies")
HEIGHT = Quantity("H", "height-section-as-it-lies")
P_SUM = Quantity("P", "rises-both-cuts-across-bed", "")
Q_SUM = Quantity("Q", "rises-both-cuts-above-bed", "")
LEFT_P, RIGHT_P = Quantity("pl", "rise-left-cut", ""), Quantity("pr", "rise-right-cut", "")
MOVING = Quantity("M", "length-edge-bottom-moving-side")
LENGTH_0 = Quantity("s", "length-edge-bottom-fixed-side")
WIDTH_A, WIDTH_B = Quantity("Wa", "width-first-member"), Quantity("Wb", "width-second-member")
ANGLE = Quantity("S", "angle-between-members-inside-corner", "deg")
SEAM_A = Quantity("d", "angle-between-seam-first-member", "deg")
GAP = Quantity("g", "root-gap-square-seam")
OUTER = Quantity("E", "outer-edge-from-corner-corner")
BACK_L, BACK_R = Quantity("ul", "taken-off-left-end"), Quantity("ur", "taken-off-right-end")
SIDES = Quantity("n", "number-sides", "")
IN_WIDTH, IN_HEIGHT = Quantity("X", "inside-width"), Quantity("Y", "inside-height")
DIAGONAL = Quantity("R", "diagonal-opening")
SLOPE = Quantity("d", "angle-diagonal-level", "deg")
OFFSET = Quantity("o", "how-far-apart-edges-run")
LIES = Quantity("a", "angle-brace-level", "deg")
LOW = Quantity("yl", "where-lower-end-meets-corner")
HIGH = Quantity("yh", "where-upper-end-meets-corner")
RISE, RUN = Quantity("v", "rise"), Quantity("h", "run")
OPENING, CLEAR_MOST = Quantity("O", "opening-between-posts"), Quantity("G", "greatest-clear-gap")
OVER = Quantity("t", "gaps-together-over-comes-out")
COUNT = Quantity("n", "number-uprights", "")
SLOPE_A, SLOPE_B = Quantity("a", "slope-member-before", "deg"), Quantity("b", "slope-member-after", "deg")
STANDS = Quantity("S", "slope-of-side", "deg")
RADIUS, CUTS = Quantity("R", "radius-of-middle"), Quantity("N", "number-cuts", "")
ROUND = Quantity("D", "degrees-of-bend", "deg")
PLAN, TURN = Quantity("t", "turn-in-plan", "deg"), Quantity("T", "turn-in-space", "deg")
CENTROID_Y, CENTROID_Z = Quantity("y", "centroid-across-bed"), Quantity("z", "centroid-above-bed")


def _formula(key: str, result: Quantity, expression: Any, *given: Quantity) -> Formula:
    return Formula(key, result, expression, given)


def _s(quantity: Quantity) -> sympy.Symbol:
    return quantity.name


_ROWS: Final = (
    _formula("miter-rise", P, tan(_s(MITER)), MITER),
    _formula("bevel-rise", Q, tan(_s(BEVEL)) / cos(_s(MITER)), BEVEL, MITER),
    _formula("stretch", STRETCH, sqrt(1 + _s(P) ** 2 + _s(Q) ** 2), P, Q),
    _formula(
        *("face-area", Quantity("F", "face-area", "mm2"), _s(AREA) * _s(STRETCH)),
        *(AREA, STRETCH),
    ),
    _formula(
        *("kerf-along", Quantity("K", "kerf-along-bar"), _s(KERF) * _s(STRETCH)),
        *(KERF, STRETCH),
    ),
    _formula("rise-sum", P_SUM, _s(LEFT_P) + _s(RIGHT_P), LEFT_P, RIGHT_P),
    _formula(
        *("fixed-edge", LENGTH_0, _s(MOVING) - _s(P_SUM) * _s(WIDTH)),
        *(MOVING, P_SUM, WIDTH),
    ),
    _formula(
        *("moving-edge", MOVING, _s(LENGTH_0) + _s(P_SUM) * _s(WIDTH)),
        *(LENGTH_0, P_SUM, WIDTH),
    ),
    _formula(
        *("centerline", Quantity("C", "centerline")),
        _s(LENGTH_0) + _s(P_SUM) * _s(WIDTH) / 2 + _s(Q_SUM) * _s(HEIGHT) / 2,
        *(LENGTH_0, P_SUM, WIDTH, Q_SUM, HEIGHT),
    ),
    _formula(
        *("volume", Quantity("V", "volume", "mm3")),
        _s(AREA) * (_s(LENGTH_0) + _s(P_SUM) * _s(CENTROID_Y) + _s(Q_SUM) * _s(CENTROID_Z)),
        *(AREA, LENGTH_0, P_SUM, CENTROID_Y, Q_SUM, CENTROID_Z),
    ),
    _formula(
        *("seam-angle", SEAM_A),
        RIGHT - atan((_s(WIDTH_B) + _s(WIDTH_A) * cos(_s(ANGLE))) / (_s(WIDTH_A) * sin(_s(ANGLE)))),
        *(WIDTH_A, WIDTH_B, ANGLE),
    ),
    _formula(
        "miter-first",
        Quantity("ma", "miter-first-member", "deg"),
        RIGHT - _s(SEAM_A),
        SEAM_A,
    ),
    _formula(
        *("miter-second", Quantity("mb", "miter-second-member", "deg")),
        RIGHT - (_s(ANGLE) - _s(SEAM_A)),
        *(ANGLE, SEAM_A),
    ),
    _formula("seam", Quantity("J", "seam"), _s(WIDTH_A) / sin(_s(SEAM_A)), WIDTH_A, SEAM_A),
    _formula(
        *("set-back", Quantity("u", "taken-off-along-bar")),
        _s(GAP) / 2 / cos(_s(MITER)),
        *(GAP, MITER),
    ),
    _formula(
        *("side-length", MOVING, _s(OUTER) - _s(BACK_L) - _s(BACK_R)),
        *(OUTER, BACK_L, BACK_R),
    ),
    _formula(
        *("regular-miter", MITER, 2 * RIGHT / _s(SIDES), SIDES),
    ),
    _formula(
        *("side-from-flats", Quantity("a", "side")),
        _s(Quantity("F", "")) * tan(2 * RIGHT / _s(SIDES)),
        *(Quantity("F", "width-across-flats"), SIDES),
    ),
    _formula(
        *("side-from-corners", Quantity("a", "side")),
        _s(Quantity("D", "")) * sin(2 * RIGHT / _s(SIDES)),
        *(Quantity("D", "width-across-corners"), SIDES),
    ),
    _formula(
        *("diagonal", DIAGONAL, sqrt(_s(IN_WIDTH) ** 2 + _s(IN_HEIGHT) ** 2)),
        *(IN_WIDTH, IN_HEIGHT),
    ),
    _formula("diagonal-angle", SLOPE, atan(_s(IN_HEIGHT) / _s(IN_WIDTH)), IN_HEIGHT, IN_WIDTH),
    _formula(
        *("brace-angle", LIES),
        _s(SLOPE) + asin(_s(OFFSET) / _s(DIAGONAL)),
        *(SLOPE, OFFSET, DIAGONAL),
    ),
    _formula("slope-angle", LIES, atan(_s(RISE) / _s(RUN)), RISE, RUN),
    _formula(
        "slope-length",
        Quantity("L", "length"),
        sqrt(_s(RISE) ** 2 + _s(RUN) ** 2),
        RISE,
        RUN,
    ),
    _formula(
        *("level-miter", MITER, RIGHT - _s(LIES), LIES),
    ),
    _formula("plumb-miter", MITER, _s(LIES), LIES),
    _formula(
        *("brace-length", Quantity("L", "length-along-brace")),
        _s(DIAGONAL) * cos(_s(LIES) - _s(SLOPE)),
        *(DIAGONAL, SLOPE, LIES),
    ),
    _formula(
        *("brace-edge", LENGTH_0),
        _s(Quantity("L", "")) - _s(LEFT_P) * _s(LOW) - _s(RIGHT_P) * _s(HIGH),
        *(Quantity("L", "length-along-brace"), LEFT_P, LOW, RIGHT_P, HIGH),
    ),
    _formula(
        *("butted", Quantity("u", "taken-off")),
        (_s(WIDTH) + _s(GAP)) / sin(_s(ANGLE)),
        *(WIDTH, GAP, ANGLE),
    ),
    _formula(
        *("uprights", COUNT),
        ceiling((_s(OPENING) - _s(CLEAR_MOST) - _s(OVER)) / (_s(CLEAR_MOST) + _s(WIDTH))),
        *(OPENING, CLEAR_MOST, OVER, WIDTH),
    ),
    _formula(
        *("clear-gap", Quantity("e", "clear-gap")),
        (_s(OPENING) - _s(COUNT) * _s(WIDTH)) / (_s(COUNT) + 1),
        *(OPENING, COUNT, WIDTH),
    ),
    _formula(
        *("turn-in-space", TURN),
        acos(cos(_s(SLOPE_A)) * cos(_s(SLOPE_B)) * cos(_s(PLAN)) + sin(_s(SLOPE_A)) * sin(_s(SLOPE_B))),
        *(SLOPE_A, SLOPE_B, PLAN),
    ),
    _formula("hopper-miter", MITER, atan(tan(2 * RIGHT / _s(SIDES)) * cos(_s(STANDS))), SIDES, STANDS),
    _formula("hopper-bevel", BEVEL, asin(sin(2 * RIGHT / _s(SIDES)) * sin(_s(STANDS))), SIDES, STANDS),
    _formula("bend-miter", MITER, _s(ROUND) / 2 / _s(CUTS), ROUND, CUTS),
    _formula("segment", Quantity("C", "centerline-of-segment"), 2 * _s(RADIUS) * tan(_s(MITER)), RADIUS, MITER),
    _formula("half-turn", Quantity("w", "swing-of-rolled-bar", "deg"), _s(TURN) / 2, TURN),
)

TABLE: Final[dict[str, Formula]] = {formula.key: formula for formula in _ROWS}
"""Every formula by its key."""
