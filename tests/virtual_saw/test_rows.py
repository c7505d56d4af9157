"""Bars that are cut at once, each walked by itself on the virtual saw by the instructions for all of them.

A bar that lies further from the fixed jaw meets the same blade as one that lies at it on a saw whose swing axis stands
so much nearer; the tape marks of its own sides lie on the straight line between those of the whole row.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.virtual_saw import packets, plan_reader, steel
from tests.virtual_saw.lays import Lies, Stock
from tests.virtual_saw.machine import read
from tests.virtual_saw.steel import Solid, error
from tests.virtual_saw.walk import Bar, Step, as_drawn, foremost, walk

SAW = """[saw]
name = "By hand"
units = "mm"
kind = "column"
kerf = 2
invented = true
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[bed]
swing_axis = 15
width = 300
height = 200
[vise]
fixed_jaw = "{jaw}"
[feed]
stroke = 3000
counts_kerf = true
"""
OWN = '[[section]]\nname = "OWN"\nshape = "{}"\n{}\n[[stock]]\nsection = "OWN"\nlength = 6000\n'
PIECE = '[[piece]]\nmark = "A"\nsection = "OWN"\nlength = 500\nleft = 45\nright = -45\n'
HEAD = '[job]\nname = "Rows"\nsaw = "saw.toml"\n[nest]\ntrim = 10\n'

TUBE = Stock("rect-tube", steel.rect_tube(40, 30, 3, 6))
LEG = Stock("angle", steel.angle(50, 40, 5))
WAYS = ("tape", "fed", "key")


def drawn(stock: Stock) -> Solid:
    """The piece: x from -y to 500 - y."""
    return Solid(stock.section, ((0.0, -1.0, 0.0),), ((500.0, -1.0, 0.0),))


def member(bar: Bar, stock: str, lies: Lies, across: float, row: float, wide: float) -> Bar:
    """The instructions for one bar whose fixed side stands so far across a row, mm."""

    def on_it(step: Step) -> Step:
        assert step.tape
        fixed, moving = (step.tape[0] + (step.tape[1] - step.tape[0]) * y / row for y in (across, across + wide))
        return replace(step, tape=(fixed, moving), lies=None)

    return replace(bar, section=stock, lies=lies, steps=tuple(map(on_it, bar.steps)))


def cut(
    folder: Path, text: str, jaw: str, members: list[tuple[Stock, Lies, float]], row: float
) -> Iterator[list[Solid]]:
    """The pieces of each bar by every way to move it."""
    packets.solution(folder, text, SAW.format(jaw=jaw))
    (bar,) = plan_reader.bars(packets.plan(packets.solved(folder / "job.toml")))
    saw = read(folder / "saw.toml", {"job": {}, "nest": {"trim": 10}})
    for stock, lies, across in members:
        mine = member(bar, "OWN", lies, across, row, lies.wide)
        here = replace(saw, axis=15 - across)
        for way in WAYS:
            walked = walk(here, stock, mine, way)
            assert walked.wrong == []
            assert foremost(walked.pieces[0][1]) >= 10 - 1e-6
            yield [as_drawn(solid, saw) for _, solid in walked.pieces]


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_every_tube_of_a_row_gives_the_piece(tmp_path: Path, jaw: str) -> None:
    own = OWN.format("rect-tube", "width = 40\nheight = 30\nwall = 3\nouter_radius = 6\ninner_radius = 3")
    text = HEAD + own + PIECE + "quantity = 6\nside_by_side = 3\n"
    lies = Lies(40, 30, "lies on its wide side")
    found = list(cut(tmp_path, text, jaw, [(TUBE, lies, 40.0 * j) for j in range(3)], 120.0))
    assert [len(pieces) for pieces in found] == [2] * 9
    assert max(error(piece, drawn(TUBE)) for pieces in found for piece in pieces) < 1e-6


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_a_box_gives_one_of_either_hand(tmp_path: Path, jaw: str) -> None:
    """Legs 5 thick: the box is 55 wide, one heel at the fixed jaw below, the other at the moving jaw above."""
    text = HEAD + OWN.format("angle", "width = 50\nheight = 40\nthickness = 5") + PIECE
    text += "quantity = 4\nopposite = 4\nboxed = true\n"
    first = (LEG, Lies(50, 40, "heel at the bottom, fixed-jaw side"), 0.0)
    second = (LEG, Lies(50, 40, "heel at the top, moving-jaw side"), 5.0)
    wanted, mirrored = drawn(LEG), drawn(LEG).mirrored()
    one, other = (list(cut(tmp_path, text, jaw, [which], 55.0)) for which in (first, second))
    assert [len(pieces) for pieces in (*one, *other)] == [4] * 6
    hands = [min((wanted, mirrored), key=lambda hand: error(pieces[0], hand)) for pieces in (*one, *other)]
    assert hands in ([wanted] * 3 + [mirrored] * 3, [mirrored] * 3 + [wanted] * 3)
    for pieces, hand in zip((*one, *other), hands, strict=True):
        assert max(error(piece, hand) for piece in pieces) < 1e-6
