"""The records of a cut, of a piece with its lengths, and of what the saw is set to for a cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

import attrs

from mitertool.packet.records import fields as told
from mitertool.quantity import schema as kind

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.cut.ends import Further
    from mitertool.job import SolvedPiece
    from mitertool.job.particulars import Particulars
    from mitertool.job.solved import FurtherCut
    from mitertool.piece import Edges, Piece
    from mitertool.quantity.schema import Schema
    from mitertool.saw import Machine, Reach, Reason

ENDS: Final = ("left", "right")

CUT: Final[told.Record[Cut]] = told.record_of(
    miter_deg=told.figure("Degrees from square, positive with the long point on the moving side."),
    bevel_deg=told.figure("Degrees from upright, positive with the long point at the top."),
)


def _meets() -> Schema:
    says = "Where its plane meets the first cut's: from the fixed side, above the bed."
    return {**kind.several(told.NUMBER, 2, 2), "description": says}


_FURTHER: Final[told.Record[Further]] = told.record_of(
    **CUT.within(lambda f: f.cut), meets_mm=told.Field(_meets, tell=list)
)

_EDGES: Final[told.Record[Edges]] = told.record_of(
    fixed_bottom=told.figure("At the fixed jaw, on the bed."),
    fixed_top=told.figure("At the fixed jaw, at the top."),
    moving_bottom=told.figure("At the moving jaw, on the bed."),
    moving_top=told.figure("At the moving jaw, at the top."),
)


def pose() -> Schema:
    """One of the poses."""
    from mitertool.piece import POSES

    return {"enum": list(POSES), "description": "How the piece lies on the bar."}


def _poses() -> Schema:
    return {
        "type": "array",
        "items": pose(),
        "description": "The ways in which the section lets the piece lie on a bar.",
    }


PIECE: Final[told.Record[Piece]] = told.record_of(
    left=told.record(CUT, "The left cut as drawn."),
    right=told.record(CUT, "The right cut as drawn."),
    left_further=told.records(_FURTHER, "A further cut.", "The further cuts of an end with more than one plane."),
    right_further=told.records(_FURTHER, "A further cut.", "The same of the right end."),
    long_point_mm=told.figure("The longest line of material along the bar."),
    short_point_mm=told.figure("The shortest line of material along the bar."),
    centerline_mm=told.figure("The length at the middle of the section's box."),
    overall_mm=told.figure("The length from tip to tip."),
    edges_mm=told.record(_EDGES, "The lengths at the edges of the section's box, material there or not."),
    turn_deg=told.figure(
        "From the left end's long point to the right end's about the bar's axis, clockwise seen from the left end; 0 "
        "where both lie on one side.",
        lambda p: p.turn,
    ),
    volume_mm3=told.figure("The volume of one piece."),
    mass_kg=told.figure("The mass of the steel of one piece as drawn."),
    nominal_mass_kg=told.figure(
        "What one piece is lifted and bought as: as its standard prints it, or its nominal wall."
    ),
    poses=told.Field(_poses, tell=list),
)

SAW: Final[told.Record[Machine]] = told.record_of(
    name=told.text("What the shop calls it."),
    invented=told.flag("Whether it is made up and no machine has these figures."),
    corrected=told.text("The day of the correction of its scale; empty without one.", lambda s: s.scale.offset_date),
)

_REASON: Final[told.Record[Reason]] = told.record_of(
    code=told.text("What is in the way, in one word that stays: swing, tilt, opening, height and others."),
    says=told.text("The same in a sentence."),
    have=told.figure("What the saw has, mm or degrees."),
    need=told.figure("What the cut needs, mm or degrees."),
)


def _of_arm(key: str, says: str) -> dict[str, told.Field[Reach]]:
    """What is degrees on a saw whose arm is hinged, and mm on a column."""
    units = {"deg": "Degrees.", "mm": "On a column."}
    known: dict[str, told.Field[Reach]] = {unit: told.known(f"{says} {more}") for unit, more in units.items()}
    return {f"{key}_{unit}": attrs.evolve(one, when=_in(unit)) for unit, one in known.items()}


def _in(unit: str) -> Callable[[Reach], bool]:
    return lambda reach: reach.setting.saw.arm_type.unit == unit


_REACH: Final[dict[str, told.Field[Reach]]] = {
    "ok": told.flag("Whether the saw can make the cut."),
    "reasons": told.records(_REASON, "A reason.", "Why it cannot; empty where it can."),
    "swing_deg": told.figure("The swing of the arm from square, positive to the feed side."),
    "scale_deg": told.figure("What the protractor must read."),
    "side": told.text("The side to which the arm goes: feed, discharge, or square."),
    "scale_side": told.text(
        "The side on which the reading stands; not the arm's where a kept correction moves it over."
    ),
    "roll_deg": told.figure("How far the bar is rolled about its own axis; 0 where it is not."),
    "tilt_deg": told.figure("How far the blade is tilted; 0 where it is not."),
    "rolled_width_mm": told.figure("The width of the section as it lies for the cut.", lambda r: r.section.width),
    "rolled_height_mm": told.figure("The height of the section as it lies for the cut.", lambda r: r.section.height),
    "pack_mm": told.known(
        "The height of the packing that holds the section; null where it lies safely.",
        lambda r: None if r.pack is None else r.pack.height,
    ),
    "guide_opening_mm": told.known("The least gap between the guides."),
    "guide_setting_mm": told.known("How far from the fixed guide the moving one is set."),
    **_of_arm("arm_lift", "How far the arm is lifted from rest to clear the bar."),
    "stop_height_mm": told.known("The height of the edge above the bed with the arm so lifted."),
    **_of_arm("first_touch", "The position of the arm, from rest, in which its edge first touches."),
    **_of_arm("through", "The position of the arm, from rest, in which its edge is through."),
    **_of_arm("travel", "From first touch to through."),
    "set_backs_mm": told.by_name(
        "number", "How far the edge of each thing in the way must stand from the square cut line, by its name."
    ),
    "largest_contact_mm": told.known("The most material on the blade line at once."),
    "mean_contact_mm": told.known("The material on the blade line, averaged over the travel."),
    "thinnest_wall_mm": told.known("The thinnest wall on the blade; null for a solid bar."),
    "minutes": told.known("The minutes that the cut takes at the shop's own rates."),
}


def _one_unit() -> Schema:
    """An arm is told in degrees or in mm."""
    of_arm = [key for key, one in _REACH.items() if one.when]
    degrees, lifts = ([key for key in of_arm if key.endswith(unit)] for unit in ("_deg", "_mm"))
    ways = ((degrees, lifts), (lifts, degrees))
    return {"anyOf": [{"required": has, "properties": dict.fromkeys(lacks, False)} for has, lacks in ways]}


REACH: Final[told.Record[Reach]] = told.Record(_REACH, _one_unit())


def _settings(end: str) -> str:
    return f"The settings of the {end} cut; null where the job names no saw file."


def _further(end: str) -> told.Field[Reaches]:
    def these(reaches: Reaches) -> list[FurtherCut]:
        return [one for one in reaches[2] if one.end == end]

    def type_of() -> Schema:
        one = told.or_null(REACH.schema(_settings("further")))
        return {"type": "array", "items": one, "description": f"Of the {end} end's further cuts."}

    return told.Field(
        type_of, these, lambda found: [of_reach(one.reach) for one in found], lambda reaches: bool(these(reaches))
    )


Reaches = tuple["Reach | None", "Reach | None", "Sequence[FurtherCut]"]
"""The settings of the left and of the right cut that part the bar, and the further cuts."""

REACHES: Final[told.Record[Reaches]] = told.record_of(
    left=told.maybe(told.record(REACH, _settings("left"), lambda r: r[0])),
    right=told.maybe(told.record(REACH, _settings("right"), lambda r: r[1])),
    **{f"{end}_further": _further(end) for end in ENDS},
)


def _reaches(one: SolvedPiece) -> Reaches:
    from mitertool.job.solved import further_cuts

    left, right = one.drawn
    return left, right, further_cuts(one.order.piece, one.saw, one.order.turn)


PARTICULARS: Final[told.Record[Particulars]] = told.record_of(
    drawing=told.text("The drawing; empty where none is said."),
    heat=told.text("The number of the heat or of its certificate; empty where none is said."),
    note=told.text("What the floor must know besides; empty where nothing is said."),
    prep=told.text("The weld preparation in words; empty where none is said."),
    process=told.text("What is done after the cut; empty where nothing is said."),
)
"""What a table of a job says for paper to carry, as it is written there."""

MARK: Final[told.Record[SolvedPiece]] = told.record_of(
    mark=told.text("The mark of the piece.", lambda s: s.order.mark),
    section=told.text("The section it is cut from.", lambda s: s.piece.section.name),
    wide_mm=told.figure("How wide the section is, across the bed, as it lies.", lambda s: s.order.piece.section.width),
    high_mm=told.figure("How high the section is, above the bed, as it lies.", lambda s: s.order.piece.section.height),
    rotated_deg=told.figure(
        "How far it is rotated from how the catalogue draws it, counter-clockwise seen with the feed.",
        lambda s: s.order.piece.section.rotation,
    ),
    laid_end_for_end=told.flag("Whether it is laid end for end before.", lambda s: s.order.piece.section.turned),
    grade=told.text("The grade; empty where none is given.", lambda s: s.order.grade),
    quantity=told.whole("How many as drawn.", lambda s: s.order.quantity),
    opposite=told.whole("How many of the opposite hand.", lambda s: s.order.opposite),
    side_by_side=attrs.evolve(
        told.whole("How many bars are cut at once; told where more than one.", lambda s: s.order.side_by_side),
        when=lambda s: s.order.side_by_side > 1,
    ),
    boxed=attrs.evolve(
        told.flag("That two bars are cut as a box, which gives one of either hand.", lambda s: s.order.boxed),
        when=lambda s: s.order.boxed,
    ),
    **PARTICULARS.within(lambda s: s.order.particulars),
    **PIECE.within(lambda s: s.order.piece),
    reach=told.record(
        REACHES,
        "The settings of all cuts on the shop's saw, as drawn; the further ones where an end has any.",
        _reaches,
    ),
)
"""A mark, both hands together."""


of_cut = CUT.of
of_piece = PIECE.of
of_saw = SAW.of


def of_reach(reach: Reach | None) -> dict[str, Any] | None:
    """The settings of a cut; None where there is no saw file."""
    return told.of_known(REACH, reach)


def of_reaches(left: Reach | None, right: Reach | None, further: Sequence[FurtherCut]) -> dict[str, Any]:
    """The settings of all cuts of a piece: those that part the bar, and where an end has them the further ones."""
    return REACHES.of((left, right, further))
