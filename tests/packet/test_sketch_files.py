"""The DXF sketches as an outside reader finds them: sound, dimensions that measure, true lines, arcs and ellipses."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from functools import cache
from typing import Any

import ezdxf.filemanagement
import ezdxf.units
import pytest

from mitertool.job import Solution
from mitertool.packet.packet import Options, packet_files
from tests.packet.jobs import GALLERY

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
EXACT = {"LINE", "ARC", "CIRCLE", "ELLIPSE"}
MEASURED = 1e-6
"""mm, as the dimensions are asked to measure."""

Sketch = tuple[dict[str, str], Any]


@pytest.fixture(scope="module")
def sketches_of(solution_of: Callable[[str], Solution]) -> Callable[[str], list[Sketch]]:
    """The row of pieces.csv and the sketch, read, of every mark of a job."""
    return cache(lambda name: _sketches(packet_files(solution_of(name), Options())))


def _sketches(files: dict[str, bytes]) -> list[Sketch]:
    rows = csv.DictReader(io.StringIO(files["pieces.csv"].decode("utf-8")))
    names = [name for name in files if name.startswith("sketches/")]
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


@pytest.mark.parametrize("name", JOBS)
def test_dimensions_measure_the_piece(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        dimensions = sketch.modelspace().query("DIMENSION")
        for key, word in (
            ("long_point_mm", "long point"),
            ("short_point_mm", "short point"),
            ("overall_mm", "overall"),
        ):
            told = [d for d in dimensions if d.dxf.text.startswith(word)]
            alike = abs(float(row[key]) - float(row["long_point_mm"])) < MEASURED
            assert len(told) == 1 or (alike and not told), f"{row['mark']}: {word}"
            for dimension in told:
                assert dimension.get_measurement() == pytest.approx(float(row[key]), abs=MEASURED)
                assert dimension.dxf.actual_measurement == pytest.approx(float(row[key]), abs=MEASURED)


@pytest.mark.parametrize("name", JOBS)
def test_the_section_is_dimensioned_as_it_lies(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        plain = [d for d in sketch.modelspace().query("DIMENSION") if "point" not in d.dxf.text]
        level, upright = (
            [d.get_measurement() for d in plain if d.dxf.angle == turn and not d.dxf.text.startswith("overall")]
            for turn in (0, 90)
        )
        (width,), (height,) = level, upright
        assert width == pytest.approx(across(sketch, 0), abs=MEASURED), row["mark"]
        assert height == pytest.approx(across(sketch, 1), abs=MEASURED), row["mark"]


def across(sketch: Any, axis: int) -> float:
    """Size of the end view, which stands apart to the right of the plan, along x (0) or y (1)."""
    level = next(d for d in sketch.modelspace().query("DIMENSION") if d.dxf.angle == 0 and " " not in word(d))
    left = min(level.dxf.defpoint2.x, level.dxf.defpoint3.x)
    ends = [at[axis] for entity in outline(sketch) for at in reach(entity) if at[0] > left - 1]
    return max(ends) - min(ends)


def word(dimension: Any) -> str:
    text: str = dimension.dxf.text
    return text if text[:1].isalpha() else ""


def reach(entity: Any) -> list[tuple[float, float]]:
    """Points of an entity whose box is its own; of a full circle the four quarter points."""
    if entity.dxftype() == "LINE":
        return [(entity.dxf.start.x, entity.dxf.start.y), (entity.dxf.end.x, entity.dxf.end.y)]
    center, radius = entity.dxf.center, getattr(entity.dxf, "radius", 0)
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


def end_view(sketch: Any, kind: str) -> list[Any]:
    return [entity for entity in outline(sketch) if entity.dxftype() == kind]


def test_a_rectangular_tube_has_its_eight_corner_arcs(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # RHS 80x40x3, EN 10219-2: outer radius 2 x wall and inner radius 1 x wall for walls up to 6 mm.
    sketch = next(sketch for row, sketch in sketches_of("boathouse-gate") if row["mark"] == "LEAF-1")
    arcs = end_view(sketch, "ARC")
    assert sorted(round(arc.dxf.radius, 9) for arc in arcs) == [3.0] * 4 + [6.0] * 4
    for arc in arcs:
        assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360 == pytest.approx(90, abs=1e-9)


def test_a_pipe_is_two_circles(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # 2 in schedule 40, ASME B36.10: 2.375 in outside diameter, wall 0.154 in.
    sketch = next(sketch for row, sketch in sketches_of("hatch-frame") if row["mark"] == "RAIL")
    radii = sorted(circle.dxf.radius for circle in end_view(sketch, "CIRCLE"))
    assert radii == pytest.approx([(2.375 / 2 - 0.154) * 25.4, 2.375 / 2 * 25.4], abs=1e-9)


def test_a_mitered_pipe_shows_its_ends_as_ellipses(sketches_of: Callable[[str], list[Sketch]]) -> None:
    # Seen from the side, a cut at a miter m is an ellipse as high as the pipe and tan(m) as wide: 45 and 22.5 degrees.
    sketch = next(sketch for row, sketch in sketches_of("hatch-frame") if row["mark"] == "RAIL")
    found = sorted((e.dxf.major_axis.magnitude, e.dxf.ratio) for e in end_view(sketch, "ELLIPSE"))
    wanted = []
    for radius in (2.375 / 2 * 25.4, (2.375 / 2 - 0.154) * 25.4):
        wanted += [(radius, math.tan(math.radians(miter))) for miter in (45, 22.5)]
    assert [pytest.approx(pair, abs=1e-9) for pair in sorted(wanted)] == found


def test_a_beveled_tube_shows_its_ends_with_elliptic_corners(sketches_of: Callable[[str], list[Sketch]]) -> None:
    sketch = next(sketch for row, sketch in sketches_of("beveled, bar rolled") if row["mark"] == "B1")
    # Two views of two ends, each with four corners outside and four inside.
    assert len(end_view(sketch, "ELLIPSE")) == 2 * 2 * 8


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame"])
def test_the_sketch_says_which_mark_and_what_to_set(name: str, sketches_of: Callable[[str], list[Sketch]]) -> None:
    for row, sketch in sketches_of(name):
        says = " / ".join(text.dxf.text for text in sketch.modelspace().query("TEXT"))
        assert says.startswith(f"{row['mark']}: {row['quantity']} piece")
        assert row["section"] in says
        for end in ("left", "right"):
            assert f"{end} end: scale reads {float(row[f'{end}_scale_deg']):.2f}".rstrip("0").rstrip(".") in says
        assert ("roll the bar" in says) == any(float(row[f"{end}_roll_deg"]) for end in ("left", "right"))
        tilts = any(float(row[f"{end}_bevel_deg"]) for end in ("left", "right")) and name == "hatch-frame"
        assert ("tilt" in says) == tilts
