"""What fell off held against the drawing, and what the saw counted against the totals that the paper claims."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise, product

from tests.virtual_saw import recuts as again
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.recuts import POSES, Recut
from tests.virtual_saw.steel import Point, Solid, apart, error
from tests.virtual_saw.walk import Bar, Walked, as_drawn, foremost, least_length, walk

EXACT = 1e-6
"""mm. What is told in full precision is cut to this: rounding of double precision over a bar, and no more."""

SAME_ARM = 1e-6
"""degrees. An arm that moves by less is not swung."""


@dataclass(frozen=True)
class Drawing:
    """What is wanted: each mark as drawn and how many of it, the trim asked for, and the sections that are bought.

    `blanks` are marks with more than one plane at an end, with the first of either end only: so they leave the bar.
    """

    pieces: Mapping[str, Solid]
    quantity: Mapping[str, int]
    trim: float = 0.0
    stocks: Mapping[str, Stock] = field(default_factory=dict)
    blanks: Mapping[str, Solid] = field(default_factory=dict)

    def off_the_bar(self, mark: str) -> Solid | None:
        return self.blanks.get(mark, self.pieces.get(mark))


@dataclass
class Counted:
    """What the saw counted over all bars; lengths mm, on the middle of the section.

    `arm` is how swing and tilt stand at the end; `each` is where the pieces of each bar begin, and
    `set_ups` how often within it the arm is swung, the blade tilted, the bar rolled.
    """

    bars: int = 0
    cuts: int = 0
    swings: int = 0
    tilts: int = 0
    rolls: int = 0
    bought: float = 0.0
    pieces: float = 0.0
    kerf: float = 0.0
    left: float = 0.0
    made: Counter[str] = field(default_factory=Counter)
    arm: tuple[float, float] | None = None
    set_ups: list[tuple[int, int, int]] = field(default_factory=list)
    each: list[list[float]] = field(default_factory=list)
    blanks: dict[str, list[Solid]] = field(default_factory=dict)


def job(
    saw: Machine, drawing: Drawing, bars: Sequence[Bar], way: str, near: float = EXACT, recuts: Sequence[Recut] = ()
) -> tuple[list[str], Counted]:
    """Every fault of the bars worked off by `way`, and what was counted; `near` is what a corner may be out, mm."""
    wrong: list[str] = []
    counted, arms = Counted(), _recut(saw, drawing, recuts, 0, Counted(), way, near, wrong)
    for number, bar in enumerate(bars, 1):
        walked = walk(saw, drawing.stocks[bar.section], bar, way, near)
        wrong += [f"bar {number} by {way}: {fault}" for fault in _faults(saw, drawing, bar, walked, near)]
        _count(counted, bar, walked)
        _keep_blanks(saw, drawing, counted, bar, walked, near)
        arms += walked.settings * bar.count
        arms += _recut(saw, drawing, recuts, number, counted, way, near, wrong)
    wrong += [f"{len(left)} blanks of {mark} get no other end" for mark, left in counted.blanks.items() if left]
    counted.swings, counted.tilts = _changes(arms)
    counted.arm = arms[-1] if arms else None
    wrong += _missing(drawing, counted.made)
    return wrong, counted


def _keep_blanks(saw: Machine, drawing: Drawing, counted: Counted, bar: Bar, walked: Walked, near: float) -> None:
    """Put the blanks of a bar by, each as it is drawn; where nobody says how it lies, as its finished end shows it."""
    poses, lays = (told or ("",) * len(walked.pieces) for told in (bar.poses, bar.lays))
    for (mark, solid), pose, lay, end in zip(walked.pieces, poses, lays, bar.recuts, strict=False):
        if end:
            blank = _drawn_again(saw, solid, pose, float(lay)) if pose else _known(saw, drawing, mark, solid, end, near)
            counted.blanks.setdefault(mark, []).extend([blank] * bar.count)


def _known(saw: Machine, drawing: Drawing, mark: str, solid: Solid, end: str, near: float) -> Solid:
    """A blank moved to how its mark is drawn, known by its section and, best of all, its finished end.

    As it lies where none fits.
    """
    wanted = drawing.off_the_bar(mark)
    if wanted is None:
        return as_drawn(solid, saw)
    every = (_drawn_again(saw, solid, pose, lay) for pose, lay in product(POSES, (0.0, 90.0, 180.0, 270.0)))
    fits = [
        drawn
        for drawn in every
        if drawn.section.looks_like(wanted.section) and not list(again.wrong_blank(drawn, wanted, end, near))
    ]
    return min(fits, key=lambda drawn: again.leans_off(drawn, wanted, end), default=as_drawn(solid, saw))


def _drawn_again(saw: Machine, solid: Solid, pose: str, lay: float) -> Solid:
    """A piece of a bar moved back to how it is drawn; each pose undoes itself."""
    laid = as_drawn(solid, saw)
    laid = laid.moved(laid.section.turn(lay)) if lay else laid
    return laid.moved(laid.section.turn(*POSES[pose]))


def _recut(
    saw: Machine,
    drawing: Drawing,
    recuts: Sequence[Recut],
    after: int,
    counted: Counted,
    way: str,
    near: float,
    wrong: list[str],
) -> list[tuple[float, float]]:
    """The recuts when so many entries of bars are cut; how arm and blade stood for them."""
    arms: list[tuple[float, float]] = []
    for recut in (one for one in recuts if one.after == after):
        for _ in range(recut.count):
            if not counted.blanks.get(recut.mark):
                wrong.append(f"no blank of {recut.mark} is there to be recut")
                break
            blank, wanted = counted.blanks[recut.mark].pop(0), drawing.off_the_bar(recut.mark)
            assert wanted is not None
            wrong += again.wrong_blank(blank, wanted, recut.end, near)
            stock = drawing.stocks[recut.section]
            by = way if way == "tape" and recut.fixed is not None else "stop"
            told, walked = again.faults(saw, stock, recut, blank, wanted, by, near)
            wrong += [f"recut by {way}: {fault}" for fault in told]
            arms += walked.settings
            counted.cuts += 1
            counted.pieces += on_the_middle(wanted) - on_the_middle(blank)
            counted.kerf += sum(far - begin for begin, far in walked.places)
    return arms


def _faults(saw: Machine, drawing: Drawing, bar: Bar, walked: Walked, near: float) -> Iterator[str]:
    yield from walked.wrong
    for number, (mark, solid) in enumerate(walked.pieces):
        if bar.recuts and bar.recuts[number]:
            continue
        wanted = drawing.off_the_bar(mark)
        out = error(as_drawn(solid, saw), wanted) if wanted else float("inf")
        if out > near:
            yield f"{mark} comes out {out:.6g} wrong"
    yield from _poses(saw, drawing, bar, walked, near)
    yield from _ends(saw, drawing, walked, near)
    steel = [*(solid for _, solid in walked.pieces), *walked.scrap, *walked.kerfs]
    steel += [walked.left] if walked.left else []
    whole = drawing.stocks[bar.section].section.area * bar.length
    if abs(sum(solid.volume for solid in steel) - whole) > LOST * whole:
        yield "steel is lost"


LOST = 1e-9
"""Share of a bar: what the sum of many exact volumes may be out."""


def _poses(saw: Machine, drawing: Drawing, bar: Bar, walked: Walked, near: float) -> Iterator[str]:
    """Pieces that lie on the bar otherwise than is told, and what is left of it."""
    lays, blanks = bar.lays or (0.0,) * len(bar.poses), bar.recuts or ("",) * len(bar.poses)
    for (mark, solid), pose, lay, blank in zip(walked.pieces, bar.poses, lays, blanks, strict=False):
        wanted = drawing.off_the_bar(mark)
        if wanted and not blank and (out := apart(_drawn_again(saw, solid, pose, lay), wanted)) > near:
            yield f"{mark} does not lie {pose}: {out:.6g} off"
    if bar.poses and len(bar.poses) != len(walked.pieces):
        yield f"{len(bar.poses)} pieces told, {len(walked.pieces)} cut"
    left = bar.length - walked.places[-1][1] if walked.places else bar.length
    if bar.drop is not None and abs(bar.drop - left) > near * len(bar.steps):
        yield f"a drop of {bar.drop:g} told, {left:g} is left"


def _ends(saw: Machine, drawing: Drawing, walked: Walked, near: float) -> Iterator[str]:
    """The trim at the raw end, to the first piece's own face, and the grip behind the last kerf."""
    if walked.pieces and (trim := foremost(walked.pieces[0][1])) < drawing.trim - near:
        yield f"the raw end is trimmed {trim:.6g} only"
    if walked.left and (held := least_length(walked.left)) < saw.grip - near:
        yield f"{held:.6g} is left to hold"


def _changes(arms: Sequence[tuple[float, float]]) -> tuple[int, int]:
    """How often the arm is swung, and the blade tilted, from one to the next."""
    swings, tilts = (sum(abs(a[i] - b[i]) > SAME_ARM for a, b in pairwise(arms)) for i in (0, 1))
    return swings, tilts


def _count(counted: Counted, bar: Bar, walked: Walked) -> None:
    left = bar.length - walked.places[-1][1] if walked.places else bar.length
    counted.bars += bar.count
    counted.cuts += bar.count * len(bar.steps)
    counted.rolls += bar.count * walked.rolls
    counted.bought += bar.count * bar.length
    counted.pieces += bar.count * sum(on_the_middle(solid) for _, solid in walked.pieces)
    kerfs = (later - max(near, far) for (_, far), (near, later) in pairwise(walked.places))
    counted.kerf += bar.count * sum(kerfs)
    counted.left += bar.count * left
    counted.set_ups.append((*_changes(walked.settings), walked.rolls))
    counted.each.append([solid.begins(middle(solid)) for _, solid in walked.pieces])
    for mark, _ in walked.pieces:
        counted.made[mark] += bar.count


def middle(solid: Solid) -> Point:
    return (solid.section.width / 2, solid.section.height / 2)


def on_the_middle(solid: Solid) -> float:
    """Length at the middle of the section's box."""
    return solid.ends(middle(solid)) - solid.begins(middle(solid))


def _missing(drawing: Drawing, made: Mapping[str, int]) -> Iterator[str]:
    for mark in sorted({*drawing.quantity, *made}):
        if drawing.quantity.get(mark, 0) != made.get(mark, 0):
            yield f"{made.get(mark, 0)} of {mark} were cut, {drawing.quantity.get(mark, 0)} are drawn"
