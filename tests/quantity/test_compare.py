"""Lengths that are one by the definitions of 1959 (1 in = 25.4 mm, 1 ft = 12 in) are compared as one, wherever a length
is held against another: 288 x 25.4 is 7315.200000000001 in double precision and 24 x 304.8 is 7315.2; 12 x 25.4 is
304.79999999999995."""

from __future__ import annotations

from pathlib import Path

import attrs
import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Stock, buying_list, solve
from mitertool.quantity import length
from mitertool.quantity.compare import longer, same_length
from mitertool.saw import Saw
from mitertool.saw.file.machine import Bed, Cutting
from mitertool.saw.proof.classes import tolerance_class
from tests.job.test_solve import SAW, WITH_SAW, piece, solved

FEET, INCHES = length("24'", "in", "a"), length("288", "in", "b")
FOOT, TWELVE = length("1'", "in", "a"), length("12", "in", "b")


def test_feet_and_inches_are_one_length() -> None:
    assert FEET != INCHES
    assert FOOT != TWELVE
    assert same_length(FEET, INCHES)
    assert not longer(INCHES, FEET)
    assert not longer(FOOT, TWELVE)


def test_a_hundredth_of_a_millimetre_is_none() -> None:
    assert not same_length(1200.0, 1200.01)
    assert longer(1200.01, 1200.0)
    assert not longer(1200.0, 1200.01)


def test_a_foot_is_not_too_short_for_a_feed_of_twelve_inches(tmp_path: Path) -> None:
    """The feed takes a foot or more, and the piece is twelve inches long."""
    saw = SAW + '[feed]\nstroke = 500\nshortest = "1\'"\ncounts_kerf = true\n'
    head = WITH_SAW.replace("[job]\n", '[job]\nunits = "in"\n')
    assert solved(tmp_path, head + piece(length=12), saw).problems == ()
    assert len(solved(tmp_path, head + piece(length=11.99), saw).problems) == 1


@pytest.mark.parametrize(("wide", "codes"), [(FOOT, []), (FOOT + 0.01, ["width"])])
def test_a_bar_as_wide_as_the_vise_goes_in(wide: float, codes: list[str]) -> None:
    saw = attrs.evolve(Saw("bench"), bed=Bed(width=TWELVE, height=100.0))
    assert [reason.code for reason in saw.reach(mt.flat(wide, 10), mt.Cut()).reasons] == codes


def test_a_length_at_the_end_of_its_row_stays_in_it() -> None:
    """ISO 13920-B: 3 mm up to 1000, 4 mm above; an angle 30' up to 1000 of its leg. 1000 as a sum that misses it."""
    told = tolerance_class("ISO 13920-B")
    assert (told.length(1000 + 1e-10), told.angle(1000 + 1e-10)) == (3, 0.5)
    assert told.length(1000.01) == 4


def test_a_wall_at_the_end_of_a_row_of_the_shop_is_in_it() -> None:
    """3/16 as a decimal of mm, and as a fraction of an inch."""
    assert Cutting(wall_from=0.0, wall_to=4.7625).holds_for("", 3 / 16 * 25.4 + 1e-12)
    assert not Cutting(wall_from=0.0, wall_to=4.7625).holds_for("", 4.77)


def test_bars_of_one_length_are_bought_as_one() -> None:
    """A bar of 24 feet and one of 288 inches, each holding one piece of 7 m."""
    flat = mt.flat(40, 10).named("FLAT 40x10", "own")
    stock = [Stock(flat.name, FEET, quantity=1), Stock(flat.name, INCHES, quantity=1)]
    plan = solve([Item("A", mt.Piece(flat, 7000), 2)], stock, Allowance(2.0))
    assert [row.count for row in buying_list(plan)] == [2]
