"""`mitertool report PACKET...`: a line a job: where the steel goes and what it costs; knows what packets tell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any, Final

import typer

from mitertool.base.errors import BadInput
from mitertool.base.totals import summed
from mitertool.cli.commands import command, options
from mitertool.cli.options import InUnits, aligned, answer
from mitertool.packet.records.earlier import whose_plan
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_LENGTHS: Final = ("bought", "from_rack", "cut_before", "pieces", "kerf", "kept", "scrap", "spoiled")
_OF_RESTS: Final = ("cut_before", "not_in_pieces", "left_before", "kept_before")
_SOMETIMES: Final = dict.fromkeys((f"{key}_mm" for key in _OF_RESTS), 0.0)
_UNTOLD: Final = ("bars_cut", "bars_begun", "inputs")
_COSTS: Final = ("steel_cost", "cuts_cost", "set_up_cost", "price")


_NEEDED: Final = {f"{key}_mm" for key in _LENGTHS} - set(_SOMETIMES)


@options
class ReportOptions(InUnits):
    """Packets."""

    packets: Annotated[list[Path], typer.Argument(help="option.report.packets", metavar="PACKET...")]


@command(ReportOptions, "report Gate-A", "report Gate-A --json")
def report(o: ReportOptions) -> None:
    """What `mitertool report` does."""
    rows = [_read(folder) for folder in o.packets]
    shown = [key for key in _LENGTHS if key != "cut_before" or any(row["cut_before_mm"] for row in rows)]
    table = [_heading(shown), *(_row(row, shown, o.unit) for row in rows)]
    told: list[str] = []
    if len(rows) > 1:
        counted = [one for row in rows for one in _once(row, rows, told)]
        table.append(_row(_together(counted), shown, o.unit))
    jobs = [{key: value for key, value in row.items() if key not in _UNTOLD} for row in rows]
    answer({"jobs": jobs}, [*aligned(table), *told], o)


def _read(folder: Path) -> dict[str, Any]:
    """What a packet tells of itself. Raises `BadInput` for a folder that holds none."""
    read = whose_plan(folder)
    told = read[1].get("report") if read else None
    if read is None or not isinstance(told, dict) or _NEEDED - set(told):
        raise BadInput("packet", str(folder), phrase("rest.no-packet"))
    found, plan = read
    more = {"bars_cut": plan.get("bars_cut", []), "inputs": plan.get("inputs", ""), **_SOMETIMES}
    more["bars_begun"] = plan.get("bars_begun", [])
    return {**more, "job": found.job, "revision": found.revision, "part": found.part, **told}


def _once(row: Mapping[str, Any], rows: Sequence[Mapping[str, Any]], told: list[str]) -> Iterator[Mapping[str, Any]]:
    """A row as it counts beside the others, so that no steel counts twice; what is to be said of it goes to `told`.

    Of a whole job of which the rest stands beside it, those of its bars count that the rest tells as cut. Where it
    tells of none by its number, the whole counts as it was planned, and nothing of the rest.
    """
    rests = [one for one in rows if (one["job"], one["part"]) == (row["job"], "rest")]
    wholes = [one for one in rows if (one["job"], one["part"]) == (row["job"], "whole")]
    if row["part"] == "whole" and any(one["bars_cut"] for one in rests):
        numbers = _numbers_cut(row, rests)
        told.append(phrase("report.by-bars", job=_called(row), bars=", ".join(dict.fromkeys(numbers)) or "-"))
        yield from _shares(row, rests)
    elif row["part"] == "rest" and wholes and not row["bars_cut"]:
        told.append(phrase("report.not-added", job=_called(row)))
        yield {**dict.fromkeys(_KEYS, 0.0), "currency": row.get("currency", "")}
    elif row["part"] == "rest" and wholes:
        kept = summed(bar["kept_mm"] for one in wholes for bar in _shares(one, rests))
        yield _beside_its_whole(row, kept)
    else:
        yield row


_KEYS: Final = (*(f"{key}_mm" for key in _LENGTHS), *_COSTS)


def _numbers_cut(row: Mapping[str, Any], rests: Sequence[Mapping[str, Any]]) -> list[str]:
    """The numbers of the bars of a packet that rests tell as cut, one for each of those alike."""
    names = dict.fromkeys(name for one in rests for name in one["bars_cut"])
    return [name.split()[0].partition(".")[0] for name in names if name.endswith(f" {row['inputs']}")]


def _shares(row: Mapping[str, Any], rests: Sequence[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """These bars as rows."""
    for number in _numbers_cut(row, rests):
        yield from (_share(bar, row) for bar in row.get("bars", ()) if str(bar["number"]) == number)


def _beside_its_whole(row: Mapping[str, Any], kept: float) -> dict[str, Any]:
    """A rest where the packets that cut its pieces before count too: these are pieces of theirs no more.

    What bars of these left is kept no more, of `kept` in all; of bars that are only begun no packet counts it.
    """
    less = {key: row[f"{key}_mm"] for key in ("not_in_pieces", "left_before", "kept_before")}
    left, of_kept = less["left_before"], min(less["kept_before"], kept)
    pieces = row["pieces_mm"] - (row["cut_before_mm"] - left - less["not_in_pieces"])
    found = {**row, "pieces_mm": pieces, "scrap_mm": row["scrap_mm"] - less["not_in_pieces"], "cut_before_mm": left}
    if row.get("bars_begun"):
        return found
    scrap = found["scrap_mm"] - (left - of_kept)
    return {**found, "kept_mm": row["kept_mm"] - of_kept, "scrap_mm": scrap, "cut_before_mm": 0.0}


def _share(bar: Mapping[str, Any], row: Mapping[str, Any]) -> dict[str, Any]:
    """A bar as a row."""
    lengths = {key: bar.get(key, 0.0) for key in _KEYS if key.endswith("_mm")}
    costs = {key: bar.get(key) for key in _COSTS[:-1]}
    known = [cost for cost in costs.values() if cost is not None]
    price = summed(known) if len(known) == len(costs) else None
    return {**lengths, **costs, _COSTS[-1]: price, "currency": row.get("currency", "")}


def _heading(lengths: Sequence[str]) -> list[str]:
    return [phrase(f"report.{key.replace('_', '-')}") for key in ("job", *lengths, *_COSTS)]


def _called(row: Mapping[str, Any]) -> str:
    name = f"{row['job']} {row['revision']}".strip()
    return phrase("report.rest", job=name) if row["part"] == "rest" else name


def _row(row: Mapping[str, Any], lengths: Sequence[str], unit: Units) -> list[str]:
    return [_called(row), *(show_length(row[f"{key}_mm"], unit) for key in lengths), *_costs(row)]


def _costs(row: Mapping[str, Any]) -> list[str]:
    """Money with two decimals; a stroke where it is not known."""
    found = [row.get(key) for key in _COSTS]
    shown = ["-" if cost is None else f"{cost:.2f}" for cost in found]
    return [*shown[:-1], f"{shown[-1]} {row.get('currency', '')}".strip() if found[-1] is not None else "-"]


def _together(rows: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The sum of rows; of money where all is known and in one currency."""
    total: dict[str, Any] = {key: summed(row[key] for row in rows) for key in _KEYS if key.endswith("_mm")}
    one = len({row.get("currency", "") for row in rows}) == 1
    for key in _COSTS:
        costs = [row.get(key) for row in rows]
        total[key] = summed(cost for cost in costs if cost is not None) if one and None not in costs else None
    currency = rows[0].get("currency", "") if rows else ""
    return {**total, "currency": currency, "job": phrase("report.together"), "revision": "", "part": "whole"}
