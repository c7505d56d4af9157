"""The record of what a job comes to, for plan.json and for the report that reads it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mitertool.packet.records import fields as told

if TYPE_CHECKING:
    from mitertool.job.report import Report

REPORT: Final[told.Record[Report]] = told.record_of(
    bought_mm=told.figure("Length of new steel."),
    from_rack_mm=told.figure("Length of left-overs that are cut up."),
    pieces_mm=told.figure("In pieces, on the centerline."),
    kerf_mm=told.figure("In kerfs."),
    kept_mm=told.figure("Left over and kept."),
    scrap_mm=told.figure("Scrap: wedges, trims, what the vise holds, and drops that are not kept."),
    spoiled_mm=told.figure("In spoiled pieces of an earlier packet that become nothing else."),
    steel_cost=told.known("What the steel costs; null where not all stock is priced."),
    cuts_cost=told.known("What the cuts cost; null without rates."),
    set_up_cost=told.known("What the set-ups cost; null without rates."),
    price=told.known("All three together; null where one of them is not known."),
    currency=told.text("The currency of these; empty where none is said."),
)
