"""What --working prints can be followed: a calculator in degrees, put to every line, comes to the printed results, and
these are the numbers of the answer itself."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.frame.runs import command

CALCULATOR: dict[str, Callable[[float], float]] = {
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "tan": lambda degrees: math.tan(math.radians(degrees)),
    "arcsin": lambda value: math.degrees(math.asin(value)),
    "arctan": lambda value: math.degrees(math.atan(value)),
    "sqrt": math.sqrt,
    "round_up": math.ceil,
}
COMMANDS = {
    "cut": ["cut", "L 100x65x8", "--miter", "30", "--bevel", "-20", "--kerf", "1.3"],
    "square cut": ["cut", "RHS 80x40x3", "--kerf", "2"],
    "piece": ["piece", "L 100x65x8", "--length", "1234.567", "--left", "30", "--right", "-12.5", "--left-bevel", "10"],
    "corner": ["corner", "RHS 80x40x3", "RHS 100x50x4", "--angle", "77"],
    "sharp unequal corner": ["corner", "RHS 80x40x3", "SHS 100x100x4", "--angle", "135"],
    "corner pointing inward": ["corner", "RHS 80x40x3", "RHS 100x50x4", "--angle", "250"],
    "rectangle": [
        *("frame", "rectangle", "--section", "RHS 80x40x3", "--section", "SHS 60x60x4", "--root-gap", "2"),
        *("--width", "1234.5", "--height", "678", "--measured", "inside"),
    ],
    "butted": [
        *("frame", "rectangle", "--section", "SHS 60x60x4", "--corners", "butt", "--root-gap", "1.5"),
        *("--width", "900", "--height", "700", "--measured", "outside"),
    ],
    "L": [
        *("frame", "polygon", "--section", "SHS 50x50x3", "--measured", "centerline"),
        *("--points", "0,0 0,1000 500,1000 500,500 1000,500 1000,0"),
    ],
    "open": [
        *("frame", "polygon", "--section", "SHS 50x50x3", "--measured", "outside", "--open", "--deduct", "6"),
        *("--points", "0,0 0,800 900,1100"),
    ],
    "hexagon": [
        "frame",
        "polygon",
        "--section",
        "SHS 50x50x3",
        "--measured",
        "outside",
        "--sides",
        "6",
        "--side",
        "700",
    ],
    "brace": [
        *("frame", "brace", "--section", "SHS 60x60x4", "--inside-width", "836", "--inside-height", "552"),
        *("--ends", "level"),
    ],
    "brace to the post": [
        *("frame", "brace", "--section", "SHS 60x60x4", "--inside-width", "1140", "--inside-height", "1777"),
        *("--ends", "plumb level"),
    ],
    "strut": ["frame", "brace", "--section", "SHS 60x60x4", "--rise", "333", "--run", "1000", "--ends", "square plumb"],
    "knee": ["frame", "brace", "--section", "SHS 60x60x4", "--legs", "400 300"],
    "infill": [
        "frame",
        "infill",
        "--section",
        "SHS 20x20x2",
        "--opening",
        "1077.9",
        "--height",
        "900",
        "--clear-most",
        "99",
    ],
}
RESULT = re.compile(r"(?P<words>.*) (?P<symbol>\w+) = (?P<value>-?[\d.e+-]+)(?P<unit>°| mm| mm2| mm3| in| in2| in3|)")


def working(name: str, *more: str) -> list[list[str]]:
    """The printed steps, each as its heading and the lines below."""
    code, out, err = command(*COMMANDS[name], "--working", *more)
    assert (code, err) == (0, "")
    _, found, below = out.partition("\nWorking\n")
    assert found
    steps: list[list[str]] = []
    for line in below.splitlines():
        if line.startswith("    "):
            steps[-1].append(line.strip())
        else:
            steps.append([line])
    return steps


def calculated(line: str) -> float:
    """The right-hand side of a line of numbers on a calculator that is set to degrees."""
    text = line.partition(" = ")[2].replace("°", "").replace("^", "**").replace(" x ", " * ")
    return float(eval(text.replace("round up ", "round_up"), {"__builtins__": {}}, CALCULATOR))


def results(name: str) -> list[tuple[str, float]]:
    """The words and the value at the end of each step."""
    found = []
    for step in working(name):
        match = RESULT.fullmatch(step[-1])
        assert match, step[-1]
        found.append((match["words"], float(match["value"])))
    return found


def answer(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(command(*COMMANDS[name], "--json")[1])
    return found


@pytest.mark.parametrize("name", COMMANDS)
def test_every_step_on_a_calculator(name: str) -> None:
    """Numbers are put in with six figures: half a unit of the third decimal of those over 100 may show."""
    steps = working(name)
    for step in steps:
        match = RESULT.fullmatch(step[-1])
        assert match, step[-1]
        figure = {"°": 6e-4, " mm": 6e-4}.get(match["unit"], 1e-5)
        assert calculated(step[-2]) == pytest.approx(float(match["value"]), rel=1e-5, abs=figure), step
        assert step[-2].startswith(f"{match['symbol']} = ")
        assert step[-3].startswith(f"{match['symbol']} = ")
    assert len(steps) >= 3


@pytest.mark.parametrize("units", ["in", "ft-in/32"])
@pytest.mark.parametrize("name", ["rectangle", "brace", "knee", "infill", "hexagon", "corner", "piece", "cut"])
def test_every_step_in_inches(name: str, units: str) -> None:
    """Every step on the calculator, and no metric figure left; bare numbers of the command are inches too."""
    for step in working(name, "--units", units):
        match = RESULT.fullmatch(step[-1])
        assert match, step[-1]
        assert calculated(step[-2]) == pytest.approx(float(match["value"]), rel=2e-5, abs=6e-4), step
        assert not any(re.search(r"\bmm[23]?\b", line) for line in step)


def test_a_piece_worked_in_inches() -> None:
    """By hand: 4 in wide, 40 to the long point, one end at 45: 36 on the short side, 38 between; tube of 3.371 in2."""
    out = command(
        *("piece", "HSS4x4x1/4", "--length", "40", "--left", "45", "--units", "in", "--working"),
    )[1]
    for words in ("s = 36 in", "centerline C = 38 in", "section area, 3.37104 in2", "volume V = 128.099 in3"):
        assert words in out


@pytest.mark.parametrize("name", COMMANDS)
def test_every_symbol_is_explained(name: str) -> None:
    """With its words and its number above the formula, and none that the formula does not have."""
    for step in working(name):
        where = {line.partition(": ")[0] for line in step[1:-3]}
        names = set(re.findall(r"\b[A-Za-z]+\b", step[-3].partition(" = ")[2]))
        assert names - {"x", "round", "up", *CALCULATOR} == where


@pytest.mark.parametrize("name", ["corner", "sharp unequal corner", "corner pointing inward", "cut"])
def test_what_a_step_takes_over_is_what_it_came_to(name: str) -> None:
    """A symbol that stood for a result is the last such result where it is put in."""
    so_far: dict[str, str] = {}
    taken = 0
    for step in working(name):
        for symbol, _, words in (line.partition(": ") for line in step[1:-3]):
            if symbol in so_far:
                assert words.endswith(f", {so_far[symbol]}"), (symbol, words)
                taken += 1
        match = RESULT.fullmatch(step[-1])
        assert match
        so_far[match["symbol"]] = match["value"] + match["unit"]
    assert taken >= 2


@pytest.mark.parametrize("name", ["corner", "sharp unequal corner", "corner pointing inward"])
def test_a_corner_ends_in_its_answer(name: str) -> None:
    record, found = answer(name), dict(results(name))
    shown = {
        "miter of the first member": "miter_a_deg",
        "miter of the second member": "miter_b_deg",
        "seam": "seam_mm",
    }
    for words, key in shown.items():
        assert found[words] == pytest.approx(record[key], rel=1e-5)


@pytest.mark.parametrize("name", ["brace", "brace to the post"])
def test_a_brace_ends_in_its_answer(name: str) -> None:
    (piece,) = answer(name)["pieces"]
    found = results(name)
    miters = {round(abs(piece[end]["miter_deg"]), 3) for end in ("left", "right")}
    assert {round(value, 3) for words, value in found if words == "miter, from square"} == miters
    ends = dict(found)
    edges = piece["edges_mm"]
    assert ends["length of the edge at the bottom of the fixed side"] == pytest.approx(edges["fixed_bottom"], rel=1e-5)
    words, value = found[-1]
    assert words == "length of the edge at the bottom of the moving side"
    assert value == pytest.approx(edges["moving_bottom"], rel=1e-5)


@pytest.mark.parametrize("name", ["rectangle", "butted", "L", "open", "hexagon", "strut", "knee"])
def test_a_frame_ends_in_its_outer_edges(name: str) -> None:
    """The last step of every mark is its edge on the moving side."""
    pieces = answer(name)["pieces"]
    words = "length of the edge at the bottom of the moving side"
    found = [value for said, value in results(name) if said == words]
    edges = [piece["edges_mm"]["moving_bottom"] for piece in pieces]
    assert found[-len(edges) :] == pytest.approx(edges, rel=1e-5)


def test_a_piece_ends_in_its_answer() -> None:
    record, found = answer("piece"), dict(results("piece"))
    assert found["volume"] == pytest.approx(record["volume_mm3"], rel=1e-5)
    assert found["centerline"] == pytest.approx(record["centerline_mm"], rel=1e-5)
    edges = record["edges_mm"]
    assert found["length of the edge at the bottom of the fixed side"] == pytest.approx(edges["fixed_bottom"], rel=1e-5)


@pytest.mark.parametrize("name", ["cut", "square cut"])
def test_a_cut_ends_in_its_answer(name: str) -> None:
    record, found = answer(name), dict(results(name))
    assert found["face area"] == pytest.approx(record["area_mm2"], rel=1e-5)
    assert found["kerf along the bar"] == pytest.approx(record["kerf_along_mm"], rel=1e-5)


def test_infill_ends_in_its_answer() -> None:
    """1077.9 - 99 over 119 is 8.2: 9 uprights, gaps of a tenth of 897.9."""
    (piece,) = answer("infill")["pieces"]
    found = dict(results("infill"))
    assert found["number of uprights"] == piece["quantity"] == 9
    assert found["clear gap"] == pytest.approx(89.79)


@pytest.mark.parametrize("name", COMMANDS)
def test_no_minus_before_nothing(name: str) -> None:
    assert not [line for step in working(name) for line in step if re.search(r"-0(?![.\d])", line)]
