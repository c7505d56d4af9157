"""A length of bar with a left and a right cut; knows cut and sections.

Every length is L(y, z) = s + (p_l + p_r)*y + (q_l + q_r)*z, the length of the line at (y, z), at a place or at
its largest or smallest over the material.
"""

from __future__ import annotations

from functools import cached_property
from math import isfinite
from typing import Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CROSSING
from mitertool.cut import Cut
from mitertool.piece.poses import POSES, allowed, posed
from mitertool.sections import Section

AT: Final = (
    *("long-point", "short-point", "centerline", "overall"),
    *("fixed-bottom", "fixed-top", "moving-bottom", "moving-top"),
)
"""What a length may be measured on."""


@attrs.frozen
class Edges:
    """Lengths at the four edges of the section's bounding box, mm, material there or not."""

    fixed_bottom: float
    fixed_top: float
    moving_bottom: float
    moving_top: float


@attrs.frozen
class Piece:
    """A piece of `section` whose `length` (mm) is measured `at` one of `AT`, with its two cuts.

    Raises `BadInput` where the length is no length, `at` is no place, or the cuts cross in the material. A short
    point of exactly 0 is a pointed piece and legal.
    """

    section: Section
    length: float
    left: Cut = Cut()
    right: Cut = Cut()
    at: str = "long-point"

    def __attrs_post_init__(self) -> None:
        if self.at not in AT:
            raise BadInput("at", self.at, f"allowed: {', '.join(AT)}")
        if not (isinstance(self.length, int | float) and isfinite(self.length) and self.length >= 0):
            raise BadInput("length", self.length, "a length must be a number of mm, 0 or more")
        if self.short_point < -CROSSING:
            raise BadInput(
                f"length at {self.at}",
                f"{self.length:g} mm",
                f"the two cuts cross inside the section, {-self.short_point:.4g} mm past a pointed piece; "
                f"allowed here: {self.length - self.short_point:.6g} mm or more",
            )
        if self.long_point <= CROSSING:
            raise BadInput("length", f"{self.length:g} mm", "nothing is left between the cuts")

    @cached_property
    def p(self) -> float:
        """Change of length for 1 mm across the bed."""
        return self.left.p + self.right.p

    @cached_property
    def q(self) -> float:
        """Change of length for 1 mm above the bed."""
        return self.left.q + self.right.q

    @cached_property
    def s(self) -> float:
        """L(0, 0), the length of the line at the lower edge on the fixed side, material there or not, mm."""
        return self.length - self._offset(self.at)

    def _offset(self, at: str) -> float:
        """What the length at a place has over s, mm."""
        section = self.section
        if at == "long-point":
            return section.support(self.p, self.q)
        if at == "short-point":
            return -section.support(-self.p, -self.q)
        if at == "overall":
            return section.support(self.left.p, self.left.q) + section.support(self.right.p, self.right.q)
        if at == "centerline":
            return self.p * section.width / 2 + self.q * section.height / 2
        side, level = at.split("-")
        return self.p * section.width * (side == "moving") + self.q * section.height * (level == "top")

    def length_at(self, y: float, z: float) -> float:
        """L(y, z), the length of the line at (y, z), mm."""
        return self.s + self.p * y + self.q * z

    @cached_property
    def long_point(self) -> float:
        """Length of the longest line of material, mm."""
        return self.s + self._offset("long-point")

    @cached_property
    def short_point(self) -> float:
        """Length of the shortest line of material, mm."""
        return self.s + self._offset("short-point")

    @cached_property
    def centerline(self) -> float:
        """Length at the middle of the bounding box, mm."""
        return self.s + self._offset("centerline")

    @cached_property
    def overall(self) -> float:
        """Tip to tip, mm."""
        return self.s + self._offset("overall")

    @property
    def edges(self) -> Edges:
        """Lengths at the four edges of the bounding box, mm."""
        return Edges(
            *(self.s + self._offset(at) for at in ("fixed-bottom", "fixed-top", "moving-bottom", "moving-top"))
        )

    @property
    def volume(self) -> float:
        """Volume of material, mm3: the area times the length at the centroid."""
        return self.section.area * self.length_at(*self.section.centroid)

    @property
    def mass(self) -> float:
        """Mass, kg."""
        return self.volume * self.section.density * 1e-9

    @property
    def poses(self) -> tuple[str, ...]:
        """The ways the piece may lie on a bar: those that leave its section as it is."""
        return tuple(pose for pose in POSES if allowed(pose, self.section.symmetry))

    def posed(self, pose: str) -> Self:
        """The piece as it lies in a pose; its section and its centerline stay. Raises `BadInput` if not allowed."""
        if pose not in self.poses:
            raise BadInput("pose", pose, f"{self.section.name} as it lies allows {', '.join(self.poses)}")
        left, right = posed(pose, self.left, self.right)
        return type(self)(self.section, self.centerline, left, right, at="centerline")

    def opposite_hand(self) -> Self:
        """The mirror image end for end: the two cuts change places, the section lies as before."""
        return type(self)(self.section, self.centerline, self.right, self.left, at="centerline")

    @property
    def is_own_opposite(self) -> bool:
        """Whether the opposite hand is the same piece, laid another way."""
        other = self.opposite_hand()
        return any(_same_cuts(self.posed(pose), other) for pose in self.poses)


def _same_cuts(one: Piece, other: Piece) -> bool:
    pairs = ((one.left, other.left), (one.right, other.right))
    return all(abs(a.p - b.p) + abs(a.q - b.q) < CROSSING for a, b in pairs)
