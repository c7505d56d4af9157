"""Fillings put into a frame one after another, each bar stopping on what stands there before; knows assemblies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CLOSES
from mitertool.frame.assembly import Assembly, BarInside, Closure, Member, Resolution, joined, rounded
from mitertool.frame.closure import OPEN, Move
from mitertool.frame.facts import Fact
from mitertool.frame.inside.cells import NOBODY, SEAM, Cell, convex_parts
from mitertool.frame.inside.diagonals import LAPPED, Diagonal
from mitertool.frame.inside.fit import misfit
from mitertool.frame.inside.spaced import Spaced
from mitertool.frame.inside.strips import EndFace, Fitted, Strip, lying_in
from mitertool.quantity.problem import Remark, counts, lengths
from mitertool.words import phrase


@attrs.frozen
class Fill:
    """What is put inside: the bars, the `bays` that they stand in, counted from 1 (all where none is named).

    Bays are what the bars before leave open, from the lowest up and from left to right. Ends stay `gap` mm off what
    they meet; bars shorter than `shortest` at their longest are left out. `grade` is that of the bars, None for the
    frame's.
    """

    bars: Spaced | Diagonal
    bays: tuple[int, ...] = ()
    gap: float = 0.0
    shortest: float = 0.0
    grade: str | None = None

    @property
    def called(self) -> str:
        """What the bars are called: "uprights", "rails" or "brace"."""
        return self.bars.bars if isinstance(self.bars, Spaced) else "brace"


@attrs.frozen
class _Stood:
    """A bar in its place, and the cell that it stands in."""

    lying: Fitted
    cell: Cell
    fill: Fill


@attrs.frozen
class _Round:
    """What one filling does: the bars, the cells that are left open after it, and how many places had no room."""

    stood: tuple[_Stood, ...]
    left: tuple[Cell, ...]
    without: int = 0


def opening_of(assembly: Assembly) -> Cell:
    """The clear opening of a closed frame: what its inner edges bound."""
    inner = [(edges[0], edges[3]) for edges in assembly.edges[: len(assembly.order)]]
    if assembly.ring is not None and not assembly.ring.closed:
        inner.append((inner[-1][1], inner[0][0]))
    corners = [_crossing(inner[i - 1], inner[i]) for i in range(len(inner))]
    count = len(assembly.order)
    owners = [i if i < count else NOBODY for i in range(len(inner))]
    # walked clockwise, so turned about; the edge of side i then begins at the corner after it
    return Cell(tuple(corners[::-1]), (*owners[-2::-1], owners[-1]))


def _convex(opening: Cell, first: Spaced | Diagonal) -> tuple[Cell, ...]:
    """An opening in parts along the bars that are put in first. Raises `BadInput` where those are braces."""
    if opening.convex:
        return (opening,)
    if isinstance(first, Diagonal):
        raise BadInput("inside", phrase("found.not-convex"), phrase("refuse.not-convex"))
    return tuple(convex_parts(opening, first.way))


def filled(assembly: Assembly, opening: Cell, fills: Sequence[Fill], resolution: Resolution | None = None) -> Assembly:
    """The frame with bars in its clear `opening`; equal pieces share a mark, however they are turned to lie.

    Raises `BadInput` for a filling that finds no place, and for a bar that would end where nothing stands.
    """
    cells = _convex(opening, fills[0].bars)
    before: tuple[Cell, ...] = cells
    stood: list[_Stood] = []
    notes: list[Remark] = []
    facts = list(assembly.facts)
    for number, fill in enumerate(fills, 1):
        crossing = fill.bars.crossing if isinstance(fill.bars, Diagonal) else ""
        place = _bays(before if crossing else cells, fill, number)
        room = cells if crossing and crossing != LAPPED else place
        done = _round(place, room, cells, fill, len(assembly.order) + len(stood))
        _refuse_idle(done, number)
        notes += [*fill.bars.told(place), *_told(done, fill)]
        facts += fill.bars.facts(place) if isinstance(fill.bars, Spaced) else ()
        stood += done.stood
        before, cells = cells, done.left
    return _with(assembly, stood, tuple(notes), tuple(dict.fromkeys(facts)), resolution or Resolution())


def _bays(cells: Sequence[Cell], fill: Fill, number: int) -> tuple[Cell, ...]:
    """The cells that a filling stands in."""
    ranked = sorted(cells, key=lambda cell: (round(cell.across(1j)[0], 2), round(cell.across(1 + 0j)[0], 2)))
    if any(not 1 <= bay <= len(ranked) for bay in fill.bays):
        what = phrase("what.inside", number=number)
        raise BadInput("bays", list(fill.bays), phrase("refuse.from-to", least=1, most=len(ranked)), (what,))
    return tuple(ranked[bay - 1] for bay in fill.bays) if fill.bays else tuple(ranked)


def _round(place: Sequence[Cell], room: Sequence[Cell], cells: Sequence[Cell], fill: Fill, first: int) -> _Round:
    """The bars whose strips are those of `place`, each in every cell of `room` there; `cells` are what they part."""
    stood: list[_Stood] = []
    without = 0
    for bay, strips in zip(place, fill.bars.strips(place), strict=True):
        for strip, cell in ((strip, cell) for strip in strips for cell in room if bay.holds(cell.middle)):
            lying = lying_in(strip, cell, fill.gap)
            if lying is None or lying.piece.long_point < fill.shortest:
                without += lying is not None or _reaches(strip, cell)
            else:
                stood.append(_Stood(lying, cell, fill))
    left = tuple(cells)
    for owner, one in enumerate(stood, first):
        left = tuple(part for cell in left for part in _parted(cell, one, owner))
    return _Round(tuple(stood), left, without)


def _parted(cell: Cell, one: _Stood, owner: int) -> Iterator[Cell]:
    """What a bar leaves of a cell: both sides of it where it stands in the cell, else the whole."""
    yield from one.lying.strip.parts(cell, owner) if one.cell.holds(cell.middle) else (cell,)


def _reaches(strip: Strip, cell: Cell) -> bool:
    """Whether a strip runs over a cell at all."""
    across = [strip.own(corner).imag for corner in cell.corners]
    return min(max(across), strip.section.width) - max(min(across), 0.0) > CLOSES


def _refuse_idle(done: _Round, number: int) -> None:
    what = phrase("what.inside", number=number)
    if not done.stood:
        raise BadInput(what, phrase("found.no-place"), phrase("refuse.no-place"))
    if any(face.owner in (NOBODY, SEAM) for one in done.stood for face in (*one.lying.left, *one.lying.right)):
        raise BadInput(what, phrase("found.open-side"), phrase("refuse.open-side"))


def _told(done: _Round, fill: Fill) -> Iterator[Remark]:
    if done.without:
        case = "short" if fill.shortest else ""
        yield Remark("note.no-room", counts(count=done.without) + lengths(shortest=fill.shortest), case)
    if fill.gap:
        yield Remark("note.inside-gap", lengths(gap=fill.gap))


def _with(
    assembly: Assembly,
    stood: Sequence[_Stood],
    notes: tuple[Remark, ...],
    facts: tuple[Fact, ...],
    resolution: Resolution,
) -> Assembly:
    members, marks, poses = joined(assembly, [(one.lying.piece, one.fill.grade) for one in stood])
    by_mark = {member.mark: member for member in members}
    inside = tuple(_bar(one, by_mark[mark], pose) for one, mark, pose in zip(stood, marks, poses, strict=True))
    return attrs.evolve(
        assembly,
        pieces=members,
        inside=inside,
        notes=tuple(dict.fromkeys((*assembly.notes, *notes))),
        facts=facts,
        closure=_closure(assembly.closure, stood, inside, by_mark, resolution),
    )


def _bar(one: _Stood, member: Member, pose: str) -> BarInside:
    lying = one.lying
    meets = (_owners(lying.left), _owners(lying.right))
    return BarInside(member.mark, one.fill.called, pose, _stands(member, pose, lying), lying.start, *meets)


def _stands(member: Member, pose: str, lying: Fitted) -> Move:
    """Where the piece of a mark lies, turned to its pose, so that the middle of its left end is that of the bar."""
    piece, way = member.piece.posed(pose), lying.strip.way
    middle = piece.section.width / 2
    out = piece.end_roof("left").at(middle, 0.0)
    return Move(way, lying.start - way * complex(-out, middle))


def _owners(faces: Sequence[EndFace]) -> tuple[int, ...]:
    return tuple(sorted({face.owner for face in faces}))


def _closure(
    before: Closure,
    stood: Sequence[_Stood],
    inside: Sequence[BarInside],
    members: dict[str, Member],
    resolution: Resolution,
) -> Closure:
    """That of the frame, and how far each bar as it is cut misses what it should meet."""
    gap, overlap, opened = before.gap, before.overlap, before.rounded_gap
    for one, bar in zip(stood, inside, strict=True):
        piece = members[bar.mark].piece
        meets = (bar.place, one.cell, one.fill.gap, one.lying.strip.square)
        stands, bites = misfit(piece.posed(bar.pose), *meets)
        floor = misfit(rounded(piece, resolution).posed(bar.pose), *meets)
        gap, overlap, opened = max(gap, stands), max(overlap, bites), max(opened, *floor)
    return Closure(gap, overlap, opened, before.rounded_as if opened == before.rounded_gap else OPEN)


def _crossing(one: tuple[complex, complex], other: tuple[complex, complex]) -> complex:
    """Where two inner edges cross; where both run in one line, the end of the first."""
    (a, b), (c, d) = one, other
    u, v = b - a, d - c
    turn = (u.conjugate() * v).imag
    if abs(turn) < 1e-9 * abs(u) * abs(v):
        return b
    return a + ((c - a).conjugate() * v).imag / turn * u
