"""A bar worked off step by step: rolled, the arm set by its reading, moved as told, cut; and what falls off kept."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.virtual_saw.lays import Lies, Stock, laid, stands_so
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.steel import Plane, Solid, Turn, at, minus

Places = tuple[float, float]

NOTHING = 1e-9
"""mm. Steel thinner than this is none."""


@dataclass(frozen=True)
class Stop:
    """How far a stop stands from the blade's near side, along the bar at the steel that touches it.

    That steel lies at a place (y, z) of the vise; where only words tell it, it is the foremost of the end, and where
    more of the end is, that on the longest line of the piece. `bed` is the same from the blade at the bed, where told.
    """

    distance: float
    touches: Places | None = None
    words: str = ""
    bed: float | None = None


@dataclass(frozen=True)
class Step:
    """One cut as the operator is told it: what is set before it, how the bar is moved, and what comes off.

    `roll` is how far the bar is rolled before the cut against how it lay, its top toward the moving jaw; `side` is
    where the blade's moving-jaw end goes; `tilt` has the top to the feed side. The bar is moved in one of these ways:
    `fed` puts its leading end so far past the line over the swing axis; `key` moves it on by the bar feed, `on` by
    hand; `stop` holds the foremost steel of the end that was cut before; `past` has the end of the bar so far past
    the blade's far face at a side of the bed; `tape` has the blade meet the marks at the bottom of the fixed and
    the moving side, the kerf before or behind them. `mark` is the piece that comes off, "" for scrap; `lies` is how
    the bar is told to stand in the vise for the cut; `roll_to` is to where the bar is rolled where that is told
    from how it is drawn.
    """

    reading: float
    side: str
    tilt: float = 0.0
    roll: float = 0.0
    mark: str = ""
    fed: float | None = None
    key: float | None = None
    on: float | None = None
    stop: Stop | None = None
    tape: Places | None = None
    kerf_behind: bool = False
    lies: Lies | None = None
    roll_to: float | None = None
    past: tuple[float, str] | None = None


@dataclass(frozen=True)
class Bar:
    """`count` bars alike, how they lie when they come to the vise, and their steps.

    `poses` is how each piece lies on the bar against its drawing, in words, when the bar is rolled by `lays`, degrees;
    of a blank `recuts` has the end, as drawn, that is cut later. `drop` is what is told to be left of the bar, on the
    centerline, and `longest` that tip to tip, of bars side by side that of the shortest.
    """

    section: str
    lies: Lies
    length: float
    count: int
    steps: tuple[Step, ...]
    poses: tuple[str, ...] = ()
    drop: float | None = None
    lays: tuple[float, ...] = ()
    recuts: tuple[str, ...] = ()
    longest: float | None = None


@dataclass
class Walked:
    """What came of a bar: pieces with their marks, scrap, what is left; set-ups as told; what was wrong on the way."""

    pieces: list[tuple[str, Solid]] = field(default_factory=list)
    scrap: list[Solid] = field(default_factory=list)
    left: Solid | None = None
    kerfs: list[Solid] = field(default_factory=list)
    places: list[tuple[float, float]] = field(default_factory=list)
    settings: list[tuple[float, float]] = field(default_factory=list)
    rolls: int = 0
    wrong: list[str] = field(default_factory=list)


class Walk:
    """The saw with one bar on it."""

    def __init__(self, saw: Machine, stock: Stock, bar: Bar, way: str, near: float) -> None:
        self.saw, self.stock, self.way, self.near = saw, stock, way, near
        self.rest = self.on_the_bed(bar)
        self.section = self.rest.section
        self.turn, self.rolled, self.fed = Turn(0.0), 0.0, 0.0
        self.made = Walked()
        for step in bar.steps:
            self.cut(step)
        self.made.left = self.rest

    def on_the_bed(self, bar: Bar) -> Solid:
        """The raw bar as it is told to lie."""
        return Solid(laid(self.stock, bar.lies), ((0.0, 0.0, 0.0),), ((bar.length, 0.0, 0.0),))

    def cut(self, step: Step) -> None:
        """Set, move, cut; and keep what falls off."""
        if step.roll or step.roll_to is not None:
            self.made.rolls += 1
            self.rolled = self.rolled + step.roll if step.roll_to is None else step.roll_to
            self.turn = self.section.turn(self.rolled)
        if step.lies and not stands_so(self.stock, self.section.turned(self.turn), step.lies):
            self.made.wrong.append(f"the bar does not stand as told: {step.lies}")
        swing = self.saw.swing(step.reading, step.side)
        if why := self.saw.refuses(swing, step.tilt):
            self.made.wrong.append(why)
            return
        self.made.settings.append((swing, step.tilt))
        blade, half = self.saw.blade(swing, step.tilt)
        blade = self.turn.back(blade)
        self.move(step, blade, half)
        middle = _on(blade, self.fed)
        self.part(step, _on(middle, -half), _on(middle, half))

    def part(self, step: Step, near: Plane, far: Plane) -> None:
        off, kerf = self.rest.before(near), self.rest.behind(near).before(far)
        low = tuple(plane for plane in self.rest.low if self.section.most(minus(plane, far)) > NOTHING)
        self.rest = Solid(self.section, (*low, far), self.rest.high)
        self.made.kerfs.append(kerf)
        middle = (self.section.width / 2, self.section.height / 2)
        self.made.places.append((at(near, middle), at(far, middle)))
        if step.mark:
            self.made.pieces.append((step.mark, off))
        else:
            self.made.scrap.append(off)

    def move(self, step: Step, blade: Plane, half: float) -> None:
        """How far the leading end stands past the swing axis after the bar is moved as told."""
        if self.way == "key" and step.key is not None:
            self.by_feed(step.key)
        elif self.way == "key" and step.on is not None:
            self.fed += step.on
        elif self.way == "stop" and step.stop is not None:
            self.by_stop(step.stop, blade, half)
        elif self.way != "tape" and step.past is not None:
            self.by_end(step.past, step.tape, blade, half)
        elif self.way != "tape" and step.fed is not None:
            self.fed = step.fed
        else:
            self.by_tape(step, blade, half)

    def by_feed(self, key: float) -> None:
        """The bar goes on by what is keyed and the kerf that the control adds; it takes no other length."""
        shortest, longest = self.saw.takes
        if not shortest - self.near <= key <= longest + self.near:
            self.made.wrong.append(f"the control does not take {key:.3f}")
        self.fed += key + (self.saw.kerf if self.saw.counts_kerf else 0.0)

    def by_tape(self, step: Step, blade: Plane, half: float) -> None:
        """The blade's face meets the mark of the fixed side, and must meet that of the moving side too."""
        if step.tape is None:
            self.made.wrong.append("not told how far the bar goes")
            return
        face = _on(blade, -half if step.kerf_behind else half)
        marks = ((0.0, 0.0), (self.section.width, 0.0))
        fixed, moving = (mark - at(face, place) for mark, place in zip(step.tape, marks, strict=True))
        if abs(fixed - moving) > 2 * self.near:
            self.made.wrong.append(f"the blade misses a tape mark by {moving - fixed:.3f}")
        self.fed = (fixed + moving) / 2

    def by_end(self, told: tuple[float, str], tape: Places | None, blade: Plane, half: float) -> None:
        """The end of the bar stands so far past the blade's far face on the side that is told, where it is least."""
        past, side = told
        raw = self.made.places == []
        plane = minus(self.turn.plane(blade), self.turn.plane(self.rest.low[-1]))
        width = self.section.turned(self.turn).width
        sides = {"fixed side": at(plane, (0.0, 0.0)), "moving side": at(plane, (width, 0.0))}
        back = sides.get(side, sides["fixed side"])
        if min(sides.values()) < back - self.near:
            self.made.wrong.append(f"the end stands less far past the blade elsewhere than at: {side}")
        if raw and tape and not self.rolled and abs(min(tape) - past) > self.near:
            self.made.wrong.append(f"the raw end stands {past:.3f} past the blade, its tape mark says {min(tape):.3f}")
        self.fed = past - back - half

    def by_stop(self, stop: Stop, blade: Plane, half: float) -> None:
        """The stop stands on the discharge side; what touches it must be the foremost steel, and where it is told."""
        if not self.rest.volume:
            self.made.wrong.append("nothing is left to touch the stop")
            return
        place = stop.touches or self.first_to_touch(blade, stop.words)
        behind = max(at(self.turn.plane(plane), place) for plane in self.rest.low) - foremost(self.rest)
        if behind > 2 * self.near:
            self.made.wrong.append(f"the steel that is told to touch the stop lies {behind:.3f} behind")
        if stop.distance < 0:
            self.made.wrong.append(f"a stop is to stand {-stop.distance:.3f} behind the blade")
        self.fed = foremost(self.rest) - at(self.turn.plane(blade), place) + half + stop.distance
        if stop.bed is None:
            return
        lean = at(self.turn.plane(blade), (place[0], 0.0)) - at(self.turn.plane(blade), place)
        if abs(stop.bed - stop.distance - lean) > 2 * self.near:
            self.made.wrong.append(f"at the bed the stop is {stop.distance + lean:.3f} from the blade")

    def first_to_touch(self, blade: Plane, words: str) -> Places:
        """The foremost steel of the end, and of more of it that on the longest line; and it lies where words say.

        An end that leans by less than what is rounded off is square to who reads.
        """
        section = self.section.turned(self.turn)
        end, cut = self.turn.plane(self.rest.low[-1]), self.turn.plane(blade)
        longer = (cut[1] - end[1], cut[2] - end[2])
        flat = section.most(end) - section.least(end) < self.near
        leans = (0.0, 0.0) if flat else end[1:]
        place = section.furthest(*(ASIDE * more - slope for slope, more in zip(leans, longer, strict=True)))
        self.told_where(place, words)
        return place

    def told_where(self, place: Places, words: str) -> None:
        """The steel that touches a stop lies where words say."""
        section = self.section.turned(self.turn)
        shares = {"fixed side": place[0], "moving side": section.width - place[0]}
        shares |= {"bottom": place[1], "top": section.height - place[1]}
        sizes = {"fixed side": section.width, "moving side": section.width}
        for word, off in shares.items():
            if word in words and off > sizes.get(word, section.height) / 2:
                self.made.wrong.append(f"the steel that touches the stop is not at the {word}")


ASIDE = 1e-9
"""How far the direction of the foremost steel is turned to find the longest of equal lines."""


def foremost(bar: Solid) -> float:
    """Where along the bar the foremost steel of its leading end lies."""
    if len(bar.low) == 1:
        return bar.section.least(bar.low[0])
    return min(bar.begins(point) for point in bar.places)


def _on(plane: Plane, by: float) -> Plane:
    return (plane[0] + by, plane[1], plane[2])


def walk(saw: Machine, stock: Stock, bar: Bar, way: str, near: float = 1e-6) -> Walked:
    """One bar worked off by `way`: "fed", "key", "stop" or "tape"; `near` is what its marks may be out, mm."""
    return Walk(saw, stock, bar, way, near).made


def as_drawn(solid: Solid, saw: Machine) -> Solid:
    """The steel with x along it in the sense that makes (x, y, z) right-handed."""
    return solid if saw.jaw_left else solid.mirrored()


def least_length(solid: Solid) -> float:
    """The shortest steel along the bar, over all of the section; less than 0 where it does not reach over it."""
    return min(solid.section.least(minus(high, low)) for high in solid.high for low in solid.low)
