"""Bad input ends in 2: one line on stderr that says what was found and what is allowed, no answer, nothing written."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Said

TUBE = "RHS 80x40x3"
RAIL = ("frame", "rail", "--section", "CHS 42.4x3.2", "--nodes")
BEND = ("frame", "bend", "--section", "CHS 168.3x6.3")
HOPPER = ("frame", "hopper", "--sides", "4", "--height", "200", "--measured")
BRANCH = ("frame", "branch", "--section", "CHS 60.3x4", "--on", "CHS 114.3x5", "--length")
ONE_PIECE = '[[piece]]\nmark = "A"\nsection = "SHS 40x40x3"\nlength = 100\n'
HEAD = '[job]\nname = "Job"\n'

FILES: dict[str, str | bytes] = {
    "good.toml": HEAD + ONE_PIECE,
    "broken.toml": '[job]\nname = "Job"\nunits = mm\n' + ONE_PIECE,
    "latin.toml": b'[job]\nname = "Tr\xe4ger"\n',
    "newer.toml": "format = 7\n" + HEAD + ONE_PIECE,
    "misspelt.toml": HEAD + ONE_PIECE + "lenght = 3\n",
    "thick.toml": HEAD
    + '[[section]]\nname = "S"\nshape = "rect-tube"\nwidth = 40\nheight = 40\nwall = 25\n'
    + ONE_PIECE,
    "crossing.toml": HEAD + ONE_PIECE + "left = 80\nright = 80\n",
    "no saw.toml": HEAD + 'saw = "missing.toml"\n' + ONE_PIECE,
    "comma.toml": HEAD + ONE_PIECE.replace("100", '"1,5"'),
    "nan.toml": HEAD + ONE_PIECE.replace("100", "nan"),
    "twice.toml": HEAD + ONE_PIECE + ONE_PIECE,
    "empty.toml": "",
    "long mark.toml": HEAD + ONE_PIECE.replace('"A"', f'"{"A" * 10_000}"'),
    "escape.toml": HEAD + ONE_PIECE.replace('"A"', '"A\\u001b[31m\\n\\nB"').replace("40x40x3", "40x40x99"),
    "deep.toml": "a = " + "[" * 3000 + "]" * 3000,
    "digits.toml": HEAD.replace('"Job"', "9" * 5000) + ONE_PIECE,
    "hex.toml": HEAD.replace('"Job"', "0x" + "f" * 5000) + ONE_PIECE,
    "mark.toml": '\N{BYTE ORDER MARK}[job\nname = "Job"\n',
    "grades.toml": HEAD
    + '[[frame]]\nmark = "R"\nshape = "rail"\nsection = "CHS 42.4x3.2"\ngrade = ["S235", "S355"]\n'
    + "nodes = [[0, 0, 0], [1000, 0, 0], [1000, 900, 0]]\n",
    "node of a grade.toml": HEAD
    + '[[frame]]\nmark = "R"\nshape = "rail"\nsection = "CHS 42.4x3.2"\n'
    + 'nodes = [[0, 0, 0], [1000, 0, 0, "S355"], [1000, 900, 0]]\n',
    "notes/mine.txt": "mine",
}

CALLS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "unknown command": (("saw-off",), ("saw-off",)),
    "unknown option": (("cut", TUBE, "--mitre", "45"), ("--mitre", "--miter")),
    "unknown option before": (("--frob",), ("--frob",)),
    "missing argument": (("cut",), ("NAME",)),
    "missing option": (("piece", TUBE), ("--length", "mitertool piece --help")),
    "size of a frame": (
        ("frame", "polygon", "--section", TUBE, "--sides", "6", "--across-flats", "-9", "--measured", "outside"),
        ("mitertool: --across-flats: found '-9'", "more than 0"),
    ),
    "section of an option": (
        ("nest", "--section", "RHS 80x40x99", "--length", "500", "--bar", "6000"),
        ("mitertool: --section: found 'RHS 80x40x99'", TUBE),
    ),
    "missing value": (("cut", TUBE, "--miter"), ("--miter",)),
    "one argument too many": (("cut", TUBE, "more"), ("more",)),
    "an argument below 0": (("rack", "add", TUBE, "-5"), ("-5", "below 0", "--")),
    "comma": (("cut", TUBE, "--miter", "1,5"), ("--miter", "1,5", "decimal point")),
    "comma in a length": (("piece", TUBE, "--length", "1,5"), ("--length", "1,5", "decimal point")),
    "nan": (("cut", TUBE, "--miter", "nan"), ("--miter", "nan", "finite")),
    "infinite": (("piece", TUBE, "--length", "inf"), ("--length", "inf", "finite")),
    "too large": (("piece", TUBE, "--length", "1e300"), ("--length", "1e300", "at most")),
    "miter at 90": (("cut", TUBE, "--miter", "90"), ("miter", "90", "less than 90")),
    "miter at -90": (("cut", TUBE, "--miter=-90"), ("miter", "-90", "more than -90")),
    "bevel at 90": (("cut", TUBE, "--bevel", "90"), ("bevel", "90", "less than 90")),
    "end": (("cut", TUBE, "--end", "top"), ("--end", "top", "left, right")),
    "no arms": (
        ("frame", "wye", "--section", "CHS 60.3x4", "--between", "60", "--trunk", "300", "--arms", ""),
        ("arms", "empty"),
    ),
    "no bottom": (
        (
            *("frame", "hopper", "--thickness", "5", "--sides", "4", "--height", "400", "--measured", "inside"),
            *("--bottom", "", "--top", "800 500"),
        ),
        ("bottom", "empty"),
    ),
    "nodes that coincide": ((*RAIL, "0,0,0 1000,0,0 1000,0,0"), ("nodes", "member 2", "apart from the next")),
    "a fold past 170": ((*RAIL, "0,0,0 1000,0,0 0,10,0"), ("nodes", "179.43", "after member 1", "0.5 to 170")),
    "a node on a line": ((*RAIL, "0,0,0 1000,0,0 2000,0,0"), ("nodes", "0.00 degrees after member 1", "0.5 to 170")),
    "a member shorter than its cuts": (
        (*RAIL, "0,0,0 1000,0,0 1010,10,0 1010,1000,0"),
        ("member 2", "14.1421 mm", "cross", "17.6 mm or more"),
    ),
    "a node of two": ((*RAIL, "0,0 1000,0,0"), ("nodes, node 1", "three lengths")),
    "a radius inside the tube": (
        (*BEND, "--radius", "80", "--angle", "90", "--cuts", "4"),
        ("radius", "80 mm", "more than half of the diameter, 84.15 mm"),
    ),
    "a cut that turns back": (
        (*BEND, "--radius", "300", "--angle", "171", "--cuts", "1"),
        ("angle", "171", "0.5 to 170 degrees"),
    ),
    "a top narrower than the bottom": (
        (*HOPPER, "outside", "--thickness", "5", "--bottom", "400", "--top", "300"),
        ("top", "300 mm", "400 mm or more"),
    ),
    "a side shorter than its cuts": (
        (*HOPPER, "outside", "--thickness", "5", "--bottom", "2", "--top", "4"),
        ("side 1", "2 mm", "cross", "10 mm or more"),
    ),
    "plates on their middle": (
        (*HOPPER, "centerline", "--thickness", "5", "--bottom", "300", "--top", "400"),
        ("measured", "centerline", "outside, inside"),
    ),
    "plates against a side": (
        (*HOPPER, "outside", "--thickness", "5", "--bottom", "300", "--top", "400", "--against", "both"),
        ("against", "both", "corner bars"),
    ),
    "corner bars of a thickness": (
        (*HOPPER, "outside", "--members", "corner bars", "--thickness", "5", "--bottom", "300", "--top", "400"),
        ("section", "none", "section of its bars"),
    ),
    "a branch that ends before its run": ((*BRANCH, "20"), ("length", "20 mm", "more than 48.6 mm")),
    "a branch past its run": ((*BRANCH, "400", "--passes", "40"), ("passes", "40 mm", "27 mm either way")),
    "a branch along its run": ((*BRANCH, "400", "--between", "10"), ("between", "10", "15 to 165")),
    "members of different grade": (("check", "grades.toml"), ("grades.toml", "[[frame]] R", "grade", "S355", "text")),
    "a node of a grade": (
        ("check", "node of a grade.toml"),
        ("node of a grade.toml", "[[frame]] R", "node 2", "S355", "three lengths"),
    ),
    "negative kerf": (("cut", TUBE, "--kerf=-1"), ("--kerf", "-1", "0 or more")),
    "negative length": (("piece", TUBE, "--length=-5"), ("--length", "-5", "0 or more")),
    "place of a length": (("piece", TUBE, "--length", "5", "--at", "middle"), ("middle", "long-point", "moving-top")),
    "crossing cuts": (
        ("piece", "FLAT 40x10", "--length", "79", "--left", "45", "--right", "45"),
        ("79 mm", "cross", "80 mm or more"),
    ),
    "units": (("cut", TUBE, "--units", "furlong"), ("--units", "furlong", "mm, in, ft-in, in/16, in/32 or ft-in/32")),
    "lay": (("section", TUBE, "--lay", "sideways"), ("lay", "sideways")),
    "unknown section": (("cut", "RHS 80x40x3.1"), ("RHS 80x40x3.1", "nearest", "RHS 80x40x3")),
    "unknown family": (("cut", "Wurzel"), ("Wurzel", "families", "RHS")),
    "empty section": (("cut", ""), ("section", "RHS 80x40x3")),
    "section of many lines": (("cut", "RHS\n\n80\x1b[31m"), ("RHS 80",)),
    "section of 10 000 characters": (("cut", "é" * 10_000), ("é", "families")),
    "corner of 0": (("corner", TUBE, "--angle", "0"), ("angle", "found 0", "0.5 degrees")),
    "missing saw": (("cut", TUBE, "--saw", "missing.toml"), ("missing.toml", "cannot be read")),
    "job for a saw": (("cut", TUBE, "--saw", "good.toml"), ("good.toml", "job", "key")),
    "missing job": (("check", "missing.toml"), ("missing.toml", "cannot be read")),
    "folder as job": (("check", "notes"), ("notes", "cannot be read")),
    "unreadable job": (("check", "broken.toml"), ("broken.toml", "line 3")),
    "job in another encoding": (("check", "latin.toml"), ("latin.toml", "UTF-8")),
    "newer format": (("check", "newer.toml"), ("newer.toml", "format", "7", "format 1")),
    "unknown key": (("check", "misspelt.toml"), ("misspelt.toml", "[[piece]] A", "lenght", "length")),
    "wall": (("check", "thick.toml"), ("thick.toml", "[[section]] S", "wall", "25", "20 mm")),
    "crossing cuts in a job": (("check", "crossing.toml"), ("crossing.toml", "[[piece]] A", "cross", "or more")),
    "saw that a job names": (("check", "no saw.toml"), ("no saw.toml: [job] saw: ", "missing.toml", "cannot be read")),
    "comma in a job": (("check", "comma.toml"), ("comma.toml", "[[piece]] A", "length", "1,5", "decimal point")),
    "nan in a job": (("check", "nan.toml"), ("nan.toml", "[[piece]] A", "length", "nan", "finite")),
    "mark given twice": (("check", "twice.toml"), ("twice.toml", "mark", "'A'", "each needs its own")),
    "empty job": (("check", "empty.toml"), ("empty.toml", "name")),
    "long mark": (("check", "long mark.toml"), ("long mark.toml", "20 characters")),
    "escape in a mark": (("check", "escape.toml"), ("escape.toml", "mark", "U+001B")),
    "deep nesting": (("check", "deep.toml"), ("deep.toml", "TOML")),
    "number of 5000 digits": (("check", "digits.toml"), ("digits.toml",)),
    "number of 5000 digits, in hex": (("check", "hex.toml"), ("hex.toml", "name")),
    "byte order mark": (("check", "mark.toml"), ("mark.toml", "line 1")),
    "done file that is not there": (("packet", "good.toml", "--done", "none.csv"), ("none.csv", "No such file")),
    "earlier packet that is not there": (("packet", "good.toml", "--after", "none"), ("--after", "none")),
    "foreign folder": (("packet", "good.toml", "--out", "notes"), ("notes", "mine.txt", "not written here")),
    "file as folder": (("packet", "good.toml", "--out", "good.toml"), ("good.toml", "not a plain folder")),
    "folder below a file": (("packet", "good.toml", "--out", "good.toml/packet"), ("good.toml/packet",)),
    "folder one stands in": (("packet", "good.toml", "--out", "."), ("output folder",)),
    "folder without a name": (("packet", "good.toml", "--out", ""), ("output folder",)),
    "sketch of unknown ending": (
        ("piece", TUBE, "--length", "100", "--sketch", "piece.dwg"),
        ("--sketch", "piece.dwg", ".dxf, .pdf, .svg or .png"),
    ),
    "sketch without ending": (("piece", TUBE, "--length", "100", "--sketch", "piece"), ("--sketch", ".dxf")),
    "sketch in no folder": (("piece", TUBE, "--length", "9", "--sketch", "no/piece.dxf"), ("no/piece.dxf", "written")),
    "section sketch of unknown ending": (("section", TUBE, "--sketch", "tube.dwg"), ("--sketch", "tube.dwg")),
}


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with `FILES`, stood in."""
    for name, content in FILES.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def refused(said: Said, words: tuple[str, ...]) -> None:
    """One line that holds `words`, short enough to read and without control characters."""
    assert (said.code, said.out) == (2, "")
    line = said.err.removesuffix("\n")
    assert line.startswith("mitertool: ")
    assert line.isprintable()
    assert len(line) < 1000
    assert "fault in mitertool" not in line
    assert [word for word in words if word not in line] == []


@pytest.mark.parametrize("name", CALLS)
def test_a_bad_call_ends_in_one_line(name: str, call: Callable[..., Said], shop: Path) -> None:
    arguments, words = CALLS[name]
    before = tree(shop), sorted(shop.rglob("*"))
    refused(call(*arguments), words)
    assert (tree(shop), sorted(shop.rglob("*"))) == before


@pytest.mark.parametrize(
    "name", ["comma", "unreadable job", "foreign folder", "unknown section", "sketch without ending"]
)
def test_a_bad_call_ends_so_with_json_too(name: str, call: Callable[..., Said], shop: Path) -> None:
    arguments, words = CALLS[name]
    refused(call(*arguments, "--json"), words)


@pytest.mark.parametrize("name", ["unknown option", "missing job", "byte order mark"])
def test_a_process_of_its_own_ends_alike(name: str, shop: Path) -> None:
    arguments, words = CALLS[name]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"}
    command = [sys.executable, "-m", "mitertool", *arguments]
    done = subprocess.run(command, cwd=shop, env=environment, capture_output=True, text=True, encoding="utf-8")
    refused(Said(done.returncode, done.stdout, done.stderr), words)


def test_a_job_with_a_byte_order_mark_is_read(call: Callable[..., Said], shop: Path) -> None:
    (shop / "job.toml").write_text(HEAD + ONE_PIECE, encoding="utf-8-sig")
    assert call("check", "job.toml").code == 0


def test_a_fault_of_the_program_is_one_line_and_no_bad_input(
    call: Callable[..., Said], monkeypatch: pytest.MonkeyPatch
) -> None:
    """70 is EX_SOFTWARE of sysexits.h, 4.3BSD: an internal software error."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError("division\nby zero")

    monkeypatch.setattr("mitertool.cli.section.find_section", broken)
    monkeypatch.delenv("MITERTOOL_TRACEBACK", raising=False)
    said = call("section", TUBE)
    assert (said.code, said.out) == (70, "")
    assert said.err.startswith("mitertool: a fault in mitertool itself, ZeroDivisionError: division by zero")
    assert len(said.err.splitlines()) == 1


def test_a_fault_shows_its_trace_where_it_is_asked_for(
    call: Callable[..., Said], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("mitertool.cli.section.find_section", broken)
    monkeypatch.setenv("MITERTOOL_TRACEBACK", "1")
    said = call("section", TUBE)
    assert (said.code, said.out) == (70, "")
    assert said.err.startswith("Traceback (most recent call last):\n")
    assert said.err.endswith("ZeroDivisionError: division by zero\n")
