"""`mitertool report PACKET...`: a line a job: where the steel goes and what it costs; knows what packets tell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any, Final

import typer

from mitertool.base.errors import BadInput
from mitertool.cli.commands import command, options
from mitertool.cli.options import InUnits, aligned, answer
from mitertool.packet.records.earlier import whose_plan
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LENGTHS: Final = ("bought", "from_rack", "pieces", "kerf", "kept", "scrap", "spoiled")
_COSTS: Final = ("steel_cost", "cuts_cost", "set_up_cost", "price")


@options
class ReportOptions(InUnits):
    """Packets."""

    packets: Annotated[list[Path], typer.Argument(help="option.report.packets", metavar="PACKET...")]


@command(ReportOptions, "report Gate-A", "report Gate-A --json")
def report(o: ReportOptions) -> None:
    """What `mitertool report` does."""
    rows = [_read(folder) for folder in o.packets]
    answer({"jobs": rows}, aligned([_heading(), *(_row(row, o.unit) for row in rows), *_together(rows, o.unit)]), o)


def _read(folder: Path) -> dict[str, Any]:
    """What a packet tells of itself. Raises `BadInput` for a folder that holds none."""
    read = whose_plan(folder)
    told = read[1].get("report") if read else None
    if read is None or not isinstance(told, dict) or not {f"{key}_mm" for key in _LENGTHS} <= set(told):
        raise BadInput("packet", str(folder), phrase("rest.no-packet"))
    found = read[0]
    return {"job": found.job, "revision": found.revision, "part": found.part, **told}


def _heading() -> list[str]:
    return [phrase(f"report.{key.replace('_', '-')}") for key in ("job", *_LENGTHS, *_COSTS)]


def _row(row: Mapping[str, Any], unit: Units) -> list[str]:
    name = f"{row['job']} {row['revision']}".strip()
    called = phrase("report.rest", job=name) if row["part"] == "rest" else name
    return [called, *(show_length(row[f"{key}_mm"], unit) for key in _LENGTHS), *_costs(row)]


def _costs(row: Mapping[str, Any]) -> list[str]:
    """Money with two decimals; a stroke where it is not known."""
    found = [row.get(key) for key in _COSTS]
    shown = ["-" if cost is None else f"{cost:.2f}" for cost in found]
    return [*shown[:-1], f"{shown[-1]} {row.get('currency', '')}".strip() if found[-1] is not None else "-"]


def _together(rows: Sequence[Mapping[str, Any]], unit: Units) -> list[list[str]]:
    """The sum of several jobs; of money where all is known and in one currency."""
    if len(rows) < 2:
        return []
    total: dict[str, Any] = {f"{key}_mm": sum(row[f"{key}_mm"] for row in rows) for key in _LENGTHS}
    one = len({row.get("currency", "") for row in rows}) == 1
    for key in _COSTS:
        costs = [row.get(key) for row in rows]
        total[key] = sum(cost for cost in costs if cost is not None) if one and None not in costs else None
    told = {**total, "currency": rows[0].get("currency", ""), "job": phrase("report.together"), "revision": ""}
    return [_row({**told, "part": "whole"}, unit)]
