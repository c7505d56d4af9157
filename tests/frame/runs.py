"""Jobs written as text and solved through the command line: what `mitertool check JOB --json` answers or refuses."""

from __future__ import annotations

import json
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

from mitertool.cli.main import run

HEAD = '[job]\nname = "frames"\n'


def table(kind: str, **keys: object) -> str:
    """A table of a job; JSON writes texts, numbers, flags and lists as TOML does."""
    lines = [f"{key} = {json.dumps(value)}" for key, value in keys.items() if value is not None]
    return "\n".join([f"[[{kind}]]", *lines, ""])


def tube(name: str, width: float, height: float | None = None, wall: float = 2.0) -> str:
    """A sharp-cornered tube of its own name, square where no height is given."""
    size = {"width": width, "height": width if height is None else height, "wall": wall}
    return table("section", name=name, shape="rect-tube", **size, outer_radius=0, inner_radius=0)


def frame(shape: str, section: object = "T", **keys: object) -> str:
    """A frame marked F."""
    return table("frame", mark="F", shape=shape, section=section, **keys)


def command(*arguments: str) -> tuple[int, str, str]:
    """Exit code, standard output and standard error of a command."""
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = run(arguments)
    return code, out.getvalue(), err.getvalue()


def checked(folder: Path, *tables: str, head: str = HEAD) -> dict[str, Any]:
    """The record of a job that can be made."""
    code, out, err = command("check", _written(folder, head, tables), "--json")
    assert (code, err) == (0, "")
    record: dict[str, Any] = json.loads(out)
    return record


def refusal(folder: Path, *tables: str, head: str = HEAD) -> str:
    """The one line, without its beginning, with which a job is refused as bad input."""
    code, out, err = command("check", _written(folder, head, tables), "--json")
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    begin = "mitertool: job.toml: "
    assert err.startswith(begin)
    return err.removeprefix(begin).rstrip("\n")


def _written(folder: Path, head: str, tables: tuple[str, ...]) -> str:
    path = folder / "job.toml"
    path.write_text("\n".join([head, *tables]), encoding="utf-8")
    return str(path)


def by_mark(record: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The pieces of a record by their marks."""
    return {piece["mark"]: piece for piece in record["pieces"]}


def around(record: dict[str, Any]) -> list[dict[str, Any]]:
    """The pieces of the first frame of a record, as they stand around it."""
    pieces = by_mark(record)
    return [pieces[mark] for mark in record["assemblies"][0]["order"]]
