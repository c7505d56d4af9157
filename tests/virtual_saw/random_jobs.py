"""Jobs drawn by lot, each with its job file, its saw file and what is wanted, by closed forms from the same numbers.

Every job can be made: angles stay within what the arm and the blade of its saw reach, where need be by a roll of a
section that lies as well upside down. What a job asks is spread over shapes, lays, hands, ways of measuring, jaws,
scales, feeds, tilts, kept corrections, kerfs and units.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache
from math import atan, cos, degrees, hypot, radians, sqrt, tan
from random import Random

from tests.virtual_saw import lays, steel
from tests.virtual_saw.further import add_plane
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.steel import SAME, Plane, Section, Solid, error, minus

ROLLABLE = ("rect-tube", "flat", "round-tube", "round-bar", "z")
"""Shapes that lie upside down as well as not."""

SHAPES = (*ROLLABLE, "channel", "angle")


WITH_A_GRADE = 5
"""Of so many jobs one names a grade."""

WITHOUT_A_SAW = 19
"""Of so many jobs one names no saw file."""

OVER_THE_TIP = 8
"""Of so many jobs one lets a kerf lie where the piece before it was."""

STEEPEST = 46.0
"""degrees. Every saw by lot swings further, to a side at least."""

TURNS = ('["as-drawn"]', '["as-drawn", "end-for-end"]', '["as-drawn", "rolled"]')
"""Ways of lying on a bar that a mark is held to."""


@dataclass
class Drawn:
    """A job: its two files, each mark as wanted, and the sections that are bought."""

    text: str
    saw: str
    pieces: dict[str, Solid] = field(default_factory=dict)
    quantity: dict[str, int] = field(default_factory=dict)
    trim: float = 0.0
    stocks: dict[str, Stock] = field(default_factory=dict)
    blanks: dict[str, Solid] = field(default_factory=dict)


@dataclass(frozen=True)
class Kind:
    """What one job is about: its saw's ways, and the units of its files (mm in a unit)."""

    shape: str
    tilts: bool
    one_way: bool
    unit: float
    most: float
    name: str = "OWN"
    grade: str = ""

    @property
    def bought(self) -> str:
        """Section and grade of a piece, a frame or a bar."""
        return f'section = "{self.name}"\n' + (f'grade = "{self.grade}"\n' if self.grade else "")


def job(seed: int) -> Drawn:
    """The job of a seed."""
    lot = Random(seed)
    shape = SHAPES[seed % len(SHAPES)]
    one_way = shape in ROLLABLE and lot.random() < 0.4
    tilts, unit, most = lot.random() < 0.5, lot.choice((1.0, 1.0, 25.4)), lot.choice((47.0, 52.0, 60.0))
    kind = Kind(shape, tilts, one_way, unit, most, grade="S355J2" if seed % WITH_A_GRADE == 2 else "")
    nest, trim = nest_of(lot, kind)
    if seed % OVER_THE_TIP == 3 and "wedge_least" not in nest:
        nest = nest + ("" if nest else "[nest]\n") + 'second_kerf = "where the piece was"\n'
    drawn = Drawn(head_of(kind) + nest, saw_of(lot, kind), trim=trim)
    if seed % WITHOUT_A_SAW == 1:
        drawn = Drawn(head_of(kind, "") + _with_kerf(nest, kind), "", trim=trim)
    _of_section(lot, kind, "AB"[: lot.choice((1, 1, 2))], drawn)
    if lot.random() < 0.25:
        other = lot.choice(ROLLABLE if one_way else SHAPES)
        _of_section(lot, replace(kind, shape=other, name="TWO"), "C", drawn)
    return drawn


@cache
def pointed(number: int, saw: str = "") -> int:
    """The seed of a job with more than one plane at an end, counted from 0, whose saw file has these words."""
    drawn = ((seed, job(seed)) for seed in itertools.count(pointed(number - 1, saw) + 1 if number else 0))
    return next(seed for seed, one in drawn if "meets =" in one.text and saw in (one.saw or ""))


def _of_section(lot: Random, kind: Kind, marks: str, drawn: Drawn) -> None:
    """A section with some marks, a frame, and bars."""
    keys, section = section_of(lot, kind)
    drawn.stocks[kind.name] = Stock(kind.shape, section)
    drawn.text += table_of(kind, keys)
    lay = lot.choice((0, 0, 90) if kind.shape in ROLLABLE else (0, 90, 180, 270))
    laid = section.laid(-lay) if lay else section
    for mark in marks:
        drawn.text += _piece(lot, kind, laid, mark, lay, drawn)
    if kind.shape == "rect-tube" and not lay and lot.random() < 0.6:
        drawn.text += _frame(lot, kind, laid, drawn)
    if not lay and lot.random() < 0.4 and (words := _lay_words(lot, kind.shape, section)):
        drawn.text += _frame_by_words(lot, kind, drawn.stocks[kind.name], words, drawn)
    drawn.text += f"[[stock]]\n{kind.bought}length = {shown_in(lot.choice((4000, 6000)), kind)}\n"
    if lot.random() < 0.2:
        drawn.text += f"[[stock]]\n{kind.bought}length = {shown_in(3000, kind)}\nquantity = {lot.choice((1, 2))}\n"


def shown_in(mm: float, kind: Kind) -> str:
    return repr(round(mm / kind.unit, 3))


def in_mm(shown: str, kind: Kind) -> float:
    return float(shown) * kind.unit


def head_of(kind: Kind, saw: str = 'saw = "saw.toml"\n') -> str:
    return f'[job]\nname = "Drawn by lot"\nunits = "{"mm" if kind.unit == 1 else "in"}"\n{saw}'


def _with_kerf(nest: str, kind: Kind) -> str:
    """What a job says that names no saw file."""
    kerf = "" if "\nkerf" in nest else f"kerf = {shown_in(1.3, kind)}\n"
    return (nest or "[nest]\n") + f"{kerf}grip = {shown_in(60, kind)}\n"


def nest_of(lot: Random, kind: Kind) -> tuple[str, float]:
    trim, says = 0.0, ""
    if lot.random() < 0.7:
        shown = shown_in(lot.choice((5, 12)), kind)
        trim, says = in_mm(shown, kind), f"trim = {shown}\n"
    if lot.random() < 0.2:
        says += f"kerf = {shown_in(lot.choice((1.1, 2.3)), kind)}\n"
    if lot.random() < 0.2:
        says += f"wedge_least = {shown_in(4, kind)}\n"
    return (f"[nest]\n{says}" if says else ""), trim


def table_of(kind: Kind, keys: dict[str, str]) -> str:
    sizes = "".join(f"{key} = {value}\n" for key, value in keys.items())
    return f'[[section]]\nname = "{kind.name}"\nshape = "{kind.shape}"\n{sizes}'


def section_of(lot: Random, kind: Kind) -> tuple[dict[str, str], Section]:
    """The keys of a section of one's own, and the section itself."""
    width, height = lot.choice((30, 40, 60, 80)), lot.choice((30, 40, 50, 90))
    thin = lot.choice((3, 5, 6))
    sizes: dict[str, dict[str, float]] = {
        "rect-tube": {"width": width, "height": height, "wall": 3, "outer_radius": 6, "inner_radius": 3},
        "flat": {"width": lot.choice((40, 60, 100)), "height": lot.choice((8, 12))},
        "round-tube": {"diameter": lot.choice((33.7, 48.3, 60.3)), "wall": 3},
        "round-bar": {"diameter": lot.choice((20, 40))},
        "channel": {"width": lot.choice((40, 50)), "height": lot.choice((80, 100)), "web": 5, "flange": 7},
        "angle": {"width": lot.choice((40, 60)), "height": lot.choice((40, 50, 80)), "thickness": thin},
        "z": {"height": lot.choice((80, 100)), "flange_width": lot.choice((30, 45)), "thickness": 3, "inner_radius": 4},
    }
    keys = {key: shown_in(value, kind) for key, value in sizes[kind.shape].items()}
    mm = {key: in_mm(value, kind) for key, value in keys.items()}
    makers: dict[str, Callable[[], Section]] = {
        "rect-tube": lambda: steel.rect_tube(mm["width"], mm["height"], mm["wall"], mm["outer_radius"]),
        "flat": lambda: steel.flat(**mm),
        "round-tube": lambda: steel.round_section(**mm),
        "round-bar": lambda: steel.round_section(**mm),
        "channel": lambda: steel.channel(**mm),
        "angle": lambda: steel.angle(**mm),
        "z": lambda: steel.z_section(**mm),
    }
    return keys, makers[kind.shape]()


def _end(lot: Random, kind: Kind) -> tuple[float, float]:
    """Miter and bevel of an end."""
    miter = lot.choice((0.0, 45.0, -45.0, 22.5, round(lot.uniform(-45, 45), 2), round(lot.uniform(0, 45), 1)))
    if kind.shape in ("round-tube", "round-bar", "flat") or lot.random() < 0.7:
        return miter, 0.0
    bevel = lot.choice((15.0, -15.0, 30.0, round(lot.uniform(-28, 28), 1)))
    return (miter if lot.random() < 0.5 and rolled_swing(miter, bevel) < STEEPEST else 0.0), bevel


def rolled_swing(miter: float, bevel: float) -> float:
    """How far the arm swings where the bar is rolled for a bevel."""
    return degrees(atan(hypot(tan(radians(miter)), tan(radians(bevel)) / cos(radians(miter)))))


def planes_of(left: tuple[float, float], right: tuple[float, float]) -> tuple[Plane, Plane]:
    """x = -p*y - q*z at the left, x = p*y + q*z at the right: q = tan(bevel)/cos(miter)."""
    (a, b), (c, d) = left, right
    return (0.0, -tan(radians(a)), -tan(radians(b)) / cos(radians(a))), (
        0.0,
        tan(radians(c)),
        tan(radians(d)) / cos(radians(c)),
    )


def _measured(solid: Solid, at: str) -> float:
    """How long a piece is, measured so."""
    section = solid.section
    places = {
        "centerline": (section.width / 2, section.height / 2),
        "fixed-bottom": (0.0, 0.0),
        "fixed-top": (0.0, section.height),
        "moving-bottom": (section.width, 0.0),
        "moving-top": (section.width, section.height),
    }
    if at in places:
        return solid.ends(places[at]) - solid.begins(places[at])
    if len(solid.low) + len(solid.high) > 2:
        return _over_ridges(solid, at)
    low, high = solid.low[0], solid.high[0]
    if at == "overall":
        return section.most(high) - section.least(low)
    return section.most(minus(high, low)) if at == "long-point" else section.least(minus(high, low))


def _over_ridges(solid: Solid, at: str) -> float:
    """Of planes that stand upright: every length is largest or smallest at a side, or where two planes meet."""
    places = [(0.0, 0.0), (solid.section.width, 0.0)]
    for one, *others in (solid.low, solid.high):
        places += [((other[0] - one[0]) / (one[1] - other[1]), 0.0) for other in others]
    begins, ends = [solid.begins(place) for place in places], [solid.ends(place) for place in places]
    lengths = [end - begin for begin, end in zip(begins, ends, strict=True)]
    return {"overall": max(ends) - min(begins), "long-point": max(lengths), "short-point": min(lengths)}[at]


def _piece(lot: Random, kind: Kind, laid: Section, mark: str, lay: int, drawn: Drawn) -> str:
    left, right = _end(lot, kind), _end(lot, kind)
    if lot.random() < 0.3:
        right = left
    at = lot.choice(("long-point", "long-point", "short-point", "centerline", "overall", "moving-top", "fixed-bottom"))
    shown = shown_in(lot.choice((350, 700, 1180)) + lot.randrange(100) + lot.choice((0, 0.5)), kind)
    count, other = lot.choice((1, 2, 3, 5)), lot.choice((0, 0, 1, 2))
    low, high = planes_of(left, right)
    solid, cuts = Solid(laid, (low,), (high,)), _cut("left", left) + _cut("right", right)
    if not left[1] and not right[1] and lot.random() < 0.15:
        solid, cuts = _pointed(lot, kind, solid, left[0], right[0])
    want(drawn, mark, made_long(solid, at, in_mm(shown, kind)), count, other)
    says = f'[[piece]]\nmark = "{mark}"\n{kind.bought}length = {shown}\nat = "{at}"\nquantity = {count}\n'
    says += f"opposite = {other}\n" if other else ""
    says += f"lay = {lay}\n" if lay else ""
    says += f"turn = {lot.choice(TURNS)}\n" if lot.random() < 0.2 else ""
    return says + cuts


def made_long(solid: Solid, at: str, length: float) -> Solid:
    """The planes of the right end moved so that the piece is so long."""
    off = length - _measured(solid, at)
    return replace(solid, high=tuple((k + off, p, q) for k, p, q in solid.high))


def _pointed(lot: Random, kind: Kind, solid: Solid, left: float, right: float) -> tuple[Solid, str]:
    """A second plane at one end or both, upright as the first, meeting it somewhere over the section."""
    cuts = ""
    for end, miter in (("left", left), ("right", right)):
        second = lot.choice((-45.0, -30.0, 0.0, 30.0, 45.0))
        if abs(second - miter) < LEAST_TURN or (cuts and lot.random() < 0.5):
            cuts += _cut(end, (miter, 0.0))
            continue
        meets = shown_in(solid.section.width * lot.choice((0.25, 0.5, 0.7)), kind)
        place = (in_mm(meets, kind), 0.0)
        planes = planes_of((second, 0.0), (second, 0.0))
        if end == "left":
            solid = replace(solid, low=add_plane(solid.low, planes[0][1:], place))
        else:
            solid = replace(solid, high=add_plane(solid.high, planes[1][1:], place))
        cuts += f"{end} = [{miter}, {{ miter = {second}, meets = {meets} }}]\n"
    return solid, cuts


LEAST_TURN = 5.0
"""degrees. Two planes of an end differ by more."""


def want(drawn: Drawn, mark: str, solid: Solid, count: int, other: int = 0) -> None:
    """A piece whose mirror image is itself has no other hand: all of them are of one mark."""
    same = error(solid.mirrored(), solid) < SAME
    drawn.pieces[mark], drawn.quantity[mark] = solid, count + (other if same else 0)
    if other and not same:
        drawn.pieces[f"{mark}-OH"], drawn.quantity[f"{mark}-OH"] = solid.mirrored(), other
    for of, one in list(drawn.pieces.items()):
        if len(one.low) + len(one.high) > 2:
            drawn.blanks[of] = replace(one, low=one.low[:1], high=one.high[:1])


def _cut(end: str, angles: tuple[float, float]) -> str:
    miter, bevel = angles
    return f"{end} = {{ miter = {miter}, bevel = {bevel} }}\n" if bevel else f"{end} = {miter}\n"


def _frame(lot: Random, kind: Kind, laid: Section, drawn: Drawn) -> str:
    """A mitered rectangle by its outside sizes: a gap g at a corner takes g/2 * sqrt(2) off each end at 45 degrees."""
    return _rectangle(lot, kind, laid, "outside", 2 * laid.width, drawn)


def _rectangle(lot: Random, kind: Kind, laid: Section, measured: str, wider: float, drawn: Drawn) -> str:
    """Mitered: its sides are `wider` shorter at the fixed side than what is measured."""
    sizes = [shown_in(lot.choice((420, 640, 900)) + lot.randrange(50), kind) for _ in range(2)]
    gap = shown_in(lot.choice((0, 1, 1)), kind)
    low, high = planes_of((45.0, 0.0), (45.0, 0.0))
    for number, size in enumerate(dict.fromkeys(sizes), 1):
        long = in_mm(size, kind) - sqrt(2) * in_mm(gap, kind)
        solid = Solid(laid, (low,), ((long - wider, *high[1:]),))
        want(drawn, f"F{kind.name[0]}-{number}", solid, 2 if len(set(sizes)) > 1 else 4)
    says = f'[[frame]]\nmark = "F{kind.name[0]}"\nshape = "rectangle"\nmeasured = "{measured}"\nroot_gap = {gap}\n'
    says += kind.bought
    return says + f"width = {sizes[0]}\nheight = {sizes[1]}\n"


def _lay_words(lot: Random, shape: str, section: Section) -> tuple[dict[str, str], str, str] | None:
    """How a frame of angle, channel or Z lies, and how that is said at the saw; its outside is the moving side."""
    if shape == "angle" and abs(section.width - section.height) < SAME:
        heel, leg = lot.choice(("out", "in")), lot.choice(("up", "down"))
        where = f"heel at the {'bottom' if leg == 'up' else 'top'}, {'moving' if heel == 'out' else 'fixed'}-jaw side"
        return {"heel": heel, "leg": leg}, where, heel
    if shape == "channel":
        toes = lot.choice(("out", "in"))
        return (
            {"toes": toes},
            f"toes toward the {'moving' if toes == 'out' else 'fixed'} jaw",
            "in" if toes == "out" else "out",
        )
    if shape == "z":
        flange = lot.choice(("out", "in"))
        return (
            {"flange": flange},
            f"web up, flange low toward the {'moving' if flange == 'out' else 'fixed'} jaw",
            "web",
        )
    return None


def _frame_by_words(lot: Random, kind: Kind, stock: Stock, words: tuple[dict[str, str], str, str], drawn: Drawn) -> str:
    """Measured over its heels or webs, which lie out at the moving side or in at the fixed side.

    A Z has its web in the middle: its outer face lies half a thickness outside that.
    """
    keys, where, back = words
    laid = lays.by_words(stock, where)
    measured = "over heels" if "heel" in keys else "over webs"
    wall = min(laid.width, *(max(y for y, _ in cell) - min(y for y, _ in cell) for cell in laid.cells))
    wider = {"out": 2 * laid.width, "in": 0.0, "web": laid.width + wall}[back]
    says = _rectangle(lot, kind, laid, measured, wider, drawn)
    return says + "".join(f'{key} = "{word}"\n' for key, word in keys.items())


def _in(unit: str, mm: float) -> float:
    return mm if unit == "mm" else round(mm / 25.4, 4)


def saw_of(lot: Random, kind: Kind) -> str:
    """A saw file, in units of its own."""
    unit = lot.choice(("mm", "mm", "in"))
    hinged, feed = lot.random() < 0.5, lot.random() < 0.5
    two_sided = not kind.one_way and lot.random() < 0.4
    most = {"feed": kind.most, "discharge": kind.most + 1}
    if kind.one_way:
        most[lot.choice(("feed", "discharge"))] = 0
    lowest = 0 if kind.shape in ROLLABLE and not kind.one_way else -45
    lines = ["[saw]", 'name = "by lot"', f'units = "{unit}"', f'kind = "{"hinged" if hinged else "column"}"']
    lines += [f"kerf = {_in(unit, lot.choice((0.9, 1.3, 2.0)))}", "[scale]", f"feed_side_most = {most['feed']}"]
    lines += [f"discharge_side_most = {most['discharge']}", f"division = {lot.choice((0.5, 1, 0.25))}"]
    if two_sided:
        lines += ["square = 0", "two_sided = true"]
    else:
        lines += [f"square = {lot.choice((0, 90))}", f'positive = "{lot.choice(("feed-side", "discharge-side"))}"']
    lines += [f"offset = {lot.choice((0.4, -0.7))}"] if lot.random() < 0.25 else []
    lines += ["[tilt]", f"lowest = {lot.choice((-45, lowest))}", "highest = 45"] if kind.tilts else []
    lines += ["[bed]", f"swing_axis = {_in(unit, lot.choice((-20, 0, 28, 137)))}"] if lot.random() < 0.9 else ["[bed]"]
    lines += [f"blade_offset = {_in(unit, lot.choice((0, 0, 9, -4)))}"]
    lines += [
        "[vise]",
        f'fixed_jaw = "{lot.choice(("left", "right"))}"',
        f"grip = {_in(unit, lot.choice((0, 60, 95)))}",
    ]
    if feed:
        lines += [
            "[feed]",
            f"stroke = {_in(unit, 500)}",
            f"shortest = {_in(unit, 5)}",
            f"counts_kerf = {lot.choice(('true', 'false'))}",
        ]
        lines += [f"decimals = {lot.choice((1, 2, 3))}"] if lot.random() < 0.3 else []
    lines += (
        ["[arm]", f"below_bed = {_in(unit, 5)}", f"lift_highest = {_in(unit, 900)}"]
        if not hinged and lot.random() < 0.3
        else []
    )
    if lot.random() < 0.2:
        lines += ["[cost]", "swing_minutes = 1.5", f"roll_minutes = {lot.choice((0.5, 6))}", "rate = 70"]
    return "\n".join(lines) + "\n"
