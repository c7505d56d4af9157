"""The doors of the rooms: what a checker of types is told of stands there when it is asked for, and nothing else."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from mitertool.base.doors import door
from tests.cli.conftest import ROOT

ROOMS = ("cli", "drawing", "geometry", "packet", "packet.records", "saw", "working")
DOORS = ("mitertool", *(f"mitertool.{room}" for room in ROOMS))


def told(room: str) -> dict[str, str]:
    """Every name that the block for type checkers imports, with the module that it comes from."""
    package = ROOT / Path(*room.split("."), "__init__.py")
    blocks = [node for node in ast.parse(package.read_text(encoding="utf-8")).body if isinstance(node, ast.If)]
    imports = [node for block in blocks for node in block.body if isinstance(node, ast.ImportFrom)]
    return {alias.name: str(node.module) for node in imports for alias in node.names}


@pytest.mark.parametrize("room", DOORS)
def test_a_name_is_what_its_module_has(room: str) -> None:
    names = told(room)
    assert names
    for name, module in names.items():
        home = import_module(module)
        assert getattr(import_module(room), name) is getattr(home, name)
    assert set(names) <= set(import_module(room).__all__)


@pytest.mark.parametrize("room", DOORS)
def test_every_name_is_there_in_a_process_that_asks_for_nothing_before(room: str) -> None:
    code = f"import {room} as room; print(len([getattr(room, name) for name in room.__all__]))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert int(done.stdout) == len(import_module(room).__all__)


@pytest.mark.parametrize("room", DOORS)
def test_no_name_is_hidden_by_a_module(room: str) -> None:
    """Loading a module of a package sets its name there: a function of the same name would be gone."""
    folder = ROOT / Path(*room.split("."))
    modules = {path.stem for path in folder.glob("*.py")} | {path.name for path in folder.iterdir() if path.is_dir()}
    assert {name for name, module in told(room).items() if name in modules and module != room} == set()


def test_another_name_is_no_attribute() -> None:
    found = door("mitertool.saw", {"file.scale": "Scale"}, modules="setting.teeth")
    with pytest.raises(AttributeError, match=r"module 'mitertool\.saw' has no attribute 'Wurzel'"):
        found("Wurzel")
    assert found("teeth") is import_module("mitertool.saw.setting.teeth")
