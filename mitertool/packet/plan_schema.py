"""The JSON Schema of plan.json: every key of the packet's record with what it means; knows words only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.piece import POSES
from mitertool.quantity import schema as kind
from mitertool.quantity.schema import Schema
from mitertool.saw.reach import ENDS


def _figure(says: str) -> Schema:
    return {"type": "number", "description": says}


def _known(says: str) -> Schema:
    """A figure, null where the files do not say what it takes to know it."""
    return {"type": ["number", "null"], "description": says}


def _whole(says: str) -> Schema:
    return {"type": "integer", "minimum": 0, "description": says}


def _words(says: str) -> Schema:
    return {"type": "string", "description": says}


def _flag(says: str) -> Schema:
    return {"type": "boolean", "description": says}


def _list(one: Schema, says: str) -> Schema:
    return {"type": "array", "items": one, "description": says}


def _record(keys: Mapping[str, Schema], says: str) -> Schema:
    """A record has all of its keys, always."""
    return kind.table(keys, tuple(keys), says)


def _by_edge(says: str) -> Schema:
    return {"type": "object", "additionalProperties": {"type": "number"}, "description": says}


def _or_null(one: Schema) -> Schema:
    """The same, or null."""
    return {**one, "type": [one["type"], "null"]}


_POSE: Final = kind.choice(POSES, "How the piece lies on the bar.")
_JOINT: Final[Mapping[str, Schema]] = {
    "kind": _words("How the two members meet: miter, first-through or second-through."),
    "gap_mm": _figure("The root gap left open in the joint."),
}

_CUT_OF_BAR: Final[Mapping[str, Schema]] = {
    "at_mm": _figure("Where the face crosses the centerline, from the bar's leading end."),
    "fixed_mm": _figure("Where the face crosses the bottom of the fixed side, from the bar's leading end."),
    "moving_mm": _figure("Where the face crosses the bottom of the moving side, from the bar's leading end."),
    "shared": _flag("Whether the cut parts two pieces."),
    "kerf": kind.choice(
        ("before", "past"), "Where the kerf lies of those places: toward the leading end, or past them."
    ),
    "swing_deg": _figure("The swing of the arm from square, positive to the feed side."),
    "tilt_deg": _figure("How far the blade is tilted; 0 where it is not."),
    "roll_deg": _figure("How far the bar is rolled about its own axis; 0 where it is not."),
}

_LIES: Final[Mapping[str, Schema]] = {
    "wide_mm": _figure("How wide the section is, across the bed, as it lies."),
    "high_mm": _figure("How high the section is, above the bed, as it lies."),
    "lies": _words("How it lies, in words; empty where its width and height tell."),
}

_BAR: Final[Mapping[str, Schema]] = {
    "section": _words("The section of the bar."),
    **_LIES,
    "grade": _words("The grade of the bar; empty where none is given."),
    "stock_length_mm": _figure("The length of the bar as bought."),
    "count": _whole("How many bars are cut alike."),
    "pieces": _list(
        _record(
            {
                "mark": _words("The mark of the piece."),
                "pose": _POSE,
                "at_mm": _figure("Where the leading cut crosses the centerline, from the bar's leading end."),
            },
            "A piece on the bar.",
        ),
        "The pieces in the order in which they are cut.",
    ),
    "drop_mm": _figure("What is left of the bar behind the last kerf, on the centerline."),
    "swings": _whole("How often the arm is swung from the first cut of the bar to its last."),
    "rolls": _whole("How often the bar is rolled."),
    "tilts": _whole("How often the blade is tilted."),
    "cuts": _list(_record(_CUT_OF_BAR, "A cut."), "The cuts in the order of work."),
}

_REASON: Final[Mapping[str, Schema]] = {
    "code": _words("What is in the way, in one word that stays: swing, tilt, opening, height and others."),
    "says": _words("The same in a sentence."),
    "have": _figure("What the saw has, mm or degrees."),
    "need": _figure("What the cut needs, mm or degrees."),
}

_REACH: Final[Mapping[str, Schema]] = {
    "ok": _flag("Whether the saw can make the cut."),
    "reasons": _list(_record(_REASON, "A reason."), "Why it cannot; empty where it can."),
    "swing_deg": _figure("The swing of the arm from square, positive to the feed side."),
    "scale_deg": _figure("What the protractor must read."),
    "side": _words("The side to which the arm goes: feed, discharge, or square."),
    "scale_side": _words("The side on which the reading stands; not the arm's where a kept correction moves it over."),
    "roll_deg": _figure("How far the bar is rolled about its own axis; 0 where it is not."),
    "tilt_deg": _figure("How far the blade is tilted; 0 where it is not."),
    "rolled_width_mm": _figure("The width of the section as it lies for the cut."),
    "rolled_height_mm": _figure("The height of the section as it lies for the cut."),
    "pack_mm": _known("The height of the packing that holds the section; null where it lies safely."),
    "guide_opening_mm": _known("The least gap between the guides."),
    "guide_setting_mm": _known("How far from the fixed guide the moving one is set."),
    "stop_height_mm": _known("The height of the edge above the bed with the arm so lifted."),
    "set_backs_mm": {
        "type": "object",
        "additionalProperties": {"type": "number"},
        "description": "How far the edge of each thing in the way must stand from the square cut line, by its name.",
    },
    "largest_contact_mm": _known("The most material on the blade line at once."),
    "mean_contact_mm": _known("The material on the blade line, averaged over the travel."),
    "thinnest_wall_mm": _known("The thinnest wall on the blade; null for a solid bar."),
    "minutes": _known("The minutes that the cut takes at the shop's own rates."),
}

_ARM: Final[Mapping[str, str]] = {
    "arm_lift": "How far the arm is lifted from rest to clear the bar.",
    "first_touch": "The position of the arm, from rest, in which its edge first touches.",
    "through": "The position of the arm, from rest, in which its edge is through.",
    "travel": "From first touch to through.",
}
"""Degrees on a saw whose arm is hinged, mm on a column."""


_CUT: Final[Mapping[str, Schema]] = {
    "miter_deg": _figure("Degrees from square, positive with the long point on the moving side."),
    "bevel_deg": _figure("Degrees from upright, positive with the long point at the top."),
}

_FURTHER: Final[Mapping[str, Schema]] = {
    **_CUT,
    "meets_mm": kind.several(
        _figure("Where its plane meets the first cut's: from the fixed side, above the bed."), 2, 2
    ),
}

_EDGES: Final[Mapping[str, Schema]] = {
    "fixed_bottom": _figure("At the fixed jaw, on the bed."),
    "fixed_top": _figure("At the fixed jaw, at the top."),
    "moving_bottom": _figure("At the moving jaw, on the bed."),
    "moving_top": _figure("At the moving jaw, at the top."),
}


def _settings(end: str) -> Schema:
    says = f"The settings of the {end} cut; null where the job names no saw file."
    return _or_null(_reach_record(says))


def _reach_record(says: str) -> Schema:
    degrees = {f"{key}_deg": _known(f"{more} Degrees.") for key, more in _ARM.items()}
    lifts = {f"{key}_mm": _known(f"{more} On a column.") for key, more in _ARM.items()}
    one_kind = [
        {"required": list(these), "properties": dict.fromkeys(others, False)}
        for these, others in ((degrees, lifts), (lifts, degrees))
    ]
    return kind.table({**_REACH, **degrees, **lifts}, tuple(_REACH), says, anyOf=one_kind)


_PIECE: Final[Mapping[str, Schema]] = {
    "mark": _words("The mark of the piece."),
    "section": _words("The section it is cut from."),
    "grade": _words("The grade; empty where none is given."),
    "quantity": _whole("How many as drawn."),
    "opposite": _whole("How many of the opposite hand."),
    "left": _record(_CUT, "The left cut as drawn."),
    "right": _record(_CUT, "The right cut as drawn."),
    "left_further": _list(_record(_FURTHER, "A further cut."), "The further cuts of an end with more than one plane."),
    "right_further": _list(_record(_FURTHER, "A further cut."), "The same of the right end."),
    "long_point_mm": _figure("The longest line of material along the bar."),
    "short_point_mm": _figure("The shortest line of material along the bar."),
    "centerline_mm": _figure("The length at the middle of the section's box."),
    "overall_mm": _figure("The length from tip to tip."),
    "edges_mm": _record(_EDGES, "The lengths at the edges of the section's box, material there or not."),
    "volume_mm3": _figure("The volume of one piece."),
    "mass_kg": _figure("The mass of the steel of one piece as drawn."),
    "nominal_mass_kg": _figure(
        "What one piece is lifted and bought as: as its standard prints it, or its nominal wall."
    ),
    "poses": _list(_POSE, "The ways in which the section lets the piece lie on a bar."),
    "reach": kind.table(
        {
            **{end: _settings(end) for end in ENDS},
            **{f"{end}_further": _list(_settings("further"), f"Of the {end} end's further cuts.") for end in ENDS},
        },
        ENDS,
        "The settings of all cuts on the shop's saw, as drawn; the further ones where an end has any.",
    ),
}

_CLOSURE: Final[Mapping[str, Schema]] = {
    "gap_mm": _figure("The widest gap with unrounded pieces."),
    "overlap_mm": _figure("The deepest overlap with unrounded pieces."),
    "rounded_gap_mm": _figure("The gap with lengths and angles as the floor can read them."),
}

_ASSEMBLY: Final[Mapping[str, Schema]] = {
    "mark": _words("The mark of the frame."),
    "shape": _words("The shape of the frame."),
    "quantity": _whole("How many such frames."),
    "order": _list(_words("The mark of a piece."), "The marks around the frame, each piece's left end first."),
    "joints": _list(_record(_JOINT, "A joint."), "The joints in the order of the walk."),
    "notes": _list(_words("A sentence."), "What the floor must be told."),
    "closure": _record(_CLOSURE, "How the frame closes."),
}

_STEEL: Final[Mapping[str, Schema]] = {
    "bought": _figure("All bars of the plan, the sum of what follows."),
    "pieces": _figure("In the pieces."),
    "kerf": _figure("In the kerfs."),
    "wedges": _figure("In the wedges between cuts that are not parallel."),
    "trim": _figure("In the trims of raw ends."),
    "grip": _figure("In what the vise must hold."),
    "drops": _figure("In the drops."),
}

_BOUND: Final[Mapping[str, Schema]] = {
    "section": _words("The section."),
    "grade": _words("The grade; empty where none is given."),
    "cost": _figure("What any plan for this section and grade costs at least."),
    "how": _words("How that was found: material or prices."),
    "plain": _figure("The same before it is raised to what whole bars can cost."),
    "worth": {
        "type": "object",
        "additionalProperties": {"type": "number"},
        "description": "The weight or the price of a piece, by mark.",
    },
}

_SEARCHED: Final[Mapping[str, Schema]] = {
    "objective": _words("What the plan makes least: steel, then set-ups; or cost, where all rates are given."),
    "setups_bound": _figure("Swings, tilts and rolls together that any plan has at least."),
    "tip_to_tip_cost": _known("What the bars cost with every piece counted tip to tip; null where stock runs out."),
    "shop_cost": _known("What steel and set-ups cost; null without rates."),
    "shop_bound": _known("What steel and set-ups cost at least; null without rates."),
    "minutes": _known("The minutes of all set-ups; null without rates."),
    "stopped": _words("Why the search ended early: effort, time or interrupted; empty where it did not."),
    "left_out": {
        "type": "object",
        "additionalProperties": {"type": "integer"},
        "description": "How many pieces of a mark fit no bar; empty where all are on bars.",
    },
    "within": _list(_words("A clause."), "Which plans were searched: no plan outside of them is said to cost more."),
    "steel_mm": _record(_STEEL, "Where the steel goes, on the centerline."),
    "bounds": _list(_record(_BOUND, "A bound."), "How the lower bound was found."),
}
"""What a plan tells besides where the job gives stock."""

_MAKES: Final[Mapping[str, Schema]] = {
    "mark": _words("The mark."),
    "end": kind.choice(ENDS, "The end, as the mark is drawn."),
    "cut": _whole("1 for the cut that parts the bar there, else the number of a further one."),
    "roll_deg": _figure("How far the bar is rolled from how it is drawn, its top to the moving jaw where positive."),
    "end_for_end": _flag("Whether it is laid end for end before, where that makes a difference."),
}

_SETTING: Final[Mapping[str, Schema]] = {
    "number": _whole("The number of the setting on the cut sheet."),
    "section": _words("The section of the bar."),
    **_LIES,
    "grade": _words("Its grade; empty where none is given."),
    "scale_deg": _figure("What the scale must read."),
    "scale_side": _words("The side on which the reading stands: feed, discharge, or square."),
    "swing_deg": _figure("The swing of the arm from square, positive to the feed side."),
    "tilt_deg": _figure("How far the blade is tilted; 0 where it is not."),
    "makes": _list(_record(_MAKES, "An end of a mark."), "The ends that it makes."),
}

_LINE: Final[Mapping[str, Schema]] = {
    "pieces": _whole("How many pieces it makes; 0 for a lead cut, the parting of a wedge and a line of zeros."),
    "mark": _words("Their mark; empty where it makes none."),
    "key_mm": _known("The length to key; null where the saw file gives no swing axis to know it by."),
    "travel_mm": _known("How far the bar moves for each, from kerf to kerf."),
    "strokes": _whole("The strokes that takes."),
    "on": _words("The line of the piece that the length is measured on; empty at a line of zeros."),
    "set_before": _list(_words("A thing to set."), "What must be set before the cut."),
    "by_hand": _words("Why the automatic cycle cannot make it; empty where it can."),
}

_STOP: Final[Mapping[str, Schema]] = {
    "mark": _words("The mark of the piece."),
    "from_blade_mm": _known("From the blade's near face along the bar to the stop, at y and z; null: no stop holds."),
    "y_mm": _figure("How far from the fixed jaw the steel lies that touches the stop, as the bar lies for the cut."),
    "z_mm": _figure("How high above the bed that steel lies."),
    "touches": _words("What touches the stop, in words."),
}

_WORK: Final[Mapping[str, Schema]] = {
    "cuts": _whole("Cuts of all such bars."),
    "set_ups": _whole("Swings, tilts and rolls."),
    "steel_mm": _figure("Steel along the bars."),
}

_CUT_AT_THE_SAW: Final[Mapping[str, Schema]] = {
    "mark": _words("The piece that it finishes; empty for a lead cut and one that parts off a wedge."),
    "setting": _whole("The number of its setting."),
    "roll_deg": _figure("How far the bar is rolled for it, from how it lies drawn."),
    "fed_mm": _known("How far the bar's leading end stands past the swing axis; null without one."),
}

_FURTHER_ROW: Final[Mapping[str, Schema]] = {
    "mark": _words("The mark of the pieces."),
    "pieces": _whole("How many of them."),
    "end": kind.choice(ENDS, "The end, as the mark is drawn."),
    "cut": _whole("The number of the cut, the end's first one counted as 1."),
    **_CUT,
    "setting": _whole("The number of its setting; 0 without a saw file."),
    "scale_deg": _known("What the scale must read; null without a saw file."),
    "roll_deg": _figure("How far the piece is rolled about its own axis from how it is drawn."),
    "turned": _flag("Whether it is laid end for end before it is rolled."),
    "back_mm": _by_edge("The edges of the section's box that it ends: how far behind the face of the end's first cut."),
    "edges_mm": _by_edge("The same edges: how long the piece then is there."),
}

_RUN: Final[Mapping[str, Schema]] = {
    "cuts": _list(_record(_CUT_AT_THE_SAW, "A cut."), "The cuts in order; empty without a saw file."),
    "feed": _or_null(
        _list(
            _record(_LINE, "A line to key."), "What is keyed into the bar feed, the lead cut first; null without one."
        )
    ),
    "stops": _list(_record(_STOP, "A stop."), "Where the stop stands for each piece; empty for a saw with a bar feed."),
    "blanks_first": _or_null(
        _record(_WORK, "What parallel blanks first and one end recut would take; null where no cut is by hand.")
    ),
    "as_planned": _or_null(_record(_WORK, "What the bar takes as it is listed; null where no cut is by hand.")),
    "minutes": _known("Minutes of the cuts of all such bars; null without the shop's own rates."),
}

_SAW: Final[Mapping[str, Schema]] = {
    "name": _words("What the shop calls it."),
    "invented": _flag("Whether it is made up and no machine has these figures."),
    "corrected": _words("The day of the correction of its scale; empty without one."),
}

_ALWAYS: Final[Mapping[str, Schema]] = {
    "format": kind.file_format(),
    "bars": _list(_record(_BAR, "Bars that are cut alike."), "The bars in the order of work; none without stock."),
    "cost": _figure("What the bars cost; their length where the job gives no costs."),
    "lower_bound": _figure("What any plan costs at least."),
    "proved": _flag("Whether no plan is cheaper."),
    "swings": _whole("All swings of the arm for the bars."),
    "rolls": _whole("All rolls of bars."),
    "tilts": _whole("All tilts of the blade."),
    "job": _words("The name of the job."),
    "inputs": _words("A hash of every file that was read, as on every page."),
    "saw": _or_null(_record(_SAW, "The saw that the settings are for; null without a saw file.")),
    "caution": _words("What can hurt, and what goes before this plan."),
    "settings": _list(
        _record(_SETTING, "A setting."), "The settings of the saw in the order of work; none without one."
    ),
    "runs": _list(_record(_RUN, "A bar as the saw works it off."), "One for each of the bars, in their order."),
    "further_cuts": _list(
        _record(_FURTHER_ROW, "A further cut of all pieces of a mark."),
        "The further cuts of ends with more than one plane, in the order of work, after the bars.",
    ),
    "further_swings": _whole("How often the arm is swung or the blade tilted for them; not in swings."),
    "pieces": _list(_record(_PIECE, "A mark."), "The marks in the order of the job, both hands together."),
    "assemblies": _list(_record(_ASSEMBLY, "A frame."), "The frames in the order of the job."),
    "problems": _list(_words("A sentence."), "What cannot be made as asked; empty where all can."),
    "problem_marks": _list(_words("A mark."), "The marks that the problems are told of, in the order of the job."),
}


def schema() -> Schema:
    """The schema of plan.json."""
    says = "The plan of a packet: bars, pieces and frames in mm and degrees at full precision, whatever the units."
    together = {key: [other for other in _SEARCHED if other != key] for key in _SEARCHED}
    keys = {**_ALWAYS, **_SEARCHED}
    return kind.document("mitertool plan", keys, tuple(_ALWAYS), says, dependentRequired=together)
