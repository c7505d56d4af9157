"""The saw: what a shop writes down once about its own machine; knows its parts and quantity."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import ARMS, BladeArm, Column, HingedArm
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units
from mitertool.quantity.tables import Table, read_toml
from mitertool.saw.machine import Bed, Blade, Cost, Cutting, Feed, Guides, Obstacle, Tilt
from mitertool.saw.read import saw_fields
from mitertool.saw.scale import Scale

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.saw.reach import Reach
    from mitertool.sections import Section

__all__ = ["Saw", "Tilt"]


def _of_its_kind(saw: Saw, _: object, arm: BladeArm | None) -> None:
    if arm is not None and arm.kind != saw.kind:
        raise BadInput("arm", arm.kind, f'a saw of kind = "{saw.kind}" has another')


@attrs.frozen
class Saw:
    """A saw as its file tells it. Lengths mm, angles degrees.

    `fixed_jaw` is "left" or "right" looking with the feed; `grip` is what the vise must hold of a bar, `approach`
    how near to the bar its jaw is brought before clamping. `units` are those that its file is written in. `tilt` is
    None where the blade does not tilt; `arm`, `guides` and `feed` are None where the file has no such table.

    >>> mt.Saw("bench saw").reach(mt.flat(80, 12), mt.Cut(45))
    <Reach flat 80x12: swing 45, scale 45>
    """

    name: str
    kind: str = "hinged"
    kerf: float = 0.0
    scale: Scale = Scale()
    tilt: Tilt | None = None
    fixed_jaw: str = "left"
    grip: float = 0.0
    invented: bool = False
    arm: BladeArm | None = attrs.field(default=None, validator=_of_its_kind)
    bed: Bed = attrs.field(factory=Bed)
    guides: Guides | None = None
    approach: float | None = None
    obstacles: tuple[Obstacle, ...] = ()
    feed: Feed | None = None
    blade: Blade = attrs.field(factory=Blade)
    cost: Cost = attrs.field(factory=Cost)
    cutting: tuple[Cutting, ...] = ()
    units: Units = "mm"

    @property
    def arm_type(self) -> type[HingedArm] | type[Column]:
        """What carries its blade, also where nothing more is known of it."""
        return ARMS[self.kind]

    @property
    def leads(self) -> str:
        """Which end of a piece meets the blade first, "left" or "right": the side of the fixed jaw."""
        return self.fixed_jaw

    @property
    def trails(self) -> str:
        """The other end, which is cut last."""
        return OTHER_END[self.leads]

    @classmethod
    def load(cls, path: str | Path) -> Self:
        """Read a saw file. Raises `BadInput` naming file, table and key for anything that is not as it should be."""
        return cls.read(read_toml(Path(path)))

    @classmethod
    def read(cls, top: Table) -> Self:
        """The saw that the top table of a file tells of; same errors as `load`."""
        return cls(**saw_fields(top))

    def reach(self, section: Section, cut: Cut, end: str = "right", count: int = 1, held: float | None = None) -> Reach:
        """What must be set to make `cut` at the `end` ("left" or "right") of a piece, and whether it can be made.

        `count` bars lie side by side; `held` is the length of bar behind the cut on the centerline, mm (None: enough).
        """
        from mitertool.saw.reach import reach

        return reach(self, section, cut, end, count, held)

    def shop_table(self, grade: str, wall: float) -> tuple[Cutting, ...]:
        """The rows of the shop's own table for a grade and a wall (mm)."""
        return tuple(row for row in self.cutting if row.holds_for(grade, wall))
