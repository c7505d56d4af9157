"""The DXF sketches as an outside reader finds them: sound, dimensions that measure, true lines, arcs and ellipses.

A sketch is taken apart by its captions: the top view stands above its own, the front view between the two, the
section and the faces in a row below, each to the right of where its caption begins.
"""

from __future__ import annotations

import cmath
import csv
import io
import json
import math
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import ezdxf.units
import pytest

import mitertool
from mitertool.job import Solution, load, solve
from mitertool.packet.packet import Options, packet_files
from tests.packet.jobs import GALLERY, head, piece

JOBS = (
    *GALLERY,
    *(
        "fractions",
        "beveled, bar rolled",
        "beveled, blade tilted",
        "parallel and pointed",
        "tiny, huge, short",
        "no saw",
    ),
)
ALL = "sketches/all.dxf"
EXACT = {"LINE", "ARC", "CIRCLE", "ELLIPSE"}
MEASURED = 1e-6
"""mm, as the dimensions are asked to measure."""

CURVED = 1e-2
"""mm. Ellipses are taken at every degree: the furthest point is missed by less than 4e-5 of a half axis."""

Sketch = tuple[dict[str, str], Any]


@pytest.fixture(scope="module")
def sketches_of(solution_of: Callable[[str], Solution]) -> Callable[[str], list[Sketch]]:
    """The row of pieces.csv and the sketch, read, of every mark of a job."""
    return cache(lambda name: _sketches(packet_files(solution_of(name), Options())))


def _sketches(files: dict[str, bytes]) -> list[Sketch]:
    rows = csv.DictReader(io.StringIO(files["pieces.csv"].decode("utf-8")))
    names = [name for name in files if name.startswith("sketches/") and name != ALL]
    return [(row, read(files[name])) for row, name in zip(rows, names, strict=True)]


def read(content: bytes) -> Any:
    return ezdxf.filemanagement.read(io.StringIO(content.decode("utf-8"), newline=None))


def outline(sketch: Any) -> list[Any]:
    return [entity for entity in sketch.modelspace() if entity.dxf.layer == "outline"]


@pytest.mark.parametrize("name", JOBS)
def test_every_sketch_is_sound_and_in_mm(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        audit = sketch.audit()
        assert (row["mark"], audit.errors, audit.fixes) == (row["mark"], [], [])
        assert sketch.units == ezdxf.units.MM


Dimensions = dict[str, list[float]]


def dimensions(sketch: Any) -> Dimensions:
    """What every dimension measures by the words before its figure, as a reader measures it and as it is stored."""
    found: Dimensions = {}
    for dimension in sketch.modelspace().query("DIMENSION"):
        words = " ".join(word for word in dimension.dxf.text.split() if word.isalpha()) or "angle"
        measured, stored = dimension.get_measurement(), dimension.dxf.actual_measurement
        stored = math.degrees(stored) if words == "angle" else stored
        assert stored == pytest.approx(measured, abs=MEASURED)
        found.setdefault(words, []).append(measured)
    return found


@pytest.mark.parametrize("name", JOBS)
def test_dimensions_measure_the_piece(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        found = dimensions(sketch)
        for key, words in (
            ("long_point_mm", "long point"),
            ("short_point_mm", "short point"),
            ("overall_mm", "overall"),
        ):
            alike = abs(float(row[key]) - float(row["long_point_mm"])) < MEASURED
            wanted = [] if alike and words != "long point" else [float(row[key])]
            assert found.get(words, []) == pytest.approx(wanted, abs=MEASURED), f"{row['mark']}: {words}"


@pytest.mark.parametrize("name", JOBS)
def test_every_miter_has_its_angle(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    """Between the square and the cut in the top view; a bevel shows true from the front only beside no miter.

    And between the ways in which both ends stand out, where these are neither one nor opposite.
    """
    for row, sketch in sketches_of(name):
        ends = [(float(row[f"{end}_miter_deg"]), float(row[f"{end}_bevel_deg"])) for end in ("left", "right")]
        wanted = [abs(miter or bevel) for miter, bevel in ends if miter or bevel]
        wanted += turned(*ends)
        assert sorted(dimensions(sketch).get("angle", [])) == pytest.approx(sorted(wanted), abs=1e-9), row["mark"]


def turned(left: tuple[float, float], right: tuple[float, float]) -> list[float]:
    """How far the ends are turned against each other, where no flat view shows both: by the slopes of their planes."""
    ways = []
    for miter, bevel in ((math.radians(miter), math.radians(bevel)) for miter, bevel in (left, right)):
        ways.append(complex(math.tan(miter), math.tan(bevel) / math.cos(miter)))
    if not all(ways):
        return []
    turn = abs(math.degrees(cmath.phase(ways[1] / ways[0])))
    return [turn] if 0.005 < turn < 179.995 else []


@pytest.mark.parametrize("name", JOBS)
def test_section_and_faces_are_dimensioned(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    """The section by the size of its picture; a face is higher by 1/cos(bevel), wider by 1/cos(miter) without bevel."""
    for row, sketch in cut_once(sketches_of(name)):
        found = dimensions(sketch)
        (width,), (height,) = found["width"], found["height"]
        assert (width, height) == pytest.approx(size(section(sketch)), abs=MEASURED), row["mark"]
        for i, end in enumerate(("left", "right")):
            miter, bevel = (math.radians(float(row[f"{end}_{angle}_deg"])) for angle in ("miter", "bevel"))
            assert found["face height"][i] == pytest.approx(height / math.cos(bevel), abs=MEASURED), row["mark"]
            if not bevel:
                assert found["face width"][i] == pytest.approx(width / math.cos(miter), abs=MEASURED), row["mark"]


@pytest.mark.parametrize("name", JOBS)
def test_the_views_stand_in_projection(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    """Top and front view are one above the other, the section as wide as the one is high and as high as the other."""
    for row, sketch in cut_once(sketches_of(name)):
        top, front = view(sketch, "top view"), view(sketch, "front view")
        for end in (min, max):
            assert end(x for x, _ in top) == pytest.approx(end(x for x, _ in front), abs=CURVED), row["mark"]
        assert size(top)[0] == pytest.approx(float(row["overall_mm"]), abs=CURVED), row["mark"]
        assert min(y for _, y in top) > max(y for _, y in front), row["mark"]
        assert size(section(sketch)) == pytest.approx((size(top)[1], size(front)[1]), abs=CURVED), row["mark"]


def cut_once(sketches: list[Sketch]) -> list[Sketch]:
    """Those of marks with one plane an end: an end of several has a face for each."""
    return [(row, sketch) for row, sketch in sketches if not (row["left_further_deg"] or row["right_further_deg"])]


def captions(sketch: Any) -> dict[str, Any]:
    starts = ("top view", "front view", "left end face", "section as it lies", "right end face")
    texts = sketch.modelspace().query("TEXT")
    return {start: next(text.dxf.insert for text in texts if text.dxf.text.startswith(start)) for start in starts}


Place = tuple[float, float]


def view(sketch: Any, name: str) -> list[Place]:
    places, found = [at for entity in outline(sketch) for at in reach(entity)], captions(sketch)
    high = math.inf if name == "top view" else found["top view"].y
    return [at for at in places if found[name].y < at[1] < high]


def section(sketch: Any) -> list[Place]:
    places, found = [at for entity in outline(sketch) for at in reach(entity)], captions(sketch)
    left, right = found["section as it lies"].x, found["right end face"].x
    low, high = found["section as it lies"].y, found["front view"].y
    return [(x, y) for x, y in places if low < y < high and left < x < right]


def size(places: list[Place]) -> Place:
    xs, ys = zip(*places, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def reach(entity: Any) -> list[Place]:
    """Points of an entity whose box is its own; of a full circle the four quarter points, of an ellipse many."""
    if entity.dxftype() == "LINE":
        return [(entity.dxf.start.x, entity.dxf.start.y), (entity.dxf.end.x, entity.dxf.end.y)]
    if entity.dxftype() == "ELLIPSE":
        return [(at.x, at.y) for at in entity.vertices(entity.params(361))]
    center, radius = entity.dxf.center, entity.dxf.radius
    if entity.dxftype() == "CIRCLE":
        return [(center.x + radius * x, center.y + radius * y) for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1))]
    return [(entity.start_point.x, entity.start_point.y), (entity.end_point.x, entity.end_point.y)]


@pytest.mark.parametrize("name", JOBS)
def test_outlines_are_lines_arcs_and_ellipses(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        kinds = {entity.dxftype() for entity in outline(sketch)}
        assert kinds, row["mark"]
        assert kinds <= EXACT, row["mark"]
        assert "LINE" in kinds


def drawn(sketch: Any, kind: str, layer: str = "outline") -> list[Any]:
    return [entity for entity in sketch.modelspace() if (entity.dxftype(), entity.dxf.layer) == (kind, layer)]


def test_every_layer_has_a_plain_word(sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of("keel-jig"):
        words = {entity.dxf.layer for entity in sketch.modelspace()}
        known = {"outline", "hidden edge", "center line", "dimension", "lettering", "thin", "border"}
        assert {"outline", "dimension", "lettering"} <= words <= known, row["mark"]


def test_a_rectangular_tube_has_its_eight_corner_arcs(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # RHS 80x40x3, EN 10219-2: outer radius 2 x wall and inner radius 1 x wall for walls up to 6 mm.
    sketch = next(sketch for row, sketch in sketches_of("boathouse-gate") if row["mark"] == "LEAF-1")
    arcs = drawn(sketch, "ARC")
    assert sorted(round(arc.dxf.radius, 9) for arc in arcs) == [3.0] * 4 + [6.0] * 4
    for arc in arcs:
        assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360 == pytest.approx(90, abs=1e-9)


def test_a_pipe_is_two_circles(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # 2 in schedule 40, ASME B36.10: 2.375 in outside diameter, wall 0.154 in.
    sketch = next(sketch for row, sketch in sketches_of("hatch-frame") if row["mark"] == "RAIL")
    radii = sorted(circle.dxf.radius for circle in drawn(sketch, "CIRCLE"))
    assert radii == pytest.approx([(2.375 / 2 - 0.154) * 25.4, 2.375 / 2 * 25.4], abs=1e-9)


def axes(sketch: Any) -> list[tuple[float, float]]:
    """Half axes of every ellipse, the long one first."""
    found = drawn(sketch, "ELLIPSE")
    return sorted((e.dxf.major_axis.magnitude, e.dxf.major_axis.magnitude * e.dxf.ratio) for e in found)


def test_a_mitered_pipe_shows_its_ends_as_ellipses(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # From the side, a cut at a miter m is an ellipse as high as the pipe and tan(m) as wide; its true shape is
    # 1/cos(m) as wide. The miters are 45 and 22.5 degrees, and at 45 the ellipse from the side is a circle.
    sketch = next(sketch for row, sketch in sketches_of("hatch-frame") if row["mark"] == "RAIL")
    wanted = []
    for radius in (2.375 / 2 * 25.4, (2.375 / 2 - 0.154) * 25.4):
        for miter in (math.radians(45), math.radians(22.5)):
            wanted += [(radius, radius * math.tan(miter)), (radius / math.cos(miter), radius)]
    assert [pytest.approx(pair, abs=1e-9) for pair in sorted(wanted)] == axes(sketch)


def test_a_rim_turned_away_is_half_hidden(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # A solid round of 40 cut at -30: from the fixed jaw's side its far half lies behind the bar.
    sketch = next(sketch for row, sketch in sketches_of("keel-jig") if row["mark"] == "PIN")
    seen, hidden = drawn(sketch, "ELLIPSE"), drawn(sketch, "ELLIPSE", "hidden edge")
    halves = [e for e in seen if abs(e.dxf.end_param - e.dxf.start_param) < 6]
    assert (len(halves), len(hidden)) == (1, 1)
    for half in (*halves, *hidden):
        assert half.dxf.major_axis.magnitude == pytest.approx(20, abs=1e-9)
        assert half.dxf.ratio == pytest.approx(math.tan(math.radians(30)), abs=1e-9)
        assert (half.dxf.end_param - half.dxf.start_param) % math.tau == pytest.approx(math.pi, abs=1e-9)
    assert halves[0].dxf.center.isclose(hidden[0].dxf.center)


def test_the_true_shape_of_a_beveled_tube_has_elliptic_corners(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # An arc of radius r in the plane of a cut is an arc of an ellipse with the half axes r and r*sqrt(1 + p^2 + q^2).
    sketch = next(sketch for row, sketch in sketches_of("beveled, bar rolled") if row["mark"] == "B1")
    for miter, bevel in ((33.69, 12.34), (-21.43, 27.89)):
        p = math.tan(math.radians(miter))
        q = math.tan(math.radians(bevel)) / math.cos(math.radians(miter))
        for radius in (3.0, 6.0):
            wanted = pytest.approx((radius * math.sqrt(1 + p * p + q * q), radius), abs=1e-9)
            assert [pair == wanted for pair in axes(sketch)].count(True) == 4


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame"])
def test_the_title_says_which_mark_and_what_to_set(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        says = " / ".join(text.dxf.text for text in sketch.modelspace().query("TEXT"))
        plural = "s" if row["quantity"] != "1" else ""
        hand = "as drawn" if row["hand"] == "as drawn" else "OPPOSITE HAND"
        assert (
            f" / {row['mark']} / {row['quantity']} piece{plural} / {hand} / section {row['section']} / grade " in says
        )
        for end in ("left", "right"):
            assert f"{end} end: scale reads {float(row[f'{end}_scale_deg']):.2f}".rstrip("0").rstrip(".") in says
        whole = says.replace(" / ", " ")
        assert ("bar as drawn, rolled" in whole or "end for end from as drawn" in whole) == any(
            float(row[f"{end}_roll_deg"]) for end in ("left", "right")
        )
        tilts = any(float(row[f"{end}_bevel_deg"]) for end in ("left", "right")) and name == "hatch-frame"
        assert ("tilt" in says) == tilts


def test_the_title_says_whose_job_it_is_and_what_it_was_made_from(solution_of: Callable[[str], Solution]) -> None:
    # The job and its saw are the text of `tests.packet.jobs`; the digest is that of plan.json.
    files = packet_files(solution_of("long words"), Options())
    digest = json.loads(files["plan.json"])["inputs"]
    for name, content in files.items():
        if name.startswith("sketches/"):
            says = " ".join(text.dxf.text for text in read(content).modelspace().query("TEXT"))
            assert "Replacement of the landing stage's upper handrail" in says
            assert "revision issued for the floor, replaces C, 2026-11-30" in says
            assert f"mitertool {mitertool.__version__} inputs {digest}, saw file saw.toml, corrected 2026-02-11" in says


def test_a_mark_that_cannot_be_made_says_so(sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of("not to be made"):
        says = " ".join(text.dxf.text for text in sketch.modelspace().query("TEXT"))
        assert ("CANNOT BE MADE AS ASKED" in says) == row["mark"].startswith("HOPELESS")


@pytest.mark.parametrize("name", JOBS)
def test_all_marks_stand_in_one_drawing(name: str, solution_of: Callable[[str], Solution]) -> None:
    files = packet_files(solution_of(name), Options())
    rows = list(csv.DictReader(io.StringIO(files["pieces.csv"].decode("utf-8"))))
    together = read(files[ALL])
    audit = together.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    texts = [text.dxf.text for text in together.modelspace().query("TEXT")]
    assert [text for text in texts if text in {row["mark"] for row in rows}] == [row["mark"] for row in rows]
    wanted = [float(row["long_point_mm"]) for row in rows]
    assert dimensions(together)["long point"] == pytest.approx(wanted, abs=MEASURED)


def test_the_drawing_of_all_marks_keeps_its_name_from_a_mark(tmp_path: Path) -> None:
    job = head() + piece("All", "RHS 80x40x3", "500") + piece("all~2", "RHS 80x40x3", "600")
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    files = packet_files(solve(load(tmp_path / "job.toml")), Options())
    names = [name for name in files if name.startswith("sketches/")]
    assert len({name.casefold() for name in names}) == 3
    assert len(dimensions(read(files[ALL]))["long point"]) == 2
