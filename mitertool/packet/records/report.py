"""The record of what a job comes to, for plan.json and for the report that reads it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mitertool.packet.records import fields as told

if TYPE_CHECKING:
    from mitertool.job.report import Report

REPORT: Final[told.Record[Report]] = told.record_of(
    bought_mm=told.figure("record.report.bought_mm"),
    from_rack_mm=told.figure("record.report.from_rack_mm"),
    pieces_mm=told.figure("record.report.pieces_mm"),
    kerf_mm=told.figure("record.report.kerf_mm"),
    kept_mm=told.figure("record.report.kept_mm"),
    scrap_mm=told.figure("record.report.scrap_mm"),
    spoiled_mm=told.figure("record.report.spoiled_mm"),
    steel_cost=told.known("record.report.steel_cost"),
    cuts_cost=told.known("record.report.cuts_cost"),
    set_up_cost=told.known("record.report.set_up_cost"),
    price=told.known("record.report.price"),
    currency=told.text("record.report.currency"),
)
