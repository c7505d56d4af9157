"""What a saw set to a swing and a tilt asks of guides, obstacles and arm for a section; knows the saw's parts.

The values are those the geometry asks for, never clamped to what the saw has. A value is None where the saw file does
not say what it takes to know it.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from math import cos, radians, tan
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.bar import BarCut
from mitertool.cut import Cut
from mitertool.cut.blade.arms import BladeArm, turning_point
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from mitertool.cut.blade.walls import thinnest_wall
from mitertool.geometry import Region
from mitertool.saw.file.machine import Guides, Obstacle
from mitertool.sections import Section

if TYPE_CHECKING:
    from mitertool.saw.file.machine import Machine


@attrs.frozen
class Setting:
    """A saw with its arm swung and its blade tilted (degrees), and the section as it lies in the vise."""

    saw: Machine
    section: Section
    swing: float
    tilt: float

    @property
    def guides(self) -> Guides:
        """The guides, of no thickness and clearance where the file does not tell of any."""
        return self.saw.guides or Guides()

    @cached_property
    def cut(self) -> BarCut:
        """The cut that it makes of the bar as it lies; p and q positive where moving side and top go to the feed."""
        return BarCut(Cut(self.swing, self.tilt))

    @cached_property
    def plane(self) -> BladePlane | None:
        """The blade plane; None where it is not known where the swing axis stands and that matters."""
        axis, arm = self.saw.bed.swing_axis, self.saw.arm
        if axis is None and (arm is None or arm.stands_on_axis):
            return None
        return BladePlane.of(self.swing, self.tilt, axis or 0.0, self.saw.bed.blade_offset)

    @cached_property
    def extent(self) -> tuple[float, float] | None:
        """From u to u of the face along the blade, mm; None without a swing axis."""
        if self.plane is None or self.saw.bed.swing_axis is None:
            return None
        short, far = self._face
        return (self.plane.u0 - short, self.plane.u0 + far)

    @cached_property
    def _face(self) -> tuple[float, float]:
        """How far the face reaches along the blade to either side of the bar's corner at the fixed jaw, mm."""
        plane, region = self.plane or BladePlane.of(self.swing, self.tilt, 0.0, 0.0), self.section.region
        return region.support(-plane.uy, -plane.uz), region.support(plane.uy, plane.uz)

    @cached_property
    def _beside(self) -> float:
        """What a guide needs beside the face along the blade, mm: half its thickness and the clearance."""
        m = radians(self.swing)
        return self.guides.half_thickness * abs(tan(m)) + self.guides.clearance / cos(m)

    @property
    def guide_opening(self) -> float | None:
        """The least gap between the guides, mm."""
        if self.saw.guides is None:
            return None
        short, far = self._face
        return far + short + 2 * self._beside

    @property
    def fixed_guide_most(self) -> float | None:
        """The largest u at which the fixed guide is clear of the bar, mm."""
        if self.extent is None or self.saw.guides is None or self.saw.guides.fixed_u is None:
            return None
        return self.extent[0] - self._beside

    @property
    def guide_setting(self) -> float | None:
        """How far from the fixed guide the moving one is set, mm; the least gap where both move."""
        if self.saw.guides is None or self.saw.guides.fixed_u is None:
            return self.guide_opening
        return None if self.extent is None else self.extent[1] + self._beside - self.saw.guides.fixed_u

    @cached_property
    def set_backs(self) -> dict[str, float]:
        """How far from the square cut line the edge of each obstacle must stand, mm."""
        axis = self.saw.bed.swing_axis
        if axis is None:
            return {}
        offset = self.saw.bed.blade_offset * (1 / cos(radians(self.swing)) - 1)
        beside = self.cut.kerf_along(max(self.saw.kerf / 2, self.guides.half_thickness))
        return {
            obstacle.name: self._over(obstacle, axis, offset) + beside + self.guides.clearance
            for obstacle in self.saw.obstacles
        }

    def _over(self, obstacle: Obstacle, axis: float, offset: float) -> float:
        """The furthest reach of the middle of the blade over a block toward its side, mm.

        Where the blade swings away from the block it is less than 0: the block may stand past the line.
        """
        toward, p, q = 1.0 if obstacle.side == "feed" else -1.0, self.cut.p, self.cut.q
        heights = (0.0, self.height_of(obstacle))
        return max([toward * (p * (y - axis) + q * z + offset) for y in self.across(obstacle) for z in heights])

    def across(self, obstacle: Obstacle) -> tuple[float, float]:
        """From y to y of an obstacle, mm."""
        width = self.section.width
        spans = {"moving-jaw": (width, width + obstacle.depth), "fixed-jaw": (-obstacle.depth, 0.0)}
        return spans.get(obstacle.stands, (0.0, obstacle.depth))

    def height_of(self, obstacle: Obstacle) -> float:
        """Height of an obstacle, mm; as high as the bar where the file does not say."""
        return self.section.height if obstacle.height is None else obstacle.height

    @cached_property
    def hinge_room(self) -> tuple[float, float] | None:
        """How near to the hinge the bar comes along the blade, and how near it may, mm; None on a column."""
        arm = self.saw.arm
        if arm is None or self.plane is None:
            return None
        return arm.room(self.section.region, self.plane, self.guides.clearance)

    @cached_property
    def passage(self) -> Passage | None:
        """The blade's way through the section; None where the file has no arm, or the bar lies in the hinge."""
        if self.saw.arm is None or self.plane is None:
            return None
        room = self.hinge_room
        return None if room and room[0] <= room[1] else _passage(self.section.region, self.plane, self.saw.arm)

    @cached_property
    def arm_lift(self) -> float | None:
        """The position of the arm at which its edge clears the section, degrees or mm above rest."""
        if self.passage is None:
            return None
        way = self.passage
        return turning_point(way.arm, way.plane, self.section.support_point, 1, self.guides.clearance)

    @property
    def stop_height(self) -> float | None:
        """Height of the edge above the bed with the arm so lifted, where that is measured, mm."""
        if self.arm_lift is None or self.saw.arm is None or self.plane is None:
            return None
        return self.saw.arm.height(self.arm_lift, self.saw.arm.stop) / self.plane.vz

    @cached_property
    def thinnest_wall(self) -> float | None:
        """The thinnest wall on the blade over its travel, mm."""
        return None if self.passage is None else _thinnest_wall(self.passage)

    @cached_property
    def minutes(self) -> float | None:
        """How long the cut takes by the shop's own rates."""
        if self.passage is None:
            return None
        return _minutes(self.passage, self.saw.blade.area_rate, self.saw.blade.descent)


_PASSAGES: Final = 512
"""Ways of the blade that are kept: a job makes the same cut in the same section for many marks."""


@lru_cache(maxsize=_PASSAGES)
def _passage(region: Region, plane: BladePlane, arm: BladeArm) -> Passage:
    return Passage(region, plane, arm)


@lru_cache(maxsize=_PASSAGES)
def _thinnest_wall(passage: Passage) -> float:
    return thinnest_wall(passage)


@lru_cache(maxsize=_PASSAGES)
def _minutes(passage: Passage, area_rate: float | None, descent: float | None) -> float | None:
    return passage.minutes(area_rate, descent)
