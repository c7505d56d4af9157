"""`solve` with every cut on the bar: for what is asked of bars alone, whichever way of working would be chosen."""

from __future__ import annotations

from functools import partial

from mitertool import nest

solve = partial(nest.solve, way=nest.BAR_BY_BAR)
