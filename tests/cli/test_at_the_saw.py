"""What `cut`, `piece` and `first-piece` answer at the saw: load, rows, stops, fit-up; worked by hand.

Tolerances: ISO 13920-B, angles of a leg up to 400 mm: 45 minutes (tests/saw/test_fit_up.py).
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

LEVEL = """\
[saw]
name = "level column"
kind = "column"
kerf = 2
invented = true
[scale]
square = 0
two_sided = true
feed_side_most = 60
discharge_side_most = 60
[arm]
below_bed = 5
lift_highest = 400
[bed]
swing_axis = 30
[vise]
fixed_jaw = "left"
"""


@pytest.fixture
def level(tmp_path: Path) -> str:
    path = tmp_path / "saw.toml"
    path.write_text(LEVEL, encoding="utf-8")
    return str(path)


def test_the_load_of_a_cut(call: Call, level: str) -> None:
    """A flat of 60 x 10: 60 mm on the blade from 15 to 5 mm above rest, at once there and at once gone."""
    load = json.loads(call("cut", "FLAT 60x10", "--saw", level, "--json").out)["load"]
    assert load["smallest_mm"] == pytest.approx(60)
    assert [(j["position_mm"], j["before_mm"], j["after_mm"]) for j in load["jumps"]] == [
        (pytest.approx(15), 0, pytest.approx(60)),
        (pytest.approx(5), pytest.approx(60), 0),
    ]
    assert {point["walls"] for point in load["chart"]} == {1}
    assert {round(point["contact_mm"], 9) for point in load["chart"]} == {60}
    said = call("cut", "FLAT 60x10", "--saw", level)
    assert "at 15 from 0 to 60" in said.out


def test_bars_side_by_side(call: Call, level: str) -> None:
    """Three flats of 60 are 180 wide; at 45 the first cut takes a wedge of 180 off their square ends."""
    answer = json.loads(call("cut", "FLAT 60x10", "--miter", "45", "--bars", "3", "--saw", level, "--json").out)
    assert (answer["bars"], answer["row_width_mm"]) == (3, pytest.approx(180))
    assert answer["lead_in_mm"] == pytest.approx(180)
    assert answer["reach"]["rolled_width_mm"] == pytest.approx(180)
    assert answer["reach"]["largest_contact_mm"] == pytest.approx(180 * math.sqrt(2))


@pytest.mark.parametrize(("right", "code"), [("-45", 0), ("45", 2)])
def test_only_parallel_cuts_go_side_by_side(call: Call, right: str, code: int) -> None:
    said = call("piece", "FLAT 60x10", "--length", "800", "--left", "45", f"--right={right}", "--bars", "3")
    assert said.code == code
    assert ("only pieces with parallel cuts" in said.err) == (code == 2)
    assert ("180 wide" in said.out) == (code == 0)


@pytest.mark.parametrize("number", ["0", "-1", "1.5", "many"])
def test_a_row_has_a_whole_number_of_bars(call: Call, number: str) -> None:
    said = call("cut", "FLAT 60x10", f"--bars={number}")
    assert (said.code, said.out) == (2, "")
    assert "--bars" in said.err


def test_the_stop_of_a_piece(call: Call, level: str) -> None:
    """Left and right 45, 1000 long: the tip of the end cut first is at the moving side, and the piece is 1000 there."""
    answer = json.loads(
        call("piece", "FLAT 60x10", "--length", "1000", "--left", "45", "--right", "45", "--saw", level, "--json").out
    )
    stop = answer["stop"]
    assert (stop["from_blade_mm"], stop["y_mm"], stop["touches"]) == (pytest.approx(1000), 60, "tip at the moving side")


def test_what_a_first_piece_opens_and_uses_up(call: Call) -> None:
    """Rolled between its cuts, 1000 and 918 on 40 wide where 920 is drawn: tan is 41/40 for each end."""
    said = call(
        *("first-piece", "RHS 80x40x3", "--length", "1000", "--left", "45", "--right", "45"),
        *("--long", "1001", "--short", "919", "--way", "rolled", "--tolerance", "ISO 13920-B", "--json"),
    )
    answer = json.loads(said.out)
    error = math.degrees(math.atan(41 / 40)) - 45
    open_at_throat = 2 * (41 - 40) / math.sqrt(2)
    assert [joint["throat_mm"] for joint in answer["joints"]] == pytest.approx([open_at_throat] * 2)
    assert [joint["heel_mm"] for joint in answer["joints"]] == [0, 0]
    shares = {share["what"]: share["share"] for share in answer["shares"]}
    assert shares["left end"] == pytest.approx(error / 0.75)
    assert shares["length"] == pytest.approx(0.0, abs=1e-9)


def test_a_class_that_there_is_none_of(call: Call) -> None:
    said = call(
        *("first-piece", "RHS 80x40x3", "--length", "1000", "--left", "45", "--right", "45"),
        *("--long", "1001", "--short", "919", "--way", "rolled", "--tolerance", "ISO 13920-Q"),
    )
    assert said.code == 2
    assert "did you mean" in said.err
