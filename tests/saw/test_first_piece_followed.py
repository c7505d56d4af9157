"""A piece cut with the arm out, measured, the advice followed as it is written: the next piece is right.

The saw here is a plan view drawn with straight lines, worked out without the package. v is across the bed from the
fixed jaw, x along the bed toward the feed side. The blade's middle is a line through a point that stands `offset`
beside the swing axis, square to the blade; it takes half a kerf on either side, square to itself. A bar is cut where
it lies: rolled half a turn, its side at v lies at width - v. A feed moves the bar from where it lay by a length; a stop
is a place on the bed that a tip of the end cut first is pushed against. The right length of a feed or place of a stop
is found by cutting with the arm right and correcting by what the piece is out, and the first piece is then cut with
arm and length out by what was drawn at random.
"""

from __future__ import annotations

import math
import random
import re

import attrs
import pytest

import mitertool as mt
from mitertool.saw import Scale
from mitertool.saw.file.machine import Bed, Feed
from mitertool.saw.proof.first_piece import Measured, Readings, first_piece

SHARP = Readings(1e-6, 1e-6)
ROUNDED = 0.1
"""mm. What following a printed answer may leave: 0.05 mm where a length is told to 0.1 mm, and half of 0.01 degrees at
either end of bars up to 100 mm wide, 2 * 100 * 0.0000873 * (1 + tan^2 45) = 0.035 mm, a little less square."""


@attrs.frozen
class End:
    """How an end is cut: the swing to the feed side that makes it with the arm right, and whether the bar is rolled."""

    swing: float
    rolled: bool


@attrs.frozen
class Bench:
    """The saw, a bar on it, how both ends are cut, and what is out. `first` is the end that is cut first."""

    width: float
    axis: float
    offset: float
    kerf: float
    ends: dict[str, End]
    first: str
    tip: str = ""

    @property
    def last(self) -> str:
        return "left" if self.first == "right" else "right"

    def blade(self, swing: float, v: float, side: int) -> float:
        """x of the blade's middle (side 0) or of a wall of its kerf (1: feed side) on the line at v."""
        a = math.radians(swing)
        along, square = (math.sin(a), math.cos(a)), (math.cos(a), -math.sin(a))
        x0, v0 = (
            (self.offset + side * self.kerf / 2) * square[0],
            self.axis + (self.offset + side * self.kerf / 2) * square[1],
        )
        return x0 + (v - v0) / along[1] * along[0]

    def face(self, end: str, out: float, v: float, side: int) -> float:
        """x of an end on the bar's own line v, as it was cut where the bar lay."""
        lies = self.ends[end].rolled
        return self.blade(self.ends[end].swing + out, self.width - v if lies else v, side)

    def cut(self, outs: dict[str, float], moved: float) -> dict[str, float]:
        """A piece: its length at v = 0 and at v = width. `moved` is the feed's length, or how far the stop stands."""
        sides = (0.0, self.width)
        lead = {v: self.face(self.first, outs[self.first], v, 1) for v in sides}
        if self.tip:
            farthest = min(sides, key=lambda v: lead[v]) if self.tip == "long" else max(sides, key=lambda v: lead[v])
            moved = moved + lead[farthest]
        trail = {v: self.face(self.last, outs[self.last], v, -1) for v in sides}
        return {"fixed": trail[0.0] + moved - lead[0.0], "moving": trail[self.width] + moved - lead[self.width]}


def slope(degrees: float) -> float:
    return math.tan(math.radians(degrees))


KINDS = {
    # miters left and right, how far the arm goes to the feed and to the discharge side
    "swung both ways": ((45, 45), (60, 60)),
    "swung, unlike miters": ((30, 52), (60, 60)),
    "swung, one square": ((0, 35), (60, 60)),
    "rolled, one way": ((45, 45), (60, 0)),
    "rolled, the other way": ((40, 40), (0, 60)),
    "rolled and swung": ((45, 20), (60, 0)),
    "rolled and swung, the other way": ((25, 50), (0, 60)),
    "both rolled": ((-30, 30), (0, 60)),
    "both rolled and swung": ((35, -45), (60, 20)),
    "parallel": ((-22.5, 22.5), (60, 60)),
    "square": ((0, 0), (60, 60)),
}


def as_cut(miters: tuple[float, float], most: tuple[float, float], jaw: str) -> dict[str, End]:
    """Which way each end is swung: by the sides of the saw, the bar rolled where the arm does not go there."""
    found = {}
    for end, miter in zip(("left", "right"), miters, strict=True):
        swing = miter if (end == "right") == (jaw == "left") else -miter
        goes = swing <= most[0] if swing > 0 else -swing <= most[1]
        found[end] = End(swing, False) if goes else End(-swing, True)
    return found


def case(kind: str, seed: int) -> tuple[mt.Saw, mt.Piece, Bench, random.Random]:
    dice = random.Random(f"{kind} {seed}")
    (left, right), most = KINDS[kind]
    jaw, fed = dice.choice(["left", "right"]), dice.random() < 0.6
    drawn = dice.uniform(40, 100)
    axis, offset, kerf = dice.uniform(-20, 130), dice.uniform(-4, 4), dice.uniform(0.9, 3)
    scale = Scale(90, dice.choice(["feed-side", "discharge-side"]), False, *map(float, most))
    feed = Feed(400.0) if fed else None
    saw = mt.Saw(name="made up", kerf=kerf, scale=scale, fixed_jaw=jaw, bed=Bed(axis, blade_offset=offset), feed=feed)
    section = mt.rect_tube(drawn, 50, 3, 0, 0)
    at = dice.choice(["long-point", "short-point", "centerline", "moving-top"])
    piece = mt.Piece(section, 1000, mt.Cut(left), mt.Cut(right), at=at)
    ends = as_cut((left, right), most, jaw)
    tip = "" if fed else dice.choice(["long", "short"])
    return saw, piece, Bench(drawn + dice.uniform(-0.6, 0.6), axis, offset, kerf, ends, jaw, tip), dice


def wanted(piece: mt.Piece, width: float) -> dict[str, float]:
    """The length at either side of a bar of this width, by L(y) = s + (tan left + tan right) y."""
    p = slope(piece.left.miter) + slope(piece.right.miter)
    far = {"long-point": width if p > 0 else 0.0, "short-point": 0.0 if p > 0 else width, "centerline": width / 2}
    s = 1000 - p * far.get(piece.at, width)
    return {"fixed": s, "moving": s + p * width}


def right_move(bench: Bench, piece: mt.Piece) -> float:
    """What the feed or stop must be for the piece to be right with the arm right."""
    none = {"left": 0.0, "right": 0.0}
    return wanted(piece, bench.width)["fixed"] - bench.cut(none, 0.0)["fixed"]


def told(bench: Bench, outs: dict[str, float], piece: mt.Piece, moved: float) -> Measured:
    """What a tape and a protractor read on the piece: miters from the faces as they were cut."""
    lengths = sorted(bench.cut(outs, moved).values())
    angles = {}
    for end in ("left", "right"):
        x = {v: bench.face(end, outs[end], v, 0) for v in (0.0, bench.width)}
        rises = (x[bench.width] - x[0.0]) / bench.width
        angles[end] = math.degrees(math.atan(rises if end == bench.last else -rises))
    return Measured(lengths[1], lengths[0], bench.width, angles["left"], angles["right"])


_SWING = re.compile(
    r"^(?:for the (left|right) end )?swing the arm ([\d.]+) degrees further to the (feed|discharge) side$"
)
_LENGTH = re.compile(r"^(shorten|lengthen) the (?:stop|length)[^\d]* by ([\d.]+) mm")


def follow(says: list[str], outs: dict[str, float], moved: float) -> tuple[dict[str, float], float]:
    """The arm and the length after every sentence that tells to change one was done."""
    outs = dict(outs)
    for said in says:
        if found := _SWING.match(said):
            by = float(found[2]) * (1 if found[3] == "feed" else -1)
            outs = {end: out + (by if found[1] in (None, end) else 0.0) for end, out in outs.items()}
        if found := _LENGTH.match(said):
            moved += float(found[2]) * (1 if found[1] == "lengthen" else -1)
    return outs, moved


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("kind", KINDS)
def test_the_next_piece_is_right(kind: str, seed: int) -> None:
    """The arm is out by as much for both ends, the length by something; the first third has the arm out alone."""
    saw, piece, bench, dice = case(kind, seed)
    arm = dice.choice([-1, 1]) * dice.uniform(0.2, 1.5)
    outs = {"left": arm, "right": arm}
    moved = right_move(bench, piece) + (0.0 if seed < 4 else dice.uniform(-3, 3))
    found = first_piece(piece, told(bench, outs, piece, moved), None, SHARP, saw, bench.tip)
    assert found.arm is not None
    assert found.arm.error == pytest.approx(arm, abs=1e-6)
    after = follow([sentence.in_units("mm") for sentence in found.change], outs, moved)
    assert after[0] == pytest.approx({"left": 0, "right": 0}, abs=0.0051)
    assert bench.cut(*after) == pytest.approx(wanted(piece, bench.width), abs=ROUNDED)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in ("both rolled", "parallel", "square")])
@pytest.mark.parametrize("seed", range(6))
def test_long_and_short_point_come_out_as_told(kind: str, seed: int) -> None:
    """Only the arm is put right: long and short point are then those told, kerf and blade offset too."""
    saw, piece, bench, dice = case(kind, seed)
    outs = dict.fromkeys(("left", "right"), dice.choice([-1, 1]) * dice.uniform(0.2, 1.5))
    moved = right_move(bench, piece) + dice.uniform(-3, 3)
    found = first_piece(piece, told(bench, outs, piece, moved), None, SHARP, saw, bench.tip)
    lengths = bench.cut({"left": 0.0, "right": 0.0}, moved).values()
    assert found.angle_right == pytest.approx((max(lengths), min(lengths)), abs=1e-4)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if "swung" in kind])
@pytest.mark.parametrize("seed", range(6))
def test_ends_that_err_each_by_its_own_are_put_right_each_by_its_own(kind: str, seed: int) -> None:
    """No one error of the arm: the swings are wrong to opposite sides. Nothing is kept, and the next piece is right."""
    saw, piece, bench, dice = case(kind, seed)
    by = dice.uniform(0.3, 1.0)
    outs = {"left": by, "right": -by * dice.uniform(0.8, 1.2)}
    moved = right_move(bench, piece) + dice.uniform(-3, 3)
    found = first_piece(piece, told(bench, outs, piece, moved), None, SHARP, saw, bench.tip)
    assert (found.arm, found.correction) == (None, None)
    after = follow([sentence.in_units("mm") for sentence in found.change], outs, moved)
    assert after[0] == pytest.approx({"left": 0, "right": 0}, abs=0.0051)
    assert bench.cut(*after) == pytest.approx(wanted(piece, bench.width), abs=ROUNDED)


@pytest.mark.parametrize("kind", ["rolled, one way", "rolled, the other way"])
@pytest.mark.parametrize("seed", range(6))
def test_a_rolled_bar_needs_no_protractor(kind: str, seed: int) -> None:
    saw, piece, bench, dice = case(kind, seed)
    outs = dict.fromkeys(("left", "right"), dice.choice([-1, 1]) * dice.uniform(0.2, 1.5))
    moved = right_move(bench, piece)
    measured = attrs.evolve(told(bench, outs, piece, moved), left=None, right=None)
    found = first_piece(piece, measured, None, SHARP, saw, bench.tip)
    after = follow([sentence.in_units("mm") for sentence in found.change], outs, moved)
    assert bench.cut(*after) == pytest.approx(wanted(piece, bench.width), abs=ROUNDED)


SCALES = [
    # square, two-sided, sign of a number that stands further to the feed side
    (Scale(90, "feed-side"), 1),
    (Scale(90, "discharge-side"), -1),
    (Scale(0, "discharge-side"), -1),
    (Scale(0, two_sided=True), 1),
    (Scale(0, two_sided=True, offset=0.4), 1),
]


@pytest.mark.parametrize(("scale", "sign"), SCALES)
@pytest.mark.parametrize("jaw", ["left", "right"])
@pytest.mark.parametrize("stands", [1.0, -0.8])
def test_a_kept_correction_makes_every_cut_right(scale: Scale, sign: int, jaw: str, stands: float) -> None:
    """The arm stands beyond its pointer by `stands` and what the file corrects already; a piece is cut by the readings
    and measured, the correction is kept, and then square, both 45 and a small miter are set by the readings."""

    def arm(saw: mt.Saw, end: str, miter: float) -> float:
        """Where the arm stands once the pointer shows the reading, on the side that is told."""
        answer = saw.reach(piece.section, mt.Cut(miter), end)
        assert answer.scale >= 0 or not scale.two_sided
        side = {"feed": 1, "discharge": -1, "square": 1}[answer.scale_side]
        pointer = side * answer.scale if scale.two_sided else sign * (answer.scale - scale.square)
        return pointer - sign * scale.offset + stands

    saw = mt.Saw(name="made up", scale=scale, fixed_jaw=jaw, bed=Bed(25.0), feed=Feed(400.0))
    piece = mt.Piece(mt.rect_tube(60, 50, 3, 0, 0), 1000, mt.Cut(45), mt.Cut(45))
    meant = {end: (1 if (end == "right") == (jaw == "left") else -1) * 45 for end in ("left", "right")}
    assert {end: arm(saw, end, 45) for end in meant} == pytest.approx(
        {end: swing + stands for end, swing in meant.items()}
    )
    ends = {end: End(swing, False) for end, swing in meant.items()}
    measured = told(Bench(60.0, 25.0, 0.0, 0.0, ends, jaw), dict.fromkeys(meant, stands), piece, 1000.0)
    correction = first_piece(piece, measured, None, SHARP, saw).correction
    assert correction is not None
    kept = attrs.evolve(saw, scale=attrs.evolve(scale, offset=correction))
    for end, swing in meant.items():
        for miter in (45, -45, 0, 0.5, 30):
            assert arm(kept, end, miter) == pytest.approx(swing / 45 * miter, abs=1e-5)


def test_the_bench_cuts_what_it_should() -> None:
    """By hand: arm right, both ends 45, kerf 2, 1000 fed, 40 wide, axis at 10, no offset. Faces at v lie r2 apart from
    the middle of the kerf along the bar, so the piece is 1000 - 2 r2 at v = 10 and 2 longer for each mm beyond."""
    ends = {"left": End(-45, False), "right": End(45, False)}
    bench = Bench(40.0, 10.0, 0.0, 2.0, ends, "left")
    at_axis = 1000 - 2 * math.sqrt(2)
    lengths = bench.cut({"left": 0.0, "right": 0.0}, 1000.0)
    assert lengths == pytest.approx({"fixed": at_axis - 20, "moving": at_axis + 60})
    rolled = attrs.evolve(bench, ends={"left": End(45, True), "right": End(45, False)})
    assert rolled.cut({"left": 0.0, "right": 0.0}, 1000.0) == pytest.approx(
        {"fixed": at_axis - 40, "moving": at_axis + 40}
    )
