"""A setting as it is drawn: every number of the list has its letter, at its place, to scale, and plain to read.

Expected values come from the formulas of the saw over points of the outline (`setting_dimensions`), touching and
through from points of the drawn face, never from the package's own answers. Views are measured as they are drawn.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache

import attrs
import numpy as np
import pytest

import mitertool as mt
from mitertool.cut.blade.arms import Column
from mitertool.drawing import CENTER, OUTLINE, AngleDimension, Arc, Dimension, Drawing, EllipseArc, Line, Polygon, Text
from mitertool.packet.pages.setting import blade_view as blade_module
from mitertool.packet.pages.setting import letters
from mitertool.packet.pages.setting import load_chart as chart_module
from mitertool.packet.pages.setting import plan_view as plan_module
from mitertool.packet.pages.setting.setting_block import PAPER
from mitertool.packet.pages.setting.walk_down import walk_down
from mitertool.saw import Reach
from tests.packet import setting_dimensions as drawn
from tests.packet.setting_dimensions import BLOCKS, REACHES, SAWS, TILTS
from tests.packet.text_boxes import LEAST, TOUCH, near, overlaps, shared, struck, too_small
from tests.saw.machines import HINGE, roomy
from tests.specimens import LAID

Check = Callable[[Reach, drawn.Views], list[str]]
Patch = pytest.MonkeyPatch


@cache
def views_of(name: str) -> list[drawn.Views]:
    """The drawings of all settings of a saw, made once for all checks."""
    return [drawn.views(reach) for reach in REACHES[name]]


def found(check: Check, name: str) -> list[str]:
    """What a check finds in all settings of a saw, each with its setting before it."""
    pairs = zip(REACHES[name], views_of(name), strict=True)
    return [f"{said(reach)}: {wrong}" for reach, views in pairs for wrong in check(reach, views)]


def said(reach: Reach) -> str:
    return f"{reach.section.name} swing {reach.swing:g} tilt {reach.tilt:g} roll {reach.roll:g}"


# --- every letter of the list stands in the drawings, once, and is plain to read


def missing_or_twice(reach: Reach, views: drawn.Views) -> list[str]:
    listed = Counter(letter for step in walk_down(reach, "mm") for letter in drawn.LETTER.findall(step.letter))
    shown = Counter(text.says for text in drawn.letters(views.block.drawing))
    only_listed, only_shown = listed - shown, shown - listed
    twice = [letter for letter, times in (listed | shown).items() if times > 1]
    return [f"listed {only_listed}, shown {only_shown}, twice {twice}"] if only_listed or only_shown or twice else []


def hard_to_read(reach: Reach, views: drawn.Views) -> list[str]:
    block, drawing, boxes = views.block, views.block.drawing, views.block.drawing.text_boxes()
    x0, y0, x1, y1 = drawing.bounds()
    out = max(-x0, x1 - PAPER, y1, -block.height - y0)
    outside = [f"{out:.2f} mm out of the frame"] if out > TOUCH else []
    return [*overlaps(boxes), *too_small(boxes, LEAST), *struck(drawing), *_struck_by_arcs(drawing), *outside]


def _struck_by_arcs(drawing: Drawing) -> Iterator[str]:
    arcs = [part for part in drawing.primitives() if isinstance(part, Arc | EllipseArc)]
    chords = [(chord, arc) for arc in arcs for chord in itertools.pairwise(drawn.on_curve(arc, 32))]
    texts = [part for part in drawing.entities if isinstance(part, Text)]
    for i, j in near([text.corners for text in texts], [chord for chord, _ in chords]):
        chord, arc = chords[j]
        if shared(texts[i].corners, chord, TOUCH) > TOUCH:
            yield f"{texts[i].says!r} is struck by an arc of the layer {arc.layer.name}"


def of_another_line(reach: Reach, views: drawn.Views) -> list[str]:
    """Letters that are not plainly nearest to their own line; lines and letters stand in the same order."""
    drawing = views.block.drawing
    lines = [drawn.stroke(measure) for measure in drawn.measures(drawing)]
    texts = [text for text in drawn.letters(drawing) if text.says not in "LM"]
    wrong = []
    for text, own in zip(texts, lines, strict=True):
        far, near = drawn.apart(drawn.middle(text), own), 12.0
        other = min((drawn.apart(drawn.middle(text), line) for line in lines if line is not own), default=math.inf)
        if far > near or other < far + 0.9:
            wrong.append(f"{text.says} is {far:.1f} mm from its line, {other:.1f} mm from another")
    return wrong


# --- to scale


def wrong_values(reach: Reach, views: drawn.Views) -> list[str]:
    """Points stand within 1e-5 mm of the outline; a drawing of 1 m on 0.1 m leaves 1e-3 mm for rounding."""
    shown, expected = drawn.shown(reach, views), drawn.expected(reach)
    return [
        f"{letter} shows {shown.get(letter)}, not {expected.get(letter)}"
        for letter in sorted(shown.keys() | expected.keys())
        if shown.get(letter, math.inf) != pytest.approx(expected.get(letter, -math.inf), rel=1e-5, abs=1e-3)
    ]


def printed_otherwise(reach: Reach, views: drawn.Views) -> list[str]:
    """The list prints to 0.1 mm and 0.01 degree: what is set at least is rounded up, the rest to the nearest figure."""
    shown = drawn.shown(reach, views)
    return [
        f"{letter} is printed {value}, drawn {shown[letter]}"
        for letter, value in drawn.printed(reach, walk_down(reach, "mm")).items()
        if letter not in "LM" and not _as_rounded(reach, letter, value - shown[letter])
    ]


def _as_rounded(reach: Reach, letter: str, more: float) -> bool:
    """Whether a value printed by so much `more` than drawn is the drawn one rounded; 1e-4 is left for measuring."""
    degrees = letter == "T" or (letter in "EG" and reach.setting.saw.kind == "hinged")
    slope = math.cos(math.radians(reach.tilt)) if letter == "F" else 1.0
    figure = (0.01 if degrees else 0.1) / slope * 1.001
    if letter[0] in "BCDEF":
        return -1e-4 <= more <= figure + 1e-4
    return abs(more) <= figure / 2 + 1e-4


def out_of_scale(reach: Reach, views: drawn.Views) -> list[str]:
    """The face and the section must have one scale across and up."""
    face = drawn.face_points(reach)
    pairs = [(drawn.section_box(views.vise), drawn.rolled_size(reach))]
    if views.blade.entities:
        size = face.max(axis=0) - face.min(axis=0)
        pairs.append((Drawing(drawn.face(views.blade)).bounds(), (float(size[0]), float(size[1]))))
    return [
        f"{box} is not {size}"
        for box, size in pairs
        if (box[2] - box[0]) * size[1] != pytest.approx((box[3] - box[1]) * size[0], rel=1e-5)
    ]


# --- in the right place

NEAR = 1e-3
"""mm on paper."""


def arc_beside_its_lines(reach: Reach, views: drawn.Views) -> list[str]:
    """Both sides of the arc of an angle run along the lines between which the angle lies."""
    wrong: list[str] = []
    pairs = [(views.plan, "A", (CENTER, OUTLINE)), (views.tilt, "T", (CENTER, OUTLINE))]
    for drawing, letter, layers in pairs:
        arc = drawn.lettered(drawing).get(letter)
        if isinstance(arc, AngleDimension):
            wrong += _off_sides(arc, letter, [drawn.straight(drawing, layer) for layer in layers])
    arcs, edges = drawn.lettered(views.blade), drawn.edges(views.blade) if reach.travel else {}
    for letter, ends in (("E", ("rest", "lifted")), ("G", ("through", "first touch"))):
        arc = arcs.get(letter)
        if isinstance(arc, AngleDimension):
            wrong += _off_sides(arc, letter, [edges[end] for end in ends])
    return wrong


def _off_sides(arc: AngleDimension, letter: str, lines: list[Line]) -> Iterator[str]:
    for turn, line in zip((arc.start, arc.start + arc.sweep), lines, strict=True):
        a = math.radians(turn)
        at = (arc.apex[0] + arc.radius * math.cos(a), arc.apex[1] + arc.radius * math.sin(a))
        if (far := drawn.apart(at, [line.a, line.b])) > NEAR:
            yield f"a side of {letter} is {far:.3f} mm off its line of the layer {line.layer.name}"


def set_back_elsewhere(reach: Reach, views: drawn.Views) -> list[str]:
    """From the square line toward the word of its side, to the obstacle where that had to slide so far."""
    plan, wrong = views.plan, []
    square = drawn.straight(plan, CENTER).a[0]
    blocks = [p for p in plan.entities if isinstance(p, Polygon) and p.fill == 0.85]
    lines = drawn.lettered(plan)
    for number, (block, steel) in enumerate(zip(reach.setting.saw.obstacles, blocks, strict=True), 1):
        line = lines.get(f"B{number}")
        if not isinstance(line, Dimension):
            continue
        near = min((x for x, _ in steel.points), key=lambda x: abs(x - square))
        toward = math.copysign(1.0, drawn.word_at(plan, block.side) - square)
        end = line.b[0] if block.adjustable and reach.set_backs[block.name] > block.edge else near
        if abs(line.a[0] - square) > NEAR or (line.b[0] - square) * toward <= 0 or abs(end - near) > NEAR:
            wrong.append(f"B{number} runs from {line.a} to {line.b}, its obstacle begins at {near}")
        if line.b[1] not in [pytest.approx(y) for _, y in steel.points]:
            wrong.append(f"B{number} is not measured at its obstacle")
    return wrong


def guides_elsewhere(reach: Reach, views: drawn.Views) -> list[str]:
    """The gap has the face in its middle; the setting begins at the fixed guide and ends where the gap ends."""
    blade = views.blade
    lines = drawn.lettered(blade)
    gap, setting = lines.get("D"), lines.get("C")
    if not isinstance(gap, Dimension):
        return []
    x0, _, x1, _ = Drawing(drawn.face(blade)).bounds()
    wrong = [] if abs(gap.a[0] + gap.b[0] - x0 - x1) < NEAR and gap.a[0] < x0 else ["D is not about the face"]
    guides = [p for p in blade.entities if isinstance(p, Polygon) and p.fill == 0.6]
    if isinstance(setting, Dimension):
        ends = max(x for x, _ in guides[0].points), min(x for x, _ in guides[1].points)
        wrong += [] if setting.a[0] == pytest.approx(ends[0]) else ["C does not begin at the fixed guide"]
        wrong += [] if setting.b[0] == pytest.approx(ends[1]) else ["C does not end at the moving guide"]
        wrong += [] if setting.b[0] == pytest.approx(gap.b[0]) else ["C and D end apart"]
    return wrong


def sizes_elsewhere(reach: Reach, views: drawn.Views) -> list[str]:
    vise = views.vise
    lines, (x0, y0, x1, y1) = drawn.lettered(vise), drawn.section_box(vise)
    ends = {"W": (x0, x1), "H": (y0, y1)}
    if "P" in lines:
        (packing,) = (p for p in vise.entities if isinstance(p, Polygon) and p.fill == 0.7)
        ends["P"] = (y0, max(y for _, y in packing.points))
    got = {letter: (lines[letter].a, lines[letter].b) for letter in ends}  # type: ignore[union-attr]
    axis = {"W": 0, "H": 1, "P": 1}
    return [
        f"{letter} runs from {a} to {b}, not {ends[letter]}"
        for letter, (a, b) in got.items()
        if (a[axis[letter]], b[axis[letter]]) != pytest.approx(ends[letter], abs=NEAR)
    ]


def edge_elsewhere(reach: Reach, views: drawn.Views) -> list[str]:
    """At first touch the edge touches the drawn face from above, when through from below, lifted it clears it."""
    if reach.travel is None:
        return []
    blade, wrong = views.blade, []
    edges, points = drawn.edges(blade), np.array(_on_face(blade))
    face = drawn.face_points(reach)
    x0, _, x1, _ = Drawing(drawn.face(blade)).bounds()
    k = (x1 - x0) / (face[:, 0].max() - face[:, 0].min())
    clear = k * (reach.setting.saw.guides.clearance if reach.setting.saw.guides else 0.0)
    for name, least in (("first touch", 0.0), ("through", 0.0), ("lifted", clear)):
        side = -1 if name == "through" else 1
        gap = float((side * _below(points, edges[name])).min())
        wrong += [] if abs(gap - least) < NEAR else [f"{name}: the edge is {gap:.4f} mm from the face, not {least:.4f}"]
    return wrong


def _on_face(blade: Drawing) -> list[tuple[float, float]]:
    """Points of the drawn face; 720 chords of an arc of 20 mm leave 2e-4 mm."""
    parts = drawn.face(blade)
    return [p for part in parts for p in ([part.a, part.b] if isinstance(part, Line) else drawn.on_curve(part, 720))]


def _below(points: np.ndarray, line: Line) -> np.ndarray:
    """How far points lie below a line that is drawn from left to right, square to it."""
    along = np.subtract(line.b, line.a)
    normal = np.array((along[1], -along[0])) / np.hypot(*along)
    return np.asarray((points - np.array(line.a)) @ normal)


DRAWN = 1000.0
"""mm. A hinge as near as this is in the picture of every saw here."""


def edge_off_its_circle(reach: Reach, views: drawn.Views) -> list[str]:
    """The edge turns about the drawn hinge: it is as far from it at every place as at rest."""
    arm, blade = reach.setting.saw.arm, views.blade
    if arm is None or reach.travel is None or isinstance(arm, Column) or abs(arm.hinge_u) > DRAWN:
        return []
    *_, hinge = (p for p in blade.entities if isinstance(p, Arc) and p.layer == OUTLINE)
    k = hinge.radius / 8.0
    gaps = {name: float(_below(np.array([hinge.center]), line)[0]) for name, line in drawn.edges(blade).items()}
    return [f"{name}: {gap}" for name, gap in gaps.items() if gap != pytest.approx(-(arm.hinge_z + arm.below_bed) * k)]


# --- the load


def wrong_chart(reach: Reach, views: drawn.Views) -> list[str]:
    """24 chords to a stretch change an area by 0.90 % (a disc in one stretch), 0.92 % (a tube 60.3 by 3.6 in four).

    The trapezoid rule on half chords sqrt(R**2 - z**2), worked out apart; straight sides lose far less.
    """
    chart = views.load
    if not chart.entities:
        return []
    marks = {text.says: drawn.middle(text)[1] for text in drawn.letters(chart)}
    lines = [p for p in chart.entities if isinstance(p, Line)]
    curve, (base, _, top, mean) = [p for p in lines if p.layer == OUTLINE], [p for p in lines if p.layer != OUTLINE]
    bottom, highest, level = base.a[1], top.a[1], mean.a[1]
    peak = max(y for line in curve for _, y in (line.a, line.b))
    area = sum((line.b[0] - line.a[0]) * (line.a[1] + line.b[1] - 2 * bottom) / 2 for line in curve)
    values = drawn.printed(reach, walk_down(reach, "mm"))
    printed = values["M"] / values["L"]
    rounded = 0.05 / values["L"] * (1 + printed)
    checks = {
        "the curve's peak is not at the line of L": peak == pytest.approx(highest, abs=0.01 * (highest - bottom)),
        "L is not beside its line": marks["L"] == pytest.approx(highest, abs=0.1),
        "M is not beside its line": marks["M"] == pytest.approx(level, abs=0.1),
        "the mean does not part the area": area == pytest.approx((level - bottom) * (base.b[0] - base.a[0]), rel=0.012),
        "the mean is not as printed": abs((level - bottom) / (highest - bottom) - printed) <= rounded,
    }
    return [says for says, right in checks.items() if not right]


CHECKS: list[Check] = [
    missing_or_twice,
    hard_to_read,
    of_another_line,
    wrong_values,
    printed_otherwise,
    out_of_scale,
    arc_beside_its_lines,
    set_back_elsewhere,
    guides_elsewhere,
    sizes_elsewhere,
    edge_elsewhere,
    edge_off_its_circle,
    wrong_chart,
]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
@pytest.mark.parametrize("name", SAWS)
def test_no_setting_has(check: Check, name: str) -> None:
    assert found(check, name) == []


@pytest.mark.parametrize("name", [name for name, saw in SAWS.items() if saw.kind == "column"])
def test_on_a_column_mean_times_travel_square_to_the_blade_is_the_face(name: str) -> None:
    for reach, views in zip(REACHES[name], views_of(name), strict=True):
        values, arm = drawn.printed(reach, walk_down(reach, "mm")), reach.setting.saw.arm
        assert arm is not None
        face = reach.section.area / math.cos(math.radians(reach.swing)) / math.cos(math.radians(reach.tilt))
        square = drawn.shown(reach, views)["G"] * math.cos(math.radians(arm.cant))
        assert values["M"] == pytest.approx(face / square, abs=0.0501), said(reach)


# --- which way

WAYS = [("left", "right", 45, "feed"), ("left", "left", 45, "discharge"), ("right", "right", 45, "discharge")]
WAYS += [("right", "left", 45, "feed"), ("left", "right", -30, "discharge"), ("right", "right", -30, "feed")]


@pytest.mark.parametrize(("jaw", "end", "angle", "toward"), WAYS)
def test_the_blade_leans_toward_the_word_of_its_side(jaw: str, end: str, angle: float, toward: str) -> None:
    """A right 45 on a saw with its fixed jaw on the left goes to the feed side; each change of hand turns it over."""
    saw = attrs.evolve(roomy(HINGE, jaw, BLOCKS), tilt=TILTS)
    plan = drawn.views(saw.reach(LAID["square tube, as made"], mt.Cut(angle), end)).plan
    blade = drawn.straight(plan, OUTLINE)
    other, moving_end = sorted((blade.a, blade.b), key=lambda point: point[1])
    away = "discharge" if toward == "feed" else "feed"
    assert (moving_end[0] - other[0]) * (drawn.word_at(plan, toward) - drawn.word_at(plan, away)) > 0


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_the_fixed_jaw_is_below_and_the_feed_comes_from_its_other_side(jaw: str) -> None:
    """Whoever looks with the feed has the fixed jaw on the side that the file says: to his left where he looks to the
    left of the picture and the jaw is below, to his right where he looks to the right."""
    plan = drawn.views(roomy(HINGE, jaw, BLOCKS).reach(LAID["square tube, as made"], mt.Cut(20))).plan
    blocks = [p for p in plan.entities if isinstance(p, Polygon) and p.fill == 0.85]
    heights = {b.stands: np.mean([y for _, y in p.points]) for b, p in zip(BLOCKS, blocks, strict=True)}
    bar = np.mean([y for _, y in drawn.bar(plan).points])
    assert heights["fixed-jaw"] < bar < heights["moving-jaw"]
    looks_left = drawn.word_at(plan, "discharge") < drawn.word_at(plan, "feed")
    assert looks_left == (jaw == "left")


@pytest.mark.parametrize("bevel", [-35, -1, 20, 55])
def test_a_tilted_blade_leans_toward_the_word_of_its_side(bevel: float) -> None:
    """A right end's positive bevel has its long point above: x grows with z, and the feed side is where x grows."""
    tilt = drawn.views(SAWS["hinged, tilts"].reach(LAID["square tube, as made"], mt.Cut(0, bevel), "right")).tilt
    low, high = sorted((drawn.straight(tilt, OUTLINE).a, drawn.straight(tilt, OUTLINE).b), key=lambda point: point[1])
    toward = drawn.word_at(tilt, "feed") - drawn.word_at(tilt, "discharge")
    assert (high[0] - low[0]) * toward * bevel > 0
    assert math.degrees(math.atan2(abs(high[0] - low[0]), high[1] - low[1])) == pytest.approx(abs(bevel))


# --- wrong variants are found


def swing_turned_over(patch: Patch) -> None:
    def turned(letter: str, apex: drawn.Point, start: float, sweep: float, radius: float) -> letters.Lettered:
        return letters.angle(letter, apex, start, -sweep, radius)

    patch.setattr(plan_module, "angle", turned)


def gap_and_setting_swapped(patch: Patch) -> None:
    patch.setattr(blade_module, "GAP", "C")
    patch.setattr(blade_module, "GUIDE", "D")


def set_backs_on_the_other_side(patch: Patch) -> None:
    _stretched_set_backs(patch, -1.0)


def set_backs_out_of_scale(patch: Patch) -> None:
    _stretched_set_backs(patch, 1.02)


def _stretched_set_backs(patch: Patch, times: float) -> None:
    def stretched(letter: str, a: drawn.Point, b: drawn.Point, offset: float) -> letters.Lettered:
        return letters.level(letter, a, (times * b[0], b[1]), offset)

    patch.setattr(plan_module, "level", stretched)


def lift_and_travel_swapped(patch: Patch) -> None:
    patch.setattr(blade_module, "LIFT", "G")
    patch.setattr(blade_module, "TRAVEL", "E")
    patch.setattr(blade_module, "_SHARES", {"G": 0.42, "E": 0.85})
    patch.setattr(blade_module, "_LEAST_ARC", {"G": 6.0, "E": 11.0})


def longest_and_mean_swapped(patch: Patch) -> None:
    patch.setattr(chart_module, "LONGEST", "M")
    patch.setattr(chart_module, "MEAN", "L")


def letters_forgotten(patch: Patch) -> None:
    patch.setattr(blade_module, "_guide_letters", lambda *_: ())


def edge_too_high(patch: Patch) -> None:
    right = blade_module._edge

    def raised(*how: object) -> Line:
        line = right(*how)  # type: ignore[arg-type]
        return Line((line.a[0], line.a[1] + 0.5), (line.b[0], line.b[1] + 0.5), line.layer)

    patch.setattr(blade_module, "_edge", raised)


Variant = Callable[[Patch], None]

VARIANTS: list[tuple[Variant, Check]] = [
    (swing_turned_over, arc_beside_its_lines),
    (gap_and_setting_swapped, wrong_values),
    (gap_and_setting_swapped, printed_otherwise),
    (gap_and_setting_swapped, guides_elsewhere),
    (set_backs_on_the_other_side, set_back_elsewhere),
    (lift_and_travel_swapped, wrong_values),
    (lift_and_travel_swapped, arc_beside_its_lines),
    (longest_and_mean_swapped, wrong_chart),
    (letters_forgotten, missing_or_twice),
    (letters_forgotten, wrong_values),
    (set_backs_out_of_scale, wrong_values),
    (edge_too_high, edge_elsewhere),
    (edge_too_high, edge_off_its_circle),
]


@pytest.mark.parametrize(("variant", "check"), VARIANTS, ids=[f"{v.__name__}, {c.__name__}" for v, c in VARIANTS])
def test_a_wrong_variant_is_found(variant: Variant, check: Check, monkeypatch: Patch) -> None:
    reach = drawn.told(SAWS["hinged"].reach(LAID["rectangular tube, as made"], mt.Cut(30), "right"))
    assert check(reach, drawn.views(reach)) == []
    variant(monkeypatch)
    assert check(reach, drawn.views(reach)) != []


def test_a_letter_beside_another_line_is_found() -> None:
    reach = SAWS["hinged"].reach(LAID["rectangular tube, as made"], mt.Cut(30), "right")
    drawing = drawn.views(reach).blade
    gap = drawn.lettered(drawing)["D"]
    moved = [
        attrs.evolve(p, at=(p.at[0], p.at[1] - 7.7)) if isinstance(p, Text) and p.says == "D" else p
        for p in drawing.entities
    ]
    assert drawn.lettered(Drawing(moved))["D"] != gap
