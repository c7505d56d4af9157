"""A shape is one file: everything that asks what a section is asks its shape, and a file put beside them is known."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from mitertool.sections import shapes
from mitertool.sections.section import Shape
from mitertool.words import phrase

ROOT = Path(__file__).resolve().parents[2]
OF_SHAPES_ALONE = {"rect-tube", "round-tube", "round-bar", "i-section"}
"""Words of shapes that mean nothing else anywhere."""

EVERY = pytest.mark.parametrize("shape", [shapes.of(word) for word in shapes.words()], ids=str)


def texts(path: Path) -> Iterator[str]:
    """The texts in a module's code that are whole words of it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def test_no_module_outside_their_files_knows_shapes_by_word() -> None:
    files = [path for path in (ROOT / "mitertool").rglob("*.py") if path.parent.name != "shapes"]
    assert len(files) > 200
    assert {path.name for path in files if OF_SHAPES_ALONE & set(texts(path))} == set()


@EVERY
def test_a_shape_says_its_own_word(shape: Shape) -> None:
    assert shapes.of(shape.word) is shape
    assert {one.key for one in shape.dimensions if one.needed}
    assert [one.means for one in shape.dimensions if not phrase(f"key.{one.means}").endswith(".")] == []


HEXAGON = """
from math import sqrt

from mitertool.geometry import Region, rounded
from mitertool.sections.dimension import Dimension
from mitertool.sections.lay import BOX_WORDS, alike, box_lines
from mitertool.sections.section import FrameWord, Section, Shape


def hexagon(across_flats):
    SHAPE.check(across_flats=across_flats)
    a = across_flats / sqrt(3)
    places = [(a / 2, 0), (1.5 * a, 0), (2 * a, across_flats / 2), (1.5 * a, across_flats), (a / 2, across_flats)]
    loop = rounded([(*place, 0) for place in [*places, (0, across_flats / 2)]])
    return Section("hexagon", SHAPE, Region((loop,)), (("across flats", across_flats),))


FLATS = Dimension("across_flats", "Over two flats.")
EDGE = FrameWord("edge", "Which way an edge points.", ("out", "up"))
SHAPE = Shape("hexagon", hexagon, (FLATS,), alike, BOX_WORDS, box_lines, frame_words=(EDGE,), solid=True,
              in_frame=lambda section, edge: section.lay(0 if edge == "out" else 90))
"""

JOB = """
[job]
name = "hexagons"
units = "mm"
[[section]]
name = "HEX"
shape = "hexagon"
across_flats = 24
[[piece]]
mark = "A"
section = "HEX"
length = 500
[[frame]]
mark = "F"
shape = "rectangle"
section = "HEX"
edge = "up"
width = 900
height = 600
measured = "outside"
"""

CALL = """
import sys
from mitertool.sections import shapes
shapes.__path__.append(sys.argv[1])
from mitertool.cli.main import run
sys.exit(run(sys.argv[2:]))
"""


def with_hexagons(folder: Path, *arguments: str) -> str:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "MITERTOOL_PROFILES": str(folder)}
    command = [sys.executable, "-c", CALL, str(folder), *arguments]
    done = subprocess.run(command, env=environment, cwd=folder, capture_output=True, text=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the file of a new shape and a job that uses it."""
    (tmp_path / "hexagon.py").write_text(HEXAGON)
    (tmp_path / "job.toml").write_text(JOB)
    return tmp_path


def test_a_shape_that_is_one_file_is_solved_in_a_job(folder: Path) -> None:
    """Area of a hexagon over flats f: f^2 sqrt(3)/2; laid with an edge up it is f wide and 2 f/sqrt(3) high."""
    solved = json.loads(with_hexagons(folder, "check", "job.toml", "--json"))
    by_mark = {piece["mark"]: piece for piece in solved["pieces"]}
    assert by_mark["A"]["mass_kg"] == pytest.approx(500 * 24**2 * 3**0.5 / 2 * 7.85e-6)
    assert by_mark["F-1"]["long_point_mm"] - by_mark["F-1"]["short_point_mm"] == pytest.approx(2 * 24)
    assert solved["assemblies"][0]["closure"]["gap_mm"] == pytest.approx(0, abs=1e-6)


def test_a_shape_that_is_one_file_stands_in_the_schema_and_the_help(folder: Path) -> None:
    keys = json.loads(with_hexagons(folder, "schema", "job"))["properties"]
    assert "hexagon" in keys["section"]["items"]["properties"]["shape"]["enum"]
    assert keys["section"]["items"]["properties"]["across_flats"]["description"] == "Over two flats."
    assert keys["frame"]["items"]["properties"]["edge"]["enum"] == ["out", "up"]
    helped = with_hexagons(folder, "frame", "rectangle", "--help")
    assert re.search(r"^  --edge out\|up  ", helped, re.MULTILINE)
    assert "across_flats" not in json.dumps(json.loads(with_hexagons(folder, "schema", "saw")))
