"""`mitertool schema`: what may stand in a file, for editors that complete and check; knows job, saw and packet."""

from __future__ import annotations

import json
import sys
from typing import Annotated, Final

import typer

from mitertool.base.errors import BadInput
from mitertool.cli.commands import begun, command, options
from mitertool.job.schema import schema as of_job
from mitertool.packet.records.solution import schema as of_plan
from mitertool.saw.file.schema import schema as of_saw

_FILES: Final = {"job": of_job, "saw": of_saw, "plan": of_plan}


@options
class SchemaOptions:
    """A kind of file."""

    which: Annotated[
        str,
        typer.Argument(help="The kind of file.", metavar="|".join(_FILES), autocompletion=begun(tuple(_FILES))),
    ]
    as_json: Annotated[bool, typer.Option("--json", help="The same JSON on one line.")] = False


@command(SchemaOptions, "schema job", "schema plan --json")
def schema(o: SchemaOptions) -> None:
    """Print the JSON Schema of job files, saw files or plan.json, by which an editor completes and checks them."""
    if o.which not in _FILES:
        raise BadInput("schema", o.which, f"allowed: {', '.join(_FILES)}")
    found = _FILES[o.which]()
    sys.stdout.write(json.dumps(found, indent=None if o.as_json else 1, ensure_ascii=False) + "\n")
