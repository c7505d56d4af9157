"""`mitertool schema`: one JSON Schema on stdout, the same on one line with --json; anything else is bad input."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from jsonschema import Draft202012Validator

from tests.cli.conftest import Said


@pytest.mark.parametrize("which", ["job", "saw", "plan"])
def test_it_prints_a_schema(which: str, call: Callable[..., Said]) -> None:
    for_people, for_programs = call("schema", which), call("schema", which, "--json")
    assert (for_people.err, for_programs.err) == ("", "")
    assert len(for_programs.out.splitlines()) == 1 < len(for_people.out.splitlines())
    document = json.loads(for_people.out)
    assert document == json.loads(for_programs.out)
    Draft202012Validator.check_schema(document)
    assert which in document["title"]


def test_another_word_is_refused(call: Callable[..., Said]) -> None:
    said = call("schema", "bench")
    assert (said.code, said.out) == (2, "")
    assert "found 'bench'; allowed: job, saw, plan" in said.err
