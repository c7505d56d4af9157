"""The end view of a mark whose ends are turned against each other, as an outside reader of the DXF finds it.

By hand: seen from the left end the fixed jaw is on the right. A miter above 0 has its long point on the moving side, so
on the left of the picture (9 o'clock), a bevel above 0 at the top (12 o'clock): from the left end's miter to the right
end's bevel it goes clockwise by a quarter.
"""

from __future__ import annotations

import io
import math
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest

from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from tests.packet.jobs import head, piece

SIDE, HIGH = 80.0, 40.0
"""RHS 80x40, lying on its wide side."""


def sketch(folder: Path, section: str, ends: str) -> Any:
    (folder / "job.toml").write_text(head() + piece("T", section, "500", ends), encoding="utf-8")
    files = packet_files(solve(load(folder / "job.toml")), Options())
    return ezdxf.filemanagement.read(io.StringIO(files["sketches/T.dxf"].decode("utf-8"), newline=None))


def texts(found: Any) -> dict[str, Any]:
    return {text.dxf.text: text for text in found.modelspace().query("TEXT")}


def ways(found: Any) -> tuple[float, float]:
    """Toward which the lines of the left and of the right long point run from where they begin, degrees."""
    named = texts(found)
    lines = [line for line in found.modelspace().query("LINE") if line.dxf.layer == "center line"]
    said = []
    for name in ("left long point", "right long point"):
        at = named[name].dxf.insert if named[name].dxf.halign == 0 else named[name].dxf.align_point
        line = min(lines, key=lambda line: (line.dxf.end - at).magnitude)
        said.append(math.degrees(math.atan2(*reversed((line.dxf.end - line.dxf.start).vec2))))
    return said[0], said[1]


def measured(found: Any) -> list[float]:
    return [one.get_measurement() for one in found.modelspace().query("DIMENSION") if one.dimtype == 5]


@pytest.mark.parametrize(("bevel", "way", "says"), [(30, 90.0, "clockwise"), (-30, -90.0, "counter-clockwise")])
def test_a_miter_and_a_bevel_are_turned_by_a_quarter(tmp_path: Path, bevel: int, way: float, says: str) -> None:
    found = sketch(tmp_path, "RHS 80x40x3", f"left = 30\nright = {{ bevel = {bevel} }}")
    assert [abs(at) for at in ways(found)] == pytest.approx([180.0, 90.0], abs=1e-9)
    assert ways(found)[1] == pytest.approx(way, abs=1e-9)
    assert 90.0 in [pytest.approx(one, abs=1e-9) for one in measured(found)]
    assert f"right long point 90° {says} from the left one" in texts(found)
    assert "from the left end, fixed jaw on the right" in texts(found)


def test_a_long_point_at_a_corner_is_marked_there(tmp_path: Path) -> None:
    """Left: 20 by miter and 10 by bevel stand out at the moving top edge, upper left; right: -20 and 10, upper right.

    The slopes are tan(20) and tan(10)/cos(20), so that the lines rise by atan(tan(10)/sin(20)) from the level.
    """
    found = sketch(tmp_path, "RHS 80x40x3", "left = { miter = 20, bevel = 10 }\nright = { miter = -20, bevel = 10 }")
    rise = math.degrees(math.atan(math.tan(math.radians(10)) / math.sin(math.radians(20))))
    assert ways(found) == pytest.approx((180 - rise, rise), abs=1e-9)
    assert 180 - 2 * rise in [pytest.approx(one, abs=1e-9) for one in measured(found)]


def test_ends_on_one_side_or_opposite_ones_have_no_such_view(tmp_path: Path) -> None:
    for ends in ("left = 30\nright = 45", "left = 30\nright = -45", "left = 30", ""):
        assert "left long point" not in texts(sketch(tmp_path, "RHS 80x40x3", ends))
