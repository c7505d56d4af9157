"""The keys of `--json` are a contract: other programs read them. Figures by hand where they are simple.

RHS 80x40x3, EN 10219-2: corner radii 2 x 3 = 6 mm outside and 3 mm inside.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

TUBE = "RHS 80x40x3"
AREA = 80 * 40 - (4 - math.pi) * 6**2 - (74 * 34 - (4 - math.pi) * 3**2)
"""mm2: a box with round corners less its hole."""

DENSITY = 7850e-9
"""kg/mm3, nominal for steel in EN 10219-2."""


def numbers(value: Any) -> Iterator[Any]:
    """Every value below a record that is a number."""
    if isinstance(value, dict):
        for below in value.values():
            yield from numbers(below)
    elif isinstance(value, list):
        for below in value:
            yield from numbers(below)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value


def good(said: Said) -> dict[str, Any]:
    """The answer of a call that must go well and say nothing beside it."""
    assert (said.code, said.err) == (0, "")
    assert said.json["format"] == 1
    assert all(map(math.isfinite, numbers(said.json)))
    return said.json


def test_section(call: Call) -> None:
    answer = good(call("section", TUBE, "--json"))
    assert answer["name"] == TUBE
    assert answer["area_mm2"] == pytest.approx(AREA, rel=1e-9)
    assert answer["perimeter_mm"] == pytest.approx(2 * (80 + 40 + 74 + 34) - (8 - 2 * math.pi) * (6 + 3), rel=1e-9)
    assert (answer["width_mm"], answer["height_mm"]) == (40, 80)
    assert answer["centroid_mm"] == pytest.approx([20, 40])
    assert answer["mass_per_metre_kg"] == pytest.approx(AREA * DENSITY * 1000, rel=1e-9)
    assert "EN 10219" in answer["source"]


def test_cut(call: Call, one_way: str) -> None:
    answer = good(call("cut", TUBE, "--miter", "45", "--kerf", "1.3", "--json"))
    assert (answer["miter_deg"], answer["bevel_deg"]) == (45, 0)
    assert answer["p"] == pytest.approx(1)
    assert answer["q"] == pytest.approx(0)
    assert answer["area_mm2"] == pytest.approx(AREA * math.sqrt(2), rel=1e-9)
    assert answer["width_mm"] == pytest.approx(40 * math.sqrt(2))
    assert answer["height_mm"] == pytest.approx(80)
    assert answer["kerf_along_mm"] == pytest.approx(1.3 * math.sqrt(2))
    assert answer["thinnest_wall_mm"] == pytest.approx(3 * math.sqrt(2))
    assert answer["largest_contact_mm"] > 2 * 3 * math.sqrt(2)
    assert answer["reach"] is None
    reach = good(call("cut", TUBE, "--miter", "45", "--saw", one_way, "--json"))["reach"]
    assert (reach["ok"], reach["reasons"], reach["side"], reach["roll_deg"]) == (True, [], "feed", 0)
    assert reach["swing_deg"] == pytest.approx(45)
    assert reach["scale_deg"] == pytest.approx(135)  # square 90, growing to the feed side: a right +45 reads 135


def test_the_left_end_of_a_two_sided_saw(call: Call, hatch: str) -> None:
    saw = hatch.replace("job.toml", "saw.toml")
    reach = good(call("cut", "FLAT 50x10", "--miter", "30", "--end", "left", "--saw", saw, "--json"))["reach"]
    # Fixed jaw on the right: every swing changes its sign, so that a left +30 swings +30.
    assert (reach["swing_deg"], reach["scale_deg"]) == (pytest.approx(30), pytest.approx(30))


def test_piece(call: Call) -> None:
    answer = good(call("piece", TUBE, "--length", "1200", "--left", "45", "--right", "45", "--json"))
    assert answer["left"] == {"miter_deg": 45, "bevel_deg": 0}
    assert answer["long_point_mm"] == pytest.approx(1200)
    assert answer["short_point_mm"] == pytest.approx(1120)
    assert answer["centerline_mm"] == pytest.approx(1160)
    assert answer["overall_mm"] == pytest.approx(1200)
    edges = {"fixed_bottom": 1120, "fixed_top": 1120, "moving_bottom": 1200, "moving_top": 1200}
    assert answer["edges_mm"] == pytest.approx(edges)
    assert answer["volume_mm3"] == pytest.approx(AREA * 1160, rel=1e-9)
    assert answer["mass_kg"] == pytest.approx(AREA * 1160 * DENSITY, rel=1e-9)
    assert set(answer["poses"]) == {"as-drawn", "end-for-end", "rolled", "end-for-end-rolled"}
    assert answer["reach"] == {"left": None, "right": None}


def test_corner(call: Call) -> None:
    answer = good(call("corner", "FLAT 30x10", "FLAT 40x10", "--angle", "90", "--json"))
    assert answer["miter_a_deg"] == pytest.approx(math.degrees(math.atan2(40, 30)))
    assert answer["miter_b_deg"] == pytest.approx(math.degrees(math.atan2(30, 40)))
    assert answer["seam_mm"] == pytest.approx(50)


PIECE = {
    *("mark", "section", "grade", "quantity", "opposite", "left", "right", "long_point_mm", "short_point_mm"),
    *("centerline_mm", "overall_mm", "edges_mm", "mass_kg", "reach"),
}
EDGES = {"fixed_bottom", "fixed_top", "moving_bottom", "moving_top"}
CLOSURE = {"gap_mm", "overlap_mm", "rounded_gap_mm"}


@pytest.mark.parametrize("name", ["gate", "hatch"])
def test_check(call: Call, name: str, request: pytest.FixtureRequest) -> None:
    answer = good(call("check", request.getfixturevalue(name), "--json"))
    assert answer["pieces"]
    for piece in answer["pieces"]:
        assert set(piece) >= PIECE
        assert set(piece["edges_mm"]) == EDGES
        for end in ("left", "right"):
            assert set(piece[end]) >= {"miter_deg", "bevel_deg"}
            assert set(piece["reach"][end]) >= {"ok", "reasons", "swing_deg", "scale_deg", "side", "roll_deg"}
    for assembly in answer["assemblies"]:
        assert set(assembly) >= {"mark", "shape", "order", "closure"}
        assert set(assembly["closure"]) >= CLOSURE
        assert set(assembly["order"]) <= {piece["mark"] for piece in answer["pieces"]}
        assert 0 <= assembly["closure"]["gap_mm"] < 1e-6
        assert 0 <= assembly["closure"]["overlap_mm"] < 1e-6


def test_the_frame_of_a_job(call: Call, gate: str) -> None:
    answer = good(call("check", gate, "--json"))
    (leaf,) = (one for one in answer["assemblies"] if one["mark"] == "LEAF")
    assert (leaf["shape"], leaf["order"]) == ("rectangle", ["LEAF-1", "LEAF-2", "LEAF-1", "LEAF-2"])
    by_mark = {piece["mark"]: piece for piece in answer["pieces"]}
    # 1180 outside, a joint of 1 mm at each corner square to a seam of 45 degrees: each end gives 0.5 * sqrt(2).
    assert by_mark["LEAF-1"]["long_point_mm"] == pytest.approx(1180 - math.sqrt(2))
    assert by_mark["LEAF-1"]["quantity"] == 2 * 2
    # STAY: rise 3 on run 4, 36.87 degrees; a corner of 110 degrees, 90 - 55 = 35 degrees.
    assert by_mark["STAY"]["left"]["miter_deg"] == pytest.approx(math.degrees(math.atan2(3, 4)))
    assert by_mark["STAY"]["right"]["miter_deg"] == pytest.approx(35)


def test_quantities_are_those_of_the_job(call: Call, hatch: str) -> None:
    by_mark = {piece["mark"]: piece for piece in good(call("check", hatch, "--json"))["pieces"]}
    assert (by_mark["SILL"]["quantity"], by_mark["SILL"]["opposite"]) == (1, 1)
    assert (by_mark["BEARER"]["quantity"], by_mark["BEARER"]["opposite"]) == (3, 0)


def test_the_settings_in_the_json_are_those_of_the_cuts_in_the_json(call: Call, tmp_path: Any) -> None:
    (tmp_path / "saw.toml").write_text(
        '[saw]\nname = "Invented"\nkind = "hinged"\nkerf = 1\ninvented = true\n'
        '[scale]\nsquare = 0\npositive = "feed-side"\nfeed_side_most = 60\ndischarge_side_most = 60\n'
        '[vise]\nfixed_jaw = "left"\n'
    )
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "Opposite hands only"\nsaw = "saw.toml"\n[[piece]]\nmark = "A"\nsection = "L 60x60x6"\n'
        "length = 500\nleft = 30\nright = 0\nquantity = 0\nopposite = 2\n"
    )
    (piece,) = good(call("check", str(tmp_path / "job.toml"), "--json"))["pieces"]
    assert (piece["quantity"], piece["opposite"]) == (0, 2)
    # Fixed jaw on the left, square 0: a left +30 swings and reads -30, a square right end 0.
    assert piece["left"]["miter_deg"] == 30
    assert piece["reach"]["left"]["scale_deg"] == pytest.approx(-30)
    assert piece["reach"]["right"]["scale_deg"] == pytest.approx(0)


def test_packet(call: Call, gate: str, tmp_path: Any) -> None:
    answer = good(call("packet", gate, "--out", str(tmp_path / "packet"), "--json"))
    written = {path.relative_to(tmp_path / "packet").as_posix() for path in (tmp_path / "packet").rglob("*.*")}
    assert set(answer["files"]) == {name for name in written if not name.startswith(".")}
    assert {"cut-sheet.pdf", "pieces.csv", "plan.json", "sketches/LEAF-1.dxf"} <= set(answer["files"])
    assert answer["problems"] == []


CALLS = (
    ("section", TUBE),
    ("cut", TUBE, "--miter", "45", "--bevel", "10", "--kerf", "1.3 mm"),
    ("piece", TUBE, "--length", "1200 mm", "--left", "45"),
    ("corner", TUBE, "SHS 50x50x3", "--angle", "60"),
    ("check", "GATE"),
    ("check", "HATCH"),
)


@pytest.mark.parametrize("arguments", CALLS, ids=" ".join)
def test_units_do_not_change_json(call: Call, arguments: tuple[str, ...], gate: str, hatch: str) -> None:
    filled = [{"GATE": gate, "HATCH": hatch}.get(one, one) for one in arguments]
    plain = call(*filled, "--json")
    assert [call(*filled, "--json", "--units", units) for units in ("mm", "in", "ft-in")] == [plain] * 3
    good(plain)


@pytest.mark.parametrize("arguments", CALLS, ids=" ".join)
def test_units_change_what_a_person_reads(call: Call, arguments: tuple[str, ...], gate: str, hatch: str) -> None:
    filled = [{"GATE": gate, "HATCH": hatch}.get(one, one) for one in arguments]
    said = [call(*filled, "--units", units) for units in ("mm", "in", "ft-in")]
    assert [(one.code, one.err) for one in said] == [(0, "")] * 3
    assert len({one.out for one in said}) == 3
    assert '"' in said[1].out
    assert '"' not in said[0].out


def test_a_bare_number_is_in_the_units_asked_for(call: Call) -> None:
    answer = good(call("piece", TUBE, "--length", "47 1/4", "--units", "in", "--json"))
    assert answer["long_point_mm"] == pytest.approx(47.25 * 25.4)


@pytest.mark.parametrize("arguments", [("--help",), (), *((one, "--help") for one in ("section", "cut", "piece"))])
def test_help_is_an_answer(call: Call, arguments: tuple[str, ...]) -> None:
    said = call(*arguments)
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith("Usage: mitertool")


def test_the_version_is_an_answer(call: Call) -> None:
    said = call("--version")
    assert (said.code, said.err) == (0, "")
    assert said.out.split()[0] == "mitertool"
    assert len(said.out.splitlines()) == 1
