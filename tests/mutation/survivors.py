"""The changes that no test can notice, each with the reason why the changed program is the same program.

They stand in `survivors.toml`, found again by file, definition and the text of the changed lines, so that lines may
move. An entry whose text stands there no more is told at the end of the command: it is to be taken out.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from attrs import frozen

ROOT: Final = Path(__file__).resolve().parents[2]
_LIST: Final = Path(__file__).with_name("survivors.toml")


@frozen
class Same:
    """A change after which the program is the same."""

    file: str
    within: str
    was: str
    now: str
    why: str

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What finds it again."""
        return self.file, self.within, self.was, self.now


def same() -> list[Same]:
    """Every change that is explained."""
    return [Same(**one) for one in tomllib.loads(_LIST.read_text(encoding="utf-8"))["same"]]


def stands(one: Same) -> bool:
    """Whether the text that a change is of stands in its definition."""
    source = (ROOT / one.file).read_text(encoding="utf-8")
    lines = _definition(source, one.within) if one.within else map(str.strip, source.splitlines())
    return one.was in " ".join(lines)


def _definition(source: str, name: str) -> Iterator[str]:
    """The lines of a definition, without the blanks around them."""
    body = ast.parse(source).body
    lines = source.splitlines()
    for part in name.split("."):
        found = [one for one in body if isinstance(one, ast.FunctionDef | ast.ClassDef) and one.name == part]
        if not found:
            return
        first = min([found[0].lineno, *(one.lineno for one in found[0].decorator_list)])
        body, last = found[0].body, found[0].end_lineno
    yield from (line.strip() for line in lines[first - 1 : last])
