"""`--sketch` writes over its own drawings, over others only with --force, and over its own source never."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

TUBE = "SHS 40x40x3"
COMMANDS: dict[str, tuple[str, ...]] = {
    "section": ("section", TUBE),
    "section, lays": ("section", "L 50x50x5", "--lays"),
    "cut": ("cut", TUBE, "--miter", "45", "--saw", "{saw}"),
    "piece": ("piece", TUBE, "--length", "400", "--left", "45"),
    "saw": ("saw", "draw", "{saw}"),
    "rectangle": (
        *("frame", "rectangle", "--section", TUBE, "--width", "900", "--height", "600"),
        *("--measured", "outside"),
    ),
    "polygon": ("frame", "polygon", "--section", TUBE, "--sides", "6", "--side", "500", "--measured", "outside"),
    "drawing": ("frame", "drawing", "--section", TUBE, "--file", "{drawing}", "--line", "centerline"),
    "brace": ("frame", "brace", "--section", TUBE, "--rise", "700", "--run", "1100", "--ends", "level"),
    "infill": (
        *("frame", "infill", "--section", "ROUND 12", "--opening", "900", "--height", "800"),
        *("--clear-most", "100"),
    ),
}


@pytest.fixture
def drawing(tmp_path: Path) -> Path:
    """A square of 1 m in a DXF file."""
    file = ezdxf.new(units=4)
    file.modelspace().add_lwpolyline([(0, 0), (0, 1000), (1000, 1000), (1000, 0)], close=True)
    file.saveas(tmp_path / "frame.dxf")
    return tmp_path / "frame.dxf"


@pytest.fixture(params=COMMANDS)
def command(request: pytest.FixtureRequest, one_way: str, drawing: Path) -> list[str]:
    """Every command that draws, with its arguments but --sketch."""
    return [part.format(saw=one_way, drawing=drawing) for part in COMMANDS[request.param]]


@pytest.mark.parametrize("ending", ["svg", "dxf"])
def test_its_own_drawing_is_written_over_and_another_s_only_with_force(
    call: Call, command: list[str], tmp_path: Path, ending: str
) -> None:
    out = tmp_path / f"out.{ending}"
    assert call(*command, "--sketch", str(out)).code == 0
    first = out.read_bytes()
    assert call(*command, "--sketch", str(out)).code == 0
    assert out.read_bytes() == first
    for mine in (b"mine", first + b" "):
        out.write_bytes(mine)
        said = call(*command, "--sketch", str(out))
        assert (said.code, said.out, out.read_bytes()) == (2, "", mine)
        assert "--force" in said.err
    assert call(*command, "--sketch", str(out), "--force").code == 0
    assert out.read_bytes() == first


@pytest.mark.parametrize("force", [(), ("--force",)])
@pytest.mark.parametrize("way", ["as named", "another way", "by a link"])
def test_a_drawing_is_never_written_over_its_own_source(
    call: Call, drawing: Path, way: str, force: tuple[str, ...]
) -> None:
    before = drawing.read_bytes()
    (drawing.parent / "link.dxf").symlink_to(drawing)
    ways = {"as named": drawing, "another way": drawing.parent / ".." / drawing.parent.name / "frame.dxf"}
    out = str(ways.get(way, drawing.parent / "link.dxf"))
    command = [part.format(drawing=drawing) for part in COMMANDS["drawing"]]
    said = call(*command, "--sketch", out, *force)
    assert (said.code, said.out, drawing.read_bytes()) == (2, "", before)
    assert "made from this file" in said.err


def test_a_drawing_of_ours_that_is_the_source_stays_too(call: Call, drawing: Path, tmp_path: Path) -> None:
    command = [part.format(drawing=drawing) for part in COMMANDS["drawing"]]
    assert call(*command, "--sketch", str(drawing), "--layer", "0").code == 2
    assert call("section", TUBE, "--sketch", str(tmp_path / "own.dxf")).code == 0
    own = (tmp_path / "own.dxf").read_bytes()
    again = [part.format(drawing=tmp_path / "own.dxf") for part in COMMANDS["drawing"]]
    assert call(*again, "--sketch", str(tmp_path / "own.dxf")).code == 2
    assert (tmp_path / "own.dxf").read_bytes() == own


def test_a_folder_of_that_name_stays_with_force_too(call: Call, tmp_path: Path) -> None:
    (tmp_path / "out.svg").mkdir()
    said = call("section", TUBE, "--sketch", str(tmp_path / "out.svg"), "--force")
    assert said.code == 2
    assert "not a plain file" in said.err
