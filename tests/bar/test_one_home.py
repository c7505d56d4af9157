"""Cuts on bars are turned from degrees to slopes and back in one room; the others ask it and have no trigonometry."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOMS = Path(__file__).resolve().parents[2] / "mitertool"
ASKING = sorted(
    path.relative_to(ROOMS).as_posix()
    for pattern in (
        "nest/*.py",
        "job/*.py",
        "packet/records/*.py",
        "saw/feed/feed.py",
        "saw/feed/stops.py",
        "saw/setting/re*.py",
        "saw/setting/lays.py",
    )
    for path in ROOMS.glob(pattern)
)
CONVERTING = {"tan", "atan", "atan2", "radians", "degrees", "from_slopes"}


@pytest.mark.parametrize("module", ASKING)
def test_nothing_is_converted_outside(module: str) -> None:
    tree = ast.parse((ROOMS / module).read_text(encoding="utf-8"))
    called = [call.func for call in ast.walk(tree) if isinstance(call, ast.Call)]
    names = {func.attr if isinstance(func, ast.Attribute) else getattr(func, "id", "") for func in called}
    assert not names & CONVERTING


def test_the_rooms_are_found() -> None:
    assert {"nest/setups.py", "saw/feed/feed.py", "saw/setting/reach.py", "job/runs.py"} <= set(ASKING)
