"""The records of a cut, of a piece with its lengths, and of what the saw is set to for a cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

import attrs

from mitertool.packet.records import fields as told
from mitertool.packet.words import worked_lines
from mitertool.quantity import schema as kind

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.cut.ends import Further
    from mitertool.job import SolvedPiece
    from mitertool.job.particulars import Particulars
    from mitertool.job.solved import FurtherCut
    from mitertool.piece import Edges, Piece
    from mitertool.piece.marks import PieceMark
    from mitertool.quantity.schema import Schema
    from mitertool.saw import Machine, Reach, Reason

ENDS: Final = ("left", "right")

CUT: Final[told.Record[Cut]] = told.record_of(
    miter_deg=told.figure("record.cut.miter_deg"),
    bevel_deg=told.figure("record.cut.bevel_deg"),
)


def _meets() -> Schema:
    says = "record.says"
    return {**kind.several(told.NUMBER, 2, 2), "description": says}


_FURTHER: Final[told.Record[Further]] = told.record_of(
    **CUT.within(lambda f: f.cut), meets_mm=told.Field(_meets, tell=list)
)

_EDGES: Final[told.Record[Edges]] = told.record_of(
    fixed_bottom=told.figure("record.edges.fixed_bottom"),
    fixed_top=told.figure("record.edges.fixed_top"),
    moving_bottom=told.figure("record.edges.moving_bottom"),
    moving_top=told.figure("record.edges.moving_top"),
)


def pose() -> Schema:
    """One of the poses."""
    from mitertool.piece import POSES

    return {"enum": list(POSES), "description": "record.pose"}


def _poses() -> Schema:
    return {
        "type": "array",
        "items": pose(),
        "description": "record.poses",
    }


PIECE: Final[told.Record[Piece]] = told.record_of(
    left=told.record(CUT, "record.piece.left"),
    right=told.record(CUT, "record.piece.right"),
    left_further=told.records(_FURTHER, "record.piece.left_further", "record.piece.left_further.2"),
    right_further=told.records(_FURTHER, "record.piece.right_further", "record.piece.right_further.2"),
    long_point_mm=told.figure("record.piece.long_point_mm"),
    short_point_mm=told.figure("record.piece.short_point_mm"),
    centerline_mm=told.figure("record.piece.centerline_mm"),
    overall_mm=told.figure("record.piece.overall_mm"),
    edges_mm=told.record(_EDGES, "record.piece.edges_mm"),
    turn_deg=told.figure(
        "record.piece.turn_deg",
        lambda p: p.turn,
    ),
    volume_mm3=told.figure("record.piece.volume_mm3"),
    mass_kg=told.figure("record.piece.mass_kg"),
    nominal_mass_kg=told.figure("record.piece.nominal_mass_kg"),
    poses=told.Field(_poses, tell=list),
)

SAW: Final[told.Record[Machine]] = told.record_of(
    name=told.text("record.saw.name"),
    invented=told.flag("record.saw.invented"),
    corrected=told.text("record.saw.corrected", lambda s: s.scale.offset_date),
)

_REASON: Final[told.Record[Reason]] = told.record_of(
    code=told.text("record.reason.code"),
    says=told.text("record.reason.says"),
    have=told.figure("record.reason.have"),
    need=told.figure("record.reason.need"),
)


def _of_arm(key: str) -> dict[str, told.Field[Reach]]:
    """What is degrees on a saw whose arm is hinged, and mm on a column."""
    known: dict[str, told.Field[Reach]] = {unit: told.known(f"record.reach.{key}_{unit}") for unit in ("deg", "mm")}
    return {f"{key}_{unit}": attrs.evolve(one, when=_in(unit)) for unit, one in known.items()}


def _in(unit: str) -> Callable[[Reach], bool]:
    return lambda reach: reach.setting.saw.arm_type.unit == unit


_REACH: Final[dict[str, told.Field[Reach]]] = {
    "ok": told.flag("record.reach.ok"),
    "reasons": told.records(_REASON, "record.reach.reasons.one", "record.reach.reasons"),
    "swing_deg": told.figure("record.reach.swing_deg"),
    "scale_deg": told.figure("record.reach.scale_deg"),
    "side": told.text("record.reach.side"),
    "scale_side": told.text("record.reach.scale_side"),
    "roll_deg": told.figure("record.reach.roll_deg"),
    "tilt_deg": told.figure("record.reach.tilt_deg"),
    "rolled_width_mm": told.figure("record.reach.rolled_width_mm", lambda r: r.section.width),
    "rolled_height_mm": told.figure("record.reach.rolled_height_mm", lambda r: r.section.height),
    "pack_mm": told.known(
        "record.reach.pack_mm",
        lambda r: None if r.pack is None else r.pack.height,
    ),
    "guide_opening_mm": told.known("record.reach.guide_opening_mm"),
    "guide_setting_mm": told.known("record.reach.guide_setting_mm"),
    **_of_arm("arm_lift"),
    "stop_height_mm": told.known("record.reach.stop_height_mm"),
    **_of_arm("first_touch"),
    **_of_arm("through"),
    **_of_arm("travel"),
    "set_backs_mm": told.by_name("number", "record.reach.set_backs_mm"),
    "largest_contact_mm": told.known("record.reach.largest_contact_mm"),
    "mean_contact_mm": told.known("record.reach.mean_contact_mm"),
    "thinnest_wall_mm": told.known("record.reach.thinnest_wall_mm"),
    "minutes": told.known("record.reach.minutes"),
}


def _one_unit() -> Schema:
    """An arm is told in degrees or in mm."""
    of_arm = [key for key, one in _REACH.items() if one.when]
    degrees, lifts = ([key for key in of_arm if key.endswith(unit)] for unit in ("_deg", "_mm"))
    ways = ((degrees, lifts), (lifts, degrees))
    return {"anyOf": [{"required": has, "properties": dict.fromkeys(lacks, False)} for has, lacks in ways]}


REACH: Final[told.Record[Reach]] = told.Record(_REACH, _one_unit())


def _settings(end: str) -> str:
    return f"record.settings.{end}"


def _further(end: str) -> told.Field[Reaches]:
    def these(reaches: Reaches) -> list[FurtherCut]:
        return [one for one in reaches[2] if one.end == end]

    def type_of() -> Schema:
        one = told.or_null(REACH.schema(_settings("further")))
        return {"type": "array", "items": one, "description": f"record.further.{end}"}

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
    drawing=told.text("record.particulars.drawing"),
    heat=told.text("record.particulars.heat"),
    note=told.text("record.particulars.note"),
    prep=told.text("record.particulars.prep"),
    process=told.text("record.particulars.process"),
)
"""What a table of a job says for paper to carry, as it is written there."""

_PLACE: Final[told.Record[PieceMark]] = told.record_of(
    at_mm=told.figure("record.place.at_mm"),
    end=told.one_of(ENDS, "record.place.end"),
    side=told.text("record.place.side"),
    what=told.text("record.place.what"),
)

MARK: Final[told.Record[SolvedPiece]] = told.record_of(
    mark=told.text("record.mark.mark", lambda s: s.order.mark),
    section=told.text("record.mark.section", lambda s: s.piece.section.name),
    wide_mm=told.figure("record.mark.wide_mm", lambda s: s.order.piece.section.width),
    high_mm=told.figure("record.mark.high_mm", lambda s: s.order.piece.section.height),
    rotated_deg=told.figure(
        "record.mark.rotated_deg",
        lambda s: s.order.piece.section.rotation,
    ),
    laid_end_for_end=told.flag("record.mark.laid_end_for_end", lambda s: s.order.piece.section.turned),
    grade=told.text("record.mark.grade", lambda s: s.order.grade),
    quantity=told.whole("record.mark.quantity", lambda s: s.order.quantity),
    opposite=told.whole("record.mark.opposite", lambda s: s.order.opposite),
    side_by_side=attrs.evolve(
        told.whole("record.mark.side_by_side", lambda s: s.order.side_by_side),
        when=lambda s: s.order.side_by_side > 1,
    ),
    boxed=attrs.evolve(
        told.flag("record.mark.boxed", lambda s: s.order.boxed),
        when=lambda s: s.order.boxed,
    ),
    worked=attrs.evolve(
        told.texts("record.mark.worked.one", "record.mark.worked", lambda s: worked_lines(s.order.worked, "mm")),
        when=lambda s: bool(s.order.worked),
    ),
    places=told.records(_PLACE, "record.mark.places.one", "record.mark.places", lambda s: s.order.places),
    **PARTICULARS.within(lambda s: s.order.particulars),
    **PIECE.within(lambda s: s.order.piece),
    reach=told.record(
        REACHES,
        "record.mark.reach",
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
