"""How the pieces of each mark lie where they are cut, with the reading of either end; knows runs and ways."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.cut import Cut
from mitertool.job import Solution, SolvedPiece
from mitertool.job.runs import Run
from mitertool.nest import Placed
from mitertool.packet.floor.readings import plain_reading, reading_for, reading_of
from mitertool.packet.floor.values import AsCut, Reading
from mitertool.piece.poses import end_in, posed

_Ends = tuple[Reading, Reading]
"""The readings of the left and of the right end."""


def lying_of(solution: Solution) -> dict[str, tuple[AsCut, ...]]:
    """By mark every way in which its pieces are cut, once, in the order of work; as drawn where it lies on no bar."""
    by_mark = {solved.mark: solved for solved in solution.pieces}
    found: dict[str, dict[_Ends, AsCut]] = {mark: {} for mark in by_mark}
    for run in solution.runs:
        for i, placed in enumerate(run.bar.pieces):
            one = _blank(by_mark[placed.mark], placed, run, i) if placed.recut else _on_bar(run, i)
            found[placed.mark].setdefault((one.left, one.right), one)
    return {mark: tuple(ways.values()) or tuple(_as_drawn(by_mark[mark])) for mark, ways in found.items()}


def _on_bar(run: Run, i: int) -> AsCut:
    """A piece of a bar by its number from 0."""
    piece = run.pieces[i]
    return _as_cut(piece.left, piece.right, _readings(run, i, piece.left, piece.right))


def _readings(run: Run, i: int, left: Cut, right: Cut) -> _Ends:
    """How the saw is set for the left and the right end of a piece of a bar."""
    if run.saw is None:
        return plain_reading(left), plain_reading(right)
    trail = [at for at, cut in enumerate(run.cuts) if cut.mark][i]
    lead, last = reading_of(run.cuts[trail - 1].reach), reading_of(run.cuts[trail].reach)
    return (lead, last) if run.saw.leads == "left" else (last, lead)


def _blank(solved: SolvedPiece, placed: Placed, run: Run, i: int) -> AsCut:
    """A piece that leaves the bar as a blank, laid so that the end leads that is finished on the bar: its first cut."""
    leads = run.saw.leads if run.saw else "left"
    ends = posed(placed.pose, solved.piece.end("left"), solved.piece.end("right"), solved.piece.section)
    if leads == end_in(placed.pose, placed.recut):
        ends = posed("end-for-end", *ends, solved.piece.section)
    (left, _), (right, _) = ends
    finished = _readings(run, i, left, right)
    way = solved.ways_of(placed.recut)[0].reach
    if leads == "left":
        return _as_cut(left, right, (finished[0], reading_for(way, right)))
    return _as_cut(left, right, (reading_for(way, left), finished[1]))


def _as_drawn(solved: SolvedPiece) -> Iterator[AsCut]:
    """Without a bar: as it is drawn, with every way in which its ends are cut."""
    piece = solved.piece
    ways = (solved.ways_of("left"), solved.ways_of("right"))
    for i in range(max(map(len, ways))):
        left, right = (found[min(i, len(found) - 1)].reach for found in ways)
        ends = (reading_for(left, piece.left), reading_for(right, piece.right))
        yield _as_cut(piece.left, piece.right, ends)


def _as_cut(left: Cut, right: Cut, ends: _Ends) -> AsCut:
    """A left end is the plane x = -p*y - q*z, a right one x = s + p*y + q*z."""
    return AsCut(*ends, leans=((-left.p, -left.q), (right.p, right.q)))
