"""What paper carries beside steel and geometry: drawing, heat, note, preparation, process; values only."""

from __future__ import annotations

from typing import Any, Self

from mitertool.base.frozen import evolve, fields, frozen


@frozen
class Particulars:
    """What a job file says of itself, of its bars, or of a piece, for whoever fetches, cuts and fits; "": not said.

    `drawing` is where it is drawn, `heat` the number of its heat or certificate, `prep` the weld preparation in words,
    `process` what is done after the cut.
    """

    drawing: str = ""
    heat: str = ""
    note: str = ""
    prep: str = ""
    process: str = ""

    @classmethod
    def taken(cls, said: dict[str, Any]) -> Self:
        """Those among the values of a table, which then has them no more."""
        return cls(**{name: said.pop(name) for name in fields(cls) if name in said})

    def within(self, general: Particulars) -> Self:
        """The same with what the general ones say where these say nothing; a note is of its own place only."""
        names = ("drawing", "heat", "prep", "process")
        return evolve(self, **{name: getattr(self, name) or getattr(general, name) for name in names})
