"""Pieces put together into a frame, and the proof that they close; knows pieces, joints and closure.

The frame is walked clockwise seen from above with its outside on the left, the moving side of every piece; the
left end of each piece meets the right end of the one before it.
"""

from __future__ import annotations

from cmath import phase
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from math import atan, ceil, degrees, floor, hypot, radians, tan

import attrs

from mitertool.base.shown import Shown
from mitertool.base.tolerances import COINCIDENT, CROSSING, SAME_SLOPE
from mitertool.cut import Cut
from mitertool.frame.closure import OPEN, InPlan, Move, largest_step, misfit, placed
from mitertool.frame.facts import Fact
from mitertool.frame.joints import Joint
from mitertool.frame.rings import Ring
from mitertool.geometry.saddle import Saddle
from mitertool.piece import Piece
from mitertool.piece.piece import given, length_roof, same_ends
from mitertool.piece.poses import POSES, EndCuts
from mitertool.quantity.problem import Remark


@attrs.frozen
class Resolution:
    """What the floor can read: the tape's length (mm) and the protractor's angle (degrees).

    `rolls`: a cut with a bevel is set by rolling the bar, so that its whole lean is one swing that the scale shows; the
    roll is taken as exact, as a tilt is where the blade tilts.
    """

    length: float = 0.5
    angle: float = 0.25
    rolls: bool = False


@attrs.frozen
class Closure:
    """Largest gap and overlap when the pieces are put back together, and what rounding alone leaves, mm.

    `rounded_as` is what that is, one of `frame.closure.LEFT_AS`: what stands open, or a step where nothing does.
    """

    gap: float
    overlap: float
    rounded_gap: float
    rounded_as: str = OPEN


@attrs.frozen
class Member:
    """A mark with the number of its pieces in one frame, and their grade where that is not the frame's."""

    mark: str
    quantity: int
    piece: Piece
    grade: str | None = None


@attrs.frozen
class BarInside:
    """A bar inside a frame: its mark, what it is called ("uprights", "rails", "brace"), how it is turned to lie so.

    `pose` is that of its piece in the frame, `place` where it then lies, `start` the middle of its first end, x + iy,
    mm. `left` and `right` are the numbers of the members that its ends meet, from 0: those of the order first, then the
    bars inside.
    """

    mark: str
    called: str
    pose: str
    place: Move
    start: complex
    left: tuple[int, ...] = ()
    right: tuple[int, ...] = ()

    @property
    def way(self) -> float:
        """Which way it runs from its start, degrees from x, counter-clockwise."""
        return degrees(phase(self.place.turn))


@attrs.frozen
class Hole:
    """A hole in member number `host` of the order, `at` mm from where a side of its piece as drawn begins at the left.

    `side` is "fixed", the inner one, "moving", "bottom" or "top".
    """

    host: int
    side: str
    at: float


@attrs.frozen
class Cap:
    """A plate that closes the "left" or "right" `end` of member number `host` of the order, `thick` mm."""

    host: int
    end: str
    thick: float


@attrs.frozen(repr=False)
class Assembly(Shown):
    """A solved frame: its marked pieces, the marks around it in walking order, and how well it closes.

    `joints[i]` follows piece i of the order; an open frame has one less than pieces. `places[i]` is where piece i
    of the order lies in the plane of the frame. `notes` are sentences for the floor, such as where uprights stand;
    `facts` say which formulas the answer came from; `ring` is what was
    solved, None for a brace or infill. `running` is where each piece of an infill stands, from the first post to its
    near side along the rail, mm. `saddles` are the true edges of left ends that stand on a tube, by mark. `inside` are
    the bars within the frame; `outlines` and `edges` have them behind those of the order. `holes` are those of members
    of the order, `caps` the plates on their ends.
    """

    mark: str
    shape: str
    pieces: tuple[Member, ...]
    order: tuple[str, ...]
    closure: Closure
    joints: tuple[Joint, ...] = ()
    places: tuple[Move, ...] = ()
    notes: tuple[Remark, ...] = ()
    facts: tuple[Fact, ...] = ()
    ring: Ring | None = None
    saddles: tuple[tuple[str, Saddle], ...] = ()
    running: tuple[float, ...] = ()
    inside: tuple[BarInside, ...] = ()
    holes: tuple[Hole, ...] = ()
    caps: tuple[Cap, ...] = ()

    def side_length(self, host: int, side: str) -> float:
        """How long member number `host` is along a side, mm."""
        inner_start, outer_start, outer_end, inner_end = self.edges[host]
        inner, outer = abs(inner_end - inner_start), abs(outer_end - outer_start)
        return {"fixed": inner, "moving": outer}.get(side, (inner + outer) / 2)

    @property
    def every(self) -> tuple[str, ...]:
        """The mark of every piece that is drawn: those of the order, then the bars inside."""
        return (*self.order, *(bar.mark for bar in self.inside))

    @property
    def far_first(self) -> tuple[int, ...]:
        """The pieces as they are drawn, what hides others last."""
        return tuple(range(len(self.every)))

    @property
    def outside_up(self) -> tuple[str, ...]:
        """The marks that are drawn with the outside up, as plates of a hopper are."""
        return ()

    @property
    def in_plan(self) -> bool:
        """Whether `outlines` show the frame as it lies, in true size; else as it is seen from one side."""
        return True

    def __repr__(self) -> str:
        return f"<Assembly {self.mark}, {self.shape}: {', '.join(self.order)}; gap {self.closure.gap:.3f} mm>"

    @cached_property
    def outlines(self) -> tuple[tuple[complex, ...], ...]:
        """The corners of every piece of the order in the plane of the frame, tips among them, x + iy, mm."""
        return tuple((*left, *reversed(right)) for left, right in self._ends())

    @cached_property
    def edges(self) -> tuple[tuple[complex, complex, complex, complex], ...]:
        """Both edges of every piece of the order, the inner one from the first to the last, x + iy, mm.

        In the order of `outlines`: inner start, outer start, outer end, inner end.
        """
        return tuple((left[0], left[-1], right[-1], right[0]) for left, right in self._ends())

    @property
    def plates(self) -> tuple[tuple[complex, ...], ...]:
        """The corners of every plate on an end, as thick as it is square to that end, dressed flush, x + iy, mm."""
        return tuple(map(self._plate, self.caps))

    def _plate(self, cap: Cap) -> tuple[complex, ...]:
        inner_start, outer_start, outer_end, inner_end = self.edges[cap.host]
        inner, outer = (inner_start, outer_start) if cap.end == "left" else (inner_end, outer_end)
        along = (outer_end - outer_start) * (-1 if cap.end == "left" else 1)
        across = abs((along.conjugate() * (outer - inner)).imag) / abs(outer - inner)
        off = along * cap.thick / across
        return inner, outer, outer + off, inner + off

    def _ends(self) -> Iterator[tuple[tuple[complex, ...], tuple[complex, ...]]]:
        piece = {member.mark: member.piece for member in self.pieces}
        for one, move in self._lying(piece):
            left, right = (tuple(map(move, plan_end(one, end))) for end in ("left", "right"))
            yield left, right

    def _lying(self, piece: Mapping[str, Piece]) -> Iterator[tuple[Piece, Move]]:
        """Every piece as it is turned to lie, and where."""
        yield from ((piece[mark], move) for mark, move in zip(self.order, self.places, strict=True))
        yield from ((piece[bar.mark].posed(bar.pose), bar.place) for bar in self.inside)


def assemble(
    mark: str,
    shape: str,
    sides: Sequence[Piece],
    joints: Sequence[Joint],
    resolution: Resolution | None = None,
    first: Move | None = None,
) -> Assembly:
    """The frame of `sides` in walking order, closed where it has a joint for every side; equal sides share a mark.

    `first` is where the first side lies.
    """
    members, marks = marked(mark, sides)
    closure = proof(sides, joints, resolution or Resolution())
    places = placed([plan_of(side) for side in sides], joints, first or Move())
    return Assembly(mark, shape, members, marks, closure, tuple(joints), places)


def proof(sides: Sequence[Piece], joints: Sequence[Joint], resolution: Resolution) -> Closure:
    """How well pieces close: exact, and with long points and miters rounded to what the floor can read."""
    closed = len(joints) == len(sides)
    gap, overlap = misfit([plan_of(side) for side in sides], joints, closed)
    floor = [plan_of(rounded(side, resolution)) for side in sides]
    left = max(misfit(floor, joints, closed))
    step, where = largest_step(floor, joints)
    return Closure(gap, overlap, left, OPEN if step < left else where)


def plan_end(piece: Piece, end: str) -> tuple[complex, ...]:
    """The corners of an end in plan at the height of the bed, from the inside to the outside, its tips between them."""
    width, roof = piece.section.width, piece.end_roof(end)
    ys = [0.0, *(y for y in roof.ridges_at(0.0) if 0 < y < width), width]
    return tuple(complex(piece.s + out if end == "right" else -out, y) for y in ys for out in (roof.at(y, 0.0),))


def plan_of(piece: Piece) -> InPlan:
    """A piece with one cut an end as the plane of the frame shows it."""
    return InPlan(piece.section.width, piece.s, piece.left.p, piece.right.p)


def rounded(piece: Piece, resolution: Resolution) -> Piece:
    """A piece as the floor can set it: its long point and its miters rounded."""
    most = ceil(90 / resolution.angle) - 1  # the last reading below 90: a blade along the bar makes no cut

    def shown(angle: float) -> float:
        return min(max(round(angle / resolution.angle), -most), most) * resolution.angle

    def to_scale(cut: Cut) -> Cut:
        if not resolution.rolls or abs(cut.q) <= SAME_SLOPE:
            return Cut(shown(cut.miter), cut.bevel)
        lean = hypot(cut.p, cut.q)
        share = tan(radians(shown(degrees(atan(lean))))) / lean
        return Cut.from_slopes(cut.p * share, cut.q * share)

    def end(cuts: EndCuts) -> EndCuts:
        first, further = cuts
        return to_scale(first), tuple(attrs.evolve(one, cut=to_scale(one.cut)) for one in further)

    left, right, section = end(piece.end("left")), end(piece.end("right")), piece.section
    length = round(piece.long_point / resolution.length) * resolution.length
    shape = length_roof(section, left, right)
    pointed = shape.highest - shape.lowest  # a piece cannot be shorter than pointed
    return Piece(section, max(length, pointed), given(left), given(right))


def marked(mark: str, pieces: Sequence[Piece], within: float = CROSSING) -> tuple[tuple[Member, ...], tuple[str, ...]]:
    """The members that pieces make, and the mark of each piece in their order.

    Pieces of one section with the same ends, whose lengths differ by less than `within` mm, share a mark.
    """
    kinds: list[Piece] = []
    which: list[int] = []
    as_long: dict[int, list[int]] = {}
    for piece in pieces:
        cell = floor(piece.centerline / (2 * within))  # pieces as long stand in one cell or in two that touch
        near = (i for at in (cell - 1, cell, cell + 1) for i in as_long.get(at, ()))
        match = min((i for i in near if _alike(kinds[i], piece, within)), default=len(kinds))
        if match == len(kinds):
            kinds.append(piece)
            as_long.setdefault(cell, []).append(match)
        which.append(match)
    many = Counter(which)
    members = tuple(Member(f"{mark}-{i + 1}", many[i], kind) for i, kind in enumerate(kinds))
    return members, tuple(members[i].mark for i in which)


def joined(
    assembly: Assembly, bars: Sequence[tuple[Piece, str | None]], within: float = COINCIDENT
) -> tuple[tuple[Member, ...], tuple[str, ...], tuple[str, ...]]:
    """The members of a frame with some bars more, each with its grade; the mark and the pose of each bar.

    A bar goes by the mark of a piece that it is, laid another way where its section allows that.
    """
    kinds = list(assembly.pieces)
    marks, poses = [], []
    for piece, grade in bars:
        known = ((i, pose) for i, kind in enumerate(kinds) for pose in _lies_as(kind, piece, grade, within))
        which, pose = next(known, (len(kinds), POSES[0]))
        if which == len(kinds):
            kinds.append(Member(f"{assembly.mark}-{which + 1}", 0, piece, grade))
        kinds[which] = attrs.evolve(kinds[which], quantity=kinds[which].quantity + 1)
        marks.append(kinds[which].mark)
        poses.append(pose)
    return tuple(kinds), tuple(marks), tuple(poses)


def _lies_as(kind: Member, piece: Piece, grade: str | None, within: float) -> Iterator[str]:
    """The poses in which the piece of a member is this one."""
    alike = kind.grade == grade and kind.piece.section == piece.section
    if alike and abs(kind.piece.centerline - piece.centerline) < within:
        yield from (pose for pose in kind.piece.poses if _alike(kind.piece.posed(pose), piece, within))


def _alike(one: Piece, other: Piece, within: float) -> bool:
    return one.section == other.section and abs(one.centerline - other.centerline) < within and same_ends(one, other)
