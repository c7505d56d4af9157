"""A left-over of the rack as a row of a job's stock; knows rack."""

from __future__ import annotations

from mitertool.job.particulars import Particulars
from mitertool.nest import Stock
from mitertool.rack.bars import stock_of
from mitertool.rack.values import RackBar


def from_rack(bar: RackBar) -> tuple[Stock, Particulars]:
    """What a plan may cut, and the heat that paper carries of it."""
    return stock_of(bar), Particulars(heat=bar.heat)
