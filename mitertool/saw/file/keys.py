"""Every table and key of a saw file: what it means, how it is written, what is allowed; knows quantity and words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Values, absent, apart, exact, in_order, keys_of, need, together
from mitertool.quantity.kinds import (
    DATE,
    FLAG,
    LENGTH,
    LENGTH_FROM_ZERO,
    POSITIVE_LENGTH,
    TEXT,
    UNIT,
    WORDS,
    Kind,
    Limits,
    angle,
    choice,
    count,
    number,
)
from mitertool.quantity.numerals import plain_number
from mitertool.quantity.rates import area_rate, show_area_rate, show_way_rate, way_rate
from mitertool.quantity.units import Units
from mitertool.saw.file.scale import SIDES
from mitertool.saw.file.teeth_apart import PITCH, TEETH_PER_INCH
from mitertool.words import phrase

_SWING: Final = angle(Limits(least=0, below=90), "refuse.swing-limit")
_OFFSET: Final = angle(Limits(-5, 5), "refuse.offset-limit")
_HOLDS_0: Final = "refuse.holds-0"
_FROM_ZERO: Final = number(Limits(least=0))


def _rate(reader: Callable[[object, str], float], show: Callable[[Units, float], str]) -> Kind:
    told = number(Limits(above=0)).schema
    return Kind(lambda value, what, _: reader(value, what), told, lambda rate, units: show(units, rate))


def _read_square(value: Any, what: str, _: Units) -> float:
    square = plain_number(value, what)
    if square not in (0, 90):
        raise BadInput(what, square, phrase("refuse.square-reading"))
    return square


_SQUARE: Final = Kind(
    _read_square, {"anyOf": [{"enum": [0, 90]}, {"type": "string", "pattern": r"^\s*\+?(0|90)(\.0*)?\s*$"}]}
)


def _read_measured(value: Any, what: str, unit: Units) -> tuple[str, ...]:
    given = value if isinstance(value, list) and value else [value]
    return tuple(TEXT.read(one, what, unit) for one in given)


_MEASURED: Final = Kind(_read_measured, schema.one_or_several(TEXT.schema))
"""One text, or a list of them."""


def _check_two_sided(found: Values) -> None:
    if not found.get("two_sided"):
        if "positive" not in found:
            raise absent("positive")
    elif found["square"] != 0:
        raise BadInput("two_sided", phrase("found.two-sided"), phrase("refuse.two-sided"))


_TWO_SIDED: Final = Rule(
    _check_two_sided,
    {
        "if": {"properties": {"two_sided": {"const": True}}, "required": ["two_sided"]},
        "then": {"properties": {"square": {"not": {"const": 90}}}},
        "else": {"required": ["positive"]},
    },
)


def _check_side(found: Values) -> None:
    """An edge on one side of the blade, or a slot with an edge on either."""
    if "slot" not in found:
        for key in ("side", "edge"):
            if key not in found:
                raise absent(key)
    elif "side" in found:
        raise BadInput("side", phrase("found.beside", name="slot"), phrase("refuse.slot-or-side"))
    elif found.get("edge", 0.0) > found["slot"]:
        raise BadInput("edge", exact(found["edge"]), exact(found["slot"], "refuse.in-slot"))


_ONE_SIDE_OR_SLOT: Final = Rule(
    _check_side,
    {
        "if": {"required": ["slot"]},
        "then": {"properties": {"side": False}},
        "else": {"required": ["side", "edge"]},
    },
)

_LIFT_ONE_WAY: Final = (
    apart("lift_highest", "lift_height"),
    together("lift_height", "lift_at"),
    together("lift_at", "lift_height"),
)
_LIFTED: Final = {
    "lift_height": Key("saw.arm.lift_height", POSITIVE_LENGTH),
    "lift_at": Key("saw.arm.lift_at", LENGTH),
}


def _check_hinge(found: Values) -> None:
    if "hinge_u" not in found and "hinge_y" not in found:
        raise absent("hinge_u")


_ARM: Final = "table.saw.arm"
_BELOW_BED: Final = Key("saw.arm.below_bed", LENGTH_FROM_ZERO)
_LIFT: Final = Key("saw.arm.lift_highest", POSITIVE_LENGTH)

HINGED: Final = keys_of(
    _ARM,
    apart("hinge_u", "hinge_y"),
    Rule(_check_hinge, {"anyOf": [{"required": ["hinge_u"]}, {"required": ["hinge_y"]}]}),
    apart("stop_u", "stop_y"),
    *_LIFT_ONE_WAY,
    hinge_u=Key("saw.arm.hinge_u", LENGTH),
    hinge_y=Key("saw.arm.hinge_y", LENGTH),
    hinge_z=need("saw.arm.hinge_z", LENGTH),
    below_bed=attrs.evolve(_BELOW_BED, needed=True),
    lift_highest=attrs.evolve(_LIFT, kind=angle(Limits(above=0, below=90))),
    **_LIFTED,
    stop_u=Key("saw.arm.stop_u", LENGTH),
    stop_y=Key("saw.arm.stop_y", LENGTH),
)

COLUMN: Final = keys_of(
    _ARM,
    *_LIFT_ONE_WAY,
    below_bed=_BELOW_BED,
    lift_highest=_LIFT,
    **_LIFTED,
    cant=Key(
        "saw.arm.cant",
        angle(Limits(-45, 45)),
    ),
)

ARM_KEYS: Final[Mapping[str, Keys]] = {HingedArm.kind: HINGED, Column.kind: COLUMN}
"""The keys of the arm of each kind of saw."""

_SAW: Final = keys_of(
    "table.saw.saw",
    name=need("saw.saw.name", WORDS),
    units=Key("saw.saw.units", UNIT),
    kind=need("saw.saw.kind", choice(tuple(ARM_KEYS))),
    kerf=need("saw.saw.kerf", POSITIVE_LENGTH),
    invented=Key("saw.saw.invented", FLAG),
)

_SCALE: Final = keys_of(
    "table.saw.scale",
    _TWO_SIDED,
    square=need("saw.scale.square", _SQUARE),
    positive=Key(
        "saw.scale.positive",
        choice([f"{side}-side" for side in SIDES]),
    ),
    two_sided=Key("saw.scale.two_sided", FLAG),
    feed_side_most=need("saw.scale.feed_side_most", _SWING),
    discharge_side_most=need("saw.scale.discharge_side_most", _SWING),
    division=Key("saw.scale.division", angle(Limits(least=0.001, most=15))),
    offset=Key(
        "saw.scale.offset",
        _OFFSET,
    ),
    offset_date=Key("saw.scale.offset_date", DATE),
    offset_from=Key(
        "saw.scale.offset_from",
        _MEASURED,
    ),
)

_TILT: Final = keys_of(
    "table.saw.tilt",
    lowest=need("saw.tilt.lowest", angle(Limits(above=-90, most=0), _HOLDS_0)),
    highest=need("saw.tilt.highest", angle(Limits(least=0, below=90), _HOLDS_0)),
)

_BED: Final = keys_of(
    "table.saw.bed",
    swing_axis=Key("saw.bed.swing_axis", LENGTH),
    width=Key("saw.bed.width", POSITIVE_LENGTH),
    height=Key("saw.bed.height", POSITIVE_LENGTH),
    blade_offset=Key("saw.bed.blade_offset", LENGTH),
)

_GUIDES: Final = keys_of(
    "table.saw.guides",
    in_order("opening_least", "opening_most"),
    apart("fixed_u", "fixed_y"),
    apart("half_thickness", "thickness"),
    fixed_u=Key("saw.guides.fixed_u", LENGTH),
    fixed_y=Key("saw.guides.fixed_y", LENGTH),
    opening_least=Key("saw.guides.opening_least", LENGTH_FROM_ZERO),
    opening_most=Key("saw.guides.opening_most", POSITIVE_LENGTH),
    half_thickness=Key("saw.guides.half_thickness", LENGTH_FROM_ZERO),
    thickness=Key("saw.guides.thickness", LENGTH_FROM_ZERO),
    clearance=Key("saw.guides.clearance", LENGTH_FROM_ZERO),
)

_VISE: Final = keys_of(
    "table.saw.vise",
    fixed_jaw=need("saw.vise.fixed_jaw", choice(("left", "right"))),
    approach=Key("saw.vise.approach", LENGTH_FROM_ZERO),
    grip=Key("saw.vise.grip", LENGTH_FROM_ZERO),
)

_OBSTACLE: Final = keys_of(
    "table.saw.obstacle",
    _ONE_SIDE_OR_SLOT,
    name=need("saw.obstacle.name", TEXT),
    side=Key("saw.obstacle.side", choice(SIDES)),
    slot=Key("saw.obstacle.slot", POSITIVE_LENGTH),
    stands=need(
        "saw.obstacle.stands",
        choice(("moving-jaw", "fixed-jaw", "across")),
    ),
    depth=need("saw.obstacle.depth", POSITIVE_LENGTH),
    edge=Key("saw.obstacle.edge", LENGTH_FROM_ZERO),
    height=Key("saw.obstacle.height", POSITIVE_LENGTH),
    adjustable=Key("saw.obstacle.adjustable", FLAG),
)

_FEED: Final = keys_of(
    "table.saw.feed",
    in_order("shortest", "longest"),
    stroke=need("saw.feed.stroke", POSITIVE_LENGTH),
    shortest=Key("saw.feed.shortest", LENGTH_FROM_ZERO),
    longest=Key("saw.feed.longest", POSITIVE_LENGTH),
    counts_kerf=need("saw.feed.counts_kerf", FLAG),
    lines=Key("saw.feed.lines", count()),
    dead_length=Key("saw.feed.dead_length", LENGTH_FROM_ZERO),
    decimals=Key(
        "saw.feed.decimals",
        count(least=0, most=4),
    ),
    counts_trim=Key("saw.feed.counts_trim", FLAG),
    ends_with_zero=Key("saw.feed.ends_with_zero", FLAG),
    caution=Key("saw.feed.caution", TEXT),
)

_BLADE: Final = keys_of(
    "table.saw.blade",
    apart("teeth_per_inch", "pitch"),
    teeth_per_inch=Key("saw.blade.teeth_per_inch", TEETH_PER_INCH),
    pitch=Key("saw.blade.pitch", PITCH),
    area_rate=Key(
        "saw.blade.area_rate",
        _rate(area_rate, show_area_rate),
    ),
    descent=Key(
        "saw.blade.descent",
        _rate(way_rate, show_way_rate),
    ),
)

_COST: Final = keys_of(
    "table.saw.cost",
    swing_minutes=Key("saw.cost.swing_minutes", _FROM_ZERO),
    roll_minutes=Key("saw.cost.roll_minutes", _FROM_ZERO),
    tilt_minutes=Key("saw.cost.tilt_minutes", _FROM_ZERO),
    load_minutes=Key("saw.cost.load_minutes", _FROM_ZERO),
    recut_minutes=Key("saw.cost.recut_minutes", _FROM_ZERO),
    rate=Key("saw.cost.rate", _FROM_ZERO),
    currency=Key("saw.cost.currency", TEXT),
)

_HANDLING: Final = keys_of(
    "table.saw.handling",
    roll_most=Key("saw.handling.roll_most", _FROM_ZERO),
    turn_most=Key("saw.handling.turn_most", _FROM_ZERO),
)

_CUTTING: Final = keys_of(
    "table.saw.cutting",
    in_order("wall_from", "wall_to"),
    grade=Key("saw.cutting.grade", TEXT),
    wall_from=Key("saw.cutting.wall_from", LENGTH_FROM_ZERO),
    wall_to=Key("saw.cutting.wall_to", POSITIVE_LENGTH),
    speed=Key("saw.cutting.speed", TEXT),
    feed=Key("saw.cutting.feed", TEXT),
    coolant=Key("saw.cutting.coolant", TEXT),
    vise_pressure=Key("saw.cutting.vise_pressure", TEXT),
)

TABLES: Final[Mapping[str, Keys]] = {
    "saw": _SAW,
    "scale": _SCALE,
    "tilt": _TILT,
    "arm": Keys(_ARM, {**HINGED.keys, **COLUMN.keys}),
    "bed": _BED,
    "guides": _GUIDES,
    "vise": _VISE,
    "obstacle": _OBSTACLE,
    "feed": _FEED,
    "blade": _BLADE,
    "cost": _COST,
    "handling": _HANDLING,
    "cutting": _CUTTING,
}
"""The tables of a saw file in the order in which they are explained; the arm with the keys of every kind of saw."""

ARRAYS: Final = ("obstacle", "cutting")
"""Tables that may stand several times."""
