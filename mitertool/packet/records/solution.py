"""The record of a solved job, and with its plan, settings and runs that of plan.json."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final, cast

import attrs

from mitertool.packet.records import fields as told
from mitertool.packet.records.bars import LIES, PLAN
from mitertool.packet.records.parts import PARTS
from mitertool.packet.records.piece import CUT, ENDS, MARK, PARTICULARS, SAW, pose
from mitertool.packet.records.report import REPORT
from mitertool.quantity import schema as kind
from mitertool.quantity.problem import Problem
from mitertool.quantity.problem_words import CODES
from mitertool.quantity.tables import FORMAT
from mitertool.quantity.telling import Kind

if TYPE_CHECKING:
    from mitertool.frame import Closure, Joint, SpaceAssembly
    from mitertool.frame.assembly import BarInside
    from mitertool.frame.leaning import Leaning
    from mitertool.frame.rolls import RollBetween
    from mitertool.frame.setting_out import CheckMeasure, SetCorner
    from mitertool.frame.stops import StopLine
    from mitertool.job import Solution, SolvedPiece
    from mitertool.job.further import FurtherRow
    from mitertool.job.model import FrameOrder
    from mitertool.job.particulars import Particulars
    from mitertool.job.recut_pieces import RecutPiece
    from mitertool.job.recuts import RecutRun
    from mitertool.job.report import Report
    from mitertool.job.runs import Run
    from mitertool.job.settings import JobSetting, Use
    from mitertool.nest import Stock
    from mitertool.quantity.schema import Schema
    from mitertool.saw import Reach
    from mitertool.saw.feed.feed import FeedLine, SetCut
    from mitertool.saw.feed.stops import Stop, Tally

_JOINT: Final[told.Record[Joint]] = told.record_of(
    kind=told.text("record.joint.kind"),
    gap_mm=told.figure("record.joint.gap_mm"),
    reach_mm=attrs.evolve(told.figure("record.joint.reach_mm"), when=lambda joint: joint.reach > 0),
    cap_mm=attrs.evolve(told.figure("record.joint.cap_mm"), when=lambda joint: joint.cap > 0),
)

_CLOSURE: Final[told.Record[Closure]] = told.record_of(
    gap_mm=told.figure("record.closure.gap_mm"),
    overlap_mm=told.figure("record.closure.overlap_mm"),
    rounded_gap_mm=told.figure("record.closure.rounded_gap_mm"),
)

_LEANING: Final[told.Record[Leaning]] = told.record_of(
    mark=told.text("record.leaning.mark"),
    slope_deg=told.figure("record.leaning.slope_deg"),
    slant_mm=told.figure("record.leaning.slant_mm"),
    dihedral_deg=told.figure("record.leaning.dihedral_deg"),
    face_up=told.one_of(("outside", ""), "record.leaning.face_up"),
    outside_bottom_mm=told.known("record.leaning.outside_bottom_mm", lambda one: one.outside and one.outside[0]),
    outside_top_mm=told.known("record.leaning.outside_top_mm", lambda one: one.outside and one.outside[1]),
    inside_bottom_mm=told.known("record.leaning.inside_bottom_mm", lambda one: one.inside and one.inside[0]),
    inside_top_mm=told.known("record.leaning.inside_top_mm", lambda one: one.inside and one.inside[1]),
    on_edge=told.record(CUT, "record.leaning.on_edge"),
    fixture_roll_deg=told.figure("record.leaning.fixture_roll_deg", lambda one: one.fixture[0]),
    fixture_swing_deg=told.figure("record.leaning.fixture_swing_deg", lambda one: one.fixture[1]),
)

_TURN: Final[told.Record[RollBetween]] = told.record_of(
    mark=told.text("record.turn.mark"),
    roll_deg=told.figure("record.turn.roll_deg", lambda turn: turn.both_ways),
    skin_mm=told.known("record.turn.skin_mm", lambda turn: turn.both_ways_arc),
    one_way_deg=told.figure("record.turn.one_way_deg", lambda turn: turn.one_way),
    left_swing_deg=told.figure("record.turn.left_swing_deg", lambda turn: turn.swings[0]),
    right_swing_deg=told.figure("record.turn.right_swing_deg", lambda turn: turn.swings[1]),
)


_IN_SPACE: Final[told.Record[SpaceAssembly]] = told.record_of(
    leaning=told.records(_LEANING, "record.assembly.leaning.one", "record.assembly.leaning"),
    turns=told.records(_TURN, "record.assembly.turns.one", "record.assembly.turns"),
    twists_deg=told.figures("record.assembly.twists"),
)


def _in_space() -> dict[str, told.Field[FrameOrder]]:
    """What only frames in space have."""

    def space(order: FrameOrder) -> SpaceAssembly:
        return cast("SpaceAssembly", order.assembly)

    fields = _IN_SPACE.within(space)
    return {key: attrs.evolve(one, when=lambda f: not f.assembly.in_plan) for key, one in fields.items()}


_INSIDE: Final[told.Record[tuple[FrameOrder, BarInside]]] = told.record_of(
    mark=told.text("record.inside.mark", lambda b: b[1].mark),
    bars=told.text("record.inside.bars", lambda b: b[1].called),
    pose=told.Field(pose, lambda b: b[1].pose),
    x_mm=told.figure("record.inside.x_mm", lambda b: b[0].from_corner(b[1].start).real),
    y_mm=told.figure("record.inside.y_mm", lambda b: b[0].from_corner(b[1].start).imag),
    way_deg=told.figure("record.inside.way_deg", lambda b: b[1].way),
)

_CORNER: Final[told.Record[SetCorner]] = told.record_of(
    number=told.whole("record.corner.number"),
    x_mm=told.figure("record.corner.x_mm", lambda c: c.at.real),
    y_mm=told.figure("record.corner.y_mm", lambda c: c.at.imag),
)

_MEASURE: Final[told.Record[CheckMeasure]] = told.record_of(
    first=told.whole("record.measure.first"),
    second=told.whole("record.measure.second"),
    length_mm=told.figure("record.measure.length_mm"),
    corner=told.whole("record.measure.corner"),
    turn_deg=told.figure("record.measure.turn_deg"),
)


_STOP_LINE: Final[told.Record[tuple[FrameOrder, StopLine]]] = told.record_of(
    mark=told.text("record.stop-line.mark", lambda s: s[0].assembly.every[s[1].host]),
    side=told.one_of(("outer", "inner"), "record.stop-line.side", lambda s: s[1].side),
    x_mm=told.figure("record.stop-line.x_mm", lambda s: s[1].first.real),
    y_mm=told.figure("record.stop-line.y_mm", lambda s: s[1].first.imag),
    to_x_mm=told.figure("record.stop-line.to_x_mm", lambda s: s[1].second.real),
    to_y_mm=told.figure("record.stop-line.to_y_mm", lambda s: s[1].second.imag),
    angle_deg=told.figure("record.stop-line.angle_deg", lambda s: s[1].angle),
)


_ASSEMBLY: Final[told.Record[FrameOrder]] = told.record_of(
    mark=told.text("record.assembly.mark", lambda f: f.assembly.mark),
    shape=told.text("record.assembly.shape", lambda f: f.assembly.shape),
    quantity=told.whole("record.assembly.quantity"),
    mirrored=attrs.evolve(told.whole("record.assembly.mirrored"), when=lambda f: f.mirrored > 0),
    **PARTICULARS.within(lambda f: f.particulars),
    order=told.texts(
        *("record.assembly.order", "record.assembly.order.2"),
        lambda f: f.assembly.order,
    ),
    joints=told.records(_JOINT, "record.assembly.joints.one", "record.assembly.joints", lambda f: f.assembly.joints),
    notes=told.texts(
        *("record.assembly.notes.one", "record.assembly.notes"),
        lambda f: (note.told_by(lambda length: f"{length:.6g} mm") for note in f.assembly.notes),
    ),
    inside=told.records(
        *(_INSIDE, "record.assembly.inside.one", "record.assembly.inside"),
        lambda f: ((f, bar) for bar in f.assembly.inside),
    ),
    corners=told.records(_CORNER, "record.assembly.corners.one", "record.assembly.corners"),
    measures=told.records(_MEASURE, "record.assembly.measures.one", "record.assembly.measures"),
    stops=attrs.evolve(
        told.records(
            *(_STOP_LINE, "record.assembly.stops.one", "record.assembly.stops"),
            lambda f: ((f, line) for line in f.stops),
        ),
        when=lambda f: f.out is not None,
    ),
    lean_deg=told.known("record.assembly.lean_deg", lambda f: f.out.lean if f.out else None),
    closure=told.record(_CLOSURE, "record.assembly.closure", lambda f: f.assembly.closure),
    **_in_space(),
)


def _marks(solution: Solution) -> list[SolvedPiece]:
    """One of the hands of each mark."""
    by_order: dict[str, SolvedPiece] = {}
    for piece in solution.pieces:
        by_order.setdefault(piece.order.mark, piece)
    return list(by_order.values())


_UNITS: Final[Mapping[Kind, str]] = {"length": "_mm", "angle": "_deg", "mass": "_kg", "count": ""}
"""What stands behind the name of a number; names of things are told in the sentence."""


def _numbers(problem: Problem) -> dict[str, Any]:
    return {f"{one.name}{_UNITS[one.kind]}": one.value for one in problem.numbers if one.kind in _UNITS}


_FOUND: Final[told.Record[Problem]] = told.record_of(
    mark=told.text("record.found.mark"),
    end=told.one_of(("", *ENDS), "record.found.end"),
    cut=told.whole("record.found.cut"),
    code=told.one_of(CODES, "record.found.code"),
    numbers=told.by_name("number", "record.found.numbers", _numbers),
    more=told.texts("record.found.more.one", "record.found.more", lambda p: [more.code for more in p.more]),
)


_STOCK: Final[told.Record[tuple[Stock, Particulars]]] = told.record_of(
    section=told.text("record.stock.section", lambda s: s[0].section),
    grade=told.text("record.stock.grade", lambda s: s[0].grade),
    length_mm=told.figure("record.stock.length_mm", lambda s: s[0].length),
    quantity=told.known("record.stock.quantity", lambda s: s[0].quantity),
    cost=told.known("record.stock.cost", lambda s: s[0].cost),
    **PARTICULARS.within(lambda s: s[1]),
)

SOLUTION: Final[told.Record[Solution]] = told.record_of(
    format=told.Field(kind.file_format, lambda _: FORMAT),
    job=told.text("record.solution.job", lambda s: s.job.head.name),
    revision=told.text("record.solution.revision", lambda s: s.job.head.revision),
    particulars=told.record(
        PARTICULARS,
        "record.solution.particulars",
        lambda s: s.job.head.particulars,
    ),
    stock=told.records(_STOCK, "record.solution.stock", "record.solution.stock.2", lambda s: s.job.on_stock),
    pieces=told.records(MARK, "record.solution.pieces.one", "record.solution.pieces", _marks),
    assemblies=told.records(
        _ASSEMBLY, "record.solution.assemblies.one", "record.solution.assemblies", lambda s: s.frames
    ),
    notes=told.texts(
        *("record.solution.notes.one", "record.solution.notes"),
        lambda s: (note.in_units("mm") for note in s.job.sections.notes),
    ),
    problems=told.texts("record.solution.problems.one", "record.solution.problems"),
    found=told.records(_FOUND, "record.solution.found.one", "record.solution.found"),
    problem_marks=told.texts("record.solution.problem_marks.one", "record.solution.problem_marks"),
)

_USE: Final[told.Record[Use]] = told.record_of(
    mark=told.text("record.use.mark"),
    end=told.one_of(ENDS, "record.use.end"),
    cut=told.whole("record.use.cut"),
    roll_deg=told.figure("record.use.roll_deg"),
    end_for_end=told.flag("record.use.end_for_end", lambda u: u.turned),
)

_SETTING: Final[told.Record[JobSetting]] = told.record_of(
    number=told.whole("record.setting.number"),
    section=told.text("record.setting.section", lambda s: s.reach.section.name),
    **LIES.within(lambda s: s.reach.section),
    grade=told.text("record.setting.grade"),
    scale_deg=told.figure("record.setting.scale_deg", lambda s: s.reach.scale),
    scale_side=told.text("record.setting.scale_side", lambda s: s.reach.scale_side),
    swing_deg=told.figure("record.setting.swing_deg", lambda s: s.reach.swing),
    tilt_deg=told.figure("record.setting.tilt_deg", lambda s: s.reach.tilt),
    makes=told.records(_USE, "record.setting.makes", "record.setting.makes.2", lambda s: s.uses),
)

_LINE: Final[told.Record[FeedLine]] = told.record_of(
    pieces=told.whole(
        "record.line.pieces",
        lambda f: f.quantity if f.counted else 0,
    ),
    mark=told.text("record.line.mark"),
    key_mm=told.known("record.line.key_mm", lambda f: None if f.untaken else f.key),
    travel_mm=told.known("record.line.travel_mm"),
    strokes=told.whole("record.line.strokes"),
    on=told.text("record.line.on"),
    set_before=told.texts(
        "record.line.set_before", "record.line.set_before.2", lambda f: (one.in_units("mm") for one in f.set_up)
    ),
    by_hand=told.text(
        "record.line.by_hand",
        lambda f: why.in_units("mm") if (why := f.manual or f.untaken) else "",
    ),
)

STOP: Final[told.Record[Stop]] = told.record_of(
    mark=told.text("record.stop.mark"),
    from_blade_mm=told.known(
        "record.stop.from_blade_mm",
        lambda s: s.from_blade if s.holds else None,
    ),
    side=told.one_of(("discharge", "feed"), "record.stop.side", lambda s: "feed" if s.behind else "discharge"),
    y_mm=told.figure("record.stop.y_mm"),
    z_mm=told.figure("record.stop.z_mm"),
    touches=told.text("record.stop.touches"),
)
"""A stop by its distance and what touches it."""

_WORK: Final[told.Record[Tally]] = told.record_of(
    cuts=told.whole("record.work.cuts"),
    set_ups=told.whole("record.work.set_ups"),
    steel_mm=told.figure("record.work.steel_mm"),
)


def _setting(solution: Solution, reach: Reach | None, grade: str) -> int:
    """The number of the setting of a cut; 0 without a saw file."""
    return solution.setting_of(reach, grade) if reach else 0


_CUT_OF_RUN: Final[told.Record[tuple[Solution, Run, SetCut]]] = told.record_of(
    mark=told.text("record.cut-of-run.mark", lambda c: c[2].mark),
    setting=told.whole("record.cut-of-run.setting", lambda c: _setting(c[0], c[2].reach, c[1].bar.grade)),
    roll_deg=told.figure("record.cut-of-run.roll_deg", lambda c: c[2].reach.roll),
    fed_mm=told.known("record.cut-of-run.fed_mm", lambda c: c[2].fed),
)

_RUN: Final[told.Record[tuple[Solution, Run]]] = told.record_of(
    cuts=told.records(
        *(_CUT_OF_RUN, "record.run.cuts.one", "record.run.cuts"),
        lambda r: ((*r, cut) for cut in r[1].cuts),
    ),
    feed=told.maybe(
        told.records(
            *(_LINE, "record.run.feed", "record.run.feed.2"),
            lambda r: None if r[1].feed is None else r[1].feed.lines,
        )
    ),
    stops=told.records(
        *(STOP, "record.run.stops.one", "record.run.stops"),
        lambda r: r[1].stops,
    ),
    blanks_first=told.maybe(
        told.record(
            _WORK,
            "record.run.blanks_first",
            lambda r: None if r[1].blanks is None else r[1].blanks.blanks,
        )
    ),
    as_planned=told.maybe(
        told.record(
            _WORK,
            "record.run.as_planned",
            lambda r: None if r[1].blanks is None else r[1].blanks.as_planned,
        )
    ),
    minutes=told.known("record.run.minutes", lambda r: r[1].minutes),
)

_RECUT: Final[told.Record[tuple[Solution, RecutRun]]] = told.record_of(
    mark=told.text("record.recut.mark", lambda r: r[1].recut.mark),
    section=told.text("record.recut.section", lambda r: r[1].recut.section.name),
    grade=told.text("record.recut.grade", lambda r: r[1].recut.grade),
    count=told.whole("record.recut.count", lambda r: r[1].recut.count),
    end=told.one_of(ENDS, "record.recut.end", lambda r: r[1].recut.end),
    pose=told.Field(pose, lambda r: r[1].recut.pose),
    after_bars=told.whole("record.recut.after_bars", lambda r: r[1].recut.after),
    blank_mm=told.figure("record.recut.blank_mm", lambda r: r[1].recut.blank),
    length_mm=told.figure("record.recut.length_mm", lambda r: r[1].recut.length),
    fixed_mm=told.figure("record.recut.fixed_mm", lambda r: r[1].recut.fixed),
    moving_mm=told.figure("record.recut.moving_mm", lambda r: r[1].recut.moving),
    swing_deg=told.figure("record.recut.swing_deg", lambda r: r[1].recut.angles.swing),
    tilt_deg=told.figure("record.recut.tilt_deg", lambda r: r[1].recut.angles.tilt),
    roll_deg=told.figure("record.recut.roll_deg", lambda r: r[1].recut.angles.roll),
    setting=told.whole("record.recut.setting", lambda r: _setting(r[0], r[1].reach, r[1].recut.grade)),
    stop=told.maybe(told.record(STOP, "record.recut.stop", lambda r: r[1].stop)),
)

_AGAIN: Final[told.Record[tuple[Solution, RecutPiece]]] = told.record_of(
    number=told.text("record.again.number", lambda r: r[1].called),
    mark=told.text("record.again.mark", lambda r: r[1].offer.mark),
    revision=told.text("record.again.revision", lambda r: r[1].offer.revision),
    spoiled=told.flag("record.again.spoiled", lambda r: r[1].offer.spoiled),
    blank=told.flag("record.again.blank", lambda r: r[1].offer.blank),
    left_mm=told.figure("record.again.left_mm", lambda r: r[1].offer.left),
    becomes=told.text("record.again.becomes", lambda r: r[1].offer.to),
    count=told.whole("record.again.count", lambda r: r[1].offer.count),
    cuts=told.records(
        *(_RECUT, "record.again.cuts.one", "record.again.cuts"), lambda r: ((r[0], run) for run in r[1].steps)
    ),
)


def _of_both(solution: Solution) -> list[tuple[Solution, RecutPiece]]:
    return [(solution, one) for one in solution.again]


_FURTHER_ROW: Final[told.Record[tuple[Solution, FurtherRow]]] = told.record_of(
    mark=told.text("record.further-row.mark", lambda r: r[1].mark),
    pieces=told.whole("record.further-row.pieces", lambda r: r[1].quantity),
    end=told.one_of(ENDS, "record.further-row.end", lambda r: r[1].cut.end),
    cut=told.whole("record.further-row.cut", lambda r: r[1].cut.number),
    **CUT.within(lambda r: r[1].cut.cut),
    setting=told.whole(
        "record.further-row.setting",
        lambda r: _setting(r[0], r[1].cut.reach, r[1].solved.order.grade),
    ),
    scale_deg=told.known(
        "record.further-row.scale_deg",
        lambda r: None if r[1].cut.reach is None else r[1].cut.reach.scale,
    ),
    roll_deg=told.figure("record.further-row.roll_deg", lambda r: r[1].cut.way.roll),
    turned=told.flag("record.further-row.turned", lambda r: r[1].cut.way.turned),
    back_mm=told.by_name(
        "number",
        "record.further-row.back_mm",
        lambda r: r[1].cut.back,
    ),
    edges_mm=told.by_name("number", "record.further-row.edges_mm", lambda r: r[1].cut.edges),
)

FURTHER: Final[told.Record[Solution]] = told.record_of(
    further_cuts=told.records(
        _FURTHER_ROW,
        "record.further.further_cuts",
        "record.further.further_cuts.2",
        lambda s: ((s, row) for row in s.further),
    ),
    further_swings=told.whole("record.further.further_swings"),
)


def _caution(solution: Solution) -> str:
    from mitertool.packet.cautions import for_job, short

    return for_job(solution) or short()


def _report(solution: Solution) -> Report:
    from mitertool.job.report import report_of

    return report_of(solution)


PLAN_FILE: Final[told.Record[Solution]] = told.Record(
    {
        **PLAN.within(lambda s: s.plan),
        "job": SOLUTION.fields["job"],
        "revision": SOLUTION.fields["revision"],
        "part": told.one_of(
            PARTS,
            "record.plan-file.part",
            lambda s: "rest" if s.job.rest else "whole",
        ),
        "rack_plan": attrs.evolve(
            told.text("record.plan-file.rack_plan", lambda s: s.booking.plan), when=lambda s: s.job.rack is not None
        ),
        "off_rack": attrs.evolve(
            told.texts("record.plan-file.off_rack.one", "record.plan-file.off_rack", lambda s: s.off_rack),
            when=lambda s: s.job.rack is not None,
        ),
        "heats": attrs.evolve(
            told.by_name("string", "record.plan-file.heats", lambda s: s.heats_told), when=lambda s: bool(s.heats_told)
        ),
        "report": told.record(REPORT, "record.plan-file.report", _report),
        "inputs": told.text("record.plan-file.inputs", lambda s: s.job.digest),
        "saw": told.maybe(told.record(SAW, "record.plan-file.saw", lambda s: s.job.saw)),
        "caution": told.text("record.plan-file.caution", _caution),
        "settings": told.records(*(_SETTING, "record.plan-file.settings.one", "record.plan-file.settings")),
        "runs": told.records(
            *(_RUN, "record.plan-file.runs", "record.plan-file.runs.2"),
            lambda s: ((s, run) for run in s.runs),
        ),
        "bars_cut": attrs.evolve(
            told.texts(
                "record.plan-file.bars_cut.one",
                "record.plan-file.bars_cut",
                lambda s: s.job.rest.bars if s.job.rest else (),
            ),
            when=lambda s: s.job.rest is not None,
        ),
        "bars_begun": attrs.evolve(
            told.texts(
                "record.plan-file.bars_begun.one",
                "record.plan-file.bars_begun",
                lambda s: (bar for _, bar in s.job.rest.begun) if s.job.rest else (),
            ),
            when=lambda s: s.job.rest is not None and bool(s.job.rest.begun),
        ),
        "recut_pieces": attrs.evolve(
            told.records(*(_AGAIN, "record.plan-file.again.one", "record.plan-file.again"), _of_both),
            when=lambda s: s.job.rest is not None,
        ),
        "recuts": told.records(
            *(_RECUT, "record.plan-file.recuts.one", "record.plan-file.recuts"),
            lambda s: ((s, one) for one in s.recuts),
        ),
        **FURTHER.fields,
        **{key: one for key, one in SOLUTION.fields.items() if key not in ("format", "job", "revision")},
    },
    PLAN.more,
)
"""What plan.json holds."""

of_solution = SOLUTION.of
of_further = FURTHER.of
of_stop = STOP.of
of_plan_file = PLAN_FILE.of


def schema() -> Schema:
    """The JSON Schema of plan.json."""
    says = "record.says.2"
    made: dict[str, Any] = PLAN_FILE.schema(says)
    found: dict[str, Any] = kind.spoken({"title": "title.plan", **made})
    return {"$schema": kind.DIALECT, **found}
