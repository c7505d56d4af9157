"""`mitertool schema`: what may stand in a file, for editors that complete and check; knows job, saw and packet."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from mitertool.quantity.schema import Schema


def schema(
    which: Annotated[str, typer.Argument(help="job, saw or plan.", metavar="job|saw|plan")],
    as_json: Annotated[bool, typer.Option("--json", help="The same JSON on one line.")] = False,
) -> None:
    """Print the JSON Schema of job files, saw files or plan.json, by which an editor completes and checks them."""
    sys.stdout.write(json.dumps(_schema(which), indent=None if as_json else 1, ensure_ascii=False) + "\n")


def _schema(which: str) -> Schema:
    from mitertool.base.errors import BadInput

    if which == "job":
        from mitertool.job.schema import schema as found
    elif which == "saw":
        from mitertool.saw.schema import schema as found
    elif which == "plan":
        from mitertool.packet.records.solution import schema as found
    else:
        raise BadInput("schema", which, "allowed: job, saw, plan")
    return found()
