"""Members around the corners of their outer edges, closed into a ring or left open; knows joints and pieces."""

from __future__ import annotations

import itertools
from cmath import phase
from collections.abc import Iterator
from functools import cached_property
from math import atan, degrees

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut import Cut
from mitertool.frame.corners import corner
from mitertool.frame.facts import Fact, fact
from mitertool.frame.joints import FIRST_THROUGH, MITER, End, Joint, ends
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section
from mitertool.words import phrase


@attrs.frozen
class Ring:
    """A planar frame to be solved, walked clockwise with its outside on the left.

    `corners` are the corners of the outer edges (x + iy, mm), `sections` one a side as it lies, `joints` one a corner
    that two sides share: for a closed ring the last joins the last side to the first. `turned` says that the sides
    were given the other way round, which is how they are numbered for a person.
    """

    corners: tuple[complex, ...]
    sections: tuple[Section, ...]
    joints: tuple[Joint, ...]
    closed: bool = True
    turned: bool = False

    def number(self, i: int) -> int:
        """Which of the sides as they were given side i is, from 1."""
        return len(self.sections) - i if self.turned else i + 1

    @cached_property
    def sides(self) -> tuple[complex, ...]:
        """Each side's outer edge as a vector."""
        points = (*self.corners, self.corners[0]) if self.closed else self.corners
        return tuple(b - a for a, b in itertools.pairwise(points))

    def angle(self, i: int) -> float:
        """The angle inside the frame at the joint after side i, degrees, from 0 to 360."""
        sides = self.sides
        return 180 + degrees(phase(sides[(i + 1) % len(sides)] / sides[i]))


def solve(ring: Ring, deduct: tuple[float, float] = (0.0, 0.0)) -> tuple[Piece, ...]:
    """The pieces of a ring in walking order; `deduct` (mm) is taken off the two free ends of an open one.

    Raises `BadInput` naming the side for a corner that is none, or a side too short for its cuts.
    """
    return tuple(
        _piece(ring.sections[i], outer, left, right, ring.number(i))
        for i, (outer, left, right) in enumerate(_sides(ring, deduct))
    )


def start(ring: Ring, deduct: tuple[float, float] = (0.0, 0.0)) -> complex:
    """Where the outer edge of the first piece begins, in the place of the corners, mm."""
    outer, left, _ = next(_sides(ring, deduct))
    return ring.corners[0] + ring.sides[0] / outer * left.back


def _sides(ring: Ring, deduct: tuple[float, float]) -> Iterator[tuple[float, End, End]]:
    """The outer edge of every side from corner to corner, mm, and its left and right end."""
    meets = [_at_joint(ring, i) for i in range(len(ring.joints))]
    for i, side in enumerate(ring.sides):
        left = meets[i - 1][1] if ring.closed or i else End(0.0, deduct[0])
        right = meets[i][0] if i < len(meets) else End(0.0, deduct[1])
        yield abs(side), left, right


def _at_joint(ring: Ring, i: int) -> tuple[End, End]:
    a, b = ring.sections[i].width, ring.sections[(i + 1) % len(ring.sections)].width
    try:
        return ends(a, b, ring.angle(i), ring.joints[i])
    except BadInput as error:
        after = (i + 1) % len(ring.sections) if ring.turned else i
        raise error.at(phrase("where.corner-after", side=ring.number(after))) from None


def _piece(section: Section, outer: float, left: End, right: End, number: int) -> Piece:
    length = outer - left.back - right.back
    try:
        if length <= 0:
            short = Remark("refuse.short-side", lengths(side=outer))
            raise BadInput("length", Remark("found.length", lengths(length=length)), short)
        return Piece(section, length, _cut(left), _cut(right), at="moving-bottom")
    except BadInput as error:
        raise error.at(phrase("where.side", side=number)) from None


def _cut(end: End) -> Cut:
    return Cut(degrees(atan(end.p)) if abs(end.p) > SAME_SLOPE else 0.0)


def facts(ring: Ring, deduct: tuple[float, float] = (0.0, 0.0)) -> tuple[Fact, ...]:
    """How the miters and lengths of a solved ring came about: every corner, then every side, each once."""
    found = [one for i in range(len(ring.joints)) for one in _corner_facts(ring, i)]
    found += [fact("side-length", E=outer, ul=left.back, ur=right.back) for outer, left, right in _sides(ring, deduct)]
    return tuple(dict.fromkeys(found))


def _corner_facts(ring: Ring, i: int) -> list[Fact]:
    joint, angle = ring.joints[i], ring.angle(i)
    a, b = ring.sections[i].width, ring.sections[(i + 1) % len(ring.sections)].width
    if joint.kind != MITER:
        back = a if joint.kind == FIRST_THROUGH else b
        return [fact("butted", W=back, g=joint.off, S=angle)]
    solved = corner(a, b, angle)
    seam = 90 - solved.miter_a
    found = [
        fact("seam-angle", Wa=a, Wb=b, S=angle),
        fact("miter-first", d=seam),
        fact("miter-second", S=angle, d=seam),
    ]
    if joint.gap:
        found += [fact("set-back", g=joint.gap, m=miter) for miter in (solved.miter_a, solved.miter_b)]
    return found
