"""A whole double gate from its opening, in a job file that tells no length of a piece."""

from __future__ import annotations

import json
import math
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.frame.runs import command
from tests.frame.standing import inside, ring, shared, stands_off

JOB = Path(__file__).with_name("orchard_gate.toml")

LEAF = (3400 - 2 * 25 - 15) / 2
HIGH = 2000 - 60
"""mm: half the opening less its gaps; its height less the floor's."""


@cache
def gate() -> dict[str, Any]:
    code, out, err = command("check", str(JOB), "--json")
    assert (code, err) == (0, "")
    record: dict[str, Any] = json.loads(out)
    return record


def arch() -> list[complex]:
    """The corners of a leaf: chords of equal angles on the circle over two half chords and the rise, from its crown."""
    half, rise = LEAF, 400.0
    radius = (half**2 + rise**2) / (2 * rise)
    whole = math.asin(half / radius)
    middle = complex(half, HIGH - radius)
    turned = [middle + radius * complex(-math.sin(whole * i / 4), math.cos(whole * i / 4)) for i in range(4, -1, -1)]
    return [0j, *turned, complex(half, 0)]


def test_the_job_file_is_short() -> None:
    assert len(JOB.read_text(encoding="utf-8").splitlines()) < 40


def test_the_leaf_stands_in_its_opening() -> None:
    (leaf,) = gate()["assemblies"]
    assert leaf["quantity"] == 2
    found = [complex(one["x_mm"], one["y_mm"]) for one in leaf["corners"]]
    assert found == pytest.approx(arch(), abs=1e-6)
    assert max(leaf["closure"]["gap_mm"], leaf["closure"]["overlap_mm"]) < 1e-6


def test_pickets_stand_below_the_rail_and_on_both_sides_of_the_brace() -> None:
    """Clear 1667.5 - 120; eleven bars of 12 leave gaps of 118, twelve of 108: twelve stand in each of three rows."""
    (leaf,) = gate()["assemblies"]
    assert Counter(bar["bars"] for bar in leaf["inside"]) == {"uprights": 36, "brace": 1, "rails": 1}
    pickets = [piece for piece in gate()["pieces"] if piece["section"] == "ROUND 12"]
    assert sum(piece["quantity"] + piece["opposite"] for piece in pickets) == 2 * 36
    below = max(pickets, key=lambda piece: piece["quantity"])
    assert (below["quantity"], below["opposite"]) == (12, 12)
    assert below["centerline_mm"] == pytest.approx(500 - 30)
    gap = (LEAF - 120 - 12 * 12) / 13
    middles = [60 + gap * i + 12 * i - 6 for i in range(1, 13)]
    found = sorted({round(bar["x_mm"], 6) for bar in leaf["inside"] if bar["bars"] == "uprights"})
    assert found == pytest.approx(middles, abs=1e-6)


def test_every_bar_touches_what_it_ends_on() -> None:
    shapes = inside(gate())
    around = ring(arch(), 60)
    assert stands_off(shapes, around) < 1e-6
    assert shared([*shapes, around]) < 1e-3
