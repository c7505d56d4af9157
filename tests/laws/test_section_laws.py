"""Laws of every section in every lay: nothing about the material changes when a bar is turned or rolled."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import mitertool as mt
from tests.laws.checks import check_support, distance_to_outline, same, sampled_outline
from tests.laws.strategies import LAW, rotations, sections
from tests.specimens import LAYS, SPECIMENS, heights, lays_of, outline_points, scanline

every_specimen = pytest.mark.parametrize("name", SPECIMENS)

DIRECTIONS = [(1.0, 0.0), (0.0, -1.0), (1.0, 1.0), (-0.6, 0.02), (0.3, -1.7), (-1e-3, -1e-4), (0.0, 0.0)]


def same_outline(one: mt.Section, other: mt.Section) -> None:
    """Every sampled point of one lies on the other, and the sizes agree."""
    same(one.width, other.width)
    same(one.height, other.height)
    for y, z in sampled_outline(one)[::5]:
        assert distance_to_outline(other, y, z) <= 1e-7


@every_specimen
def test_area_and_centroid_are_those_of_a_polygon(name: str) -> None:
    """The shoelace sum of chords no further than 1e-5 mm from their arcs is off by at most 2/3 of that times the length
    of the outline; a point of it moves by no more than that share of the section's size."""
    for section in lays_of(name):
        sides = [
            (*a, *b) for loop in outline_points(section, 1e-5) for a, b in zip(loop, loop[1:] + loop[:1], strict=True)
        ]
        shoelace = sum((y0 * z1 - y1 * z0) / 2 for y0, z0, y1, z1 in sides)
        assert abs(section.area - shoelace) <= 2 / 3 * 1e-5 * section.perimeter + 1e-9 * section.area
        moments = [
            sum((y0 * z1 - y1 * z0) * (y0 + y1) / 6 for y0, z0, y1, z1 in sides),
            sum((y0 * z1 - y1 * z0) * (z0 + z1) / 6 for y0, z0, y1, z1 in sides),
        ]
        reach = max(section.width, section.height)
        slack = 1e-5 * section.perimeter / section.area * reach + 1e-9 * reach
        for found, moment in zip(section.centroid, moments, strict=True):
            assert abs(found - moment / shoelace) <= slack


@every_specimen
def test_the_box_starts_in_the_corner_and_is_filled(name: str) -> None:
    for section in lays_of(name):
        points = sampled_outline(section)
        reach = max(section.width, section.height)
        assert points.min(axis=0) == pytest.approx([0, 0], abs=1e-3)
        assert points.min() >= -1e-9 * reach
        assert points.max(axis=0) == pytest.approx([section.width, section.height], abs=1e-3)


@every_specimen
def test_material_lies_on_the_left_of_every_loop(name: str) -> None:
    """A step to the left of the middle of every side or arc is metal, to the right is air."""
    for section in lays_of(name):
        for loop in outline_points(section, 1e-3):
            for (y0, z0), (y1, z1) in zip(loop, loop[1:] + loop[:1], strict=True):
                length = math.hypot(y1 - y0, z1 - z0)
                step = 0.02 / length
                for side, metal in ((1, True), (-1, False)):
                    y = (y0 + y1) / 2 - side * step * (z1 - z0)
                    z = (z0 + z1) / 2 + side * step * (y1 - y0) + 1e-9
                    if 0 < z < section.height:
                        assert any(a < y < b for a, b in scanline(section, z)) == metal


@every_specimen
def test_support_is_the_furthest_material(name: str) -> None:
    for section in lays_of(name):
        for p, q in DIRECTIONS:
            check_support(section, p, q)


@LAW
@given(sections, st.floats(-5, 5), st.floats(-5, 5))
def test_support_of_any_section_in_any_direction(section: mt.Section, p: float, q: float) -> None:
    check_support(section, p, q)


@LAW
@given(sections, rotations, st.booleans())
def test_turning_and_rolling_change_no_area_perimeter_or_mass(section: mt.Section, turn: float, turned: bool) -> None:
    laid = section.lay(turn, turned)
    for kind in ("area", "perimeter", "mass_per_metre"):
        same(getattr(laid, kind), getattr(section, kind))


@LAW
@given(sections, rotations)
def test_the_centroid_rolls_with_the_bar(section: mt.Section, turn: float) -> None:
    """Its distance from any point of the material stays: taken here from the extreme ones."""
    laid = section.lay(turn)
    t = math.radians(turn)
    c, s = math.cos(t), math.sin(t)
    for p, q in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.6, -0.8)):
        before = section.support(p, q) - (p * section.centroid[0] + q * section.centroid[1])
        p_now, q_now = c * p - s * q, s * p + c * q
        after = laid.support(p_now, q_now) - (p_now * laid.centroid[0] + q_now * laid.centroid[1])
        same(after, before, section.width + section.height)


@every_specimen
def test_four_quarter_rolls_and_two_turns_give_the_bar_back(name: str) -> None:
    section = SPECIMENS[name]
    rolled = section.lay(90).lay(90).lay(90).lay(90)
    turned = section.lay(0, turned=True).lay(0, turned=True)
    for back in (rolled, turned, section.lay(360), section.lay(-90).lay(90)):
        same_outline(section, back)
        assert (back.rotation, back.turned) == (section.rotation, section.turned)
        assert back.symmetry == section.symmetry
    assert (section.lay(90).width, section.lay(90).height) == pytest.approx((section.height, section.width))


@every_specimen
@pytest.mark.parametrize("lay", LAYS)
def test_the_record_of_the_lay_makes_the_lay(name: str, lay: str) -> None:
    """`rotation` and `turned` of a bar laid twice, given to the bar as made, lay it alike."""
    section = SPECIMENS[name]
    twice = section.lay(*LAYS[lay]).lay(90, turned=True)
    same_outline(twice, section.lay(twice.rotation, twice.turned))


@every_specimen
def test_scanlines_and_chords_agree(name: str) -> None:
    for section in lays_of(name):
        face = mt.Cut().face(section)
        for z in heights(section, 5):
            same(face.contact(z), sum(b - a for a, b in scanline(section, z)), 1e3)


@every_specimen
def test_symmetries_form_a_group(name: str) -> None:
    """Two motions that leave an outline as it is, one after the other, do so too."""
    for section in lays_of(name):
        found = section.symmetry
        for pair, third in {
            ("left-right", "top-bottom"): "half-turn",
            ("left-right", "half-turn"): "top-bottom",
            ("top-bottom", "half-turn"): "left-right",
            ("diagonal", "anti-diagonal"): "half-turn",
            ("left-right", "quarter-turn"): "diagonal",
            ("diagonal", "left-right"): "quarter-turn",
        }.items():
            if set(pair) <= found:
                assert third in found
        if "quarter-turn" in found:
            assert "half-turn" in found
