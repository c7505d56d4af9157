"""Every formula that is shown, held against what the engine makes of the same numbers.

The engine never reads the table: it lays planes, corners and braces out as points and lengths. A row is looked up here
by its key, so one without a check, and a check without a row, fail.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable

import attrs
import pytest

import mitertool as mt
from mitertool.frame import Assembly, Joint, corner, elbow, hopper, landing, planar, rectangle
from mitertool.frame.braces import corner_to_corner, knee, rise_and_run
from mitertool.frame.hoppers import Sizes
from mitertool.frame.infills import infill
from mitertool.frame.polygons import regular
from mitertool.piece import Piece
from mitertool.working import TABLE

ANGLE = mt.angle(65, 100, 8, 10, 5)
TUBE = mt.rect_tube(60, 40, 3)
BAR = mt.flat(60, 60)

CUTS = [mt.Cut(0, 0), mt.Cut(30, 20), mt.Cut(-45, 10), mt.Cut(72.5, -60), mt.Cut(10, 45)]
CORNERS = [
    *((50, 50, 90), (40, 80, 90), (80, 40, 60), (30, 90, 120), (50, 100, 120), (20, 200, 5)),
    *((50, 50, 270), (40, 80, 225), (90, 30, 300), (10, 300, 179)),
]
OPENINGS = [(836, 552), (700, 1100), (2400, 300)]
ENDS = [("level", "level"), ("plumb", "plumb"), ("level", "plumb"), ("plumb", "level")]

Case = tuple[dict[str, float], float]
"""What is put into a row, and what the engine has for its result."""


def pieces() -> list[Piece]:
    ends = [(CUTS[1], CUTS[2]), (CUTS[4], CUTS[4]), (CUTS[0], CUTS[1])]
    return [Piece(section, 900, *cuts) for section in (ANGLE, TUBE) for cuts in ends]


def of_each_cut(values: Callable[[mt.Cut], Case]) -> Callable[[], list[Case]]:
    return lambda: [values(cut) for cut in CUTS]


def of_each_piece(values: Callable[[Piece], Case]) -> Callable[[], list[Case]]:
    return lambda: [values(piece) for piece in pieces()]


def rises(piece: Piece) -> dict[str, float]:
    return {"P": piece.left.p + piece.right.p, "Q": piece.left.q + piece.right.q}


def of_volume(piece: Piece) -> Case:
    area, (y, z) = piece.section.area, piece.section.centroid
    return {"A": area, "s": piece.edges.fixed_bottom, **rises(piece), "y": y, "z": z}, piece.volume


def of_each_corner(values: Callable[[float, float, float], Case]) -> Callable[[], list[Case]]:
    return lambda: [values(*given) for given in CORNERS]


def seam_angle(a: float, b: float, angle: float) -> float:
    """Between the seam, drawn from the inner to the outer crossing of the edges, and the first member, degrees.

    Member a runs along x with its inner edge on y = 0; its outer edge lies at y = a. Member b leaves the inner crossing
    at `angle`, inside the corner; its outer edge crosses the other at the outer end of the seam.
    """
    solved = corner(a, b, angle)
    seam = complex(math.tan(math.radians(solved.miter_a)) * a, a)
    assert abs(seam) == pytest.approx(solved.seam)
    return math.degrees(cmath.phase(seam))


def brace_of(width: float, height: float, ends: tuple[str, str]) -> Assembly:
    return corner_to_corner(BAR, width, height, ends)


def of_each_brace(values: Callable[[float, float, tuple[str, str]], Case]) -> Callable[[], list[Case]]:
    return lambda: [values(width, height, ends) for width, height in OPENINGS for ends in ENDS]


def lies(assembly: Assembly) -> float:
    """The angle at which a brace lies in its place, degrees."""
    return math.degrees(cmath.phase(assembly.places[0].turn))


def touching(piece: Piece, ends: tuple[str, str]) -> tuple[float, float]:
    """Across the brace, where its ends meet the corners: the upper edge at a lower end that is level, and so on."""
    return (BAR.width if ends[0] == "level" else 0.0), (BAR.width if ends[1] == "plumb" else 0.0)


def along(piece: Piece, ends: tuple[str, str]) -> float:
    low, high = touching(piece, ends)
    return piece.s + piece.right.p * high + piece.left.p * low


def of_brace_angle(width: float, height: float, ends: tuple[str, str]) -> Case:
    assembly = brace_of(width, height, ends)
    low, high = touching(assembly.pieces[0].piece, ends)
    diagonal = math.degrees(math.atan2(height, width))
    return {"d": diagonal, "o": low - high, "R": math.hypot(width, height)}, lies(assembly)


def of_brace_length(width: float, height: float, ends: tuple[str, str]) -> Case:
    assembly = brace_of(width, height, ends)
    given = {"R": math.hypot(width, height), "d": math.degrees(math.atan2(height, width)), "a": lies(assembly)}
    return given, along(assembly.pieces[0].piece, ends)


def of_brace_edge(width: float, height: float, ends: tuple[str, str]) -> Case:
    piece = brace_of(width, height, ends).pieces[0].piece
    low, high = touching(piece, ends)
    given = {"L": along(piece, ends), "pl": piece.left.p, "yl": low, "pr": piece.right.p, "yh": high}
    return given, piece.edges.fixed_bottom


def pointed(width: float, height: float) -> Assembly:
    return corner_to_corner(BAR, width, height, ("point", "point"))


def of_level_and_plumb(end: str) -> list[Case]:
    """Lower ends of braces by rise and run; a plumb one there slopes the other way, as an upper one that is level."""
    found = []
    for rise, run in ((300, 400), (900, 200), (5, 700)):
        assembly = rise_and_run(BAR, rise, run, (end, end))
        piece = assembly.pieces[0].piece
        miter = {"level": piece.left.miter, "plumb": piece.right.miter}[end]
        found.append(({"a": lies(assembly)}, miter))
    return found


def of_set_back() -> list[Case]:
    """Half of what a gap at both ends takes from the sides of two frames, of 60 wide and of 60 and 20 wide."""
    found = []
    for gap in (0.5, 3.0):
        for sections in ([BAR], [BAR, mt.flat(20, 60)]):
            tight, loose = (rectangle(sections, 900, 700, "outside", g).pieces[0].piece for g in (0.0, gap))
            taken = (tight.edges.moving_bottom - loose.edges.moving_bottom) / 2
            found.append(({"g": gap, "m": tight.left.miter}, taken))
    return found


def of_side_length() -> list[Case]:
    """A butted rectangle of 900 by 700: 63 off at either end; an open side with a cap of 5 and a butted end."""
    butted = rectangle(BAR, 900, 700, "outside", 3, corners="butt").pieces[1].piece
    points = [0j, 500j, 700 + 500j]
    opened = planar("p", points, [BAR] * 2, "outside", [Joint("first-through")], False, deduct=(5, 7))
    return [
        ({"E": 700, "ul": 63, "ur": 63}, butted.edges.moving_bottom),
        ({"E": 500, "ul": 5, "ur": 0}, opened.pieces[0].piece.edges.moving_bottom),
        ({"E": 700, "ul": 60, "ur": 7}, opened.pieces[1].piece.edges.moving_bottom),
    ]


def of_butted() -> list[Case]:
    """What a triangle of 1200, butted all round, loses of each side; what a rectangle loses of its heights, by half."""
    found = []
    for gap in (0.0, 4.0):
        points = regular(3, "side", 1200)
        piece = planar("p", points, [BAR] * 3, "outside", [Joint("first-through", gap)] * 3).pieces[0].piece
        found.append(({"W": 60, "g": gap, "S": 60}, 1200 - piece.edges.moving_bottom))
        square = rectangle([BAR, TUBE], 900, 700, "outside", gap, corners="butt").pieces[1].piece
        found.append(({"W": 60, "g": gap, "S": 90}, (700 - square.long_point) / 2))
    return found


INFILLS = [(1000, 100, 20), (1000, 120, 60), (820, 100, 20), (820.0005, 100, 20), (1077.9, 120.65, 16.1)]
"""Opening, greatest gap, width. 820 is 7 gaps of 100 and 6 uprights of 20, half a thousandth more is not over."""


def of_uprights() -> list[Case]:
    return [({"O": o, "G": g, "W": w, "t": 1e-3}, len(infill(mt.flat(w, 10), o, 900, g).order)) for o, g, w in INFILLS]


def of_clear_gap() -> list[Case]:
    """From the post to the first upright in its place."""
    found = []
    for opening, clear_most, width in INFILLS:
        assembly = infill(mt.flat(width, 10), opening, 900, clear_most)
        first = min(point.real for point in assembly.outlines[0])
        found.append(({"O": opening, "n": len(assembly.order), "W": width}, first))
    return found


def of_regular(given: str, symbol: str) -> list[Case]:
    found = []
    for sides in (3, 4, 5, 6, 12):
        corners = regular(sides, given, 800)
        found.append(({symbol: 800.0, "n": sides}, abs(corners[1] - corners[0])))
    return found


def of_regular_miter() -> list[Case]:
    made = {n: planar("p", regular(n, "side", 900), [BAR] * n, "outside", [Joint()] * n) for n in (3, 4, 5, 6, 12)}
    return [({"n": n}, assembly.pieces[0].piece.left.miter) for n, assembly in made.items()]


LANDINGS = [(32.0, 0.0, 90.0), (32.0, -20.0, 40.0), (-10.0, 25.0, 150.0)]
"""Slopes of the members before and after, and the turn in plan."""


def turn_of(a: float, b: float, t: float) -> float:
    return landing(TUBE, (a, b), 180 - t).turn


def of_half_turn() -> list[Case]:
    cuts = [(turn_of(*given), landing(TUBE, given[:2], 180 - given[2]).before) for given in LANDINGS]
    return [({"T": turn}, math.degrees(math.atan(math.hypot(cut.p, cut.q)))) for turn, cut in cuts]


def of_hopper(which: str) -> list[Case]:
    """Solved by the planes between its sides."""
    found = []
    for sides, out in ((3, 100.0), (4, 250.0), (6, 400.0)):
        made = hopper(1.0, sides, Sizes(500.0, 500.0 + 2 * out, 300.0), "outside").pieces[0].piece
        slope = math.degrees(math.atan2(300, out))
        found.append(({"n": sides, "S": slope}, getattr(made.left, which)))
    return found


ELBOWS = [(90.0, 4, 381.0), (60.0, 2, 150.0), (45.0, 1, 300.0)]


def of_bend_miter() -> list[Case]:
    return [({"D": d, "N": n}, elbow(mt.round_tube(100, 5), r, d, n).pieces[0].piece.right.miter) for d, n, r in ELBOWS]


def of_segment() -> list[Case]:
    """An end is half of a full one."""
    made = [(r, elbow(mt.round_tube(100, 5), r, d, n).pieces[0].piece) for d, n, r in ELBOWS]
    return [({"R": r, "m": piece.right.miter}, 2 * piece.centerline) for r, piece in made]


CHECKS: dict[str, Callable[[], list[Case]]] = {
    "miter-rise": of_each_cut(lambda cut: ({"m": cut.miter}, cut.p)),
    "bevel-rise": of_each_cut(lambda cut: ({"b": cut.bevel, "m": cut.miter}, cut.q)),
    "stretch": of_each_cut(lambda cut: ({"p": cut.p, "q": cut.q}, cut.face(ANGLE).area / ANGLE.area)),
    "face-area": of_each_cut(lambda cut: ({"A": ANGLE.area, "k": cut.kerf_along(1)}, cut.face(ANGLE).area)),
    "kerf-along": of_each_cut(lambda cut: ({"c": 1.3, "k": cut.stretch}, cut.kerf_along(1.3))),
    "rise-sum": of_each_piece(lambda one: ({"pl": one.left.p, "pr": one.right.p}, one.p)),
    "fixed-edge": of_each_piece(
        lambda one: (
            {"M": one.edges.moving_bottom, "W": one.section.width, "P": rises(one)["P"]},
            one.edges.fixed_bottom,
        )
    ),
    "moving-edge": of_each_piece(
        lambda one: (
            {"s": one.edges.fixed_bottom, "W": one.section.width, "P": rises(one)["P"]},
            one.edges.moving_bottom,
        )
    ),
    "centerline": of_each_piece(
        lambda one: (
            {"s": one.edges.fixed_bottom, "W": one.section.width, "H": one.section.height, **rises(one)},
            one.centerline,
        )
    ),
    "volume": of_each_piece(of_volume),
    "seam-angle": of_each_corner(lambda a, b, s: ({"Wa": a, "Wb": b, "S": s}, seam_angle(a, b, s))),
    "miter-first": of_each_corner(lambda a, b, s: ({"d": seam_angle(a, b, s)}, corner(a, b, s).miter_a)),
    "miter-second": of_each_corner(lambda a, b, s: ({"d": seam_angle(a, b, s), "S": s}, corner(a, b, s).miter_b)),
    "seam": of_each_corner(lambda a, b, s: ({"Wa": a, "d": seam_angle(a, b, s)}, corner(a, b, s).seam)),
    "set-back": of_set_back,
    "side-length": of_side_length,
    "regular-miter": of_regular_miter,
    "side-from-flats": lambda: of_regular("across_flats", "F"),
    "side-from-corners": lambda: of_regular("across_corners", "D"),
    "diagonal": lambda: [({"X": x, "Y": y}, pointed(x, y).pieces[0].piece.long_point) for x, y in OPENINGS],
    "diagonal-angle": lambda: [({"X": x, "Y": y}, lies(pointed(x, y))) for x, y in OPENINGS],
    "brace-angle": of_each_brace(of_brace_angle),
    "brace-length": of_each_brace(of_brace_length),
    "brace-edge": of_each_brace(of_brace_edge),
    "slope-angle": lambda: [
        ({"v": v, "h": h}, lies(rise_and_run(BAR, v, h, ("square", "square")))) for h, v in OPENINGS
    ],
    "slope-length": lambda: [({"v": v, "h": h}, knee(BAR, h, v).pieces[0].piece.long_point) for h, v in OPENINGS],
    "level-miter": lambda: of_level_and_plumb("level"),
    "plumb-miter": lambda: of_level_and_plumb("plumb"),
    "butted": of_butted,
    "uprights": of_uprights,
    "clear-gap": of_clear_gap,
    "turn-in-space": lambda: [({"a": a, "b": b, "t": t}, turn_of(a, b, t)) for a, b, t in LANDINGS],
    "half-turn": of_half_turn,
    "hopper-miter": lambda: of_hopper("miter"),
    "hopper-bevel": lambda: of_hopper("bevel"),
    "bend-miter": of_bend_miter,
    "segment": of_segment,
}


def test_every_row_has_its_check() -> None:
    assert sorted(CHECKS) == sorted(TABLE)


@pytest.mark.parametrize("key", TABLE)
def test_the_row_is_what_the_engine_does(key: str) -> None:
    """With a case that is worth its while: results differ among themselves."""
    cases = CHECKS[key]()
    for given, found in cases:
        assert TABLE[key].value(**given) == pytest.approx(found, rel=1e-9, abs=1e-9)
    assert len({round(found, 6) for _, found in cases}) > 1


@pytest.mark.parametrize("key", TABLE)
def test_a_wrong_formula_is_seen(key: str) -> None:
    """The cases would turn the check red if any quantity of the row came in with a third of its value."""
    row, cases = TABLE[key], CHECKS[key]()
    for quantity in row.given:
        wrong = attrs.evolve(row, expression=row.expression.subs(quantity.name, quantity.name / 3))
        assert any(wrong.value(**given) != pytest.approx(found, rel=1e-9, abs=1e-9) for given, found in cases)


@pytest.mark.parametrize("key", TABLE)
def test_a_row_asks_for_what_it_uses(key: str) -> None:
    """Every quantity that it is given stands in the expression, each symbol once, and nothing else does."""
    row = TABLE[key]
    assert row.key == key
    given = [quantity.symbol for quantity in row.given]
    assert len(set(given)) == len(given)
    used = {symbol.name for symbol in row.expression.free_symbols} - {"90°"}
    assert used == set(given)
    assert row.result.symbol not in given
