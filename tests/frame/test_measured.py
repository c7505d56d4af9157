"""What a size of an angle or channel frame is measured on, by hand, and that it is never guessed.

A rectangle of 1000 by 600 is mitered, so the outer edges are the size and twice what lies outside the measured line.
The angle has a leg of 60 lying, 40 standing, 6 thick; the channel a web of 80 and flanges of 40.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.frame.runs import around, checked, frame, refusal, table, tube

ANGLE = table("section", name="A", shape="angle", width=60, height=40, thickness=6)
CHANNEL = table("section", name="C", shape="channel", width=40, height=80, web=5, flange=6)
SIZE = {"width": 1000, "height": 600}


def outer_edges(folder: Path, section: str, *tables: str, **keys: object) -> list[float]:
    record = checked(folder, *tables, frame("rectangle", section, **SIZE, **keys))
    assert record["assemblies"][0]["closure"]["gap_mm"] <= 1e-6
    assert all(piece["opposite"] == 0 for piece in record["pieces"])
    found = around(record)
    assert all((p["left"]["miter_deg"], p["right"]["miter_deg"]) == pytest.approx((45, 45)) for p in found)
    return [piece["edges_mm"]["moving_bottom"] for piece in found]


@pytest.mark.parametrize("leg", ["up", "down"])
@pytest.mark.parametrize(
    ("heel", "measured", "beyond"),
    [
        ("out", "over heels", 0),
        ("out", "between legs", 6),
        ("out", "toe to toe", 60),
        ("out", "outside", 0),
        ("out", "inside", 60),
        ("in", "over heels", 60),
        ("in", "between legs", 60),
        ("in", "toe to toe", 0),
        ("in", "outside", 0),
        ("in", "inside", 60),
    ],
)
def test_angle(tmp_path: Path, leg: str, heel: str, measured: str, beyond: float) -> None:
    """Heel out: the upright legs stand around the frame, 6 thick, the flat legs reach in. Heel in: the backs of the
    upright legs face each other, and the toes of the flat legs are the outside."""
    found = outer_edges(tmp_path, "A", ANGLE, heel=heel, leg=leg, measured=measured)
    assert found == pytest.approx([1000 + 2 * beyond, 600 + 2 * beyond] * 2)


@pytest.mark.parametrize(
    ("toes", "measured", "beyond"),
    [
        ("out", "over webs", 40),
        ("out", "toe to toe", 0),
        ("out", "outside", 0),
        ("out", "inside", 40),
        ("in", "over webs", 0),
        ("in", "toe to toe", 40),
        ("in", "inside", 40),
        ("up", "outside", 0),
        ("up", "inside", 80),
        ("down", "inside", 80),
    ],
)
def test_channel(tmp_path: Path, toes: str, measured: str, beyond: float) -> None:
    """Standing on a flange it is 40 wide, lying on its web or its toes 80."""
    found = outer_edges(tmp_path, "C", CHANNEL, toes=toes, measured=measured)
    assert found == pytest.approx([1000 + 2 * beyond, 600 + 2 * beyond] * 2)


def test_angles_of_the_catalogue(tmp_path: Path) -> None:
    """EN 10056-1: L 50x50x5 has legs of 50, 5 thick."""
    found = outer_edges(tmp_path, "L 50x50x5", heel="out", leg="up", measured="between legs")
    assert found == pytest.approx([1010, 610] * 2)


def test_two_angles(tmp_path: Path) -> None:
    """Each side has its own line: between the upright legs of the height sides 8 thick, of the width sides 6 thick."""
    other = table("section", name="B", shape="angle", width=60, height=60, thickness=8)
    keys = {"heel": "out", "leg": "up", "measured": "between legs"}
    record = checked(tmp_path, ANGLE, other, frame("rectangle", ["A", "B"], **SIZE, **keys))
    found = [piece["edges_mm"]["moving_bottom"] for piece in around(record)]
    assert found == pytest.approx([1000 + 2 * 8, 600 + 2 * 6] * 2)


def test_angle_may_be_bent_to_a_polygon(tmp_path: Path) -> None:
    """A square is a polygon of 4: over its heels 500, toe to toe 120 less."""
    keys = {"heel": "out", "leg": "down", "sides": 4}
    for measured, side in (("over heels", 500), ("toe to toe", 380)):
        record = checked(tmp_path, ANGLE, frame("polygon", "A", side=side, measured=measured, **keys))
        assert record["pieces"][0]["edges_mm"]["moving_bottom"] == pytest.approx(500)


WORDS = {"heel": "out", "leg": "up"}
ANGLE_LINES = "for A as it lies: outside, inside, over heels, between legs, toe to toe"


@pytest.mark.parametrize(
    ("section", "keys", "says"),
    [
        ("A", {**WORDS}, "measured: found 'nothing'; the key is needed here"),
        ("A", {**WORDS, "measured": "centerline"}, f"measured: found 'centerline'; {ANGLE_LINES}"),
        ("A", {**WORDS, "measured": "over webs"}, f"measured: found 'over webs'; {ANGLE_LINES}"),
        (
            "A",
            {**WORDS, "measured": "legs"},
            "measured: found 'legs'; allowed: outside, centerline, inside, over heels",
        ),
        ("A", {"measured": "over heels"}, "heel: found 'nothing'; a frame of A must say how it lies: heel = out or in"),
        (
            "A",
            {"measured": "over heels", "heel": "out"},
            "leg: found 'nothing'; a frame of A must say how it lies: leg = up or down",
        ),
        ("A", {**WORDS, "heel": "up", "measured": "outside"}, "heel: found 'up'; a frame of A must say how it lies: "),
        ("A", {**WORDS, "toes": "in", "measured": "outside"}, "toes: found 'in'; A has no toes; leave the word out"),
        (
            "C",
            {"measured": "outside"},
            "toes: found 'nothing'; a frame of C must say how it lies: toes = out or in or up",
        ),
        (
            "C",
            {"toes": "up", "measured": "over webs"},
            "measured: found 'over webs'; for C as it lies: outside, inside",
        ),
        (
            "C",
            {"toes": "in", "measured": "centerline"},
            "measured: found 'centerline'; for C as it lies: outside, inside",
        ),
        (
            "C",
            {"toes": "in", "heel": "out", "measured": "outside"},
            "heel: found 'out'; C has no heel; leave the word out",
        ),
        (
            "T",
            {"measured": "over heels"},
            "measured: found 'over heels'; for T as it lies: outside, centerline, inside",
        ),
        ("T", {"leg": "up", "measured": "outside"}, "leg: found 'up'; T has no leg; leave the word out"),
    ],
    ids=str,
)
def test_never_guessed(tmp_path: Path, section: str, keys: dict[str, object], says: str) -> None:
    tables = (ANGLE, CHANNEL, tube("T", 50), frame("rectangle", section, **SIZE, **keys))
    assert refusal(tmp_path, *tables).startswith(f"[[frame]] F: {says}")


@pytest.mark.parametrize("lay", [90, 180, 270, "leg flat"])
@pytest.mark.parametrize(("heel", "beyond"), [("out", 0), ("in", 1)])
def test_the_words_hold_whatever_the_lay(tmp_path: Path, lay: object, heel: str, beyond: int) -> None:
    """A lay says which leg is flat, the words where the heel is: over the heels, heel out, is the outside."""
    flat = 40 if lay in (90, 270) else 60
    found = outer_edges(tmp_path, "A", ANGLE, heel=heel, leg="up", lay=lay, measured="over heels")
    assert found == pytest.approx([1000 + 2 * beyond * flat, 600 + 2 * beyond * flat] * 2)


@pytest.mark.parametrize(
    ("section", "words"), [("A", {"heel": "out", "leg": "up", "lay": 45}), ("C", {"toes": "in", "lay": 90})]
)
def test_a_lay_beside_words_that_say_it_all(tmp_path: Path, section: str, words: dict[str, object]) -> None:
    tables = (ANGLE, CHANNEL, frame("rectangle", section, **SIZE, measured="outside", **words))
    assert refusal(tmp_path, *tables) == (
        f"[[frame]] F: lay: found '{words['lay']}'; the words for {section} say how it lies; leave the lay out"
    )
