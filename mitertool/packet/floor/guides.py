"""How far apart the guides are set: once for a bar where its settings ask for nearly the same, else with each cut."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.base.tolerances import ONE_GUIDE
from mitertool.packet.floor.values import BarSetting, BarWork, CutRow


def with_guides(work: BarWork, told_in: BarWork | None = None) -> BarWork:
    """The work with its guides set once, as wide as any setting asks for, or with the rows for which they are moved.

    `told_in` is the bar whose block tells the settings of this one: what is set once there holds here too.
    """
    once = told_in.guides if told_in else _once(work.settings)
    rows = (
        row if once is None and row.reading.ok and (at == 0 or row.sets or row.turn) else attrs.evolve(row, guides=None)
        for at, row in enumerate(work.rows)
    )
    return attrs.evolve(work, rows=tuple(rows), guides=once)


def _once(settings: Sequence[BarSetting]) -> float | None:
    """The widest of all settings where the narrowest is nearly as wide: a guide a little off costs a cut nothing."""
    asked = [one.reach.guide_setting for one in settings if one.reach.ok]
    known = [gap for gap in asked if gap is not None]
    return max(known) if known and max(known) - min(known) <= ONE_GUIDE else None


def widest(rows: Sequence[CutRow]) -> float | None:
    """How far apart they are set for cuts that are one row."""
    return max((row.guides for row in rows if row.guides is not None), default=None)
