"""How angle and channel lie in a frame, by words: where the heel, the legs and the toes come to lie.

The frame's outside is the moving side (large y), up is large z. Material is looked for at the place that the word
names.
"""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.frame import laid
from tests.specimens import scanline

ANGLE = mt.angle(60, 40, 6)
CHANNEL = mt.channel(40, 80, 5, 6)
OTHERS = [mt.rect_tube(50, 50, 3), mt.flat(80, 12), mt.i_section(55, 100, 4.1, 5.7), mt.tee(60, 60, 7, 7)]


def has_metal(section: mt.Section, y: float, z: float) -> bool:
    return any(a < y < b for a, b in scanline(section, z))


@pytest.mark.parametrize("heel", ["in", "out"])
@pytest.mark.parametrize("leg", ["up", "down"])
def test_angle(heel: str, leg: str) -> None:
    """The leg of 60 lies flat, at the bottom when the other stands up, at the top when it hangs down; the other leg is
    on the heel's side."""
    section = laid(ANGLE, heel=heel, leg=leg)
    assert (section.width, section.height) == pytest.approx((60, 40))
    flat_z, air_z = (3, 37) if leg == "up" else (37, 3)
    heel_y, toe_y = (57, 3) if heel == "out" else (3, 57)
    assert all(has_metal(section, y, flat_z) for y in (3, 30, 57))
    assert has_metal(section, heel_y, air_z)
    assert not has_metal(section, toe_y, air_z)


@pytest.mark.parametrize(
    ("toes", "size", "back", "open_side"),
    [
        ("out", (40, 80), (2.5, 40), (37, 40)),
        ("in", (40, 80), (37.5, 40), (3, 40)),
        ("up", (80, 40), (40, 2.5), (40, 37)),
        ("down", (80, 40), (40, 37.5), (40, 3)),
    ],
)
def test_channel(
    toes: str, size: tuple[float, float], back: tuple[float, float], open_side: tuple[float, float]
) -> None:
    """The back of the web lies on the side away from the toes."""
    section = laid(CHANNEL, toes=toes)
    assert (section.width, section.height) == pytest.approx(size)
    assert has_metal(section, *back)
    assert not has_metal(section, *open_side)


@pytest.mark.parametrize("section", OTHERS, ids=lambda section: section.name)
def test_other_sections_need_no_word(section: mt.Section) -> None:
    assert laid(section) == section


@pytest.mark.parametrize(
    ("section", "words", "says"),
    [
        (ANGLE, {}, r"heel: found 'nothing'; a frame of angle 40x60x6 must say how it lies: heel = out or in"),
        (ANGLE, {"heel": "out"}, r"leg: found 'nothing'; a frame of angle .* must say how it lies: leg = up or down"),
        (ANGLE, {"leg": "up"}, r"heel: found 'nothing'"),
        (ANGLE, {"heel": "up", "leg": "up"}, r"heel: found 'up'; .*heel = out or in"),
        (ANGLE, {"heel": "out", "leg": "out"}, r"leg: found 'out'; .*leg = up or down"),
        (ANGLE, {"heel": "out", "leg": "up", "toes": "in"}, r"toes: found 'in'; angle 40x60x6 has no toes; leave"),
        (CHANNEL, {}, r"toes: found 'nothing'; a frame of channel .* .*: toes = out or in or up or down"),
        (CHANNEL, {"toes": "left"}, r"toes: found 'left'"),
        (CHANNEL, {"toes": "in", "heel": "out"}, r"heel: found 'out'; channel 80x40x5 has no heel"),
        (OTHERS[0], {"heel": "out"}, r"heel: found 'out'; rect tube 50x50x3 has no heel"),
        (OTHERS[0], {"leg": "up"}, r"leg: found 'up'; .* has no leg"),
        (OTHERS[1], {"toes": "up"}, r"toes: found 'up'; .* has no toes"),
    ],
)
def test_refused(section: mt.Section, words: dict[str, str], says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        laid(section, **words)


@pytest.mark.parametrize("lay", [0, 90, 180, 270])
@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("heel", ["in", "out"])
@pytest.mark.parametrize("leg", ["up", "down"])
def test_an_angle_that_was_laid_before(lay: int, turned: bool, heel: str, leg: str) -> None:
    """The leg that lay flat still does; heel and standing leg are where the words have them, by where the weight is."""
    before = ANGLE.lay(lay, turned)
    section = laid(before, heel=heel, leg=leg)
    assert (section.width, section.height) == pytest.approx((before.width, before.height))
    y, z = section.centroid
    assert (y > section.width / 2) == (heel == "out")
    assert (z < section.height / 2) == (leg == "up")
