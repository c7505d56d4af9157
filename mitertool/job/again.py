"""A piece that is cut already, recut to another: where that lies in it, and which of its ends stay; knows piece.

Both lie on one axis, the old one's left end at 0. Where the new one begins at t, its left plane lies at
t - p*y - q*z and its right plane at t + s + p*y + q*z; neither may lie outside the old planes anywhere in the steel. An
end stays where its plane is the old one's; one that is cut anew takes a whole kerf everywhere, since a blade that is
half out of the steel wanders: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from mitertool.bar import BarCut
from mitertool.cut import Cut
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END, TURNED
from mitertool.quantity.compare import longer, same_length


@attrs.frozen
class Again:
    """How a piece lies in one that is cut already: in which pose, which of its ends are cut anew, as it is drawn.

    Of two such ends the first is the one at the old piece's left end. `off` is what comes off the old piece on the
    centerline, mm, at the old piece's left and right end, and `ends` is how the new piece's cuts stand there.
    """

    pose: str
    cut_anew: tuple[str, ...]
    off: tuple[float, float]
    ends: tuple[Cut, Cut]

    @property
    def cuts(self) -> int:
        """How many cuts it takes."""
        return len(self.cut_anew)


def again(old: Piece, new: Piece, kerf: float) -> tuple[Again, ...]:
    """Every recut of one piece to another, fewest cuts first; none where it does not come out of it."""
    if old.section.name != new.section.name or old.further or new.further:
        return ()
    found = (one for pose in new.poses for one in _lying(old, new.posed(pose), pose, kerf))
    return tuple(sorted(found, key=lambda one: one.cuts))


def _lying(old: Piece, new: Piece, pose: str, kerf: float) -> Iterator[Again]:
    """The ways in which a piece so laid comes out of the old one."""
    if not old.section.looks_like(new.section):
        return
    room = old.s - new.s
    left = _needs(old, new.left, old.left, kerf)
    right = _needs(old, new.right, old.right, kerf)
    same_left, same_right = BarCut(old.left).parallel(BarCut(new.left)), BarCut(old.right).parallel(BarCut(new.right))
    if same_left and same_right and same_length(old.s, new.s):
        yield _again(old, new, pose, (), 0.0)
    if same_left and not longer(right, room):
        yield _again(old, new, pose, ("right",), 0.0)
    if same_right and not longer(left, room):
        yield _again(old, new, pose, ("left",), room)
    if not longer(left + right, room):
        yield _again(old, new, pose, ("left", "right"), left)


def _again(old: Piece, new: Piece, pose: str, anew: tuple[str, ...], t: float) -> Again:
    """What comes off is told where the centerline passes the planes."""
    y, z = old.section.width / 2, old.section.height / 2
    left = t - (new.left.p - old.left.p) * y - (new.left.q - old.left.q) * z
    right = old.centerline - new.centerline - left
    drawn = tuple(OTHER_END[end] for end in anew) if pose in TURNED else anew
    return Again(pose, drawn, (left, right), (new.left, new.right))


def _needs(old: Piece, cut: Cut, before: Cut, kerf: float) -> float:
    """How far within the old end, at (0, 0), a new plane must begin so that a whole kerf comes off everywhere."""
    return old.section.support(cut.p - before.p, cut.q - before.q) + cut.kerf_along(kerf)
