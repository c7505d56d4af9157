"""What paper carries beside steel and geometry: drawing, heat, note, preparation, process; values only."""

from __future__ import annotations

from typing import Any, Self

import attrs


@attrs.frozen
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
        return cls(**{field.name: said.pop(field.name) for field in attrs.fields(cls) if field.name in said})

    def within(self, general: Particulars) -> Self:
        """The same with what the general ones say where these say nothing; a note is of its own place only."""
        names = ("drawing", "heat", "prep", "process")
        return attrs.evolve(self, **{name: getattr(self, name) or getattr(general, name) for name in names})
