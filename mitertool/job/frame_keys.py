"""The keys of a [[frame]] table for each shape of frame, and what must be given together; knows frame and quantity."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final, cast

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.braces import ENDS, POINT
from mitertool.frame.elbows import MOST_CUTS
from mitertool.frame.hoppers import MEASURED as HOPPER_FACES
from mitertool.frame.infills import STEEPEST
from mitertool.frame.joints import KINDS
from mitertool.frame.polygons import FEWEST_SIDES, MOST_SIDES, REGULAR_SIZES
from mitertool.frame.rails import ENDS as RAIL_ENDS
from mitertool.frame.rails import TOPS
from mitertool.frame.rectangles import CORNERS, THROUGH
from mitertool.job.keys import DXF_LAYER, DXF_UNIT, GRADE, LAY, MARK, PARTICULARS, SECTION
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Values, Variants, exact, need, one_way, together
from mitertool.quantity.kinds import (
    FLAG,
    LENGTH,
    LENGTH_FROM_ZERO,
    POSITIVE_LENGTH,
    TEXT,
    Kind,
    Limits,
    angle,
    choice,
    count,
    several,
    unread,
    worded,
)
from mitertool.quantity.units import Units
from mitertool.sections import shapes

FRAME_WORDS: Final = tuple(word.key for word in shapes.frame_words())

_SHAPES: Final = ("rectangle", "polygon", "drawing", "brace", "infill", "hopper", "rail", "bend")


def _names(value: Any, what: str, _: Units) -> list[str]:
    names = value if isinstance(value, list) else [value]
    if not names or not all(isinstance(name, str) for name in names):
        raise BadInput(what, value, "must be a name in quotes, or a list of them")
    return names


def _two_words(value: Any, what: str, _: Units) -> list[str]:
    words = [value, value] if isinstance(value, str) else value
    if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
        raise BadInput(what, value, "must be a word, or two: lower and upper end")
    return words


def _point(value: Any, what: str, unit: Units) -> complex:
    if not isinstance(value, list) or len(value) != 2:
        raise BadInput(what, value, "must be two lengths, [x, y]")
    return complex(*(LENGTH.read(part, what, unit) for part in value))


def _points(value: Any, what: str, unit: Units) -> tuple[complex, ...]:
    values = several(unread({})).read(value, what, unit)
    return tuple(_point(one, f"{what}, point {i}", unit) for i, one in enumerate(values, 1))


def _node(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) != 3:
        raise BadInput(what, value, "must be three lengths, [x, y, z], z up")
    return tuple(LENGTH.read(part, what, unit) for part in value)


def _nodes(value: Any, what: str, unit: Units) -> tuple[tuple[float, ...], ...]:
    values = several(unread({})).read(value, what, unit)
    if len(values) < 2:
        raise BadInput(what, f"{len(values)} nodes", "a rail has 2 nodes or more")
    return tuple(_node(one, f"{what}, node {i}", unit) for i, one in enumerate(values, 1))


def _one_or_two(value: Any, what: str, unit: Units) -> float | tuple[float, ...]:
    if not isinstance(value, list):
        return cast(float, POSITIVE_LENGTH.read(value, what, unit))
    sizes: tuple[float, ...] = several(POSITIVE_LENGTH).read(value, what, unit)
    if len(sizes) != 2:
        raise BadInput(what, f"{len(sizes)} lengths", "give one, or two: along X, along Y")
    return sizes


def _tangents(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    values = value if isinstance(value, list) else [value, value]
    lengths: tuple[float, ...] = several(LENGTH_FROM_ZERO).read(values, what, unit)
    if len(lengths) != 2:
        raise BadInput(what, f"{len(lengths)} lengths", "give one for both ends, or two")
    return lengths


def _legs(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    legs: tuple[float, ...] = several(POSITIVE_LENGTH).read(value, what, unit)
    if len(legs) != 2:
        raise BadInput(what, f"{len(legs)} lengths", "give two: along the beam, down the post")
    return legs


def _check_points(found: Values) -> None:
    points = found.get("points")
    if points is not None and len(points) < (3 if found.get("closed", True) else 2):
        raise BadInput("points", f"{len(points)} points", "a closed frame has 3 or more, an open one 2 or more")


def _check_deduct(found: Values) -> None:
    if "deduct" in found and found.get("closed", True):
        raise BadInput("deduct", exact(found["deduct"]), "is taken off free ends; a closed frame has none")


def _check_regular(found: Values) -> None:
    given = [name for name in REGULAR_SIZES if name in found]
    if "sides" in found and len(given) != 1:
        raise BadInput("polygon", _listed(given), f"give one of {', '.join(REGULAR_SIZES)}")


def _listed(given: Sequence[str]) -> str:
    return " and ".join(given) or "no size"


_OPEN: Final = {"required": ["closed"], "properties": {"closed": {"const": False}}}

_POLYGON_RULES: Final = (
    one_way("polygon", ("sides", "points", "lengths"), _listed, "give sides, or points, or lengths and angles"),
    Rule(_check_regular, {"dependentSchemas": {"sides": schema.exactly_one(*REGULAR_SIZES)}}),
    together("lengths", "angles"),
    Rule(_check_points),
    Rule(_check_deduct, {"dependentSchemas": {"deduct": _OPEN}}),
)

_BRACE_RULES: Final = (
    one_way(
        "brace",
        ("inside_width", "rise", "legs"),
        lambda given: f"{len(given)} ways",
        "give inside_width and inside_height, or rise and run, or legs",
    ),
    together("inside_width", "inside_height", "ends"),
    together("rise", "run", "ends"),
)

_COMMON: Final[Mapping[str, Key]] = {
    "mark": MARK,
    "shape": need("What kind of frame it is.", choice(_SHAPES)),
    "section": need(f"{SECTION.says} One for all sides, or a list.", Kind(_names, schema.one_or_several(TEXT.schema))),
    "grade": GRADE,
    "quantity": Key("How many such frames; 1 where it is not given.", count()),
    "lay": LAY,
    **{word.key: Key(word.says, worded(word.allowed)) for word in shapes.frame_words()},
    **PARTICULARS,
}

_ROOT_GAP: Final = Key("The gap left open in each joint for the weld.", LENGTH_FROM_ZERO)
_TAPED: Final = choice(shapes.tape_words())
_MEASURED: Final = need("Which line of the members the sizes are measured on.", _TAPED)
_CORNERS: Final = Key(
    "How the members meet: one word for all corners, or a list.",
    unread(schema.one_or_several({"enum": list(dict.fromkeys((*CORNERS, *KINDS)))})),
)
_HEIGHT: Final = need("The height of a rectangle; of an infill the plumb distance of its rails.", POSITIVE_LENGTH)
_DEDUCT: Final = Key("What is taken off each free end of an open frame.", LENGTH_FROM_ZERO)

_ACROSS: Final = Kind(_one_or_two, schema.one_or_several(POSITIVE_LENGTH.schema))
_NODES: Final = Kind(_nodes, schema.several(schema.several(LENGTH.schema, 3, 3), 2))

_RAKE: Final = angle(Limits(above=-STEEPEST, below=STEEPEST), f"must be less than {STEEPEST} degrees")

_FRAME: Final = "A frame by its shape and sizes; its pieces are marked MARK-1, MARK-2 and so on. One table each."


def _frame(*rules: Rule, **keys: Key) -> Keys:
    """The keys of a shape, the common ones before them."""
    return Keys(_FRAME, {**_COMMON, **keys}, rules)


FRAME: Final = Variants(
    _FRAME,
    "shape",
    {
        "rectangle": _frame(
            root_gap=_ROOT_GAP,
            measured=_MEASURED,
            corners=attrs.evolve(_CORNERS, kind=choice(CORNERS)),
            width=need("The width of a rectangle.", POSITIVE_LENGTH),
            height=_HEIGHT,
            through=Key("Which sides run through where the corners of a rectangle are butted.", choice(THROUGH)),
        ),
        "polygon": _frame(
            *_POLYGON_RULES,
            root_gap=_ROOT_GAP,
            measured=_MEASURED,
            corners=_CORNERS,
            sides=Key("How many sides a regular polygon has.", count(FEWEST_SIDES, MOST_SIDES)),
            side=Key("The length of a side of a regular polygon.", POSITIVE_LENGTH),
            across_flats=Key("The size of a regular polygon: twice its inscribed radius.", POSITIVE_LENGTH),
            across_corners=Key("The size of a regular polygon: twice its circumscribed radius.", POSITIVE_LENGTH),
            points=Key(
                "The corners, each [x, y].", Kind(_points, schema.several(schema.several(LENGTH.schema, 2, 2), 2))
            ),
            lengths=Key("The sides of a polygon, one after the other.", several(POSITIVE_LENGTH, 3)),
            angles=Key("The angle inside after each side; the last may be left out.", several(angle(), 2)),
            closed=Key("false where the members do not come back to where they began.", FLAG),
            deduct=_DEDUCT,
        ),
        "drawing": _frame(
            Rule(_check_deduct, {"properties": {"deduct": False}}),
            root_gap=_ROOT_GAP,
            corners=_CORNERS,
            deduct=_DEDUCT,
            file=need("The DXF file with the frame's lines, from this file's folder.", TEXT),
            layer=DXF_LAYER,
            line=need("Which line of the members is drawn.", _TAPED),
            units=DXF_UNIT,
            node=Key("How near two ends of lines must lie to be one corner; 0.5 mm if not given.", POSITIVE_LENGTH),
        ),
        "brace": _frame(
            *_BRACE_RULES,
            inside_width=Key("The width between the posts that a brace from corner to corner joins.", POSITIVE_LENGTH),
            inside_height=Key(
                "The height between the rails that a brace from corner to corner joins.", POSITIVE_LENGTH
            ),
            rise=Key("How far a brace rises between the middles of its cuts.", POSITIVE_LENGTH),
            run=Key("How far a brace runs between the middles of its cuts.", POSITIVE_LENGTH),
            legs=Key(
                "Of a knee brace: along the beam, and down the post.",
                Kind(_legs, several(POSITIVE_LENGTH, 2, 2).schema),
            ),
            ends=Key(
                "How a brace's ends are cut: one word, or the lower and the upper end.",
                Kind(_two_words, schema.one_or_several({"enum": [*ENDS, POINT]})),
            ),
        ),
        "infill": _frame(
            opening=need("The level distance between the posts of an infill.", POSITIVE_LENGTH),
            height=_HEIGHT,
            clear_most=need("The greatest clear gap between the uprights of an infill.", POSITIVE_LENGTH),
            rake=Key("Degrees at which the rails of an infill rise.", _RAKE),
        ),
        "hopper": _frame(
            one_way("hopper", ("section", "thickness"), _listed, "give section, or thickness"),
            section=attrs.evolve(_COMMON["section"], needed=False),
            thickness=Key(
                "How thick the plates of a hopper are that are cut as wide as they need be.", POSITIVE_LENGTH
            ),
            measured=attrs.evolve(_MEASURED, kind=choice(HOPPER_FACES)),
            sides=need("How many sides a hopper has.", count(FEWEST_SIDES, MOST_SIDES)),
            bottom=need("How wide a hopper is at its narrow end, across flats; two lengths if rectangular.", _ACROSS),
            top=need("The same at its wide end.", _ACROSS),
            height=Key("How high a hopper is; it follows from the width of its flats if not given.", POSITIVE_LENGTH),
        ),
        "rail": _frame(
            nodes=need("The points through which the middle of a rail runs, each [x, y, z], z up.", _NODES),
            closed=Key("true where a rail comes back to its first point.", FLAG),
            roll=Key("Degrees by which members are turned from having their top up, clockwise along them.", angle()),
            tops=Key("Whether each member keeps its top up, or is carried on flush from the one before.", choice(TOPS)),
            ends=Key(
                "How the free ends of a rail are cut: one word, or the first and the last.",
                Kind(_two_words, schema.one_or_several({"enum": list(RAIL_ENDS)})),
            ),
        ),
        "bend": _frame(
            radius=need("The radius of the middle of a bend.", POSITIVE_LENGTH),
            angle=need("The degrees by which a bend goes round.", angle()),
            cuts=need("How many cuts a bend has; it has one segment more.", count(1, MOST_CUTS)),
            tangents=Key(
                "What is straight beyond a bend at its ends: one length, or two.",
                Kind(_tangents, schema.one_or_several(LENGTH_FROM_ZERO.schema)),
            ),
        ),
    },
)
