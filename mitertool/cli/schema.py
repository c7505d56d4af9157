"""`mitertool schema`: what may stand in a file, for editors that complete and check; knows job, saw and packet."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Final

import typer

from mitertool import job, saw
from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cli.commands import begun, command, options
from mitertool.packet import records

_FILES: Final[Mapping[str, Callable[[], Any]]] = {
    "job": lambda: job.schema.schema(),
    "saw": lambda: saw.schema.schema(),
    "plan": lambda: records.solution.schema(),
}
"""Each room is loaded when its file is asked for."""


@options
class SchemaOptions:
    """A kind of file."""

    which: Annotated[
        str,
        typer.Argument(help="option.schema.which", metavar="|".join(_FILES), autocompletion=begun(tuple(_FILES))),
    ]
    as_json: Annotated[bool, typer.Option("--json", help="option.schema.as-json")] = False


@command(SchemaOptions, "schema job", "schema plan --json")
def schema(o: SchemaOptions) -> None:
    """What `mitertool schema` does."""
    if o.which not in _FILES:
        raise BadInput("schema", o.which, among(_FILES))
    found = _FILES[o.which]()
    sys.stdout.write(json.dumps(found, indent=None if o.as_json else 1, ensure_ascii=False) + "\n")
