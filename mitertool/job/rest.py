"""What is left of a job when some of it is cut: the job of the rest, and what becomes of the pieces that there are.

Knows what was done and the job; of an earlier revision it is told as values.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from hashlib import sha256

import attrs

from mitertool import nest
from mitertool.base.tolerances import SAME_LEFT_OVER, SAME_SETTING
from mitertool.job.again import Again, again
from mitertool.job.before import CutAlready, Difference, MarkChange, OldMark, OldPacket, Rest
from mitertool.job.done import WorkDone
from mitertool.job.from_rack import from_rack
from mitertool.job.model import Job
from mitertool.job.orders import PieceOrder
from mitertool.job.pieces_done import BlanksDone, Spoiled
from mitertool.job.recut_pieces import against, off_cuts
from mitertool.nest import Done, Stock, blank_of
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark
from mitertool.piece.poses import OTHER_END
from mitertool.piece.same_piece import same_piece
from mitertool.quantity.compare import longer, same_length
from mitertool.quantity.problem import Problem, angles, counts, lengths, names
from mitertool.quantity.telling import Numbers
from mitertool.rack.bars import plain
from mitertool.rack.values import RackBar
from mitertool.saw.setting.asked import Asked


def rest_of(job: Job, work: WorkDone, before: Sequence[OldPacket] = (), recut: bool = False) -> Job:
    """The job of what remains when `work` was done, also of the packets of revisions `before` it, the last one last.

    With `recut` the pieces that can be recut are, and no bar is cut for what they become.
    """
    old = before[-1] if before else None
    offers = tuple(_offers(job, before, work))
    made = [one for one in offers if one.fate == "finish" or (recut and one.fate == "recut")]
    good: dict[str, int] = {}
    for one in (*made, *(one for one in offers if one.fate == "keep")):
        good[one.to] = good.get(one.to, 0) + one.count
    pieces = tuple(order for order in (_less(one, good) for one in job.pieces) if order.quantity + order.opposite)
    whole, job = job.pieces, _on_its_rack(job)
    own, rack = (tuple(one for one, _ in rows) for rows in (job.own_stock, job.on_stock[len(job.own_stock) :]))
    stock = (*nest.remaining([], own, _bars_done(job, work.done))[1], *rack)
    grades = {mark: order.grade for order in whole for mark in order.marks}
    stock += tuple(_off_cuts(made, pieces, grades, job.kerf))
    changes = tuple(_changes(job, old)) if old else ()
    bars = tuple(name for done in work.pieces.values() for name in done.bars)
    begun = tuple((revision, bar) for revision, done in work.pieces.items() for bar in done.begun_alone)
    inputs = old.inputs if old else job.digest
    told = Rest(old.revision if old else "", changes, offers, good, recut, bars, inputs, begun)
    fates = [(one.mark, one.revision, one.count, one.fate, one.to) for one in offers]
    known = "\0".join((job.digest, repr(sorted(good.items())), repr(fates), repr(stock), repr(before)))
    digest = sha256(known.encode()).hexdigest()[:12]
    frames = tuple(one for one in job.frames if any(order.frame == one.assembly.mark for order in pieces))
    return attrs.evolve(job, pieces=pieces, frames=frames, stock=stock, digest=digest, rest=told, whole=whole)


def _bars_done(job: Job, done: Done) -> Done:
    """Bars gone and lengths left without what the rack keeps count of: left-overs that are gone, or that lie there."""
    if job.rack is None:
        return attrs.evolve(done, good={})
    used = tuple(bar for bar in done.used if any(bar.same_bar(stock) for stock, _ in job.own_stock))
    lying = list({bar.number: bar for bar in (*job.rack.left, *job.rack.for_rest, *job.rack.lying)}.values())
    left: list[Stock] = []
    for bar in (one for row in done.left for one in [attrs.evolve(row, quantity=1)] * (row.quantity or 1)):
        same = next((one for one in lying if _is_on_rack(bar, one)), None)
        if same:
            lying.remove(same)
        else:
            left.append(bar)
    return Done({}, used, tuple(left))


def _off_cuts(
    offers: Sequence[CutAlready], pieces: Sequence[PieceOrder], grades: Mapping[str, str], kerf: float
) -> Iterator[Stock]:
    """What comes off pieces that are recut, where a piece that remains may come of it; it costs nothing."""
    shortest: dict[tuple[str, str], float] = {}
    for order in pieces:
        key = order.piece.section.name, order.grade
        shortest[key] = min(shortest.get(key, order.piece.short_point), order.piece.short_point)
    for offer in offers:
        for bar in off_cuts(offer, grades.get(offer.to, ""), kerf):
            least = shortest.get((bar.section, bar.grade))
            if least is not None and not longer(least, bar.square):
                yield Stock(bar.section, bar.square, bar.grade, offer.count, 0.0)


def _is_on_rack(bar: Stock, one: RackBar) -> bool:
    alike = (bar.section, plain(bar.grade)) == (one.section, plain(one.grade))
    return alike and min(abs(bar.length - length) for length in (one.length, one.square)) <= SAME_LEFT_OVER


def _on_its_rack(job: Job) -> Job:
    """The job with the left-overs that its rest may draw on in the place of those of the whole, which may be cut up."""
    if job.rack is None:
        return job
    on_stock = (*job.own_stock, *map(from_rack, job.rack.for_rest))
    rack = attrs.evolve(job.rack, bars=job.rack.for_rest)
    return attrs.evolve(job, on_stock=on_stock, stock=tuple(stock for stock, _ in on_stock), rack=rack)


def _marks(job: Job) -> dict[str, OldMark]:
    """Every mark that a job asks for."""
    return {mark: _mark(order, mark, count) for order in job.pieces for mark, count in order.counts}


def _mark(order: PieceOrder, mark: str, count: int) -> OldMark:
    drawn = mark == order.mark
    piece = order.piece if drawn else order.piece.opposite_hand()
    holes = tuple(one if drawn else one.mirrored for one in order.places if not one.what)
    return OldMark(mark, count, piece.section.name, order.grade, piece, holes)


def _less(order: PieceOrder, good: Mapping[str, int]) -> PieceOrder:
    """The order without the pieces that there are."""
    if order.opposite and order.is_own_opposite:  # one mark for both hands
        both = order.quantity + order.opposite - good.get(order.mark, 0)
        drawn = min(order.quantity, both)
        return attrs.evolve(order, quantity=drawn, opposite=both - drawn)
    quantity = order.quantity - good.get(order.mark, 0)
    return attrs.evolve(order, quantity=quantity, opposite=order.opposite - good.get(order.opposite_mark, 0))


@attrs.frozen
class _There:
    """`count` pieces of a mark of a revision that are not wanted as they are; `left` is the longest line of each, mm.

    `piece` is what each is by now, None where that is not known; `length` is as it was drawn, on the centerline. Of a
    blank `later` is the end that it wants yet. `heats` are those that they may be of.
    """

    mark: OldMark
    count: int
    revision: str
    piece: Piece | None
    length: float
    spoiled: bool = False
    left: float = 0.0
    later: str = ""
    heats: tuple[str, ...] = ()

    def becomes(self, count: int, fate: str, to: str = "", how: Again | None = None) -> CutAlready:
        """So many of them with what becomes of each."""
        told = (self.spoiled, self.length, self.revision, self.left, self.piece, bool(self.later))
        return CutAlready(self.mark.mark, count, fate, to, how, *told, heats=self.heats)


def _offers(job: Job, before: Sequence[OldPacket], work: WorkDone) -> Iterator[CutAlready]:
    """What becomes of every piece that was cut: those that are right first, then what the others may become."""
    wanted = _marks(job)
    open_ = {mark: one.count for mark, one in wanted.items()}
    revisions = {job.head.revision: tuple(wanted.values())} | {old.revision: old.marks for old in before}
    blanks: list[_There] = []
    over: list[_There] = []
    spoiled: list[_There] = []
    for revision, marks in sorted(revisions.items(), key=lambda one: one[0] == job.head.revision):
        by_mark, done = {one.mark: one for one in marks}, work.of(revision)
        for mark, good in done.good.items():
            one, new = by_mark[mark], wanted.get(mark)
            keep = min(good, open_[mark]) if new and _same(one, new) else 0
            length = one.piece.centerline if one.piece else 0.0
            there = _There(one, good - keep, revision, one.piece, length, heats=done.heats_of(mark))
            if keep:
                open_[mark] -= keep
                yield there.becomes(keep, "keep", mark)
            over += [there] if there.count else []
        cut = [_as_blank(by_mark[one.mark], one, revision) for one in done.blanks]
        wrong = [_as_spoiled(by_mark[one.mark], one, revision) for one in done.spoiled]
        for found, more in ((blanks, cut), (spoiled, wrong)):
            found += [attrs.evolve(one, heats=done.heats_of(one.mark.mark)) for one in more]
    bench = _Bench(job, wanted, open_)
    for there in (*blanks, *over, *spoiled):
        yield from bench.fates(there)


def _as_blank(one: OldMark, blanks: BlanksDone, revision: str) -> _There:
    """Both ends of a blank are as its finished one, parallel."""
    piece = blank_of(one.piece, OTHER_END[blanks.end], blanks.length) if one.piece else None
    length = one.piece.centerline if one.piece else 0.0
    return _There(one, blanks.count, revision, piece, length, left=blanks.length, later=blanks.end)


def _as_spoiled(one: OldMark, spoiled: Spoiled, revision: str) -> _There:
    """What is left of a piece that went wrong, its ends as they are drawn; nothing where no other length is told."""
    length = one.piece.centerline if one.piece else 0.0
    off = one.piece.long_point - spoiled.length if one.piece and spoiled.length else 0.0
    usable = one.piece and off and off < one.piece.short_point
    piece = one.piece.of_centerline(length - off) if one.piece and usable else None
    return _There(one, spoiled.count, revision, piece, length, spoiled=True, left=spoiled.length)


@attrs.frozen
class _Bench:
    """What pieces may become on the saw of a job: the marks `wanted`, and how many of each are still `open`."""

    job: Job
    wanted: Mapping[str, OldMark]
    open: dict[str, int]

    @cached_property
    def asked(self) -> Asked | None:
        """The saw; None without one."""
        return Asked(self.job.saw) if self.job.saw else None

    @cached_property
    def orders(self) -> dict[str, PieceOrder]:
        """The order of every mark."""
        return {mark: order for order in self.job.pieces for mark, _ in order.counts}

    def fates(self, there: _There) -> Iterator[CutAlready]:
        """What becomes of pieces that are not wanted as they are, the fewest cuts first; scrap where nothing.

        A blank becomes what it was meant for before all else.
        """
        count = there.count
        cannot: Problem | None = None
        for fate, how, new in self._ways(there):
            made = min(count, self.open[new.mark])
            offer = there.becomes(made, fate, new.mark, how)
            why = self._against(offer, new) if made else None
            cannot = cannot or why
            if made and not why:
                self.open[new.mark] -= made
                count -= made
                yield offer
        if count:
            yield attrs.evolve(there.becomes(count, "scrap"), against=cannot)

    def _ways(self, there: _There) -> Iterator[tuple[str, Again, OldMark]]:
        """What they may become by their steel, best first, each with its fate."""
        meant = self.wanted.get(there.mark.mark) if there.later else None
        if meant and meant.piece and there.piece and _same(there.mark, meant):
            for how in again(there.piece, meant.piece.blank, self.job.kerf):
                yield "finish", how, meant
        ways = [(how, new) for new in self.wanted.values() for how in _ways(there, new, self.job.kerf)]
        for how, new in sorted(ways, key=lambda way: (way[0].cuts, -_long(way[1]))):
            yield "recut" if how.cuts else "keep", how, new

    def _against(self, offer: CutAlready, new: OldMark) -> Problem | None:
        """Why the saw cannot make it; None where it can, or where nothing is cut."""
        if new.piece is None or offer.how is None or not offer.how.cuts:
            return None
        return against(offer, self.orders[new.mark], new.piece, self.asked)


def _long(mark: OldMark) -> float:
    return mark.piece.centerline if mark.piece else 0.0


def _ways(there: _There, new: OldMark, kerf: float) -> tuple[Again, ...]:
    """None where a hole may be in it that is another's."""
    if there.piece and new.piece and there.mark.grade == new.grade and (there.later or not there.mark.holes):
        return again(there.piece, new.piece, kerf)
    return ()


def _same(one: OldMark, new: OldMark) -> bool:
    """Whether a piece cut as the one is the other."""
    return not any(difference.code != "quantity" for difference in _differences(one, new))


def _changes(job: Job, old: OldPacket) -> Iterator[MarkChange]:
    now = _marks(job)
    before = {one.mark: one for one in old.marks}
    for mark, new in now.items():
        if mark not in before:
            yield MarkChange(mark, "new")
        else:
            found = tuple(_differences(before[mark], new))
            yield MarkChange(mark, "changed" if found else "unchanged", found)
    yield from (MarkChange(mark, "gone") for mark in before if mark not in now)


def _differences(one: OldMark, new: OldMark) -> Iterator[Difference]:
    if one.count != new.count:
        yield _differs("quantity", counts(quantity=one.count), counts(quantity=new.count))
    if one.section != new.section or one.piece is None:
        yield _differs("section", names(section=one.section), names(section=new.section))
    if one.grade != new.grade:
        yield _differs("grade", names(grade=one.grade), names(grade=new.grade))
    if one.piece and new.piece and (one.section != new.section or not same_piece(one.piece, new.piece)):
        yield from _of_pieces(one.piece, new.piece)
    yield from _of_holes(one, new)


def _of_holes(one: OldMark, new: OldMark) -> Iterator[Difference]:
    """What is other of the holes: how many, or where the first is that lies elsewhere."""
    if len(one.holes) != len(new.holes):
        yield _differs("holes", counts(holes=len(one.holes)), counts(holes=len(new.holes)))
        return
    for hole, other in zip(*(sorted(mark.holes, key=_place) for mark in (one, new)), strict=True):
        same_place = (hole.end, hole.side) == (other.end, other.side)
        if not (same_place and same_length(hole.at, other.at)):
            code = "hole" if same_place else "hole-side"
            yield _differs(code, lengths(at=hole.at), lengths(at=other.at))
            return


def _place(hole: PieceMark) -> tuple[str, str, float]:
    return hole.end, hole.side, hole.at


def _of_pieces(one: Piece, new: Piece) -> Iterator[Difference]:
    if not one.section.looks_like(new.section) and one.section.name == new.section.name:
        yield _differs("lay", angles(lay=one.section.rotation), angles(lay=new.section.rotation))
    for measured in ("long_point", "short_point"):
        before, after = getattr(one, measured), getattr(new, measured)
        if not same_length(before, after):
            yield _differs(measured.replace("_", "-"), lengths(length=before), lengths(length=after))
    for end in ("left", "right"):
        cuts, others = one.cuts(end), new.cuts(end)
        if len(cuts) != len(others):
            yield _differs(f"{end}-cuts", counts(cuts=len(cuts)), counts(cuts=len(others)))
        for cut, other in zip(cuts, others, strict=False):
            for way in ("miter", "bevel"):
                before, after = getattr(cut, way), getattr(other, way)
                if abs(before - after) > SAME_SETTING:
                    yield _differs(f"{end}-{way}", angles(angle=before), angles(angle=after))


def _differs(code: str, before: Numbers, after: Numbers) -> Difference:
    return Difference(code, before[0], after[0])
