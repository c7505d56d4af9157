"""README shows what the commands say: each `$ mitertool` line of its console blocks is run in a copy of the gallery."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path
from typing import NamedTuple

import pytest

from mitertool.cli.main import run

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
LEAST_SHOWN = 5


class Shown(NamedTuple):
    """A command with its arguments, and the lines that stand below it."""

    arguments: tuple[str, ...]
    output: str


def shown(text: str) -> list[Shown]:
    """Every command of the fenced console blocks of a text."""
    found = []
    for block in re.findall(r"^```console\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            program, *arguments = shlex.split(command)
            assert program == "mitertool", f"a console block shows {program}, which no test runs"
            found.append(Shown(tuple(arguments), output.strip("\n")))
    return found


COMMANDS = shown(README)


def test_blocks_are_read_as_they_stand() -> None:
    text = '```console\n$ mitertool cut "A B"\nline 1\n\nline 2\n$ mitertool check x\n```\n```sh\n$ mitertool no\n```\n'
    assert shown(text) == [Shown(("cut", "A B"), "line 1\n\nline 2"), Shown(("check", "x"), "")]


def test_readme_shows_enough() -> None:
    assert len(COMMANDS) >= LEAST_SHOWN


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: " ".join(command.arguments))
def test_readme_shows_what_a_command_says(
    command: Shown, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(ROOT / "gallery", tmp_path / "gallery", ignore=shutil.ignore_patterns("packet", "*.png"))
    monkeypatch.chdir(tmp_path)
    run(command.arguments)
    said = capsys.readouterr()
    assert said.out.strip("\n") + said.err.strip("\n") == command.output


def test_readme_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--help"]) == 0
    _, _, listed = capsys.readouterr().out.partition("Commands:\n")
    commands = re.findall(r"^  ([a-z-]+)  ", listed, re.MULTILINE)
    assert {"section", "cut", "piece", "corner", "check", "packet"} <= set(commands)
    assert [name for name in commands if not re.search(rf"mitertool {name}\b|`{name}`", README)] == []


def test_readme_names_every_gallery_job() -> None:
    jobs = [path.parent.name for path in (ROOT / "gallery").glob("*/job.toml")]
    assert len(jobs) >= 2
    assert [name for name in jobs if f"gallery/{name}" not in README] == []


def test_readme_links_to_what_is_there() -> None:
    links = [link for link in re.findall(r"\]\(([^)#]+)\)", README) if "://" not in link]
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_the_frames_in_space_of_the_readme_are_blocks_of_a_job(tmp_path: Path) -> None:
    (blocks,) = (
        block for block in re.findall(r"^```toml\n(.*?)^```$", README, re.M | re.S) if '"corner bars"' in block
    )
    (tmp_path / "job.toml").write_text(f'[job]\nname = "J"\nunits = "mm"\n{blocks}', encoding="utf-8")
    assert run(["check", str(tmp_path / "job.toml"), "--json"]) == 0
