"""The ways to cut a job that were weighed, beside the chosen one; knows solver."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from mitertool.bar import Allowance
from mitertool.nest.plan import Alternative, Item, Stock
from mitertool.nest.solver import solve


def compare(
    items: Sequence[Item], stock: Sequence[Stock], allowance: Allowance, **terms: Any
) -> tuple[Alternative, ...]:
    """The chosen plan and the best of each way that was weighed with it; arguments and errors as `solve`."""
    return solve(items, stock, allowance, **terms).alternatives
