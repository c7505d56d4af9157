"""`mitertool nest`: the bars of a job, how good the plan is, other ways beside it; knows job and packet's records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated, Any, Final

import typer

from mitertool import job as jobs
from mitertool.base.errors import CannotMake
from mitertool.cli.commands import command, options
from mitertool.cli.how_many import HowMany, tell_how_many
from mitertool.cli.job_file import JOB, SawOfAJob
from mitertool.cli.options import aligned, answer
from mitertool.cli.progress import progress
from mitertool.cli.solved import problem_lines
from mitertool.job import Solution
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.nest import Alternative, Placed, Plan
from mitertool.packet.bar_cost import BarCost
from mitertool.packet.cautions import for_job, short
from mitertool.packet.records import of_further, of_plan
from mitertool.packet.tables import way_rows
from mitertool.packet.words import section_words
from mitertool.quantity import Units, number_from_zero, show_length
from mitertool.words import phrase


@options
class NestOptions(SawOfAJob, HowMany):
    """A job and how its bars are planned, or a piece and a bar."""

    job: Annotated[Path | None, JOB] = None
    compare: Annotated[bool, typer.Option("--compare", help="option.nest.compare")] = False
    done: Annotated[Path | None, typer.Option("--done", help="option.nest.done")] = None
    anyway: Annotated[bool, typer.Option("--anyway", help="option.nest.anyway")] = False
    effort: Annotated[str, typer.Option(help="option.nest.effort")] = "1"
    time_limit: Annotated[str, typer.Option(help="option.nest.time-limit")] = ""


@command(
    NestOptions,
    "nest job.toml",
    "nest job.toml --compare",
    "nest job.toml --effort 0.1 --time-limit 20 --json",
    "nest --section 'RHS 80x40x3' --length 1200 --left 45 --right 45 --bar 6000 --kerf 1.3",
)
def nest(o: NestOptions) -> None:
    """What `mitertool nest` does."""
    if o.job is None:
        tell_how_many(o, o.unit_or("mm"))
        return
    o.refuse_beside(o.job)
    work = o.read_from(o.job)
    unit = o.unit_or(work.head.units)
    amount = number_from_zero(o.effort, "--effort")
    limit = number_from_zero(o.time_limit, "--time-limit") if o.time_limit else None
    work = rest_of(work, read_work(o.done, work)) if o.done else work
    cost = BarCost.of(work, unit)
    with progress(quiet=o.as_json) as tell:

        def so_far(best: float, bound: float, share: float) -> None:
            tell(share, cost.so_far(best, bound))

        solution = jobs.solve(work, None, amount, limit, so_far, o.compare)
    if solution.plan is None:
        raise CannotMake((*solution.problems, phrase("refuse.no-bars")))
    if solution.problems and not o.anyway:
        raise CannotMake(solution.refusal, solution.refusal_in_lines)
    others = solution.plan.alternatives if o.compare else ()
    answer(
        lambda: _of(solution, others if o.compare else None),
        [*_lines(solution, cost), *_compared(others, cost), *problem_lines(solution)],
        o,
        (for_job(solution) or short()) if solution.plan.bars else "",
    )


def _of(solution: Solution, others: Sequence[Alternative] | None) -> dict[str, Any]:
    """The plan of a solution as a record, and where they were asked for the other ways beside it."""
    assert solution.plan is not None
    compared = {} if others is None else {"alternatives": [_record(one) for one in others]}
    return {**of_plan(solution.plan), **of_further(solution), **compared, "problems": list(solution.problems)}


def _lines(solution: Solution, cost: BarCost) -> list[str]:
    plan = solution.plan
    assert plan is not None
    out = [phrase("screen.on-no-bar", pieces=solution.on_no_bar)] if plan.left_out else []
    if not plan.bars:
        return [phrase("screen.no-bar/none" if out else "screen.no-bar/done"), *out]
    told = [remark.in_units(cost.units) for remark in plan.remarks]
    return [*_bars(plan, cost.units), *_recuts(plan, cost.units), *_worth(solution, plan, cost), *told, *out]


def _bars(plan: Plan, unit: Units) -> list[str]:
    rows = [tuple(phrase(f"screen.{head}") for head in ("bars", "section", "length", "left-over", "placed"))]
    for bar in plan.bars:
        placed = ", ".join(_placed(one, unit) for one in bar.pieces)
        lengths = (show_length(bar.stock_length, unit), show_length(bar.left_over, unit))
        rows.append((str(bar.count), section_words(bar.section), *lengths, placed))
    return aligned(rows)


def _placed(one: Placed, unit: Units) -> str:
    at = show_length(one.at, unit)
    if not one.recut:
        return phrase("nest.placed", mark=one.mark, at=at)
    return phrase("nest.blank", mark=one.mark, at=at, length=show_length(one.blank, unit))


def _recuts(plan: Plan, unit: Units) -> Iterator[str]:
    """The other ends of blanks, in the order of work."""
    for one in plan.recuts:
        words = {"end": phrase(f"end.{one.end}"), "length": show_length(one.length, unit)}
        yield phrase("nest.recut", count=one.count, mark=one.mark, bars=one.after, **words)


_SET_UPS: Final = {
    (True, False): "screen.set-ups",
    (True, True): "screen.set-ups/tilts",
    (False, False): "screen.set-ups/steel",
    (False, True): "screen.set-ups/steel-tilts",
}
"""By whether all is added up as cost, and whether the blade is tilted."""


def _worth(solution: Solution, plan: Plan, cost: BarCost) -> list[str]:
    """What the bars cost and take to set up, and how much less any plan could."""
    best = phrase(
        _verdict(plan),
        what=cost.word(plan),
        cost=cost.show(plan.cost),
        within=", ".join(plan.within),
        bound=cost.least(plan.lower_bound),
    )
    setups = phrase(
        _SET_UPS[plan.objective == "cost", bool(plan.tilts)],
        swings=plan.swings,
        tilts=plan.tilts,
        rolls=plan.rolls,
        bound=plan.setups_bound,
    )
    more = [phrase("screen.more-swings", swings=solution.further_swings)] if solution.further else []
    return [
        "; ".join((best, *_first_fit(plan, cost))),
        phrase("screen.objective", set_ups="; ".join((setups, *more)), objective=_objective(plan)),
        *_in_all(plan),
        *([phrase("screen.stopped", why=phrase(f"plan.stopped/{plan.stopped}"))] if plan.stopped else []),
    ]


def _verdict(plan: Plan) -> str:
    """What is said of the steel; where steel and work are added up, what no plan is below is told of both."""
    if plan.shop_cost is not None:
        return "screen.bounded"
    return "screen.proved" if plan.proved else "screen.not-proved"


def _in_all(plan: Plan) -> Iterator[str]:
    """What steel and work cost together, where they are added up."""
    if plan.shop_cost is not None and plan.shop_bound is not None:
        code = "nest.in-all-proved" if plan.proved else "nest.in-all"
        minutes = f"{(plan.minutes or 0.0) + (plan.blade_minutes or 0.0):.0f}"
        yield phrase(code, money=f"{plan.shop_cost:.2f}", minutes=minutes, bound=f"{plan.shop_bound:.2f}")


def _objective(plan: Plan) -> str:
    return phrase("plan.objective/cost" if plan.objective == "cost" else "plan.objective/steel")


def _first_fit(plan: Plan, cost: BarCost) -> list[str]:
    if plan.tip_to_tip is None:
        return []
    return [
        phrase("screen.first-fit/cost" if cost.priced else "screen.first-fit/take", cost=cost.show(plan.tip_to_tip))
    ]


def _compared(others: tuple[Alternative, ...], cost: BarCost) -> list[str]:
    return ["", *aligned(way_rows(others, cost))] if others else []


def _record(one: Alternative) -> dict[str, Any]:
    return {
        "name": one.name,
        "way": one.way,
        "cuts": one.cuts,
        "recuts": one.recuts,
        "swings": one.swings,
        "rolls": one.rolls,
        "tilts": one.tilts,
        "loads": one.loads,
        "steel_mm": one.steel,
        "cost": one.cost,
        "minutes": one.minutes,
        "money": one.money,
    }
