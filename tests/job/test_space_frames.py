"""Frames in space as blocks of a job: what `check --json` tells of them besides their pieces."""

from __future__ import annotations

import json
from math import atan, degrees, pi, sqrt
from pathlib import Path
from typing import Any

import pytest

from tests.frame.runs import command

ROOT = Path(__file__).resolve().parents[2]


def assembly(tmp_path: Path, block: str) -> dict[str, Any]:
    """The record of the one frame of a job."""
    (tmp_path / "job.toml").write_text(f'[job]\nname = "J"\nunits = "mm"\n[[frame]]\nmark = "F"\n{block}\n')
    found: dict[str, Any] = json.loads(command("check", str(tmp_path / "job.toml"), "--json")[1])["assemblies"][0]
    return found


def test_a_hopper_of_plates(tmp_path: Path) -> None:
    """Out 300 over 400 up, 500 along the slope: tan 45 cos 53.13 = 0.6 flat."""
    block = 'shape = "hopper"\nthickness = 5\nsides = 4\nbottom = 200\ntop = 800\nheight = 400\nmeasured = "outside"'
    (one,) = assembly(tmp_path, block)["leaning"]
    assert (one["mark"], one["face_up"]) == ("F-1", "outside")
    lengths = [one[f"{key}_mm"] for key in ("slant", "outside_bottom", "outside_top", "inside_bottom", "inside_top")]
    assert lengths == pytest.approx([500, 200, 800, 192, 792], abs=1e-9)
    assert one["slope_deg"] == pytest.approx(degrees(atan(4 / 3)), abs=1e-9)
    # cut across by 0.6 and up by 0.8 (4 shorter for 5 deep): the corner stands upright in plan at 45
    assert one["fixture_roll_deg"] == pytest.approx(degrees(atan(0.8 / 0.6)), abs=1e-9)
    assert one["fixture_swing_deg"] == pytest.approx(45, abs=1e-9)


def test_a_hopper_of_strips_comes_off_bars(tmp_path: Path) -> None:
    """Out 100 over 180 up: 205.91 along the slope, for which a strip of 205.9 is near enough. Four plates of 250 to 450
    in the middle of their faces at most, turned against each other, take less than two metres."""
    strip = '[[section]]\nname = "STRIP"\nshape = "flat"\nwidth = 205.9\nheight = 6\n[[stock]]\nsection = "STRIP"\n'
    hopper = 'section = "STRIP"\nsides = 4\nbottom = 250\ntop = 450\nheight = 180\nmeasured = "inside"'
    block = f'shape = "hopper"\n{hopper}\n{strip}length = 2000\n[nest]\nkerf = 1.5\n'
    (one,) = assembly(tmp_path, block)["leaning"]
    assert one["slant_mm"] == pytest.approx(sqrt(100**2 + 180**2), abs=1e-6)
    (bar,) = json.loads(command("nest", str(tmp_path / "job.toml"), "--json")[1])["bars"]
    assert [piece["mark"] for piece in bar["pieces"]] == ["F-1"] * 4


def test_a_hopper_of_corner_bars(tmp_path: Path) -> None:
    """Level ends of bars that lean 250 over 400 to either side."""
    sizes = 'sides = 4\nbottom = 300\ntop = 800\nheight = 400\nmeasured = "outside"'
    found = assembly(tmp_path, f'shape = "hopper"\nmembers = "corner bars"\nsection = "L 50x50x5"\n{sizes}')
    (one,) = found["leaning"]
    assert (one["face_up"], one["outside_top_mm"]) == ("", None)
    assert one["slant_mm"] == pytest.approx(sqrt(2 * 250**2 + 400**2), abs=1e-9)
    assert one["on_edge"]["miter_deg"] == pytest.approx(-degrees(atan(0.625)), abs=1e-9)
    assert found["closure"]["gap_mm"] < 1e-6


def test_a_rail(tmp_path: Path) -> None:
    """Up by 3-4-5, level, and square round a corner: a quarter between the two cuts of the level member."""
    nodes = "nodes = [[0, 0, 0], [800, 0, 600], [1800, 0, 600], [1800, 900, 600]]"
    found = assembly(tmp_path, f'shape = "rail"\nsection = "CHS 42.4x3.2"\n{nodes}')
    turn = found["turns"][1]
    assert abs(turn["roll_deg"]) == pytest.approx(90, abs=1e-9)
    assert turn["one_way_deg"] == pytest.approx(-turn["roll_deg"], abs=1e-9)
    assert abs(turn["skin_mm"]) == pytest.approx(pi * 42.4 / 4, abs=1e-9)
    swings = turn["left_swing_deg"], turn["right_swing_deg"]
    assert swings == pytest.approx((degrees(atan(3 / 4)) / 2, 45), abs=1e-9)
    assert found["twists_deg"] == [0, 0]


@pytest.mark.parametrize(("saw", "bevel"), [("hinged", 0.0), ("column", -degrees(atan(3 / 4)) / 2)])
def test_a_round_rail_is_rolled_only_between_its_cuts(tmp_path: Path, saw: str, bevel: float) -> None:
    """Up by 3-4-5: half of that turn is a bevel where the blade tilts; where it does not tilt a round bar, that has no
    top, is drawn with the cut upright, so that it need not be rolled for it."""
    nodes = "nodes = [[0, 0, 0], [1000, 0, 0], [1800, 0, 600]]"
    (tmp_path / "job.toml").write_text(
        f'[job]\nname = "J"\nunits = "mm"\nsaw = "{ROOT}/gallery/saws/{saw}.toml"\n[[frame]]\nmark = "F"\n'
        f'shape = "rail"\nsection = "CHS 42.4x3.2"\n{nodes}\n'
    )
    pieces = json.loads(command("check", str(tmp_path / "job.toml"), "--json")[1])["pieces"]
    assert [pieces[i][end]["bevel_deg"] for i, end in ((0, "right"), (1, "left"))] == pytest.approx([bevel] * 2)


def test_a_frame_in_a_plane_tells_nothing_of_space(tmp_path: Path) -> None:
    found = assembly(
        tmp_path, 'shape = "rectangle"\nsection = "SHS 40x40x3"\nwidth = 900\nheight = 600\nmeasured = "outside"'
    )
    assert {"leaning", "turns", "twists_deg"}.isdisjoint(found)
