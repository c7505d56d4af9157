"""A saw file filled in by a form: what is typed goes to the table, and the row of it, that it was typed for."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.saw.file.form import SAW_FORM

COLUMN = (Path(__file__).resolve().parents[2] / "gallery" / "saws" / "column.toml").read_text(encoding="utf-8")


def values(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


def test_what_is_typed_goes_to_its_table_alone() -> None:
    found = values(SAW_FORM.filled_in(COLUMN, "saw.toml", {("bed", None, "width"): "18", ("arm", None, "cant"): "2.5"}))
    wanted = values(COLUMN)
    wanted["bed"]["width"], wanted["arm"]["cant"] = 18, 2.5
    assert found == wanted


def test_what_is_typed_goes_to_its_row_alone() -> None:
    found = values(SAW_FORM.filled_in(COLUMN, "saw.toml", {("obstacle", 1, "depth"): "16"}))
    wanted = values(COLUMN)
    wanted["obstacle"][1]["depth"] = 16
    assert found == wanted


def test_the_arm_of_a_file_has_the_keys_of_its_kind() -> None:
    """A column has a cant and no hinge; with another kind typed beside it a hinge may be typed."""
    (arm,) = (table for table in SAW_FORM.read(COLUMN, "saw.toml") if table.table == "arm")
    names = {field.key for field in arm.fields}
    assert "cant" in names
    assert "hinge_u" not in names
    given = {("saw", None, "kind"): "hinged", ("arm", None, "hinge_u"): "-20", ("arm", None, "cant"): ""}
    found = values(SAW_FORM.filled_in(COLUMN, "saw.toml", given))
    assert (found["saw"]["kind"], found["arm"]["hinge_u"]) == ("hinged", -20)


def test_a_row_more_and_a_row_less() -> None:
    row = {"name": "post", "side": "feed", "stands": "across", "depth": "3", "edge": "2", "height": "5"}
    more = SAW_FORM.added(COLUMN, "saw.toml", "obstacle", row)
    assert [one["name"] for one in values(more)["obstacle"]] == ["fixed jaw", "front rest", "post"]
    assert values(more)["obstacle"][2]["depth"] == 3
    less = SAW_FORM.taken_away(more, "saw.toml", "obstacle", 0)
    assert [one["name"] for one in values(less)["obstacle"]] == ["front rest", "post"]
    with pytest.raises(BadInput, match="table"):
        SAW_FORM.added(COLUMN, "saw.toml", "bed", {})
