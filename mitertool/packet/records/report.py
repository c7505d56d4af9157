"""The record of what a job comes to, for plan.json and for the report that reads it back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from mitertool.packet.records import fields as told

if TYPE_CHECKING:
    from mitertool.job.report import BarShare, Report

_SHARE: Final[told.Record[BarShare]] = told.record_of(
    number=told.whole("record.share.number"),
    copies=told.whole("record.share.copies"),
    bought_mm=told.figure("record.report.bought_mm"),
    from_rack_mm=told.figure("record.report.from_rack_mm"),
    pieces_mm=told.figure("record.report.pieces_mm"),
    kerf_mm=told.figure("record.report.kerf_mm"),
    kept_mm=told.figure("record.report.kept_mm"),
    scrap_mm=told.figure("record.report.scrap_mm"),
    steel_cost=told.known("record.report.steel_cost"),
    cuts_cost=told.known("record.report.cuts_cost"),
    set_up_cost=attrs.evolve(told.known("record.report.set_up_cost"), when=lambda share: share.set_up_cost is not None),
)

REPORT: Final[told.Record[Report]] = told.record_of(
    bought_mm=told.figure("record.report.bought_mm"),
    from_rack_mm=told.figure("record.report.from_rack_mm"),
    pieces_mm=told.figure("record.report.pieces_mm"),
    kerf_mm=told.figure("record.report.kerf_mm"),
    kept_mm=told.figure("record.report.kept_mm"),
    scrap_mm=told.figure("record.report.scrap_mm"),
    spoiled_mm=told.figure("record.report.spoiled_mm"),
    cut_before_mm=attrs.evolve(told.figure("record.report.cut_before_mm"), when=lambda r: r.cut_before > 0),
    left_before_mm=attrs.evolve(told.figure("record.report.left_before_mm"), when=lambda r: r.left_before > 0),
    kept_before_mm=attrs.evolve(told.figure("record.report.kept_before_mm"), when=lambda r: r.left_before > 0),
    not_in_pieces_mm=attrs.evolve(told.figure("record.report.not_in_pieces_mm"), when=lambda r: r.not_in_pieces > 0),
    steel_cost=told.known("record.report.steel_cost"),
    cuts_cost=told.known("record.report.cuts_cost"),
    set_up_cost=told.known("record.report.set_up_cost"),
    price=told.known("record.report.price"),
    currency=told.text("record.report.currency"),
    bars=attrs.evolve(
        told.records(_SHARE, "record.report.bars.one", "record.report.bars"), when=lambda r: bool(r.bars)
    ),
)
