"""The record of a solved job, and with its plan, settings and runs that of plan.json."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

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
    from mitertool.frame import Closure, Joint
    from mitertool.job import Solution, SolvedPiece
    from mitertool.job.further import FurtherRow
    from mitertool.job.model import FrameOrder
    from mitertool.job.particulars import Particulars
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
    kind=told.text("How the two members meet: miter, first-through or second-through."),
    gap_mm=told.figure("The root gap left open in the joint."),
)

_CLOSURE: Final[told.Record[Closure]] = told.record_of(
    gap_mm=told.figure("The widest gap with unrounded pieces."),
    overlap_mm=told.figure("The deepest overlap with unrounded pieces."),
    rounded_gap_mm=told.figure("The gap with lengths and angles as the floor can read them."),
)

_ASSEMBLY: Final[told.Record[FrameOrder]] = told.record_of(
    mark=told.text("The mark of the frame.", lambda f: f.assembly.mark),
    shape=told.text("The shape of the frame.", lambda f: f.assembly.shape),
    quantity=told.whole("How many such frames."),
    **PARTICULARS.within(lambda f: f.particulars),
    order=told.texts(
        *("The mark of a piece.", "The marks around the frame, each piece's left end first."),
        lambda f: f.assembly.order,
    ),
    joints=told.records(_JOINT, "A joint.", "The joints in the order of the walk.", lambda f: f.assembly.joints),
    notes=told.texts(
        *("A sentence.", "What the floor must be told."),
        lambda f: (note.told_by(lambda length: f"{length:.6g} mm") for note in f.assembly.notes),
    ),
    closure=told.record(_CLOSURE, "How the frame closes.", lambda f: f.assembly.closure),
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
    mark=told.text("The mark."),
    end=told.one_of(("", *ENDS), "The end, as the mark is drawn; empty where it is not told of a cut of the drawing."),
    cut=told.whole("1 for the cut that parts the bar there, else the number of a further one; 0 without an end."),
    bar=told.whole("The number of the bar on which the plan sets the cut so; 0 where none is meant."),
    code=told.one_of(CODES, "What is in the way, in a word that stays."),
    numbers=told.by_name(
        "number", "What there is (have), what is needed (need) and others, each with its unit.", _numbers
    ),
    more=told.texts("A code.", "What more the sentence tells, by code.", lambda p: [more.code for more in p.more]),
)


_STOCK: Final[told.Record[tuple[Stock, Particulars]]] = told.record_of(
    section=told.text("The section.", lambda s: s[0].section),
    grade=told.text("The grade; empty where none is given.", lambda s: s[0].grade),
    length_mm=told.figure("The length of a bar.", lambda s: s[0].length),
    quantity=told.known("How many there are; null: as many as needed.", lambda s: s[0].quantity),
    cost=told.known("What a bar costs; null where the job does not say.", lambda s: s[0].cost),
    **PARTICULARS.within(lambda s: s[1]),
)

SOLUTION: Final[told.Record[Solution]] = told.record_of(
    format=told.Field(kind.file_format, lambda _: FORMAT),
    job=told.text("The name of the job.", lambda s: s.job.head.name),
    revision=told.text("The revision of the job; empty where it has none.", lambda s: s.job.head.revision),
    particulars=told.record(
        PARTICULARS,
        "What [job] says for its papers; it holds where a piece, a frame or a row of stock says nothing of its own.",
        lambda s: s.job.head.particulars,
    ),
    stock=told.records(
        _STOCK, "A row of stock.", "The bars to cut from, as the job has them.", lambda s: s.job.on_stock
    ),
    pieces=told.records(MARK, "A mark.", "The marks in the order of the job, both hands together.", _marks),
    assemblies=told.records(_ASSEMBLY, "A frame.", "The frames in the order of the job.", lambda s: s.frames),
    notes=told.texts(
        *("A sentence.", "What the floor must be told of the drawings of the job's own sections."),
        lambda s: (note.in_units("mm") for note in s.job.sections.notes),
    ),
    problems=told.texts("A sentence.", "What cannot be made as asked; empty where all can."),
    found=told.records(_FOUND, "A problem.", "The same one by one as codes and numbers, in the same order."),
    problem_marks=told.texts("A mark.", "The marks that the problems are told of, in the order of the job."),
)

_USE: Final[told.Record[Use]] = told.record_of(
    mark=told.text("The mark."),
    end=told.one_of(ENDS, "The end, as the mark is drawn."),
    cut=told.whole("1 for the cut that parts the bar there, else the number of a further one."),
    roll_deg=told.figure("How far the bar is rolled from how it is drawn, its top to the moving jaw where positive."),
    end_for_end=told.flag("Whether it is laid end for end before, where that makes a difference.", lambda u: u.turned),
)

_SETTING: Final[told.Record[JobSetting]] = told.record_of(
    number=told.whole("The number of the setting on the cut sheet."),
    section=told.text("The section of the bar.", lambda s: s.reach.section.name),
    **LIES.within(lambda s: s.reach.section),
    grade=told.text("Its grade; empty where none is given."),
    scale_deg=told.figure("What the scale must read.", lambda s: s.reach.scale),
    scale_side=told.text(
        "The side on which the reading stands: feed, discharge, or square.", lambda s: s.reach.scale_side
    ),
    swing_deg=told.figure("The swing of the arm from square, positive to the feed side.", lambda s: s.reach.swing),
    tilt_deg=told.figure("How far the blade is tilted; 0 where it is not.", lambda s: s.reach.tilt),
    makes=told.records(_USE, "An end of a mark.", "The ends that it makes.", lambda s: s.uses),
)

_LINE: Final[told.Record[FeedLine]] = told.record_of(
    pieces=told.whole(
        "How many pieces it makes; 0 for a lead cut, the parting of a wedge and a line of zeros.",
        lambda f: f.quantity if f.counted else 0,
    ),
    mark=told.text("Their mark; empty where it makes none."),
    key_mm=told.known("The length to key; null where the saw file gives no swing axis to know it by."),
    travel_mm=told.known("How far the bar moves for each, from kerf to kerf."),
    strokes=told.whole("The strokes that takes."),
    on=told.text("The line of the piece that the length is measured on; empty at a line of zeros."),
    set_before=told.texts(
        "A thing to set.", "What must be set before the cut.", lambda f: (one.in_units("mm") for one in f.set_up)
    ),
    by_hand=told.text(
        "Why the automatic cycle cannot make it; empty where it can.",
        lambda f: f.manual.in_units("mm") if f.manual else "",
    ),
)

STOP: Final[told.Record[Stop]] = told.record_of(
    mark=told.text("The mark of the piece."),
    from_blade_mm=told.known(
        "From the blade's near face along the bar to the stop, at y and z; null: no stop holds.",
        lambda s: s.from_blade if s.holds else None,
    ),
    y_mm=told.figure("How far from the fixed jaw the steel lies that touches the stop, as the bar lies for the cut."),
    z_mm=told.figure("How high above the bed that steel lies."),
    touches=told.text("What touches the stop, in words."),
)
"""A stop by its distance and what touches it."""

_WORK: Final[told.Record[Tally]] = told.record_of(
    cuts=told.whole("Cuts of all such bars."),
    set_ups=told.whole("Swings, tilts and rolls."),
    steel_mm=told.figure("Steel along the bars."),
)


def _setting(solution: Solution, reach: Reach | None, grade: str) -> int:
    """The number of the setting of a cut; 0 without a saw file."""
    from mitertool.job.settings import number_of

    return number_of(solution.settings, reach, grade) if reach else 0


_CUT_OF_RUN: Final[told.Record[tuple[Solution, Run, SetCut]]] = told.record_of(
    mark=told.text(
        "The piece that it finishes; empty for a lead cut and one that parts off a wedge.", lambda c: c[2].mark
    ),
    setting=told.whole("The number of its setting.", lambda c: _setting(c[0], c[2].reach, c[1].bar.grade)),
    roll_deg=told.figure("How far the bar is rolled for it, from how it lies drawn.", lambda c: c[2].reach.roll),
    fed_mm=told.known(
        "How far the bar's leading end stands past the swing axis; null without one.", lambda c: c[2].fed
    ),
)

_RUN: Final[told.Record[tuple[Solution, Run]]] = told.record_of(
    cuts=told.records(
        *(_CUT_OF_RUN, "A cut.", "The cuts in order; empty without a saw file."),
        lambda r: ((*r, cut) for cut in r[1].cuts),
    ),
    feed=told.maybe(
        told.records(
            *(_LINE, "A line to key.", "What is keyed into the bar feed, the lead cut first; null without one."),
            lambda r: None if r[1].feed is None else r[1].feed.lines,
        )
    ),
    stops=told.records(
        *(STOP, "A stop.", "Where the stop stands for each piece; empty for a saw with a bar feed."),
        lambda r: r[1].stops,
    ),
    blanks_first=told.maybe(
        told.record(
            _WORK,
            "What parallel blanks first and one end recut would take; null where no cut is by hand.",
            lambda r: None if r[1].blanks is None else r[1].blanks.blanks,
        )
    ),
    as_planned=told.maybe(
        told.record(
            _WORK,
            "What the bar takes as it is listed; null where no cut is by hand.",
            lambda r: None if r[1].blanks is None else r[1].blanks.as_planned,
        )
    ),
    minutes=told.known(
        "Minutes of the cuts of all such bars; null without the shop's own rates.", lambda r: r[1].minutes
    ),
)

_RECUT: Final[told.Record[tuple[Solution, RecutRun]]] = told.record_of(
    mark=told.text("The mark of the pieces.", lambda r: r[1].recut.mark),
    section=told.text("The section.", lambda r: r[1].recut.section.name),
    grade=told.text("The grade; empty where none is given.", lambda r: r[1].recut.grade),
    count=told.whole("How many blanks.", lambda r: r[1].recut.count),
    end=told.one_of(ENDS, "The end that is cut, as the mark is drawn.", lambda r: r[1].recut.end),
    pose=told.Field(pose, lambda r: r[1].recut.pose),
    after_bars=told.whole("Of how many bars in the list all are cut before.", lambda r: r[1].recut.after),
    blank_mm=told.figure("The length of the blank on the centerline.", lambda r: r[1].recut.blank),
    length_mm=told.figure("The length of the finished piece on the centerline.", lambda r: r[1].recut.length),
    fixed_mm=told.figure(
        "How long the finished piece is along the bottom of the fixed side, as it lies.", lambda r: r[1].recut.fixed
    ),
    moving_mm=told.figure("The same along the bottom of the moving side.", lambda r: r[1].recut.moving),
    swing_deg=told.figure(
        "The swing of the arm from square, positive to the feed side.", lambda r: r[1].recut.angles.swing
    ),
    tilt_deg=told.figure("How far the blade is tilted; 0 where it is not.", lambda r: r[1].recut.angles.tilt),
    roll_deg=told.figure(
        "How far the blank is rolled about its own axis from how its pose says.", lambda r: r[1].recut.angles.roll
    ),
    setting=told.whole(
        "The number of its setting; 0 without a saw file.", lambda r: _setting(r[0], r[1].reach, r[1].recut.grade)
    ),
    stop=told.maybe(
        told.record(
            STOP, "Where the stop stands that the finished end touches; null without a saw file.", lambda r: r[1].stop
        )
    ),
)

_FURTHER_ROW: Final[told.Record[tuple[Solution, FurtherRow]]] = told.record_of(
    mark=told.text("The mark of the pieces.", lambda r: r[1].mark),
    pieces=told.whole("How many of them.", lambda r: r[1].quantity),
    end=told.one_of(ENDS, "The end, as the mark is drawn.", lambda r: r[1].cut.end),
    cut=told.whole("The number of the cut, the end's first one counted as 1.", lambda r: r[1].cut.number),
    **CUT.within(lambda r: r[1].cut.cut),
    setting=told.whole(
        "The number of its setting; 0 without a saw file.",
        lambda r: _setting(r[0], r[1].cut.reach, r[1].solved.order.grade),
    ),
    scale_deg=told.known(
        "What the scale must read; null without a saw file.",
        lambda r: None if r[1].cut.reach is None else r[1].cut.reach.scale,
    ),
    roll_deg=told.figure(
        "How far the piece is rolled about its own axis from how it is drawn.", lambda r: r[1].cut.way.roll
    ),
    turned=told.flag("Whether it is laid end for end before it is rolled.", lambda r: r[1].cut.way.turned),
    back_mm=told.by_name(
        "number",
        "The edges of the section's box that it ends: how far behind the face of the end's first cut.",
        lambda r: r[1].cut.back,
    ),
    edges_mm=told.by_name("number", "The same edges: how long the piece then is there.", lambda r: r[1].cut.edges),
)

FURTHER: Final[told.Record[Solution]] = told.record_of(
    further_cuts=told.records(
        _FURTHER_ROW,
        "A further cut of all pieces of a mark.",
        "The further cuts of ends with more than one plane, in the order of work, after the bars.",
        lambda s: ((s, row) for row in s.further),
    ),
    further_swings=told.whole("How often the arm is swung or the blade tilted for them; not in swings."),
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
            "Whether it is the plan of the whole job, or of what remains when some of it is cut.",
            lambda s: "rest" if s.job.rest else "whole",
        ),
        "report": told.record(REPORT, "What the job comes to, in one line.", _report),
        "inputs": told.text("A hash of every file that was read, as on every page.", lambda s: s.job.digest),
        "saw": told.maybe(
            told.record(SAW, "The saw that the settings are for; null without a saw file.", lambda s: s.job.saw)
        ),
        "caution": told.text("What can hurt, and what goes before this plan.", _caution),
        "settings": told.records(
            *(_SETTING, "A setting.", "The settings of the saw in the order of work; none without one.")
        ),
        "runs": told.records(
            *(_RUN, "A bar as the saw works it off.", "One for each of the bars, in their order."),
            lambda s: ((s, run) for run in s.runs),
        ),
        "recuts": told.records(
            *(_RECUT, "A recut.", "Blanks that get their other end, in the order of work."),
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
    says = "The plan of a packet: bars, pieces and frames in mm and degrees at full precision, whatever the units."
    made: dict[str, Any] = PLAN_FILE.schema(says)
    found: dict[str, Any] = kind.spoken({"title": "mitertool plan", **made})
    return {"$schema": kind.DIALECT, **found}
