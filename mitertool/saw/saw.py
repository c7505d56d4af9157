"""The saw: what a shop writes down once about its own machine, and what must be set on it for a cut; knows reach."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Self

import attrs

from mitertool.quantity.tables import Table, read_toml
from mitertool.saw.file.machine import Machine
from mitertool.saw.file.read import saw_fields
from mitertool.saw.setting.reach import Reach, reach

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.sections import Section


@attrs.frozen
class Saw(Machine):
    """A saw as its file tells it: a machine that can be asked what to set for a cut.

    >>> mt.Saw("bench saw").reach(mt.flat(80, 12), mt.Cut(45))
    <Reach flat 80x12: swing 45, scale 45>
    """

    @classmethod
    def load(cls, path: str | Path) -> Self:
        """Read a saw file. Raises `BadInput` naming file, table and key for anything that is not as it should be."""
        return cls.read(read_toml(Path(path)))

    @classmethod
    def read(cls, top: Table) -> Self:
        """The saw that the top table of a file tells of; same errors as `load`."""
        return cls(**saw_fields(top))

    def reach(self, section: Section, cut: Cut, end: str = "right", count: int = 1, held: float | None = None) -> Reach:
        """What must be set to make `cut` at the `end` ("left" or "right") of a piece, and whether it can be made.

        `count` bars lie side by side; `held` is the length of bar behind the cut on the centerline, mm (None: enough).
        """
        return reach(self, section, cut, end, count, held)
