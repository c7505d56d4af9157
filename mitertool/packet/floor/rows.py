"""The cuts of a bar one by one, with what is set, rolled, keyed or stopped before each; knows runs and feed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import atan2, degrees
from typing import Literal

import attrs

from mitertool.bar import SQUARE, Angles, BarPiece, middle_as_rolled, short_way, ways
from mitertool.base.tolerances import SAME_SETTING, SAME_SLOPE
from mitertool.cut import Cut
from mitertool.job.fit_up import PieceFit
from mitertool.job.runs import Run
from mitertool.nest import Bar, Placed, SawCut, shaving
from mitertool.packet.floor.readings import comes_back, plain_reading, reading_of
from mitertool.packet.floor.values import CutRow, EndPast, Makes, Proof, Side, Tape, Turn
from mitertool.saw.feed.feed import FeedLine, SetCut
from mitertool.saw.feed.stops import Stop

_HALF = 180.0


@attrs.frozen
class Stands:
    """How the work before leaves arm and blade, and the number of the bar since which they stand so; 0: since none."""

    angles: Angles
    since: int


def cuts_of(run: Run, stands: Stands | None, fits: Mapping[str, PieceFit]) -> list[CutRow]:
    """The cuts of a bar in order, each as a row of its own number."""
    rows = _set_cuts(run, stands, fits) if run.saw else list(_plain_cuts(run))
    if not run.saw and (stays := _since(run, stands)):
        rows[0] = attrs.evolve(rows[0], sets=False, stays=stays)
    if not any(row.turn for row in rows):
        rows = [attrs.evolve(row, comes_long=()) for row in rows]
    return [_as_skim(row, run.bar) if row.makes == "scrap" else row for row in rows]


def _as_skim(row: CutRow, bar: Bar) -> CutRow:
    """The row as a shaving where its wedge is nowhere thicker than the kerf: no scrap that anybody finds."""
    before, cut = bar.cuts[row.numbers[0] - 2 : row.numbers[0]]
    thick = shaving(before, cut, bar.section)
    return row if thick is None else attrs.evolve(row, makes="skim", thick=thick)


def left_standing(run: Run, stands: Stands | None) -> Stands | None:
    """How a bar leaves arm and blade; None where nothing is cut."""
    angles = _angles(run)
    if not angles:
        return None
    still = stands is not None and stands.since and not any(any(one.changes(stands.angles)[:2]) for one in angles)
    return stands if still else Stands(angles[-1], run.number)


def _angles(run: Run) -> list[Angles]:
    """How arm and blade stand for each cut; where no saw is known as they must for the cut as its bar lies."""
    return [cut.reach.angles for cut in run.cuts] if run.saw else [ways(cut.cut, True)[0] for cut in run.bar.cuts]


def tapes_of(bar: Bar) -> tuple[Tape, ...]:
    """Where the tape marks of every cut are."""
    return tuple(
        Tape(number, cut.fixed, cut.moving, cut.kerf_lies == "past", abs(cut.cut.q) > SAME_SLOPE)
        for number, cut in enumerate(bar.cuts, 1)
    )


def ends_of(bar: Bar) -> Iterator[tuple[SawCut, SawCut]]:
    """The leading and the trailing cut of each piece: a shared one is both, else the next piece has one of its own."""
    at = 0
    for _ in bar.pieces:
        lead, trail = bar.cuts[at], bar.cuts[at + 1]
        yield lead, trail
        at += 1 if trail.shared else 2


def _set_cuts(run: Run, stands: Stands | None, fits: Mapping[str, PieceFit]) -> list[CutRow]:
    proofs, lines, stops = list(_proofs(run.cuts, fits)), _lines(run), iter(run.stops)
    placed, pieces = iter(run.bar.pieces), iter(run.pieces)
    found: list[CutRow] = []
    before: SetCut | None = None
    for number, (cut, line, proof) in enumerate(zip(run.cuts, lines, proofs, strict=True), 1):
        stays = _since(run, stands) if before is None else 0
        tilt = before.reach.tilt if before else stands.angles.tilt if stands else None
        sets = not stays if before is None else any(cut.reach.angles.changes(before.reach.angles)[:2])
        row = CutRow(
            numbers=(number,),
            makes=_makes(cut.mark, before is None),
            mark=cut.mark,
            reading=attrs.evolve(reading_of(cut.reach), comes_back=comes_back(cut.reach, tilt)),
            sets=sets,
            stays=stays,
            turn=turn_between(before.reach.roll if before else 0.0, cut.reach.roll),
            proof=proof if sets or stays else None,
            guides=cut.reach.guide_setting,
        )
        if cut.mark:
            piece = next(pieces)
            row = attrs.evolve(
                row, turn=with_tip(row.turn, piece, cut.reach.roll), comes_long=long_sides(piece, cut.reach.roll)
            )
            row = _as_blank(row, next(placed))
        found.append(_brought(row, before, cut, line, next(stops, None) if cut.mark else None))
        before = cut
    return found


def _as_blank(row: CutRow, placed: Placed) -> CutRow:
    """The row with what comes off told as a blank where an end of it is cut later."""
    return attrs.evolve(row, blank=placed.blank, recut=placed.recut, comes_long=()) if placed.recut else row


def _since(run: Run, stands: Stands | None) -> int:
    """The bar since which arm and blade stand as its first cut needs them, of every bar of a batch; else 0."""
    angles = _angles(run)
    first, last = angles[0], angles[-1]
    moved = run.bar.count > 1 and any(last.changes(first)[:2])
    return 0 if stands is None or moved or any(first.changes(stands.angles)[:2]) else stands.since


def _makes(mark: str, first: bool) -> Makes:
    return "piece" if mark else "trim" if first else "scrap"


def turn_between(before: float, after: float) -> Turn | None:
    """How a bar is rolled that stood rolled by `before` degrees from as drawn and is to stand by `after`."""
    to = short_way(after)
    turn = short_way(to - before)
    if abs(turn) <= SAME_SETTING:
        return None
    half = abs(abs(turn) - _HALF) <= SAME_SETTING
    return Turn(half, to, half or turn > 0)


def with_tip(turn: Turn | None, piece: BarPiece, roll: float, leads: bool = True) -> Turn | None:
    """A turn of a round bar with where the tip of the end of a piece stands that was cut before, leading or not."""
    end, out = (piece.lead.rolled(roll), -1) if leads else (piece.trail.rolled(roll), 1)
    if turn is None or not piece.section.shape.round or end.is_square:
        return turn
    return attrs.evolve(turn, tip=degrees(atan2(out * end.p, out * end.q)))


def long_sides(piece: BarPiece, roll: float) -> tuple[Side, ...]:
    """At which sides a piece is longest, as it stands rolled by so many degrees; none where all sides are alike."""
    lead, trail = piece.lead.rolled(roll), piece.trail.rolled(roll)
    across, up = trail.p - lead.p, trail.q - lead.q
    sides: tuple[tuple[float, Side, Side], ...] = ((across, "moving", "fixed"), (up, "top", "bottom"))
    return tuple(more if grows > 0 else less for grows, more, less in sides if abs(grows) > SAME_SLOPE)


def _brought(row: CutRow, before: SetCut | None, cut: SetCut, line: FeedLine | None, stop: Stop | None) -> CutRow:
    """The row with how the bar comes to its place: keyed, at the stop, or pushed so far."""
    if line is not None:
        if line.untaken and line.key is not None:
            return _by_hand(row, before, cut, line)
        why = None if line.set_up else line.manual
        by_hand = line.manual is not None or not line.counted
        return attrs.evolve(row, key=line.key, strokes=line.strokes, by_hand=by_hand, why=why)
    return attrs.evolve(row, stop=stop, end_past=None if cut.mark else end_past(cut, before))


def _by_hand(row: CutRow, before: SetCut | None, cut: SetCut, line: FeedLine) -> CutRow:
    """The row of a length that the control does not take: it adds no kerf to what a hand does."""
    if cut.mark:
        return attrs.evolve(row, moved=line.travel, by_hand=True, why=line.untaken)
    return attrs.evolve(row, end_past=end_past(cut, before), by_hand=True)


def end_past(cut: SetCut, before: SetCut | None) -> EndPast:
    """Where the end of a bar stands for a cut: the one that the cut `before` has left, before any the raw one."""
    roll, width = cut.reach.roll, cut.reach.setting.section.width
    end = before.kerf.cut.rolled(roll) if before else SQUARE
    face = cut.kerf.cut.rolled(roll)
    p, q = face.p - end.p, face.q - end.q
    middle = cut.kerf.end - (before.kerf.end if before else 0.0) - q * middle_as_rolled(cut.section, roll)[1]
    side: Literal["moving", "fixed", ""] = "" if abs(p) <= SAME_SLOPE else "fixed" if p > 0 else "moving"
    return EndPast(middle - abs(p) * width / 2, side, abs(q) > SAME_SLOPE, raw=before is None)


def _lines(run: Run) -> list[FeedLine | None]:
    """The line that is keyed for each cut; None each without a feed."""
    if run.feed is None:
        return [None] * len(run.cuts)
    return [line for line in run.feed.lines if line.cut is not None for _ in range(line.quantity)]


def _proofs(cuts: Sequence[SetCut], fits: Mapping[str, PieceFit]) -> Iterator[Proof | None]:
    """For each cut what its setting is to be proved to: the least that any end may be out which it makes."""
    wanted: dict[tuple[float, float], float] = {}
    for cut in cuts:
        for piece in (cut.kerf.before, cut.kerf.behind):
            fit = fits.get(piece.mark) if piece else None
            if fit and fit.angle_out is not None and beyond(fit):
                at = (cut.reach.swing, cut.reach.tilt)
                wanted[at] = min(wanted.get(at, fit.angle_out), fit.angle_out)
    for cut in cuts:
        allowed = wanted.get((cut.reach.swing, cut.reach.tilt))
        yield None if allowed is None else Proof(abs(cut.reach.swing), allowed)


def beyond(fit: PieceFit) -> bool:
    """Whether the scale by itself cannot hold what an angle of the mark may be out."""
    return any(share.share is not None and share.share > 1 for share in fit.angles)


def _plain_cuts(run: Run) -> Iterator[CutRow]:
    """Where no saw is known: a first cut of a piece by its leading end, the others by the end that they finish."""
    number = 0
    for piece, placed, (lead, _) in zip(run.pieces, run.bar.pieces, ends_of(run.bar), strict=True):
        if not lead.shared:
            number += 1
            yield _plain_row(number, "", piece.left)
        number += 1
        yield _as_blank(_plain_row(number, piece.mark, piece.right), placed)


def _plain_row(number: int, mark: str, cut: Cut) -> CutRow:
    return CutRow((number,), _makes(mark, number == 1), mark, plain_reading(cut), sets=True)
