"""A table of keys says the same to its reader and to an editor, whichever of its keys stand there.

`jsonschema` is the reference for what an editor is told.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations
from typing import Any

import pytest

from mitertool.base.errors import BadInput
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Variants, in_order, one_way, together
from mitertool.quantity.kinds import FLAG, LENGTH, POSITIVE_LENGTH, WORDS, choice, count
from mitertool.quantity.tables import Table
from tests.schemas import complaints

TANK = Keys(
    "A tank.",
    {
        "name": Key("What it is called.", WORDS, needed=True),
        "high": Key("How high it is.", POSITIVE_LENGTH),
        "deep": Key("How deep it is.", POSITIVE_LENGTH),
        "lid": Key("Whether it has a lid.", FLAG),
        "hinges": Key("How many the lid has.", count()),
    },
    (
        one_way("tank", ("high", "deep"), lambda given: f"{len(given)} ways", "refuse.polygon"),
        together("hinges", "lid"),
    ),
)
ROUND = Keys("A tank.", {"shape": Key("Its shape.", choice(("round", "long")), needed=True), **TANK.keys}, TANK.rules)
LONG = Keys(
    "A tank.",
    {
        "shape": ROUND.keys["shape"],
        "name": TANK.keys["name"],
        "lid": Key("Which lid.", choice(("flat", "domed"))),
        "length": Key("How long it is.", LENGTH, needed=True),
    },
)
TANKS = Variants("A tank.", "shape", {"round": ROUND, "long": LONG})

GOOD = {"name": "oil", "high": 900, "deep": "3 ft", "lid": True, "hinges": 2, "length": 4000}


def refusal(keys: Keys | Variants, values: Mapping[str, Any]) -> str:
    try:
        keys.read(Table(values, ("file", "[tank]"), "mm"))
    except BadInput as error:
        return str(error)
    return ""


def subsets(values: Mapping[str, Any]) -> list[dict[str, Any]]:
    names = [some for size in range(len(values) + 1) for some in combinations(values, size)]
    return [{name: values[name] for name in some} for some in names]


@pytest.mark.parametrize(
    ("keys", "values"),
    [(TANK, GOOD)]
    + [(TANKS, {**GOOD, "shape": shape, "lid": lid}) for shape in ("round", "long") for lid in (True, "flat")],
    ids=["table", "round", "round, other lid", "long, other lid", "long"],
)
def test_reader_and_editor_refuse_the_same_keys(keys: Keys | Variants, values: dict[str, Any]) -> None:
    verdicts = {bool(refusal(keys, some)) for some in subsets(values)}
    assert [s for s in subsets(values) if bool(refusal(keys, s)) != bool(complaints(keys.schema, s))] == []
    assert True in verdicts


def test_what_is_there_is_read_and_the_rest_left_out() -> None:
    assert TANK.read(Table({"name": " oil  tank ", "deep": "9 in"}, (), "mm")) == {"name": "oil tank", "deep": 228.6}


@pytest.mark.parametrize(
    ("keys", "values", "says"),
    [
        (TANK, {}, "name: found 'nothing'; the key is needed here"),
        (TANK, {"name": "a", "depe": 3}, "key, unknown key: found 'depe'; did you mean deep?"),
        (TANK, {"name": "a", "high": 0}, "high: found 0; it must be more than 0; write a length in mm"),
        (TANK, {"name": "a"}, "tank: found '0 ways'; give sides, or points, or lengths and angles"),
        (TANK, {"name": "a", "high": 9, "hinges": 1}, "lid: found 'nothing'; the key is needed here"),
        (TANKS, {"name": "a"}, "shape: found 'nothing'; the key is needed here"),
        (TANKS, {"shape": "oval"}, "shape: found 'oval'; allowed: round, long"),
        (TANKS, {"shape": ["long"]}, "shape: found ['long']; allowed: round, long"),
    ],
)
def test_a_refusal_names_its_place(keys: Keys | Variants, values: dict[str, Any], says: str) -> None:
    assert refusal(keys, values).startswith(f"file: [tank]: {says}")


def test_a_key_that_means_several_things_says_them_all() -> None:
    assert TANKS.keys["lid"].says == "Whether it has a lid. Which lid."
    assert TANKS.schema["required"] == ["shape", "name"]


def test_two_in_order_are_told_in_the_units_of_the_file() -> None:
    """2 in and 1 in, by 25.4 mm."""
    rule = in_order("least", "most")
    keys = Keys("A gap.", {"least": Key("The least.", LENGTH), "most": Key("The most.", LENGTH)}, (rule,))
    with pytest.raises(BadInput) as caught:
        keys.read(Table({"least": 2, "most": 1}, (), "in"))
    assert str(caught.value) == "most: found '1\"'; must be least, 2\", or more"
    assert keys.read(Table({"least": 2, "most": 2}, (), "in")) == {"least": 50.8, "most": 50.8}


def test_rules_of_one_word_stand_side_by_side() -> None:
    rules = tuple(Rule(lambda _: None, {"dependentSchemas": {name: schema.exactly_one(name)}}) for name in "ab")
    assert set(Keys("A table.", {}, rules).more["dependentSchemas"]) == {"a", "b"}
