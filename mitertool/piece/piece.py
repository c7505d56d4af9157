"""A length of bar with a left and a right cut, or with more than one at an end; knows cut and sections.

Every length is L(y, z), the length of the line at (y, z), at a place or at its largest or smallest over the material.
With one cut an end it is s + (p_l + p_r)*y + (q_l + q_r)*z; with more the least of all pairs of a left and a right one.
"""

from __future__ import annotations

from cmath import phase
from functools import cached_property
from itertools import product
from math import degrees, isfinite
from typing import Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.shown import Shown
from mitertool.base.tolerances import COINCIDENT, CROSSING, SAME_SLOPE
from mitertool.cut import Cut
from mitertool.cut.ends import End, Further, end_of, end_roof
from mitertool.geometry import Point
from mitertool.geometry.roof import Roof, Slant
from mitertool.piece.poses import OTHER_END, POSES, EndCuts, allowed, posed
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section
from mitertool.words import phrase

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


@attrs.frozen(init=False, repr=False)
class Piece(Shown):
    """A piece of `section` whose `length` (mm) is measured `at` one of `AT`, with its two cuts.

    An end may be given as some cuts, each further one a `Cut` or a `Further` that says where it meets the first: the
    steel is what lies inside all of them. The first of an end is `left` or `right` and parts the bar, the others are
    `left_further` and `right_further` and are cut on the piece. Raises `BadInput` where the length is no length, `at`
    is no place, a cut leaves no face, or the cuts of both ends cross in the material. A short point of exactly 0 is a
    pointed piece and legal.

    >>> mt.Piece(mt.flat(80, 12), 1200, left=mt.Cut(45), right=mt.Cut(45)).short_point
    1040.0
    """

    section: Section
    length: float
    left: Cut
    right: Cut
    at: str
    left_further: tuple[Further, ...]
    right_further: tuple[Further, ...]

    def __init__(
        self, section: Section, length: float, left: End = Cut(), right: End = Cut(), at: str = "long-point"
    ) -> None:
        one, more = end_of(left, section, "left")
        other, most = end_of(right, section, "right")
        self.__attrs_init__(section, length, one, other, at, more, most)

    def __attrs_post_init__(self) -> None:
        if self.at not in AT:
            raise BadInput("at", self.at, among(AT))
        if not (isinstance(self.length, int | float) and isfinite(self.length) and self.length >= 0):
            raise BadInput("length", self.length, phrase("refuse.length"))
        if self.short_point < -CROSSING:
            raise BadInput(
                phrase("what.length-at", at=self.at),
                Remark("found.length", lengths(length=self.length)),
                Remark(
                    "refuse.crossed",
                    lengths(past=-self.short_point, least=self.length - self.short_point),
                    "ends" if self.further else "cuts",
                ),
            )
        if self.long_point <= CROSSING:
            raise BadInput("length", Remark("found.length", lengths(length=self.length)), phrase("refuse.nothing-left"))

    def __repr__(self) -> str:
        left, right = (" and ".join(f"{cut.miter:g}/{cut.bevel:g}" for cut in self.cuts(end)) for end in OTHER_END)
        return f"<Piece {self.section.name}: long point {self.long_point:g} mm, left {left}, right {right}>"

    @cached_property
    def p(self) -> float:
        """Change of length between the first cuts of both ends for 1 mm across the bed."""
        return self.left.p + self.right.p

    @cached_property
    def q(self) -> float:
        """Change of length between the first cuts of both ends for 1 mm above the bed."""
        return self.left.q + self.right.q

    @cached_property
    def s(self) -> float:
        """Length between the first cuts at the lower edge on the fixed side, material there or not, mm.

        With one cut an end it is L(0, 0).
        """
        return self.length - self._offset(self.at)

    @property
    def further(self) -> tuple[Further, ...]:
        """The cuts that are made on the piece when it is parted, those of the left end first."""
        return (*self.left_further, *self.right_further)

    @property
    def beveled(self) -> bool:
        """Whether any cut has a bevel."""
        return any(cut.bevel for end in OTHER_END for cut in self.cuts(end))

    def cuts(self, end: str) -> tuple[Cut, ...]:
        """All cuts of the "left" or "right" end, the one that parts the bar first."""
        first, further = self.end(end)
        return (first, *(one.cut for one in further))

    def end(self, end: str) -> EndCuts:
        """The first cut of the "left" or "right" end and the further ones."""
        return (self.left, self.left_further) if end == "left" else (self.right, self.right_further)

    def end_roof(self, end: str) -> Roof:
        """How far the "left" or "right" end stands out over the material, beyond its first plane at (0, 0)."""
        return end_roof(self.section, *self.end(end))

    @cached_property
    def _roof(self) -> Roof:
        """What the length at a place has over s."""
        return length_roof(self.section, self.end("left"), self.end("right"))

    def _offset(self, at: str) -> float:
        """What the length at a place has over s, mm."""
        section, roof = self.section, self._roof
        if at == "long-point":
            return roof.highest
        if at == "short-point":
            return roof.lowest
        if at == "overall":
            return self.end_roof("left").highest + self.end_roof("right").highest
        if at == "centerline":
            return roof.at(section.width / 2, section.height / 2)
        side, level = at.split("-")
        return roof.at(section.width * (side == "moving"), section.height * (level == "top"))

    @property
    def long_place(self) -> Point:
        """(y, z) of the longest line of material."""
        return self._roof.highest_point

    @property
    def short_place(self) -> Point:
        """(y, z) of the shortest line of material."""
        return self._roof.lowest_point

    @property
    def turn(self) -> float:
        """From the left end's long point to the right end's about the bar's axis, degrees, -180 to 180.

        Clockwise seen from the left end; 0 where both lie on one side, or an end is cut square.
        """
        left, right = complex(self.left.p, self.left.q), complex(self.right.p, self.right.q)
        if min(abs(left), abs(right)) <= SAME_SLOPE:
            return 0.0
        return degrees(phase(right / left))

    def length_at(self, y: float, z: float) -> float:
        """L(y, z), the length of the line at (y, z), mm."""
        return self._roof.at(y, z, self.s)

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
        """Volume of material, mm3: for each pair of cuts its area times the length at the centroid of that."""
        return self._roof.volume(self.s)

    @property
    def mass(self) -> float:
        """Mass of the material as drawn, kg."""
        return self.volume * self.section.density * 1e-9

    @property
    def nominal_mass(self) -> float:
        """What it is lifted as, kg: its mass with a bar of the section's nominal mass."""
        return self.mass * self.section.nominal_mass_per_metre / self.section.mass_per_metre

    @property
    def poses(self) -> tuple[str, ...]:
        """The ways the piece may lie on a bar: those that leave its section as it is."""
        return tuple(pose for pose in POSES if allowed(pose, self.section.symmetry))

    def posed(self, pose: str) -> Self:
        """The piece as it lies in a pose; its section and its centerline stay. Raises `BadInput` if not allowed."""
        if pose not in self.poses:
            raise BadInput("pose", pose, phrase("refuse.pose", section=self.section.name, poses=", ".join(self.poses)))
        if pose not in self._posed:
            left, right = posed(pose, self.end("left"), self.end("right"), self.section)
            self._posed[pose] = self._with(left, right)
        return self._posed[pose]

    @cached_property
    def _posed(self) -> dict[str, Self]:
        """The poses that were asked for."""
        return {}

    def opposite_hand(self) -> Self:
        """The mirror image end for end: the cuts of both ends change places, the section lies as before."""
        return self._with(self.end("right"), self.end("left"))

    def of_centerline(self, length: float) -> Self:
        """The same cuts on a piece that is so long on its centerline, mm."""
        return self._with(self.end("left"), self.end("right"), length)

    @cached_property
    def blank(self) -> Piece:
        """What is parted from the bar: the piece with the first cut of either end only. It holds all of the piece."""
        return Piece(self.section, self.s, self.left, self.right, at="fixed-bottom") if self.further else self

    def _with(self, left: EndCuts, right: EndCuts, length: float | None = None) -> Self:
        measured = self.centerline if length is None else length
        return type(self)(self.section, measured, given(left), given(right), at="centerline")

    @property
    def is_own_opposite(self) -> bool:
        """Whether the opposite hand is the same piece, laid another way: a round one rolled by as much as it takes."""
        if self.section.shape.round and not self.further:
            return abs(self.left.p * self.right.q - self.left.q * self.right.p) <= SAME_SLOPE
        other = self.opposite_hand()
        return any(same_ends(self.posed(pose), other) for pose in self.poses)


def length_roof(section: Section, left: EndCuts, right: EndCuts) -> Roof:
    """What the lengths of pieces with these ends have over the length between their first cuts at (0, 0)."""
    if not (left[1] or right[1]):
        whole = Slant(left[0].p, left[0].q).plus(Slant(right[0].p, right[0].q))
        return Roof(section.region, (whole,))
    ends = (end_roof(section, *end).slants for end in (left, right))
    return Roof(section.region, tuple(one.plus(other) for one, other in product(*ends)))


def given(end: EndCuts) -> End:
    """The cuts of an end as a piece is given them."""
    first, further = end
    return (first, *further) if further else first


def same_ends(one: Piece, other: Piece) -> bool:
    """Whether two pieces of one section have the same planes at their ends, in whatever order."""
    return all(_same_roof(one.end_roof(end), other.end_roof(end)) for end in ("left", "right"))


def _same_roof(one: Roof, other: Roof) -> bool:
    """Whether every plane of one end is one of the other's, both seen from the middle of the section."""
    y, z = (size / 2 for size in one.region.bounds[2:])
    mine, theirs = ([Slant(s.p, s.q, s.at(y, z) - roof.at(y, z)) for s in roof.slants] for roof in (one, other))
    pairs = ((mine, theirs), (theirs, mine))
    return all(any(_alike(a, b) for b in some) for every, some in pairs for a in every)


def _alike(one: Slant, other: Slant) -> bool:
    return abs(one.p - other.p) + abs(one.q - other.q) < CROSSING and abs(one.o - other.o) < COINCIDENT
