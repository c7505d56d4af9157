"""`mitertool first-piece`: a measured piece against its drawing, and what to change; knows piece and saw."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mitertool.cli.options import AsJson, LayOption, SectionName, UnitsOption, answer, columns, find_section, units_of

if TYPE_CHECKING:
    from mitertool.piece import Piece
    from mitertool.quantity import Units
    from mitertool.saw.first_piece import Finding, FirstPiece, Measured, Readings
    from mitertool.saw.fit_up import Opening, Share


def first_piece(
    name: SectionName,
    length: Annotated[str, typer.Option(help="Nominal length, measured as --at says.")],
    long: Annotated[str, typer.Option(help="Measured long point.")],
    short: Annotated[str, typer.Option(help="Measured short point.")],
    at: Annotated[str, typer.Option(help="long-point, short-point, centerline, overall, or an edge.")] = "long-point",
    left: Annotated[str, typer.Option(help="Nominal left miter.")] = "0",
    right: Annotated[str, typer.Option(help="Nominal right miter.")] = "0",
    width: Annotated[str, typer.Option(help="Measured width across the bed.")] = "",
    left_angle: Annotated[str, typer.Option(help="Measured left miter, from square, signed as the drawing's.")] = "",
    right_angle: Annotated[str, typer.Option(help="Measured right miter, likewise.")] = "",
    out_of_square: Annotated[str, typer.Option(help="How far the top of the end stands out beyond its bottom.")] = "",
    way: Annotated[str, typer.Option(help="How the second end was made: rolled, swung or parallel.")] = "",
    stop: Annotated[str, typer.Option(help="The tip of the end cut first that a stop touched: long or short.")] = "",
    tape: Annotated[str, typer.Option(help="How sure the tape is read, plus or minus.")] = "",
    protractor: Annotated[str, typer.Option(help="How sure the protractor is read, degrees.")] = "",
    saw: Annotated[Path | None, typer.Option("--saw", help="Saw file: how it made the piece, and its scale.")] = None,
    tolerance: Annotated[str, typer.Option(help="Class to hold the errors against, such as 'ISO 13920-B'.")] = "",
    keep: Annotated[bool, typer.Option("--keep", help="Keep the correction in the saw file, dated.")] = False,
    lay: LayOption = "0",
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Say what is wrong with a first piece, how sure that is, and what to change on which line."""
    from mitertool.cut import Cut, cut_from
    from mitertool.packet.cautions import SHORT
    from mitertool.piece import Piece
    from mitertool.quantity import length_from_zero
    from mitertool.saw import Saw
    from mitertool.saw.classes import tolerance_class
    from mitertool.saw.first_piece import first_piece as judge
    from mitertool.saw.first_piece import openings
    from mitertool.saw.first_piece import shares as shares_of

    unit = units_of(units)
    _refuse_options(way, stop, saw)
    cuts = (Cut(cut_from(left, "--left").miter), Cut(cut_from(right, "--right").miter))
    piece = Piece(find_section(name, lay), length_from_zero(length, unit, "--length"), *cuts, at)
    measured = _measured(long, short, width, left_angle, right_angle, out_of_square, unit)
    machine = Saw.load(saw) if saw else None
    found = judge(piece, measured, way or None, _readings(tape, protractor, unit), machine, stop)
    shares = shares_of(piece, found, tolerance_class(tolerance)) if tolerance else ()
    opened = openings(piece, found)
    kept = _keep(piece, measured, found, saw) if keep else ()
    record = {
        **_record(piece, found),
        **({"kept": list(kept)} if keep else {}),
        "joints": [_of_opening(one) for one in opened],
        "shares": [_of_share(one) for one in shares],
    }
    rows = [*_rows(found, unit), *_fit_rows(opened, shares, unit)]
    answer(record, columns([*rows, *(("kept", says) for says in kept)]), as_json, SHORT)


def _refuse_options(way: str, stop: str, saw: Path | None) -> None:
    from mitertool.base.errors import BadInput
    from mitertool.saw.first_piece import TIPS, WAYS

    ways = f"--way {', '.join(WAYS)}"
    if not way and saw is None:
        what = "how the second end came about is not known"
        raise BadInput("first-piece", what, f"give the saw file with --saw, or say {ways}")
    for option, given, allowed in (("--way", way, WAYS), ("--stop", stop, TIPS)):
        if given and given not in allowed:
            raise BadInput(option, given, f"allowed: {', '.join(allowed)}")


def _measured(long: str, short: str, width: str, left: str, right: str, out_of_square: str, unit: Units) -> Measured:
    from mitertool.quantity import angle, length, length_from_zero, positive_length
    from mitertool.saw.first_piece import Measured

    return Measured(
        long=positive_length(long, unit, "--long"),
        short=length_from_zero(short, unit, "--short"),
        width=positive_length(width, unit, "--width") if width else None,
        left=angle(left, "--left-angle") if left else None,
        right=angle(right, "--right-angle") if right else None,
        out_of_square=length(out_of_square, unit, "--out-of-square") if out_of_square else None,
    )


def _readings(tape: str, protractor: str, unit: Units) -> Readings:
    from mitertool.quantity import angle, positive_length
    from mitertool.saw.first_piece import Readings

    return Readings(
        positive_length(tape, unit, "--tape") if tape else None,
        angle(protractor, "--protractor") if protractor else None,
    )


def _keep(piece: Piece, measured: Measured, found: FirstPiece, saw: Path | None) -> tuple[str, ...]:
    """What was kept, and what not and why."""
    from datetime import date

    from mitertool.base.errors import BadInput
    from mitertool.saw.correction import keep_offset, measurement

    if saw is None:
        raise BadInput("--keep", "no saw file", "a correction is kept in the file given by --saw")
    if found.correction is None:
        why = (
            "no error of the scale is known"
            if found.arm is None
            else "the arm is right within what the readings can tell"
        )
        return (f"nothing: {why}",)
    return keep_offset(saw, found.correction, date.today(), measurement(piece, measured)).says


def _record(piece: Piece, found: FirstPiece) -> dict[str, Any]:
    from mitertool.packet.records import of_piece

    def of_finding(finding: Any, unit: str) -> dict[str, Any]:
        return {
            "on": finding.on,
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
        "measure": list(found.measure),
        "assumed": [told.in_units("mm") for told in found.assumed],
        "correction_deg": found.correction,
    }


def _of_opening(opening: Opening) -> dict[str, Any]:
    return {"end": opening.mark, "heel_mm": opening.heel, "throat_mm": opening.throat}


def _of_share(share: Share) -> dict[str, Any]:
    return {"what": share.what, "share": share.share, "of": share.of, "wants_checking": share.wants_checking}


def _fit_rows(opened: Sequence[Opening], shares: Sequence[Share], unit: Units) -> list[tuple[str, str]]:
    """The same for a person."""
    from mitertool.quantity import show_gap

    rows = []
    for joint in opened:
        where = "throat" if joint.throat else "heel"
        gap = show_gap(max(joint.throat, joint.heel), unit)
        rows.append((f"{joint.mark} joint", f"opens {gap} at the {where} against an end cut alike"))
    for share in shares:
        used = "the class has no value" if share.share is None else f"{100 * share.share:.0f} % of what it may be out"
        rows.append((share.what, f"{used}{', measure every piece' if share.wants_checking else ''}"))
    return rows + ([("tolerance", f"of {shares[0].of}; figures {shares[0].certainty}")] if shares else [])


def _rows(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    from mitertool.quantity import show_gap

    def degrees(value: float) -> str:
        return f"{value:.2f}°"

    def length(value: float) -> str:
        return f"{show_gap(value, unit)}{' mm' if unit == 'mm' else ''}"

    rows = [_row(finding, degrees) for finding in found.angles]
    rows.append(_row(found.length, length))
    rows += [_row(found.lead, degrees)] if found.lead else []
    rows += [("change", told.in_units(unit)) for told in found.change]
    rows += [("measure too", says) for says in found.measure]
    return rows + [("assumed", told.in_units(unit)) for told in found.assumed]


def _row(finding: Finding, show: Callable[[float], str]) -> tuple[str, str]:
    sure = "" if finding.sure else ", within what the readings can tell"
    sign = "-" if finding.error < 0 else "+"
    return finding.on, f"{sign}{show(abs(finding.error))}, give or take {show(finding.uncertainty)}{sure}"
