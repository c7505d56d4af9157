"""The preview in a terminal: it fits 80 columns, says what the plan says, and its pictures lean the right way.

Pictures are worked by hand: a piece is four rows deep, and an end of 45 degrees moves one column a row.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.base.terminal import columns_of, printable
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.preview import preview
from mitertool.piece.poses import ROLLED, TURNED
from mitertool.quantity import show_angle, show_length
from mitertool.saw import Reach
from tests.packet.jobs import JOBS

SHOWN = 0.01
"""degrees. Two decimals are shown of a roll."""

MIRROR = str.maketrans("/\\", "\\/")


def shown(folder: Path, *pieces: str) -> list[str]:
    """The preview of pieces given by their keys, all cut from a flat 40 wide and 10 high, without a saw."""
    tables = (f'[[piece]]\nsection = "FLAT 40x10"\n{piece}\n' for piece in pieces)
    (folder / "job.toml").write_text('[job]\nname = "preview"\n' + "".join(tables))
    return preview(solve(load(folder / "job.toml")))


def picture(folder: Path, keys: str) -> str:
    """The picture of the one piece, from its mark's lengths to its ends."""
    lines = shown(folder, f'mark = "A"\n{keys}')
    first = next(i for i, line in enumerate(lines) if line.startswith("  long point"))
    last = next(i for i, line in enumerate(lines) if line.startswith("  left end"))
    return "\n".join(lines[first + 1 : last])


def test_a_square_piece(tmp_path: Path) -> None:
    assert picture(tmp_path, "length = 80") == (
        "    ________\n    |      |  moving jaw\n    |      |\n    |      |\n    |______|  fixed jaw"
    )  # 80 long and 40 wide: twice four rows


def test_a_pointed_piece(tmp_path: Path) -> None:
    assert picture(tmp_path, "length = 80\nleft = 45\nright = 45") == (
        "    ________\n    \\      /  moving jaw\n     \\    /\n      \\  /\n       \\/     fixed jaw"
    )


def test_the_long_point_at_the_fixed_jaw(tmp_path: Path) -> None:
    assert picture(tmp_path, "length = 80\nleft = -45\nright = 0") == (
        "        ____\n       /   |  moving jaw\n      /    |\n     /     |\n    /______|  fixed jaw"
    )


def test_parallel_ends_longer_than_the_picture(tmp_path: Path) -> None:
    assert picture(tmp_path, "length = 4000\nleft = 45\nright = -45") == (
        "    _______________//___________\n"
        "    \\                           \\     moving jaw\n"
        "     \\                           \\\n"
        "      \\                           \\\n"
        "       \\___________//______________\\  fixed jaw"
    )


def test_a_long_miter(tmp_path: Path) -> None:
    assert picture(tmp_path, 'length = 160\nright = { slope = "2:1" }') == (
        "    ________________\n"
        "    |             _/  moving jaw\n"
        "    |           _/\n"
        "    |         _/\n"
        "    |________/        fixed jaw"
    )  # 80 long at the fixed jaw; two columns a row


def test_a_bevel_is_drawn_from_the_side_too(tmp_path: Path) -> None:
    assert picture(tmp_path, "length = 30\nright = { miter = 0, bevel = 45 }").splitlines()[5:] == [
        "    ____________",
        "    |          /  top",
        "    |         /",
        "    |        /",
        "    |_______/     bed",
    ]  # 10 high: 30 long at the top is twelve columns, 20 at the bed eight


HANDS = ("45", "0"), ("-33.7", "20"), ("60", "-10"), ("{ miter = 20, bevel = 30 }", "-5"), ("80", "-80")


@pytest.mark.parametrize(("left", "right"), HANDS)
def test_the_opposite_hand_is_the_mirror_image(left: str, right: str, tmp_path: Path) -> None:
    def bare(keys: str) -> list[str]:
        """The rows without the words at their right."""
        return [line.rstrip("abcdefghijklmnopqrstuvwxyz ").strip() for line in picture(tmp_path, keys).splitlines()]

    one, other = (
        bare(f"length = 90\nleft = {left}\nright = {right}"),
        bare(f"length = 90\nleft = {right}\nright = {left}"),
    )
    assert [row[::-1].translate(MIRROR).replace("_\\\\_", "_//_") for row in one] == other


def test_a_saw_turns_degrees_into_readings(solution_of: Callable[[str], Solution]) -> None:
    lines = preview(solution_of("boathouse-gate"))
    assert "Angles are what the saw's scale reads." in " ".join(lines)
    # Square reads 90 and the reading grows to the feed side: a right +45 reads 135.
    assert "  right end: scale reads 135°, arm 45° to feed side" in lines


def test_no_saw_leaves_degrees_from_square(tmp_path: Path) -> None:
    lines = shown(tmp_path, 'mark = "A"\nlength = 80\nleft = 30')
    assert "Angles are degrees from square." in " ".join(lines)
    assert "  left end: from square 30°, long point at moving jaw" in lines


@pytest.mark.parametrize("name", JOBS)
def test_every_line_fits(name: str, solution_of: Callable[[str], Solution]) -> None:
    lines = preview(solution_of(name))
    assert max(map(columns_of, lines)) <= 80
    assert all(line.isprintable() and line == line.rstrip() for line in lines)


@pytest.mark.parametrize("name", JOBS)
def test_every_mark_says_what_is_cut(name: str, solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of(name)
    lines, units = preview(solution), solution.job.head.units
    blocks = [block.split() for block in "\n".join(lines).split("\n\n")[2:]]
    assert len(blocks) == len(solution.pieces)
    for solved, words in zip(solution.pieces, blocks, strict=True):
        says = " ".join(words)
        assert says.startswith(f"{printable(solved.mark)}: {solved.quantity} of {solved.piece.section.name}")
        assert (", opposite hand" in says) == (solved.hand == "opposite")
        assert f"long point {show_length(solved.piece.long_point, units)}," in says
        assert f"short point {show_length(solved.piece.short_point, units)}" in says
        for reach, end in ((solved.left, "left"), (solved.right, "right")):
            if reach and not reach.ok:
                assert f"{end} end: on this saw cannot be cut" in says
            elif reach:
                own = reach.roll + (180 if solved.pose in ROLLED else 0)
                own *= -1 if solved.pose in TURNED else 1
                own += 180 if solved.is_extra else 0  # the second bar of a box lies half a turn over
                told = re.findall(rf"\b{end} end: (scale reads .*?)(?=(?:left|right) end|$)", says)
                assert told
                assert [line for line in told if not line.startswith(f"scale reads {read_at(reach, own, line)}")] == []


def read_at(reach: Reach, own: float, line: str) -> str:
    """The reading of an end by its own setting, made with the bar rolled by `own`, on the bar as the line rolls it.

    Laid end for end takes (x, y, z) to (-x, -y, z), which a swing does not see: rolled by r after it is rolled by -r
    before it. Half a turn about the bar takes y to -y, so the plane x = p*y goes to x = -p*y: the arm swings as far to
    the other side. What a scale shows of a swing: the square reading and the swing, less it where the scale grows to
    the other side, and what corrects it; a two-sided scale shows no sign.
    """
    rolled = 180.0 if "half a turn" in line else 0.0
    if odd := re.search(r"rolled ([0-9.]+)°, its top to the (moving|fixed) jaw", line):
        rolled = float(odd[1]) * (1 if odd[2] == "moving" else -1)
    over = ((-rolled if "end for end" in line else rolled) - own) % 360
    assert min(abs(over - turn) for turn in (0, 180, 360)) < SHOWN
    swing = -reach.swing if abs(over - 180) < SHOWN else reach.swing
    scale = reach.setting.saw.scale
    if scale.two_sided:
        return show_angle(abs(swing + scale.offset))
    return show_angle(scale.square + (swing if scale.positive == "feed-side" else -swing) + scale.offset)


def test_a_mark_cannot_move_the_cursor(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="mark"):
        shown(tmp_path, 'mark = "A\\u001b[2J"\nlength = 80')
