"""Each bar of a job as it is worked off, in the order of work; knows runs and settings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.job import Solution, SolvedPiece
from mitertool.job.runs import Run
from mitertool.job.solved import EndWay
from mitertool.packet.floor.alike import together
from mitertool.packet.floor.first import with_first
from mitertool.packet.floor.guides import with_guides
from mitertool.packet.floor.readings import reading_for, reading_of
from mitertool.packet.floor.rows import Stands, cuts_of, left_standing, tapes_of, turn_between
from mitertool.packet.floor.second_ends import second_ends_after
from mitertool.packet.floor.set_backs import set_backs_of
from mitertool.packet.floor.values import BarSetting, BarWork, CutRow, LeftOver, RawFace, SecondEnds
from mitertool.piece.poses import OTHER_END, ROLLED
from mitertool.quantity.compare import same_length
from mitertool.rack.values import RackBar


def work_of(solution: Solution) -> tuple[tuple[BarWork, ...], tuple[SecondEnds, ...]]:
    """The bars of the plan with the second ends that are cut between them; without stock each mark by itself."""
    if solution.plan is None:
        return tuple(_loose(solution)), ()
    found: list[BarWork] = []
    after: list[SecondEnds] = []
    stands: Stands | None = None
    met: set[str] = set()
    for run in solution.runs:
        cuts = cuts_of(run, stands, solution.fit.pieces)
        if not solution.job.trim_said:
            cuts[0] = attrs.evolve(cuts[0], raw_face=_raw_face(run))
        cuts = _with_more(cuts, run, solution)
        rows, loops = together([with_first(row, solution, met) for row in cuts])
        work = _bar(run, proved_each_time(rows, run), solution)
        told_in = _told_in(work, found)
        told = next((bar for bar in found if bar.number == told_in), None)
        found.append(with_guides(attrs.evolve(work, loops=loops, told_in=told_in), told))
        stands = left_standing(run, stands)
        after += second_ends_after(run.number, stands, solution, met)
        stands = _after_recuts(stands, run.number, solution)
    return tuple(found), tuple(after)


def _with_more(rows: Sequence[CutRow], run: Run, solution: Solution) -> list[CutRow]:
    """The rows, each shaving with the trim that it may be more where the bar has one to spare for every of them."""
    allowance, shavings = solution.job.allowance, sum(row.makes == "skim" for row in rows)
    if not shavings or allowance is None or run.spare(allowance.grip) < shavings * allowance.trim:
        return list(rows)
    return [attrs.evolve(row, more=allowance.trim) if row.makes == "skim" else row for row in rows]


def proved_each_time(rows: Sequence[CutRow], run: Run) -> tuple[CutRow, ...]:
    """The rows; where the arm comes back to a setting that is proved, in rounds or for each bar of a batch, told so."""
    if not run.cuts:
        return tuple(rows)
    moved = any(run.cuts[-1].reach.angles.changes(run.cuts[0].reach.angles)[:2])
    return tuple(
        attrs.evolve(row, proof=attrs.evolve(row.proof, each=True))
        if row.proof and row.sets and (row.several or (run.bar.count > 1 and (at > 0 or moved)))
        else row
        for at, row in enumerate(rows)
    )


def _after_recuts(stands: Stands | None, bar: int, solution: Solution) -> Stands | None:
    """How arm and blade stand when the second ends after a bar are cut: since no bar where they were moved for one.

    None where that cannot be told, without a saw file.
    """
    after = [one for one in solution.recuts if one.recut.after == bar]
    if not all(one.reach for one in after):
        return None
    found = [one.reach.angles for one in after if one.reach]
    if stands is None or not any(any(angles.changes(stands.angles)[:2]) for angles in found):
        return stands
    return Stands(found[-1], 0)


def _bar(run: Run, rows: tuple[CutRow, ...], solution: Solution) -> BarWork:
    bar, settings = run.bar, tuple(_settings(run, solution))
    own = [one for one in solution.sources if one.number == run.number]
    least, hold = _held(run, solution.job.allowance.grip if solution.job.allowance else 0.0)
    return BarWork(
        *(run.number, bar.section, bar.grade, bar.count, rows, run),
        tapes=tapes_of(bar),
        settings=settings,
        set_backs=tuple(set_backs_of([setting.reach for setting in settings])),
        left_over=_left_over(run, solution),
        lines=_lines(run),
        tip_to_tip=next((one.rack.length for one in own if one.rack and not _whole(one.rack)), 0.0),
        outside=tuple(_outside_up(run, solution)),
        left_to_hold=hold,
        least=least,
    )


def _held(run: Run, grip: float) -> tuple[float, float]:
    """How long the bar must be where it has little to spare; and what is left to hold where nothing is kept for that.

    Each 0 where nobody needs it: where the bar has more to spare, or its last piece leaves as much to hold as any
    piece of it is long, which are held for their cuts too. Where the feed does not push it to the end, and the last
    cuts are made by hand, a longer bar is not asked for.
    """
    bar = run.bar
    spare = run.spare(grip)
    least = bar.stock_length - spare if grip and spare < _SPARE * bar.stock_length else 0.0
    short = not grip and bar.left_whole < min(piece.centerline for piece in run.pieces)
    return least, bar.left_whole if short else 0.0


_SPARE: Final = 0.02
"""Share of its length that a bar must have to spare before it is measured: less goes with a bent or burned end."""


def _outside_up(run: Run, solution: Solution) -> list[bool]:
    """Of each plate of a hopper whether it lies with its outside up; empty where there are other pieces too."""
    shows = {solved.mark: solved.order.shows for solved in solution.pieces}
    if any(shows[placed.mark] != "top" for placed in run.bar.pieces):
        return []
    return [placed.pose not in ROLLED for placed in run.bar.pieces]


def _whole(bar: RackBar) -> bool:
    return same_length(bar.length, bar.square)


def _raw_face(run: Run) -> RawFace:
    """How the mill's end stands on the first piece where no trim takes it off."""
    first = run.pieces[0]
    lead = first.left if run.saw is None or run.saw.leads == "left" else first.right
    return "tip" if lead.miter or lead.bevel else "face"


def _settings(run: Run, solution: Solution) -> Iterator[BarSetting]:
    """The settings of a bar, each once, in the order of work."""
    met: set[int] = set()
    for cut in run.cuts:
        number = solution.setting_of(cut.reach, run.bar.grade)
        if number not in met:
            met.add(number)
            yield BarSetting(number, cut.reach, reading_of(cut.reach))


def _told_in(work: BarWork, before: Sequence[BarWork]) -> int:
    """The number of the first bar that lies so and has all settings of this one; 0 for none."""
    wanted = {setting.number for setting in work.settings}
    alike = (bar for bar in before if bar.section.name == work.section.name and _lies_so(bar, work))
    return next((bar.number for bar in alike if wanted <= {setting.number for setting in bar.settings}), 0)


def _lies_so(one: BarWork, other: BarWork) -> bool:
    return one.section.looks_like(other.section) and one.outside == other.outside


def _left_over(run: Run, solution: Solution) -> LeftOver:
    """Of bars cut at once the length of the shortest."""
    bar = run.bar
    cut = bar.cuts[-1].cut.plane.reversed
    section, count = bar.section.one_bar, bar.count * bar.section.bars
    shorter = abs(cut.p) * (bar.section.width - section.width) / 2 if section is not bar.section else 0.0
    lefts = [one.leaves for one in solution.on_rack if one.number == run.number and one.leaves]
    length = lefts[0].length if lefts else bar.drop - shorter + bar.cuts[-1].cut.half_reach(section)
    return LeftOver(
        *(f"{run.number}", section, bar.grade, count, length, cut.miter, cut.bevel),
        kept=bool(lefts) if solution.keeps else None,
        numbers=tuple(one.number for one in lefts if one.number),
        heats=solution.heats(run.number),
    )


def _lines(run: Run) -> int:
    """How many program lines a bar takes, where the control holds fewer; else 0."""
    held = run.saw.feed.lines if run.saw and run.saw.feed else None
    took = len(run.feed.lines) if run.feed else 0
    return took if held is not None and took > held else 0


def _loose(solution: Solution) -> Iterator[BarWork]:
    """Every mark by itself where the job gives no stock: its leading end, then the other with the stop for it.

    Of a mark that cannot be made nothing is set: page one says why.
    """
    made = (solved for solved in solution.pieces if all(reach is None or reach.ok for reach in solved.reaches))
    for number, solved in enumerate(made, 1):
        leads = solved.saw.leads if solved.saw else "left"
        ways = [solved.ways_of(end)[0] for end in (leads, OTHER_END[leads])]
        yield _loose_mark(number, solved, ways, solution)


def _loose_mark(number: int, solved: SolvedPiece, ways: Sequence[EndWay], solution: Solution) -> BarWork:
    first, last = (reading_for(way.reach, solved.piece.cuts(way.end)[0]) for way in ways)
    turns = [turn_between(0.0, ways[0].roll), turn_between(ways[0].roll, ways[1].roll)]
    guides = [way.reach.guide_setting if way.reach else None for way in ways]
    rows = (
        CutRow((1,), "trim", "", first, sets=True, turn=turns[0], guides=guides[0]),
        CutRow((2,), "piece", solved.mark, last, sets=True, turn=turns[1], stop=solved.stop, guides=guides[1]),
    )
    settings = [
        BarSetting(solution.setting_of(way.reach, solved.order.grade), way.reach, reading_of(way.reach))
        for way in ways
        if way.reach
    ]
    work = BarWork(
        *(number, solved.piece.section, solved.order.grade, solved.quantity),
        rows=tuple(with_first(row, solution, set()) for row in rows),
        settings=tuple({setting.number: setting for setting in settings}.values()),
        set_backs=tuple(set_backs_of([setting.reach for setting in settings])),
    )
    return with_guides(work)
