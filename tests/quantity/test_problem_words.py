"""Every code of a problem has one sentence, shown in the units asked for.

The sentences are written out by hand: 127 mm are 5 inches, 254 mm are 10, 45.359237 kg are 100 lb.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from mitertool.quantity.problem import Problem, Remark, angles, counts, lengths, masses, names
from mitertool.quantity.problem_words import CODES, problem_says, problem_why, reason_says
from mitertool.words import words_of

SENTENCES = {
    code.removeprefix("problem."): says for code, says in words_of("en").items() if code.startswith("problem.")
}
PACKAGE = Path(__file__).resolve().parents[2] / "mitertool"
SHORT = lengths(have=127.0, need=254.0)

WRITTEN: dict[str, tuple[Remark, str]] = {
    "swing": (
        Remark("swing", angles(have=45.0, need=60.001) + names(side="feed")),
        "needs a swing of 60.01 degrees to the feed side, where the arm goes to 45",
    ),
    "tilt": (
        Remark("tilt", angles(have=-45.0, need=-50.001)),
        "needs a tilt of -50.01 degrees, where the blade goes to -45",
    ),
    "opening": (Remark("opening", SHORT), 'the guides must stand 10.000" apart, where they open to 5.000"'),
    "fixed-guide": (
        Remark("fixed-guide", SHORT),
        'the fixed guide stands at 5.000" along the blade from the swing axis, where it needs 10.000" or further out',
    ),
    "width": (Remark("width", SHORT), 'the bar is 10.000" wide as it lies, where the vise takes 5.000"'),
    "width/hinge": (
        Remark("width", SHORT, "hinge"),
        'the bar comes within 5.000" of the hinge along the blade and must stay 10.000" off',
    ),
    "height": (Remark("height", SHORT), 'the bar is 10.000" high as it lies, where the saw takes 5.000"'),
    "lift": (
        Remark("lift", angles(have=30.0, need=31.001)),
        "the arm must lift 31.01 degrees above rest to clear the bar, where it goes to 30.00 degrees",
    ),
    "lift/through": (
        Remark("lift", lengths(have=0.0, need=-127.0), "through"),
        'the blade is through only 5.000" below rest: it does not part the bar',
    ),
    "obstacle": (
        Remark("obstacle", SHORT + names(obstacle="post {1}", side="feed")),
        'the blade needs post {1} 10.000" back from the square cut line on the feed side, where it stands at 5.000"',
    ),
    "grip": (
        Remark("grip", SHORT),
        '5.000" of bar are left behind the cut, where kerf, slant and grip take 10.000"',
    ),
    "unsafe-rolled": (
        Remark("unsafe-rolled", names(section="L 50x50x5")),
        "L 50x50x5 does not lie safely rolled half a turn: pack it or cut it elsewhere",
    ),
    "fine-rolled": (Remark("fine-rolled"), "with the bar rolled half a turn that is no hindrance"),
    "lays": (
        Remark("lays", names(lays=["as it lies", "rolled a quarter"])),
        "lays that work: as it lies, rolled a quarter",
    ),
    "no-lay": (Remark("no-lay"), "no lay in which it lies safely makes this cut"),
    "too-short": (Remark("too-short", SHORT), '5.000" long, too short to hold: the feed takes 10.000" or more'),
    "no-stock": (
        Remark("no-stock", names(section="FLAT 60x10", grade="S355")),
        "no stock of FLAT 60x10 S355 is given",
    ),
    "too-long": (
        Remark("too-long", SHORT + names(section="FLAT 60x10")),
        'needs a bar of 10.000", the longest of FLAT 60x10 is 5.000"',
    ),
    "roll-heavy": (
        Remark("roll-heavy", masses(have=22.6796185, need=45.359237) + names(section="FLAT 60x10")),
        "a bar of FLAT 60x10 weighs 100.0 lb and would be rolled between two cuts, "
        "where the shop rolls 50.0 lb at most",
    ),
    "stock-short": (
        Remark("stock-short", counts(missing=3) + names(section="FLAT 60x10")),
        "3 more do not fit the bars of FLAT 60x10 in stock",
    ),
}


def test_every_sentence_is_written_here() -> None:
    assert list(WRITTEN) == list(SENTENCES)
    assert len(set(SENTENCES.values())) == len(SENTENCES)


@pytest.mark.parametrize("name", SENTENCES)
def test_the_sentence_of_a_code(name: str) -> None:
    told, says = WRITTEN[name]
    assert reason_says(told, "in") == says


def test_no_grade_leaves_no_gap() -> None:
    told = Remark("no-stock", names(section="FLAT 60x10", grade=""))
    assert reason_says(told, "mm") == "no stock of FLAT 60x10 is given"


def test_more_stands_behind_it() -> None:
    told = Remark("height", SHORT, more=(Remark("fine-rolled"),))
    assert reason_says(told, "mm") == (
        "the bar is 254 mm high as it lies, where the saw takes 127 mm; "
        "with the bar rolled half a turn that is no hindrance"
    )


@pytest.mark.parametrize(
    ("place", "says"),
    [
        ({}, "A: {x}: "),
        ({"end": "left", "cut": 1}, "A: {x}, left end: "),
        ({"end": "right", "cut": 2}, "A: {x}, right end, cut 2: "),
    ],
)
def test_a_problem_says_where(place: dict[str, object], says: str) -> None:
    """A mark is shown as it is, whatever stands in it."""
    problem = Problem.of(Remark("no-lay"), "A: {x}", **place)  # type: ignore[arg-type]
    assert problem_says(problem, "mm") == f"{says}no lay in which it lies safely makes this cut"
    assert problem_says(problem, "mm").removeprefix("A: {x}").lstrip(",: ") == problem_why(problem, "mm")


BUILT = {"Reason": 0, "Remark": 0, "Problem": 2}
"""What is told by a code, and which argument that is."""

NUMBERS = {"lengths", "angles", "counts", "masses", "names", "positions"}


def called(node: ast.AST) -> str:
    func = node.func if isinstance(node, ast.Call) else None
    return func.attr if isinstance(func, ast.Attribute) else getattr(func, "id", "")


def built() -> Iterator[tuple[str, str, set[str]]]:
    """Every module that builds a reason or a problem by a code, with its sentence and the numbers that it gives."""
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
            kept = {
                node.targets[0].id: node.value
                for node in ast.walk(function)
                if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
            }
            for call in ast.walk(function):
                if isinstance(call, ast.Call) and called(call) in BUILT:
                    code, *more = call.args[BUILT[called(call)] :]
                    if not isinstance(code, ast.Constant) or "." in code.value:
                        continue  # told of something else than a problem
                    case = more[1].value if len(more) > 1 and isinstance(more[1], ast.Constant) else ""
                    yield path.name, "/".join(filter(None, (code.value, case))), given(more, kept)


def given(parts: list[ast.expr], kept: dict[str, ast.expr]) -> set[str]:
    """The names of the numbers in arguments, also of those that stand in a variable of the function."""
    found: set[str] = set()
    for part in parts:
        for node in ast.walk(part):
            if isinstance(node, ast.Name) and node.id in kept:
                found |= given([kept[node.id]], {})
            if isinstance(node, ast.Call) and called(node) in NUMBERS:
                found |= {str(keyword.arg) for keyword in node.keywords}
    return found


def test_every_sentence_is_of_a_code_that_is_built_and_shows_its_numbers() -> None:
    """A reason gives what is there (have) and what is needed (need), whether or not its sentence shows both."""
    found = [(code, numbers) for _, code, numbers in built()]
    assert {code for code, _ in found} == set(SENTENCES)
    for code, numbers in found:
        shown = set(re.findall(r"{(\w+)", SENTENCES[code]))
        assert shown <= numbers <= shown | {"have", "need"}, code


def test_codes_are_stable_words() -> None:
    assert CODES[:9] == ("swing", "tilt", "opening", "fixed-guide", "width", "height", "lift", "obstacle", "grip")
