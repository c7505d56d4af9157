"""Solves a job: hands, settings on the saw, bars; every room to the left does its own part."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from typing import TYPE_CHECKING, Any

import attrs

from mitertool import nest
from mitertool.bar import Allowance
from mitertool.base.errors import BadInput
from mitertool.frame.alternatives import past_the_scale
from mitertool.job.model import Job
from mitertool.job.orders import PieceOrder
from mitertool.job.rates import rates_of
from mitertool.job.recut_pieces import recut_pieces, taken
from mitertool.job.recuts import RecutRun, recut_runs
from mitertool.job.rows import stock_in_rows
from mitertool.job.runs import Run, cuts_in_order, on_bars, runs
from mitertool.job.settings import JobSetting, numbered
from mitertool.job.solution import Solution
from mitertool.job.solved import EndWay, SolvedPiece, posed_reaches, poses_that_work, reaches
from mitertool.piece import POSES, Piece
from mitertool.quantity.compare import longer
from mitertool.quantity.problem import Problem, lengths
from mitertool.saw import Reach, Saw
from mitertool.saw.setting.asked import Asked
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.nest import Done, Item, Plan, Stock
    from mitertool.nest.work import Progress


def solve(
    job: Job,
    done: Done | None = None,
    effort: float = 1.0,
    time_limit: float | None = None,
    progress: Progress | None = None,
    every_way: bool = False,
) -> Solution:
    """Everything that a packet shows. Problems are listed in the answer, not raised; the plan is of what fits.

    `done`, `effort`, `time_limit` (seconds) and `progress` go to the search for bars as `nest.solve` tells. With
    `every_way` the plan tells of all ways beside it also where the job fixes one.
    """
    search = {"done": done, "effort": effort, "time_limit": time_limit, "progress": progress, "every_way": every_way}
    asked = Asked(job.saw) if job.saw else None
    pieces = tuple(solved for order in job.pieces for solved in _hands(order, asked))
    wrong = tuple(problem for piece in pieces for problem in _against(piece, job.saw))
    bars = _planned(job, pieces, asked, wrong, search)
    settings = numbered(cuts_in_order(bars.runs, pieces, bars.recuts))
    pieces = tuple(as_planned(piece, settings, bars.plan) for piece in pieces)
    past = (corner for frame in job.frames for corner in past_the_scale(frame.assembly, job.swing_most))
    wanted = [solved for order in job.whole for solved in _hands(order, asked)] if taken(job) else []
    again = recut_pieces(job, wanted, asked)
    found = (*bars.wrong, *bars.without)
    made = (bars.plan, found, tuple(past), bars.runs, bars.refused, bars.recuts, again)
    return Solution(job, pieces, job.frames, *made)


@attrs.frozen
class _Bars:
    """The plan of what can be made, as the saw works it off; what is `wrong` with marks, and those `without` a bar."""

    plan: Plan | None
    runs: tuple[Run, ...]
    wrong: tuple[Problem, ...]
    without: tuple[Problem, ...] = ()
    recuts: tuple[RecutRun, ...] = ()

    @property
    def refused(self) -> frozenset[str]:
        """The marks that go on no bar, because they cannot be made."""
        return frozenset(problem.mark for problem in self.wrong)


def _planned(
    job: Job, pieces: tuple[SolvedPiece, ...], asked: Asked | None, wrong: tuple[Problem, ...], search: dict[str, Any]
) -> _Bars:
    """The bars without the marks that are `wrong`, nor those that the saw does not make as a plan sets them."""
    if job.allowance is None:
        return _Bars(None, (), wrong)
    without: tuple[Problem, ...] = ()
    work = bar_work(job, pieces, {problem.mark for problem in wrong}, search["done"])
    terms = {**_terms(job, asked), **{key: search[key] for key in ("effort", "time_limit", "progress")}}
    try:
        plan = nest.solve(*work, **terms)
    except nest.NoBars as error:
        plan, without = error.plan, error.problems
    if search["every_way"] and terms["way"] is not None:
        plan = _beside_every_way(plan, work, terms)
    worked = runs(plan, pieces, asked)
    against = tuple(on_bars(worked))
    if against:
        return _planned(job, pieces, asked, (*wrong, *against), search)
    apart = _with_scraps(job, job.allowance, plan, worked)
    if apart is not plan:
        plan, worked = apart, runs(apart, pieces, asked)
    return _Bars(plan, worked, wrong, without, recut_runs(plan, pieces, asked))


def _with_scraps(job: Job, allowance: Allowance, plan: Plan, worked: Sequence[Run]) -> Plan:
    """The plan with a scrap where a bar that does not go back on the rack has room for one in place of a shaving."""
    keep = job.rack.keep if job.rack else None

    def spare(number: int) -> float:
        kept = keep is not None and not longer(keep, plan.bars[number].left_whole)
        return 0.0 if kept else worked[number].spare(allowance.grip)

    return nest.with_scraps(plan, allowance, spare)


def _beside_every_way(plan: Plan, work: tuple[list[Item], list[Stock], Allowance], terms: dict[str, Any]) -> Plan:
    """The plan with all ways beside it, of the pieces that it has on bars."""
    items, stock, allowance = work
    out = dict(plan.left_out)
    fitting = [attrs.evolve(item, quantity=item.quantity - out.get(item.mark, 0)) for item in items]
    others = nest.solve(fitting, stock, allowance, **{**terms, "way": None}).alternatives
    return attrs.evolve(plan, alternatives=(*plan.alternatives[:1], *others[1:]))


def _against(piece: SolvedPiece, saw: Saw | None) -> Iterator[Problem]:
    """Every reason why a piece cannot be made, wherever it lies."""
    yield from piece.problems
    yield from _too_short(piece, saw)


def _too_short(piece: SolvedPiece, saw: Saw | None) -> Iterator[Problem]:
    """That a piece is shorter than anything the saw's feed takes hold of, where the file says how short that is."""
    least = saw.feed.shortest if saw and saw.feed else 0.0
    if longer(least, piece.piece.long_point):
        yield Problem(piece.mark, "", "too-short", lengths(have=piece.piece.long_point, need=least))


def _hands(order: PieceOrder, saw: Asked | None) -> Iterator[SolvedPiece]:
    """The piece as drawn and its opposite hand; one entry where the opposite hand is the same piece."""
    if order.opposite and order.is_own_opposite:
        yield _solved(order, order.mark, "as drawn", order.piece, order.quantity + order.opposite, saw)
        return
    if order.quantity:
        yield _solved(order, order.mark, "as drawn", order.piece, order.quantity, saw)
    if order.opposite:
        yield _solved(order, order.opposite_mark, "opposite", order.piece.opposite_hand(), order.opposite, saw)


def _solved(order: PieceOrder, mark: str, hand: str, piece: Piece, quantity: int, saw: Asked | None) -> SolvedPiece:
    """One hand with its settings; the other hand of a box is cut as the first is set."""
    drawn, pose = _laid(order.in_vise(order.piece), saw, order.turn)
    alike = piece is order.piece or order.boxed
    own, pose = (drawn, pose) if alike else _laid(order.in_vise(piece), saw, order.turn)
    return SolvedPiece(order, mark, hand, piece, quantity, *own, drawn, pose)


def _laid(piece: Piece, saw: Asked | None, turn: tuple[str, ...]) -> tuple[tuple[Reach | None, Reach | None], str]:
    """The settings of both ends and the first pose in which the saw makes them; laid over or as drawn where in none."""
    if saw is None:
        return (None, None), POSES[0]
    pose = next(poses_that_work(piece, saw, turn), "")
    if pose:
        return posed_reaches(piece, saw, pose), pose
    both = reaches(piece, saw)
    return both if all(reach and reach.ok for reach in both) else posed_reaches(piece, saw, POSES[0]), POSES[0]


def as_planned(piece: SolvedPiece, settings: Sequence[JobSetting], plan: Plan | None) -> SolvedPiece:
    """The piece with the ways in which the bars set its ends."""
    if plan is None:
        return piece
    uses = ((use, setting) for setting in settings for use in setting.uses if use.mark == piece.mark)
    return attrs.evolve(piece, ways=tuple(EndWay.by(use, setting.reach, setting.number) for use, setting in uses))


def bar_work(
    job: Job, pieces: tuple[SolvedPiece, ...], refused: Container[str] = (), done: Done | None = None
) -> tuple[list[Item], list[Stock], Allowance]:
    """What the search for bars is given: the pieces of a job, its stock, and what the saw takes.

    `refused` marks go on no bar; what is `done` is taken out. Bars that are cut at once are one bar there.
    """
    if job.allowance is None:
        raise BadInput("stock", phrase("found.nothing"), phrase("refuse.no-stock"), (job.path.name,))
    orders = [(p, nest.Item(p.mark, p.piece.blank, p.quantity, p.order.grade, p.order.turn)) for p in pieces]
    items, stock = nest.remaining([item for _, item in orders], job.stock, done or nest.Done())
    rows = [_in_rows(p, item, refused) for (p, _), item in zip(orders, items, strict=True) if not p.is_extra]
    return rows, [*stock, *stock_in_rows(rows, stock)], job.allowance


def _in_rows(piece: SolvedPiece, item: Item, refused: Container[str]) -> Item:
    """The item as so many rows; the last one gives some to spare where part of a row is done."""
    out = any(mark in refused for mark in (piece.mark, piece.comes_with) if mark)
    return attrs.evolve(item, piece=piece.in_vise.blank, quantity=-(-item.quantity // piece.order.a_cut), refused=out)


def _terms(job: Job, asked: Asked | None) -> dict[str, Any]:
    """How the job asks for its bars, what the saw makes, and what its work costs where the shop gives its rates."""
    if asked is None:
        return {"way": job.way}
    saw = asked.saw
    handling = nest.Handling(saw.handling.roll_most, saw.handling.turn_most)
    terms = {"way": job.way, "arm": asked, "handling": handling}
    rates = rates_of(saw)
    return {**terms, "rates": rates} if rates else terms
