"""A left-over of the rack as a row of a job's stock; knows rack."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mitertool import rack
from mitertool.job.particulars import Particulars

if TYPE_CHECKING:
    from mitertool.nest import Stock
    from mitertool.rack import RackBar


def from_rack(bar: RackBar) -> tuple[Stock, Particulars]:
    """What a plan may cut, and the heat that paper carries of it."""
    return rack.stock_of(bar), Particulars(heat=bar.heat)
