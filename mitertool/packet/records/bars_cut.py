"""Bars of a packet by the numbers on its sheet, and what each gives, read back from plan.json; knows values of job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.job import Job
from mitertool.job.recuts import second_end
from mitertool.packet.records.earlier import Whose, of_job, piece_of
from mitertool.piece.poses import opposite_mark
from mitertool.quantity.compare import same_length
from mitertool.rack.values import ALL
from mitertool.words import phrase


@attrs.frozen
class Part:
    """Good `pieces` and blanks, `later`, that come off with a piece of a bar, and what is whole `behind` it, mm.

    That is None where the packet does not tell it.
    """

    pieces: Mapping[str, int] = attrs.field(hash=False)
    later: Mapping[tuple[str, str, float], int] = attrs.field(hash=False)
    behind: float | None


def _together(parts: Sequence[Part]) -> tuple[Counter[str], Counter[tuple[str, str, float]]]:
    """All that they give."""
    done: Counter[str] = Counter()
    later: Counter[tuple[str, str, float]] = Counter()
    for part in parts:
        done.update(part.pieces)
        later.update(part.later)
    return done, later


@attrs.frozen
class BarDone:
    """A bar that is cut: its `name`, number and which of those alike, and the good pieces by mark that it gave.

    `later` are its blanks, each by mark, end that is cut later, and length in mm. `length` is that of the raw bar and
    `left` what is whole of it behind the last kerf, mm; `bars` how many lay side by side. `of_stock`: it is bought, and
    not left of a bar or of a piece before; `off_rack`: it is a left-over that the rack keeps count of. `heat` is ""
    where the packet does not know it. `parts` are what its pieces in turn give; `begun`: only some of them are cut.
    """

    name: str
    section: str
    grade: str
    length: float
    left: float
    pieces: Mapping[str, int] = attrs.field(hash=False)
    later: Mapping[tuple[str, str, float], int] = attrs.field(hash=False)
    bars: int = 1
    of_stock: bool = True
    off_rack: bool = False
    heat: str = ""
    parts: tuple[Part, ...] = ()
    begun: bool = False

    def so_far(self, count: int) -> Self:
        """The bar of which so many pieces are cut.

        Raises `BadInput` where that is none of it, or all, and for a packet that does not tell what is left then.
        """
        if not 0 < count < len(self.parts):
            raise BadInput("--begun", f"{self.name}={count}", phrase("rest.begun-count", all=len(self.parts)))
        if self.parts[count - 1].behind is None:
            raise BadInput("--begun", self.name, phrase("rest.begun-older"))
        pieces, later = _together(self.parts[:count])
        return attrs.evolve(self, pieces=pieces, later=later, left=self.parts[count - 1].behind or 0.0, begun=True)


@attrs.frozen
class RecutDone:
    """`count` pieces of a mark of a revision that were recut to another, or blanks that got their second end.

    `left` mm is how long spoiled ones or blanks were. `second_end`: the blanks come off bars of the packet itself.
    `heat` is "" where the packet does not know it.
    """

    name: str
    mark: str
    revision: str
    left: float
    to: str
    count: int
    blank: bool = False
    second_end: bool = False
    heat: str = ""


@attrs.frozen
class CutPacket:
    """A packet that is being cut: whose it is, and its bars in their order.

    `inputs` is the hash of what it was made from, and `booked` that by which a rack knows its plan, "" where it draws
    on none. `recuts` are what pieces or blanks become that were there before, R1 and on, and then the second ends of
    its own blanks, E1 and on.
    """

    whose: Whose
    inputs: str
    booked: str
    bars: tuple[BarDone, ...]
    recuts: tuple[RecutDone, ...] = ()

    def recut(self, names: Sequence[str], told: Collection[str] = ()) -> tuple[RecutDone, ...]:
        """The recuts and second ends of these names; "all" means those that are not `told` yet."""
        every = [one for one in self.recuts if self.called(one) not in told] if ALL in names else []
        return tuple(every or (one for one in self.recuts if one.name in names))

    def named(self, names: Sequence[str], told: Collection[str] = ()) -> tuple[BarDone, ...]:
        """The bars of these names, a number alone for all that are alike. Raises `BadInput` for one that none has.

        "all" means those that are not `told` as cut yet.
        """
        if ALL in names:
            return tuple(bar for bar in self.bars if self.called(bar) not in told)
        every: tuple[BarDone | RecutDone, ...] = (*self.bars, *self.recuts)
        for name in names:
            if not any(name in _names(bar) for bar in every):
                known = ", ".join(dict.fromkeys(bar.name.partition(".")[0] for bar in every))
                raise BadInput("--cut", name, phrase("rest.no-such-bar", bars=known))
        return tuple(bar for bar in self.bars if set(_names(bar)) & set(names))

    def bar(self, name: str) -> BarDone:
        """The bar of a name, a number alone for one that has none alike. Raises `BadInput` for another."""
        found = self.named([name])
        if len(found) != 1:
            raise BadInput("--begun", name, phrase("rest.no-such-bar", bars=", ".join(bar.name for bar in found)))
        return found[0]

    def called(self, bar: BarDone | RecutDone) -> str:
        """A bar as it is told: by its name and what the packet was made from."""
        return f"{bar.name} {self.inputs}"


def _names(bar: BarDone | RecutDone) -> tuple[str, str]:
    return bar.name, bar.name.partition(".")[0]


def cut_packet(folder: Path, job: Job, what: str) -> CutPacket:
    """The packet of a folder. Raises `BadInput` for one of another job, or for a folder that holds none."""
    whose, plan = of_job(folder, job, what)
    try:
        marks = {mark: each for record in plan["pieces"] for mark, each in _each(record, job)}
        off_rack, heats = plan.get("off_rack", ()), plan.get("heats", {})
        bars = tuple(
            attrs.evolve(
                bar,
                of_stock=any(_is_of(bar, row) for row in plan["stock"]),
                off_rack=bar.name in off_rack,
                heat=str(heats.get(bar.name, "")),
            )
            for number, record in enumerate(plan["bars"], 1)
            for bar in _bars(number, record, marks)
        )
        recuts = tuple(attrs.evolve(_recut(one), heat=str(heats.get(one["number"], ""))) for one in _again(plan))
        ends = tuple(_second_end(*one, whose.revision, bars) for one in enumerate(plan["recuts"], 1))
        known = str(plan["inputs"]), str(plan.get("rack_plan", ""))
        return CutPacket(whose, *known, bars, (*recuts, *ends))
    except (KeyError, TypeError, ValueError) as error:
        raise BadInput(what, str(folder), phrase("rest.no-packet")) from error


def _each(record: Mapping[str, Any], job: Job) -> Iterator[tuple[str, dict[str, int]]]:
    """What a cut of either mark of an order gives, by mark."""
    mark, opposite = record["mark"], opposite_mark(record["mark"])
    many, boxed, piece = record.get("side_by_side", 1), record.get("boxed", False), piece_of(record, job)
    if boxed and piece is not None and piece.is_own_opposite:
        yield mark, {mark: 2 * many}
    elif boxed:
        yield mark, {mark: many, opposite: many}
        yield opposite, {mark: many, opposite: many}
    else:
        yield mark, {mark: many}
        yield opposite, {opposite: many}


def _is_of(bar: BarDone, row: Mapping[str, Any]) -> bool:
    """Whether a bar is one of a row of stock."""
    return (bar.section, bar.grade) == (row["section"], row["grade"]) and same_length(bar.length, row["length_mm"])


def _recut(one: Mapping[str, Any]) -> RecutDone:
    blank = bool(one.get("blank", False))
    left = one["left_mm"] if one["spoiled"] or blank else 0.0
    return RecutDone(one["number"], one["mark"], one["revision"], left, one["becomes"], one["count"], blank)


def _again(plan: Mapping[str, Any]) -> Sequence[Mapping[str, Any]]:
    """What its pieces that are cut already become."""
    found: Sequence[Mapping[str, Any]] = plan.get("recut_pieces", ())
    return found


def _second_end(number: int, one: Mapping[str, Any], revision: str, bars: Sequence[BarDone]) -> RecutDone:
    """Of one heat where all bars are that give such blanks."""
    told = (one["mark"], revision, one["blank_mm"], one["mark"], one["count"])
    blanks = {bar.heat for bar in bars if any(key[:2] == (one["mark"], one["end"]) for key in bar.later)}
    heat = blanks.pop() if len(blanks) == 1 else ""
    return RecutDone(second_end(number), *told, blank=True, second_end=True, heat=heat)


def _bars(number: int, record: Mapping[str, Any], marks: Mapping[str, Mapping[str, int]]) -> Iterator[BarDone]:
    parts = tuple(_parts(record, marks))
    done, later = _together(parts)
    section, left = record.get("single", record["section"]), record.get("left_whole_mm", 0.0)
    told = (section, record["grade"], record["stock_length_mm"], left, done, later)
    for copy in range(1, record["count"] + 1):
        yield BarDone(f"{number}.{copy}", *told, bars=record.get("side_by_side", 1), parts=parts)


def _parts(record: Mapping[str, Any], marks: Mapping[str, Mapping[str, int]]) -> Iterator[Part]:
    """What each piece of a bar gives, in turn."""
    for placed, rest in zip(record["pieces"], _behind(record), strict=True):
        if placed["recut"]:
            yield Part({}, {(placed["mark"], placed["recut"], placed["blank_mm"]): 1}, rest)
        else:
            yield Part(marks[placed["mark"]], {}, rest)


def _behind(record: Mapping[str, Any]) -> Iterator[float | None]:
    """What of a bar is whole behind each of its pieces: behind a cut that is not shared comes the next one's first."""
    at, rests = 1, record.get("rests_mm")
    for _ in record["pieces"]:
        yield rests[at] if rests else None
        at += 1 if record["cuts"][at]["shared"] else 2
