"""plan.json holds the keys of its schema, all of them and no others, in the gallery's packets and in new ones."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from mitertool.job import Solution
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.records.solution import schema
from tests.packet.jobs import GALLERY, ROOT
from tests.schemas import complaints, descriptions_missing, with_value

SCHEMA = schema()
GATE = json.loads((ROOT / "gallery" / "boathouse-gate" / "packet" / "plan.json").read_text(encoding="utf-8"))


def test_the_schema_is_one_and_says_what_each_key_is() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert descriptions_missing(SCHEMA) == []


@pytest.mark.parametrize("name", GALLERY)
def test_every_plan_of_the_gallery_passes(name: str) -> None:
    text = (ROOT / "gallery" / name / "packet" / "plan.json").read_text(encoding="utf-8")
    assert complaints(SCHEMA, json.loads(text)) == []


NEW = {"boathouse-gate": "bars", "no saw": "pieces", "not to be made": "problems"}


@pytest.mark.parametrize("name", NEW)
def test_a_plan_made_now_passes(name: str, solution_of: Callable[[str], Solution]) -> None:
    plan = json.loads(packet_files(solution_of(name), Options())["plan.json"])
    assert plan[NEW[name]] != []
    assert (plan["pieces"][0]["reach"]["left"] is None) == (name == "no saw")
    assert complaints(SCHEMA, plan) == []


@pytest.mark.parametrize(
    ("at", "value"),
    [
        (("format",), 2),
        (("bars", 0, "count"), 1.5),
        (("bars", 0, "pieces", 0, "pose"), "upside-down"),
        (("pieces", 0, "left", "miter_deg"), "45"),
        (("pieces", 0, "reach", "left"), False),
        (("proved",), "yes"),
    ],
    ids=str,
)
def test_wrong_examples_are_refused(at: tuple[Any, ...], value: Any) -> None:
    assert len(complaints(SCHEMA, with_value(GATE, at, value))) == 1
