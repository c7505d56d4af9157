"""Ends with more than one plane through the job: on bars, at the saw, in the plan and in JSON, worked by hand.

A flat of 60 with slopes tan 40 and -tan 30 that meet 20 from the fixed side: the tip stands 20 tan 40 over the fixed
edge and 40 tan 30 over the moving one; the first plane alone stands 60 tan 40 over the fixed edge at the moving one.
"""

from __future__ import annotations

import itertools
import json
import math
from pathlib import Path
from typing import Any

import pytest

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.records.solution import schema
from tests.frame.runs import command
from tests.job.test_solve import BY_BAR, piece, solved, stock
from tests.schemas import complaints

KERF = 2
BOTH = """\
[saw]
name = "bench saw"
kind = "hinged"
kerf = 2
[scale]
square = 0
positive = "feed-side"
two_sided = true
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "left"
"""
HEAD = '[job]\nname = "points"\nsaw = "saw.toml"\n'
T30, T40 = math.tan(math.radians(30)), math.tan(math.radians(40))
TONGUE = piece("TONGUE", "FLAT 60x10", "right = [40, { miter = -30, meets = 20 }]\nquantity = 2", 400)
BARS = stock("FLAT 60x10", 3000) + BY_BAR


def planned(folder: Path, text: str, saw: str = BOTH) -> dict[str, Any]:
    """plan.json of a job."""
    solution = solved(folder, text, saw)
    assert solution.problems == ()
    record: dict[str, Any] = json.loads(packet_files(solution, Options())["plan.json"])
    return record


@pytest.mark.parametrize(
    "right",
    [
        "[40, { miter = -30, meets = 20 }]",
        "[40, { miter = -30, meets = [20, 3] }]",
        '["40", "-30 meets 20 mm"]',
        '[{ from_bar = 50 }, { from_bar = 60, long = "fixed", meets = "20 mm" }]',
        "[{ corner = 100 }, { miter = -30, bevel = 0, meets = 20 }]",
    ],
)
def test_every_form_of_a_cut_in_a_list(tmp_path: Path, right: str) -> None:
    (tmp_path / "job.toml").write_text('[job]\nname = "p"\n' + piece("T", "FLAT 60x10", f"right = {right}", 400))
    code, out, _ = command("check", str(tmp_path / "job.toml"), "--json")
    (record,) = json.loads(out)["pieces"]
    assert code == 0
    assert record["right"] == {"miter_deg": pytest.approx(40), "bevel_deg": 0}
    (further,) = record["right_further"]
    assert (further["miter_deg"], further["meets_mm"][0]) == pytest.approx((-30, 20))
    assert (record["left"], record["left_further"]) == ({"miter_deg": 0, "bevel_deg": 0}, [])
    assert record["long_point_mm"] == 400
    assert record["short_point_mm"] == pytest.approx(400 - 40 * T30)
    assert record["edges_mm"]["fixed_top"] == pytest.approx(400 - 20 * T40)
    assert record["edges_mm"]["moving_top"] == pytest.approx(400 - 40 * T30)
    assert record["volume_mm3"] == pytest.approx(10 * (60 * 400 - 20 * 20 * T40 / 2 - 40 * 40 * T30 / 2))


def test_the_tip_is_on_the_centerline_where_nothing_is_said(tmp_path: Path) -> None:
    (one,) = solved(tmp_path, '[job]\nname = "p"\n' + piece("T", "FLAT 60x10", "right = [45, -45]", 400)).pieces
    assert one.piece.right_further[0].meets == pytest.approx((30, 5))
    assert one.piece.short_point == pytest.approx(370)


def test_a_bar_is_parted_with_the_first_cut(tmp_path: Path) -> None:
    """Square and 40: the second piece lies turned, so that both slants are one cut. Behind the tip the first plane goes
    on, so that a blank is 400 + 10 tan 40 on its centerline; the kerf between takes 2 / cos 40."""
    plan = planned(tmp_path, HEAD + TONGUE + BARS)
    (bar,) = plan["bars"]
    blank = 400 + 10 * T40
    first, second = (placed["at_mm"] for placed in bar["pieces"])
    assert (first, second) == pytest.approx((0, blank + KERF / math.cos(math.radians(40))))
    assert [cut["shared"] for cut in bar["cuts"]] == [False, True, False]
    assert plan["steel_mm"]["pieces"] == pytest.approx(2 * blank)


def test_the_further_cut_is_a_row_of_its_own(tmp_path: Path) -> None:
    """On the moving side the first plane stands 60 tan 40 over the fixed edge, the second 20 tan 40 - 40 tan 30."""
    plan = planned(tmp_path, HEAD + TONGUE + BARS)
    (row,) = plan["further_cuts"]
    assert (row["mark"], row["pieces"], row["end"], row["cut"], row["miter_deg"]) == ("TONGUE", 2, "right", 2, -30)
    assert row["scale_deg"] == 30
    assert row["back_mm"] == pytest.approx(dict.fromkeys(("moving_bottom", "moving_top"), 40 * (T40 + T30)))
    assert row["edges_mm"] == pytest.approx(dict.fromkeys(("moving_bottom", "moving_top"), 400 - 40 * T30))
    made = {setting["number"]: setting for setting in plan["settings"]}[row["setting"]]
    assert made["swing_deg"] == pytest.approx(-30)
    assert [(use["mark"], use["end"], use["roll_deg"]) for use in made["makes"] if use["cut"] == 2] == [
        ("TONGUE", "right", 0)
    ]
    (mark,) = plan["pieces"]
    assert mark["reach"]["right_further"][0]["swing_deg"] == pytest.approx(-30)
    assert plan["further_swings"] == 1


def test_swings_of_further_cuts(tmp_path: Path) -> None:
    """The only bar is cut at 40 and left square. One setting makes both cuts at 30, another the one at -20; what is
    wanted as the arm stands comes first."""
    text = TONGUE + piece("B", "FLAT 60x10", "left = [20, -30]\nright = [0]", 300)
    solution = solved(tmp_path, HEAD + text + piece("C", "FLAT 60x10", "right = [30, -20]", 300) + BARS, BOTH)
    rows = [(row.mark, row.cut.end, round(row.angles.swing)) for row in solution.further]
    assert sorted(rows) == [("B", "left", 30), ("C", "right", -20), ("TONGUE", "right", -30)]
    last = solution.plan.bars[-1].cuts[-1].swing if solution.plan else 0
    stays = bool(rows) and rows[0][2] == pytest.approx(last)
    assert solution.further_swings == 3 - stays
    assert solution.swings == (solution.plan.swings if solution.plan else 0) + solution.further_swings


def test_two_marks_share_the_setting_of_a_further_cut(tmp_path: Path) -> None:
    """Both are cut at -30 on a right end: one setting, one swing, though they are two rows."""
    other = piece("OTHER", "FLAT 60x10", "right = [40, -30]", 500)
    plan = planned(tmp_path, HEAD + TONGUE + other + BARS)
    first, second = plan["further_cuts"]
    assert first["setting"] == second["setting"]
    assert plan["further_swings"] == 1


@pytest.mark.parametrize("cuts", ["[70, -20]", "[-20, 70]", "[10, '70 meets 20', -20]"])
def test_every_plane_is_asked_of_the_saw(tmp_path: Path, cuts: str) -> None:
    (tmp_path / "saw.toml").write_text(BOTH)
    (tmp_path / "job.toml").write_text(HEAD + piece("T", "FLAT 60x10", f"right = {cuts}", 700))
    code, out, _ = command("check", str(tmp_path / "job.toml"), "--json")
    record = json.loads(out)
    assert code == 1
    assert any("needs a swing of 70" in problem for problem in record["problems"])
    assert record["problem_marks"] == ["T"]
    reach = record["pieces"][0]["reach"]
    found = [reach["right"], *reach["right_further"]]
    assert [one["ok"] for one in found] == [abs(one["swing_deg"]) < 60 for one in found]
    ask = ("piece", "FLAT 60x10", "--length", "700", "--right", "20", "--right", "70", "--saw")
    assert command(*ask, str(tmp_path / "saw.toml"))[0] == 1


def test_an_opposite_hand_has_its_planes_at_the_other_end(tmp_path: Path) -> None:
    text = piece("H", "L 60x60x6", "left = [30, { miter = -20, meets = 15 }]\nopposite = 1", 500)
    drawn, other = solved(tmp_path, HEAD + text, BOTH).pieces
    assert [(one.end, one.cut.miter) for one in drawn.further] == [("left", -20)]
    assert [(one.end, one.cut.miter) for one in other.further] == [("right", -20)]
    assert other.piece.right_further[0].meets == pytest.approx((15, 30))


Plane = tuple[float, float, float]
"""x = o + p*y + q*z as (p, q, o)."""


def planes_as_laid(
    record: dict[str, Any], pose: str, at: float, wide: float, high: float, way: int
) -> list[list[Plane]]:
    """Both ends of a mark as it lies on a bar, each its planes, worked out from JSON by half turns of the solid.

    The piece spans from the largest left to the least right plane. As drawn its first left plane crosses the middle of
    the section at 0, and all of its planes stand as far apart there as its centerline says. `way` is -1 where the bar
    is counted from the right end of the pieces.
    """

    def end(cuts: list[dict[str, Any]], out: float) -> list[Plane]:
        slopes = []
        for cut in cuts:
            p = math.tan(math.radians(cut["miter_deg"]))
            q = math.tan(math.radians(cut["bevel_deg"])) / math.cos(math.radians(cut["miter_deg"]))
            slopes.append((out * p, out * q))
        (p, q), *_ = slopes
        found = [(p, q, -p * wide / 2 - q * high / 2)]
        for (v, w), cut in zip(slopes[1:], cuts[1:], strict=True):
            y, z = cut["meets_mm"]
            found.append((v, w, found[0][2] + (p - v) * y + (q - w) * z))
        return found

    left = end([record["left"], *record["left_further"]], -1)
    right = end([record["right"], *record["right_further"]], 1)
    middle = [max(o + p * wide / 2 + q * high / 2 for p, q, o in left)]
    middle.append(min(o + p * wide / 2 + q * high / 2 for p, q, o in right))
    far = record["centerline_mm"] + middle[0] - middle[1]
    right = [(p, q, o + far) for p, q, o in right]
    turned = {
        "as-drawn": (1, 1, 1),
        "end-for-end": (-1, -1, 1),
        "rolled": (1, -1, -1),
        "end-for-end-rolled": (-1, 1, -1),
    }
    x, y, z = turned[pose]
    x *= way

    def lying(plane: Plane) -> Plane:
        p, q, o = plane
        o += (p * wide if y < 0 else 0) + (q * high if z < 0 else 0)
        return (x * y * p, x * z * q, x * o)

    ends = [[lying(plane) for plane in one] for one in (left, right)]
    lead, trail = ends if x > 0 else ends[::-1]
    p, q, o = lead[0]
    shift = at - (o + p * wide / 2 + q * high / 2)
    return [[(p, q, o + shift) for p, q, o in one] for one in (lead, trail)]


MIXED = (
    TONGUE
    + piece("ARROW", "FLAT 60x10", "left = [35, -35]\nright = [-20, { miter = 50, meets = 44 }]\nquantity = 3", 350)
    + piece(
        "BENT", "FLAT 60x10", "left = 15\nright = [0, { miter = -30, bevel = 12, meets = [50, 4] }]\nquantity = 2", 200
    )
)


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_the_steel_of_every_piece_lies_in_its_blank(tmp_path: Path, jaw: str) -> None:
    """From plan.json alone: between the two planes that the bar is cut with lies every place of the piece, it touches
    both, and the next one begins a kerf behind."""
    saw = BOTH.replace('fixed_jaw = "left"', f'fixed_jaw = "{jaw}"').replace(
        "[vise]", "[tilt]\nlowest = -45\nhighest = 45\n[vise]"
    )
    plan = planned(tmp_path, HEAD + MIXED + stock("FLAT 60x10", 2500) + BY_BAR, saw)
    marks = {mark["mark"]: mark for mark in plan["pieces"]}
    places = list(itertools.product((0, 7, 20, 30, 44, 53, 60), (0, 5, 10)))
    way, count = (1 if jaw == "left" else -1), 0
    for bar in plan["bars"]:
        cuts, before = iter(bar["cuts"]), [(0.0, 0.0, -1e3)]
        lead_cut = next(cuts)
        for placed in bar["pieces"]:
            trail_cut = next(cuts)
            lead, trail = planes_as_laid(marks[placed["mark"]], placed["pose"], placed["at_mm"], 60, 10, way)
            for cut, (p, q, o), kerf in ((lead_cut, lead[0], lead_cut["shared"]), (trail_cut, trail[0], False)):
                face = o - kerf * KERF * math.sqrt(1 + p * p + q * q)
                assert (cut["fixed_mm"], cut["moving_mm"]) == pytest.approx((face, face + 60 * p), abs=1e-6)
            for y, z in places:
                begin = max(o + p * y + q * z for p, q, o in lead)
                end = min(o + p * y + q * z for p, q, o in trail)
                first, last, ended = (o + p * y + q * z for p, q, o in (lead[0], trail[0], before[0]))
                assert ended + KERF - 1e-6 <= first <= begin + 1e-6
                assert begin <= end <= last + 1e-6
            before = trail
            lead_cut = trail_cut if trail_cut["shared"] else next(cuts, trail_cut)
            count += bar["count"]
    assert count == 7


def test_the_sheet_tells_every_cut(tmp_path: Path) -> None:
    """The list of further cuts, the mark's block and the totals, as the page's own texts."""
    from mitertool.packet.pages.sheet.sheet import cut_sheet

    (tmp_path / "saw.toml").write_text(BOTH)
    (tmp_path / "job.toml").write_text(HEAD + TONGUE + BARS)
    solution = solve(load(tmp_path / "job.toml"))
    says = [box.says for page in cut_sheet(solution) for box in page.drawing.text_boxes()]
    back = f"mark back from cut 1: moving side {round(40 * (T40 + T30), 1)}"
    assert back in says
    assert f"then {round(400 - 40 * T30, 1)} long" in says
    at = says.index("right end, cut 2")
    assert says[at - 1 : at + 2] == ["2 × TONGUE", "right end, cut 2", "30°"]
    assert "arm 30° to discharge side" in says[at : at + 6]
    (totals,) = [line.split(", ") for line in says if "cuts on parted pieces" in line]
    assert "2 cuts on parted pieces" in totals
    assert f"{solution.swings} changes of swing after the first" in " ".join(says)


def test_plan_json_keeps_to_its_schema(tmp_path: Path) -> None:
    """By an independent validator of JSON Schema."""
    plan = planned(tmp_path, HEAD + MIXED + stock("FLAT 60x10", 2500), BOTH + "[tilt]\nlowest = -45\nhighest = 45\n")
    assert complaints(schema(), plan) == []
    assert {row["mark"] for row in plan["further_cuts"]} == {"TONGUE", "ARROW", "BENT"}


@pytest.mark.parametrize(("jaw", "turned"), [("left", True), ("right", False)])
def test_the_vise_holds_the_piece_and_not_what_falls_off(tmp_path: Path, jaw: str, turned: bool) -> None:
    """With the fixed jaw on the left left ends lead, so a right end lies before the blade only end for end."""
    saw = BOTH.replace('fixed_jaw = "left"', f'fixed_jaw = "{jaw}"')
    (row,) = planned(tmp_path, HEAD + TONGUE + BARS, saw)["further_cuts"]
    assert (row["end"], row["turned"]) == ("right", turned)
