"""`mitertool schema`: one JSON Schema on stdout, the same on one line with --json; anything else is bad input."""

from __future__ import annotations

import json

import pytest
from jsonschema import Draft202012Validator

from mitertool.base.errors import BadInput
from mitertool.cli.schema import schema


@pytest.mark.parametrize("which", ["job", "saw", "plan"])
def test_it_prints_a_schema(which: str, capsys: pytest.CaptureFixture[str]) -> None:
    schema(which)
    for_people = capsys.readouterr()
    schema(which, as_json=True)
    for_programs = capsys.readouterr()
    assert (for_people.err, for_programs.err) == ("", "")
    assert len(for_programs.out.splitlines()) == 1 < len(for_people.out.splitlines())
    document = json.loads(for_people.out)
    assert document == json.loads(for_programs.out)
    Draft202012Validator.check_schema(document)
    assert which in document["title"]


def test_another_word_is_refused() -> None:
    with pytest.raises(BadInput, match="found 'bench'; allowed: job, saw, plan"):
        schema("bench")
