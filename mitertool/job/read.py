"""Reads a job file; every refusal names the file, the table and the key. Knows the file format, solves nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
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
from mitertool.quantity.tables import Table, read_toml, read_whole
from mitertool.saw import Saw

TABLES: Final = ("format", "job", "section", "stock", "piece", "frame", "nest")
HEAD: Final = ("name", "revision", "date", "customer", "units", "saw", "tolerance")
STOCK: Final = ("section", "grade", "length", "quantity", "cost")
NEST: Final = ("kerf", "trim", "grip", "wedge_least")


def _own(named: Path | None) -> Path | None:
    return named


def load(path: str | Path, content: bytes | None = None, saw_file: Callable[[Path | None], Path | None] = _own) -> Job:
    """Read a job file and the files it names. Raises `BadInput` for anything that is not as it should be.

    `content` is what stands in the file where it was read before, as from a pipe; what it names lies beside `path`.
    `saw_file` gives the saw file that serves, from that which the job names, or None.
    """
    path = Path(path)
    content = read_whole(path) if content is None else content
    top = read_toml(path, content)
    top.only(*TABLES)
    head = _head(top.table("job"))
    top = top.in_units(head.units)
    named = top.table("job").text("saw", "")
    own = path.parent / named if named else None
    file = saw_file(own)
    saw = _saw(path, own, file)
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
        saw_path=_called(named, own, file),
        digest=_digest(content, (file, *(path.parent / name for name in _named_files(top)))),
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


def _saw(job: Path, own: Path | None, file: Path | None) -> Saw | None:
    """The saw of a file; a refusal names the job too where it is the job that names the file."""
    try:
        return Saw.load(file) if file else None
    except BadInput as error:
        raise (error.at(job.name) if file is own else error) from error.__cause__


def _called(named: str, own: Path | None, file: Path | None) -> str:
    """A saw file as papers name it: as the job does, or a file from elsewhere by its own name."""
    if file is None:
        return ""
    return named if file is own else file.name


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


def _digest(content: bytes, files: Iterable[Path | None]) -> str:
    """A short hash of a job and of every file that serves it."""
    parts = [content, *(file.read_bytes() for file in files if file)]
    return sha256(b"\0".join(parts)).hexdigest()[:12]
