"""The schema of saw files says of every key what the reader says: the same keys, the same kinds, no value too few."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from mitertool.base.errors import BadInput
from mitertool.quantity.tables import Table
from mitertool.saw import Saw
from mitertool.saw.keys import ARRAYS, KEYS
from mitertool.saw.schema import KINDS, SAYS, schema
from tests.schemas import NUMBERS, WRONG, complaints, descriptions_missing, keys, tables, with_value, without

ROOT = Path(__file__).resolve().parents[2]
FILES = sorted(path for path in (ROOT / "gallery").rglob("*.toml") if path.name != "job.toml")
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
    "cost": {"swing_minutes": 1, "roll_minutes": 2, "rate": 60, "currency": "EUR"},
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
PLACES = [(name, at) for name, values in SAWS.items() for at in keys(values)]


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


def test_every_key_is_there_with_its_sentence() -> None:
    properties = dict(SCHEMA["properties"])
    assert properties.pop("format")["type"] == "integer"
    assert list(properties) == list(KEYS) == list(SAYS)
    for name, says in KEYS.items():
        table = properties[name]["items"] if name in ARRAYS else properties[name]
        assert {key: one["description"] for key, one in table["properties"].items()} == says
        assert table["additionalProperties"] is False
    assert set(KINDS) == {key for words in KEYS.values() for key in words}
    assert descriptions_missing(SCHEMA) == []


def test_the_trial_saws_say_everything() -> None:
    said = {(at[0], at[-1]) for _, at in PLACES}
    assert said == {(name, key) for name, words in KEYS.items() for key in words}
    assert [refusal(values) or complaints(SCHEMA, values) for values in SAWS.values()] == [[], []]


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_saw_of_the_gallery_passes(path: Path) -> None:
    assert complaints(SCHEMA, tomllib.loads(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(("name", "at"), PLACES, ids=lambda part: part if isinstance(part, str) else str(part[-1]))
def test_values_of_the_wrong_kind_are_refused_by_both(name: str, at: tuple[Any, ...]) -> None:
    for value in WRONG:
        values = with_value(SAWS[name], at, value)
        assert bool(refusal(values)) == bool(complaints(SCHEMA, values)), (value, refusal(values))


@pytest.mark.parametrize(("name", "at"), PLACES, ids=lambda part: part if isinstance(part, str) else str(part[-1]))
def test_no_value_that_the_reader_takes_is_refused(name: str, at: tuple[Any, ...]) -> None:
    taken = [values for value in NUMBERS if not refusal(values := with_value(SAWS[name], at, value))]
    assert [complaints(SCHEMA, values) for values in taken] == [[]] * len(taken)


@pytest.mark.parametrize(("name", "at"), PLACES, ids=lambda part: part if isinstance(part, str) else str(part[-1]))
def test_the_same_keys_are_needed(name: str, at: tuple[Any, ...]) -> None:
    values = without(SAWS[name], at)
    assert bool(refusal(values)) == bool(complaints(SCHEMA, values)), refusal(values)


@pytest.mark.parametrize("name", KEYS)
def test_the_same_tables_are_needed(name: str) -> None:
    values = without(HINGED, (name,))
    assert bool(refusal(values)) == bool(complaints(SCHEMA, values)), refusal(values)


def test_unknown_keys_are_refused_by_both() -> None:
    for at in [(), *tables(HINGED)]:
        values = with_value(HINGED, (*at, "kerff"), 1)
        assert "kerff" in refusal(values)
        assert any("kerff" in says for says in complaints(SCHEMA, values)), at


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


def test_a_two_sided_scale_is_square_at_0() -> None:
    values = with_value(COLUMN, ("scale", "square"), 90)
    assert "two-sided" in refusal(values)
    assert complaints(SCHEMA, values) != []


@pytest.mark.parametrize("key", ["hinge_u", "hinge_z", "stop_u"])
def test_a_column_has_no_hinge(key: str) -> None:
    values = with_value(COLUMN, ("arm", key), -400)
    assert "column" in refusal(values)
    assert complaints(SCHEMA, values) != []
