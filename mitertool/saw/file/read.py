"""A saw file read table by table, impossible machines refused; knows its keys and the parts of a saw."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import BladeArm
from mitertool.quantity.keys import exact
from mitertool.quantity.tables import Table
from mitertool.quantity.units import units
from mitertool.saw.file.keys import ARM_KEYS, ARRAYS, TABLES
from mitertool.saw.file.machine import Bed, Blade, Cost, Cutting, Feed, Guides, HandlingLimits, Obstacle, Tilt
from mitertool.saw.file.measured import arm_of, guides_of, obstacles_of
from mitertool.saw.file.scale import Scale
from mitertool.words import phrase


def saw_fields(top: Table) -> dict[str, Any]:
    """The fields of a `Saw` from the top table of its file. Raises `BadInput` naming file, table and key."""
    _known(top)
    head = top.table("saw")
    with head.place():
        top = top.in_units(units(head.raw("units", "mm")))
    said, bed = _read(top, "saw"), Bed(**_read(top, "bed"))
    fields = {
        **said,
        **_read(top, "vise"),
        "units": top.units,
        "scale": Scale(**_read(top, "scale")),
        "tilt": Tilt(**_read(top, "tilt")) if top.has("tilt") else None,
        "arm": _arm(top.table("arm"), said["kind"], bed) if top.has("arm") else None,
        "bed": bed,
        "guides": _guides(top.table("guides"), bed) if top.has("guides") else None,
        "obstacles": tuple(one for table in top.tables("obstacle") for one in _obstacles(table)),
        "feed": Feed(**_read(top, "feed")) if top.has("feed") else None,
        "blade": _blade(_read(top, "blade")),
        "cost": Cost(**_read(top, "cost")),
        "handling": HandlingLimits(**_read(top, "handling")),
        "cutting": tuple(Cutting(**TABLES["cutting"].read(table)) for table in top.tables("cutting")),
    }
    _check_together(top, fields)
    return fields


def _known(top: Table) -> None:
    """Refuse the first table or key that a saw file does not have, with the nearest ones, before any value."""
    top.only("format", *TABLES)
    for name, keys in TABLES.items():
        for table in top.tables(name) if name in ARRAYS else (top.table(name),):
            table.only(*keys.keys)


def _read(top: Table, name: str) -> dict[str, Any]:
    return TABLES[name].read(top.table(name))


def _arm(table: Table, kind: str, bed: Bed) -> BladeArm:
    keys = ARM_KEYS[kind]
    for key in table.values:
        if key not in keys.keys:
            raise BadInput(key, table.raw(key), phrase("refuse.kind-key", kind=kind), table.where)
    said = keys.read(table)
    with table.place():
        return arm_of(kind, said, bed.swing_axis)


def _guides(table: Table, bed: Bed) -> Guides:
    said = TABLES["guides"].read(table)
    with table.place():
        return Guides(**guides_of(said, bed.swing_axis))


def _obstacles(table: Table) -> tuple[Obstacle, ...]:
    return tuple(Obstacle(**one) for one in obstacles_of(TABLES["obstacle"].read(table)))


def _blade(said: Mapping[str, Any]) -> Blade:
    """The blade: the distance of its coarsest teeth, and of the finest where the pitch varies."""
    coarsest, *finer = said.get("teeth_per_inch", said.get("pitch", (None,)))
    finest = finer[0] if finer else None
    return Blade(coarsest, said.get("area_rate"), said.get("descent"), finest)


def _check_together(top: Table, fields: Mapping[str, Any]) -> None:
    """What one table says against another: a machine that could not even cut square is refused."""
    guides = top.table("guides")
    with guides.place():
        _check_fixed_guide(fields["arm"], fields["bed"], fields["guides"])
    names: set[str] = set()
    for table in top.tables("obstacle"):
        for obstacle in _obstacles(table):
            with table.place():
                _check_obstacle(obstacle, names, fields["kerf"] / 2)
            names.add(obstacle.name)


def _check_obstacle(obstacle: Obstacle, names: set[str], half_kerf: float) -> None:
    if obstacle.name in names:
        raise BadInput("name", obstacle.name, phrase("refuse.two-names"))
    if obstacle.edge < half_kerf and not obstacle.adjustable:
        allowed = exact(half_kerf, "refuse.sawn")
        raise BadInput("edge", exact(obstacle.edge), allowed)


def _check_fixed_guide(arm: BladeArm | None, bed: Bed, guides: Guides | None) -> None:
    if guides is None or guides.fixed_u is None:
        return
    most = -(bed.swing_axis or 0.0) - guides.clearance
    if guides.fixed_u > most:
        allowed = exact(most, "refuse.guide-in-way")
        raise BadInput("fixed_u", exact(guides.fixed_u), allowed)
    if arm is not None and arm.pin and guides.fixed_u <= arm.pin[0] < 0:
        raise BadInput("fixed_u", exact(guides.fixed_u), exact(arm.pin[0], "refuse.behind-hinge"))
