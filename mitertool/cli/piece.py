"""`mitertool piece`: every length of a piece, its settings and a sketch; knows piece, saw and packet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mitertool.cli.options import (
    AsJson,
    ForceOption,
    LayOption,
    SawPath,
    SectionName,
    SketchPath,
    UnitsOption,
    WorkingOption,
    answer,
    columns,
    find_section,
    load_saw,
    may_sketch,
    units_of,
    with_working,
    write_sketch,
)
from mitertool.cli.side_by_side import BarsOption, row_lines, row_record

if TYPE_CHECKING:
    from mitertool.cut.ends import End
    from mitertool.job import SolvedPiece
    from mitertool.piece import Piece
    from mitertool.quantity import Units
    from mitertool.working import Step


_MITER = (
    "Left miter: from square, '3:12', '60 from bar', '90 corner'. Given again, a further cut: '-45', '-45 meets 20' "
    "(from the fixed side)."
)


def piece(
    name: SectionName,
    length: Annotated[str, typer.Option(help="Length, measured as --at says.")],
    at: Annotated[str, typer.Option(help="long-point, short-point, centerline, overall, or an edge.")] = "long-point",
    left: Annotated[list[str] | None, typer.Option(help=_MITER)] = None,
    right: Annotated[list[str] | None, typer.Option(help="Right miter, likewise.")] = None,
    left_bevel: Annotated[list[str] | None, typer.Option(help="Left bevel, degrees; one a cut.")] = None,
    right_bevel: Annotated[list[str] | None, typer.Option(help="Right bevel, likewise.")] = None,
    bars: BarsOption = "1",
    lay: LayOption = "0",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Print the long point, short point and every other length of a piece, its mass and its settings."""
    from mitertool.packet.cautions import for_cuts
    from mitertool.piece import Piece
    from mitertool.quantity import count, length_from_zero
    from mitertool.quantity.tables import Place
    from mitertool.saw.rows import refuse_row

    may_sketch(sketch, force)
    unit, section = units_of(units), find_section(name, lay)
    ends = (_end(left, left_bevel, "--left", unit), _end(right, right_bevel, "--right", unit))
    with Place((), unit):
        made = Piece(section, length_from_zero(length, unit, "--length"), *ends, at)
    number = count(bars, "--bars")
    refuse_row(number, made.left, made.right, bool(made.further))
    solved = _solved(made, saw, number)
    if sketch:
        _write(solved, sketch, unit)
    first = made.right if solved.left and solved.left.setting.saw.leads == "right" else made.left
    record = {**_record(solved, number), **row_record(section, first, number)}
    rows = [*_rows(solved, unit, number), *row_lines(section, first, number, unit)]
    caution = for_cuts(solved.reaches)
    answer(record, with_working(columns(rows), _working(made, unit) if working else None), as_json, caution)
    if solved.problems:
        raise typer.Exit(1)


def _working(made: Piece, unit: Units) -> tuple[Step, ...]:
    from mitertool.working import for_piece

    return for_piece(made, unit)


def _end(miters: list[str] | None, bevels: list[str] | None, what: str, unit: Units) -> End:
    """The cuts of an end, a bevel for each from the first on; 0 where it is not given."""
    from mitertool.base.errors import BadInput
    from mitertool.cut import Cut
    from mitertool.cut.end_words import beveled, end_from
    from mitertool.quantity import angle

    given, leans = miters or ["0"], bevels or []
    if len(leans) > len(given):
        raise BadInput(f"{what}-bevel", " and ".join(leans), f"at most one for each {what}")
    angles = [angle(bevel, f"{what}-bevel") for bevel in leans]
    end = end_from(given if len(given) > 1 else given[0], what, unit)
    cuts = (end,) if isinstance(end, Cut) else end
    angles += [0.0] * (len(cuts) - len(angles))
    return tuple(beveled(cut, lean) for cut, lean in zip(cuts, angles, strict=True))


def _solved(made: Piece, saw: Path | None, number: int) -> SolvedPiece:
    from mitertool.job import SolvedPiece
    from mitertool.job.model import PieceOrder
    from mitertool.job.solved import reaches

    both = reaches(made, load_saw(saw), number)
    return SolvedPiece(PieceOrder("piece", made), "piece", "as drawn", made, 1, *both, both)


def _record(solved: SolvedPiece, number: int) -> dict[str, Any]:
    from mitertool.packet.records import of_piece, of_reaches, of_stop

    reach = of_reaches(solved.left, solved.right, solved.further)
    stop = solved.stop if number == 1 else None
    tips = {} if stop is None else {"stop": of_stop(stop)}
    return {"section": solved.piece.section.name, **of_piece(solved.piece), "reach": reach, **tips}


def _rows(solved: SolvedPiece, unit: Units, number: int) -> list[tuple[str, str]]:
    from mitertool.packet.words import end_words, lies, stop_words
    from mitertool.quantity import show_length

    made = solved.piece
    rows = [("section", ", ".join(word for word in (made.section.name, lies(made.section)) if word))]
    for end in ("left", "right"):
        for which, (ways, made_cut) in enumerate(solved.cuts_of(end), 1):
            name = f"{end} end" if which == 1 else f"{end} end, cut {which}"
            rows += [(name, end_words(way, made_cut)) for way in ways]
    lengths = ("long_point", "short_point", "centerline", "overall")
    rows += [(word.replace("_", " "), show_length(getattr(made, word), unit)) for word in lengths]
    edges = ("fixed_bottom", "fixed_top", "moving_bottom", "moving_top")
    rows += [(f"{word.replace('_', ' ')} edge", show_length(getattr(made.edges, word), unit)) for word in edges]
    rows.append(("mass", _mass(made, unit)))
    rows += [("stop", stop_words(solved.stop, unit))] if solved.stop and number == 1 else []
    rows += [("cannot be cut", problem.in_units(unit)) for problem in solved.problems]
    return rows


def _mass(made: Piece, unit: Units) -> str:
    """The mass of the steel as drawn, and what it is lifted as where that differs."""
    from mitertool.quantity import show_mass

    drawn, lifted = show_mass(made.mass, unit), show_mass(made.nominal_mass, unit)
    return drawn if drawn == lifted else f"{drawn} as drawn, nominal {lifted} for buying and lifting"


def _write(solved: SolvedPiece, path: Path, unit: Units) -> None:
    from mitertool.job.model import Head
    from mitertool.packet.sketch.sketch import lettering_scale, sketch

    title = f"{solved.piece.section.name}"
    write_sketch(sketch(solved, Head(name=title, units=unit)), path, title, lettering_scale(solved))
