"""What a page allows or asks for at least is never looser than it is, in the units of the job.

Tolerances are those of ISO 2768-1, table 1 (lengths) and table 3 (angles): class c allows 4 mm on 2000 to 4000 mm and
10' on a leg over 400 mm, class f 0.15 mm on 30 to 120 mm, 0.2 mm on 120 to 400 mm. In inches by 1 in = 25.4 mm: 4 mm
are 10.08/64, 0.2 mm are 0.00787, 0.15 mm are 0.0059.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.cut.blade.arms import BladeArm
from mitertool.packet.pages.setting.walk_down import walk_down
from tests.job.test_solve import SAW, WITH_SAW, piece, solved, stock
from tests.packet.test_sheet_blocks import pages, run_together
from tests.saw import machines


@pytest.mark.parametrize(
    ("units", "tolerance", "length", "says"),
    [
        ("mm", "ISO 2768-f", "100 mm", "±0.15"),
        ("mm", "ISO 2768-f", "300 mm", "±0.2"),
        ("mm", "ISO 2768-c", "3000 mm", "±4"),
        ("ft-in", "ISO 2768-c", "3000 mm", '±5/32"'),
        ("in/32", "ISO 2768-c", "3000 mm", '±5/32"'),
        ("ft-in", "ISO 2768-f", "300 mm", '±0.0078"'),
        ("in", "ISO 2768-f", "100 mm", '±0.0059"'),
    ],
)
def test_what_a_first_piece_may_be_out(tmp_path: Path, units: str, tolerance: str, length: str, says: str) -> None:
    head = WITH_SAW.replace("[job]\n", f'[job]\ntolerance = "{tolerance}"\nunits = "{units}"\n')
    text = head + piece().replace("length = 1000", f'length = "{length}"')
    said = pages(solved(tmp_path, text, SAW))
    wanted = re.compile(rf"first: .* {re.escape(says)}(, ends square)?")
    assert any(wanted.fullmatch(line) for line in "\n".join(said).splitlines())


def test_an_angle_of_ten_minutes_is_not_printed_as_more(tmp_path: Path) -> None:
    """Class f allows 10' on a leg of 120 to 400 mm: 0.1667 degrees on a flat of 150, which no scale of 0.5 holds."""
    head = WITH_SAW.replace("[job]\n", '[job]\ntolerance = "ISO 2768-f"\n')
    said = run_together(pages(solved(tmp_path, head + piece(section="FLAT 150x10") + stock("FLAT 150x10"), SAW)))
    assert "prove with a protractor, from square: 0° ±0.16°, from the bar: 90°" in said
    assert "0.17" not in said


@pytest.mark.parametrize("arm", [machines.HINGE, machines.COLUMN], ids=["hinged", "column"])
@pytest.mark.parametrize("miter", [0.0, 11.3, 37.7, 45.0])
def test_what_is_set_at_least_is_printed_no_less(arm: BladeArm, miter: float) -> None:
    """Set-backs, guides, lift and the edge's height: the printed figure is not below the exact one, and within 0.1."""
    reach = machines.roomy(arm, "left").reach(mt.section("RHS 80x40x3"), mt.Cut(miter))
    lift = reach.arm_lift or 0.0
    exact = {"C": reach.guide_setting, "D": reach.guide_opening, "E": lift, "F": reach.stop_height}
    for step in walk_down(reach, "mm"):
        least = exact.get(step.letter)
        if least is not None:
            printed = float(re.sub("[^0-9.-]", "", step.value))
            assert -1e-6 <= printed - least <= 0.1
