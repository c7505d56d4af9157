"""The cut sheet of a solved job, as values; knows all of this room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from mitertool.base.tolerances import SAME_LENGTH
from mitertool.base.totals import summed
from mitertool.cut import Cut
from mitertool.job import Solution, SolvedPiece
from mitertool.job.sources import Source
from mitertool.packet.floor.bars import work_of
from mitertool.packet.floor.exact import exact_angles
from mitertool.packet.floor.lying import lying_of
from mitertool.packet.floor.rows import beyond
from mitertool.packet.floor.second_ends import recut_rows
from mitertool.packet.floor.twins import with_twins
from mitertool.packet.floor.values import (
    AsCut,
    BarWork,
    Fetch,
    FloorSheet,
    LeftOver,
    PieceRow,
    Refusal,
    ToCount,
    Totals,
)
from mitertool.quantity.compare import same_length
from mitertool.quantity.problem import Problem, Remark, counts, lengths, names


def floor_of(solution: Solution) -> FloorSheet:
    """All that stands on the cut sheet of a solved job."""
    job = solution.job
    bars, second_ends = work_of(solution)
    pieces = with_twins(list(_pieces(solution, bars)), solution)
    return FloorSheet(
        head=job.head,
        saw=job.saw,
        digest=job.digest,
        fetch=tuple(_fetch(solution)),
        pieces=pieces,
        bars=bars,
        second_ends=second_ends,
        recut_pieces=tuple(recut_rows(solution)),
        counts=(
            *(ToCount(one.solved.mark, one.offer.count, one.called) for one in solution.again),
            *(ToCount(row.mark, row.solved.quantity) for row in pieces if not row.refused),
        ),
        kept=_kept(solution),
        further=solution.further,
        refused=tuple(_refused(solution.found)),
        left_overs=(*_off_cuts(solution), *(bar.left_over for bar in bars if bar.left_over)),
        totals=_totals(solution),
        drawn=job.sections.notes,
        past=solution.past,
        left_out=solution.plan.left_out if solution.plan else (),
        tolerance=solution.fit.tolerance,
        exact=tuple(dict.fromkeys(frame for frame, _ in exact_angles(solution))),
        kerf=job.allowance.kerf if job.allowance else None,
        grip=job.allowance.grip if job.allowance else None,
    )


def _off_cuts(solution: Solution) -> Iterator[LeftOver]:
    """What comes off pieces that are recut and no bar is made of, those alike together."""
    numbers = iter([one.leaves.number for one in solution.on_rack if one.number < 0 and one.leaves])
    found: dict[tuple[str, int, Cut, Cut], LeftOver] = {}
    for one, bar in solution.off_cuts:
        kept = solution.goes_back(bar)
        number = next(numbers) if kept else 0
        key = one.called, round(bar.length / SAME_LENGTH), bar.left, bar.right
        new = LeftOver(
            *(one.called, one.solved.piece.section, bar.grade, 0, bar.length, bar.left.miter, bar.left.bevel),
            ends=(bar.left, bar.right),
            kept=kept if solution.keeps else None,
            heats=one.offer.heats,
        )
        so_far = found.get(key, new)
        more = (number,) if number else ()
        found[key] = attrs.evolve(so_far, count=so_far.count + 1, numbers=(*so_far.numbers, *more))
    yield from found.values()


def _fetch(solution: Solution) -> Iterator[Fetch]:
    """Bars to fetch, in the order in which they are needed first; of several stocks those of each apart."""
    found: dict[tuple[str, str, int, Remark | None], Fetch] = {}
    several = solution.job.rack is not None or solution.job.rest is not None
    for one in solution.sources:
        bar = solution.plan.bars[one.number - 1] if solution.plan else None
        if bar:
            section, length = bar.section.one_bar, one.rack.length if one.rack else bar.stock_length
            source = _source(one) if several else None
            key = (section.name, bar.grade, round(length / SAME_LENGTH), source)
            before = found[key].count if key in found else 0
            mass = section.nominal_mass_per_metre * bar.stock_length / 1000
            heats = solution.heats(one.number, one.copy)
            notes = tuple(said.note for said in solution.job.of_bar(bar) if said.note and not one.rack)
            found[key] = Fetch(section.name, bar.grade, length, before + 1, mass, heats, notes, source)
    yield from found.values()


def _source(one: Source) -> Remark:
    """Where a bar comes from, of a left-over of the rack its number and place."""
    if one.rack:
        told = (*counts(number=one.rack.number), *names(place=one.rack.place), *lengths(whole=one.rack.square))
        slanted = () if same_length(one.rack.length, one.rack.square) else ("slanted",)
        return Remark("rack.from", told, "-".join((*(("place",) if one.rack.place else ()), *slanted)))
    if one.recut:
        return Remark("rack.from-recut", names(number=one.recut))
    return Remark("rack.from-new" if one.new else "rack.from-left")


def _pieces(solution: Solution, bars: Sequence[BarWork]) -> Iterator[PieceRow]:
    """The marks in the order in which the first piece of each is cut, then those that lie on no bar."""
    order: dict[str, list[BarWork]] = {}
    for bar in bars:
        for mark in dict.fromkeys(mark for row in bar.rows for mark in row.marks):
            order.setdefault(mark, []).append(bar)
    by_mark = {solved.mark: solved for solved in solution.pieces}
    lying = lying_of(solution)
    for mark in dict.fromkeys((*order, *by_mark)):
        yield _piece(by_mark[mark], lying[mark], order.get(mark, []), solution)


def _piece(solved: SolvedPiece, cut: tuple[AsCut, ...], bars: Sequence[BarWork], solution: Solution) -> PieceRow:
    rows = [row for bar in bars for row in bar.rows if solved.mark in row.marks]
    fit = solution.fit.pieces.get(solved.mark)
    return PieceRow(
        solved,
        cut,
        bars=tuple(bar.number for bar in bars if bar.run),
        keys=_once(row.key for row in rows if row.key is not None),
        stops=_once(row.stop.at_bed for row in rows if row.stop and row.stop.holds),
        refused=solved.mark in solution.refused,
        proved=fit is not None and beyond(fit),
        heat=solution.heat_of(solved.mark),
    )


def _once(lengths: Iterator[float]) -> tuple[float, ...]:
    """Lengths in their order, equal ones once."""
    return tuple({round(length / SAME_LENGTH): length for length in lengths}.values())


def _refused(problems: Sequence[Problem]) -> Iterator[Refusal]:
    """Problems by what they tell, with the marks that they are told of."""
    found: dict[tuple[object, ...], list[Problem]] = {}
    for problem in problems:
        numbers = tuple(
            (one.name, round(one.value, 2) if isinstance(one.value, float) else one.value) for one in problem.numbers
        )
        found.setdefault((problem.code, problem.case, numbers), []).append(problem)
    for same in found.values():
        yield Refusal(same[0], tuple(dict.fromkeys(problem.mark for problem in same)))


def _kept(solution: Solution) -> tuple[tuple[str, int], ...]:
    """How many pieces of each mark are cut already and stay as they are."""
    found: dict[str, int] = {}
    for one in solution.job.rest.offers if solution.job.rest else ():
        if one.fate == "keep":
            found[one.to] = found.get(one.to, 0) + one.count
    return tuple(found.items())


def _totals(solution: Solution) -> Totals:
    plan, pieces = solution.plan, sum(piece.quantity for piece in solution.pieces)
    mass = summed(piece.piece.nominal_mass * piece.quantity for piece in solution.pieces)
    before = {
        "recut": sum(one.offer.count for one in solution.again),
        "kept": sum(count for _, count in _kept(solution)),
    }
    if plan is None:
        return Totals(pieces, len(solution.pieces), mass, **before)
    found = [run.minutes for run in solution.runs] + [one.minutes for one in solution.recuts]
    found += [row.minutes for row in solution.further]
    known = [minutes for minutes in found if minutes is not None]
    return Totals(
        *(pieces, len(solution.pieces), mass),
        bars=sum(bar.count * bar.section.bars for bar in plan.bars),
        cuts=plan.cuts,
        swings=solution.swings,
        tilts=plan.tilts,
        rolls=plan.rolls,
        further=sum(row.quantity for row in solution.further),
        cutting=summed(known) if found and len(known) == len(found) else None,
        setting_up=plan.minutes,
        **before,
    )
