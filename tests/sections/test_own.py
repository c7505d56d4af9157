"""Sections of a shop's own, by hand: an outline out of a drawing, a catalogue size as it was measured, both in a job.

EN 10219-2: RHS 80x40x3 has radii of 6 outside and 3 inside; EN 10056-1: L 50x50x5 a root radius of 7 and toes of 3.5.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.sections.own import as_measured
from tests.frame.runs import HEAD, checked, frame, refusal, table
from tests.geometry.dxf_text import NO_UNIT, box, circle, line, write


def tube_area(width: float, height: float, wall: float, outer: float, inner: float) -> float:
    """A box with rounded corners less a box with rounded corners, mm2."""
    hole = (width - 2 * wall) * (height - 2 * wall)
    return width * height - hole - (4 - math.pi) * (outer**2 - inner**2)


def angle_area(leg: float, thickness: float, root: float, toe: float) -> float:
    return thickness * (2 * leg - thickness) + (1 - math.pi / 4) * (root**2 - 2 * toe**2)


@pytest.mark.parametrize(
    ("measured", "area"),
    [
        ({"width": 41.0}, tube_area(41, 80, 3, 6, 3)),
        ({"wall": 2.8}, tube_area(40, 80, 2.8, 6, 3)),
        ({"wall": 2.8, "height": 80.5, "width": 40.3}, tube_area(40.3, 80.5, 2.8, 6, 3)),
        ({"outer_radius": 7.0, "inner_radius": 3.5}, tube_area(40, 80, 3, 7, 3.5)),
    ],
    ids=str,
)
def test_a_tube_as_measured(measured: dict[str, float], area: float) -> None:
    """What is not measured stays as in the catalogue, radii too."""
    section = as_measured("rhs 80 x 40 x 3", measured)
    assert section.area == pytest.approx(area)
    assert section.name == "RHS 80x40x3"
    assert "EN 10219" in section.source
    assert "as measured" in section.source
    assert (section.width, section.height) == (measured.get("width", 40), measured.get("height", 80))


def test_an_angle_as_measured() -> None:
    section = as_measured("L 50x50x5", {"thickness": 4.6})
    assert section.area == pytest.approx(angle_area(50, 4.6, 7, 3.5))
    assert dict(section.dimensions)["thickness"] == 4.6


def test_the_other_way_round_it_lies_on_its_side() -> None:
    """Dimensions keep their names: the width is that of RHS 80x40x3, which now stands up."""
    section = as_measured("RHS 40x80x3", {"width": 41.0})
    assert (section.width, section.height) == pytest.approx((80, 41))


@pytest.mark.parametrize(
    ("name", "measured", "says"),
    [
        ("RHS 80x40x3", {}, "measured: found 'nothing'; give at least one of width, height, wall, outer_radius, inner"),
        ("RHS 80x40x3", {"diameter": 60}, "RHS 80x40x3, dimension, unknown key: found 'diameter'; the keys are width"),
        (
            "CHS 60.3x3.2",
            {"width": 60},
            "CHS 60.3x3.2, dimension, unknown key: found 'width'; the keys are diameter, wall",
        ),
        ("RHS 80x40x3", {"wall": 20}, "wall: found '20 mm'; must be less than half the smaller side, 20 mm"),
        ("RHS 80x40x3", {"width": math.nan}, "width: found nan; must be more than 0"),
        ("RHS 80x40x99", {"wall": 3}, "section: found 'RHS 80x40x99'; "),
    ],
    ids=str,
)
def test_not_as_measured(name: str, measured: dict[str, float], says: str) -> None:
    with pytest.raises(mt.BadInput) as caught:
        as_measured(name, measured)
    assert str(caught.value).startswith(says)


def test_from_a_drawing(tmp_path: Path) -> None:
    path = write(tmp_path / "channel bar.dxf", box(10, 10, 70, 50), circle((40, 30), 10))
    section = mt.from_dxf(path)
    assert (section.name, section.shape.word) == ("channel bar", "outline")
    assert section.source == "outline in channel bar.dxf, curves other than arcs within 0.001 mm"
    assert section.area == pytest.approx(2400 - 100 * math.pi, rel=1e-9)
    assert (section.width, section.height, section.rotation) == pytest.approx((60, 40, 0))
    assert mt.from_dxf(str(path), name="BAR").name == "BAR"


def test_what_is_drawn_is_cut_like_any_section(tmp_path: Path) -> None:
    """At 45 degrees the face is sqrt 2 as large; a piece of 1000 at the long point loses a wedge of 60 at its end."""
    section = mt.from_dxf(write(tmp_path / "drawn.dxf", box(0, 0, 60, 40), circle((30, 20), 10)))
    area = 2400 - 100 * math.pi
    assert mt.Cut(45).face(section).area == pytest.approx(area * math.sqrt(2))
    piece = mt.Piece(section, 1000, right=mt.Cut(45))
    assert piece.short_point == pytest.approx(940)
    assert piece.volume == pytest.approx(area * 970)


def test_a_drawn_tube_and_the_same_of_the_catalogue(tmp_path: Path) -> None:
    """As round tube: area, perimeter and what the blade meets are the same numbers."""
    drawn = mt.from_dxf(write(tmp_path / "drawn.dxf", circle((30, 30), 30), circle((30, 30), 27)))
    made = mt.round_tube(60, 3)
    assert (drawn.area, drawn.perimeter) == pytest.approx((made.area, made.perimeter), rel=1e-12)
    for cut in (mt.Cut(30), mt.Cut(45, 20)):
        ours, theirs = cut.face(drawn), cut.face(made)
        assert (ours.largest_contact, ours.thinnest_wall, ours.perimeter) == pytest.approx(
            (theirs.largest_contact, theirs.thinnest_wall, theirs.perimeter), rel=1e-9
        )


# In a job


DRAWN = table("section", name="BAR", shape="dxf", file="drawn.dxf")


def piece(section: str = "BAR") -> str:
    return table("piece", mark="P", section=section, length=1000)


def test_a_drawn_section_in_a_job(tmp_path: Path) -> None:
    """2400 less a circle of 10, 1 m long, in steel."""
    write(tmp_path / "drawn.dxf", box(0, 0, 60, 40), circle((30, 20), 10))
    (found,) = checked(tmp_path, DRAWN, piece())["pieces"]
    assert (found["section"], found["volume_mm3"]) == ("BAR", pytest.approx((2400 - 100 * math.pi) * 1000))
    assert found["mass_kg"] == pytest.approx((2400 - 100 * math.pi) * 7850e-6)


def test_a_frame_of_a_drawn_section(tmp_path: Path) -> None:
    write(tmp_path / "drawn.dxf", box(0, 0, 60, 40))
    record = checked(tmp_path, DRAWN, frame("rectangle", "BAR", width=1000, height=600, measured="centerline"))
    assert [found["long_point_mm"] for found in record["pieces"]] == pytest.approx([1060, 660])
    assert [found["short_point_mm"] for found in record["pieces"]] == pytest.approx([940, 540])


def test_its_unit_and_layer(tmp_path: Path) -> None:
    """The unit of the file's lengths is not that of the job."""
    write(tmp_path / "drawn.dxf", box(0, 0, 2, 2, "CUT"), circle((9, 9), 5), unit=NO_UNIT)
    section = table("section", name="BAR", shape="dxf", file="drawn.dxf", units="in", layer="CUT")
    (found,) = checked(tmp_path, section, piece(), head=HEAD + 'units = "mm"\n')["pieces"]
    assert found["volume_mm3"] == pytest.approx(50.8**2 * 1000)


def test_a_size_as_measured_in_a_job(tmp_path: Path) -> None:
    """In inches; the name in the job is the shop's own."""
    section = table("section", name="OLD", as_measured="RHS 80x40x3", width=1.6, wall="2.9 mm")
    record = checked(
        tmp_path, section, table("piece", mark="P", section="OLD", length=10), head=HEAD + 'units = "in"\n'
    )
    (found,) = record["pieces"]
    assert found["volume_mm3"] == pytest.approx(tube_area(40.64, 80, 2.9, 6, 3) * 254)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"shape": "dxf"}, "file: found 'nothing'; the key is needed here"),
        ({"shape": "dxf", "file": "none.dxf"}, "DXF file: found '"),
        (
            {"shape": "dxf", "file": "open.dxf"},
            "open.dxf: drawing: found '(0.000, 0.000) mm'; an outline is open there; ",
        ),
        ({"shape": "dxf", "file": "drawn.dxf", "units": "ft"}, "units: found 'ft'; allowed: mm, in"),
        ({"shape": "dxf", "file": "drawn.dxf", "layer": "NO"}, "DXF outline: found 'drawn.dxf'; it holds none of LINE"),
        (
            {"shape": "dxf", "file": "drawn.dxf", "wall": 3},
            "key, unknown key: found 'wall'; the keys are name, shape, file",
        ),
        ({"shape": "drawn", "file": "drawn.dxf"}, "shape: found 'drawn'; allowed: angle, "),
        ({"as_measured": "RHS 80x40x3"}, "measured: found 'nothing'; give at least one of width, height, wall, "),
        ({"as_measured": "RHS 80x40x3", "width": 0}, "width: found 0; it must be more than 0; "),
        ({"as_measured": "RHS 80x40x3", "diameter": 60}, "RHS 80x40x3, dimension, unknown key: found 'diameter'; "),
        (
            {"as_measured": "RHS 80x40x3", "shape": "flat"},
            "key, unknown key: found 'shape'; the keys are name, as_measured",
        ),
        ({"as_measured": "RHS 80x40x99", "width": 9}, "section: found 'RHS 80x40x99'; "),
    ],
    ids=str,
)
def test_no_section(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    write(tmp_path / "drawn.dxf", box(0, 0, 60, 40))
    write(tmp_path / "open.dxf", line((0, 0), (60, 0)))
    found = refusal(tmp_path, table("section", name="BAR", **keys), piece())
    assert found.startswith(f"[[section]] BAR: {says}")
