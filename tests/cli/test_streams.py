"""Whoever listens: readers that go away, full and closed outputs, terminals of few letters, interrupts."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.base.speech import sayable
from tests.cli.conftest import ROOT, Said

PIECE = ("piece", "L 50x50x5", "--length", "1200", "--left", "45")
COMMANDS = {
    "piece": (PIECE, 0),
    "json": ((*PIECE, "--json"), 0),
    "cannot be made": (("cut", "SHS 40x40x3", "--miter", "65", "--saw", "{saw}"), 1),
    "bad input": (("cut", "SHS 40x40x3", "--miter", "95"), 2),
    "help": (("--help",), 0),
    "version": (("--version",), 0),
    "schema": (("schema", "job"), 0),
    "working": ((*PIECE, "--working"), 0),
    "bars": (("nest", str(ROOT / "gallery" / "lantern-house" / "job.toml"), "--effort", "0.1"), 0),
}


ENDS = ("piece", "cannot be made", "bad input", "help")
"""Commands that end in every way, and one whose words are the parser's own."""


def arguments_of(name: str, saw: str) -> list[str]:
    return [word.format(saw=saw) for word in COMMANDS[name][0]]


def line_of(arguments: list[str]) -> str:
    """A command as a line of a shell."""
    return f"'{sys.executable}' -m mitertool " + " ".join(f"'{word}'" for word in arguments)


@pytest.fixture(params=ENDS)
def command(request: pytest.FixtureRequest, one_way: str) -> tuple[str, int]:
    """A command as a line of a shell, and the code that it ends in where all is well."""
    return line_of(arguments_of(request.param, one_way)), COMMANDS[request.param][1]


def shell(line: str, **more: str) -> subprocess.CompletedProcess[bytes]:
    """A line run by bash; what it says must never be a trace of the program."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
    environment.pop("MITERTOOL_TRACEBACK", None)
    done = subprocess.run(["bash", "-c", line], env=environment, capture_output=True)
    for word in (b"Traceback", b"Exception ignored", b"fault in mitertool", b"Error:"):
        assert word not in done.stderr, done.stderr
    return done


def test_a_reader_that_goes_away_changes_nothing(command: tuple[str, int]) -> None:
    line, code = command
    done = shell(f"{line} | true; exit ${{PIPESTATUS[0]}}")
    assert done.returncode == code
    assert len(done.stderr.splitlines()) == (code == 2)


@pytest.mark.parametrize("where", [">/dev/full", ">&-"])
def test_an_output_that_takes_nothing_ends_in_2_with_one_line(command: tuple[str, int], where: str) -> None:
    done = shell(f"{command[0]} {where}")
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"mitertool: ")
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize("where", ["<&- 2>&-", "2>/dev/full"])
def test_nobody_who_hears_complaints_changes_no_code(command: tuple[str, int], where: str) -> None:
    line, code = command
    assert shell(f"{line} {where}").returncode == code


def test_all_three_closed_end_in_2(command: tuple[str, int]) -> None:
    assert shell(f"{command[0]} <&- >&- 2>&-").returncode == 2


PLAIN = {
    "ascii": {"PYTHONIOENCODING": "ascii"},
    "C": {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
}


@pytest.mark.parametrize(("name", "terminal"), [*((name, "ascii") for name in COMMANDS), ("piece", "C"), ("json", "C")])
def test_a_terminal_of_few_letters_gets_the_same_answer(
    call: Callable[..., Said], one_way: str, name: str, terminal: str
) -> None:
    arguments = arguments_of(name, one_way)
    plain, full = shell(line_of(arguments), **PLAIN[terminal]), call(*arguments)
    assert plain.returncode == full.code == COMMANDS[name][1]
    said = plain.stdout.decode("ascii")
    if full.out.startswith("{"):
        assert json.loads(said) == json.loads(full.out)
    else:
        assert said.split() == full.out.replace("°", " deg").split()


GATE = str(ROOT / "gallery" / "boathouse-gate" / "job.toml")


@pytest.mark.parametrize("asked", [("check", GATE), ("packet", GATE, "--preview")])
def test_headings_stand_over_their_columns_in_whatever_letters(
    call: Callable[..., Said], asked: tuple[str, ...]
) -> None:
    """A degree sign takes four more columns where it is spelled out."""
    spelled = shell(line_of(list(asked)), PYTHONIOENCODING="ascii").stdout.decode("ascii")
    stand_over_their_columns(spelled, " deg")
    stand_over_their_columns(call(*asked).out, "°")
    if "--preview" in asked:
        shown, _, _ = spelled.partition("Caution:")
        assert max(map(len, shown.splitlines())) <= 80


def stand_over_their_columns(said: str, degree: str) -> None:
    head, *rest = said.splitlines()
    rows = [row for row in rest[:6] if degree in row]
    assert len(rows) == 6
    for title in ("pieces", "section", "long point", "short point", "left", "right"):
        at = head.index(title)
        for row in rows:
            assert row[at - 2 : at] == "  ", (title, row)
            assert row[at] != " ", (title, row)


def test_letters_a_terminal_has_not_are_told_by_number_and_json_reads_back() -> None:
    """The numbers are those of the Unicode charts: U+00E4 a umlaut, U+1F600 in UTF-16 as D83D DE00."""
    assert sayable("45° ä ±1 😀", "ascii") == "45 deg \\u00e4 +/-1 \\ud83d\\ude00"
    assert sayable("45° ä", "cp1252") == "45° ä"
    assert sayable("\udcff", "utf-8") == "\\udcff"
    found = {"mark": "ä 45° 😀", "path": "\udcff"}
    text = json.dumps(found, ensure_ascii=False)
    assert json.loads(sayable(text, "ascii")) == json.loads(sayable(text, "utf-8")) == found


def test_an_interrupt_ends_in_130_with_one_line(tmp_path: Path) -> None:
    """A pipe that nobody fills is a job file that takes long to read."""
    os.mkfifo(tmp_path / "job.toml")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "mitertool", "check", str(tmp_path / "job.toml")]
    process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    with (tmp_path / "job.toml").open("wb"):  # returns once the command has opened the other end
        os.kill(process.pid, signal.SIGINT)
        out, err = process.communicate()
    assert (process.returncode, out, err) == (130, b"", b"mitertool: stopped\n")


def test_files_opened_while_an_output_is_closed_hold_only_what_is_written_to_them(
    call: Callable[..., Said], tmp_path: Path
) -> None:
    """The solver of the bars prints below Python; with standard output closed that must not land in a file."""
    job = ROOT / "gallery" / "lantern-house" / "job.toml"
    closed = shell(f"'{sys.executable}' -m mitertool packet '{job}' --out '{tmp_path}/closed' >&-")
    assert closed.returncode == 2
    assert call("packet", str(job), "--out", f"{tmp_path}/open").code == 0
    written = {path.name: path.read_bytes() for path in (tmp_path / "closed").rglob("*") if path.is_file()}
    assert written == {path.name: path.read_bytes() for path in (tmp_path / "open").rglob("*") if path.is_file()}
    assert "cut-sheet.pdf" in written


INTERRUPTED_AS_IT_LOADS = """
import os, signal
os.kill(os.getpid(), signal.SIGINT)
"""


@pytest.mark.parametrize("module", ["typer", "difflib", "unicodedata"])
def test_an_interrupt_while_modules_load_ends_in_130_with_one_line(module: str, tmp_path: Path) -> None:
    """A module that is loaded early stands in for the moment at which somebody presses Ctrl-C."""
    (tmp_path / f"{module}.py").write_text(INTERRUPTED_AS_IT_LOADS, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": f"{tmp_path}{os.pathsep}{ROOT}"}
    command = [sys.executable, "-m", "mitertool", "--version"]
    done = subprocess.run(command, env=environment, capture_output=True)
    assert (done.returncode, done.stdout, done.stderr) == (130, b"", b"mitertool: stopped\n")
