"""The schema of saw files refuses what the reader refuses, and never a value that the reader takes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from mitertool.base.errors import BadInput
from mitertool.quantity.keys import Keys
from mitertool.quantity.kinds import Kind
from mitertool.quantity.tables import Table
from mitertool.saw import Saw
from mitertool.saw.file.keys import ARM_KEYS, TABLES
from mitertool.saw.file.schema import schema
from tests.schemas import NUMBERS, WRONG, complaints, descriptions_missing, with_value, without

ROOT = Path(__file__).resolve().parents[2]
JOB_FILES = ("job.toml", "stair.toml")
FILES = sorted(path for path in (ROOT / "gallery").rglob("*.toml") if path.name not in JOB_FILES)
SCHEMA = schema()

_OBSTACLE = {"name": "post", "side": "feed", "stands": "across", "depth": 40, "edge": 30, "height": 200}
_CUTTING = {"grade": "S355", "wall_from": 2, "wall_to": 6, "speed": "60", "feed": "3", "coolant": "6 %"}

HINGED: dict[str, Any] = {
    "format": 1,
    "saw": {"name": "a", "units": "mm", "kind": "hinged", "kerf": 1.3, "invented": True},
    "scale": {"square": 0, "positive": "feed-side", "two_sided": False, "feed_side_most": 60, "discharge_side_most": 45}
    | {"division": 0.5, "offset": 0.1, "offset_date": "2024-05-17", "offset_from": "FLAT 60x10"},
    "tilt": {"lowest": -45, "highest": 45},
    "arm": {"hinge_u": -500, "hinge_z": 80, "below_bed": 6, "lift_highest": 60, "stop_u": 300},
    "bed": {"swing_axis": 30, "width": 400, "height": 300, "blade_offset": 0},
    "guides": {"fixed_u": -300, "opening_least": 50, "opening_most": 700, "half_thickness": 12, "clearance": 4},
    "vise": {"fixed_jaw": "left", "approach": 5, "grip": 90},
    "obstacle": [{**_OBSTACLE, "adjustable": True}],
    "feed": {"stroke": 500, "shortest": 10, "longest": 900, "counts_kerf": True, "lines": 20, "dead_length": 80}
    | {"decimals": 1, "counts_trim": True, "ends_with_zero": True, "caution": "rear roller off"},
    "blade": {"teeth_per_inch": 4, "area_rate": 3000, "descent": 40},
    "cost": {"swing_minutes": 1, "roll_minutes": 2, "rate": 60, "currency": "EUR", "recut_minutes": 1.5},
    "handling": {"roll_most": 80, "turn_most": 40},
    "cutting": [{**_CUTTING, "vise_pressure": "low"}],
}
"""A hinged saw that says everything it may, but for the pitch."""

COLUMN: dict[str, Any] = {
    **HINGED,
    "saw": {"name": "b", "kind": "column", "kerf": 1.1},
    "scale": {"square": 0, "two_sided": True, "feed_side_most": 60, "discharge_side_most": 60},
    "arm": {"below_bed": 6, "lift_highest": 400, "cant": 3},
    "blade": {"pitch": 6},
}

SAWS = {"hinged": HINGED, "column": COLUMN}


def refusal(values: dict[str, Any]) -> str:
    """What the reader has against a saw; "" where it takes it."""
    try:
        Saw.read(Table(values, ("saw.toml",)))
    except BadInput as error:
        return str(error)
    return ""


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_has_its_sentence() -> None:
    assert descriptions_missing(SCHEMA) == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_saw_of_the_gallery_passes(path: Path) -> None:
    assert complaints(SCHEMA, tomllib.loads(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("name", SAWS)
def test_the_trial_saws_are_good(name: str) -> None:
    assert (refusal(SAWS[name]), complaints(SCHEMA, SAWS[name])) == ("", [])


def taken(kind: Kind, value: Any) -> bool:
    try:
        kind.read(value, "it", "mm")
    except BadInput:
        return False
    return True


@pytest.mark.parametrize("keys", [*TABLES.values(), *ARM_KEYS.values()], ids=[*TABLES, *ARM_KEYS])
def test_reader_and_editor_say_the_same_of_a_value(keys: Keys) -> None:
    for name, key in keys.keys.items():
        for value in WRONG:
            assert taken(key.kind, value) == (complaints(key.kind.schema, value) == []), (name, value)
        for value in NUMBERS:
            assert not taken(key.kind, value) or complaints(key.kind.schema, value) == [], (name, value)


@pytest.mark.parametrize("name", TABLES)
def test_the_same_tables_are_needed(name: str) -> None:
    values = without(HINGED, (name,))
    assert bool(refusal(values)) == bool(complaints(SCHEMA, values)), refusal(values)


@pytest.mark.parametrize(
    ("at", "value"),
    [
        (("saw", "kerf"), 0),
        (("saw", "kind"), "swivel"),
        (("scale", "square"), 45),
        (("scale", "feed_side_most"), 90),
        (("scale", "division"), 0),
        (("scale", "offset"), -5.5),
        (("tilt", "lowest"), 1),
        (("tilt", "highest"), -1),
        (("arm", "cant"), 3),
        (("bed", "width"), "-3 mm"),
        (("blade", "pitch"), 6),
        (("feed", "lines"), 0),
        (("feed", "lines"), "3.5"),
        (("obstacle", 0, "side"), "left"),
        (("format",), 0),
        (("format",), 99),
    ],
    ids=str,
)
def test_wrong_examples_are_refused(at: tuple[Any, ...], value: Any) -> None:
    assert complaints(SCHEMA, with_value(HINGED, at, value)) != []


@pytest.mark.parametrize(
    ("name", "at"), [("hinged", ("scale", "positive")), *(("hinged", ("arm", key)) for key in ("hinge_u", "below_bed"))]
)
def test_what_only_some_saws_need(name: str, at: tuple[str, str]) -> None:
    assert f"{at[1]}: found 'nothing'" in refusal(without(SAWS[name], at))
    assert complaints(SCHEMA, without(SAWS[name], at)) != []


def test_teeth_are_given_one_way() -> None:
    values = with_value(HINGED, ("blade", "pitch"), 6)
    assert "give one of the two" in refusal(values)
    assert complaints(SCHEMA, values) != []


def test_a_two_sided_scale_is_square_at_0() -> None:
    values = with_value(COLUMN, ("scale", "square"), 90)
    assert "two-sided" in refusal(values)
    assert complaints(SCHEMA, values) != []


@pytest.mark.parametrize("key", ["hinge_u", "hinge_z", "stop_u"])
def test_a_column_has_no_hinge(key: str) -> None:
    values = with_value(COLUMN, ("arm", key), -400)
    assert "column" in refusal(values)
    assert complaints(SCHEMA, values) != []


@pytest.mark.parametrize("beside", [{}, {"side": "feed"}, {"side": "discharge"}])
def test_an_obstacle_has_a_side_or_a_slot(beside: dict[str, str]) -> None:
    """An editor underlines what the reader refuses: a side beside a slot."""
    row = {"name": "post", "stands": "across", "depth": 40, "edge": 10, "slot": 30, "height": 200, **beside}
    saw = {**HINGED, "obstacle": [row]}
    assert bool(refusal(saw)) == bool(complaints(SCHEMA, saw)) == bool(beside)
