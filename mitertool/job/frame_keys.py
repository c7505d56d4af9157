"""The keys of a [[frame]] table for each shape of frame, and what must be given together; knows frame and quantity."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, cast

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame import outlines
from mitertool.frame.braces import ENDS, POINT
from mitertool.frame.corner_bars import AGAINST
from mitertool.frame.corner_bars import MEASURED as HOPPER_LINES
from mitertool.frame.corner_work import LENGTH_TO
from mitertool.frame.elbows import MOST_CUTS
from mitertool.frame.hoppers import MEMBERS, PLATES
from mitertool.frame.infills import STEEPEST
from mitertool.frame.joints import KINDS
from mitertool.frame.leaves import GAPS, HINGED
from mitertool.frame.polygons import FEWEST_SIDES, MOST_SIDES, REGULAR_SIZES
from mitertool.frame.rails import ENDS as RAIL_ENDS
from mitertool.frame.rails import TOPS
from mitertool.frame.rectangles import CORNERS, THROUGH
from mitertool.job.inside_keys import FILLED, HOLES, listed, two_words
from mitertool.job.keys import DXF_LAYER, DXF_UNIT, GRADE, LAY, MARK, MOST_PIECES, PARTICULARS
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Values, Variants, absent, apart, exact, need, one_way, together
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
from mitertool.words import phrase

FRAME_WORDS: Final = tuple(word.key for word in shapes.frame_words())

_SHAPES: Final = (
    *("rectangle", "polygon", "drawing", *outlines.WORDS),
    *("brace", "infill", "hopper", "rail", "bend", "wye", "branch"),
)


def _names(value: Any, what: str, _: Units) -> list[str]:
    names = value if isinstance(value, list) else [value]
    if not names or not all(isinstance(name, str) for name in names):
        raise BadInput(what, value, phrase("refuse.names"))
    return names


def _point(value: Any, what: str, unit: Units) -> complex:
    if not isinstance(value, list) or len(value) != 2:
        raise BadInput(what, value, phrase("refuse.point"))
    return complex(*(LENGTH.read(part, what, unit) for part in value))


def _points(value: Any, what: str, unit: Units) -> tuple[complex, ...]:
    values = several(unread({})).read(value, what, unit)
    return tuple(_point(one, phrase("what.point", what=what, number=i), unit) for i, one in enumerate(values, 1))


def _node(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) != 3:
        raise BadInput(what, value, phrase("refuse.node"))
    return tuple(LENGTH.read(part, what, unit) for part in value)


def _nodes(value: Any, what: str, unit: Units) -> tuple[tuple[float, ...], ...]:
    values = several(unread({})).read(value, what, unit)
    if len(values) < 2:
        raise BadInput(what, phrase("found.nodes", count=len(values)), phrase("refuse.nodes"))
    return tuple(_node(one, phrase("what.node", what=what, number=i), unit) for i, one in enumerate(values, 1))


def _flight(value: Any, what: str, unit: Units) -> tuple[float, float, float]:
    if not isinstance(value, list) or len(value) not in (2, 3):
        raise BadInput(what, value, phrase("refuse.flight"))
    run, rise, *turn = value
    lies = (
        LENGTH_FROM_ZERO.read(run, phrase("what.of-key", what=what, key="run"), unit),
        LENGTH.read(rise, phrase("what.of-key", what=what, key="rise"), unit),
    )
    return (*lies, angle().read(turn[0], phrase("what.of-key", what=what, key="turn"), unit) if turn else 0.0)


def _flights(value: Any, what: str, unit: Units) -> tuple[tuple[float, float, float], ...]:
    values = several(unread({})).read(value, what, unit)
    if not values:
        raise BadInput(what, value, phrase("refuse.flight"))
    return tuple(_flight(one, f"{what} {i}", unit) for i, one in enumerate(values, 1))


def _one_or_two(value: Any, what: str, unit: Units) -> float | tuple[float, ...]:
    if not isinstance(value, list):
        return cast(float, POSITIVE_LENGTH.read(value, what, unit))
    return _two(value, what, unit, POSITIVE_LENGTH, "refuse.across")


def _two_lengths(one: Kind, allowed: str) -> Kind:
    """One length for both, or two; `allowed` is the code of what a list of others is told."""

    def read(value: Any, what: str, unit: Units) -> tuple[float, ...]:
        return _two(value if isinstance(value, list) else [value, value], what, unit, one, allowed)

    return Kind(read, schema.one_or_several(one.schema))


def _legs(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    return _two(value, what, unit, POSITIVE_LENGTH, "refuse.legs")


def _two(value: Any, what: str, unit: Units, one: Kind, allowed: str) -> tuple[float, ...]:
    """Two of a kind. Raises `BadInput`, with the sentence of a code, where there are more or fewer."""
    found: tuple[float, ...] = several(one).read(value, what, unit)
    if len(found) != 2:
        raise BadInput(what, phrase("found.lengths", count=len(found)), phrase(allowed))
    return found


def _check_points(found: Values) -> None:
    points = found.get("points")
    if points is not None and len(points) < (3 if found.get("closed", True) else 2):
        raise BadInput("points", phrase("found.points", count=len(points)), phrase("refuse.points"))


def _check_deduct(found: Values) -> None:
    if "deduct" in found and found.get("closed", True):
        raise BadInput("deduct", exact(found["deduct"]), phrase("refuse.deduct"))


def _check_regular(found: Values) -> None:
    given = [name for name in REGULAR_SIZES if name in found]
    if "sides" in found and len(given) != 1:
        raise BadInput("polygon", listed(given), phrase("refuse.give-one", names=", ".join(REGULAR_SIZES)))


_OPEN: Final = {"required": ["closed"], "properties": {"closed": {"const": False}}}

_POLYGON_RULES: Final = (
    one_way("polygon", ("sides", "points", "lengths"), listed, "refuse.polygon"),
    Rule(_check_regular, {"dependentSchemas": {"sides": schema.exactly_one(*REGULAR_SIZES)}}),
    together("lengths", "angles"),
    Rule(_check_points),
    Rule(_check_deduct, {"dependentSchemas": {"deduct": _OPEN}}),
)

_BRACE_RULES: Final = (
    one_way(
        "brace",
        ("inside_width", "rise", "legs"),
        lambda given: phrase("found.ways", count=len(given)),
        "refuse.brace",
    ),
    together("inside_width", "inside_height", "ends"),
    together("rise", "run", "ends"),
)


def _check_members(found: Values) -> None:
    if found.get("members", PLATES) == PLATES and "against" in found:
        raise BadInput("against", found["against"], phrase("refuse.against-plates"))


def _check_ends(found: Values) -> None:
    if "tangents" in found and "ends" in found:
        raise BadInput("ends", exact(found["ends"]), phrase("refuse.tangents-or-ends"))


_OF_BARS: Final = {"required": ["members"], "properties": {"members": {"not": {"const": PLATES}}}}

_COMMON: Final[Mapping[str, Key]] = {
    "mark": MARK,
    "shape": need("frame.shape", choice(_SHAPES)),
    "section": need("frame.sections", Kind(_names, schema.one_or_several(TEXT.schema))),
    "grade": GRADE,
    "quantity": Key("frame.quantity", count(most=MOST_PIECES)),
    "lay": LAY,
    **{word.key: Key(word.means, worded(word.allowed)) for word in shapes.frame_words()},
    **PARTICULARS,
}

_ROOT_GAP: Final = Key("frame.root_gap", LENGTH_FROM_ZERO)
_TAPED: Final = choice(shapes.tape_words())
_MEASURED: Final = need("frame.measured", _TAPED)
_CORNERS: Final = Key(
    "frame.corners",
    unread(schema.one_or_several({"enum": list(dict.fromkeys((*CORNERS, *KINDS)))})),
)
_WORKED: Final[Mapping[str, Key]] = {
    "cope": Key("frame.cope", POSITIVE_LENGTH),
    "notch": Key("frame.notch", choice(("leg",))),
    "cap": Key("frame.cap", POSITIVE_LENGTH),
    "bevel": Key("frame.bevel", POSITIVE_LENGTH),
    "length_to": Key("frame.length_to", choice(LENGTH_TO)),
}
_WORKED_RULES: Final = (apart("cope", "notch"), together("bevel", "length_to"), together("length_to", "bevel"))
"""What is worked at the corners after the saw."""

_HEIGHT: Final = need("frame.height", POSITIVE_LENGTH)
_DEDUCT: Final = Key("frame.deduct", LENGTH_FROM_ZERO)

_ACROSS: Final = Kind(_one_or_two, schema.one_or_several(POSITIVE_LENGTH.schema))
_NODES: Final = Kind(_nodes, schema.several(schema.several(LENGTH.schema, 3, 3), 2))

_FLIGHTS: Final = Kind(_flights, schema.several(schema.several({}, 2, 3), 1))

_RAKE: Final = angle(Limits(above=-STEEPEST, below=STEEPEST), "refuse.steep")

_FRAME: Final = "table.frame"


def _frame(*rules: Rule, **keys: Key) -> Keys:
    """The keys of a shape, the common ones before them."""
    return Keys(_FRAME, {**_COMMON, **keys}, rules)


_OPENING: Final[Mapping[str, Key]] = {
    "opening_width": Key("frame.opening_width", POSITIVE_LENGTH),
    "opening_height": Key("frame.opening_height", POSITIVE_LENGTH),
    **{f"{side}_gap": Key(f"frame.{side}_gap", LENGTH_FROM_ZERO) for side in GAPS},
    "leaves": Key("frame.leaves", count(1, 2)),
    "leaf_width": Key("frame.leaf_width", POSITIVE_LENGTH),
    "other_leaf": Key("frame.other_leaf", POSITIVE_LENGTH),
    "hinged": Key("frame.hinged", choice(HINGED)),
}


def _check_opening(found: Values) -> None:
    """There is a width or an opening, the gaps want an opening, and an opening gives sizes over all."""
    if "width" not in found and "opening_width" not in found:
        raise absent("width")
    lone = next((name for name in _OPENING if name in found), None)
    if lone and "opening_width" not in found:
        raise absent("opening_width")
    if lone and found.get("measured") != "outside":
        raise BadInput("measured", found.get("measured"), phrase("refuse.opening-measured"))


_SIZED: Final = (
    Rule(
        _check_opening,
        {
            "dependentRequired": {name: ["opening_width"] for name in _OPENING},
            "dependentSchemas": {"opening_width": {"properties": {"measured": {"const": "outside"}}}},
        },
    ),
    one_way("width", ("width", "opening_width"), listed, "refuse.width-or-opening"),
    together("width", "height"),
    together("opening_width", "opening_height"),
    apart("height", "opening_height"),
    apart("leaf_width", "other_leaf"),
)
"""A width and a height, or the opening that gives both."""


def _outlined(word: str) -> Keys:
    """The keys of a frame of few sizes."""
    outline = outlines.of(word)
    ring = (
        {"root_gap": _ROOT_GAP, "measured": _MEASURED, "corners": _CORNERS, **_WORKED, **HOLES} if outline.ring else {}
    )
    rules = _WORKED_RULES if outline.ring else ()
    sized = _SIZED if outline.sized else ()
    return _frame(*outline.rules, *sized, *rules, **ring, **outline.keys, **(_OPENING if sized else {}), **FILLED)


FRAME: Final = Variants(
    _FRAME,
    "shape",
    {
        "rectangle": _frame(
            *_SIZED,
            *_WORKED_RULES,
            **_WORKED,
            **HOLES,
            root_gap=_ROOT_GAP,
            measured=_MEASURED,
            corners=attrs.evolve(_CORNERS, kind=choice(CORNERS)),
            width=Key("frame.width", POSITIVE_LENGTH),
            height=attrs.evolve(_HEIGHT, needed=False),
            through=Key("frame.through", choice(THROUGH)),
            **_OPENING,
            **FILLED,
        ),
        "polygon": _frame(
            *_POLYGON_RULES,
            *_WORKED_RULES,
            **_WORKED,
            **HOLES,
            root_gap=_ROOT_GAP,
            measured=_MEASURED,
            corners=_CORNERS,
            sides=Key("frame.sides", count(FEWEST_SIDES, MOST_SIDES)),
            side=Key("frame.side", POSITIVE_LENGTH),
            across_flats=Key("frame.across_flats", POSITIVE_LENGTH),
            across_corners=Key("frame.across_corners", POSITIVE_LENGTH),
            points=Key("frame.points", Kind(_points, schema.several(schema.several(LENGTH.schema, 2, 2), 2))),
            lengths=Key("frame.lengths", several(POSITIVE_LENGTH, 3)),
            angles=Key("frame.angles", several(angle(), 2)),
            closed=Key("frame.closed", FLAG),
            deduct=_DEDUCT,
            **FILLED,
        ),
        "drawing": _frame(
            Rule(_check_deduct, {"properties": {"deduct": False}}),
            *_WORKED_RULES,
            **_WORKED,
            **HOLES,
            root_gap=_ROOT_GAP,
            corners=_CORNERS,
            deduct=_DEDUCT,
            file=need("frame.file", TEXT),
            layer=DXF_LAYER,
            line=need("frame.line", _TAPED),
            units=DXF_UNIT,
            node=Key("frame.node", POSITIVE_LENGTH),
            **FILLED,
        ),
        **{word: _outlined(word) for word in outlines.WORDS},
        "brace": _frame(
            *_BRACE_RULES,
            inside_width=Key("frame.inside_width", POSITIVE_LENGTH),
            inside_height=Key("frame.inside_height", POSITIVE_LENGTH),
            rise=Key("frame.rise", POSITIVE_LENGTH),
            run=Key("frame.run", POSITIVE_LENGTH),
            legs=Key(
                "frame.legs",
                Kind(_legs, several(POSITIVE_LENGTH, 2, 2).schema),
            ),
            ends=Key(
                "frame.ends",
                Kind(two_words, schema.one_or_several({"enum": [*ENDS, POINT]})),
            ),
        ),
        "infill": _frame(
            opening=need("frame.opening", POSITIVE_LENGTH),
            height=_HEIGHT,
            clear_most=need("frame.clear_most", POSITIVE_LENGTH),
            rake=Key("frame.rake", _RAKE),
        ),
        "hopper": _frame(
            one_way("hopper", ("section", "thickness"), listed, "refuse.hopper"),
            Rule(_check_members, {"dependentSchemas": {"against": _OF_BARS}}),
            section=attrs.evolve(_COMMON["section"], needed=False),
            thickness=Key("frame.thickness", POSITIVE_LENGTH),
            measured=attrs.evolve(_MEASURED, kind=choice(HOPPER_LINES)),
            sides=need("frame.hopper-sides", count(FEWEST_SIDES, MOST_SIDES)),
            bottom=need("frame.bottom", _ACROSS),
            top=need("frame.top", _ACROSS),
            height=Key("frame.hopper-height", POSITIVE_LENGTH),
            members=Key("frame.members", choice(MEMBERS)),
            against=Key("frame.against", choice(AGAINST)),
        ),
        "rail": _frame(
            one_way("rail", ("nodes", "flights"), listed, "refuse.rail"),
            nodes=Key("frame.nodes", _NODES),
            flights=Key("frame.flights", _FLIGHTS),
            closed=Key("frame.rail-closed", FLAG),
            roll=Key("frame.roll", angle()),
            tops=Key("frame.tops", choice(TOPS)),
            ends=Key(
                "frame.rail-ends",
                Kind(two_words, schema.one_or_several({"enum": list(RAIL_ENDS)})),
            ),
        ),
        "bend": _frame(
            Rule(_check_ends, {"not": {"required": ["tangents", "ends"]}}),
            radius=need("frame.radius", POSITIVE_LENGTH),
            angle=need("frame.angle", angle()),
            cuts=need("frame.cuts", count(1, MOST_CUTS)),
            tangents=Key("frame.tangents", _two_lengths(LENGTH_FROM_ZERO, "refuse.tangents")),
            ends=Key("frame.bend-ends", _two_lengths(POSITIVE_LENGTH, "refuse.tangents")),
            offset=Key("frame.offset", POSITIVE_LENGTH),
        ),
        "branch": _frame(
            on=need("frame.on", TEXT),
            length=need("frame.branch-length", POSITIVE_LENGTH),
            between=Key("frame.branch-between", angle()),
            passes=Key("frame.passes", LENGTH),
        ),
        "wye": _frame(
            between=need("frame.between", angle()),
            trunk=need("frame.trunk", POSITIVE_LENGTH),
            arms=need("frame.arms", _two_lengths(POSITIVE_LENGTH, "refuse.arms")),
        ),
    },
)
