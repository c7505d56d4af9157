"""The saw file: what a shop writes down once about its own machine; knows quantity."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.quantity.tables import Table, read_toml
from mitertool.quantity.units import units
from mitertool.saw.scale import Scale

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.saw.reach import Reach
    from mitertool.sections import Section

_KEYS = {
    "saw": ("name", "units", "kind", "kerf", "invented"),
    "scale": (
        *("square", "positive", "two_sided", "feed_side_most", "discharge_side_most"),
        *("division", "offset", "offset_date"),
    ),
    "tilt": ("lowest", "highest"),
    "arm": ("hinge_u", "hinge_z", "below_bed", "lift_highest", "stop_u", "cant"),
    "bed": ("swing_axis", "width", "height", "blade_offset"),
    "guides": ("fixed_u", "opening_least", "opening_most", "half_thickness", "clearance"),
    "vise": ("fixed_jaw", "approach", "grip"),
    "obstacle": ("name", "side", "stands", "depth", "edge", "height", "adjustable"),
    "feed": ("stroke", "shortest", "longest", "counts_kerf", "lines", "dead_length"),
    "blade": ("teeth_per_inch", "pitch", "area_rate", "descent"),
    "cost": ("swing_minutes", "roll_minutes", "rate", "currency"),
}
"""The tables of a saw file and their keys (the contract)."""


@attrs.frozen
class Tilt:
    """How far the blade tilts, degrees from upright."""

    lowest: float
    highest: float


@attrs.frozen
class Saw:
    """A saw as its file tells it. Lengths mm, angles degrees.

    `fixed_jaw` is "left" or "right" looking with the feed; `tilt` is None where the blade does not tilt; `grip` is
    what the vise must hold of a bar.
    """

    name: str
    kind: str = "hinged"
    kerf: float = 0.0
    scale: Scale = Scale()
    tilt: Tilt | None = None
    fixed_jaw: str = "left"
    grip: float = 0.0
    invented: bool = False

    @property
    def leads(self) -> str:
        """Which end of a piece meets the blade first, "left" or "right": the side of the fixed jaw."""
        return self.fixed_jaw

    @classmethod
    def load(cls, path: str | Path) -> Self:
        """Read a saw file. Raises `BadInput` naming file, table and key for anything that is not as it should be."""
        return cls.read(read_toml(Path(path)))

    @classmethod
    def read(cls, top: Table) -> Self:
        """The saw that the top table of a file tells of; same errors as `load`."""
        top.only("format", *_KEYS)
        _known_keys(top)
        head = top.table("saw")
        with head.place():
            unit = units(head.raw("units", "mm"))
        head, vise = head.in_units(unit), top.table("vise").in_units(unit)
        return cls(
            name=head.text("name"),
            kind=head.choice("kind", ("hinged", "column")),
            kerf=head.positive_length("kerf"),
            scale=_scale(top.table("scale")),
            tilt=_tilt(top.table("tilt")) if top.has("tilt") else None,
            fixed_jaw=vise.choice("fixed_jaw", ("left", "right")),
            grip=vise.length_from_zero("grip", 0.0),
            invented=head.flag("invented", False),
        )

    def reach(self, section: Section, cut: Cut, end: str = "right") -> Reach:
        """What must be set to make `cut` at the `end` ("left" or "right") of a piece, and whether it can be made."""
        from mitertool.saw.reach import reach

        return reach(self, section, cut, end)


def _known_keys(top: Table) -> None:
    for name, keys in _KEYS.items():
        for table in top.tables(name) if name == "obstacle" else (top.table(name),):
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
