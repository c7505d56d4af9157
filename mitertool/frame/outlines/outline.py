"""What a frame of few sizes is made of: measured corners, or bars that lie by themselves, and what is put inside."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import attrs

from mitertool.base.errors import BadInput
from mitertool.frame.assembly import Assembly, Closure, Resolution, marked, rounded
from mitertool.frame.closure import Move
from mitertool.frame.in_plane import planar
from mitertool.frame.in_space import Named
from mitertool.frame.inside import Fill, filled, opening_of
from mitertool.frame.inside.cells import Cell
from mitertool.frame.joints import Joint
from mitertool.piece import Piece
from mitertool.quantity.keys import Key, Rule, Values
from mitertool.quantity.problem import Remark
from mitertool.sections import Section
from mitertool.words import phrase


@attrs.frozen
class Drawn:
    """What the sizes of a frame make, mm.

    `corners` are those of the measured lines in walking order, clockwise, `roles[i]` the number of the section that
    side i has where there is one a role. `bends` are the sides that go on into the next at so flat an angle that one
    word for all corners does not mean theirs: they are mitered. Without corners the frame is the `bars`, each with the
    place where it lies, around a clear `opening`. `fills` come before those that the frame is given besides.
    """

    corners: tuple[complex, ...] = ()
    roles: tuple[int, ...] = ()
    bends: tuple[int, ...] = ()
    bars: tuple[tuple[Piece, Move], ...] = ()
    opening: Cell | None = None
    fills: tuple[Fill, ...] = ()
    notes: tuple[Remark, ...] = ()


@attrs.frozen
class Outline:
    """A frame of few sizes: the `keys` that give them, and what they make with a section a role.

    `roles` names what there may be a section for; where there are `corners` the frame is a ring of mitered or butted
    members, which `measured` and `corners` say more of. With `sized` an opening may give its width and height instead.
    """

    roles: tuple[str, ...]
    keys: Mapping[str, Key]
    drawn: Callable[[Values, Sequence[Section]], Drawn]
    ring: bool = True
    rules: tuple[Rule, ...] = ()
    sized: bool = False


def by_role(sections: Sequence[Section], roles: int) -> list[Section]:
    """A section for each role: one for all, or one each. Raises `BadInput` for another number."""
    if len(sections) not in (1, roles):
        found = phrase("found.sections", count=len(sections))
        raise BadInput("section", found, phrase("refuse.sections-by-role", count=roles))
    return [*sections] * (roles if len(sections) == 1 else 1)


def one_a_side(sections: Sequence[Section], roles: Sequence[int], count: int) -> list[Section]:
    """A section for each side: by their roles, or one each where there are so many."""
    if len(sections) == len(roles) and len(sections) != count:
        return list(sections)
    each = by_role(sections, count)
    return [each[role] for role in roles]


@attrs.frozen
class Around:
    """How the members of a ring meet: a section a side, the line that is measured, and a joint a corner."""

    sections: Sequence[Section]
    measured: str
    joints: Sequence[Joint]


def solved(shape: str, drawn: Drawn, around: Around | None, named: Named, fills: Sequence[Fill] = ()) -> Assembly:
    """The frame that sizes made, with what is put inside; `around` where it is a ring."""
    mark, resolution = named.mark, named.resolution
    if around:
        how = (around.sections, around.measured, around.joints)
        made = planar(shape, drawn.corners, *how, mark=mark, resolution=resolution)
    else:
        made = _by_themselves(shape, drawn, mark, resolution)
    made = attrs.evolve(made, notes=(*made.notes, *drawn.notes))
    inside = (*drawn.fills, *fills)
    if not inside:
        return made
    return filled(made, drawn.opening or opening_of(made), inside, resolution)


def _by_themselves(shape: str, drawn: Drawn, mark: str, resolution: Resolution) -> Assembly:
    """Bars that no corner joins; all that reading leaves of them is their length."""
    pieces = [piece for piece, _ in drawn.bars]
    members, order = marked(mark, pieces)
    off = max((abs(rounded(piece, resolution).long_point - piece.long_point) for piece in pieces), default=0.0)
    places = tuple(place for _, place in drawn.bars)
    return Assembly(mark, shape, members, order, Closure(0.0, 0.0, off), (), places)
