"""Second ends of blanks, a row of so many cuts each; knows recuts and settings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import attrs

from mitertool.job import Solution
from mitertool.job.fit_up import PieceFit
from mitertool.job.recut_pieces import RecutPiece
from mitertool.job.recuts import RecutRun, second_end
from mitertool.packet.floor.first import to_measure, with_first
from mitertool.packet.floor.readings import comes_back, reading_for
from mitertool.packet.floor.rows import Stands, beyond, turn_between, with_tip
from mitertool.packet.floor.values import ANY_ROLL, BarSetting, CutRow, LaidBlank, Proof, SecondEnds, Turn
from mitertool.piece.poses import HALF_OVER
from mitertool.quantity.problem import Remark, counts, lengths, names


def second_ends_after(bar: int, stands: Stands | None, solution: Solution, met: set[str]) -> Iterator[SecondEnds]:
    """Those that are cut when the bar of this number is done, which leaves arm and blade as they stand.

    `met` are the marks of which a piece is finished before, as for `with_first`.
    """
    tilt = stands.angles.tilt if stands else None
    shown = {solved.mark for solved in solution.pieces if solved.order.out}
    for one in solution.recuts:
        if one.recut.after == bar:
            row = _row(one, tilt, solution.fit.pieces)
            if one.recut.mark not in shown and _any_roll(one):
                row = attrs.evolve(row, laid=LaidBlank(ANY_ROLL, one.recut.blank, *_as_cut(one)), turn=None)
            row = with_first(row, solution, met)
            told = (*names(number=second_end(one.number), mark=one.recut.mark), *counts(count=one.recut.count))
            row = attrs.evolve(row, again=Remark("sheet.second-named", told))
            yield SecondEnds(one.number, bar, one.recut.section, one.recut.grade, row, _setting(one, row, solution))
            tilt = one.reach.tilt if one.reach else None


def recut_rows(solution: Solution) -> Iterator[SecondEnds]:
    """Every cut of the pieces that are cut already and become others, in their order."""
    for one in solution.again:
        tilt = None
        for run in one.steps:
            last = run is one.steps[-1]
            row = _row(run, tilt, {})
            laid = row.laid and attrs.evolve(row.laid, of=one.offer.to if last else one.offer.mark)
            row = attrs.evolve(
                row, laid=laid, again=_again(one, last), first=to_measure(one.solved, None) if last else None
            )
            yield SecondEnds(one.number, 0, run.recut.section, run.recut.grade, row, _setting(run, row, solution))
            tilt = run.reach.tilt if run.reach else None


def _setting(one: RecutRun, row: CutRow, solution: Solution) -> BarSetting | None:
    """How the saw is set for it."""
    if one.reach is None:
        return None
    return BarSetting(solution.setting_of(one.reach, one.recut.grade), one.reach, row.reading)


def _again(one: RecutPiece, last: bool) -> Remark:
    """Which pieces these are, and that another end follows where it is not the `last`."""
    offer = one.offer
    told = (*names(number=one.called, mark=offer.mark, to=offer.to), *counts(count=offer.count))
    case = "blank" if offer.fate == "finish" else "first" if not last else "spoiled" if offer.spoiled else ""
    heat = Remark("rest.again-heat", names(heat=" / ".join(offer.heats)))
    return Remark("rest.again", (*told, *lengths(left=offer.left)), case, (heat,) if offer.heats else ())


def _row(one: RecutRun, tilt: float | None, fits: Mapping[str, PieceFit]) -> CutRow:
    recut = one.recut
    reading = reading_for(one.reach, recut.cut.rolled(recut.angles.roll).plane)
    if one.reach:
        reading = attrs.evolve(reading, comes_back=comes_back(one.reach, tilt))
    laid, turn = _laid(one)
    return CutRow(
        numbers=tuple(range(1, recut.count + 1)),
        makes="piece",
        mark=recut.mark,
        reading=reading,
        sets=True,
        turn=turn,
        stop=one.stop,
        proof=_proof(one, fits.get(recut.mark)),
        laid=laid,
        guides=one.reach.guide_setting if one.reach else None,
    )


def _laid(one: RecutRun) -> tuple[LaidBlank, Turn | None]:
    """How it is laid and then rolled: half a turn over at once where it would be rolled by that."""
    recut, turn = one.recut, turn_between(0.0, one.recut.angles.roll)
    pack = one.reach.pack.height if one.reach and one.reach.pack else 0.0
    if turn is None or not turn.half:
        laid = LaidBlank(recut.pose, recut.blank, *one.piece.along_bottom, pack=pack)
        return laid, with_tip(turn, one.piece, recut.angles.roll, leads=False)
    over = one.piece.lying(one.piece.section, turn.to)
    return LaidBlank(HALF_OVER[recut.pose], recut.blank, *over.along_bottom, pack=pack), None


def _any_roll(one: RecutRun) -> bool:
    """Whether a blank may lie at any roll for its second end: a round one whose finished end is square."""
    return one.piece.section.shape.round and one.piece.trail.is_square


def _as_cut(one: RecutRun) -> tuple[float, float]:
    """How long the finished piece is along the bottom of either side as it stands when it is cut."""
    return one.piece.lying(one.piece.section, one.recut.angles.roll).along_bottom


def _proof(one: RecutRun, fit: PieceFit | None) -> Proof | None:
    if one.reach is None or fit is None or fit.angle_out is None or not beyond(fit):
        return None
    return Proof(abs(one.reach.swing), fit.angle_out)
