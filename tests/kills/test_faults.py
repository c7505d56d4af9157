"""A disk that is full and files that the system refuses: the old one stays, nothing is left, one line says why."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.cli.main import run
from tests.kills.deeds import DEEDS, beside, prepared, states
from tests.kills.disk import no_room

Capture = pytest.CaptureFixture[str]


def told(capsys: Capture, *arguments: str) -> str:
    """The one line that a command ends with that is bad input."""
    capsys.readouterr()
    assert run(arguments) == 2
    said = capsys.readouterr()
    (line,) = said.err.splitlines()
    assert said.out == ""
    return line


@pytest.mark.parametrize("name", ["keep", "done", "rack"])
@pytest.mark.parametrize("most", [0, 600])
def test_a_full_disk_leaves_the_old_one(
    name: str, most: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    if name == "done":
        most //= 10
    prepared(DEEDS[name], tmp_path)
    before = states(tmp_path)
    monkeypatch.chdir(tmp_path)
    with no_room(most):
        line = told(capsys, *DEEDS[name].arguments)
    assert "written: " in line
    assert "rollback" not in line  # what SQLite says of what follows from it
    assert (states(tmp_path), beside(tmp_path)) == (before, [])
    assert run(DEEDS[name].arguments) == 0  # as soon as there is room


LONG = "a" * 300
"""No system that is in use takes a name of so many letters."""


@pytest.mark.parametrize(
    "arguments",
    [
        ("done", "job.toml", "--good", "STRUT=1", "--file", LONG),
        ("packet", "job.toml", "--done", LONG),
        ("check", LONG),
        ("page", LONG),
        ("rack", "add", "L 50x50x5", "900", "--rack", LONG),
        ("cut", "RHS 80x40x3", "--sketch", f"{LONG}.pdf"),
    ],
    ids=lambda arguments: arguments[0],
)
def test_a_name_that_no_file_may_have_is_told(
    arguments: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    prepared(DEEDS["page"], tmp_path)
    monkeypatch.chdir(tmp_path)
    line = told(capsys, *arguments)
    assert "aaaa" in line
    assert "be read" in line or "be written" in line or "be opened" in line


def test_a_folder_that_may_not_be_searched_is_told(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    """As where the program runs for another user than the one whose home is named."""
    works = Path.is_file

    def closed(self: Path) -> bool:
        if self.name == "saw.toml":
            raise PermissionError(13, "Permission denied", str(self))
        return works(self)

    monkeypatch.delenv("MITERTOOL_SAW", raising=False)
    monkeypatch.setattr(Path, "is_file", closed)
    line = told(capsys, "cut", "RHS 80x40x3")
    assert line.startswith("mitertool: file: found '") and line.endswith(
        "saw.toml'; cannot be read or written: Permission denied"
    )
