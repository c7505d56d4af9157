"""`mitertool first-piece`: a measured piece against its drawing, and what to change; knows piece and saw."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from mitertool import saw as saws
from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cli.commands import choice, command, options
from mitertool.cli.measured_at import AtOption
from mitertool.cli.options import InUnits, Laid, Sawn, SectionName, answer, columns, find_section
from mitertool.cut import Cut, cut_from
from mitertool.packet.cautions import short
from mitertool.packet.first_piece_told import finding_rows, fit_rows, line_words
from mitertool.packet.records import of_piece
from mitertool.piece import Piece
from mitertool.quantity import angle, angle_from_zero, length, length_from_zero, positive_length
from mitertool.saw.proof.classes import tolerance_class
from mitertool.saw.proof.first_piece import TIPS, WAYS, FirstPiece, Measured, Readings, openings
from mitertool.saw.proof.first_piece import first_piece as judge
from mitertool.saw.proof.first_piece import shares as shares_of
from mitertool.saw.proof.fit_up import Opening, Share
from mitertool.words import phrase


@options
class FirstPieceOptions(Laid, Sawn, InUnits):
    """A piece as drawn and as measured."""

    name: SectionName
    length: Annotated[str, typer.Option(help="option.first-piece.length")]
    long: Annotated[str, typer.Option(help="option.first-piece.long", metavar="LENGTH")]
    short: Annotated[str, typer.Option(help="option.first-piece.short", metavar="LENGTH")]
    at: AtOption = "long-point"
    left: Annotated[str, typer.Option(help="option.first-piece.left", metavar="MITER")] = "0"
    right: Annotated[str, typer.Option(help="option.first-piece.right", metavar="MITER")] = "0"
    width: Annotated[str, typer.Option(help="option.first-piece.width", metavar="LENGTH")] = ""
    left_angle: Annotated[str, typer.Option(help="option.first-piece.left-angle")] = ""
    right_angle: Annotated[str, typer.Option(help="option.first-piece.right-angle")] = ""
    out_of_square: Annotated[str, typer.Option(metavar="LENGTH", help="option.first-piece.out-of-square")] = ""
    way: Annotated[str, choice("option.first-piece.way", WAYS)] = ""
    stop: Annotated[str, choice("option.first-piece.stop", TIPS)] = ""
    tape: Annotated[str, typer.Option(metavar="LENGTH", help="option.first-piece.tape")] = ""
    protractor: Annotated[str, typer.Option(metavar="ANGLE", help="option.first-piece.protractor")] = ""
    tolerance: Annotated[str, typer.Option(metavar="CLASS", help="option.first-piece.tolerance")] = ""
    keep: Annotated[bool, typer.Option("--keep", help="option.first-piece.keep")] = False


@command(
    FirstPieceOptions,
    "first-piece 'RHS 80x40x3' --length 1200 --left 45 --right 45 --long 1201.5 --short 1118.5 --saw saw.toml",
    "first-piece 'RHS 80x40x3' --length 1200 --left 45 --right 45 --long 1200 --short 1121 --way rolled",
)
def first_piece(o: FirstPieceOptions) -> None:
    """What `mitertool first-piece` does."""
    _refuse_options(o)
    unit = o.unit
    cuts = (Cut(cut_from(o.left, "--left").miter), Cut(cut_from(o.right, "--right").miter))
    piece = Piece(find_section(o.name, o.lay), length_from_zero(o.length, unit, "--length"), *cuts, o.at)
    measured = _measured(o)
    found = judge(piece, measured, o.way or None, _readings(o), o.machine(), o.stop)
    shares = shares_of(piece, found, tolerance_class(o.tolerance)) if o.tolerance else ()
    opened = openings(piece, found)
    kept = _keep(piece, measured, found, o.saw_file) if o.keep else ()
    record = {
        **_record(piece, found),
        **({"kept": list(kept)} if o.keep else {}),
        "joints": [_of_opening(one) for one in opened],
        "shares": [_of_share(one) for one in shares],
    }
    rows = [*finding_rows(found, unit), *fit_rows(opened, shares, unit)]
    answer(record, columns([*rows, *((phrase("screen.kept"), says) for says in kept)]), o, short())


def _refuse_options(o: FirstPieceOptions) -> None:
    if not o.way and o.saw_file is None:
        raise BadInput("first-piece", phrase("found.no-way"), phrase("refuse.no-way", ways=", ".join(WAYS)))
    for option, given, allowed in (("--way", o.way, WAYS), ("--stop", o.stop, TIPS)):
        if given and given not in allowed:
            raise BadInput(option, given, among(allowed))


def _measured(o: FirstPieceOptions) -> Measured:
    unit = o.unit
    return Measured(
        long=positive_length(o.long, unit, "--long"),
        short=length_from_zero(o.short, unit, "--short"),
        width=positive_length(o.width, unit, "--width") if o.width else None,
        left=angle(o.left_angle, "--left-angle") if o.left_angle else None,
        right=angle(o.right_angle, "--right-angle") if o.right_angle else None,
        out_of_square=length(o.out_of_square, unit, "--out-of-square") if o.out_of_square else None,
    )


def _readings(o: FirstPieceOptions) -> Readings:
    return Readings(
        positive_length(o.tape, o.unit, "--tape") if o.tape else None,
        angle_from_zero(o.protractor, "--protractor") if o.protractor else None,
    )


def _keep(piece: Piece, measured: Measured, found: FirstPiece, saw: Path | None) -> tuple[str, ...]:
    """What was kept, and what not and why."""
    if saw is None:
        raise BadInput("--keep", phrase("found.no-saw"), phrase("refuse.keep"))
    if found.correction is None:
        return (phrase("kept.no-error" if found.arm is None else "kept.right"),)
    return saws.keep_offset(saw, found.correction, date.today(), saws.measurement(piece, measured)).says


def _record(piece: Piece, found: FirstPiece) -> dict[str, Any]:
    def of_finding(finding: Any, unit: str) -> dict[str, Any]:
        return {
            "on": line_words(finding.on),
            f"error_{unit}": finding.error,
            f"uncertainty_{unit}": finding.uncertainty,
            "sure": finding.sure,
        }

    return {
        "section": piece.section.name,
        **of_piece(piece),
        "angles": [of_finding(finding, "deg") for finding in found.angles],
        "length": of_finding(found.length, "mm"),
        "arm": of_finding(found.arm, "deg") if found.arm else None,
        "lead": of_finding(found.lead, "deg") if found.lead else None,
        "angle_right": dict(zip(("long_point_mm", "short_point_mm"), found.angle_right, strict=True))
        if found.angle_right
        else None,
        "change": [told.in_units("mm") for told in found.change],
        "measure": [told.in_units("mm") for told in found.measure],
        "assumed": [told.in_units("mm") for told in found.assumed],
        "correction_deg": found.correction,
    }


def _of_opening(opening: Opening) -> dict[str, Any]:
    return {"end": opening.mark, "heel_mm": opening.heel, "throat_mm": opening.throat}


def _of_share(share: Share) -> dict[str, Any]:
    return {"what": share.what, "share": share.share, "of": share.of, "wants_checking": share.wants_checking}
