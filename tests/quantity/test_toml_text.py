"""A value set in the text of a file: nothing else of the text changes, and a text that would change is refused."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity.toml_text import with_table, with_values, without_table

TEXT = """# a gate
[job]
name = "Gate"   # on the river
units = "mm"

# its bars
[[piece]]
mark = "A"
length = 870    # as the drawing has it

[[piece]]       # the other one
mark = "B"
length = 900
left = { slope = "3:4" }
"""


def test_a_value_is_set_in_its_place() -> None:
    assert with_values(TEXT, ("piece", 0), {"length": 880}, "f") == TEXT.replace("870 ", "880 ")


def test_a_value_of_another_kind_is_set_in_its_place() -> None:
    found = with_values(TEXT, ("piece", 1), {"left": 45}, "f")
    assert found == TEXT.replace('{ slope = "3:4" }', "45")


def test_a_new_key_stands_below_the_last_of_its_table() -> None:
    assert with_values(TEXT, ("job",), {"saw": "saw.toml"}, "f") == TEXT.replace(
        'units = "mm"\n', 'units = "mm"\nsaw = "saw.toml"\n'
    )


def test_a_key_is_taken_away() -> None:
    assert with_values(TEXT, ("piece", 1), {"left": None}, "f") == TEXT.replace('left = { slope = "3:4" }\n', "")


def test_a_table_that_is_not_there_is_made() -> None:
    found = with_values(TEXT, ("nest",), {"trim": 5}, "f")
    assert found.startswith(TEXT) and tomllib.loads(found)["nest"] == {"trim": 5}


def test_a_table_more_and_one_less() -> None:
    more = with_table(TEXT, "piece", {"mark": "C", "length": 10}, "f")
    assert more.startswith(TEXT)
    assert [one["mark"] for one in tomllib.loads(more)["piece"]] == ["A", "B", "C"]
    assert tomllib.loads(without_table(more, "piece", 2, "f")) == tomllib.loads(TEXT)
    less = without_table(TEXT, "piece", 0, "f")
    assert "# on the river" in less and [one["mark"] for one in tomllib.loads(less)["piece"]] == ["B"]


def test_the_first_table_of_its_kind() -> None:
    found = with_table('[job]\nname = "x"', "frame", {"mark": "F"}, "f")
    assert tomllib.loads(found) == {"job": {"name": "x"}, "frame": [{"mark": "F"}]}


def test_line_ends_and_a_mark_at_the_front_stay() -> None:
    text = "\ufeff" + TEXT.replace("\n", "\r\n")
    assert with_values(text, ("piece", 0), {"length": 880}, "f") == text.replace("870 ", "880 ")


@pytest.mark.parametrize("path", sorted((Path(__file__).resolve().parents[2] / "gallery").glob("*/job.toml")))
def test_a_worked_job_keeps_every_line_but_one(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = with_values(text, ("job",), {"name": "Another"}, path.name)
    changed = [(a, b) for a, b in zip(text.splitlines(), found.splitlines(), strict=True) if a != b]
    assert len(changed) == 1 and changed[0][1].startswith('name = "Another"')


def test_a_text_that_would_change_elsewhere_is_refused() -> None:
    """Keys of one table in two places, which TOML allows with dots: what is set would stand in one of them only."""
    text = "a.x = 1\nb = 2\na.y = 3\n"
    try:
        found = with_values(text, ("a",), {"y": 4}, "f.toml")
    except BadInput as error:
        assert "f.toml" in str(error)
    else:
        assert tomllib.loads(found) == {"a": {"x": 1, "y": 4}, "b": 2}
