"""`mitertool nest`: the bars of a job, how good the plan is, other ways beside it; knows job and packet's records."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any

import typer

from mitertool import job as jobs
from mitertool.base.errors import CannotMake
from mitertool.cli.bar_cost import BarCost
from mitertool.cli.commands import command, options
from mitertool.cli.how_many import HowMany, tell_how_many
from mitertool.cli.job_file import JOB, SawOfAJob
from mitertool.cli.options import aligned, answer
from mitertool.cli.progress import progress
from mitertool.job import Solution
from mitertool.job.done import read_done
from mitertool.nest import Alternative, Placed, Plan
from mitertool.packet.cautions import SHORT, for_job
from mitertool.packet.records import of_further, of_plan
from mitertool.quantity import Units, plain_number, show_length
from mitertool.words import phrase


@options
class NestOptions(SawOfAJob, HowMany):
    """A job and how its bars are planned, or a piece and a bar."""

    job: Annotated[Path | None, JOB] = None
    compare: Annotated[bool, typer.Option("--compare", help="Show the other ways beside the chosen one.")] = False
    done: Annotated[Path | None, typer.Option("--done", help="CSV of what is already cut; plans the rest.")] = None
    anyway: Annotated[bool, typer.Option("--anyway", help="Plan what fits where some pieces do not.")] = False
    effort: Annotated[str, typer.Option(help="How hard to search, 1 is usual; counted in work.")] = "1"
    time_limit: Annotated[str, typer.Option(help="Seconds after which the best plan so far is taken.")] = ""


@command(
    NestOptions,
    "nest job.toml",
    "nest job.toml --compare",
    "nest job.toml --effort 0.1 --time-limit 20 --json",
    "nest --section 'RHS 80x40x3' --length 1200 --left 45 --right 45 --bar 6000 --kerf 1.3",
)
def nest(o: NestOptions) -> None:
    """Put the pieces of a job on bars with the least steel and the fewest set-ups, and say how good that is.

    Or say how many pieces of one kind a bar gives: --section, --length and --bar instead of a job.
    """
    if o.job is None:
        tell_how_many(o, o.unit_or("mm"))
        return
    o.refuse_beside(o.job)
    work = o.read_from(o.job)
    unit = o.unit_or(work.head.units)
    amount = plain_number(o.effort, "--effort")
    limit = plain_number(o.time_limit, "--time-limit") if o.time_limit else None
    finished = read_done(o.done, work) if o.done else None
    cost = BarCost.of(work, unit)
    with progress(quiet=o.as_json) as tell:
        solution = jobs.solve(work, finished, amount, limit, lambda *so_far: tell(*_so_far(cost, *so_far)))
    if solution.plan is None:
        raise CannotMake((*solution.problems, "the job has no [[stock]]: nothing to plan bars from"))
    if solution.problems and not o.anyway:
        raise CannotMake(solution.refusal)
    others = solution.plan.alternatives if o.compare else ()
    record = {
        **of_plan(solution.plan),
        **of_further(solution),
        **({"alternatives": [_record(one) for one in others]} if o.compare else {}),
    }
    problems = [f"cannot be made: {problem}" for problem in solution.problems]
    answer(
        {**record, "problems": list(solution.problems)},
        [*_lines(solution, cost), *_compared(others, cost), *problems],
        o,
        (for_job(solution) or SHORT) if solution.plan.bars else "",
    )


def _so_far(cost: BarCost, best: float, bound: float) -> tuple[float, str]:
    """The share that is proved, and what stands; steel that costs nothing cannot cost less."""
    return bound / best if best else 1.0, cost.so_far(best, bound)


def _lines(solution: Solution, cost: BarCost) -> list[str]:
    plan = solution.plan
    assert plan is not None
    out = [f"On no bar: {solution.on_no_bar}"] if plan.left_out else []
    if not plan.bars:
        return [f"no bar is cut: {'no piece goes on one' if out else 'nothing is left to do'}", *out]
    told = [remark.in_units(cost.units) for remark in plan.remarks]
    return [*_bars(plan, cost.units), *_recuts(plan, cost.units), *_worth(solution, plan, cost), *told, *out]


def _bars(plan: Plan, unit: Units) -> list[str]:
    rows = [("bars", "section", "length", "drop", "pieces, each with its leading cut on the centerline")]
    for bar in plan.bars:
        placed = ", ".join(_placed(one, unit) for one in bar.pieces)
        lengths = (show_length(bar.stock_length, unit), show_length(bar.drop, unit))
        rows.append((str(bar.count), bar.section.name, *lengths, placed))
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


def _worth(solution: Solution, plan: Plan, cost: BarCost) -> list[str]:
    """What the bars cost and take to set up, and how much less any plan could."""
    best = "proved best" if plan.proved else "not proved best"
    tip = "" if plan.tip_to_tip is None else f"; tip to tip, first fit, {_would(cost)} {cost.show(plan.tip_to_tip)}"
    tilts = f", {plan.tilts} tilts" if plan.tilts else ""
    setups = f"set-ups: {plan.swings} swings{tilts}, {plan.rolls} rolls; no plan so cut below {plan.setups_bound}"
    more = f"; {solution.further_swings} swings more for further cuts on the pieces" if solution.further else ""
    verdict = f": {best}" if plan.shop_cost is None else ""
    return [
        f"{cost.word(plan)} {cost.show(plan.cost)}; {', '.join(plan.within)}, "
        f"no plan below {cost.least(plan.lower_bound)}{verdict}{tip}",
        f"{setups}{more}. Objective: {plan.objective}",
        *_in_all(plan),
        *([f"the search ended early: {plan.stopped}"] if plan.stopped else []),
    ]


def _in_all(plan: Plan) -> Iterator[str]:
    """What steel and work cost together, where they are added up."""
    if plan.shop_cost is not None and plan.shop_bound is not None:
        code = "nest.in-all-proved" if plan.proved else "nest.in-all"
        minutes = f"{(plan.minutes or 0.0) + (plan.blade_minutes or 0.0):.0f}"
        yield phrase(code, money=f"{plan.shop_cost:.2f}", minutes=minutes, bound=f"{plan.shop_bound:.2f}")


def _would(cost: BarCost) -> str:
    return "would cost" if cost.priced else "would take"


def _compared(others: tuple[Alternative, ...], cost: BarCost) -> list[str]:
    if not others:
        return []
    tilting = any(one.tilts for one in others)
    setups = ("swings", *(("tilts",) if tilting else ()), "rolls")
    word = cost.word(*others)
    costs = () if word == "steel" else (word,)
    head = {code: phrase(f"nest.{code}") for code in ("cuts", "recuts", "loads", "minutes", "money")}
    rows = [("", head["cuts"], head["recuts"], *setups, head["loads"], "steel", *costs, head["minutes"], head["money"])]
    for one in others:
        rates = ("-" if one.minutes is None else f"{one.minutes:.0f}", "-" if one.money is None else f"{one.money:.2f}")
        counts = (one.cuts, one.recuts, one.swings, *((one.tilts,) if tilting else ()), one.rolls, one.loads)
        paid = (cost.show(one.cost),) if costs else ()
        rows.append((one.name, *map(str, counts), show_length(one.steel, cost.units), *paid, *rates))
    return ["", *aligned(rows)]


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
