"""What is counted over the whole house: imports inside functions, how long functions are and what they take, names."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
MOST_ARGUMENTS, FEWER_THAN = 6, 10

INSIDE = {
    "__main__.py": 3,  # the whole program: an interrupt while it loads must end in one line
    "base/beside.py": 1,  # processes, for large packets only
    "base/files.py": 1,  # fcntl, which Windows has not
    "base/folders.py": 1,  # ctypes, for one call of one system
    "base/faces.py": 2,  # fontTools, for a letter beyond Helvetica only
    "nest/master.py": 1,  # the solver, which prints its name as it loads: its output is held back then
    "packet/records/bars.py": 1,  # the records serve commands that know no job
    "packet/records/piece.py": 2,
    "packet/records/solution.py": 3,
    "packet/words.py": 3,  # so do the words
    "packet/pages/setting/walk_down.py": 1,  # teeth are counted where the saw file tells of a blade
}
"""Modules with imports inside functions: how many at most, and why."""


@cache
def modules() -> dict[str, ast.Module]:
    """Every module of the package by its path in it, read once."""
    package = ROOT / "mitertool"
    files = sorted(package.rglob("*.py"))
    return {path.relative_to(package).as_posix(): ast.parse(path.read_text(encoding="utf-8")) for path in files}


@cache
def every_node() -> list[tuple[str, ast.AST]]:
    """Every node of every module with the path of its module."""
    return [(path, node) for path, module in modules().items() for node in ast.walk(module)]


def functions() -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    """Every function with the path of its module."""
    for path, node in every_node():
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield path, node


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


def small_numbers(path: str) -> list[str]:
    """The module's named numbers below a hundredth that no text with a reason follows."""
    body = modules()[path].body
    return [
        f"{path}: {ast.unparse(one)}"
        for one, after in zip(body, [*body[1:], None], strict=True)
        if isinstance(one, ast.AnnAssign)
        and isinstance(one.value, ast.Constant)
        and isinstance(one.value.value, float)
        and 0 < one.value.value < 0.01
        and not (isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant))
    ]


def test_every_tolerance_stands_with_its_reason() -> None:
    assert "base/tolerances.py" in modules()
    assert [found for path in modules() for found in small_numbers(path)] == []


LINES = (5, 13, 47)
"""Of a function: the most in the middle, at nine in ten, and of the longest."""

TWO_ROOMS = {"Arc", "EllipseArc", "Line", "Polygon", "Dimension"}
"""Names that geometry or sections and the neutral drawing, which know nothing of each other, both have."""


def all_of(kind: type[ast.AST]) -> list[ast.AST]:
    return [one for _, one in every_node() if isinstance(one, kind)]


def test_functions_stay_short() -> None:
    lengths = sorted(one.end_lineno - one.lineno + 1 for one in all_of(ast.FunctionDef))  # type: ignore[attr-defined]
    measured = (lengths[len(lengths) // 2], lengths[len(lengths) * 9 // 10], lengths[-1])
    assert all(most >= here for most, here in zip(LINES, measured, strict=True)), measured


def test_a_name_of_a_class_is_one_class() -> None:
    names = Counter(one.name for one in all_of(ast.ClassDef) if not one.name.startswith("_"))  # type: ignore[attr-defined]
    assert {name for name, times in names.items() if times > 1} <= TWO_ROOMS
