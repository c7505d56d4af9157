"""`mitertool first-piece` asked as at the saw: what it names, what it keeps in the saw file and what not."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Said

Call = Callable[..., Said]

ONE_WAY = """\
[saw]
name = "made up"
kind = "hinged"
kerf = 1
invented = true
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 0
[vise]
fixed_jaw = "left"
"""
BOTH_WAYS = ONE_WAY.replace("discharge_side_most = 0", "discharge_side_most = 60")
PIECE = ("first-piece", "RHS 80x40x3", "--length", "1200", "--left", "45", "--right", "45")
MEASURED = ("--long", "1201.5", "--short", "1118.5")


@pytest.fixture
def saw_file(tmp_path: Path) -> Callable[[str], str]:
    def written(text: str) -> str:
        path = tmp_path / "saw.toml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return written


def test_how_the_second_end_came_about_is_asked_for_by_the_names_of_the_options(call: Call) -> None:
    said = call(*PIECE, *MEASURED)
    assert (said.code, said.out) == (2, "")
    assert "--saw" in said.err
    assert "--way rolled, swung, parallel" in said.err


@pytest.mark.parametrize(("option", "given"), [("--way", "sideways"), ("--stop", "middle")])
def test_a_word_that_is_not_allowed_is_refused_by_its_option(call: Call, option: str, given: str) -> None:
    said = call(*PIECE, *MEASURED, "--way", "rolled", option, given)
    assert said.code == 2
    assert f"{option}: found '{given}'; allowed: " in said.err


def test_what_was_assumed_is_told(call: Call, saw_file: Callable[[str], str]) -> None:
    """The mill may be 0.5 mm off a side of 40 mm; a saw without a feed has a stop."""
    saw = saw_file(ONE_WAY)
    told = [
        line.split(None, 1)[1] for line in call(*PIECE, *MEASURED, "--saw", saw).out.splitlines() if "assumed" in line
    ]
    assert told == [
        "the width as drawn, 40 mm within 0.5 mm: measure it where the bar may differ",
        "the tape right within 0.5 mm",
        "the bar rolled between its ends, the arm left alone, as this saw makes the piece",
        "a stop at the long tip of the end cut first: the saw file tells of no feed",
    ]
    full = ("--width", "40", "--tape", "0.5", "--way", "rolled", "--stop", "long")
    assert json.loads(call(*PIECE, *MEASURED, *full, "--saw", saw, "--json").out)["assumed"] == []


def test_a_correction_is_kept_once_for_a_measurement(call: Call, saw_file: Callable[[str], str]) -> None:
    """tan is 83 / 80 for each end: the arm stood 1.054 degrees too far, three times told and once kept."""
    saw = saw_file(ONE_WAY)
    first = call(*PIECE, *MEASURED, "--saw", saw, "--keep")
    assert "offset -1.054 degrees" in first.out
    kept = Path(saw).read_text(encoding="utf-8")
    assert "\noffset = -1.054\n" in kept
    for _ in range(2):
        again = call(*PIECE, *MEASURED, "--saw", saw, "--keep")
        assert again.code == 0
        assert "nothing: this measurement was kept already and does not add up" in again.out
        assert Path(saw).read_text(encoding="utf-8") == kept


@pytest.mark.parametrize(
    ("saw", "measured", "why"),
    [
        (ONE_WAY, ("--long", "1200.2", "--short", "1119.6"), "within what the readings can tell"),
        (BOTH_WAYS, MEASURED, "no error of the scale is known"),
        (
            BOTH_WAYS,
            ("--long", "1200.5", "--short", "1119.5", "--left-angle", "45.35", "--right-angle", "45.35"),
            "no error of the scale is known",
        ),
    ],
    ids=["unsure", "not known", "alike"],
)
def test_what_is_not_sure_is_not_kept(
    call: Call, saw_file: Callable[[str], str], saw: str, measured: tuple[str, ...], why: str
) -> None:
    path = saw_file(saw)
    said = call(*PIECE, *measured, "--saw", path, "--keep")
    assert said.code == 0
    (kept,) = [line for line in said.out.splitlines() if line.startswith("kept ")]
    assert kept.split(None, 1)[1].startswith("nothing: ")
    assert why in kept
    assert Path(path).read_text(encoding="utf-8") == saw
    answer = json.loads(call(*PIECE, *measured, "--saw", path, "--keep", "--json").out)
    assert answer["correction_deg"] is None
    assert answer["kept"] == [kept.split(None, 1)[1]]


def test_a_correction_needs_a_file_to_be_kept_in(call: Call) -> None:
    said = call(*PIECE, *MEASURED, "--way", "rolled", "--keep")
    assert said.code == 2
    assert "--saw" in said.err
