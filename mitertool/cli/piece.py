"""`mitertool piece`: every length of a piece, its settings and a sketch; knows piece, saw and packet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any

import typer

from mitertool import packet, saw, working
from mitertool.cli.commands import command, options
from mitertool.cli.ended import Ended
from mitertool.cli.measured_at import AtOption
from mitertool.cli.options import (
    InUnits,
    Laid,
    Sawn,
    SectionName,
    Sketched,
    Worked,
    answer,
    columns,
    find_section,
    with_working,
)
from mitertool.cli.side_by_side import InARow, row_lines, row_record
from mitertool.frame.rolls import FLUSH, RollBetween
from mitertool.job import SolvedPiece
from mitertool.job.orders import Head, PieceOrder
from mitertool.job.solved import reaches
from mitertool.packet.cautions import for_cuts
from mitertool.packet.records import of_piece, of_reaches, of_stop
from mitertool.packet.words import end_words, lies, stop_words
from mitertool.piece import Piece
from mitertool.quantity import Units, length_from_zero, show_angle, show_length, show_mass
from mitertool.quantity.problem_words import problem_says
from mitertool.quantity.tables import Place
from mitertool.saw.setting.asked import Asked
from mitertool.saw.setting.rows import refuse_row
from mitertool.words import phrase


@options
class PieceOptions(Ended, InARow, Laid, Sawn, Sketched, Worked, InUnits):
    """A piece as it is drawn."""

    name: SectionName
    length: Annotated[str, typer.Option(help="option.piece.length")]
    at: AtOption = "long-point"


@command(
    PieceOptions,
    "piece 'RHS 80x40x3' --length 1200 --left 45 --right 45",
    "piece 'L 50x50x5' --length '4 ft' --at overall --left '60 from bar' --units ft-in",
    "piece 'SHS 60x60x4' --length 900 --left 30 --saw saw.toml --sketch piece.dxf",
)
def piece(o: PieceOptions) -> None:
    """What `mitertool piece` does."""
    o.may_sketch()
    unit, section, number = o.unit, find_section(o.name, o.lay), o.number
    with Place((), unit):
        made = Piece(section, length_from_zero(o.length, unit, "--length"), *o.ends(section, unit), o.at)
    refuse_row(number, made.left, made.right, bool(made.further))
    solved = _solved(made, o.machine(), number)
    _draw(solved, o)
    first = made.right if solved.left and solved.left.setting.saw.leads == "right" else made.left
    record = {**_record(solved, number), **row_record(section, first, number)}
    rows = [*_rows(solved, unit, number), *row_lines(section, first, number, unit)]
    caution = for_cuts(solved.reaches)
    steps = working.for_piece(made, unit) if o.working else None
    answer(record, with_working(columns(rows), steps), o, caution)
    if solved.problems:
        raise typer.Exit(1)


def _solved(made: Piece, machine: saw.Saw | None, number: int) -> SolvedPiece:
    both = reaches(made, Asked(machine, number) if machine else None)
    return SolvedPiece(PieceOrder("piece", made), "piece", "as drawn", made, 1, *both, both)


def _record(solved: SolvedPiece, number: int) -> dict[str, Any]:
    reach = of_reaches(solved.left, solved.right, solved.further)
    stop = solved.stop if number == 1 else None
    tips = {} if stop is None else {"stop": of_stop(stop)}
    return {"section": solved.piece.section.name, **of_piece(solved.piece), "reach": reach, **tips}


def _rows(solved: SolvedPiece, unit: Units, number: int) -> list[tuple[str, str]]:
    made = solved.piece
    rows = [(phrase("screen.section"), ", ".join(word for word in (made.section.name, lies(made.section)) if word))]
    for end in ("left", "right"):
        for which, (ways, made_cut) in enumerate(solved.cuts_of(end), 1):
            side = phrase(f"end.{end}")
            name = phrase("where.end", end=side) if which == 1 else phrase("where.cut", end=side, cut=which)
            rows += [(name, end_words(way, made_cut)) for way in ways]
    lengths = ("long_point", "short_point", "centerline", "overall")
    rows += [(phrase(f"screen.{word}"), show_length(getattr(made, word), unit)) for word in lengths]
    edges = ("fixed_bottom", "fixed_top", "moving_bottom", "moving_top")
    rows += [(phrase(f"screen.edge.{word}"), show_length(getattr(made.edges, word), unit)) for word in edges]
    rows += [(phrase("screen.turn"), says) for says in _turned(made, unit)]
    rows.append((phrase("screen.mass"), _mass(made, unit)))
    rows += [(phrase("screen.stop"), stop_words(solved.stop, unit))] if solved.stop and number == 1 else []
    rows += [(phrase("screen.cannot-cut"), problem_says(problem, unit)) for problem in solved.problems]
    return rows


def _turned(made: Piece, unit: Units) -> Iterator[str]:
    """How the ends are turned against each other, where they are by neither nothing nor half a turn."""
    turn = RollBetween("", made)
    if not turn.compound or min(abs(turn.degrees), abs(turn.one_way)) <= FLUSH:
        return
    shown = show_angle(abs(turn.degrees))
    round_about = phrase(f"screen.turn/{'clockwise' if turn.degrees > 0 else 'counter'}", turn=shown)
    skin = () if turn.arc is None else (phrase("screen.turn-skin", skin=show_length(abs(turn.arc), unit)),)
    yield ", ".join((round_about, *skin))
    yield phrase("screen.turned-over", turn=shown)


def _mass(made: Piece, unit: Units) -> str:
    """The mass of the steel as drawn, and what it is lifted as where that differs."""
    drawn, lifted = show_mass(made.mass, unit), show_mass(made.nominal_mass, unit)
    return drawn if drawn == lifted else phrase("screen.masses", drawn=drawn, lifted=lifted)


def _draw(solved: SolvedPiece, o: PieceOptions) -> None:
    if o.sketch is not None:
        title = solved.piece.section.name
        o.draw(packet.mark_sketch(solved, Head(name=title, units=o.unit)), title, packet.lettering_scale(solved))
