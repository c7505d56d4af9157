"""Every table and key of a saw file: what it means, how it is written, what is allowed; knows quantity and words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Values, absent, exact, in_order, keys_of, need
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

_SWING: Final = angle(Limits(least=0, below=90), "allowed: 0 (none) to less than 90 degrees from square")
_OFFSET: Final = angle(Limits(-5, 5), "allowed: {} degrees; set a scale that is further out anew")
_HOLDS_0: Final = "must hold 0 and stay within 90 degrees"
_FROM_ZERO: Final = number(Limits(least=0))


def _rate(reader: Callable[[object, str], float], show: Callable[[Units, float], str]) -> Kind:
    told = number(Limits(above=0)).schema
    return Kind(lambda value, what, _: reader(value, what), told, lambda rate, units: show(units, rate))


def _read_square(value: Any, what: str, _: Units) -> float:
    square = plain_number(value, what)
    if square not in (0, 90):
        raise BadInput(what, square, "the reading at a square cut is 0 or 90")
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
        raise BadInput("two_sided", "true with square = 90", "a two-sided scale reads 0 at square")


_TWO_SIDED: Final = Rule(
    _check_two_sided,
    {
        "if": {"properties": {"two_sided": {"const": True}}, "required": ["two_sided"]},
        "then": {"properties": {"square": {"not": {"const": 90}}}},
        "else": {"required": ["positive"]},
    },
)


def _check_teeth(found: Values) -> None:
    if "teeth_per_inch" in found and "pitch" in found:
        raise BadInput("pitch", "teeth_per_inch beside it", "give one of the two")


_TEETH_ONE_WAY: Final = Rule(_check_teeth, {"dependentSchemas": schema.apart("teeth_per_inch", "pitch")})


def _check_hinge(found: Values) -> None:
    if abs(found["hinge_u"]) <= abs(found["hinge_z"] + found["below_bed"]):
        allowed = "the hinge must stand further from the swing axis than its height above the edge at rest"
        raise BadInput("hinge_u", exact(found["hinge_u"]), allowed)


def _check_lift(found: Values) -> None:
    if "lift_highest" in found and found["lift_highest"] <= found.get("below_bed", 0.0):
        allowed = "the blade must lift out of the bed: more than below_bed"
        raise BadInput("lift_highest", exact(found["lift_highest"]), allowed)


_ARM: Final = "What carries the blade, measured in the plane of the blade."
_BELOW_BED: Final = Key("How far the cutting edge at rest stands below the bed, over the swing axis.", LENGTH_FROM_ZERO)
_LIFT: Final = Key(
    "How far the arm lifts above rest: degrees where it is hinged, a length on a column.", POSITIVE_LENGTH
)

HINGED: Final = keys_of(
    _ARM,
    Rule(_check_hinge),
    hinge_u=need("Where the hinge stands along the blade from the swing axis, negative on the fixed-jaw side.", LENGTH),
    hinge_z=need("How high the hinge stands above the bed.", LENGTH),
    below_bed=attrs.evolve(_BELOW_BED, needed=True),
    lift_highest=attrs.evolve(_LIFT, kind=angle(Limits(above=0, below=90))),
    stop_u=Key("Where along the blade from the swing axis the height of the edge is measured for the lift.", LENGTH),
)

COLUMN: Final = keys_of(
    _ARM,
    Rule(_check_lift),
    below_bed=_BELOW_BED,
    lift_highest=_LIFT,
    cant=Key(
        "How far the blade of a column is canted, degrees, positive with the moving-jaw end higher.",
        angle(Limits(-45, 45)),
    ),
)

ARM_KEYS: Final[Mapping[str, Keys]] = {HingedArm.kind: HINGED, Column.kind: COLUMN}
"""The keys of the arm of each kind of saw."""

_SAW: Final = keys_of(
    "The saw itself.",
    name=need("What the shop calls the saw.", WORDS),
    units=Key("How bare lengths in this file are meant: mm, in or ft-in.", UNIT),
    kind=need(
        'How the blade comes down: "hinged" about a pin, or on a "column", parallel to itself.', choice(tuple(ARM_KEYS))
    ),
    kerf=need("The width that the blade takes, measured square to the blade.", POSITIVE_LENGTH),
    invented=Key("true where the saw is made up and no machine has these figures.", FLAG),
)

_SCALE: Final = keys_of(
    "How the arm's protractor reads, and how far the arm swings.",
    _TWO_SIDED,
    square=need("What the protractor reads at a square cut: 0 or 90.", _SQUARE),
    positive=Key(
        "Where the moving-jaw end of the blade goes as the reading grows: feed-side or discharge-side.",
        choice([f"{side}-side" for side in SIDES]),
    ),
    two_sided=Key("true where the protractor reads up from 0 both ways.", FLAG),
    feed_side_most=need("Degrees that the arm swings from square to the feed side; 0 where it does not.", _SWING),
    discharge_side_most=need(
        "Degrees that the arm swings from square to the discharge side; 0 where it does not.", _SWING
    ),
    division=Key("The finest division of the protractor, degrees.", angle(Limits(above=0, most=15))),
    offset=Key(
        "A correction kept from a measured first piece, degrees, added to every reading; "
        "on a two-sided scale to the swing, positive to the feed side.",
        _OFFSET,
    ),
    offset_date=Key("The day on which that correction was kept.", DATE),
    offset_from=Key(
        "The measured first piece that it was kept from, or a list of all that it is the sum of: "
        "the same one is not kept twice.",
        _MEASURED,
    ),
)

_TILT: Final = keys_of(
    "How far the blade tilts; a saw whose blade does not tilt has no such table.",
    lowest=need(
        "How far the blade tilts to the negative side, degrees, 0 or less.", angle(Limits(above=-90, most=0), _HOLDS_0)
    ),
    highest=need(
        "How far the blade tilts to the positive side, degrees, 0 or more.", angle(Limits(least=0, below=90), _HOLDS_0)
    ),
)

_BED: Final = keys_of(
    "The bed, measured from the face of the fixed jaw.",
    swing_axis=Key("How far the vertical axis of the swing stands from the face of the fixed jaw.", LENGTH),
    width=Key("The widest bar that goes between the jaws.", POSITIVE_LENGTH),
    height=Key("The highest bar that goes under the arm.", POSITIVE_LENGTH),
    blade_offset=Key(
        "How far the blade stands from the swing axis in a square cut, positive on the feed side.", LENGTH
    ),
)

_GUIDES: Final = keys_of(
    "The guides of the blade.",
    in_order("opening_least", "opening_most"),
    fixed_u=Key(
        "Where the inner face of the fixed guide stands along the blade, negative on the fixed-jaw side.", LENGTH
    ),
    opening_least=Key("The least distance between the guides.", LENGTH_FROM_ZERO),
    opening_most=Key("The greatest distance between the guides.", POSITIVE_LENGTH),
    half_thickness=Key("Half the thickness of a guide, measured square to the blade.", LENGTH_FROM_ZERO),
    clearance=Key(
        "How far guides, blade and lifted edge must stay clear, measured square to the bar.", LENGTH_FROM_ZERO
    ),
)

_VISE: Final = keys_of(
    "The vise.",
    fixed_jaw=need("Which jaw stays where it is, looking with the feed: left or right.", choice(("left", "right"))),
    approach=Key("How near to the bar the jaw is brought before clamping.", LENGTH_FROM_ZERO),
    grip=Key("The least length of bar that the vise must hold.", LENGTH_FROM_ZERO),
)

_OBSTACLE: Final = keys_of(
    "A thing that the blade must not meet; one table each.",
    name=need("What the thing is called that the blade must not meet.", TEXT),
    side=need("On which side of the blade it stands: feed or discharge.", choice(SIDES)),
    stands=need(
        "Behind the face of the moving-jaw or of the fixed-jaw, or across the bed from the fixed jaw.",
        choice(("moving-jaw", "fixed-jaw", "across")),
    ),
    depth=need("How far it reaches back from the jaw's face, or across the bed.", POSITIVE_LENGTH),
    edge=need("How far its edge stands from the square cut line.", LENGTH_FROM_ZERO),
    height=Key("How high it stands above the bed.", POSITIVE_LENGTH),
    adjustable=Key("true where it can be set back by hand.", FLAG),
)

_FEED: Final = keys_of(
    "The bar feed.",
    in_order("shortest", "longest"),
    stroke=need("How far the bar feed moves a bar in one stroke.", POSITIVE_LENGTH),
    shortest=Key("The shortest length that its control takes.", LENGTH_FROM_ZERO),
    longest=Key("The longest length that its control takes.", POSITIVE_LENGTH),
    counts_kerf=need("true where its control adds the plain kerf to the length by itself.", FLAG),
    lines=Key("How many program lines its control holds.", count()),
    dead_length=Key("The length at the end of a bar that it cannot push.", LENGTH_FROM_ZERO),
    decimals=Key(
        "Decimals of a length on its control, in the units of the file; absent: 1 in mm, 2 in inches.",
        count(least=0, most=4),
    ),
    counts_trim=Key("Whether its control counts the trim cut as a piece; absent: the sheet says nothing of it.", FLAG),
    ends_with_zero=Key("true where its list must end with a line of zeros for the control to stop there.", FLAG),
    caution=Key("What this machine's manual asks of whoever uses the feed; printed with the cautions.", TEXT),
)

_BLADE: Final = keys_of(
    "The blade, and the shop's own rates.",
    _TEETH_ONE_WAY,
    teeth_per_inch=Key('Teeth in an inch of blade, a variable pitch as "5/7"; give this or the pitch.', TEETH_PER_INCH),
    pitch=Key("The distance from tooth to tooth; give this or the teeth per inch.", PITCH),
    area_rate=Key(
        'The area that the shop\'s blade cuts in a minute: bare in mm2/min, or such as "5 in2/min".',
        _rate(area_rate, show_area_rate),
    ),
    descent=Key(
        'The fastest that the blade comes down, over the swing axis: bare in mm/min, or such as "2 in/min".',
        _rate(way_rate, show_way_rate),
    ),
)

_COST: Final = keys_of(
    "What setting up costs.",
    swing_minutes=Key("Minutes that a swing of the arm takes.", _FROM_ZERO),
    roll_minutes=Key("Minutes that a roll of the bar takes.", _FROM_ZERO),
    rate=Key("What an hour of the saw costs.", _FROM_ZERO),
    currency=Key("The money that the rate is in.", TEXT),
)

_CUTTING: Final = keys_of(
    "A row of the shop's own table of speeds and feeds; one table each.",
    in_order("wall_from", "wall_to"),
    grade=Key("The grade that this row of the shop's own table is for; absent: any.", TEXT),
    wall_from=Key("The thinnest wall that the row is for.", LENGTH_FROM_ZERO),
    wall_to=Key("The thickest wall that the row is for.", POSITIVE_LENGTH),
    speed=Key("The blade speed that the shop uses, as text.", TEXT),
    feed=Key("The feed that the shop uses, as text.", TEXT),
    coolant=Key("The coolant that the shop uses, as text.", TEXT),
    vise_pressure=Key("The vise pressure that the shop uses, as text.", TEXT),
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
    "cutting": _CUTTING,
}
"""The tables of a saw file in the order in which they are explained; the arm with the keys of every kind of saw."""

ARRAYS: Final = ("obstacle", "cutting")
"""Tables that may stand several times."""
