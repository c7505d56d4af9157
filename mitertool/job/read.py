"""Reads a job file; every refusal names the file, the table and the key. Knows the file format, solves nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import attrs

from mitertool import lists, nest
from mitertool import rack as racks
from mitertool.bar import Allowance
from mitertool.base.errors import BadInput, BadRows
from mitertool.base.letters import first_alike
from mitertool.job.frames import Shop, frame_order
from mitertool.job.from_rack import from_rack
from mitertool.job.keys import HEAD, NEST, PIECES_ASKED, STOCK, TABLES
from mitertool.job.labels import label_sheet
from mitertool.job.model import FrameOrder, Job, resolution
from mitertool.job.named import NamedSections
from mitertool.job.orders import Head, PieceOrder
from mitertool.job.particulars import Particulars
from mitertool.job.pieces import piece_order
from mitertool.job.solution import Solution
from mitertool.job.solving import solve
from mitertool.quantity import Units
from mitertool.quantity.tables import Table, read_toml, read_whole
from mitertool.saw import Saw
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.nest import Stock
    from mitertool.rack import DrawnOn

SawFile = Callable[[Path | None], Path | None]
"""Gives the saw file that serves, from that which a job names, or None."""


_HERE: Final = Path()


def _own(named: Path | None) -> Path | None:
    return named


def load(path: str | Path, content: bytes | None = None, saw_file: SawFile = _own) -> Job:
    """Read a job file and the files it names. Raises `BadInput` for anything that is not as it should be.

    `content` is what stands in the file where it was read before, as from a pipe; what it names lies beside `path`.
    `saw_file` gives the saw file that serves, from that which the job names, or None.
    """
    path = Path(path)
    content = read_whole(path) if content is None else content
    top = read_toml(path, content)
    top.only(*TABLES)
    head, named = _head(top)
    top = top.in_units(head.units)
    own = path.parent / named if named else None
    file = saw_file(own)
    saw = _saw(path, own, file)
    asked = NEST.read(nested := top.table("nest"))
    has_stock = top.has("stock") or bool(nested.raw("rack", False))
    allowance = _allowance(nested, asked, saw, has_stock)
    as_measured, saw = saw, saw and attrs.evolve(saw, kerf=allowance.kerf, grip=allowance.grip)
    sections = NamedSections.read(top, path.parent)
    shop = Shop(sections, path.parent, resolution(head.units, saw), head.units)
    frames, pieces, lists_read = _orders(top, shop)
    own_stock = [_stock(table, sections) for table in top.tables("stock")]
    rack = _rack(nested, asked, path.parent, head, _wanted(pieces, own_stock))
    on_stock = (*own_stock, *(from_rack(bar) for bar in (rack.bars if rack else ())))
    return Job(
        path=path,
        head=head,
        pieces=pieces,
        frames=frames,
        stock=tuple(stock for stock, _ in on_stock),
        allowance=allowance if has_stock else None,
        saw=saw,
        saw_path=_called(named, own, file),
        digest=_digest(content, (file, *(path.parent / name for name in _named_files(top))), rack),
        sections=sections,
        lists=lists_read,
        trim_said=nested.has("trim"),
        on_stock=on_stock,
        as_measured=as_measured,
        labels=label_sheet(top.table("labels")) if top.has("labels") else None,
        rack=rack,
        way=asked.get("way"),
    )


def _head(top: Table) -> tuple[Head, str]:
    """The head of a job, and the saw file that it names."""
    said = HEAD.read(top.table("job"))
    named = said.pop("saw", "")
    carried = Particulars.taken(said)
    return Head(**said, particulars=carried), named


def own_sections(path: Path, content: bytes) -> NamedSections:
    """The [[section]] tables of a job's file, whatever else stands in it; refuses as `load` does."""
    top = read_toml(path, content)
    head, _ = _head(top)
    return NamedSections.read(top.in_units(head.units), path.parent)


def load_list(path: Path, said: Mapping[str, Any], units: Units, saw_file: SawFile = _own) -> Job:
    """A job of a list of parts alone; `said` are the keys of a [[list]] besides its file, as `load` finds them."""
    head, file = Head(name=path.stem, units=units), saw_file(None)
    saw = _saw(path, None, file)
    shop = Shop(NamedSections(), path.parent, resolution(units, saw), units)
    listed, pieces = _listed(Table({"file": path.name, **said}, (), units), shop)
    _check_marks(tuple(pieces), ())
    digest = _digest(b"", (path, file))
    called = _called("", None, file)
    return Job(path, head, tuple(pieces), (), (), None, saw, called, digest, lists=(listed,))


def one_frame(keys: Mapping[str, Any], unit: Units, saw: Saw | None, folder: Path = _HERE) -> Solution:
    """A single frame given by the keys of a [[frame]] table, solved as a job of its own that stands in `folder`."""
    head = Head(name=str(keys["shape"]), units=unit)
    shop = Shop(NamedSections(), folder, resolution(head.units, saw), unit)
    order, pieces = frame_order(Table(keys, (), unit), shop)
    return solve(Job(folder, head, pieces, (order,), (), None, saw, "", ""))


def _saw(job: Path, own: Path | None, file: Path | None) -> Saw | None:
    """The saw of a file; a refusal names the job too where it is the job that names the file."""
    try:
        return Saw.load(file) if file else None
    except BadInput as error:
        raise (error.at(job.name, "[job] saw") if file is own else error) from error.__cause__


def _called(named: str, own: Path | None, file: Path | None) -> str:
    """A saw file as papers name it: as the job does, or a file from elsewhere by its own name."""
    if file is None:
        return ""
    return named if file is own else file.name


def _stock(table: Table, sections: NamedSections) -> tuple[Stock, Particulars]:
    said = STOCK.read(table)
    carried = Particulars.taken(said)
    with table.place():
        return nest.Stock(**{**said, "section": sections.named(said["section"], "section").name}), carried


def _allowance(table: Table, asked: Mapping[str, Any], saw: Saw | None, has_stock: bool) -> Allowance:
    """The job's own kerf, trim and grip before those of the saw."""
    if has_stock and saw is None and not table.has("kerf"):
        raise BadInput("kerf", phrase("found.nothing"), phrase("refuse.no-kerf"), table.where)
    of_saw = {"kerf": saw.kerf, "grip": saw.grip, "leads": saw.leads} if saw else {"kerf": 0.0}
    said = {key: value for key, value in asked.items() if key not in _NOT_OF_SAW}
    with table.place():
        return Allowance(**{**of_saw, **said})


_NOT_OF_SAW: Final = ("rack", "keep", "way")


def _rack(
    table: Table, said: Mapping[str, Any], folder: Path, head: Head, wanted: Iterable[tuple[str, str]]
) -> DrawnOn | None:
    """The rack that a job draws on, with what it may have of it; None where it draws on none."""
    where = said.get("rack", False)
    if where is False:
        return None
    file, keep = racks.rack_file() if where is True else folder / where, said.get("keep")
    if where is True and not file.exists():
        return racks.DrawnOn(file, *racks.whole_and_rest(head.name, head.revision, ()), keep=keep)
    with table.place(), racks.RackBook.opened(file, new=False) as book:
        lying, closed, left = book.lying(), book.closed(), book.left_by(head.name)
        as_cut = book.left_as_cut(head.name)
    whole, rest = racks.whole_and_rest(head.name, head.revision, closed)
    asked = tuple(wanted)
    bars, for_rest = (racks.for_job(lying, whose, asked) for whose in (whole, rest))
    free = tuple(bar for bar in lying if bar.taken is None)
    return racks.DrawnOn(file, whole, rest, bars, for_rest, free, left, keep, as_cut)


def _wanted(pieces: Iterable[PieceOrder], stock: Iterable[tuple[Stock, Particulars]]) -> Iterator[tuple[str, str]]:
    """The sections with their grades that a job has pieces or bars of."""
    yield from ((order.piece.section.name, order.grade) for order in pieces)
    yield from ((bar.section, bar.grade) for bar, _ in stock)


def _orders(
    top: Table, shop: Shop
) -> tuple[tuple[FrameOrder, ...], tuple[PieceOrder, ...], tuple[lists.PartsList, ...]]:
    """The frames of a job, its pieces, first those of the frames and last those of lists, and the lists."""
    framed = [frame_order(table, shop) for table in top.tables("frame")]
    frames = tuple(frame for frame, _ in framed)
    of_frames = (order for _, orders in framed for order in orders)
    own = (piece_order(table, shop.sections) for table in top.tables("piece"))
    listed = [_listed(table, shop) for table in top.tables("list")]
    pieces = (*of_frames, *own, *(order for _, orders in listed for order in orders))
    with top.place():
        PIECES_ASKED.check(top.values)
        _check_marks(pieces, frames)
    return frames, pieces, tuple(one for one, _ in listed)


def _listed(table: Table, shop: Shop) -> tuple[lists.PartsList, list[PieceOrder]]:
    """What a [[list]] table names, as it was read and as marks."""
    said = lists.LIST.read(table)
    try:
        return lists.read_list(
            shop.folder / said["file"], said, table.units, lambda row: piece_order(row, shop.sections)
        )
    except (BadInput, BadRows) as error:
        raise error.at(*table.where[:1]) from error.__cause__


def lists_as_written(path: Path, content: bytes) -> tuple[lists.PartsList, ...]:
    """The rows of the lists that a job's file names, whatever is wrong with them; refuses what is no list."""
    said = (lists.LIST.read(table) for table in read_toml(path, content).tables("list"))
    return tuple(lists.as_written(path.parent / one["file"], one) for one in said)


def _check_marks(pieces: tuple[PieceOrder, ...], frames: tuple[FrameOrder, ...]) -> None:
    hands = (mark for order in pieces for mark in order.marks)
    seen: dict[str, None] = {}
    for mark in (*hands, *(frame.assembly.mark for frame in frames)):
        if mark in seen:
            raise BadInput("mark", mark, phrase("refuse.mark-twice"))
        seen[mark] = None
    alike = first_alike(seen)
    if alike:
        raise BadInput("mark", alike[1], phrase("refuse.mark-alike", mark=alike[0]))


def _named_files(top: Table) -> Iterator[str]:
    """Drawings that sections and frames name, and lists of parts."""
    for key in ("section", "list", "frame"):
        yield from (str(table.raw("file")) for table in top.tables(key) if table.has("file"))


def _digest(content: bytes, files: Iterable[Path | None], rack: DrawnOn | None = None) -> str:
    """A short hash of a job, of every file that serves it, and of what it may have of the rack."""
    parts = [content, *(file.read_bytes() for file in files if file), *([repr(rack.bars).encode()] if rack else [])]
    return sha256(b"\0".join(parts)).hexdigest()[:12]
