"""A command loads what it needs: no solver, drawing or checking library for one cut, and nothing beside its answer."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT

HEAVY = {"pydantic", "pydantic_core", "sympy", "ezdxf", "shapely", "matplotlib", "numpy", "reportlab", "scipy"}
HEAVY |= {"highspy", "starlette", "uvicorn", "jinja2"}

CODE = """
import sys
from mitertool.cli.main import run
code = run(sys.argv[1:])
sys.stderr.write(" ".join({name.partition(".")[0] for name in sys.modules}))
sys.exit(code)
"""


def process(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"}
    command = [sys.executable, *arguments]
    return subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, encoding="utf-8")


@pytest.mark.parametrize(
    "arguments",
    [
        ("cut", "RHS 80x40x3", "--miter", "45", "--json"),
        ("cut", "RHS 80x40x3", "--miter", "45", "--saw", str(ROOT / "gallery" / "boathouse-gate" / "saw.toml")),
        ("piece", "L 50x50x5", "--length", "1200", "--left", "45", "--json"),
        ("section", "IPE 200", "--json"),
        ("corner", "RHS 80x40x3", "--json"),
        (
            "frame",
            "rectangle",
            "--section",
            "RHS 80x40x3",
            "--width",
            "1200",
            "--height",
            "800",
            "--measured",
            "outside",
        ),
        ("check", str(ROOT / "gallery" / "boathouse-gate" / "job.toml")),
    ],
    ids=lambda arguments: arguments[0],
)
def test_a_command_without_a_drawing_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    done = process("-c", CODE, *arguments)
    loaded = set(done.stderr.split())
    assert (done.returncode, HEAVY & loaded) == (0, set())
    assert {"mitertool", "typer"} <= loaded
    assert done.stdout


ROOMS = """
import sys
from mitertool.cli.main import run
code = run(sys.argv[1:])
parts = [name.split(".") for name in sys.modules if name.startswith("mitertool.")]
sys.stderr.write(" ".join(sorted({part[1] for part in parts if len(part) > 2} | {".".join(p) for p in parts})))
sys.exit(code)
"""
"""Names the rooms of which anything was loaded: their doors alone load nothing; and every module by its whole name."""


SAW_FILE = str(ROOT / "gallery" / "boathouse-gate" / "saw.toml")
FIRST = ("--length", "1200", "--left", "45", "--right", "45", "--long", "1201.5", "--short", "1118.5")
FRAMED = ("--section", "RHS 80x40x3", "--width", "1200", "--height", "800", "--measured", "outside")
OF_A_CUT = {"sections", "cut", "geometry", "packet", "quantity"}
OF_A_PIECE = OF_A_CUT | {"bar", "piece"}
OF_A_FRAME = OF_A_PIECE | {"frame", "job", "saw"}


@pytest.mark.parametrize(
    ("arguments", "rooms"),
    [
        (("--version",), set()),
        (("--help",), set()),
        (("section", "IPE 200"), OF_A_CUT),
        (("cut", "RHS 80x40x3"), OF_A_CUT),
        (("cut", "RHS 80x40x3", "--saw", SAW_FILE), OF_A_PIECE | {"saw", "drawing"}),
        (("corner", "RHS 80x40x3"), OF_A_CUT | {"frame", "piece"}),
        (("piece", "L 50x50x5", "--length", "1200"), OF_A_FRAME | {"nest.way_names"}),
        (("saw", "check", SAW_FILE), OF_A_PIECE | {"saw"}),
        (("first-piece", "RHS 80x40x3", *FIRST, "--saw", SAW_FILE), OF_A_PIECE | {"saw"}),
        (("schema", "saw"), OF_A_CUT | {"saw"}),
        (("schema", "job"), OF_A_PIECE | {"frame", "job", "lists", "nest.way_names"}),
        (("schema", "plan"), OF_A_PIECE | {"nest.way_names"}),
        (("frame", "rectangle", *FRAMED), OF_A_FRAME | {"nest.way_names"}),
    ],
    ids=lambda arguments: " ".join(arguments[:2]) if isinstance(arguments, tuple) else "",
)
def test_a_command_enters_only_the_rooms_it_needs(arguments: tuple[str, ...], rooms: set[str]) -> None:
    """Of a room behind a door, such as nest, a name with a point is the one module of it that is wanted."""
    done = process("-c", ROOMS, *arguments)
    assert done.returncode == 0
    loaded = [name.split(".")[1:] for name in done.stderr.split() if name.count(".") > 1]
    inside = [parts for parts in loaded if parts[0] not in ("base", "cli", "words")]
    assert {parts[0] for parts in inside} == {name.partition(".")[0] for name in rooms}
    single = {name.partition(".")[0] for name in rooms if "." in name}
    assert {".".join(parts) for parts in inside if parts[0] in single} == {name for name in rooms if "." in name}


def test_a_start_without_a_command_builds_no_options() -> None:
    loaded = set(process("-c", ROOMS, "--help").stderr.split())
    assert "mitertool.cli.groups" in loaded
    assert "mitertool.cli.commands" not in loaded


def test_a_command_loads_no_other_command() -> None:
    entered = set(process("-c", ROOMS, "cut", "RHS 80x40x3").stderr.split())
    commands = {name for name in entered if name.startswith("mitertool.cli.")}
    others = {"piece", "corner", "frame", "nest", "check", "packet", "saw", "first_piece", "schema", "section"}
    assert "mitertool.cli.cut" in commands
    assert {f"mitertool.cli.{name}" for name in others} & commands == set()


def test_a_process_says_its_answer_and_nothing_else(tmp_path: Path) -> None:
    job = str(ROOT / "gallery" / "boathouse-gate" / "job.toml")
    done = process("-m", "mitertool", "check", job, "--json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["job"] == "Boathouse gate"


def test_a_packet_made_by_a_process(tmp_path: Path) -> None:
    job = str(ROOT / "gallery" / "hatch-frame" / "job.toml")
    done = process("-m", "mitertool", "packet", job, "--out", "packet", "--json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert all((tmp_path / "packet" / name).is_file() for name in json.loads(done.stdout)["files"])
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_a_reader_that_stops_early_is_no_fault(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "mitertool", "check", str(ROOT / "gallery" / "boathouse-gate" / "job.toml")]
    read, write = os.pipe()
    os.close(read)
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, cwd=tmp_path, env=environment, stdout=write, stderr=subprocess.PIPE, text=True)
    os.close(write)
    assert done.stderr == ""


def test_a_check_enters_neither_a_list_nor_the_search_with_arrays() -> None:
    """The job of the gate has no list of parts, and its stock never runs out."""
    entered = set(process("-c", ROOMS, "check", str(ROOT / "gallery" / "boathouse-gate" / "job.toml")).stderr.split())
    search = {f"mitertool.nest.{name}" for name in ("abreast", "columns", "every", "flow", "master", "pricing")}
    unasked = {"mitertool.lists.read", "mitertool.packet.lists_told", "mitertool.drawing.drawing", *search}
    assert {"mitertool.nest.search", "mitertool.job.solving"} <= entered
    assert unasked & entered == set()
