"""`mitertool nest` without a job: how many pieces of one kind a bar gives; knows job and packet's records."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Final

import typer

from mitertool import job as jobs
from mitertool import saw as saws
from mitertool.bar import Allowance
from mitertool.bar.spacing import CLEAR, SECOND_KERF
from mitertool.base.errors import BadInput
from mitertool.cli.commands import choice, options
from mitertool.cli.ended import Ended
from mitertool.cli.measured_at import AtOption
from mitertool.cli.options import InUnitsAsRead, Laid, Sawn, answer, columns, find_section
from mitertool.nest import FullBar
from mitertool.packet.cautions import short
from mitertool.packet.records import of_fit
from mitertool.packet.words import pose_words
from mitertool.piece import Piece
from mitertool.quantity import Units, length_from_zero, positive_length, show_length
from mitertool.quantity.compare import same_length
from mitertool.quantity.tables import Place
from mitertool.words import phrase

_TOLD: Final = 6
"""Pieces whose place is told a person; the record has all."""


@options
class HowMany(Ended, Laid, Sawn, InUnitsAsRead):
    """A piece and a bar, and what the saw takes besides the pieces."""

    section: Annotated[str, typer.Option(help="option.how-many.section")] = ""
    length: Annotated[str, typer.Option(help="option.how-many.length")] = ""
    at: AtOption = "long-point"
    bar: Annotated[str, typer.Option(help="option.how-many.bar")] = ""
    kerf: Annotated[str, typer.Option(help="option.cut.kerf")] = ""
    trim: Annotated[str, typer.Option(help="option.how-many.trim")] = "0"
    grip: Annotated[str, typer.Option(help="option.how-many.grip")] = ""
    second_kerf: Annotated[str, choice("option.how-many.second-kerf", SECOND_KERF)] = CLEAR

    def refuse_beside(self, job: Path) -> None:
        """Raise `BadInput` where a piece is given beside a job, which has its own."""
        given = next((word for word in ("section", "length", "bar") if getattr(self, word)), None)
        if given:
            raise BadInput(f"--{given}", getattr(self, given), phrase("refuse.job-and-piece", job=job))

    def piece(self, unit: Units) -> Piece:
        """The piece."""
        for word in ("section", "length", "bar"):
            if not getattr(self, word):
                raise BadInput(f"--{word}", phrase("found.nothing"), phrase("refuse.job-or-piece"))
        with Place((), unit):
            length = length_from_zero(self.length, unit, "--length")
            section = find_section(self.section, self.lay, "--section")
            return Piece(section, length, *self.ends(section, unit), self.at)

    def allowance(self, saw: saws.Saw | None, unit: Units) -> Allowance:
        """Kerf and grip, here before those of the saw, and the trim."""
        if saw is None and not self.kerf:
            raise BadInput("--kerf", phrase("found.nothing"), phrase("refuse.blade-kerf"))
        kerf = length_from_zero(self.kerf, unit, "--kerf") if self.kerf or saw is None else saw.kerf
        own = saw.grip if saw else 0.0
        grip = length_from_zero(self.grip, unit, "--grip") if self.grip else own
        trim = length_from_zero(self.trim, unit, "--trim")
        return Allowance(kerf, trim, grip, leads=saw.leads if saw else "left", second_kerf=self.second_kerf)


def tell_how_many(o: HowMany, unit: Units) -> None:
    """Print how many pieces the bar gives, how they lie on it and what is left."""
    piece, machine = o.piece(unit), o.machine()
    bar = positive_length(o.bar, unit, "--bar")
    fit = jobs.how_many(piece, bar, o.allowance(machine, unit), machine, unit)
    record: dict[str, Any] = {"section": piece.section.name, **of_fit(fit)}
    answer(record, columns(_rows(fit, unit)), o, short() if machine else "")


def _rows(fit: FullBar, unit: Units) -> list[tuple[str, str]]:
    shortest, longest = (show_length(one, unit) for one in fit.left_over)
    slanted = not same_length(*fit.left_over)
    used = phrase("how-many.used-of", used=show_length(fit.used, unit), bar=show_length(fit.length, unit))
    left = phrase("how-many.left-slanted", shortest=shortest, longest=longest) if slanted else shortest
    told = fit.pieces[:_TOLD]
    lie = [phrase("how-many.lies-at", pose=_pose(one.pose), place=show_length(one.at, unit)) for one in told]
    lie += [phrase("how-many.and-so-on")] if fit.count > _TOLD else []
    return [
        (phrase("how-many.pieces"), str(fit.count)),
        (phrase("how-many.used"), used),
        (phrase("how-many.left"), left),
        (phrase("how-many.leading"), ", ".join(lie)),
        (phrase("how-many.tip-to-tip"), phrase("how-many.a-bar", count=fit.tip_to_tip)),
    ]


def _pose(pose: str) -> str:
    return pose_words(pose) or phrase("how-many.as-drawn")
