"""The record of a plan: its bars with the places of pieces and cuts, what it costs, how good it is known to be."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.nest.way_names import WAYS
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
    wide_mm=told.figure("record.lies.wide_mm", lambda s: s.width),
    high_mm=told.figure("record.lies.high_mm", lambda s: s.height),
    lies=told.text("record.lies.lies", _lies),
)

PIECE_OF_BAR: Final[told.Record[Placed]] = told.record_of(
    mark=told.text("record.piece-of-bar.mark"),
    pose=told.Field(pose),
    at_mm=told.figure("record.piece-of-bar.at_mm"),
    lay_deg=told.figure("record.piece-of-bar.lay_deg"),
    recut=told.one_of(("", "left", "right"), "record.piece-of-bar.recut"),
    blank_mm=told.figure("record.piece-of-bar.blank_mm"),
)

_CUT_OF_BAR: Final[told.Record[SawCut]] = told.record_of(
    at_mm=told.figure("record.cut-of-bar.at_mm"),
    fixed_mm=told.figure("record.cut-of-bar.fixed_mm"),
    moving_mm=told.figure("record.cut-of-bar.moving_mm"),
    shared=told.flag("record.cut-of-bar.shared"),
    kerf=told.one_of(
        ("before", "past"),
        "record.cut-of-bar.kerf",
        lambda c: c.kerf_lies,
    ),
    swing_deg=told.figure("record.cut-of-bar.swing_deg"),
    tilt_deg=told.figure("record.cut-of-bar.tilt_deg"),
    roll_deg=told.figure("record.cut-of-bar.roll_deg"),
)

_AT_ONCE: Final[told.Field[Bar]] = attrs.evolve(
    told.whole("record.at-once", _abreast),
    when=lambda bar: _abreast(bar) > 1,
)

_BAR: Final[told.Record[Bar]] = told.record_of(
    section=told.text("record.bar.section", lambda b: b.section.name),
    single=attrs.evolve(
        told.text("record.bar.single", lambda b: b.section.one_bar.name), when=lambda bar: _abreast(bar) > 1
    ),
    **LIES.within(lambda b: b.section),
    grade=told.text("record.bar.grade"),
    stock_length_mm=told.figure("record.bar.stock_length_mm"),
    count=told.whole("record.bar.count"),
    side_by_side=_AT_ONCE,
    pieces=told.records(PIECE_OF_BAR, "record.bar.pieces", "record.bar.pieces.2"),
    drop_mm=told.figure("record.bar.drop_mm"),
    left_whole_mm=attrs.evolve(
        told.figure("record.bar.left_whole_mm", lambda b: b.left_whole), when=lambda bar: bool(bar.cuts)
    ),
    swings=told.whole("record.bar.swings"),
    rolls=told.whole("record.bar.rolls"),
    tilts=told.whole("record.bar.tilts"),
    rests_mm=attrs.evolve(told.figures("record.bar.rests_mm", lambda b: b.rests), when=lambda bar: bool(bar.cuts)),
    cuts=told.records(_CUT_OF_BAR, "record.bar.cuts.one", "record.bar.cuts"),
)

_GROUP_WAY: Final[told.Record[GroupWay]] = told.record_of(
    section=told.text("record.group-way.section"),
    grade=told.text("record.group-way.grade"),
    way=told.one_of(WAYS, "record.group-way.way"),
)

_STEEL: Final[told.Record[Steel]] = told.record_of(
    bought=told.figure("record.steel.bought"),
    pieces=told.figure("record.steel.pieces"),
    kerf=told.figure("record.steel.kerf"),
    wedges=told.figure("record.steel.wedges"),
    trim=told.figure("record.steel.trim"),
    grip=told.figure("record.steel.grip"),
    drops=told.figure("record.steel.drops"),
)

_BOUND: Final[told.Record[Bound]] = told.record_of(
    section=told.text("record.bound.section"),
    grade=told.text("record.bound.grade"),
    cost=told.figure("record.bound.cost"),
    how=told.text("record.bound.how"),
    plain=told.figure("record.bound.plain"),
    worth=told.by_name("number", "record.bound.worth"),
)

_SEARCHED: Final[told.Record[Plan]] = told.record_of(
    objective=told.text("record.searched.objective"),
    setups_bound=told.figure("record.searched.setups_bound"),
    tip_to_tip_cost=told.known("record.searched.tip_to_tip_cost", lambda p: p.tip_to_tip),
    shop_cost=told.known("record.searched.shop_cost"),
    shop_bound=told.known("record.searched.shop_bound"),
    minutes=told.known("record.searched.minutes"),
    stopped=told.text("record.searched.stopped"),
    left_out=told.by_name("integer", "record.searched.left_out"),
    way=told.one_of(WAYS, "record.searched.way"),
    ways=told.records(_GROUP_WAY, "record.searched.ways", "record.searched.ways.2"),
    loads=told.whole("record.searched.loads"),
    cuts=told.whole("record.searched.cuts"),
    recut_count=told.whole("record.searched.recut_count"),
    blade_minutes=told.known("record.searched.blade_minutes"),
    remarks=told.texts(
        *("record.searched.remarks.one", "record.searched.remarks"),
        lambda p: (one.in_units("mm") for one in p.remarks),
    ),
    within=told.texts("record.searched.within.one", "record.searched.within"),
    steel_mm=told.record(_STEEL, "record.searched.steel_mm"),
    bounds=told.records(_BOUND, "record.searched.bounds.one", "record.searched.bounds"),
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
            *(_BAR, "record.plan.bars", "record.plan.bars.2"),
            lambda p: p.bars if p else (),
        ),
        "cost": told.figure("record.plan.cost", _of_plan(lambda p: p.cost)),
        "lower_bound": told.figure("record.plan.lower_bound", _of_plan(lambda p: p.lower_bound)),
        "proved": told.flag("record.plan.proved", lambda p: p is not None and p.proved),
        "swings": told.whole("record.plan.swings", lambda p: p.swings if p else 0),
        "rolls": told.whole("record.plan.rolls", lambda p: p.rolls if p else 0),
        "tilts": told.whole("record.plan.tilts", lambda p: p.tilts if p else 0),
        **{key: attrs.evolve(one, when=lambda plan: plan is not None) for key, one in _SEARCHED.within(_there).items()},
    },
    {"dependentRequired": {key: [other for other in _SEARCHED.fields if other != key] for key in _SEARCHED.fields}},
)
"""A plan; an empty one where the job gives no stock."""

of_plan = PLAN.of
