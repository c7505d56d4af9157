"""Solved values as plain records for JSON: mm and degrees in full precision, every key with its unit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final

from mitertool.sections.dimension import record_key

if TYPE_CHECKING:
    from mitertool.cut import Cut, Face
    from mitertool.cut.ends import Further
    from mitertool.frame import Assembly, Corner
    from mitertool.job import Solution, SolvedPiece
    from mitertool.job.runs import Run
    from mitertool.job.settings import JobSetting
    from mitertool.job.solved import FurtherCut
    from mitertool.nest import Bar, Bound, Plan, Steel
    from mitertool.piece import Piece
    from mitertool.saw import Reach, Saw
    from mitertool.saw.feed import BarCut, FeedLine
    from mitertool.saw.stops import Stop, Work
    from mitertool.sections import Section

FORMAT: Final = 1
Record = dict[str, Any]


def of_section(section: Section) -> Record:
    """A section by its figures."""
    return {
        "name": section.name,
        "shape": section.shape.word,
        "source": section.source,
        "width_mm": section.width,
        "height_mm": section.height,
        "area_mm2": section.area,
        "perimeter_mm": section.perimeter,
        "centroid_mm": list(section.centroid),
        "mass_per_metre_kg": section.mass_per_metre,
        "nominal_mass_per_metre_kg": section.nominal_mass_per_metre,
        "symmetry": sorted(section.symmetry),
        "rotation_deg": section.rotation,
        "turned": section.turned,
        "dimensions": {record_key(word): value for word, value in section.dimensions},
    }


def of_ends(piece: Piece) -> Record:
    """The cuts of both ends: the one that parts the bar, and the further ones with where each meets it, y and z."""
    return {
        "left": of_cut(piece.left),
        "right": of_cut(piece.right),
        "left_further": [_of_further(one) for one in piece.left_further],
        "right_further": [_of_further(one) for one in piece.right_further],
    }


def _of_further(one: Further) -> Record:
    return {**of_cut(one.cut), "meets_mm": list(one.meets) if isinstance(one.meets, tuple) else None}


def of_cut(cut: Cut) -> Record:
    """A cut by its two angles."""
    return {"miter_deg": cut.miter, "bevel_deg": cut.bevel}


def of_face(face: Face) -> Record:
    """A face by its figures."""
    return {
        "area_mm2": face.area,
        "perimeter_mm": face.perimeter,
        "width_mm": face.width,
        "height_mm": face.height,
        "largest_contact_mm": face.largest_contact,
        "thinnest_wall_mm": face.thinnest_wall,
    }


def of_piece(piece: Piece) -> Record:
    """A piece by its cuts and every length of it."""
    edges = piece.edges
    return {
        **of_ends(piece),
        "long_point_mm": piece.long_point,
        "short_point_mm": piece.short_point,
        "centerline_mm": piece.centerline,
        "overall_mm": piece.overall,
        "edges_mm": {
            "fixed_bottom": edges.fixed_bottom,
            "fixed_top": edges.fixed_top,
            "moving_bottom": edges.moving_bottom,
            "moving_top": edges.moving_top,
        },
        "volume_mm3": piece.volume,
        "mass_kg": piece.mass,
        "nominal_mass_kg": piece.nominal_mass,
        "poses": list(piece.poses),
    }


def of_corner(corner: Corner) -> Record:
    """A corner by its miters and seam."""
    return {
        "width_a_mm": corner.width_a,
        "width_b_mm": corner.width_b,
        "angle_deg": corner.angle,
        "miter_a_deg": corner.miter_a,
        "miter_b_deg": corner.miter_b,
        "seam_mm": corner.seam,
    }


def of_saw(saw: Saw | None) -> Record | None:
    """Which saw the settings are for; None where there is no saw file."""
    if saw is None:
        return None
    return {"name": saw.name, "invented": saw.invented, "corrected": saw.scale.offset_date}


def of_reach(reach: Reach | None) -> Record | None:
    """The settings of a cut; None where there is no saw file."""
    if reach is None:
        return None
    return {
        "ok": reach.ok,
        "reasons": [{"code": r.code, "says": r.says, "have": r.have, "need": r.need} for r in reach.reasons],
        "swing_deg": reach.swing,
        "scale_deg": reach.scale,
        "side": reach.side,
        "scale_side": reach.scale_side,
        "roll_deg": reach.roll,
        "tilt_deg": reach.tilt,
        **_asked(reach),
    }


def _asked(reach: Reach) -> Record:
    """What the cut asks of guides, arm and obstacles; null where the saw file does not say what it takes to know."""
    unit = reach.setting.saw.arm_type.unit
    pack = reach.pack
    return {
        "rolled_width_mm": reach.section.width,
        "rolled_height_mm": reach.section.height,
        "pack_mm": None if pack is None else pack.height,
        "guide_opening_mm": reach.guide_opening,
        "guide_setting_mm": reach.guide_setting,
        f"arm_lift_{unit}": reach.arm_lift,
        "stop_height_mm": reach.stop_height,
        f"first_touch_{unit}": reach.first_touch,
        f"through_{unit}": reach.through,
        f"travel_{unit}": reach.travel,
        "set_backs_mm": dict(reach.set_backs),
        "largest_contact_mm": reach.largest_contact,
        "mean_contact_mm": reach.mean_contact,
        "thinnest_wall_mm": reach.thinnest_wall,
        "minutes": reach.minutes,
    }


def of_load(reach: Reach) -> Record | None:
    """The load of the blade over its travel; None where the saw file has no arm that fits the bar."""
    passage = reach.passage
    if passage is None:
        return None
    at = f"position_{passage.arm.unit}"
    return {
        "smallest_mm": passage.smallest,
        "jumps": [{at: jump.position, "before_mm": jump.before, "after_mm": jump.after} for jump in passage.jumps],
        "chart": [{at: s.position, "contact_mm": s.contact, "walls": s.walls} for s in passage.samples()],
    }


def of_solution(solution: Solution) -> Record:
    """A solved job: one record a mark, both hands together, and one a frame."""
    by_order: dict[str, list[SolvedPiece]] = {}
    for piece in solution.pieces:
        by_order.setdefault(piece.order.mark, []).append(piece)
    return {
        "format": FORMAT,
        "job": solution.job.head.name,
        "pieces": [_of_order(hands) for hands in by_order.values()],
        "assemblies": [of_assembly(frame.assembly, frame.quantity) for frame in solution.frames],
        "problems": list(solution.problems),
        "problem_marks": list(solution.problem_marks),
    }


def _of_order(hands: list[SolvedPiece]) -> Record:
    from mitertool.job.solved import further_cuts

    first = hands[0]
    order = first.order
    return {
        "mark": order.mark,
        "section": first.piece.section.name,
        "grade": order.grade,
        "quantity": order.quantity,
        "opposite": order.opposite,
        **of_piece(order.piece),
        "reach": of_reaches(*first.drawn, further_cuts(order.piece, first.saw, order.turn)),
    }


def of_reaches(left: Reach | None, right: Reach | None, further: Sequence[FurtherCut]) -> Record:
    """The settings of all cuts of a piece: those that part the bar, and where an end has them the further ones."""
    more: dict[str, list[Record | None]] = {}
    for one in further:
        more.setdefault(f"{one.end}_further", []).append(of_reach(one.reach))
    return {"left": of_reach(left), "right": of_reach(right), **more}


def of_further(solution: Solution) -> Record:
    """The further cuts of all pieces in the order of work, and how often the arm is set for them."""
    from mitertool.job.settings import number_of

    rows = [
        {
            "mark": row.mark,
            "pieces": row.quantity,
            "end": row.cut.end,
            "cut": row.cut.number,
            **of_cut(row.cut.cut),
            "setting": number_of(solution.settings, row.cut.reach, row.solved.order.grade) if row.cut.reach else 0,
            "scale_deg": row.cut.reach.scale if row.cut.reach else None,
            "roll_deg": row.cut.way.roll,
            "turned": row.cut.way.turned,
            "back_mm": dict(row.cut.back),
            "edges_mm": dict(row.cut.edges),
        }
        for row in solution.further
    ]
    return {"further_cuts": rows, "further_swings": solution.further_swings}


def of_assembly(assembly: Assembly, quantity: int = 1) -> Record:
    """A frame by the marks around it and how well it closes."""
    closure = assembly.closure
    return {
        "mark": assembly.mark,
        "shape": assembly.shape,
        "quantity": quantity,
        "order": list(assembly.order),
        "joints": [{"kind": joint.kind, "gap_mm": joint.gap} for joint in assembly.joints],
        "notes": [note.says(lambda length: f"{length:.6g} mm") for note in assembly.notes],
        "closure": {
            "gap_mm": closure.gap,
            "overlap_mm": closure.overlap,
            "rounded_gap_mm": closure.rounded_gap,
        },
    }


def of_settings(settings: Sequence[JobSetting]) -> list[Record]:
    """The settings of a job in the order of work, with the ends that each makes."""
    return [
        {
            "number": setting.number,
            "section": setting.reach.section.name,
            **_lies(setting.reach.section),
            "grade": setting.grade,
            "scale_deg": setting.reach.scale,
            "scale_side": setting.reach.scale_side,
            "swing_deg": setting.reach.swing,
            "tilt_deg": setting.reach.tilt,
            "makes": [
                {"mark": u.mark, "end": u.end, "cut": u.cut, "roll_deg": u.roll, "end_for_end": u.turned}
                for u in setting.uses
            ],
        }
        for setting in settings
    ]


def _lies(section: Section) -> Record:
    """How a section lies in the vise: its width, its height, and the words for it where the two do not tell."""
    from mitertool.packet.words import lies

    return {"wide_mm": section.width, "high_mm": section.height, "lies": lies(section)}


def of_runs(runs: Sequence[Run], settings: Sequence[JobSetting]) -> list[Record]:
    """What the saw is given for each bar of the plan, in its order."""
    from mitertool.job.settings import number_of

    return [
        {
            "cuts": [_of_cut_on_bar(cut, number_of(settings, cut.reach, run.bar.grade)) for cut in run.cuts],
            "feed": None if run.feed is None else [_of_line(line) for line in run.feed.lines],
            "stops": [of_stop(stop) for stop in run.stops],
            "blanks_first": None if run.blanks is None else _of_work(run.blanks.blanks),
            "as_planned": None if run.blanks is None else _of_work(run.blanks.as_planned),
            "minutes": run.minutes,
        }
        for run in runs
    ]


def _of_cut_on_bar(cut: BarCut, setting: int) -> Record:
    return {
        "mark": cut.mark,
        "setting": setting,
        "roll_deg": cut.reach.roll,
        "fed_mm": cut.fed,
    }


def _of_line(line: FeedLine) -> Record:
    return {
        "pieces": line.quantity if line.counted else 0,
        "mark": line.mark,
        "key_mm": line.key,
        "travel_mm": line.travel,
        "strokes": line.strokes,
        "on": line.on,
        "set_before": list(line.set_up),
        "by_hand": line.manual.in_units("mm"),
    }


def of_stop(stop: Stop) -> Record:
    """A stop by its distance and what touches it; no distance where none holds."""
    return {
        "mark": stop.mark,
        "from_blade_mm": stop.from_blade if stop.holds else None,
        "y_mm": stop.y,
        "z_mm": stop.z,
        "touches": stop.touches,
    }


def _of_work(work: Work) -> Record:
    return {"cuts": work.cuts, "set_ups": work.set_ups, "steel_mm": work.steel}


def of_plan(plan: Plan | None) -> Record:
    """The bars; an empty plan where the job gives no stock."""
    if plan is None:
        return {
            "format": FORMAT,
            "bars": [],
            "cost": 0,
            "lower_bound": 0,
            "proved": False,
            "swings": 0,
            "rolls": 0,
            "tilts": 0,
        }
    return {
        "format": FORMAT,
        "bars": [_of_bar(bar) for bar in plan.bars],
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "swings": plan.swings,
        "rolls": plan.rolls,
        "tilts": plan.tilts,
        "objective": plan.objective,
        "setups_bound": plan.setups_bound,
        "tip_to_tip_cost": plan.tip_to_tip,
        "shop_cost": plan.shop_cost,
        "shop_bound": plan.shop_bound,
        "minutes": plan.minutes,
        "stopped": plan.stopped,
        "left_out": dict(plan.left_out),
        "within": list(plan.within),
        "steel_mm": _of_steel(plan.steel),
        "bounds": [_of_bound(bound) for bound in plan.bounds],
    }


def _of_steel(steel: Steel) -> Record:
    """Where the steel goes; bought is the sum of the others."""
    parts = ("bought", "pieces", "kerf", "wedges", "trim", "grip", "drops")
    return {part: getattr(steel, part) for part in parts}


def _of_bound(bound: Bound) -> Record:
    return {
        "section": bound.section,
        "grade": bound.grade,
        "cost": bound.cost,
        "how": bound.how,
        "plain": bound.plain,
        "worth": dict(bound.worth),
    }


def _of_bar(bar: Bar) -> Mapping[str, Any]:
    return {
        "section": bar.section.name,
        **_lies(bar.section),
        "grade": bar.grade,
        "stock_length_mm": bar.stock_length,
        "count": bar.count,
        "pieces": [{"mark": p.mark, "pose": p.pose, "at_mm": p.at} for p in bar.pieces],
        "drop_mm": bar.drop,
        "swings": bar.swings,
        "rolls": bar.rolls,
        "tilts": bar.tilts,
        "cuts": [
            {
                "at_mm": cut.at,
                "fixed_mm": cut.fixed,
                "moving_mm": cut.moving,
                "shared": cut.shared,
                "kerf": cut.kerf_lies,
                "swing_deg": cut.swing,
                "tilt_deg": cut.tilt,
                "roll_deg": cut.roll,
            }
            for cut in bar.cuts
        ],
    }
