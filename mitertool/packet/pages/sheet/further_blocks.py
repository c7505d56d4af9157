"""The further cuts of pieces with more than one plane at an end, a row each, in the order of work; knows layout."""

from __future__ import annotations

from mitertool.job import Solution
from mitertool.job.further import FurtherRow
from mitertool.job.settings import number_of
from mitertool.packet.paper.layout import Block, TableColumn, boxed, in_lines, kept_together, table
from mitertool.packet.words import all_more, as_drawn, back_words, reading, reasons_of, which_way
from mitertool.quantity import show_length
from mitertool.quantity.problem_words import reason_says


def further_blocks(solution: Solution, width: float) -> list[Block]:
    """How they are made and a table of them; nothing where no end has more than one cut."""
    if not solution.further:
        return []
    says = (
        "When the bars are parted, these are cut on the pieces. Lay each piece as it is drawn, and before it is rolled "
        "mark it back from the tip of cut 1 along the side that is named: there the face comes. Sides are as drawn.",
        "The kerf lies beyond the mark, on what falls off. Clamp the long part of the piece, not what falls off.",
        "Then long: what the piece measures along that side when the cut is made, both of its ends finished.",
    )
    columns = [
        TableColumn("Setting", 17, "right", bold=True, height=3.5),
        TableColumn("Scale", 23, "right", bold=True, height=3.5),
        TableColumn("Pieces", 15, "right", bold=True, height=3.5),
        TableColumn("Mark", 34, bold=True),
        TableColumn("Mark back from cut 1", 46, bold=True),
        TableColumn("How", width - 135),
    ]
    rows = table(columns, [_row(row, solution, width - 138) for row in solution.further])
    return kept_together([*boxed("Further cuts", says, width), *rows])


def _row(row: FurtherRow, solution: Solution, room: float) -> list[str]:
    cut, units = row.cut.cut, solution.job.head.units
    reach = as_drawn(row.cut.way)
    long = ", ".join(dict.fromkeys(show_length(x, units) for x in row.cut.edges.values()))
    then = f"then {long} long" if long else ""
    number = number_of(solution.settings, row.cut.reach, row.solved.order.grade) if row.cut.reach else 0
    against = "; ".join(f"CANNOT BE CUT: {reason_says(reason, units)}" for reason in reasons_of(row.cut.way))
    how = against or ", ".join(word for word in (which_way(reach, cut), all_more(row.cut.way, cut)) if word)
    return [
        str(number or "-"),
        "-" if against else reading(reach, cut).replace(" ", "\n"),
        str(row.quantity),
        "\n".join((in_lines(row.mark, 31, bold=True), f"{row.cut.end} end, cut {row.cut.number}")),
        "\n".join(in_lines(word, 43, bold=True) for word in (back_words(row.cut.back, units), then) if word),
        in_lines(how, room),
    ]
