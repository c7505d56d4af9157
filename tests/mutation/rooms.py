"""The rooms whose tests are tried, and where the tests that may notice a change are looked for."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
ROOMS: Final = ("geometry", "cut", "piece", "bar", "saw", "nest")
FOLDERS: Final = (
    *("geometry", "sections", "cut", "piece", "bar", "saw", "nest", "laws", "published", "frame", "working"),
    *("practice", "job", "virtual_saw", "quantity", "packet", "cli"),
)


def modules(room: str) -> Iterator[Path]:
    """Every file of a room that has code in it, in one order everywhere."""
    return (path for path in sorted((ROOT / "mitertool" / room).rglob("*.py")) if path.read_text(encoding="utf-8"))


def load() -> None:
    """Load all of them, so that what a test loads late is seen and changed too."""
    for path in (path for room in ROOMS for path in modules(room)):
        import_module(".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"))


def room_of(path: Path) -> str:
    """The room that a file of the program stands in."""
    return path.relative_to(ROOT / "mitertool").parts[0]
