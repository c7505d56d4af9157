"""Reads a job file; every refusal names the file, the table and the key. Knows the file format, solves nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.letters import first_alike, one_form, unprintable
from mitertool.job.frames import Shop, frame_order
from mitertool.job.model import FrameOrder, Head, Job, PieceOrder, resolution
from mitertool.job.pieces import of_frame, piece_order
from mitertool.job.rack import Rack
from mitertool.job.solution import Solution
from mitertool.job.solve import solve
from mitertool.nest import Allowance, Stock
from mitertool.quantity import Units, units
from mitertool.quantity.tables import Table, read_toml
from mitertool.saw import Saw

TABLES: Final = ("format", "job", "section", "stock", "piece", "frame", "nest")
HEAD: Final = ("name", "revision", "date", "customer", "units", "saw", "tolerance")
STOCK: Final = ("section", "grade", "length", "quantity", "cost")
NEST: Final = ("kerf", "trim", "grip", "wedge_least")


def load(path: str | Path) -> Job:
    """Read a job file and the files it names. Raises `BadInput` for anything that is not as it should be."""
    path = Path(path)
    top = read_toml(path)
    top.only(*TABLES)
    head = _head(top.table("job"))
    top = top.in_units(head.units)
    saw_path, saw = _saw(top.table("job"), path)
    allowance = _allowance(top.table("nest"), saw, top.has("stock"))
    saw = saw and attrs.evolve(saw, kerf=allowance.kerf, grip=allowance.grip)
    rack = Rack.read(top, path.parent)
    shop = Shop(rack, path.parent, resolution(head.units, saw))
    framed = [(frame_order(table, shop), table) for table in top.tables("frame")]
    frames = tuple(frame for frame, _ in framed)
    pieces = (
        *(order for frame, table in framed for order in of_frame(frame, table)),
        *(piece_order(table, rack) for table in top.tables("piece")),
    )
    _check_marks(path, pieces, frames)
    return Job(
        path=path,
        head=head,
        pieces=pieces,
        frames=frames,
        stock=tuple(_stock(table, rack) for table in top.tables("stock")),
        allowance=allowance if top.has("stock") else None,
        saw=saw,
        saw_path=saw_path,
        digest=_digest(path, (saw_path, *_named_files(top))),
        rack=rack,
        trim_said=top.table("nest").has("trim"),
    )


def one_frame(keys: Mapping[str, Any], unit: Units, saw: Saw | None) -> Solution:
    """A single frame given by the keys of a [[frame]] table, solved as a job of its own."""
    head, here = Head(name=str(keys["shape"]), units=unit), Path()
    shop = Shop(Rack(), here, resolution(head.units, saw))
    table = Table(keys, (), unit)
    order = frame_order(table, shop)
    return solve(Job(here, head, tuple(of_frame(order, table)), (order,), (), None, saw, "", ""))


def _head(table: Table) -> Head:
    table.only(*HEAD)
    with table.place():
        unit = units(table.raw("units", "mm"))
    return Head(
        name=table.words("name"),
        revision=_plain(table, "revision"),
        date=_plain(table, "date"),
        customer=_plain(table, "customer"),
        units=unit,
        tolerance=_plain(table, "tolerance"),
    )


def _plain(table: Table, key: str) -> str:
    """A text, a number or a date as it was written; "" where absent."""
    value: Any = table.raw(key, "")
    if isinstance(value, bool) or not isinstance(value, str | int | float | date):
        raise BadInput(key, value, "must be a text, a number or a date", table.where)
    text = one_form(" ".join(str(value).split()))
    against = unprintable(text)
    if against:
        raise BadInput(key, text, against, table.where)
    return text


def _saw(head: Table, path: Path) -> tuple[str, Saw | None]:
    if not head.has("saw"):
        return "", None
    name = head.text("saw")
    try:
        return name, Saw.load(path.parent / name)
    except BadInput as error:
        raise error.at(path.name) from error.__cause__


def _stock(table: Table, rack: Rack) -> Stock:
    table.only(*STOCK)
    return Stock(
        section=rack.find(table, "section").name,
        length=table.positive_length("length"),
        grade=table.words("grade", ""),
        quantity=table.count("quantity", least=0) if table.has("quantity") else None,
        cost=_cost(table) if table.has("cost") else None,
    )


def _cost(table: Table) -> float:
    cost = table.number("cost")
    if cost < 0:
        raise BadInput("cost", cost, "must be 0 or more", table.where)
    return cost


def _allowance(table: Table, saw: Saw | None, has_stock: bool) -> Allowance:
    """The job's own kerf, trim and grip before those of the saw."""
    table.only(*NEST)
    if has_stock and saw is None and not table.has("kerf"):
        raise BadInput("kerf", "nothing", "a job with stock needs a kerf here or a saw file in [job]", table.where)
    return Allowance(
        kerf=table.length_from_zero("kerf", saw.kerf if saw else 0.0),
        trim=table.length_from_zero("trim", 0.0),
        grip=table.length_from_zero("grip", saw.grip if saw else 0.0),
        wedge_least=table.length_from_zero("wedge_least", 0.0),
        leads=saw.leads if saw else "left",
    )


def _check_marks(path: Path, pieces: tuple[PieceOrder, ...], frames: tuple[FrameOrder, ...]) -> None:
    if not pieces:
        raise BadInput("job", "no pieces", "give at least one [[piece]] or [[frame]]", (path.name,))
    hands = (mark for order in pieces for mark in order.marks)
    seen: dict[str, None] = {}
    for mark in (*hands, *(frame.assembly.mark for frame in frames)):
        if mark in seen:
            raise BadInput("mark", mark, "another piece or frame has this mark; each needs its own", (path.name,))
        seen[mark] = None
    alike = first_alike(seen)
    if alike:
        raise BadInput("mark", alike[1], f"it looks like the mark {alike[0]}; name one of them otherwise", (path.name,))


def _named_files(top: Table) -> Iterator[str]:
    """Drawings that sections and frames name."""
    for key in ("section", "frame"):
        yield from (table.text("file") for table in top.tables(key) if table.has("file"))


def _digest(path: Path, named: Iterable[str]) -> str:
    """A short hash of the job file and of every file it names."""
    parts = [path.read_bytes(), *((path.parent / name).read_bytes() for name in named if name)]
    return sha256(b"\0".join(parts)).hexdigest()[:12]
