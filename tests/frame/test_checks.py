"""Check measures from corner to corner, and what a millimetre of them means: against a linkage solved by search."""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest

from tests.frame.runs import checked, command, frame, tube

T = tube("T", 50)


def moved(a: complex, b: complex, c: complex, d: complex, turn: float) -> tuple[complex, complex, complex, complex]:
    """The same four sides with side a-b turned about a, and d where both its sides keep their lengths; a, d fixed."""
    turned = a + (b - a) * cmath.exp(1j * turn)
    middle, reach = d - turned, abs(d - turned)
    one, other = abs(c - b), abs(d - c)
    along = (one**2 - other**2 + reach**2) / (2 * reach)
    aside = math.sqrt(one**2 - along**2)
    side = math.copysign(1, ((d - b).conjugate() * (c - b)).imag)
    return a, turned, turned + middle / reach * complex(along, side * aside), d


def angle(before: complex, at: complex, after: complex) -> float:
    return math.degrees(abs(cmath.phase((before - at) / (after - at))))


SHAPES = {
    "square": [0j, 1000j, 1000 + 1000j, 1000 + 0j],
    "rectangle": [0j, 700j, 1600 + 700j, 1600 + 0j],
    "sloping": [0j, 1500j, 1200 + 1900j, 1200 + 0j],
    "any": [0j, 200 + 1300j, 1500 + 1000j, 1700 + 100j],
}


@pytest.mark.parametrize("shape", SHAPES)
def test_diagonals_that_differ_by_a_hundredth(tmp_path: Path, shape: str) -> None:
    """The linkage is turned until the diagonals differ by 0.01 mm more than they should; the corner that moves most is
    then a hundredth of what is told out."""
    corners = SHAPES[shape]
    points = [[point.real, point.imag] for point in corners]
    record = checked(tmp_path, T, frame("polygon", points=points, measured="outside"))
    (assembly,) = record["assemblies"]

    def differ(turn: float) -> float:
        a, b, c, d = moved(*corners, turn)
        true = abs(corners[2] - corners[0]) - abs(corners[3] - corners[1])
        return abs(c - a) - abs(d - b) - true

    low, high = 0.0, 0.01
    for _ in range(60):
        low, high = ((low + high) / 2, high) if abs(differ((low + high) / 2)) < 0.01 else (low, (low + high) / 2)
    after = moved(*corners, low)
    out = max(
        abs(angle(after[i - 1], after[i], after[(i + 1) % 4]) - angle(corners[i - 1], corners[i], corners[(i + 1) % 4]))
        for i in range(4)
    )
    assert assembly["lean_deg"] == pytest.approx(out * 100, rel=1e-3)
    lengths = {(one["first"], one["second"]): one["length_mm"] for one in assembly["measures"]}
    assert lengths == {
        (1, 3): pytest.approx(abs(corners[2] - corners[0])),
        (2, 4): pytest.approx(abs(corners[3] - corners[1])),
    }


def test_a_rectangle_by_hand(tmp_path: Path) -> None:
    """3 - 4 - 5: leaning by s the diagonals are 1000 sqrt(1 +- 2 * 0.6 * 0.8 sin s), so 1 mm is 1 / 960 of a radian."""
    record = checked(tmp_path, T, frame("rectangle", width=800, height=600, measured="outside"))
    assert record["assemblies"][0]["lean_deg"] == pytest.approx(math.degrees(1 / 960))
    one, two = record["assemblies"][0]["measures"]
    assert (one["length_mm"], two["length_mm"]) == pytest.approx((1000, 1000))
    assert one["turn_deg"] == pytest.approx(math.degrees(1 / 480))


def test_a_pentagon(tmp_path: Path) -> None:
    """A diagonal of 2 s cos 36 over a corner of 108: it grows by s cos 54 a radian."""
    record = checked(tmp_path, T, frame("polygon", sides=5, side=1000, measured="outside"))
    (assembly,) = record["assemblies"]
    assert assembly["lean_deg"] is None
    first = assembly["measures"][0]
    assert first["length_mm"] == pytest.approx(2000 * math.cos(math.radians(36)))
    assert first["turn_deg"] == pytest.approx(math.degrees(1 / (1000 * math.cos(math.radians(54)))))


def test_told_in_the_units_of_the_shop() -> None:
    call = (
        "frame",
        "rectangle",
        "--section",
        "SHS 50x50x3",
        "--width",
        "40",
        "--height",
        "30",
        "--measured",
        "outside",
    )
    _, out, _ = command(*call, "--units", "in/16")
    assert "1 to 3 50" in out
    assert 'Diagonals that differ by 1/16": each corner 0.08° out' in out
