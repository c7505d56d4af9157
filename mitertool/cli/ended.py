"""The two ends of a piece, as options; knows cut."""

from __future__ import annotations

from typing import Annotated

import typer

from mitertool.base.errors import BadInput
from mitertool.base.names import all_of
from mitertool.cli.commands import options
from mitertool.cut import Cut
from mitertool.cut.end_words import beveled, end_from
from mitertool.cut.ends import End, turned_end
from mitertool.job.keys import PIECE
from mitertool.quantity import Units, angle, length
from mitertool.sections import Section
from mitertool.words import phrase


@options
class Ended:
    """A piece's two ends."""

    left: Annotated[list[str] | None, typer.Option(help="option.ended.left", metavar="MITER")] = None
    right: Annotated[list[str] | None, typer.Option(help="option.ended.right", metavar="MITER")] = None
    left_bevel: Annotated[list[str] | None, typer.Option(help="option.ended.left-bevel")] = None
    right_bevel: Annotated[list[str] | None, typer.Option(help="option.ended.right-bevel")] = None

    turned: Annotated[str, typer.Option(help="\n".join(PIECE.keys["turned"].codes), metavar="ANGLE")] = ""
    turned_arc: Annotated[str, typer.Option(help="\n".join(PIECE.keys["turned_arc"].codes), metavar="LENGTH")] = ""

    def ends(self, section: Section, unit: Units) -> tuple[End, End]:
        """The cuts of the left and of the right end."""
        left, right = (
            _end(self.left, self.left_bevel, "--left", unit),
            _end(self.right, self.right_bevel, "--right", unit),
        )
        if self.turned and self.turned_arc:
            raise BadInput("--turned-arc", self.turned_arc, phrase("refuse.turned-twice"))
        if self.turned or self.turned_arc:
            by = angle(self.turned, "--turned") if self.turned else None
            arc = length(self.turned_arc, unit, "--turned-arc") if self.turned_arc else None
            right = turned_end(right, section, by, arc)
        return left, right


def _end(miters: list[str] | None, bevels: list[str] | None, what: str, unit: Units) -> End:
    """The cuts of an end, a bevel for each from the first on; 0 where it is not given."""
    given, leans = miters or ["0"], bevels or []
    if len(leans) > len(given):
        raise BadInput(f"{what}-bevel", all_of(leans), phrase("refuse.bevels", option=what))
    angles = [angle(bevel, f"{what}-bevel") for bevel in leans]
    end = end_from(given if len(given) > 1 else given[0], what, unit)
    cuts = (end,) if isinstance(end, Cut) else end
    angles += [0.0] * (len(cuts) - len(angles))
    made = tuple(beveled(cut, lean) for cut, lean in zip(cuts, angles, strict=True))
    return made if len(made) > 1 or not isinstance(made[0], Cut) else made[0]
