"""Ends unrolled, and which way round a template lies; the printed development in `tests/published`."""

from __future__ import annotations

from math import pi, radians, sin, tan

import numpy as np
import pytest

import mitertool as mt
from mitertool.geometry.saddle import Saddle
from mitertool.piece.skin import Skin, Template


def test_a_sine_over_the_arc() -> None:
    """By miter the long point lies at the moving side, a quarter round; from the right end the fixed side is first."""
    r, angle = 30.15, radians(22.5)
    piece = mt.Piece(mt.round_tube(60.3, 3), 500, right=mt.Cut(22.5))
    template = Template(piece, "right")
    for around, out in template.stations(16):
        assert out == pytest.approx(r * tan(angle) * (1 - sin(around / r)), abs=1e-9)
    assert [side for side, _ in template.skin.lines] == ["top", "fixed", "bottom", "moving"]
    assert [side for side, _ in Skin(piece.section, "left").lines] == ["top", "moving", "bottom", "fixed"]


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("section", [mt.round_tube(60.3, 3), mt.rect_tube(80, 40, 3), mt.rect_tube(50, 50, 4, 0, 0)])
def test_a_template_is_not_mirrored(section: mt.Section, end: str) -> None:
    """Seen from outside, once around goes right where the end is up: right x up points out of the steel."""
    skin = Skin(section, end)
    up = np.array([1.0 if end == "right" else -1.0, 0, 0])
    for around in np.linspace(0, skin.around, 37):
        (y0, z0), (y1, z1) = skin.place(float(around) - 1e-4), skin.place(float(around) + 1e-4)
        right = np.array([0, y1 - y0, z1 - z0])
        middle = np.array([0, (y0 + y1) / 2 - section.width / 2, (z0 + z1) / 2 - section.height / 2])
        assert np.dot(np.cross(right, up), middle) > 0


def test_once_around_a_rectangular_tube() -> None:
    """Outside of a 80 x 40 tube rounded by 6: 2 (80 + 40) - 8 r + 2 pi r; its corners lie where a tape finds them."""
    skin = Skin(mt.rect_tube(80, 40, 3), "right")
    assert skin.around == pytest.approx(240 - 48 + 12 * pi, abs=1e-9)
    assert dict(skin.lines) == pytest.approx(
        {"top": 0, "fixed": 34 + 3 * pi + 14, "bottom": skin.around / 2, "moving": skin.around / 2 + 48 + 3 * pi},
        abs=1e-9,
    )
    assert skin.place(0.0) == pytest.approx((40, 40), abs=1e-9)
    assert skin.place(34 + 1.5 * pi) == pytest.approx((6 - 6 * sin(pi / 4), 34 + 6 * sin(pi / 4)), abs=1e-9)


def test_an_end_with_two_planes() -> None:
    """A tube pointed by 45 degrees both ways: its tip runs over the middle, both sides fall away from it."""
    piece = mt.Piece(mt.rect_tube(60, 60, 3, 0, 0), 500, right=(mt.Cut(45), mt.Cut(-45)))
    template = Template(piece, "right")
    assert template.out(0.0) == pytest.approx(30, abs=1e-9)
    assert template.out(30.0) == pytest.approx(0, abs=1e-9)
    assert template.out(60.0) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("section", [mt.flat(80, 12), mt.angle(50, 50, 5), mt.round_bar(20)])
def test_nothing_is_wrapped_around_what_is_no_tube(section: mt.Section) -> None:
    with pytest.raises(mt.BadInput, match="a template is wrapped around a tube"):
        Skin(section, "right")


def test_the_curve_holds_every_ordinate() -> None:
    """Between its points a chord stands off by a micrometre at most, as its tolerance says."""
    piece = mt.Piece(mt.round_tube(168.3, 5), 900, left=mt.Cut(30, 20))
    template = Template(piece, "left")
    around, out = np.array(template.curve).T
    for at in np.linspace(0, template.skin.around, 777):
        assert np.interp(at, around, out) == pytest.approx(template.out(float(at)), abs=2e-3)


@pytest.mark.parametrize("end", ["left", "right"])
def test_the_curve_of_a_sharp_tube_bends_at_its_corners(end: str) -> None:
    """80 x 40, sharp: from the middle of the top corners lie at 40, 80, 160 and 200 of 240; an end of slopes p and q
    stands out at them by p*y + q*z, from the lowest of the four."""
    p, q = 0.5, -0.25
    cut = mt.Cut.from_slopes(p, q)
    template = Template(mt.Piece(mt.rect_tube(80, 40, 3, 0, 0), 500, **{end: cut}), end)
    corners = [(0, 40), (0, 0), (80, 0), (80, 40)] if end == "right" else [(80, 40), (80, 0), (0, 0), (0, 40)]
    lowest = min(p * y + q * z for y, z in corners)
    found = dict(template.curve)
    for around, (y, z) in zip((40, 80, 160, 200), corners, strict=True):
        assert found[around] == pytest.approx(p * y + q * z - lowest, abs=1e-9)


def test_a_step_around_is_the_chord_that_may_stand_off() -> None:
    """A chord over an angle 2a of a circle of r stands off by r (1 - cos a); corners are skinned by the tightest."""
    step = Skin(mt.rect_tube(80, 40, 3, 6, 3), "right").step(0.01)
    assert 6 * (1 - np.cos(step / 6 / 2)) == pytest.approx(0.01, rel=1e-9)
    assert Skin(mt.rect_tube(80, 40, 3, 0, 0), "right").step(0.01) == 240


@pytest.mark.parametrize(("angle", "down"), [(90, (40, 50, 40, 50)), (60, (40, 65, 40, 35))])
def test_an_end_that_stands_on_a_round_run(angle: float, down: tuple[float, ...]) -> None:
    """A tube of 30 on a run of 50, which is 40 high under its top and bottom and 50 under its sides. Leaning by 60
    degrees the side it leans from (fixed) reaches 30 cos 60 = 15 further down, the other as much less, all over
    sin 60: 65, 40 and 35 from the run's middle, told from the lowest."""
    piece = mt.Piece(mt.round_tube(60, 3), 500)
    template = Template(piece, "right", Saddle(30, 50, angle))
    places = dict(template.skin.lines)
    found = [template.out(places[side]) for side in ("top", "fixed", "bottom", "moving")]
    assert found == pytest.approx([(max(down) - one) / sin(radians(angle)) for one in down], abs=1e-9)
