"""A saw file read and checked table by table, impossible machines refused; knows quantity and the parts of a saw."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import ARMS, BladeArm, Column, HingedArm
from mitertool.quantity.numerals import plain_number
from mitertool.quantity.rates import area_rate, way_rate
from mitertool.quantity.show import show_exact
from mitertool.quantity.tables import Table
from mitertool.quantity.units import MM_PER_INCH, units
from mitertool.saw.keys import ARRAYS, KEYS
from mitertool.saw.machine import Bed, Blade, Cost, Cutting, Feed, Guides, Obstacle, Tilt
from mitertool.saw.scale import SIDES, Scale

STANDS: Final = ("moving-jaw", "fixed-jaw", "across")
MOST_DECIMALS: Final = 4
"""Decimals of a length on a control; a tenth of a micrometre is finer than any feed."""

_STEEPEST_CANT: Final = 45.0
_FINEST: Final = 0.1
_COARSEST: Final = 100.0
"""mm. Teeth closer or wider than this are on no band for metal; guards against a slip of the unit."""
_VARIABLE: Final = re.compile(r"([0-9]*\.?[0-9]+) ?/ ?([0-9]*\.?[0-9]+)", re.ASCII)


def saw_fields(top: Table) -> dict[str, Any]:
    """The fields of a `Saw` from the top table of its file. Raises `BadInput` naming file, table and key."""
    known_keys(top)
    head = top.table("saw")
    with head.place():
        unit = units(head.raw("units", "mm"))
    top = top.in_units(unit)
    head, vise = top.table("saw"), top.table("vise")
    kind = head.choice("kind", tuple(ARMS))
    fields = {
        "name": head.words("name"),
        "units": unit,
        "kind": kind,
        "kerf": head.positive_length("kerf"),
        "scale": _scale(top.table("scale")),
        "tilt": _tilt(top.table("tilt")) if top.has("tilt") else None,
        "arm": _arm(top.table("arm"), kind) if top.has("arm") else None,
        "bed": _bed(top.table("bed")),
        "guides": _guides(top.table("guides")) if top.has("guides") else None,
        "fixed_jaw": vise.choice("fixed_jaw", ("left", "right")),
        "approach": vise.length_from_zero("approach") if vise.has("approach") else None,
        "grip": vise.length_from_zero("grip", 0.0),
        "obstacles": tuple(_obstacle(table) for table in top.tables("obstacle")),
        "feed": _feed(top.table("feed")) if top.has("feed") else None,
        "blade": _blade(top.table("blade")),
        "cost": _cost(top.table("cost")),
        "cutting": tuple(_cutting(table) for table in top.tables("cutting")),
        "invented": head.flag("invented", False),
    }
    _check_together(top, fields)
    return fields


def known_keys(top: Table) -> None:
    """Refuse the first table or key that a saw file does not have, with the nearest ones."""
    top.only("format", *KEYS)
    for name, keys in KEYS.items():
        for table in top.tables(name) if name in ARRAYS else (top.table(name),):
            table.only(*keys)


def _scale(table: Table) -> Scale:
    scale = Scale(
        square=table.number("square"),
        positive=table.choice("positive", ("feed-side", "discharge-side"), "feed-side"),
        two_sided=table.flag("two_sided", False),
        feed_side_most=table.angle("feed_side_most"),
        discharge_side_most=table.angle("discharge_side_most"),
        division=table.angle("division", 1.0),
        offset=table.angle("offset", 0.0),
        offset_date=_date(table, "offset_date"),
        offset_from=table.text("offset_from", ""),
    )
    with table.place():
        _check_scale(scale, table)
    return scale


def _date(table: Table, key: str) -> str:
    """A date as it was written; "" where absent."""
    value = table.raw(key, "")
    if not isinstance(value, str | date):
        raise BadInput(key, value, "must be a date such as 2024-05-17", table.where)
    return " ".join(str(value).split())


def _check_scale(scale: Scale, table: Table) -> None:
    if scale.square not in (0, 90):
        raise BadInput("square", scale.square, "the reading at a square cut is 0 or 90")
    if not scale.two_sided:
        table.raw("positive")
    if scale.two_sided and scale.square != 0:
        raise BadInput("two_sided", "true with square = 90", "a two-sided scale reads 0 at square")
    for key in ("feed_side_most", "discharge_side_most"):
        if not 0 <= getattr(scale, key) < 90:
            raise BadInput(key, getattr(scale, key), "allowed: 0 (none) to less than 90 degrees from square")
    if not 0 < scale.division <= 15:
        raise BadInput("division", scale.division, "allowed: more than 0, at most 15 degrees")
    if abs(scale.offset) > 5:
        raise BadInput("offset", scale.offset, "allowed: -5 to 5 degrees; set a scale that is further out anew")


def _tilt(table: Table) -> Tilt:
    tilt = Tilt(table.angle("lowest"), table.angle("highest"))
    if not -90 < tilt.lowest <= 0 <= tilt.highest < 90:
        found = f"{tilt.lowest:g} to {tilt.highest:g}"
        raise BadInput("lowest, highest", found, "must hold 0 and stay within 90 degrees", table.where)
    return tilt


def _arm(table: Table, kind: str) -> BladeArm:
    for key in KEYS["arm"]:
        if table.has(key) and key not in attrs.fields_dict(ARMS[kind]):
            raise BadInput(key, table.raw(key), f'a saw of kind = "{kind}" has no such key', table.where)
    return _READERS[ARMS[kind]](table)


def _hinged(table: Table) -> HingedArm:
    arm = HingedArm(
        below_bed=table.length_from_zero("below_bed"),
        lift_highest=_between(table, "lift_highest", 0, 90) if table.has("lift_highest") else None,
        hinge_u=table.length("hinge_u"),
        hinge_z=table.length("hinge_z"),
        stop_u=table.length("stop_u") if table.has("stop_u") else None,
    )
    if abs(arm.hinge_u) <= abs(arm.hinge_z + arm.below_bed):
        allowed = "the hinge must stand further from the swing axis than its height above the edge at rest"
        raise BadInput("hinge_u", _shown(arm.hinge_u, table), allowed, table.where)
    return arm


def _column(table: Table) -> Column:
    arm = Column(
        below_bed=table.length_from_zero("below_bed", 0.0),
        lift_highest=_maybe(table.positive_length, "lift_highest", table),
        cant=table.angle("cant", 0.0),
    )
    if abs(arm.cant) > _STEEPEST_CANT:
        raise BadInput("cant", arm.cant, f"allowed: -{_STEEPEST_CANT:g} to {_STEEPEST_CANT:g} degrees", table.where)
    if arm.lift_highest is not None and arm.lift_highest <= arm.below_bed:
        allowed = "the blade must lift out of the bed: more than below_bed"
        raise BadInput("lift_highest", _shown(arm.lift_highest, table), allowed, table.where)
    return arm


_READERS: Final[Mapping[type[HingedArm] | type[Column], Callable[[Table], BladeArm]]] = {
    HingedArm: _hinged,
    Column: _column,
}


def _bed(table: Table) -> Bed:
    return Bed(
        swing_axis=_maybe(table.length, "swing_axis", table),
        width=_maybe(table.positive_length, "width", table),
        height=_maybe(table.positive_length, "height", table),
        blade_offset=table.length("blade_offset", 0.0),
    )


def _guides(table: Table) -> Guides:
    guides = Guides(
        fixed_u=_maybe(table.length, "fixed_u", table),
        opening_least=_maybe(table.length_from_zero, "opening_least", table),
        opening_most=_maybe(table.positive_length, "opening_most", table),
        half_thickness=table.length_from_zero("half_thickness", 0.0),
        clearance=table.length_from_zero("clearance", 0.0),
    )
    least, most = guides.opening_least, guides.opening_most
    if least is not None and most is not None and least > most:
        raise BadInput(
            "opening_most", _shown(most, table), f"must be opening_least, {_shown(least, table)}, or more", table.where
        )
    return guides


def _obstacle(table: Table) -> Obstacle:
    return Obstacle(
        name=table.text("name"),
        side=table.choice("side", SIDES),
        stands=table.choice("stands", STANDS),
        depth=table.positive_length("depth"),
        edge=table.length_from_zero("edge"),
        height=_maybe(table.positive_length, "height", table),
        adjustable=table.flag("adjustable", False),
    )


def _feed(table: Table) -> Feed:
    feed = Feed(
        stroke=table.positive_length("stroke"),
        shortest=table.length_from_zero("shortest", 0.0),
        longest=_maybe(table.positive_length, "longest", table),
        counts_kerf=table.flag("counts_kerf"),
        lines=table.count("lines") if table.has("lines") else None,
        dead_length=table.length_from_zero("dead_length", 0.0),
        decimals=_decimals(table) if table.has("decimals") else None,
        counts_trim=table.flag("counts_trim") if table.has("counts_trim") else None,
        ends_with_zero=table.flag("ends_with_zero", False),
        caution=table.text("caution") if table.has("caution") else "",
    )
    if feed.longest is not None and feed.longest < feed.shortest:
        allowed = f"must be shortest, {_shown(feed.shortest, table)}, or more"
        raise BadInput("longest", _shown(feed.longest, table), allowed, table.where)
    return feed


def _decimals(table: Table) -> int:
    found = table.count("decimals", least=0)
    if found > MOST_DECIMALS:
        raise BadInput("decimals", found, f"allowed: 0 to {MOST_DECIMALS}", table.where)
    return found


def _blade(table: Table) -> Blade:
    coarsest, finest = _pitches(table)
    return Blade(
        pitch=coarsest,
        area_rate=_rate(area_rate, table, "area_rate"),
        descent=_rate(way_rate, table, "descent"),
        finest=finest,
    )


def _rate(reader: Callable[[object, str], float], table: Table, key: str) -> float | None:
    with table.place():
        return reader(table.raw(key), key) if table.has(key) else None


def _pitches(table: Table) -> tuple[float | None, float | None]:
    """The distance of the coarsest teeth, and of the finest where the pitch varies; None for what is not said."""
    if table.has("teeth_per_inch") and table.has("pitch"):
        raise BadInput("pitch", "teeth_per_inch beside it", "give one of the two", table.where)
    if table.has("teeth_per_inch"):
        key, found = "teeth_per_inch", [MM_PER_INCH / teeth for teeth in _teeth_per_inch(table)]
    elif table.has("pitch"):
        key, found = "pitch", [table.positive_length("pitch")]
    else:
        return None, None
    if any(not _FINEST <= pitch <= _COARSEST for pitch in found):
        allowed = f"teeth must be {_FINEST:g} to {_COARSEST:g} mm apart"
        raise BadInput(key, table.raw(key), allowed, table.where)
    return max(found), min(found) if len(found) > 1 else None


def _teeth_per_inch(table: Table) -> tuple[float, ...]:
    """One number, or the two of a variable pitch, which the trade writes with a stroke; never a fraction."""
    written = table.raw("teeth_per_inch")
    if not isinstance(written, str) or not (sides := _VARIABLE.fullmatch(written.strip())):
        return (_above_zero(table, "teeth_per_inch"),)
    coarse, fine = float(sides[1]), float(sides[2])
    if not 0 < coarse < fine:
        allowed = 'a variable pitch is written coarse/fine, such as "5/7", a part of a tooth as a decimal, such as 0.75'
        raise BadInput("teeth_per_inch", written, allowed, table.where)
    return coarse, fine


def _cost(table: Table) -> Cost:
    def amount(key: str) -> float | None:
        return _from_zero(table, key) if table.has(key) else None

    currency = table.text("currency") if table.has("currency") else ""
    return Cost(amount("swing_minutes"), amount("roll_minutes"), amount("rate"), currency)


def _cutting(table: Table) -> Cutting:
    texts = {key: table.text(key) for key in KEYS["cutting"] if table.has(key) and not key.startswith("wall")}
    wall_to = _maybe(table.positive_length, "wall_to", table)
    row = Cutting(wall_from=table.length_from_zero("wall_from", 0.0), wall_to=wall_to, **texts)
    if wall_to is not None and wall_to < row.wall_from:
        raise BadInput(
            "wall_to",
            _shown(wall_to, table),
            f"must be wall_from, {_shown(row.wall_from, table)}, or more",
            table.where,
        )
    return row


def _check_together(top: Table, fields: dict[str, Any]) -> None:
    """What one table says against another: a machine that could not even cut square is refused."""
    arm, bed, guides = fields["arm"], fields["bed"], fields["guides"]
    _check_fixed_guide(top.table("guides"), arm, bed, guides)
    names: set[str] = set()
    for table, obstacle in zip(top.tables("obstacle"), fields["obstacles"], strict=True):
        if obstacle.name in names:
            raise BadInput("name", obstacle.name, "two obstacles need two names", table.where)
        names.add(obstacle.name)
        if obstacle.edge < fields["kerf"] / 2 and not obstacle.adjustable:
            allowed = f"a square cut would saw it: at least half the kerf, {_shown(fields['kerf'] / 2, table)}"
            raise BadInput("edge", _shown(obstacle.edge, table), allowed, table.where)


def _check_fixed_guide(table: Table, arm: BladeArm | None, bed: Bed, guides: Guides | None) -> None:
    if guides is None or guides.fixed_u is None:
        return
    most = -(bed.swing_axis or 0.0) - guides.clearance
    if guides.fixed_u > most:
        allowed = f"it stands in the way of every bar: at most {_shown(most, table)}, the fixed jaw less the clearance"
        raise BadInput("fixed_u", _shown(guides.fixed_u, table), allowed, table.where)
    if arm is not None and arm.pin and guides.fixed_u <= arm.pin[0] < 0:
        allowed = f"it stands behind the hinge: more than {_shown(arm.pin[0], table)}"
        raise BadInput("fixed_u", _shown(guides.fixed_u, table), allowed, table.where)


def _shown(length: float, table: Table) -> str:
    """A length in the units of the file."""
    return f"{show_exact(length, table.units)}{' mm' if table.units == 'mm' else ''}"


def _maybe(reader: Any, key: str, table: Table) -> float | None:
    return float(reader(key)) if table.has(key) else None


def _between(table: Table, key: str, low: float, high: float) -> float:
    value = table.angle(key)
    if not low < value < high:
        raise BadInput(key, value, f"allowed: more than {low:g}, less than {high:g} degrees", table.where)
    return value


def _above_zero(table: Table, key: str) -> float:
    value = table.number(key)
    if value <= 0:
        raise BadInput(key, value, "must be more than 0", table.where)
    return value


def _from_zero(table: Table, key: str) -> float:
    with table.place():
        value = plain_number(table.raw(key), key)
        if value < 0:
            raise BadInput(key, value, "must be 0 or more")
    return value
