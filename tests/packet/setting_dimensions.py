"""What a drawing of a setting shows, measured on the drawing, and what it must show, by the saw's formulas.

Reading: a letter belongs to the dimension line or arc that is nearest to it, as a person reads it; the scale comes
from the bar, the face and the section as they are drawn. Expecting: the formulas of the saw (guide opening
W/cos m + 2 g tan|m| + 2 c/cos m, set-back max |y - a| tan|m| + max(kerf/2, g)/cos m + c and the like) over points of
the section's outline; of a `Reach` only swing, tilt, roll and packing are taken.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NamedTuple

import attrs
import numpy as np

import mitertool as mt
from mitertool.cut.blade.arms import Column
from mitertool.drawing import (
    HIDDEN,
    OUTLINE,
    AngleDimension,
    Arc,
    Dimension,
    Drawing,
    EllipseArc,
    Layer,
    Line,
    Polygon,
    Text,
)
from mitertool.packet.pages.setting.blade_view import blade_view
from mitertool.packet.pages.setting.load_chart import load_chart
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.pages.setting.setting_block import PAPER, setting_block
from mitertool.packet.pages.setting.tilt_view import tilt_view
from mitertool.packet.pages.setting.vise_view import lettered_vise
from mitertool.packet.pages.setting.walk_down import ToDo
from mitertool.packet.paper.layout import Block
from mitertool.saw import Reach
from mitertool.saw.file.machine import Bed, Guides, Obstacle, Tilt
from tests.saw import machines
from tests.saw.machines import COLUMN, HINGE, roomy
from tests.specimens import LAID

GALLERY = Path(__file__).parents[2] / "gallery" / "saws"

STANDS = (("moving-jaw", True), ("fixed-jaw", False), ("across", True))
BLOCKS = tuple(
    Obstacle(f"{stands} {side}", side, stands, 60.0, 30.0, 80.0, slides)
    for (stands, slides), side in itertools.product(STANDS, ("feed", "discharge"))
)
OTHER_SIDE = attrs.evolve(HINGE, hinge_u=560.0, stop_u=-380.0)
AWAY = attrs.evolve(HINGE, hinge_u=-7620.0, hinge_z=1524.0, below_bed=127.0, stop_u=900.0)
TILTS = Tilt(-60, 60)
BOTH_MOVE = Guides(None, 0.0, 4000.0, 13.0, 5.0)

SAWS = {
    "gallery, hinged": mt.Saw.load(GALLERY / "hinged.toml"),
    "gallery, column": mt.Saw.load(GALLERY / "column.toml"),
    "hinged": roomy(HINGE, "left", BLOCKS),
    "hinged, tilts": attrs.evolve(roomy(HINGE, "left", BLOCKS), tilt=TILTS),
    "hinged on the other side": roomy(OTHER_SIDE, "left", BLOCKS),
    "hinged, jaw right": roomy(HINGE, "right", BLOCKS),
    "hinge far away, tilts": attrs.evolve(roomy(AWAY, "left", BLOCKS), tilt=TILTS),
    "column": roomy(COLUMN, "left", BLOCKS),
    "column, jaw right, tilts": attrs.evolve(roomy(COLUMN, "right", BLOCKS), tilt=TILTS),
    "no guides": attrs.evolve(roomy(HINGE, "left", BLOCKS), guides=None),
    "both guides move": attrs.evolve(roomy(HINGE, "left", BLOCKS), guides=BOTH_MOVE),
    "no arm": attrs.evolve(roomy(HINGE, "left", BLOCKS), arm=None),
    "no arm, no swing axis": attrs.evolve(roomy(HINGE, "left", BLOCKS), arm=None, bed=Bed()),
    "level column, no swing axis": attrs.evolve(
        roomy(attrs.evolve(COLUMN, cant=0.0)), bed=Bed(), guides=attrs.evolve(BOTH_MOVE)
    ),
    "bare": mt.Saw(name="bare"),
}

SECTIONS = (
    "square tube, as made",
    "rectangular tube, at 90",
    "round tube, as made",
    "flat bar, at 90",
    "equal angle, as made",
    "unequal angle, turned, at 45",
    "parallel channel, turned",
    "steep channel, at 217.5",
    "I section, as made",
    "tee, at 90",
    "wide strip, as made",
    "strip on edge, as made",
    "pin, as made",
)

CUTS = (
    (0, 0),
    (45, 0),
    (-45, 0),
    (50, 0),
    (-50, 0),
    (1, 0),
    (-7.5, 0),
    (30, 0),
    (0, 20),
    (0, -35),
    (30, 15),
    (-45, -20),
)
"""Miter and bevel; one less than the sections, so that walking both in step pairs every one with every other."""


def told(reach: Reach) -> Reach:
    """The same settings of a cut that can be made: the views are drawn for many a cut that these saws refuse."""
    return attrs.evolve(reach, ok=True, reasons=())


REACHES = {
    name: [
        told(saw.reach(LAID[section], mt.Cut(*CUTS[(i + 5 * n) % len(CUTS)]), ("left", "right")[(i + n) % 2]))
        for i, section in enumerate(SECTIONS)
    ]
    for n, (name, saw) in enumerate(SAWS.items())
}

Point = tuple[float, float]
Measure = Dimension | AngleDimension

SIZES: Final = {"plan": (86.0, 56.0), "vise": (43.0, 33.0), "blade": (180.0, 37.0), "tilt": (43.0, 33.0)}
"""mm, about what each view has in a block."""

ANGLES: Final = frozenset("AT")
LETTER: Final = re.compile(r"[A-Z]\d?")
LETTER_HEIGHT: Final = 3.2


class Views(NamedTuple):
    """A setting's block on paper, and every view of it by itself."""

    block: Block
    plan: Drawing
    vise: Drawing
    blade: Drawing
    tilt: Drawing
    load: Drawing


def views(reach: Reach) -> Views:
    return Views(
        setting_block(reach, "Setting 7", "Makes G1 left; G2 right", PAPER, "mm"),
        plan_view(reach, *SIZES["plan"]),
        lettered_vise(reach.section, *SIZES["vise"], reach.pack),
        blade_view(reach, *SIZES["blade"]),
        tilt_view(reach, *SIZES["tilt"]),
        load_chart(reach, *SIZES["tilt"]),
    )


# --- reading a drawing


def letters(drawing: Drawing) -> list[Text]:
    """The letters of the views; those of the list of steps are bold."""
    texts = (part for part in drawing.entities if isinstance(part, Text) and not part.bold)
    return [text for text in texts if text.height == LETTER_HEIGHT and LETTER.fullmatch(text.says)]


def measures(drawing: Drawing) -> list[Measure]:
    return [part for part in drawing.entities if isinstance(part, Measure)]


def stroke(measure: Measure) -> list[Point]:
    """Points of a dimension line with its tails, or of an arc."""
    *_, last = (part for part in Drawing([measure]).primitives() if isinstance(part, Line | Arc))
    return [last.a, last.b] if isinstance(last, Line) else on_curve(last, 40)


def on_curve(arc: Arc | EllipseArc, count: int) -> list[Point]:
    return [arc.curve.at(arc.curve.start + arc.curve.sweep * i / count) for i in range(count + 1)]


def apart(point: Point, points: Sequence[Point]) -> float:
    """How far a point is from a chain of straight lines."""
    return min(_from_line(point, a, b) for a, b in itertools.pairwise(points))


def _from_line(point: Point, a: Point, b: Point) -> float:
    (x, y), (out_x, out_y) = (b[0] - a[0], b[1] - a[1]), (point[0] - a[0], point[1] - a[1])
    share = min(1.0, max(0.0, (x * out_x + y * out_y) / max(x * x + y * y, 1e-18)))
    return math.hypot(out_x - share * x, out_y - share * y)


def middle(text: Text) -> Point:
    xs, ys = zip(*text.corners, strict=True)
    return (min(xs) + max(xs)) / 2, max(ys) - text.height / 2


def lettered(drawing: Drawing) -> dict[str, Measure]:
    """Of each letter the dimension line or arc that is nearest to it."""
    found = measures(drawing)
    return {text.says: min(found, key=lambda m: apart(middle(text), stroke(m))) for text in letters(drawing)}


def face(drawing: Drawing) -> list[Line | Arc | EllipseArc]:
    """The thick outline of the face in the plane of the blade; the edges come after it, the dashed one first."""
    before = itertools.takewhile(lambda part: getattr(part, "layer", None) != HIDDEN, drawing.entities)
    return [part for part in before if isinstance(part, Line | Arc | EllipseArc) and part.layer == OUTLINE]


def bar(drawing: Drawing) -> Polygon:
    """The bar in the plan."""
    (found,) = (p for p in drawing.entities if isinstance(p, Polygon) and p.layer == OUTLINE)
    return found


def edges(drawing: Drawing) -> dict[str, Line]:
    """The cutting edge at its five places in the plane of the blade, in the order in which they are drawn."""
    lines = [part for part in drawing.entities if isinstance(part, Line)]
    first = next(i for i, line in enumerate(lines) if line.layer == HIDDEN)
    names = ("first touch", "half way", "through", "rest", "lifted")
    return dict(zip(names, lines[first : first + 5], strict=True))


def scale_of_plan(drawing: Drawing, width: float) -> float:
    ys = [y for _, y in bar(drawing).points]
    return (max(ys) - min(ys)) / width


def section_box(drawing: Drawing) -> tuple[float, float, float, float]:
    """The section as it is drawn between the jaws; the thick lines before it are the bed's."""
    thick = [p for p in drawing.entities if isinstance(p, Line | Arc | EllipseArc) and p.layer == OUTLINE]
    return Drawing(thick[1:]).bounds()


def measured(measure: Measure, k: float) -> float:
    """What a dimension measures: degrees, or mm at the scale `k`."""
    return abs(measure.sweep) if isinstance(measure, AngleDimension) else measure.measured / k


def shown(reach: Reach, drawn: Views) -> dict[str, float]:
    """The value of every letter as its drawing shows it, to the scale of its own view."""
    width, height = rolled_size(reach)
    x0, _, x1, y1 = section_box(drawn.vise)
    scales = [(drawn.plan, scale_of_plan(drawn.plan, width)), (drawn.tilt, 1.0)]
    scales.append((drawn.vise, (x1 - x0) / width if width > height else y1 / height))
    if drawn.blade.entities:
        u0, _, u1, _ = Drawing(face(drawn.blade)).bounds()
        low, high = face_points(reach)[:, 0].min(), face_points(reach)[:, 0].max()
        scales.append((drawn.blade, (u1 - u0) / (high - low)))
    return {letter: measured(m, k) for drawing, k in scales for letter, m in lettered(drawing).items()}


# --- what it must show


def rolled_size(reach: Reach) -> Point:
    width, height = machines.bar_points(reach.section).max(axis=0)
    return float(width), float(height)


def face_points(reach: Reach) -> np.ndarray:
    """(u, v) of those points in the plane of the blade: walked along the bar to the plane, measured along the blade."""
    saw, points = reach.setting.saw, machines.bar_points(reach.section)
    m, t = math.radians(reach.swing), math.radians(reach.tilt)
    y, z, offset = points[:, 0] - (saw.bed.swing_axis or 0.0), points[:, 1], saw.bed.blade_offset
    x = offset / math.cos(m) + math.tan(m) * y + math.tan(t) / math.cos(m) * z
    u = x * math.sin(m) + y * math.cos(m)
    return np.column_stack((u, z / math.cos(t)))


def expected(reach: Reach) -> dict[str, float]:
    """The value of every letter but L and M, in mm and degrees."""
    width, height = rolled_size(reach)
    found = {"W": width, "H": height, "A": abs(reach.swing), "T": abs(reach.tilt)} | set_backs(reach)
    found |= {} if reach.pack is None else {"P": reach.pack.height}
    return {letter: value for letter, value in (found | _guides(reach) | _arm(reach)).items() if value > 0}


def _guides(reach: Reach) -> dict[str, float]:
    saw, u = reach.setting.saw, face_points(reach)[:, 0]
    if saw.guides is None:
        return {}
    m = math.radians(reach.swing)
    beside = saw.guides.half_thickness * abs(math.tan(m)) + saw.guides.clearance / math.cos(m)
    found = {"D": u.max() - u.min() + 2 * beside}
    if saw.guides.fixed_u is not None and saw.bed.swing_axis is not None:
        found["C"] = u.max() + beside - saw.guides.fixed_u
    return found


def _arm(reach: Reach) -> dict[str, float]:
    """Lift, travel and the height of the edge, its own angle turned until every point of the face is clear."""
    saw, points = reach.setting.saw, face_points(reach)
    arm, clear = saw.arm, saw.guides.clearance if saw.guides else 0.0
    if arm is None or reach.travel is None:
        return {}
    lift = machines.lift_to_clear(points, arm, clear)
    travel = machines.lift_to_clear(points, arm, 0.0) - machines.through(points, arm)
    return {"E": lift, "G": travel, "F": edge_height(reach, lift)}


def edge_height(reach: Reach, lift: float) -> float:
    """hinge_z + ((u - hinge_u) sin(alpha) - d)/cos(alpha) in the plane of the blade, or the canted line's height."""
    arm = reach.setting.saw.arm
    assert arm is not None
    if isinstance(arm, Column):
        return lift - arm.below_bed
    u = arm.stop_u or 0.0
    out, a = abs(u - arm.hinge_u), math.radians(lift)
    return arm.hinge_z + (out * math.sin(a) - arm.hinge_z - arm.below_bed) / math.cos(a)


def set_backs(reach: Reach) -> dict[str, float]:
    """From the square cut line, over every corner of each obstacle."""
    saw = reach.setting.saw
    if saw.bed.swing_axis is None:
        return {}
    (width, height), found = rolled_size(reach), {}
    m, guides = math.radians(reach.swing), saw.guides
    p, q = math.tan(m), math.tan(math.radians(reach.tilt)) / math.cos(m)
    half = max(saw.kerf / 2, guides.half_thickness if guides else 0.0)
    more = half * math.sqrt(1 + p * p + q * q) + (guides.clearance if guides else 0.0)
    for number, block in enumerate(saw.obstacles, 1):
        across = {"moving-jaw": (width, width + block.depth), "fixed-jaw": (-block.depth, 0.0)}
        toward = 1 if block.side == "feed" else -1
        found[f"B{number}"] = more + max(
            toward * (p * (y - saw.bed.swing_axis) + q * z + saw.bed.blade_offset * (1 / math.cos(m) - 1))
            for y in across.get(block.stands, (0.0, block.depth))
            for z in (0.0, height if block.height is None else block.height)
        )
    return found


def printed(reach: Reach, steps: Sequence[ToDo]) -> dict[str, float]:
    """The value of every letter as the list of steps says it, in mm and degrees.

    The step of a swing gives the reading of the scale, which has its own tests. The height of the edge is said square
    to the bed and seen along the slope of a tilted blade: here it is the latter.
    """
    found: dict[str, float] = {}
    for step in steps:
        values = map(float, re.findall(r"-?[\d.]+", step.value))
        found |= dict(zip(LETTER.findall(step.letter), values, strict=step.letter != ""))
    slope = math.cos(math.radians(reach.tilt))
    return {letter: value / (slope if letter == "F" else 1) for letter, value in found.items() if letter != "A"}


def word_at(drawing: Drawing, word: str) -> float:
    """x of a word."""
    return next(p.at[0] for p in drawing.entities if isinstance(p, Text) and p.says == word)


def straight(drawing: Drawing, layer: Layer) -> Line:
    """The longest line on a layer: the blade, or the line of a square cut or of an upright blade."""
    lines = [p for p in drawing.entities if isinstance(p, Line) and p.layer == layer]
    return max(lines, key=lambda line: math.dist(line.a, line.b))
