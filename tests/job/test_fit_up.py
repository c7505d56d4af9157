"""What the scale's division opens in a job's frames and uses up of its tolerance, worked by hand.

ISO 13920 class B (see tests/saw/test_fit_up.py for where its figures come from): over 1000 to 2000 mm 4 mm either way;
angles by the shorter leg, up to 400 mm 45', to 1000 mm 30', above 20'. ISO 2768-m: 1000 to 2000 mm 1.2 mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.job.test_solve import HEAD, SAW, piece, solved

FRAME = (
    '[[frame]]\nmark = "F"\nshape = "rectangle"\nsection = "SHS 50x50x3"\nwidth = 1500\nheight = 1200\n'
    'measured = "outside"\n'
)
T = math.tan(math.radians(0.5))
DIVISION = SAW.replace("[scale]\n", "[scale]\ndivision = 0.5\n")


def job(tolerance: str = "", more: str = FRAME) -> str:
    tolerated = f'tolerance = "{tolerance}"\n' if tolerance else ""
    return HEAD + f'saw = "saw.toml"\n{tolerated}' + more


def walked(sides: Sequence[float], turn: float) -> float:
    """How far from its beginning a walk along sides ends that turns by so many degrees after each, mm."""
    x = y = heading = 0.0
    for side in sides:
        x += side * math.cos(math.radians(heading))
        y += side * math.sin(math.radians(heading))
        heading += turn
    return math.hypot(x, y)


def test_what_a_division_of_half_a_degree_opens(tmp_path: Path) -> None:
    """Mitered at 45, both half a degree too large: 2 x 50 x 2t/(1 - t)/r2 at the throat. Three corners shut at 89
    degrees where it is too much, each side turning 91 from the one before it, and at 91 where it is too little.
    """
    fit = solved(tmp_path, job(), DIVISION).fit.frame("F")
    assert fit is not None
    assert fit.error == 0.5
    throat, heel = (2 * 50 * 2 * T / (1 + sign * T) / math.sqrt(2) for sign in (-1, 1))
    assert [one.throat for one in fit.too_much] == pytest.approx([throat] * 4)
    assert [one.heel for one in fit.too_little] == pytest.approx([heel] * 4)
    assert fit.apart == pytest.approx([walked([1500, 1200] * 2, 91), walked([1500, 1200] * 2, 89)])


def test_a_butted_corner_has_one_cut_face(tmp_path: Path) -> None:
    """Square butts: the end of one member turns about its heel, 50 tan(0.5) at the throat."""
    fit = solved(tmp_path, job(more=FRAME + 'corners = "butt"\n'), DIVISION).fit.frame("F")
    assert fit is not None
    assert [one.throat for one in fit.too_much] == pytest.approx([50 * T] * 4)


def test_shares_of_the_welded_frame(tmp_path: Path) -> None:
    """Legs of 1200 and more: a corner may be 20' out and both ends together are 60'; 0.5 mm of 4 mm is an eighth."""
    fit = solved(tmp_path, job("ISO 13920-B"), DIVISION).fit
    frame = fit.frame("F")
    assert frame is not None
    assert [corner.share.share for corner in frame.corners] == pytest.approx([3.0] * 4)
    assert fit.pieces["F-1"].length.share == pytest.approx(0.125)
    assert fit.pieces["F-1"].wants_checking


def test_shares_of_a_single_part(tmp_path: Path) -> None:
    """A face of 50/cos 45 = 70.7 mm is the shorter leg: 20' either way, of which 0.5 degrees is one and a half; a
    square end of 50 mm may be 30' out.
    """
    fit = solved(tmp_path, job("ISO 2768-m", piece(section="SHS 50x50x3", more="left = 45", length=1500)), DIVISION).fit
    found = fit.pieces["A"]
    assert found.length.share == pytest.approx(0.5 / 1.2)
    assert [angle.share for angle in found.angles] == pytest.approx([1.5, 1.0])
    assert found.wants_checking


def test_a_long_single_part_on_a_fine_scale_needs_no_checking(tmp_path: Path) -> None:
    fine = SAW.replace("[scale]\n", "[scale]\ndivision = 0.05\n")
    fit = solved(tmp_path, job("ISO 2768-v", piece(section="SHS 50x50x3", more="left = 45", length=1500)), fine).fit
    assert not fit.pieces["A"].wants_checking


@pytest.mark.parametrize("name", ["", "as the drawing says", "ISO 13920-B, and ISO 13920-F for flatness"])
def test_words_of_the_shop_have_no_figures(tmp_path: Path, name: str) -> None:
    fit = solved(tmp_path, job(name)).fit
    assert (fit.tolerance, dict(fit.pieces)) == (None, {})
    assert fit.frame("F") is not None


def test_a_hexagon_on_a_scale_of_half_degrees(tmp_path: Path) -> None:
    """Six sides of 300, ends of 30.5 or 29.5 degrees: five corners shut at 119 or 121, a turn of 61 or 59 at each."""
    ring = '[[frame]]\nmark = "F"\nshape = "polygon"\nsection = "SHS 40x40x3"\nsides = 6\nside = 300\n'
    fit = solved(tmp_path, job(more=ring + 'measured = "outside"\n'), DIVISION).fit.frame("F")
    assert fit is not None
    assert fit.apart == pytest.approx([walked([300] * 6, 61), walked([300] * 6, 59)])


def test_an_open_frame_has_no_last_corner(tmp_path: Path) -> None:
    sides = 'lengths = [500, 600, 700]\nangles = [90, 120]\nclosed = false\nmeasured = "outside"\n'
    fit = solved(
        tmp_path, job(more=FRAME.split("shape")[0] + f'shape = "polygon"\nsection = "SHS 50x50x3"\n{sides}')
    ).fit
    (frame,) = fit.frames
    assert frame.apart == ()


def test_a_frame_without_joints_has_no_fit(tmp_path: Path) -> None:
    brace = '[[frame]]\nmark = "B"\nshape = "brace"\nsection = "SHS 40x40x3"\nrun = 900\nrise = 600\nends = "level"\n'
    assert solved(tmp_path, job(more=brace)).fit.frame("B") is None
