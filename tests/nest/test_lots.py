"""How the bars of one section lie, by the lays of the pieces that are cut of them."""

from __future__ import annotations

import mitertool as mt
from mitertool.bar import roll_to
from mitertool.nest import Item
from mitertool.nest.lots import frames

LEG = mt.angle(60, 40, 4).named("leg", "made up")


def item(section: mt.Section) -> Item:
    return Item("A", mt.Piece(section, 500), 1)


def test_a_lay_that_was_met_hides_no_other() -> None:
    """Two of one lay first; the same angle rolled a quarter lies on the same bars, its other hand on none of them."""
    over, other = LEG.lay(90), LEG.lay(0, turned=True)
    found = frames([item(LEG), item(LEG), item(over), item(other)])
    assert set(found) == {(0.0, False), (90.0, False), (other.rotation, True)}
    assert found[0.0, False] is found[90.0, False] is not found[other.rotation, True]
    assert found[0.0, False].rolls == {(0.0, False): 0.0, (90.0, False): roll_to(LEG, over)}


def test_without_rolls_lays_that_look_alike_share_bars() -> None:
    found = frames([item(LEG), item(LEG.lay(90))], rolls=False)
    assert found[0.0, False] is not found[90.0, False]
    tube = mt.rect_tube(40, 40, 3)
    alike = frames([item(tube), item(tube.lay(90))], rolls=False)
    assert alike[0.0, False] is alike[90.0, False]
