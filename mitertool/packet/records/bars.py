"""The record of a plan: its bars with the places of pieces and cuts, what it costs, how good it is known to be."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.nest.plan import BAR_BY_BAR, BY_SETTING, WAYS
from mitertool.packet.records import fields as told
from mitertool.packet.records.piece import pose
from mitertool.quantity import schema as kind
from mitertool.quantity.tables import FORMAT

if TYPE_CHECKING:
    from mitertool.nest.plan import Bar, Bound, GroupWay, Placed, Plan, SawCut, Steel
    from mitertool.sections import Section


def _lies(section: Section) -> str:
    from mitertool.packet.words import lies

    return lies(section)


def _abreast(bar: Bar) -> int:
    return bar.section.bars


LIES: Final[told.Record[Section]] = told.record_of(
    wide_mm=told.figure("How wide the section is, across the bed, as it lies.", lambda s: s.width),
    high_mm=told.figure("How high the section is, above the bed, as it lies.", lambda s: s.height),
    lies=told.text("How it lies, in words; empty where its width and height tell.", _lies),
)

PIECE_OF_BAR: Final[told.Record[Placed]] = told.record_of(
    mark=told.text("The mark of the piece."),
    pose=told.Field(pose),
    at_mm=told.figure("Where the leading cut crosses the centerline, from the bar's leading end."),
    lay_deg=told.figure("How far the bar is rolled from how it lies until the piece lies as its lay says."),
    recut=told.one_of(("", "left", "right"), "The end, as drawn, that is cut later from a blank; empty of a piece."),
    blank_mm=told.figure("The length of the blank on the centerline; 0 of a finished piece."),
)

_CUT_OF_BAR: Final[told.Record[SawCut]] = told.record_of(
    at_mm=told.figure("Where the face crosses the centerline, from the bar's leading end."),
    fixed_mm=told.figure("Where the face crosses the bottom of the fixed side, from the bar's leading end."),
    moving_mm=told.figure("Where the face crosses the bottom of the moving side, from the bar's leading end."),
    shared=told.flag("Whether the cut parts two pieces."),
    kerf=told.one_of(
        ("before", "past"),
        "Where the kerf lies of those places: toward the leading end, or past them.",
        lambda c: c.kerf_lies,
    ),
    swing_deg=told.figure("The swing of the arm from square, positive to the feed side."),
    tilt_deg=told.figure("How far the blade is tilted; 0 where it is not."),
    roll_deg=told.figure("How far the bar is rolled about its own axis; 0 where it is not."),
)

_AT_ONCE: Final[told.Field[Bar]] = attrs.evolve(
    told.whole("How many bars lie side by side in the vise and are cut at once; told where more than one.", _abreast),
    when=lambda bar: _abreast(bar) > 1,
)

_BAR: Final[told.Record[Bar]] = told.record_of(
    section=told.text("The section of the bar.", lambda b: b.section.name),
    **LIES.within(lambda b: b.section),
    grade=told.text("The grade of the bar; empty where none is given."),
    stock_length_mm=told.figure("The length of the bar as bought."),
    count=told.whole("How many bars are cut alike."),
    side_by_side=_AT_ONCE,
    pieces=told.records(PIECE_OF_BAR, "A piece on the bar.", "The pieces in the order in which they are cut."),
    drop_mm=told.figure("What is left of the bar behind the last kerf, on the centerline."),
    swings=told.whole("How often the arm is swung from the first cut of the bar to its last."),
    rolls=told.whole("How often the bar is rolled, for its first cut too."),
    tilts=told.whole("How often the blade is tilted."),
    cuts=told.records(_CUT_OF_BAR, "A cut.", "The cuts in the order of work."),
)

_GROUP_WAY: Final[told.Record[GroupWay]] = told.record_of(
    section=told.text("The section."),
    grade=told.text("The grade; empty where none is given."),
    way=told.one_of((BAR_BY_BAR, BY_SETTING), "How its bars are worked off."),
)

_STEEL: Final[told.Record[Steel]] = told.record_of(
    bought=told.figure("All bars of the plan, the sum of what follows."),
    pieces=told.figure("In the pieces."),
    kerf=told.figure("In the kerfs."),
    wedges=told.figure("In the wedges between cuts that are not parallel."),
    trim=told.figure("In the trims of raw ends."),
    grip=told.figure("In what the vise must hold."),
    drops=told.figure("In the drops."),
)

_BOUND: Final[told.Record[Bound]] = told.record_of(
    section=told.text("The section."),
    grade=told.text("The grade; empty where none is given."),
    cost=told.figure("What any plan for this section and grade costs at least."),
    how=told.text("How that was found: material or prices."),
    plain=told.figure("The same before it is raised to what whole bars can cost."),
    worth=told.by_name("number", "The weight or the price of a piece, by mark."),
)

_SEARCHED: Final[told.Record[Plan]] = told.record_of(
    objective=told.text("What the plan makes least: steel, then set-ups; or cost, where all rates are given."),
    setups_bound=told.figure("Swings, tilts and rolls together that any plan has at least."),
    tip_to_tip_cost=told.known(
        "What the bars cost with every piece counted tip to tip; null where stock runs out.", lambda p: p.tip_to_tip
    ),
    shop_cost=told.known("What steel and set-ups cost; null without rates."),
    shop_bound=told.known("What steel and set-ups cost at least; null without rates."),
    minutes=told.known("The minutes of all set-ups; null without rates."),
    stopped=told.text("Why the search ended early: effort, time or interrupted; empty where it did not."),
    left_out=told.by_name("integer", "How many pieces of a mark are on no bar: too many, too long or not to be made."),
    way=told.one_of(WAYS, "How the bars are worked off."),
    ways=told.records(_GROUP_WAY, "A section and grade.", "The same for each section and grade."),
    loads=told.whole("Bars that are laid on the feed."),
    cuts=told.whole("Cuts of all bars and of recuts."),
    recut_count=told.whole("Blanks that get their other end."),
    blade_minutes=told.known("The minutes of the blade in all cuts; null without the shop's own rates."),
    remarks=told.texts(
        *("A sentence.", "What of the ways and of the cost could not be had, and why."),
        lambda p: (one.in_units("mm") for one in p.remarks),
    ),
    within=told.texts("A clause.", "Which plans were searched: no plan outside of them is said to cost more."),
    steel_mm=told.record(_STEEL, "Where the steel goes, on the centerline."),
    bounds=told.records(_BOUND, "A bound.", "How the lower bound was found."),
)
"""What a plan tells besides where the job gives stock."""


def _of_plan(key: Callable[[Plan], float]) -> Callable[[Plan | None], float]:
    """A figure of the plan; 0 where the job gives no stock."""
    return lambda plan: 0 if plan is None else key(plan)


def _there(plan: Plan | None) -> Plan:
    """The plan that a record is taken from only where there is one."""
    assert plan is not None
    return plan


PLAN: Final[told.Record[Plan | None]] = told.Record(
    {
        "format": told.Field(kind.file_format, lambda _: FORMAT),
        "bars": told.records(
            *(_BAR, "Bars that are cut alike.", "The bars in the order of work; none without stock."),
            lambda p: p.bars if p else (),
        ),
        "cost": told.figure(
            "What the bars cost; their length where the job gives no costs.", _of_plan(lambda p: p.cost)
        ),
        "lower_bound": told.figure("What any plan costs at least.", _of_plan(lambda p: p.lower_bound)),
        "proved": told.flag("Whether no plan is cheaper.", lambda p: p is not None and p.proved),
        "swings": told.whole("All swings of the arm for the bars.", lambda p: p.swings if p else 0),
        "rolls": told.whole("All rolls of bars.", lambda p: p.rolls if p else 0),
        "tilts": told.whole("All tilts of the blade.", lambda p: p.tilts if p else 0),
        **{key: attrs.evolve(one, when=lambda plan: plan is not None) for key, one in _SEARCHED.within(_there).items()},
    },
    {"dependentRequired": {key: [other for other in _SEARCHED.fields if other != key] for key in _SEARCHED.fields}},
)
"""A plan; an empty one where the job gives no stock."""

of_plan = PLAN.of
