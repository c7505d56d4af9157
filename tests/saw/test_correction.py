"""A correction kept in a saw file: its date beside it, every comment and every other line as it was."""

from __future__ import annotations

import difflib
from datetime import date
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.saw.correction import keep_offset

DAY = date(2031, 2, 3)
FILE = """\
# The saw by the door. Measured by two people.
format = 1

[saw]
name = "door saw"      # as painted on it
kind = "hinged"
kerf = 1.3

[scale]                # read with the lamp on
square = 90
positive = "feed-side"
feed_side_most = 60    # to the stop
discharge_side_most = 0

# the vise was new last year
[vise]
fixed_jaw = "left"
"""


def kept(folder: Path, text: str, offset: float) -> tuple[mt.Saw, str]:
    path = folder / "saw.toml"
    path.write_text(text, encoding="utf-8")
    saw = keep_offset(path, offset, DAY)
    assert saw == mt.Saw.load(path)
    return saw, path.read_text(encoding="utf-8")


def test_a_first_correction(tmp_path: Path) -> None:
    saw, text = kept(tmp_path, FILE, -0.25)
    assert (saw.scale.offset, saw.scale.offset_date) == (-0.25, "2031-02-03")
    changes = [line for line in difflib.ndiff(FILE.splitlines(), text.splitlines()) if line[0] in "+-"]
    assert changes == ["+ offset = -0.25", "+ offset_date = 2031-02-03"]
    assert text.index("discharge_side_most") < text.index("offset = ") < text.index("[vise]")


def test_a_second_correction_takes_the_place_of_the_first(tmp_path: Path) -> None:
    first = FILE.replace("square = 90\n", "square = 90\noffset = 0.5 # by the first piece\noffset_date = 2030-01-01\n")
    saw, text = kept(tmp_path, first, 0.125)
    assert saw.scale.offset == 0.125
    assert text == first.replace("0.5 #", "0.125 #").replace("2030-01-01", "2031-02-03")


def test_a_correction_too_large_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text(FILE, encoding="utf-8")
    with pytest.raises(BadInput, match="set a scale that is further out anew"):
        keep_offset(path, 5.5, DAY)
    assert path.read_text(encoding="utf-8") == FILE


def test_what_is_no_saw_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "saw.toml"
    path.write_text("[job]\n", encoding="utf-8")
    with pytest.raises(BadInput):
        keep_offset(path, 0.5, DAY)
    assert path.read_text(encoding="utf-8") == "[job]\n"
