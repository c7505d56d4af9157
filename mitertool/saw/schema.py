"""The JSON Schema of a saw file, made of the keys and their sentences, so that editors complete and check it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

import attrs

from mitertool.cut.blade.arms import ARMS
from mitertool.quantity import UNITS
from mitertool.quantity import schema as kind
from mitertool.quantity.schema import Schema
from mitertool.saw.keys import ARRAYS, KEYS
from mitertool.saw.read import MOST_DECIMALS, STANDS
from mitertool.saw.scale import SIDES

SAYS: Final[Mapping[str, str]] = {
    "saw": "The saw itself.",
    "scale": "How the arm's protractor reads, and how far the arm swings.",
    "tilt": "How far the blade tilts; a saw whose blade does not tilt has no such table.",
    "arm": "What carries the blade, measured in the plane of the blade.",
    "bed": "The bed, measured from the face of the fixed jaw.",
    "guides": "The guides of the blade.",
    "vise": "The vise.",
    "obstacle": "A thing that the blade must not meet; one table each.",
    "feed": "The bar feed.",
    "blade": "The blade, and the shop's own rates.",
    "cost": "What setting up costs.",
    "cutting": "A row of the shop's own table of speeds and feeds; one table each.",
}

_NEEDED: Final[Mapping[str, tuple[str, ...]]] = {
    "saw": ("name", "kind", "kerf"),
    "scale": ("square", "feed_side_most", "discharge_side_most"),
    "tilt": ("lowest", "highest"),
    "vise": ("fixed_jaw",),
    "obstacle": ("name", "side", "stands", "depth", "edge"),
    "feed": ("stroke", "counts_kerf"),
}


def schema() -> Schema:
    """The schema of a saw file."""
    return kind.document(
        "mitertool saw file",
        {"format": kind.file_format(), **{name: _table(name) for name in KEYS}},
        ("saw", "scale", "vise"),
        "A saw as the shop measured it, written once. Bare lengths are in the units of [saw], angles in degrees.",
        allOf=[_arm_of(word) for word in ARMS],
    )


def _table(name: str) -> Schema:
    keys = {key: KINDS[key](says) for key, says in KEYS[name].items()}
    one = kind.table(keys, _NEEDED.get(name, ()), SAYS[name], **_RULES.get(name, {}))
    return kind.tables(one) if name in ARRAYS else one


def _square(says: str) -> Schema:
    """0 or 90, as a number or as text."""
    written = {"type": "string", "pattern": r"^\s*\+?(0|90)(\.0*)?\s*$"}
    return {"anyOf": [{"enum": [0, 90]}, written], "description": says}


def _arm_of(saw: str) -> Schema:
    """What the arm of a kind of saw needs and what it has not."""
    has = attrs.fields_dict(ARMS[saw])
    needed = [key for key, field in has.items() if field.default is attrs.NOTHING]
    foreign = [key for key in KEYS["arm"] if key not in has]
    is_so = {"properties": {"saw": {"properties": {"kind": {"const": saw}}, "required": ["kind"]}}, "required": ["saw"]}
    arm = {"required": needed, "properties": dict.fromkeys(foreign, False)}
    return {"if": is_so, "then": {"properties": {"arm": arm}}}


_RULES: Final[Mapping[str, Schema]] = {
    "scale": {
        "if": {"properties": {"two_sided": {"const": True}}, "required": ["two_sided"]},
        "then": {"properties": {"square": {"not": {"const": 90}}}},
        "else": {"required": ["positive"]},
    },
    "blade": {"dependentSchemas": kind.apart("teeth_per_inch", "pitch")},
}

_SWING: Final = partial(kind.angle, minimum=0, exclusiveMaximum=90)

KINDS: Final[Mapping[str, Callable[[str], Schema]]] = {
    **dict.fromkeys(("name", "currency", "grade", "speed", "feed", "coolant", "vise_pressure", "caution"), kind.text),
    "offset_from": kind.text,
    **dict.fromkeys(("invented", "two_sided", "adjustable", "counts_kerf", "counts_trim", "ends_with_zero"), kind.flag),
    **dict.fromkeys(("hinge_u", "hinge_z", "stop_u", "swing_axis", "blade_offset", "fixed_u"), kind.length),
    **dict.fromkeys(("below_bed", "opening_least", "half_thickness", "clearance"), kind.length_from_zero),
    **dict.fromkeys(("approach", "grip", "edge", "shortest", "dead_length", "wall_from"), kind.length_from_zero),
    **dict.fromkeys(("kerf", "lift_highest", "width", "height", "opening_most"), kind.positive_length),
    **dict.fromkeys(("depth", "stroke", "longest", "pitch", "wall_to"), kind.positive_length),
    **dict.fromkeys(("feed_side_most", "discharge_side_most"), _SWING),
    **dict.fromkeys(("teeth_per_inch", "area_rate", "descent"), partial(kind.number, exclusiveMinimum=0)),
    **dict.fromkeys(("swing_minutes", "roll_minutes", "rate"), partial(kind.number, minimum=0)),
    "units": partial(kind.choice, UNITS),
    "kind": partial(kind.choice, tuple(ARMS)),
    "square": _square,
    "positive": partial(kind.choice, [f"{side}-side" for side in SIDES]),
    "division": partial(kind.angle, exclusiveMinimum=0, maximum=15),
    "offset": partial(kind.angle, minimum=-5, maximum=5),
    "offset_date": kind.date,
    "lowest": partial(kind.angle, exclusiveMinimum=-90, maximum=0),
    "highest": partial(kind.angle, minimum=0, exclusiveMaximum=90),
    "cant": partial(kind.angle, minimum=-45, maximum=45),
    "fixed_jaw": partial(kind.choice, ("left", "right")),
    "side": partial(kind.choice, SIDES),
    "stands": partial(kind.choice, STANDS),
    "lines": kind.count,
    "decimals": partial(kind.count, least=0, most=MOST_DECIMALS),
}
"""How the value of each key is written; a key is written alike in every table that has it."""
