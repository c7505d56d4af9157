"""The JSON Schema of a job file, made of its keys, so that editors complete and check it."""

from __future__ import annotations

from mitertool.job.frame_keys import FRAME
from mitertool.job.keys import HEAD, NEST, PIECE, PIECES_ASKED, STOCK, TABLES
from mitertool.job.labels import LABELS
from mitertool.job.named import section_schema
from mitertool.lists.keys import LIST
from mitertool.quantity import schema as kind
from mitertool.quantity.schema import Schema


def schema() -> Schema:
    """The schema of a job file."""
    made = {
        "format": kind.file_format(),
        "job": HEAD.schema,
        "section": kind.tables(section_schema()),
        "stock": kind.tables(STOCK.schema),
        "piece": kind.tables(PIECE.schema),
        "list": kind.tables(LIST.schema),
        "frame": kind.tables(FRAME.schema),
        "nest": NEST.schema,
        "labels": LABELS.schema,
    }
    tables = {name: made[name] for name in TABLES}
    return kind.document("title.job-file", tables, ("job",), "table.job-file", **PIECES_ASKED.schema)
