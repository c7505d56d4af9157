"""A saw and its parts as its file tells them, frozen; knows numbers and arms. Lengths mm, angles degrees."""

from __future__ import annotations

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import ARMS, BladeArm, Column, HingedArm
from mitertool.piece.poses import OTHER_END
from mitertool.quantity.compare import longer, reaches
from mitertool.quantity.units import MM_PER_INCH, Units
from mitertool.saw.file.scale import Scale
from mitertool.words import phrase


@attrs.frozen
class Tilt:
    """How far the blade tilts, degrees from upright."""

    lowest: float
    highest: float

    def reaches(self, tilt: float) -> bool:
        """Whether the blade tilts so far."""
        return reaches(tilt, self.lowest, self.highest)


@attrs.frozen
class Bed:
    """The bed: `swing_axis` from the fixed jaw, the widest and highest bar it takes (None: not said).

    `blade_offset` is how far the blade stands from the swing axis in a square cut, positive on the feed side.
    """

    swing_axis: float | None = None
    width: float | None = None
    height: float | None = None
    blade_offset: float = 0.0


@attrs.frozen
class Guides:
    """The blade guides: where the fixed one stands on the blade (None: both move), and the distances between them.

    `half_thickness` is measured square to the blade, `clearance` square to the bar.
    """

    fixed_u: float | None = None
    opening_least: float | None = None
    opening_most: float | None = None
    half_thickness: float = 0.0
    clearance: float = 0.0


@attrs.frozen
class Obstacle:
    """A thing that the blade must not meet: a block with an edge at `edge` from the square cut line on its `side`.

    It `stands` behind the "moving-jaw" face or the "fixed-jaw" face, `depth` deep, or "across" the bed from the
    fixed jaw's face, `depth` long. `adjustable`: it can be set back, so it is never a reason to refuse.
    """

    name: str
    side: str
    stands: str
    depth: float
    edge: float
    height: float | None = None
    adjustable: bool = False


@attrs.frozen
class Feed:
    """A bar feed: its stroke, the lengths its control takes, whether the control adds the kerf by itself.

    `lines` is how many program lines it holds, `dead_length` what it cannot push of a bar, `decimals` how many its
    lengths have in the units of the file. `counts_trim`: whether it counts the trim cut as a piece. `ends_with_zero`:
    whether its list must end with a line of zeros. `caution` is the manual's own. None: not said.
    """

    stroke: float
    shortest: float = 0.0
    longest: float | None = None
    counts_kerf: bool = False
    lines: int | None = None
    dead_length: float = 0.0
    decimals: int | None = None
    counts_trim: bool | None = None
    ends_with_zero: bool = False
    caution: str = ""


@attrs.frozen
class Blade:
    """The blade: distance between teeth, mm, and the shop's own rates: mm2/min and mm/min (None: not given).

    Of a blade of variable pitch `pitch` is the distance of its coarse teeth, `finest` that of its fine ones.
    """

    pitch: float | None = None
    area_rate: float | None = None
    descent: float | None = None
    finest: float | None = None

    @property
    def teeth_per_inch(self) -> float | None:
        """Teeth in an inch, where they are coarsest."""
        return None if self.pitch is None else MM_PER_INCH / self.pitch


@attrs.frozen
class Cost:
    """What the work costs: minutes a swing, a roll and so on, rate per hour in a currency (None: not given).

    `load_minutes` are those of a bar onto the feed, `recut_minutes` of a blank laid and stopped again.
    """

    swing_minutes: float | None = None
    roll_minutes: float | None = None
    rate: float | None = None
    currency: str = ""
    tilt_minutes: float | None = None
    load_minutes: float | None = None
    recut_minutes: float | None = None


@attrs.frozen
class HandlingLimits:
    """The heaviest bar that is rolled between two cuts, and the heaviest that is turned end for end, kg; None: any."""

    roll_most: float | None = None
    turn_most: float | None = None


@attrs.frozen
class Cutting:
    """A row of the shop's own table: what it uses for a grade ("": any) and a wall from so thick to so thick, mm."""

    grade: str = ""
    wall_from: float = 0.0
    wall_to: float | None = None
    speed: str = ""
    feed: str = ""
    coolant: str = ""
    vise_pressure: str = ""

    def holds_for(self, grade: str, wall: float) -> bool:
        """Whether the row is meant for this grade and wall."""
        in_grade = not self.grade or self.grade.casefold() == grade.casefold()
        thick = not longer(self.wall_from, wall)
        return in_grade and thick and (self.wall_to is None or not longer(wall, self.wall_to))


def _of_its_kind(saw: Machine, _: object, arm: BladeArm | None) -> None:
    if arm is not None and arm.kind != saw.kind:
        raise BadInput("arm", arm.kind, phrase("refuse.arm-kind", kind=saw.kind))


@attrs.frozen
class Machine:
    """A saw by its figures. Lengths mm, angles degrees.

    `fixed_jaw` is "left" or "right" looking with the feed; `grip` is what the vise must hold of a bar, `approach`
    how near to the bar its jaw is brought before clamping. `units` are those that its file is written in. `tilt` is
    None where the blade does not tilt; `arm`, `guides` and `feed` are None where the file has no such table.
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
    handling: HandlingLimits = attrs.field(factory=HandlingLimits)
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

    def shop_table(self, grade: str, wall: float) -> tuple[Cutting, ...]:
        """The rows of the shop's own table for a grade and a wall (mm)."""
        return tuple(row for row in self.cutting if row.holds_for(grade, wall))
