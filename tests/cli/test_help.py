"""The help of every command: `-h` beside `--help`, examples that run, words of a choice shown and completed."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import ezdxf
import pytest

from mitertool.cli import page as cli_page
from mitertool.cli.commands import Command
from mitertool.cli.groups import Group
from mitertool.cli.program import Commands
from mitertool.job.inside_keys import INSIDE
from mitertool.packet.records.report import REPORT
from mitertool.page import serve
from mitertool.rack import BookedBar, Booking, RackBar, RackBook
from mitertool.rack.exchange import exported
from tests.cli.conftest import ROOT, Said


def commands() -> Iterator[tuple[str, Command[object]]]:
    """Every command of the program by its words."""
    for name in Commands.rooms:
        found = Commands.held(name)
        if isinstance(found, Group):
            for below in found.commands.rooms:
                yield f"{name} {below}", found.commands.held(below)
        else:
            yield name, found


ALL = dict(commands())
EXAMPLES = [example for command in ALL.values() for example in command.examples]


@pytest.mark.parametrize("shape", ["rectangle", "arch"])
def test_help_tells_every_key_of_bars_inside(shape: str, call: Callable[..., Said]) -> None:
    told = re.findall(r"\w+", call("frame", shape, "--help").out)
    keys = {key for kind in INSIDE.each.values() for key in kind.keys} - {"bars"}
    assert keys <= set(told)


@pytest.mark.parametrize("shape", ["arch", "rail", "polygon", "rectangle", "ladder"])
def test_a_frames_help_speaks_of_its_own_shape_and_of_flags(shape: str, call: Callable[..., Said]) -> None:
    """An option without a value is not told by the "true" or "false" of a file, and only a rectangle is one."""
    told = " ".join(call("frame", shape, "--help").out.split())
    assert not re.search(r"--[\w-]+ (true|false) ", told)
    assert ("of a rectangle" in told) == (shape == "rectangle")


@pytest.mark.parametrize("name", ["", "frame", "saw", *ALL])
def test_h_is_help(name: str, call: Callable[..., Said]) -> None:
    short, long = call(*name.split(), "-h"), call(*name.split(), "--help")
    assert (short.code, short.err, short.out) == (0, "", long.out)
    assert short.out.startswith(f"Usage: mitertool {name}".rstrip())


@pytest.mark.parametrize("name", ["", "frame", "saw"])
def test_a_name_alone_shows_what_stands_below_it(name: str, call: Callable[..., Said]) -> None:
    assert call(*name.split()) == call(*name.split(), "--help")
    assert "Commands:" in call(*name.split()).out


@pytest.mark.parametrize("name", ALL)
def test_help_ends_in_examples_of_the_command(name: str, call: Callable[..., Said]) -> None:
    _, _, below = call(*name.split(), "--help").out.partition("  Examples:\n")
    assert [line.strip() for line in below.splitlines()] == [f"mitertool {e}" for e in ALL[name].examples]
    assert len(ALL[name].examples) >= 2
    assert all(example.startswith(f"{name} ") for example in ALL[name].examples)


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder, stood in, with the files that the examples speak of."""
    for name in ("job.toml", "saw.toml"):
        shutil.copy(ROOT / "gallery" / "boathouse-gate" / name, tmp_path / name)
    shutil.copytree(ROOT / "gallery" / "boathouse-gate" / "packet", tmp_path / "packet")
    drawn = ezdxf.new(units=ezdxf.units.MM)
    corners = [(0, 0), (900, 0), (900, 600), (0, 600)]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        drawn.modelspace().add_line(a, b, {"layer": "FRAME"})
    drawn.saveas(tmp_path / "frame.dxf")
    (tmp_path / "parts.csv").write_text("Pos;Section;Length;Left;Right\nA1;RHS 80x40x3;1200,5;45;135\n", "utf-8")
    for name in ("done.csv", "done-2.csv"):
        (tmp_path / name).write_text("what,name,quantity\npiece,STAY,1\n", "utf-8")
    told = dict.fromkeys(REPORT.fields, 0.0)
    (tmp_path / "Gate-A").mkdir()
    (tmp_path / "jobs").mkdir()
    plan = {"job": "Gate", "revision": "A", "part": "whole", "report": told}
    (tmp_path / "Gate-A" / "plan.json").write_text(json.dumps(plan), "utf-8")
    stock_rack(tmp_path)
    monkeypatch.setenv("MITERTOOL_RACK", str(tmp_path / "rack.sqlite"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def stock_rack(folder: Path) -> None:
    """A rack with seven left-overs, two of them booked and one cut up, and the table of it."""
    with RackBook.opened(folder / "rack.sqlite") as book, book.changing():
        book.add([RackBar("RHS 80x40x3", 2000, 2000)] * 7)
        book.book(Booking("Shed door", "B", "a plan", "", (BookedBar(1, 1, 7),)))
        book.free("Shed door", "B", ["all"])
        for number, revision in ((5, ""), (6, "B")):
            bars = (BookedBar(1, 1, number), BookedBar(2, 1))
            book.book(Booking("Boathouse gate", revision, "a plan", "", bars))
        (folder / "rack.csv").write_bytes(exported(book))


@pytest.fixture
def stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that is served is stopped at once, and a host of the network is this machine."""
    listened = serve.listen

    def here(_host: str, _port: int | None) -> serve.Listening:
        return listened("127.0.0.1", 0)

    monkeypatch.setattr(cli_page, "listen", here)
    monkeypatch.setattr(cli_page, "serve", lambda _folder, listening, *_: listening.socket.close())


@pytest.mark.parametrize("example", EXAMPLES)
@pytest.mark.usefixtures("stopped")
def test_an_example_runs(example: str, call: Callable[..., Said], desk: Path) -> None:
    words = shlex.split(example)
    if "--effort" not in words and words[0] == "nest":
        words += ["--effort", "0.05"]  # the same, in a moment
    said = call(*words)
    assert (said.code, said.err) == (0, "")
    assert said.out
    named = [words[place + 1] for place, word in enumerate(words) if word in ("--sketch", "--out")]
    assert [name for name in named if not (desk / name).exists()] == []


CHOICES = {
    "left right": ("cut", "--end"),
    "job saw plan": ("schema",),
    "long-point short-point centerline overall fixed-bottom fixed-top moving-bottom moving-top": ("piece", "--at"),
    "mm in ft-in in/16 in/32 ft-in/32": ("nest", "--units"),
    "rolled swung parallel": ("first-piece", "--way"),
    "miter butt": ("frame", "polygon", "--corners"),
    "a4-24 a4-14 letter-30 letter-20": ("packet", "--labels"),
    "rectangle polygon drawing sloping trapezoid arch truss ladder cross brace infill hopper rail bend branch wye": (
        "frame",
    ),
    "check draw": ("saw",),
}


@pytest.mark.parametrize("words", CHOICES)
def test_the_words_of_a_choice_are_completed(
    words: str, call: Callable[..., Said], monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = ["mitertool", *CHOICES[words]]
    monkeypatch.setenv("_MITERTOOL_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", " ".join([*typed, ""]))
    monkeypatch.setenv("COMP_CWORD", str(len(typed)))
    said = call()
    assert (said.code, said.err) == (0, "")
    assert said.out.split() == words.split()


@pytest.mark.parametrize("words", [w for w, typed in CHOICES.items() if typed[-1] not in ("frame", "saw")])
def test_the_words_of_a_choice_are_shown(words: str, call: Callable[..., Said]) -> None:
    *name, option = CHOICES[words] if len(CHOICES[words]) > 1 else (*CHOICES[words], "")
    shown = call(*name, "--help").out
    assert f"{option} {'|'.join(words.split())}".strip() in shown


def test_the_first_letters_of_a_command_are_completed(
    call: Callable[..., Said], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("_MITERTOOL_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", "mitertool s")
    monkeypatch.setenv("COMP_CWORD", "1")
    assert call().out.split() == ["section", "saw", "schema"]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_gets_its_script(shell: str, call: Callable[..., Said], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("_MITERTOOL_COMPLETE", f"source_{shell}")
    said = call()
    assert said.code == 0
    assert "_MITERTOOL_COMPLETE=complete_" in said.out
