"""The cheapest way to work off a small job, over all ways of working, orders, poses and settings.

Every state that can come about is looked at, cheapest first: what is done with each piece, where the arm stands, what
is on the bar in the saw. Of two ways to one state only that is dropped which costs no less and has used no less of the
bar. So the first end that is reached is the best. It works for some six pieces.

How set-ups are counted: the first cut of the job finds the arm where it stands. A bar is laid as its first piece lies;
rolling it for its first cut is a roll unless all its pieces may lie so. Between bars only the arm counts. A blank has
its trailing cut at both ends and is longer by the wedge and the kerf of its recut, which comes when its bar is done; it
is laid for that in any pose that has the finished end behind, in the vise, at no roll, and long enough to be held.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count, product

from tests.nest.oracle.model import PARTNER, SAME, Job, Piece, Stock, swing_of

WAYS = ("bar by bar", "by setting", "mixed")
TODO, ON_BAR, WAITING, DONE = "todo", "on the bar", "waiting", "done"
Cost = tuple[float, float]
"""Money and nothing; or without rates the price of the steel, then set-ups."""


@dataclass(frozen=True)
class Bar:
    """The bar in the saw: its stock, the slope of the last cut, whether it is rolled and still owes its first roll."""

    stock: int
    slope: float
    rolled: bool
    owes_roll: bool


@dataclass(frozen=True)
class State:
    """`pieces`: what is done with each, and of a blank the slope and roll that its recut may have."""

    ways: tuple[str, ...]
    pieces: tuple[tuple[str, tuple[float, ...]], ...]
    taken: tuple[int, ...]
    arm: float | None
    bar: Bar | None


@dataclass(frozen=True)
class Blank:
    """A piece, or its blank, in a pose on the bar: slopes, length, and the slopes of its recut."""

    lead: float
    trail: float
    length: float
    recut: tuple[float, ...]
    may_turn_over: bool


Label = tuple[Cost, float, State]


def best(job: Job, ways: tuple[str, ...] = ("mixed",)) -> Cost:
    """What the job costs at the least: money, or price and set-ups. (inf, inf) where stock does not go round.

    One of `ways` for all pieces of a section; where it is mixed each of them is cut in the way that is best for it.
    """
    return _Search(job, ways).run()


class _Search:
    def __init__(self, job: Job, ways: tuple[str, ...]) -> None:
        self.job, self.shop, self.rates = job, job.shop, job.shop.rates
        self.names = sorted({piece.section for piece in job.pieces})
        self.ways = ways
        self.reached: dict[State, list[tuple[Cost, float]]] = {}
        self.heap: list[tuple[Cost, float, int, State]] = []
        self.number = count()
        self.blanks: dict[tuple[Piece, str], tuple[Blank, ...]] = {}

    def run(self) -> Cost:
        for ways in product(self.ways, repeat=len(self.names)):
            start = State(ways, ((TODO, ()),) * len(self.job.pieces), (0,) * len(self.job.stock), None, None)
            self._push(((0.0, 0.0), 0.0, start))
        while self.heap:
            cost, used, _, state = heappop(self.heap)
            if all(done == DONE for done, _ in state.pieces) and state.bar is None:
                return cost
            if self._beaten(state, cost, used):
                continue
            self.reached.setdefault(state, []).append((cost, used))
            for label in self._next(cost, used, state):
                self._push(label)
        return (float("inf"), float("inf"))

    def _push(self, label: Label) -> None:
        cost, used, state = label
        cost = (round(cost[0], 7), cost[1])
        if not self._beaten(state, cost, used):
            heappush(self.heap, (cost, used, next(self.number), state))

    def _beaten(self, state: State, cost: Cost, used: float) -> bool:
        return any(c <= cost and u <= used + SAME for c, u in self.reached.get(state, ()))

    def _next(self, cost: Cost, used: float, state: State) -> Iterator[Label]:
        if state.bar is None:
            yield from self._recuts(cost, state)
            for number, stock in enumerate(self.job.stock):
                if stock.quantity is None or state.taken[number] < stock.quantity:
                    yield from self._opened(cost, state, number, stock)
            return
        yield from self._longer(cost, used, state, state.bar)
        pieces = tuple(self._off(one) for one in state.pieces)
        yield cost, 0.0, replace(state, pieces=self._sorted(pieces), bar=None)

    @staticmethod
    def _off(one: tuple[str, tuple[float, ...]]) -> tuple[str, tuple[float, ...]]:
        done, slopes = one
        return (WAITING if slopes else DONE, slopes) if done == ON_BAR else one

    def _sorted(self, pieces: tuple[tuple[str, tuple[float, ...]], ...]) -> tuple[tuple[str, tuple[float, ...]], ...]:
        """Of equal pieces it does not matter which is which."""
        alike: dict[Piece, list[int]] = {}
        for i, piece in enumerate(self.job.pieces):
            alike.setdefault(piece, []).append(i)
        found = list(pieces)
        for places in alike.values():
            for place, one in zip(places, sorted(pieces[i] for i in places), strict=True):
                found[place] = one
        return tuple(found)

    # what lies on a bar

    def _blanks(self, state: State, number: int) -> tuple[Blank, ...]:
        piece = self.job.pieces[number]
        key = piece, state.ways[self.names.index(piece.section)]
        if key not in self.blanks:
            self.blanks[key] = tuple(dict.fromkeys(self._poses(*key)))
        return self.blanks[key]

    def _poses(self, piece: Piece, way: str) -> Iterator[Blank]:
        width, over = self.job.sections[piece.section].width, self.job.sections[piece.section].over
        for pose in piece.poses:
            lead, trail = piece.lying(pose)
            turns = over and PARTNER[pose] in piece.poses
            parallel = abs(lead - trail) <= SAME
            if way != "by setting" or parallel:
                yield Blank(lead, trail, piece.length, (), turns)
            if way != "bar by bar" and not parallel:
                length = piece.length + self.shop.along(lead) + abs(lead - trail) * width / 2
                slopes = (lead, -lead) if over else (lead,)
                if piece.length - (abs(lead) + abs(trail)) * width / 2 >= self.shop.grip - SAME:
                    yield Blank(trail, trail, length, tuple(sorted(slopes)), turns)

    def _waiting(self, state: State) -> Iterator[int]:
        seen: set[Piece] = set()
        for number, (done, _) in enumerate(state.pieces):
            if done == TODO and self.job.pieces[number] not in seen:
                seen.add(self.job.pieces[number])
                yield number

    def _put(self, state: State, number: int, blank: Blank, bar: Bar, arm: float) -> State:
        pieces = list(state.pieces)
        pieces[number] = (ON_BAR, blank.recut)
        return replace(state, pieces=self._sorted(tuple(pieces)), bar=bar, arm=arm)

    def _opened(self, cost: Cost, state: State, number: int, stock: Stock) -> Iterator[Label]:
        taken = tuple(n + (i == number) for i, n in enumerate(state.taken))
        opened = replace(state, taken=taken)
        cost = self._plus(cost, price=stock.price, loads=1)
        for piece in self._waiting(state):
            if self.job.pieces[piece].section != stock.section:
                continue
            width = self.job.sections[stock.section].width
            for blank in self._blanks(state, piece):
                used = self.shop.trim + abs(blank.lead) * width / 2 + blank.length
                for rolled, swing in self._settings(blank.lead, stock.section):
                    owed = rolled and blank.may_turn_over
                    first = self._plus(cost, swings=self._swung(state.arm, swing), rolls=int(rolled and not owed))
                    bar = Bar(number, blank.lead, rolled, owed)
                    yield from self._trailed(first, used, opened, piece, blank, bar, swing)

    def _longer(self, cost: Cost, used: float, state: State, bar: Bar) -> Iterator[Label]:
        section = self.job.stock[bar.stock].section
        width = self.job.sections[section].width
        for piece in self._waiting(state):
            if self.job.pieces[piece].section != section:
                continue
            for blank in self._blanks(state, piece):
                owes = bar.owes_roll and not blank.may_turn_over
                more = used + self.shop.joint(bar.slope, blank.lead, width) + blank.length
                now = replace(bar, owes_roll=bar.owes_roll and blank.may_turn_over)
                start = self._plus(cost, rolls=int(owes))
                if abs(bar.slope - blank.lead) <= SAME:
                    yield from self._trailed(start, more, state, piece, blank, now, state.arm)
                    continue
                for rolled, swing in self._settings(blank.lead, section):
                    rolls, swings = int(rolled != bar.rolled), self._swung(state.arm, swing)
                    turned = replace(now, rolled=rolled)
                    yield from self._trailed(
                        self._plus(start, swings=swings, rolls=rolls), more, state, piece, blank, turned, swing
                    )

    def _trailed(
        self, cost: Cost, used: float, state: State, piece: int, blank: Blank, bar: Bar, arm: float | None
    ) -> Iterator[Label]:
        """The trailing cut of the piece, where the bar takes it."""
        stock = self.job.stock[bar.stock]
        width = self.job.sections[stock.section].width
        end = used + abs(blank.trail) * width / 2 + self.shop.along(blank.trail)
        if end > stock.length - self.shop.grip + SAME:
            return
        for rolled, swing in self._settings(blank.trail, stock.section):
            rolls = int(rolled != bar.rolled)
            now = Bar(bar.stock, blank.trail, rolled, bar.owes_roll)
            made = self._plus(cost, swings=self._swung(arm, swing), rolls=rolls)
            yield made, used, self._put(state, piece, blank, now, swing)

    # how it is set

    def _settings(self, slope: float, section: str) -> list[tuple[bool, float]]:
        """Rolled or not, and the swing; a bar is rolled only where it lies as safely half a turn over."""
        swing = swing_of(slope) + 0.0
        plain = [(False, swing)] if self.shop.makes(swing) else []
        if not self.job.sections[section].over:
            return plain
        return [*plain, *([(True, -swing + 0.0)] if self.shop.makes(-swing) else [])]

    def _recuts(self, cost: Cost, state: State) -> Iterator[Label]:
        for number, (done, slopes) in enumerate(state.pieces):
            if done != WAITING:
                continue
            pieces = list(state.pieces)
            pieces[number] = (DONE, ())
            after = self._sorted(tuple(pieces))
            for swing in (swing_of(slope) + 0.0 for slope in slopes):
                if self.shop.makes(swing):
                    more = self._plus(cost, swings=self._swung(state.arm, swing), recuts=1)
                    yield more, 0.0, replace(state, pieces=after, arm=swing)

    @staticmethod
    def _swung(arm: float | None, swing: float) -> int:
        return int(arm is not None and abs(arm - swing) > 1e-7)

    def _plus(
        self, cost: Cost, price: float = 0.0, swings: int = 0, rolls: int = 0, loads: int = 0, recuts: int = 0
    ) -> Cost:
        rates = self.rates
        if rates is None:
            return (cost[0] + price, cost[1] + swings + rolls)
        money = swings * rates.swing + rolls * rates.roll + loads * rates.load + recuts * rates.recut
        return (cost[0] + price + money, cost[1])
