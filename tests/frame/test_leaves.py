"""Leaves from an opening: the sums by hand, what is told of them, and the other hand of a second leaf."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from mitertool.packet.pages.fitter.marked import landed_rows
from mitertool.packet.pages.fitter.told import sentences
from tests.frame.runs import HEAD, by_mark, checked, command, frame, refusal, table, tube
from tests.frame.test_inside import filled

T = tube("T", 50)
OPENING = {"opening_width": 1000, "opening_height": 2000, "hinge_gap": 20, "floor_gap": 60, "measured": "outside"}


def test_one_leaf(tmp_path: Path) -> None:
    """1000 - 20 - 15 and 2000 - 60 - 5."""
    record = checked(tmp_path, T, frame("rectangle", **OPENING, latch_gap=15, head_gap=5))
    assert [piece["long_point_mm"] for piece in record["pieces"]] == [965, 1935]
    assert record["assemblies"][0]["notes"][:2] == [
        "leaf 965 mm wide: opening 1000 mm less 20 mm at the hinges and 15 mm at the latch",
        "leaf 1935 mm high: opening 2000 mm less 60 mm at the floor and 5 mm at the head",
    ]


def test_two_leaves(tmp_path: Path) -> None:
    """(1000 - 40 - 10) / 2, and twice the pieces of one."""
    record = checked(tmp_path, T, frame("rectangle", **OPENING, meeting_gap=10, leaves=2))
    assert [(piece["long_point_mm"], piece["quantity"] + piece["opposite"]) for piece in record["pieces"]] == [
        (475, 4),
        (1940, 4),
    ]
    assert record["assemblies"][0]["quantity"] == 2


def test_the_other_hand_of_a_second_leaf(tmp_path: Path) -> None:
    """The sloping top of an angle frame is mirrored in the second leaf: its piece cannot be turned to be the other."""
    angle = table("section", name="A", shape="angle", width=50, height=50, thickness=5)
    keys = {**OPENING, "right_height": 1500, "leaves": 2, "heel": "out", "leg": "up"}
    record = checked(tmp_path, angle, frame("sloping", "A", **keys))
    hands = {mark: (piece["quantity"], piece["opposite"]) for mark, piece in by_mark(record).items()}
    assert hands == {"F-1": (1, 1), "F-2": (1, 1), "F-3": (1, 1), "F-4": (1, 1)}
    code, out, _ = command("check", str(tmp_path / "job.toml"))
    assert code == 0
    assert "F-1-OH" in out
    assert "F-3-OH" not in out


def test_how_high_a_sloping_leaf_hangs(tmp_path: Path) -> None:
    """The leaf is 2000 - 60 at the hinges, 1500 opposite; both stand 60 above the ground."""
    record = checked(tmp_path, T, frame("sloping", **OPENING, right_height=1500, latch_gap=15))
    assert record["assemblies"][0]["notes"][2] == (
        "hung, its top is 2000 mm above the ground at the hinges and 1560 mm at the other side: "
        "1500 mm of the leaf and 60 mm at the floor"
    )


def test_at_the_command() -> None:
    sizes = ("--opening-width", "48", "--opening-height", "72", "--hinge-gap", "3/4", "--latch-gap", "1/2")
    call = ("frame", "rectangle", "--section", "SHS 50x50x3", *sizes, "--measured", "outside", "--units", "in/16")
    code, out, err = command(*call)
    assert (code, err) == (0, "")
    assert 'leaf 46 3/4" wide: opening 48" less 3/4" at the hinges and 1/2" at the latch' in out


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"width": 900}, "give width and height, or opening_width"),
        ({"opening_width": None, "width": 900, "height": 800}, "opening_width: found 'nothing'"),
        ({"opening_height": None}, "opening_height: found 'nothing'"),
        ({"measured": "inside"}, 'an opening gives sizes over all: measured = "outside"'),
        ({"meeting_gap": 10}, "a meeting_gap is between two"),
        ({"latch_gap": 10, "leaves": 2}, "a latch_gap is for one"),
        ({"hinge_gap": 1000}, "opening_width: found 'a leaf of 0 mm'"),
        ({"floor_gap": 2100}, "opening_height: found 'a leaf of -100 mm'"),
        ({"leaves": 3}, "leaves: found 3"),
    ],
    ids=str,
)
def test_what_is_refused(tmp_path: Path, keys: dict[str, object], says: str) -> None:
    assert says in refusal(tmp_path, T, frame("rectangle", **{**OPENING, **keys}))


def leaves_marked(folder: Path, *tables: str) -> tuple[list[dict[str, dict[str, str]]], list[str], Solution]:
    """The tables of marks of both leaves, by piece without its corners, and what is said on the page of the image."""
    path = folder / "job.toml"
    path.write_text("\n".join([HEAD, *tables]), encoding="utf-8")
    solution = solve(load(path))
    drawn, image = solution.frames[0].hands
    rows = [
        {on.split(",")[0]: dict(shown) for on, shown in landed_rows(hand.assembly, hand.out, "mm")}
        for hand in (drawn, image)
    ]
    return rows, list(sentences(image, solution)), solution


def test_a_piece_turned_over_is_marked_from_the_same_end(tmp_path: Path) -> None:
    """A leaf 460 wide, 1940 high at its hinges and 1500 at the latch, of 50, a rail of 20 with its middle 1000 above
    the bottom one. The lower ends of both inner sides lie 50 up, so the rail lands 990 from them in either leaf: a
    place (x, y) of the one is (-x, y) of the other, and as far from (x, 50) as its image is from (-x, 50)."""
    keys = {"opening_width": 980, "opening_height": 2000, "hinge_gap": 25, "meeting_gap": 10, "floor_gap": 60}
    leaf = filled(
        "sloping",
        {"bars": "rails", "section": "P", "at": [1000]},
        **keys,
        right_height=1500,
        leaves=2,
        measured="outside",
    )
    (drawn, image), says, solution = leaves_marked(tmp_path, T, tube("P", 20), leaf)
    assert drawn == image == {"F-2": {"F-5": "990"}, "F-4": {"F-5": "990"}}
    assert not [said for said in says if "labels" in said]
    assert sum("mirror" in said for said in says if "mirror nothing again" in said) == 1
    pieces = {piece.mark: piece for piece in solution.pieces}
    assert [(one.at, one.end, one.what) for one in pieces["F-2"].places] == [(pytest.approx(990), "right", "F-5")]


def test_a_piece_that_cannot_be_turned_over_is_told(tmp_path: Path) -> None:
    """Of an angle the bottom bar, alike at both ends, is the same piece in both leaves as it lies: what lands 100 from
    its left end in the one lands 100 from its right end in the other, and one label cannot tell both."""
    angle = table("section", name="A", shape="angle", width=50, height=50, thickness=5)
    keys = {"opening_width": 1100, "opening_height": 900, "meeting_gap": 100, "leaves": 2, "measured": "outside"}
    bars = {"bars": "uprights", "section": "P", "at": [110]}
    leaf = filled("rectangle", bars, **keys, heel="out", leg="up").replace('section = "T"', 'section = "A"')
    (drawn, image), says, _ = leaves_marked(tmp_path, angle, tube("P", 20), leaf)
    assert (drawn["F-1"], image["F-1"]) == ({"F-3": "100"}, {"F-3": "280"})
    assert [said for said in says if said.startswith("Labels and rows of F-1 give the marks as in F:")]
