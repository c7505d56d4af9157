"""What is counted over the whole house: imports inside functions, and functions that take much."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MOST_ARGUMENTS, FEWER_THAN = 6, 10

INSIDE = {
    "__main__.py": 2,  # the whole program: an interrupt while it loads must end in one line
    "base/files.py": 1,  # fcntl, which Windows has not
    "base/folders.py": 1,  # ctypes, for one call of one system
    "base/letters.py": 3,  # fontTools, for a letter beyond Helvetica only
    "cut/cut.py": 1,  # a cut and its face know each other
    "saw/saw.py": 1,  # a saw and its reach know each other
    "nest/master.py": 1,  # the solver, which prints its name as it loads: its output is held back then
    "nest/solver.py": 1,  # numpy comes with the search, and bars are not always planned
    "packet/records/bars.py": 1,  # the records serve commands that know no job
    "packet/records/piece.py": 2,
    "packet/records/solution.py": 2,
    "packet/words.py": 3,  # so do the words
    "packet/pages/setting/walk_down.py": 1,  # teeth are counted where the saw file tells of a blade
}
"""Modules with imports inside functions: how many at most, and why."""


def functions() -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    """Every function with the path of its module."""
    package = ROOT / "mitertool"
    for path in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield path.relative_to(package).as_posix(), node


def test_imports_stand_at_the_top() -> None:
    inside = Counter(
        path
        for path, function in functions()
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    )
    assert {path: count for path, count in inside.items() if count > INSIDE.get(path, 0)} == {}


def test_few_functions_take_more_than_six_arguments() -> None:
    many = [
        f"{path}: {function.name}"
        for path, function in functions()
        if len([*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]) > MOST_ARGUMENTS
    ]
    assert len(many) < FEWER_THAN, many
